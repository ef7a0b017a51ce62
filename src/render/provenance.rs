//! Sources in words, with a mark on what was not read in them.

use crate::calc::function::{Seen, Source};

/// All sources of a function, joined: `ISO 281:2007, clause 5 (from memory); …`.
pub fn source_words(sources: &[Source]) -> String {
    let words = sources.iter().map(|source| match source.seen() {
        Some(Seen::Recalled) => format!("{source} (from memory)"),
        Some(Seen::OpenTable) => format!("{source} (open table)"),
        Some(Seen::Read) | None => source.to_string(),
    });
    words.collect::<Vec<_>>().join("; ")
}
