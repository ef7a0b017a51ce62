//! Where a formula or a figure of a workshop function comes from, and whether it was read there.

use std::fmt;

/// One source of a function.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A standard, a book, a table.
    Work {
        /// `ISO 281`; author and title of a book.
        work: &'static str,
        /// `2007`, `5th ed.`; empty if it is not known.
        edition: &'static str,
        /// Clause, table, page or example; empty for all of it.
        at: &'static str,
        seen: Seen,
    },
    /// Common practice, which no source states: what of the function rests on it, empty for all of it.
    Practice(&'static str),
    /// It follows from geometry, statics or a definition: from which.
    Derived(&'static str),
}

/// How far the figure was seen in its source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// In the source itself.
    Read,
    /// In an open table or transcription of it.
    OpenTable,
    /// Nowhere: it is recalled, and waits to be read.
    Recalled,
}

impl Source {
    /// How far it was seen; nothing is to be seen of what has no source.
    pub fn seen(&self) -> Option<Seen> {
        match self {
            Self::Work { seen, .. } => Some(*seen),
            Self::Practice(_) | Self::Derived(_) => None,
        }
    }
}

/// `ISO 281:2007, clause 5`; `J. M. Gere, Mechanics of Materials, 5th ed., section 1.2`. How far it was seen is left to
/// those who print it.
impl fmt::Display for Source {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Work { work, edition, at, .. } => {
                let join = match edition.bytes().next() {
                    None => "",
                    Some(_) if edition.contains(' ') => ", ",
                    Some(_) if work.starts_with("ANSI") => "-",
                    Some(_) if work.starts_with("ASME") => ", ",
                    Some(_) => ":",
                };
                let comma = if at.is_empty() { "" } else { ", " };
                write!(out, "{work}{join}{edition}{comma}{at}")
            }
            Self::Practice("") => out.write_str("common practice, no source"),
            Self::Practice(about) => write!(out, "{about}: common practice, no source"),
            Self::Derived(from) => out.write_str(from),
        }
    }
}

/// All sources of a function, joined: `ISO 281:2007, clause 5 (from memory); …`.
pub fn source_words(sources: &[Source]) -> String {
    let words = sources.iter().map(|source| match source.seen() {
        Some(Seen::Recalled) => format!("{source} (from memory)"),
        Some(Seen::OpenTable) => format!("{source} (open table)"),
        Some(Seen::Read) | None => source.to_string(),
    });
    words.collect::<Vec<_>>().join("; ")
}
