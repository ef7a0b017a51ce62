//! Problems that only show when the pages are made: a template of one's own that can't be filled in, or makes no page.

use std::fs;

use snapbox::cmd::{Command, cargo_bin};

use super::folder::write;

/// The codes that the tests here show.
pub(crate) const SHOWN: &[&str] = &["template", "typeset"];

/// Builds a small project with a template of one's own; what is said, and whether a PDF came of it.
fn built_with(name: &str, text: &str) -> (i32, String, bool) {
    let dir = tempfile::tempdir().unwrap();
    write(dir.path(), "crane/dossier.yaml", "title: The hand crane\n");
    write(dir.path(), "crane/parts/post.md", "---\nkind: part\nname: Post\ndisposition: reuse\n---\n");
    write(dir.path(), &format!("mine/{name}"), text);
    let output = Command::new(cargo_bin!("asfound"))
        .current_dir(dir.path())
        .args(["build", "crane", "--templates", "mine"])
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    (output.status.code().unwrap(), said, fs::exists(dir.path().join("crane/out/dossier.pdf")).unwrap())
}

#[test]
fn a_template_that_is_broken_is_named_with_its_place() {
    for (text, place) in [
        ("= {{ title }\n", "cover.typ:1:12"),
        ("= Title\n{{ nothing_of_the_kind }}\n", "cover.typ:2:4"),
        ("{% if title %}\n", "cover.typ:"),
    ] {
        let (code, said, is_made) = built_with("cover.typ", text);
        assert!(said.contains("error[template]") && said.contains(place), "{said}");
        assert!(code == 1 && !is_made);
    }
}

#[test]
fn a_file_that_replaces_no_template_is_named() {
    let (code, said, is_made) = built_with("covr.typ", "= Title\n");
    assert!(
        said.contains("`covr.typ` has the name of no template") && said.contains("`cover.typ`"),
        "{said}"
    );
    assert!(code == 1 && !is_made);
}

#[test]
fn a_page_that_can_not_be_set_is_reported_with_its_line() {
    for (name, text, place) in [
        ("cover.typ", "= Title\n#no-such-function()\n", "/chapters/cover.typ:2:2"),
        ("look/mark.typ", "#let x = (1\n", "/look/mark.typ:1:10"),
    ] {
        let (code, said, is_made) = built_with(name, text);
        assert!(said.contains("error[typeset]") && said.contains(place), "{said}");
        assert!(code == 1 && !is_made);
    }
}
