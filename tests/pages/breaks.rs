//! Where pages and tables break: what belongs together stays together, and long tables use the page.

use std::path::{Path, PathBuf};

use super::margins::Pages;
use super::{build, outside};
use crate::check::folder::write;
use crate::photo::pictures::{jpeg, scene};

/// A machine of one part, a plate, whose body this is.
fn plate(dir: &Path, body: &str) {
    let head = "title: The plate\nunits: metric\ninstruments:\n  gauge: {what: a gauge, resolution: 0.01 mm, within: 0.005 mm}\n";
    write(dir, "dossier.yaml", head);
    write(dir, "parts/plate.md", format!("---\nkind: part\nname: Plate\ndisposition: reuse\n---\n{body}"));
}

/// An upright photograph that no other is like.
fn photograph(dir: &Path, number: u32) {
    std::fs::create_dir_all(dir.join("photos")).unwrap();
    std::fs::write(dir.join(format!("photos/view-{number}.jpg")), jpeg(&scene(480 + number, 640))).unwrap();
}

fn built(dir: &Path) -> PathBuf {
    let said = build(dir);
    assert!(!said.contains("warning"), "{said}");
    dir.join("out/dossier.pdf")
}

/// The pages as lines of text.
fn pages(pdf: &Path) -> Option<Vec<String>> {
    let text = outside("pdftotext", &["-layout", pdf.to_str()?, "-"])?;
    Some(text.split('\u{c}').map(str::to_owned).collect())
}

fn page_of(pages: &[String], words: &str) -> usize {
    let page = pages.iter().position(|page| page.contains(words));
    page.unwrap_or_else(|| panic!("no page says `{words}`"))
}

#[test]
fn a_finding_of_few_words_stays_with_its_photograph() {
    let dir = tempfile::tempdir().unwrap();
    plate(dir.path(), "");
    for number in 1..13 {
        photograph(dir.path(), number);
        let says = "Seen from the north, with the lamp held low, after the paint had come off. "
            .repeat(number as usize % 6);
        let head = format!(
            "kind: finding\nabout: [plate]\ncondition: worn\nphotos:\n  - file: ../photos/view-{number}.jpg\n    shows: view number {number} from the north"
        );
        write(dir.path(), &format!("findings/seen-{number:02}.md"), format!("---\n{head}\n---\n{says}\n"));
    }
    let Some(pages) = pages(&built(dir.path())) else { return };
    for number in 1..13 {
        let (record, picture) = (format!("seen-{number:02}"), format!("view number {number} from"));
        assert_eq!(page_of(&pages, &record), page_of(&pages, &picture), "{record}");
    }
}

#[test]
fn a_text_goes_on_before_a_picture_that_does_not_fit() {
    let dir = tempfile::tempdir().unwrap();
    photograph(dir.path(), 1);
    let before =
        "A paragraph of some length that says what the plate does and where it was found in the shed.\n\n";
    let body =
        format!("{}![The view](../photos/view-1.jpg)\n\nWhat comes after the picture.\n", before.repeat(21));
    plate(dir.path(), &body);
    let Some(pages) = pages(&built(dir.path())) else { return };
    assert_eq!(page_of(&pages, "What comes after the picture") + 1, page_of(&pages, "fig. 1 "));
}

#[test]
fn a_long_table_of_readings_goes_on_beside_itself() {
    let dir = tempfile::tempdir().unwrap();
    plate(dir.path(), "");
    let rows: String = (0..60).map(|row| format!("| s{row:02} | 9.{row:02} | 9.{row:02} |\n")).collect();
    let head =
        "kind: measurement\nof: plate\nfeature: thickness\nstate: as-found\ninstrument: gauge\nunit: mm";
    let note = format!("---\n{head}\n---\n| at | left | right |\n|---|---|---|\n{rows}");
    write(dir.path(), "measurements/thickness.md", note);
    let Some(pages) = pages(&built(dir.path())) else { return };
    let lines: Vec<&str> =
        pages.iter().flat_map(|page| page.lines()).filter(|line| line.contains("s00")).collect();
    assert_eq!(lines.len(), 1, "{lines:?}");
    assert!(lines[0].contains("s14"), "the fifteenth row stands beside the first: {lines:?}");
}

#[test]
fn numbers_of_a_table_in_a_text_stand_on_the_point() {
    let dir = tempfile::tempdir().unwrap();
    plate(dir.path(), "| where | reading |\n|---|--:|\n| a | 9.9 |\n| b | 110.25 |\n| c | -7.125 |\n");
    let Some(pages) = Pages::of(&built(dir.path())) else { return };
    let right =
        |text: &str| pages.words.iter().find(|word| word.text == text).map(|word| word.right).unwrap();
    let digit = right("110.25") - right("9.9");
    assert!((3.0..6.0).contains(&digit), "one digit to the right of the other: {digit}");
    assert!((right("−7.125") - right("110.25") - digit).abs() < 0.1);
}

#[test]
fn the_cautions_of_a_step_come_before_its_work() {
    let dir = tempfile::tempdir().unwrap();
    plate(dir.path(), "");
    let head = "kind: step\ndoes: Lift the plate\nparts: [plate]\ntakes: 1 h\nhazards: [lifting]";
    write(dir.path(), "steps/lift-plate.md", format!("---\n{head}\n---\nWith two slings.\n"));
    let Some(pages) = pages(&built(dir.path())) else { return };
    let page = &pages[page_of(&pages, "With two slings")];
    let place = |words: &str| page.find(words).unwrap_or_else(|| panic!("`{words}` is not on {page}"));
    assert!(place("Caution, lifting") < place("With two slings"), "{page}");
}

/// A paragraph whose words say which one it is.
fn paragraph(number: usize) -> String {
    (0..60).map(|word| format!("n{number}w{word}")).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_picture_that_waits_cuts_no_sentence() {
    let dir = tempfile::tempdir().unwrap();
    photograph(dir.path(), 1);
    let before =
        "A paragraph that says what the plate does and where it was found in the shed.\n\n".repeat(21);
    let after = (0..8).map(paragraph).collect::<Vec<_>>().join("\n\n");
    plate(dir.path(), &format!("{before}![The view](../photos/view-1.jpg)\n\n{after}\n"));
    let Some(pages) = pages(&built(dir.path())) else { return };
    for number in 0..8 {
        let (first, last) = (format!("n{number}w0 "), format!("n{number}w59"));
        assert_eq!(page_of(&pages, &first), page_of(&pages, &last), "paragraph {number}");
    }
}

#[test]
fn a_short_chain_of_prerequisites_stays_on_its_page() {
    for lines in 14..30 {
        let dir = tempfile::tempdir().unwrap();
        plate(dir.path(), &"A line of text.\n\n".repeat(lines));
        let step = |does: &str, more: &str| format!("---\nkind: step\ndoes: {does}\ntakes: 1 h\n{more}---\n");
        write(dir.path(), "steps/one.md", step("Clear the yard", ""));
        write(dir.path(), "steps/two.md", step("Set the trestles", "needs: [one]\n"));
        write(dir.path(), "steps/three.md", step("Lift off the plate", "needs: [two]\nremoves: [plate]\n"));
        let Some(pages) = pages(&built(dir.path())) else { return };
        let chain = page_of(&pages, "To remove it");
        assert!(pages[chain].contains("Clear the yard"), "after {lines} lines: {}", pages[chain]);
        if chain > page_of(&pages, "A line of text") {
            return;
        }
    }
}
