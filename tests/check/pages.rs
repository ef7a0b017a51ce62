//! Problems that only show when the pages are made: a template of one's own that can't be filled in, or makes no page.

use std::fs;

use snapbox::cmd::{Command, cargo_bin};

use super::folder::write;

/// The codes that the tests here show.
pub(crate) const SHOWN: &[&str] = &["template", "typeset"];

/// Builds a small project with a cover of one's own; what is said, and whether a PDF came of it.
fn built_with(cover: &str) -> (i32, String, bool) {
    let dir = tempfile::tempdir().unwrap();
    write(dir.path(), "crane/dossier.yaml", "title: The hand crane\n");
    write(dir.path(), "crane/parts/post.md", "---\nkind: part\nname: Post\ndisposition: reuse\n---\n");
    write(dir.path(), "mine/cover.typ", cover);
    let output = Command::new(cargo_bin!("asfound"))
        .current_dir(dir.path())
        .args(["build", "crane", "--templates", "mine"])
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    (output.status.code().unwrap(), said, fs::exists(dir.path().join("crane/out/dossier.pdf")).unwrap())
}

#[test]
fn a_template_that_is_broken_is_named() {
    let (code, said, is_made) = built_with("= {{ title }\n");
    assert!(said.contains("error[template]") && said.contains("cover.typ"), "{said}");
    assert!(code != 0 && !is_made);
}

#[test]
fn a_page_that_can_not_be_set_is_reported() {
    let (code, said, is_made) = built_with("#no-such-function()\n");
    assert!(said.contains("error[typeset]") && said.contains("cover.typ"), "{said}");
    assert!(code != 0 && !is_made);
}
