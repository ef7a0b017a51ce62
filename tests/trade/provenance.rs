//! Everything that is recalled and was not read in its source. The list shrinks; what grows it is seen here.

use std::path::Path;

use asfound::calc::function::{Seen, Source};
use asfound::trade;
use snapbox::{Assert, Data};

#[test]
fn what_is_recalled_is_listed() {
    let mut listed = String::new();
    for function in trade::functions() {
        let recalled = function.source.iter().filter(|source| source.seen() == Some(Seen::Recalled));
        listed.extend(recalled.map(|source| format!("{}: {source}\n", function.name)));
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/trade/recalled.txt");
    Assert::new().action_env("SNAPSHOTS").eq(listed, Data::read_from(&path, None).raw());
}

/// Words that say how far a source was seen stand in the data, not in a text.
#[test]
fn no_text_says_from_memory() {
    let told = trade::functions().flat_map(|function| function.source).map(Source::to_string);
    let told: Vec<String> =
        told.filter(|text| text.contains("memory") || text.contains("transcription")).collect();
    assert_eq!(told, Vec::<String>::new());
}
