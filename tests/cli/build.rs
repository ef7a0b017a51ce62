//! `build`: the whole dossier of the example, read back; whole or nothing; same notes, same bytes.

use std::path::Path;
use std::sync::OnceLock;

use super::asfound;
use super::scratch::{outside, project};

const EXAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/notes-example");

/// A folder with a copy of the example, built once for all tests here; and what the build said.
pub(super) fn built() -> &'static (tempfile::TempDir, String) {
    static BUILT: OnceLock<(tempfile::TempDir, String)> = OnceLock::new();
    BUILT.get_or_init(|| {
        let dir = tempfile::tempdir().unwrap();
        copy(Path::new(EXAMPLE), &dir.path().join("crane"));
        let said = build(dir.path());
        (dir, said)
    })
}

fn build(dir: &Path) -> String {
    let result = asfound(dir).args(["build", "crane"]).assert().success();
    String::from_utf8(result.get_output().stderr.clone()).unwrap()
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name();
        if name == "out" || name == ".asfound" {
            continue;
        }
        let target = to.join(&name);
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}

fn pdf() -> Vec<u8> {
    std::fs::read(built().0.path().join("crane/out/dossier.pdf")).unwrap()
}

fn count(bytes: &[u8], word: &str) -> usize {
    bytes.windows(word.len()).filter(|window| *window == word.as_bytes()).count()
}

#[test]
fn the_example_is_a_book_without_warnings() {
    let said = &built().1;
    assert!(!said.contains("warning"), "{said}");
    let pages: usize = said.split(" pages").next().unwrap().rsplit(' ').next().unwrap().parse().unwrap();
    assert!(pages >= 40, "{said}");
}

#[test]
fn mentions_are_links() {
    assert!(count(&pdf(), "/Subtype/Link") > 400);
}

/// ISO 19005-3 (PDF/A-3a) and ISO 14289-1 (PDF/UA-1): the claims in the XMP metadata.
#[test]
fn it_claims_to_be_archival_and_accessible() {
    let pdf = pdf();
    for claim in [
        "<pdfaid:part>3</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
    ] {
        assert_eq!(count(&pdf, claim), 1, "{claim}");
    }
}

#[test]
fn an_outside_reader_finds_no_fault_and_every_part() {
    let path = built().0.path().join("crane/out/dossier.pdf");
    let path = path.to_str().unwrap();
    outside("qpdf", &["--check", path]);
    let Some(text) = outside("pdftotext", &[path, "-"]) else { return };
    let text: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let project = asfound::Project::open(Path::new(EXAMPLE)).unwrap();
    let missing: Vec<&str> = project
        .dossier
        .parts
        .iter()
        .map(|part| part.name.as_str())
        .filter(|name| !text.contains(*name))
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn the_notes_go_with_it_and_stand_beside_bill_and_graph() {
    let pdf = pdf();
    assert!(count(&pdf, "/AFRelationship/Source") > 100);
    assert!(count(&pdf, "/AFRelationship/Supplement") > 0, "the papers' files");
    let out = built().0.path().join("crane/out");
    let bill = std::fs::read_to_string(out.join("bill.csv")).unwrap();
    assert!(bill.contains("footstep-bearing-new"));
    assert!(std::fs::read_to_string(out.join("sequence.svg")).unwrap().starts_with("<svg "));
    assert!(std::fs::read(out.join("sequence.pdf")).unwrap().starts_with(b"%PDF-"));
    let state: serde_json::Value =
        serde_json::from_slice(&std::fs::read(out.join("dossier.json")).unwrap()).unwrap();
    assert!(state["schedule"]["critical_path"].as_array().is_some_and(|path| !path.is_empty()));
}

#[test]
fn the_same_notes_give_the_same_bytes() {
    let first = pdf();
    let dir = tempfile::tempdir().unwrap();
    copy(Path::new(EXAMPLE), &dir.path().join("crane"));
    build(dir.path());
    assert!(first == std::fs::read(dir.path().join("crane/out/dossier.pdf")).unwrap());
}

/// Neither the folder's place, nor the language, the clock, the number of threads, nor the order in which files were written.
#[test]
fn surroundings_do_not_change_the_bytes() {
    let dir = tempfile::tempdir().unwrap();
    asfound(dir.path()).args(["new", "mill"]).assert().success();
    let built = |at: &Path, variables: &[(&str, &str)], arguments: &[&str]| {
        let command = variables.iter().fold(asfound(at), |command, (name, value)| command.env(name, value));
        command.args(["build", "--date", "2027-03-01"]).args(arguments).assert().success();
        let out = at.join("mill/out");
        ["dossier.pdf", "bill.csv", "sequence.svg", "sequence.pdf", "dossier.json"]
            .map(|file| std::fs::read(out.join(file)).ok())
    };
    let first = built(dir.path(), &[], &["mill"]);
    assert!(first[0].is_some());
    for variables in [
        [("LC_ALL", "de_DE.UTF-8"), ("LANG", "de_DE.UTF-8")],
        [("LC_ALL", "C"), ("LANG", "tr_TR.UTF-8")],
        [("TZ", "Pacific/Kiritimati"), ("HOME", "/nonexistent")],
        [("RAYON_NUM_THREADS", "1"), ("TZ", "America/Adak")],
        [("RAYON_NUM_THREADS", "7"), ("COLUMNS", "40")],
    ] {
        assert!(built(dir.path(), &variables, &["mill"]) == first, "{variables:?}");
    }
    let whole = dir.path().join("mill");
    assert!(built(dir.path(), &[], &[whole.to_str().unwrap()]) == first, "by its whole path");
    let other = tempfile::tempdir().unwrap();
    let entries = walkdir::WalkDir::new(&whole).sort_by(|a, b| b.file_name().cmp(a.file_name()));
    for entry in entries.into_iter().map(Result::unwrap).filter(|entry| entry.file_type().is_file()) {
        let within = entry.path().strip_prefix(&whole).unwrap();
        let is_made =
            within.components().any(|part| ["out", ".asfound"].iter().any(|own| part.as_os_str() == *own));
        if !is_made {
            let to = other.path().join("a b/mill").join(within);
            std::fs::create_dir_all(to.parent().unwrap()).unwrap();
            std::fs::copy(entry.path(), to).unwrap();
        }
    }
    assert!(built(&other.path().join("a b"), &[], &["mill"]) == first, "elsewhere, written in another order");
}

fn small(dir: &Path) {
    std::fs::create_dir_all(dir.join("mill/parts")).unwrap();
    std::fs::write(dir.join("mill/dossier.yaml"), "title: The mill\n").unwrap();
    std::fs::write(
        dir.join("mill/parts/shaft.md"),
        "---\nkind: part\nname: Shaft\ndisposition: reuse\n---\n",
    )
    .unwrap();
}

#[test]
fn an_error_leaves_the_old_dossier_alone() {
    let dir = tempfile::tempdir().unwrap();
    small(dir.path());
    asfound(dir.path()).args(["build", "mill"]).assert().success();
    let old = std::fs::read(dir.path().join("mill/out/dossier.pdf")).unwrap();
    std::fs::write(dir.path().join("mill/parts/pin.md"), "---\nkind: part\nname: Pin\nwithin: shaf\n---\n")
        .unwrap();
    let result = asfound(dir.path()).args(["build", "mill"]).assert().code(1);
    let said = String::from_utf8(result.get_output().stderr.clone()).unwrap();
    assert!(said.contains("id-unknown") && said.contains("Did you mean `shaft`?"), "{said}");
    assert!(old == std::fs::read(dir.path().join("mill/out/dossier.pdf")).unwrap());
}

#[test]
fn the_day_comes_from_the_option_or_the_environment() {
    let dir = tempfile::tempdir().unwrap();
    small(dir.path());
    let dated = |day: &str| count(&std::fs::read(dir.path().join("mill/out/dossier.pdf")).unwrap(), day) > 0;
    asfound(dir.path()).args(["build", "mill", "--date", "2027-03-01"]).assert().success();
    assert!(dated("D:20270301"));
    asfound(dir.path()).args(["build", "mill"]).env("SOURCE_DATE_EPOCH", "86400").assert().success();
    assert!(dated("D:19700102"));
    asfound(dir.path()).args(["build", "mill"]).env("SOURCE_DATE_EPOCH", "soon").assert().code(2);
}

/// The first bytes are a JPEG's: that it ends in the middle shows when it is decoded, which `check` does.
#[test]
fn a_picture_that_is_cut_off_is_named() {
    let dir = tempfile::tempdir().unwrap();
    small(dir.path());
    std::fs::write(dir.path().join("mill/parts/cut.jpg"), [0xff, 0xd8, 0xff, 0xe0, 0, 16]).unwrap();
    let note = "---\nkind: part\nname: Gear\ndisposition: reuse\n---\n![the gear](cut.jpg)\n";
    std::fs::write(dir.path().join("mill/parts/gear.md"), note).unwrap();
    let result = asfound(dir.path()).args(["check", "mill"]).assert().code(1);
    let said = String::from_utf8(result.get_output().stdout.clone()).unwrap();
    assert!(said.contains("error[picture]: `cut.jpg` is not a picture that can be printed: "), "{said}");
    assert!(said.contains(" --> parts/gear.md:6:1"), "{said}");
    asfound(dir.path()).args(["build", "mill"]).assert().code(1);
    assert!(!dir.path().join("mill/out/dossier.pdf").exists());
}

/// Whatever stands in a note is set as it stands there, and nothing of it is taken for a command.
#[test]
fn hostile_text_is_only_text() {
    let dir = tempfile::tempdir().unwrap();
    small(dir.path());
    let nasty =
        r##"#panic("x") $a$ *b* _c_ `d` @e <f> [g] {h} \ // "i" 'j' = k + l / m ~ n -- o ... \u{41} 🦀 漢"##;
    let note = format!(
        "---\nkind: part\nname: '{}'\ndisposition: reuse\nmarks: '{0}'\n---\n# {nasty}\n\n{nasty}\n\n- {nasty}\n\n| {nasty} |\n|---|\n| {nasty} |\n\n> {nasty}\n\n```\n{nasty}\n```\n",
        nasty.replace('\'', "''")
    );
    std::fs::write(dir.path().join("mill/parts/nasty.md"), note).unwrap();
    asfound(dir.path()).args(["build", "mill"]).assert().success();
}

/// Letters right behind a link, in lines of every length: the page setter, version 0.15, gives up where it hyphenates just
/// there (typst/typst#8608).
#[test]
fn letters_may_follow_a_link() {
    let lines: String = (0..60)
        .map(|length| format!("{} the [[turntable]]handlings of it.\n\n", "m".repeat(length)))
        .collect();
    let dir = project(&[
        ("dossier.yaml", "title: Crane\nkeeper: Keeper\n"),
        (
            "parts/turntable.md",
            &format!("---\nkind: part\nname: Turntable\ndisposition: reuse\n---\n{lines}"),
        ),
    ]);
    build(dir.path());
}

/// What nobody would write on purpose and anybody can type: headings of nothing or of a picture, letters that the face
/// lacks right behind a call. PDF/UA-1 refuses a heading without a title (ISO 14289-1, 7.4).
#[test]
fn odd_notes_are_still_set() {
    let part = "kind: part\nname: Post\ndisposition: reuse\n---\n# ![The post](../post.svg)\n\n# \u{200b}\n\n#\n\n# <!-- x -->\n\n\
                # `2`\n\n# [[post]]\n\n> #\n\n- # **\n\n**old**\u{4e2d}\u{6587} [[post]]\u{1f600}\n";
    let drawing = r#"<svg xmlns="http://www.w3.org/2000/svg" width="8" height="4"><path d="M0 2h8" stroke="black"/></svg>"#;
    let dir = project(&[
        ("dossier.yaml", "title: Crane\nkeeper: Keeper\n"),
        ("parts/post.md", &format!("---\n{part}")),
        ("post.svg", drawing),
    ]);
    let said = build(dir.path());
    assert!(said.contains("dossier.pdf"), "{said}");
    let pdf = dir.path().join("crane/out/dossier.pdf");
    let Some(text) = outside("pdftotext", &["-enc", "UTF-8", &pdf.to_string_lossy(), "-"]) else { return };
    for word in ["old\u{2039}U+4E2D\u{203a}\u{2039}U+6587\u{203a}", "Post\u{2039}U+1F600\u{203a}", "The post"]
    {
        assert!(text.contains(word), "{word} is missing from {text}");
    }
}

/// What is linked out of the project, or protected, is not written through.
#[cfg(unix)]
#[test]
fn nothing_is_written_outside_the_project_or_over_a_protected_file() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let dir = project(&[("dossier.yaml", "title: Crane\n")]);
    let (crane, elsewhere) = (dir.path().join("crane"), dir.path().join("elsewhere"));
    std::fs::create_dir(&elsewhere).unwrap();
    symlink(&elsewhere, crane.join("out")).unwrap();
    let refused = asfound(dir.path()).args(["build", "crane"]).assert().code(2);
    let said = String::from_utf8(refused.get_output().stderr.clone()).unwrap();
    assert!(said.contains("crane/out is a link that leads out of the project"), "{said}");
    assert_eq!(std::fs::read_dir(&elsewhere).unwrap().count(), 0);

    std::fs::remove_file(crane.join("out")).unwrap();
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let pdf = crane.join("out/dossier.pdf");
    std::fs::set_permissions(&pdf, std::fs::Permissions::from_mode(0o444)).unwrap();
    let before = std::fs::read(&pdf).unwrap();
    let refused = asfound(dir.path()).args(["build", "--date=2030-01-01", "crane"]).assert().code(2);
    let said = String::from_utf8(refused.get_output().stderr.clone()).unwrap();
    assert!(said.contains("dossier.pdf is write-protected; nothing was written"), "{said}");
    assert_eq!(std::fs::read(&pdf).unwrap(), before);
}

/// The attachments of a PDF, each by its name; `None` where nothing takes them out.
fn taken_out(pdf: &Path, to: &Path) -> Option<Vec<String>> {
    std::fs::create_dir_all(to).unwrap();
    outside("pdfdetach", &["-saveall", "-o", to.to_str()?, pdf.to_str()?])?;
    let names = std::fs::read_dir(to).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    Some(names.collect())
}

/// The project that the attachments make, by their list.
fn laid_out(attached: &Path, project: &Path) {
    let list = std::fs::read_to_string(attached.join("manifest.tsv")).unwrap();
    for line in list.lines().skip(1) {
        let mut cells = line.split('\t');
        let (name, path) = (cells.next().unwrap(), project.join(cells.next().unwrap()));
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::copy(attached.join(name), path).unwrap();
    }
}

#[test]
fn what_is_attached_builds_the_same_dossier_again() {
    let dir = tempfile::tempdir().unwrap();
    let attached = dir.path().join("attached");
    let pdf_path = built().0.path().join("crane/out/dossier.pdf");
    let Some(names) = taken_out(&pdf_path, &attached) else { return };
    let is_plain =
        |name: &String| name.chars().all(|letter| letter.is_ascii_alphanumeric() || "-_.".contains(letter));
    assert!(names.iter().all(is_plain), "{names:?}");
    assert!(names.iter().any(|name| name == "pictures--crane-elevation.svg"), "{names:?}");
    laid_out(&attached, &dir.path().join("crane"));
    std::fs::remove_dir_all(dir.path().join("crane/out")).unwrap();
    build(dir.path());
    assert!(pdf() == std::fs::read(dir.path().join("crane/out/dossier.pdf")).unwrap());
}
