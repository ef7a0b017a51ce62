//! Cuts the front matter off a note, keeping where it stood.

use std::ops::Range;

use crate::diagnostic::Problem;
use crate::note::problems as problem;
use crate::text::{FileId, Span};

pub(super) struct Parts {
    pub(super) front: Range<usize>,
    pub(super) body: Range<usize>,
}

/// How long the byte-order mark at the start is.
pub(super) fn byte_order_mark(text: &str) -> usize {
    text.len() - text.trim_start_matches('\u{feff}').len()
}

/// Front matter stands between a first line `---` and the next line `---` or `...`.
/// `Ok(None)`: the text does not begin with it.
pub(super) fn cut(text: &str, file: FileId) -> Result<Option<Parts>, Problem> {
    let start = byte_order_mark(text);
    let mut lines = text[start..].split_inclusive('\n');
    let Some(first) = lines.next().filter(|line| line.trim_end() == "---") else {
        return match kind_at(text) {
            Some(kind) => Err(problem::front_matter_unbegun(Span::new(file, kind))),
            None => Ok(None),
        };
    };
    let front = start + first.len();
    let mut at = front;
    for line in lines {
        let next = at + line.len();
        if matches!(line.trim_end(), "---" | "...") {
            return Ok(Some(Parts { front: front..at, body: next..text.len() }));
        }
        at = next;
    }
    Err(problem::front_matter_open(Span::new(file, start..start + 3)))
}

/// Where a text that begins with other lines says all the same what kind of note it is.
fn kind_at(text: &str) -> Option<Range<usize>> {
    const LINES: usize = 4;
    const KEY: &str = "kind:";
    let mut at = 0;
    for line in text.split_inclusive('\n').take(LINES) {
        if line.starts_with(KEY) {
            return Some(at..at + KEY.len());
        }
        at += line.len();
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Sources;

    fn parts(text: &str) -> Option<(String, String)> {
        let sources = Sources::in_memory([("a.md".to_owned(), String::new())]);
        let file = sources.ids().next().expect("one file");
        let parts = cut(text, file).ok()??;
        Some((text[parts.front].to_owned(), text[parts.body].to_owned()))
    }

    #[test]
    fn marks_line_ends_and_both_closings_are_understood() {
        let expected = Some(("kind: part\n".to_owned(), "body".to_owned()));
        assert_eq!(parts("---\nkind: part\n---\nbody"), expected);
        assert_eq!(parts("\u{feff}---\nkind: part\n...\nbody"), expected);
        let crlf = Some(("kind: part\r\n".to_owned(), "body".to_owned()));
        assert_eq!(parts("---\r\nkind: part\r\n---\r\nbody"), crlf);
    }

    #[test]
    fn a_text_without_it_is_left_alone_and_an_open_one_is_not() {
        assert_eq!(parts("# A heading\n\n---\n"), None);
        let file = Sources::in_memory([("a.md".to_owned(), String::new())]).ids().next().expect("one file");
        assert!(cut("---\nkind: part\n", file).is_err());
        for slip in ["kind: part\n---\n", "\n---\nkind: part\n---\n", "----\nkind: part\n---\n"] {
            assert!(cut(slip, file).is_err(), "{slip}");
        }
    }
}
