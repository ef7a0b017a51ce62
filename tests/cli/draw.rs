//! `draw`: the files that it writes, and what it says.

use std::fs;
use std::process::Command;

use snapbox::cmd::cargo_bin;

const PIN: &str = "---\nkind: part\nname: Roller pin\nmaterial: C45\ndisposition: make\nshape:\n  general: m\n  turned:\n    - {d: 60 mm, long: 12 mm}\n    - {d: 40 mm f7, long: 50 mm}\n---\n";
const BUSH: &str = "---\nkind: part\nname: Bush\ndisposition: make\nshape:\n  turned: [{d: 60 mm, long: 50 mm}]\n  bored: [{d: {hold: measure the journal first}, deep: through}]\n---\n";

const WORKS: &str = "---\nkind: shop\nname: The works\nprocesses: [turning]\n---\n";
const TURN: &str = "---\nkind: step\ndoes: Turn pin and bush\nmakes: [roller-pin, bush]\nat: works\nprocesses: [turning]\n---\n";

fn asfound(arguments: &[&str]) -> (tempfile::TempDir, i32, String, String) {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("dossier.yaml"), "title: Crane\nunits: metric\nstart: 2027-03-01\n").unwrap();
    fs::write(dir.path().join("roller-pin.md"), PIN).unwrap();
    fs::write(dir.path().join("bush.md"), BUSH).unwrap();
    fs::write(dir.path().join("plain.md"), "---\nkind: part\nname: Plain\ndisposition: reuse\n---\n")
        .unwrap();
    fs::write(dir.path().join("works.md"), WORKS).unwrap();
    fs::write(dir.path().join("turn.md"), TURN).unwrap();
    let output =
        Command::new(cargo_bin!("asfound")).current_dir(dir.path()).args(arguments).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    let code = output.status.code().unwrap();
    (dir, code, text(output.stdout), text(output.stderr))
}

/// Once more in the same folder: all that is said.
fn again(dir: &std::path::Path, arguments: &[&str]) -> String {
    let output = Command::new(cargo_bin!("asfound")).current_dir(dir).args(arguments).output().unwrap();
    [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap()).concat()
}

fn drawn(part: &str) -> (tempfile::TempDir, i32, String, String) {
    asfound(&["draw", part])
}

/// The part's page in the dossier and the sheet of the shop hold the drawings; what can't be made is said in the terminal.
#[test]
fn dossier_and_sheet_hold_the_drawings() {
    let (_dir, code, said, complained) = asfound(&["build", "--draft"]);
    assert_eq!(code, 0, "{said}{complained}");
    let (_dir, code, said, complained) = asfound(&["sheet", "works"]);
    let said = said + &complained;
    assert_eq!(code, 0, "{said}");
    assert!(
        said.contains(
            "job 1: Bush can't be made from this sheet: a size is missing: measure the journal first"
        )
    );
    assert!(said.contains("1 job on 3 pages"), "the letter with its form, and two drawings: {said}");
}

/// The drawings go with the sheet as files, named on it; a part that is made without a shape is said not to be makeable.
#[test]
fn a_sheet_holds_its_drawings_as_files_and_names_what_has_none() {
    let (dir, _, _, _) = asfound(&["sheet", "works"]);
    let read = || fs::read(dir.path().join("out/sheet-works.pdf")).unwrap();
    let holds = |pdf: &[u8], name: &str| pdf.windows(name.len()).any(|piece| piece == name.as_bytes());
    let pdf = read();
    for name in ["roller-pin.svg", "roller-pin.dxf", "bush.svg"] {
        assert!(holds(&pdf, name), "{name}");
    }
    assert!(!holds(&pdf, "bush.dxf"), "no contour with a guessed bore");
    let more = TURN.replace("[roller-pin, bush]", "[roller-pin, bush, plain]");
    fs::write(dir.path().join("turn.md"), more).unwrap();
    let said = again(dir.path(), &["sheet", "works"]);
    assert!(said.contains("Plain can't be made from this sheet"), "{said}");
}

/// A part whose sizes find no room on the dossier's paper gets a larger sheet, not none.
#[test]
fn a_crowded_part_gets_a_larger_sheet() {
    let (dir, ..) = asfound(&["check"]);
    let lengths: Vec<String> = (0..26)
        .map(|i| format!("{{d: {}.37 mm f7, long: {}.25 mm ± 0.02 mm}}", 40 + i % 3 * 7, 6 + i % 4))
        .collect();
    let pin = format!("---\nkind: part\nname: Comb\nshape:\n  turned: [{}]\n---\n", lengths.join(", "));
    fs::write(dir.path().join("comb.md"), pin).unwrap();
    let said = again(dir.path(), &["draw", "comb"]);
    assert!(said.contains("26 sizes") || said.contains("52 sizes with limits"), "{said}");
    let svg = fs::read_to_string(dir.path().join("out/comb.svg")).unwrap();
    assert!(svg.contains("420") || svg.contains("594"), "{}", &svg[..300]);
}

#[test]
fn a_part_is_drawn_on_a_sheet_and_as_a_contour() {
    let (dir, code, said, complained) = drawn("roller-pin");
    assert_eq!(code, 0, "{said}{complained}");
    let read = |ending: &str| fs::read(dir.path().join(format!("out/roller-pin.{ending}"))).unwrap();
    assert!(read("pdf").starts_with(b"%PDF"));
    let svg = String::from_utf8(read("svg")).unwrap();
    assert!(svg.contains("<desc>Drawing of Roller pin") && svg.contains("diameter 40 f7"), "{svg}");
    assert!(svg.contains("0.7596 kg"), "the mass by C45's density stands in the title block");
    assert!(String::from_utf8(read("dxf")).unwrap().contains("SECTION"));
    assert!((said + &complained).contains("1 size with limits"));
}

/// A contour with a guessed bore would be cut: there is none, and the reason is said.
#[test]
fn a_size_on_hold_is_said_and_gives_no_contour() {
    let (dir, code, said, complained) = drawn("bush");
    assert_eq!(code, 0);
    let said = said + &complained;
    assert!(
        said.contains("Bush can't be made from this drawing: a size is missing: measure the journal first"),
        "{said}"
    );
    assert!(dir.path().join("out/bush.pdf").exists() && !dir.path().join("out/bush.dxf").exists());
}

#[test]
fn what_can_not_be_drawn_is_named() {
    for (part, says) in [
        ("plain", "`plain` has no `shape`"),
        ("rollerpin", "did you mean `roller-pin`?"),
        ("nothing-like-it", "the parts with a `shape` are bush, roller-pin"),
    ] {
        let (dir, code, said, complained) = drawn(part);
        assert!(complained.contains(says), "{part}: {said}{complained}");
        assert!(code == 2 && !dir.path().join("out").exists());
    }
}
