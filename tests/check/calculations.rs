//! The calculations shown in the book, worked out: below each block the book says what every line comes to.
//!
//! `SNAPSHOTS=overwrite` writes what they come to now into the chapters; read the difference before you keep it.

use std::fs;
use std::path::{Path, PathBuf};

use asfound::calc::sheet::{Block, Evaluation, Scope, SourceLine, evaluate};
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, Ton, Units};
use asfound::trade;
use snapbox::{Assert, Data};

const CALC: &str = "```calc\n";
const VALUES: &str = "```values\n";
const END: &str = "\n```";

fn chapters() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("book/src");
    let entries = fs::read_dir(folder).expect("the book is there");
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry can be read").path()).collect();
    paths.retain(|path| path.is_file());
    paths.sort();
    paths
}

fn units() -> Units {
    let ton = Ton::Long;
    Units::new(&Settings { ton, ton_assumed: false, currency: "GBP".to_owned(), ..Settings::default() })
}

/// A block worked out by itself, as a note with nothing else in it.
fn worked(block: &str) -> Evaluation {
    let lines = block.lines().map(|line| SourceLine { text: line.to_owned(), offset: 0 }).collect();
    let scope = Scope { id: "book".to_owned(), blocks: vec![Block { lines }], ..Scope::default() };
    let functions: Vec<_> = trade::functions().collect();
    evaluate(&[scope], &units(), &functions, Sources::new())
}

/// What the lines of a block come to, one a line.
fn values(block: &str) -> String {
    let evaluation = worked(block);
    let errors: Vec<_> =
        evaluation.faults.iter().filter(|fault| !fault.code.word().starts_with("check-")).collect();
    assert!(errors.is_empty(), "{block}\n{errors:?}");
    let lines = evaluation.scopes.iter().flat_map(|scope| &scope.blocks).flat_map(|block| &block.lines);
    let texts = lines.map(|line| line.text(&units())).filter(|text| !text.is_empty());
    texts.collect::<Vec<_>>().join("\n")
}

/// The chapter as it would be if every block of values were what its calculation comes to now.
fn as_worked_out(chapter: &str) -> String {
    let mut out = String::new();
    let mut rest = chapter;
    while let Some(at) = rest.find(VALUES) {
        let (before, behind) = rest.split_at(at);
        let calculation = before.rsplit_once(CALC).expect("values stand below a calculation").1;
        let calculation = calculation.split(END).next().unwrap_or_default();
        let end = behind.find(END).expect("a block of values is closed");
        out.push_str(before);
        out.push_str(VALUES);
        out.push_str(&values(calculation));
        rest = &behind[end..];
    }
    out + rest
}

#[test]
fn the_calculations_of_the_book_come_to_what_it_says() {
    let assert = Assert::new().action_env(snapbox::assert::DEFAULT_ACTION_ENV);
    let mut shown = 0;
    for path in chapters() {
        let text = fs::read_to_string(&path).expect("a chapter is a text");
        let here = text.matches(VALUES).count();
        if here == 0 {
            continue;
        }
        shown += here;
        assert.eq(as_worked_out(&text), Data::read_from(&path, None).raw());
    }
    assert!(shown >= 8, "only {shown} calculations say what they come to");
}
