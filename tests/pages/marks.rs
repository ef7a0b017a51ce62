//! The marks of states, findings and checks survive a print in one bit: no two of them look alike, at the resolution of a
//! screen and of a printer.

use std::fs;
use std::path::Path;

use asfound::typeset::{Folder, Making, typeset};

use crate::cli::scratch::outside;

/// The marks that a reader has to tell apart.
const MARKS: [&str; 16] = [
    "ready",
    "waiting",
    "held",
    "unplaced",
    "doing",
    "done",
    "dropped",
    "open",
    "settled",
    "cosmetic",
    "minor",
    "serious",
    "dangerous",
    "holds",
    "fails",
    "unsettled",
];

/// Between two marks, of the hundred dots or so that a mark takes at 100 dots an inch; at 300 it is nine times as many.
const LEAST: usize = 14;
/// Those that are a few punch marks or a short line between two others: what differs is small by nature.
const LEAST_OF_SMALL: usize = 4;

/// A page for each mark, 8 pt in a page of 12 pt.
fn one_a_page(dir: &Path) -> std::path::PathBuf {
    let look = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/look");
    let mut folder: Folder = ["base.typ", "mark.typ"]
        .map(|name| (format!("/look/{name}"), fs::read(look.join(name)).unwrap()))
        .into();
    let pages = MARKS.map(|name| format!("#mark(\"{name}\")")).join("\n#pagebreak()\n");
    let main = format!(
        "#import \"/look/mark.typ\": *\n#set page(width: 12pt, height: 12pt, margin: 2pt)\n\
         #set text(size: 8pt, top-edge: 6.9pt, bottom-edge: -1.1pt)\n{pages}\n"
    );
    folder.insert("/main.typ".to_owned(), main.into_bytes());
    let making = Making { main: "/main.typ".to_owned(), identity: "marks".to_owned(), archival: false };
    let pdf = dir.join("marks.pdf");
    fs::write(&pdf, typeset(&folder, &making).unwrap().pdf).unwrap();
    pdf
}

/// The dots of a page as `pdftoppm -mono` writes them: a bit a dot, each row in whole bytes (PBM, P4).
fn dots(pbm: &[u8]) -> Vec<u8> {
    let head = pbm.iter().enumerate().filter(|(_, byte)| byte.is_ascii_whitespace()).nth(2).unwrap().0;
    pbm[head + 1..].to_vec()
}

fn apart(one: &[u8], other: &[u8]) -> usize {
    one.iter().zip(other).map(|(one, other)| (one ^ other).count_ones() as usize).sum()
}

fn is_small(mark: &str) -> bool {
    ["cosmetic", "minor", "serious", "dangerous", "holds", "fails", "unsettled"].contains(&mark)
}

/// So many dots at 100 an inch have to differ.
fn least(one: &str, other: &str) -> usize {
    if is_small(one) || is_small(other) { LEAST_OF_SMALL } else { LEAST }
}

fn told_apart(dots_an_inch: usize) {
    let dir = tempfile::tempdir().unwrap();
    let pdf = one_a_page(dir.path());
    let rasters = dir.path().join("page");
    let resolution = dots_an_inch.to_string();
    let arguments = ["-r", &resolution, "-mono", pdf.to_str().unwrap(), rasters.to_str().unwrap()];
    if outside("pdftoppm", &arguments).is_none() {
        return;
    }
    let pages: Vec<Vec<u8>> = (1..=MARKS.len())
        .map(|page| dots(&fs::read(dir.path().join(format!("page-{page:02}.pbm"))).unwrap()))
        .collect();
    let share = dots_an_inch * dots_an_inch / 10_000;
    for (at, one) in pages.iter().enumerate() {
        let name = MARKS[at];
        assert!(apart(one, &vec![0; one.len()]) >= share * least(name, name), "`{name}` is hardly there");
        for (next, other) in pages.iter().enumerate().skip(at + 1) {
            let (apart, least) = (apart(one, other), share * least(name, MARKS[next]));
            assert!(apart >= least, "`{name}` and `{}` are {apart} dots apart of {least}", MARKS[next]);
        }
    }
}

#[test]
fn no_two_marks_look_alike_in_one_bit() {
    told_apart(100);
}

#[test]
fn no_two_marks_look_alike_on_a_printer_of_one_bit() {
    told_apart(300);
}
