//! Places in a text: byte ranges while working, lines and columns when printing.

use std::ops::Range;

use super::TextFile;

/// A file of the project, by its number in path order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(u32);

/// A byte range of one file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    pub file: FileId,
    pub start: usize,
    pub end: usize,
}

/// A line and a column, both from 1; the column counts characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    pub line: usize,
    pub column: usize,
}

impl FileId {
    /// The number of a file, in path order from 0.
    ///
    /// # Panics
    /// Past four thousand million files.
    pub fn new(index: usize) -> Self {
        Self(u32::try_from(index).expect("a project holds fewer than four thousand million files"))
    }

    /// Its place in path order, from 0.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

impl Span {
    pub fn new(file: FileId, range: Range<usize>) -> Self {
        Self { file, start: range.start, end: range.end }
    }

    /// The very start of a file: where a problem of the whole file is shown.
    pub fn start_of(file: FileId) -> Self {
        Self { file, start: 0, end: 0 }
    }

    pub fn range(self) -> Range<usize> {
        self.start..self.end
    }
}

impl TextFile {
    pub(super) fn place(&self, offset: usize) -> Place {
        let offset = self.text.floor_char_boundary(offset);
        let line = self.line_starts.partition_point(|start| *start <= offset);
        let start = self.line_starts[line - 1];
        let before = self.text[start..offset].trim_start_matches('\u{feff}');
        Place { line, column: before.chars().count() + 1 }
    }
}

pub(super) fn line_starts(text: &str) -> Vec<usize> {
    std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect()
}
