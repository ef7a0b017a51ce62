//! The sequence on one sheet: large enough paper, all steps, letters that are read at arm's length.

use std::fmt::Write as _;
use std::path::Path;

use super::{build, outside};
use crate::check::folder::write;

/// So many steps, each after an earlier one.
fn project(dir: &Path, paper: &str, steps: usize) {
    write(
        dir,
        "dossier.yaml",
        format!("title: The plate\nkeeper: The society\nstart: 2027-03-01\npaper: {paper}\n"),
    );
    for number in 0..steps {
        let mut note = format!("---\nkind: step\ndoes: Work number {number} at the plate\ntakes: 2 h\n");
        if number > 0 {
            let _ = writeln!(note, "needs: [step-{:03}]", number / 3);
        }
        write(dir, &format!("steps/step-{number:03}.md"), format!("{note}---\n"));
    }
}

/// Pages, and width and height in points, as `pdfinfo` says them.
fn paper(pdf: &Path) -> Option<(u32, [f64; 2])> {
    let told = outside("pdfinfo", &[pdf.to_str()?])?;
    let value = |key: &str| told.lines().find_map(|line| line.strip_prefix(key)).map(str::trim);
    let size = value("Page size:")?.split(" pts").next()?;
    let (width, height) = size.split_once(" x ")?;
    Some((value("Pages:")?.parse().ok()?, [width.parse().ok()?, height.parse().ok()?]))
}

fn sheet(paper_size: &str, steps: usize) -> Option<(tempfile::TempDir, [f64; 2])> {
    let dir = tempfile::tempdir().unwrap();
    project(dir.path(), paper_size, steps);
    build(dir.path());
    let (pages, size) = paper(&dir.path().join("out/sequence.pdf"))?;
    assert_eq!(pages, 1);
    Some((dir, size))
}

#[test]
fn the_sheet_is_as_large_as_its_graph_needs() {
    let Some((dir, small)) = sheet("a4", 4) else { return };
    assert_eq!(small.map(f64::round), [1191.0, 842.0], "A3");
    let Some((_, large)) = sheet("a4", 120) else { return };
    assert!(large[0] * large[1] > 1.9 * small[0] * small[1], "{large:?}");
    let Some((_, inches)) = sheet("letter", 4) else { return };
    assert_eq!(inches, [1224.0, 792.0], "11 in by 17 in");

    let pdf = dir.path().join("out/sequence.pdf");
    let text = outside("pdftotext", &[pdf.to_str().unwrap(), "-"]).unwrap();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let key = "waiting: something comes before it";
    for words in [
        "The plate: repair sequence",
        "kept by The society",
        "as at 1 March 2027",
        "1. Work number 0",
        key,
        "dropped: not drawn",
        "2 h, 1 Mar to 2 Mar 2027, p. ",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

/// Nine points. The box of a word is as high as the face from ascender to descender: 1.14 of its size (`hhea` of the
/// embedded face).
#[test]
fn no_lettering_of_the_sheet_is_too_small() {
    const LEAST: f64 = 9.0 * 1.14;
    let Some((dir, _)) = sheet("a4", 40) else { return };
    let pdf = dir.path().join("out/sequence.pdf");
    let Some(words) = outside("pdftotext", &["-bbox", pdf.to_str().unwrap(), "-"]) else { return };
    let mut seen = 0;
    for line in words.lines().filter(|line| line.contains("<word ")) {
        let value = |key: &str| {
            let (_, rest) = line.split_once(&format!("{key}=\"")).unwrap();
            rest.split_once('"').unwrap().0.parse::<f64>().unwrap()
        };
        assert!(value("yMax") - value("yMin") >= LEAST, "{line}");
        seen += 1;
    }
    assert!(seen > 200, "{seen} words");
}

#[test]
fn a_project_without_steps_says_so_on_the_sheet() {
    let Some((dir, _)) = sheet("a4", 0) else { return };
    let pdf = dir.path().join("out/sequence.pdf");
    let text = outside("pdftotext", &[pdf.to_str().unwrap(), "-"]).unwrap();
    assert!(text.contains("No step has been planned yet."), "{text}");
}
