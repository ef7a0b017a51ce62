//! Lines that go on inside open brackets, and the way back from a place in them to the file.

use std::ops::Range;

use super::SourceLine;
use crate::calc::syntax::LONGEST_LINE;

/// One line as it is read, possibly of several lines of the file.
#[derive(Clone, Debug)]
pub(in crate::calc) struct Logical {
    pub text: String,
    /// Where each line of the file begins: in `text`, and in the file.
    starts: Vec<(usize, usize)>,
    /// Behind the lines that go on.
    comments: Vec<String>,
}

impl Logical {
    pub(super) fn of(line: &SourceLine) -> Self {
        Self { text: line.text.clone(), starts: vec![(0, line.offset)], comments: Vec::new() }
    }

    /// The lines of a text that is one calculation.
    pub(in crate::calc) fn of_text(text: &str) -> Self {
        let mut offset = 0;
        let mut lines = text.split('\n').map(|line| {
            let start = offset;
            offset += line.len() + 1;
            SourceLine { text: line.to_owned(), offset: start }
        });
        let mut whole = Self::of(&lines.next().unwrap_or_default());
        lines.for_each(|line| whole.add(&line));
        whole
    }

    fn add(&mut self, line: &SourceLine) {
        self.put_comment_aside();
        self.text.push('\n');
        self.starts.push((self.text.len(), line.offset));
        self.text.push_str(&line.text);
    }

    /// Blanks in place of the comment that ends the last line, so that every place stays where it is.
    fn put_comment_aside(&mut self) {
        let start = self.starts.last().map_or(0, |(start, _)| *start);
        let Some(at) = Marks::of(&self.text[start..], 0).comment else { return };
        let comment = self.text.split_off(start + at);
        self.text.extend(std::iter::repeat_n(' ', comment.len()));
        self.comments.push(comment.trim_start_matches('#').trim().to_owned());
    }

    /// All comments of the line; `last` is the one that ends it.
    pub(in crate::calc) fn comment(&self, last: Option<String>) -> Option<String> {
        let comments: Vec<&str> = self
            .comments
            .iter()
            .map(String::as_str)
            .chain(last.as_deref())
            .filter(|text| !text.is_empty())
            .collect();
        if self.comments.is_empty() { last } else { Some(comments.join("; ")) }
    }

    /// A range of `text` in the coordinates of the file.
    pub(super) fn in_file(&self, range: &Range<usize>) -> Range<usize> {
        let start = self.place(range.start);
        start..self.place(range.end).max(start)
    }

    fn place(&self, at: usize) -> usize {
        let line = self.starts.iter().rev().find(|(start, _)| *start <= at);
        line.map_or(at, |(start, offset)| offset + at - start)
    }
}

/// The lines of a block; one that ends inside an open bracket takes in the next.
pub(super) fn logical(lines: &[SourceLine]) -> Vec<Logical> {
    let mut joined: Vec<Logical> = Vec::new();
    let mut open = 0_usize;
    for line in lines {
        let room = joined.last().is_some_and(|last| last.text.len() < LONGEST_LINE);
        let goes_on = open > 0 && room && !begins(&line.text);
        match joined.last_mut() {
            Some(last) if goes_on => last.add(line),
            _ => {
                open = 0;
                joined.push(Logical::of(line));
            }
        }
        open = Marks::of(&line.text, open).open;
    }
    joined
}

/// Whether a line begins something of its own, so that a bracket left open before it swallows no more.
fn begins(text: &str) -> bool {
    let text = text.trim_start();
    let after_name =
        text.trim_start_matches(|character: char| character.is_alphanumeric() || character == '_');
    let after_head = match after_name.strip_prefix('(').and_then(|rest| rest.split_once(')')) {
        Some((_, rest)) => rest.trim_start(),
        None => after_name.trim_start(),
    };
    let defines =
        after_name.len() < text.len() && after_head.starts_with('=') && !after_head.starts_with("==");
    text.is_empty()
        || defines
        || ["check ", "assume ", "#", "budget("].iter().any(|opening| text.starts_with(opening))
}

/// Whether a text ends inside an open bracket, so that it goes on in the next line.
pub fn goes_on(text: &str) -> bool {
    let open = text.lines().fold(0, |open, line| Marks::of(line, open).open);
    open > 0 && text.len() < LONGEST_LINE
}

/// What the signs of a line say about where it ends.
struct Marks {
    /// How many brackets are open at its end, quotes and comments left out.
    open: usize,
    /// Where its comment begins.
    comment: Option<usize>,
}

impl Marks {
    /// `open` brackets are open before it.
    fn of(text: &str, open: usize) -> Self {
        let mut marks = Self { open, comment: None };
        let (mut quoted, mut before) = (false, ' ');
        for (at, character) in text.char_indices() {
            match character {
                // An inch mark is glued to its number.
                '"' if quoted || !before.is_ascii_digit() => quoted = !quoted,
                _ if quoted => {}
                '#' => return Self { comment: Some(at), ..marks },
                '(' | '[' => marks.open += 1,
                ')' | ']' => marks.open = marks.open.saturating_sub(1),
                _ => {}
            }
            before = character;
        }
        marks
    }
}
