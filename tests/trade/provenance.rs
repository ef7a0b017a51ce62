//! Everything that is recalled and was not read in its source. The list shrinks; what grows it is seen here.

use std::path::Path;

use asfound::calc::function::{Seen, Source};
use asfound::trade;
use asfound::trade::limits::advice::DUTIES;
use asfound::trade::sources::{self, OfRow};
use snapbox::{Assert, Data};

#[test]
fn what_is_recalled_is_listed() {
    let functions = trade::functions().flat_map(|function| {
        recalled(function.source).map(|source| format!("{}: {source}\n", function.name))
    });
    let duties = sources::recalled_of(DUTIES.iter().flat_map(|duty| duty.source));
    let duties = duties.iter().map(|source| format!("fits for duties: {source}\n"));
    let listed: String = functions.chain(duties).chain(groups().iter().map(Group::line)).collect();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/trade/recalled.txt");
    Assert::new().action_env("SNAPSHOTS").eq(listed, Data::read_from(&path, None).raw());
}

fn recalled(sources: &'static [Source]) -> impl Iterator<Item = &'static Source> {
    sources.iter().filter(|source| source.seen() == Some(Seen::Recalled))
}

/// Rows of a table that follow each other in the list and rest on the same recalled source.
struct Group {
    first: OfRow,
    last: String,
    rows: usize,
}

fn groups() -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for entry in sources::of_tables().filter(|entry| entry.source.seen() == Some(Seen::Recalled)) {
        match groups.last_mut() {
            Some(group) if group.first.table == entry.table && group.first.source == entry.source => {
                group.last = entry.row;
                group.rows += 1;
            }
            _ => groups.push(Group { last: entry.row.clone(), first: entry, rows: 1 }),
        }
    }
    groups
}

impl Group {
    fn line(&self) -> String {
        let OfRow { table, row, source } = &self.first;
        match self.rows {
            1 => format!("{table}, {row}: {source}\n"),
            rows => format!("{table}, {rows} rows, {row} to {}: {source}\n", self.last),
        }
    }
}

/// Words that say how far a source was seen stand in the data, not in a text.
#[test]
fn no_text_says_from_memory() {
    let of_functions = trade::functions().flat_map(|function| function.source).map(Source::to_string);
    let of_functions = of_functions.filter(|text| text.contains("transcription") || text.contains("memory"));
    let of_tables = sources::of_tables().map(|entry| entry.source.to_string());
    let of_tables = of_tables.filter(|text| text.contains("recalled") || text.contains("memory"));
    let told: Vec<String> = of_functions.chain(of_tables).collect();
    assert_eq!(told, Vec::<String>::new());
}

/// A source cell that begins with no key is not lost: it counts as recalled and so comes into the list, which has none.
#[test]
fn every_key_of_the_tables_is_known() {
    let is_key = |work: &str| {
        let (letter, digits) = work.split_at(1);
        letter.chars().all(|c| c.is_ascii_uppercase()) && digits.parse::<u8>().is_ok()
    };
    let unknown: Vec<String> = sources::of_tables()
        .filter_map(|entry| match entry.source {
            Source::Work { work, .. } if is_key(work) => {
                Some(format!("{}, {}: {work}", entry.table, entry.row))
            }
            _ => None,
        })
        .collect();
    assert_eq!(unknown, Vec::<String>::new());
}

/// The mark comes from the data: a row that was seen has none, a row that was not has one.
#[test]
fn rows_carry_what_was_seen() {
    let iron = trade::material::find("wrought iron").expect("in the table");
    assert!(iron.sources.iter().all(|source| source.seen() == Some(Seen::Recalled)));
    let steel = trade::material::find("SAE 1018").expect("in the table");
    let seen: Vec<_> = steel.sources.iter().map(Source::seen).collect();
    assert_eq!(seen, [Some(Seen::OpenTable); 2]);
    assert_eq!(steel.sources[1].to_string(), "machine-design textbook appendix, 372/441");
}
