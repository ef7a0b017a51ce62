//! Lines that go on inside open brackets, and the way back from a place in them to the file.

use std::ops::Range;

use super::SourceLine;
use crate::calc::syntax::LONGEST_LINE;

/// One line as it is read, possibly of several lines of the file.
#[derive(Clone, Debug)]
pub(super) struct Logical {
    pub text: String,
    /// Where each line of the file begins: in `text`, and in the file.
    starts: Vec<(usize, usize)>,
}

impl Logical {
    pub(super) fn of(line: &SourceLine) -> Self {
        Self { text: line.text.clone(), starts: vec![(0, line.offset)] }
    }

    fn add(&mut self, line: &SourceLine) {
        self.text.push('\n');
        self.starts.push((self.text.len(), line.offset));
        self.text.push_str(&line.text);
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
        open = brackets(&line.text, open);
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

/// How many brackets are open after `text`, quotes and remarks left out.
fn brackets(text: &str, mut open: usize) -> usize {
    let mut quoted = false;
    let mut before = ' ';
    for character in text.chars() {
        match character {
            // An inch mark is glued to its number.
            '"' if quoted || !before.is_ascii_digit() => quoted = !quoted,
            _ if quoted => {}
            '#' => break,
            '(' | '[' => open += 1,
            ')' | ']' => open = open.saturating_sub(1),
            _ => {}
        }
        before = character;
    }
    open
}
