//! How much of a kind is taken on: past these a page, a table or a search would take time and memory without end.
//!
//! `check` reports what is past one, with what to do; the book's page on the problem `limit` lists them.

/// A text of a key, a heading, the words under a picture: in letters.
pub const LONGEST_TEXT: usize = 1000;

/// Marks set over one letter; Unicode Standard Annex #15, clause 13 (Stream-Safe Text Format) allows as many.
pub const MOST_MARKS: usize = 30;

/// Quotes, lists, their items and emphasis within each other, in levels.
pub const DEEPEST_BLOCK: usize = 40;

/// A quote counts as so many levels: so much sooner does the page setter give up.
pub const LEVELS_OF_QUOTE: usize = 4;

/// Keys within keys, in levels.
pub const DEEPEST_KEY: usize = 24;

/// Readings of one measurement.
pub const MOST_READINGS: usize = 10_000;

/// Parts within parts, in levels.
pub const DEEPEST_PART: usize = 50;
