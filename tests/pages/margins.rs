//! Nothing is cut off: every word of the stress project lies within the page's text area, on A4 and on letter.

use std::path::Path;

use super::stress::{SMALL, Size, WHOLE, name, write_project};
use super::{build, outside};

/// Millimetres from the left edge: the two columns of 158 mm in the middle of the paper.
fn text_area(width: f64) -> (f64, f64) {
    const COLUMNS: f64 = (112.0 + 6.0 + 40.0) / 25.4 * 72.0;
    ((width - COLUMNS) / 2.0, f64::midpoint(width, COLUMNS))
}

/// A word of a page with its box, in points from the top left.
pub(super) struct Word {
    page: usize,
    left: f64,
    pub(super) right: f64,
    top: f64,
    bottom: f64,
    pub(super) text: String,
}

/// The pages of a document: their sizes in points, and their words.
#[derive(Default)]
pub(super) struct Pages {
    sizes: Vec<(f64, f64)>,
    pub(super) words: Vec<Word>,
}

impl Pages {
    /// As `pdftotext -bbox` gives them.
    pub(super) fn of(pdf: &Path) -> Option<Self> {
        let told = outside("pdftotext", &["-bbox", pdf.to_str()?, "-"])?;
        let mut pages = Self::default();
        for line in told.lines().map(str::trim) {
            let value = |key: &str| {
                let rest = line.split_once(&format!("{key}=\""))?.1;
                rest.split_once('"')?.0.parse::<f64>().ok()
            };
            if line.starts_with("<page ") {
                pages.sizes.push((value("width")?, value("height")?));
            } else if line.starts_with("<word ") {
                let text = line.split_once('>')?.1.trim_end_matches("</word>").to_owned();
                let [left, right, top, bottom] =
                    ["xMin", "xMax", "yMin", "yMax"].map(|key| value(key).unwrap());
                pages.words.push(Word { page: pages.sizes.len(), left, right, top, bottom, text });
            }
        }
        Some(pages)
    }

    /// The words that reach out of the text area. Boxes of slanted and of combining letters reach a little past it.
    fn outside(&self, (width, height): (f64, f64)) -> Vec<String> {
        let (left, right) = text_area(width);
        let is_out = |word: &&Word| {
            word.left < left - 3.0
                || word.right > right + 3.0
                || word.top < 20.0
                || word.bottom > height - 20.0
        };
        let told =
            |word: &Word| format!("p. {}: {} ({:.0} to {:.0})", word.page, word.text, word.left, word.right);
        self.words.iter().filter(is_out).map(told).collect()
    }
}

/// Builds a small stress project on this paper, and looks for what is cut off, missing or warned of.
fn all_within(paper: &str, (width, height): (f64, f64)) {
    let dir = tempfile::tempdir().unwrap();
    write_project(dir.path(), paper, SMALL);
    let said = build(dir.path());
    assert!(!said.contains("warning"), "{said}");
    let pdf = dir.path().join("out/dossier.pdf");
    let Some(pages) = Pages::of(&pdf) else { return };
    let is_paper = |size: &(f64, f64)| (size.0 - width).abs() < 0.5 && (size.1 - height).abs() < 0.5;
    assert!(pages.sizes.iter().all(is_paper), "{:?}", pages.sizes);
    assert!(pages.sizes.len() > 30 && pages.words.len() > 5_000, "there is something to look at");
    let outside_it = pages.outside((width, height));
    assert!(outside_it.is_empty(), "outside {:?}: {outside_it:#?}", text_area(width));
    let Some(text) = outside("pdftotext", &["-raw", pdf.to_str().unwrap(), "-"]) else { return };
    let text = letters(&text);
    let missing: Vec<String> =
        (0..SMALL.parts).map(name).filter(|name| !said_somewhere(&text, name)).collect();
    assert!(missing.is_empty(), "{missing:#?}");
}

/// Letters and figures alone: names are broken into lines, and hyphens come in between.
fn letters(text: &str) -> String {
    text.chars().filter(|letter| letter.is_alphanumeric()).collect()
}

/// Whether a name stands in the text, from left to right or as `pdftotext` turns what is written from right to left.
fn said_somewhere(text: &str, name: &str) -> bool {
    let words: Vec<String> = name.split_whitespace().map(letters).filter(|word| !word.is_empty()).collect();
    let whole = text.contains(&words.concat());
    whole
        || words.iter().all(|word| {
            text.contains(word.as_str()) || text.contains(&word.chars().rev().collect::<String>())
        })
}

#[test]
fn every_word_lies_within_the_margins_on_a4() {
    all_within("a4", (595.28, 841.89));
}

#[test]
fn every_word_lies_within_the_margins_on_letter() {
    all_within("letter", (612.0, 792.0));
}

/// Not a check: it writes what is to be looked at, and says where.
#[test]
#[ignore = "writes the whole stress project, to be built and looked at"]
fn the_whole_stress_project() {
    let Size { parts, photographs, .. } = WHOLE;
    for paper in ["a4", "letter"] {
        let dir = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("stress-{paper}"));
        write_project(&dir, paper, WHOLE);
        println!("{}: {parts} parts, {photographs} photographs", dir.display());
    }
}
