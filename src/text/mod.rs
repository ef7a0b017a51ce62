//! Texts in memory, and places in them.
//!
//! Takes: texts, each with its path. Gives: [`Texts`] by number and by path, [`Span`]s, lines and columns. Never: reads the
//! disk, or understands what a text says. Every other room that points at a place may use it; it uses none.

mod place;

use std::collections::BTreeMap;

pub use place::{FileId, Place, Span};

/// One text: where it lies in the project and what it says.
#[derive(Debug)]
pub struct TextFile {
    /// Relative to the project's folder, with `/`.
    pub path: String,
    /// Empty when the file could not be read as text; a problem then says why.
    pub text: String,
    line_starts: Vec<usize>,
}

/// Texts by number, in the order in which they were added, and by path.
#[derive(Debug, Default)]
pub struct Texts {
    files: Vec<TextFile>,
    by_path: BTreeMap<String, FileId>,
}

impl Texts {
    /// Adds a text; of two with one path the first is found by it.
    pub fn add(&mut self, path: String, text: String) -> FileId {
        let line_starts = place::line_starts(&text);
        let id = FileId::new(self.files.len());
        self.by_path.entry(path.clone()).or_insert(id);
        self.files.push(TextFile { path, text, line_starts });
        id
    }

    /// The text of this number.
    pub fn file(&self, id: FileId) -> &TextFile {
        &self.files[id.index()]
    }

    /// The numbers of all texts, in order.
    pub fn ids(&self) -> impl Iterator<Item = FileId> {
        (0..self.files.len()).map(FileId::new)
    }

    /// The text at this path within the project.
    pub fn find(&self, path: &str) -> Option<FileId> {
        self.by_path.get(path).copied()
    }

    /// The text under a span.
    pub fn slice(&self, span: Span) -> &str {
        self.file(span.file).text.get(span.range()).unwrap_or_default()
    }

    /// Line and column, both from 1, of the start of a span; a column counts characters.
    pub fn place(&self, span: Span) -> Place {
        self.file(span.file).place(span.start)
    }

    /// Line and column, both from 1, just behind the last character of a span.
    pub fn end(&self, span: Span) -> Place {
        self.file(span.file).place(span.end)
    }
}
