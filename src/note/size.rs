//! Texts that no page can take.

use unicode_normalization::char::is_combining_mark;

use super::body::{Block, BlockShape, Inline, InlineShape, each_block, each_inline, plain};
use crate::diagnostic::Problem;
use crate::limits::{LONGEST_TEXT, MOST_MARKS};
use crate::note::problems as problem;
use crate::text::Span;

/// What is wrong with a text that stands on one line: `what` it is, "this heading".
pub(super) fn of_text(text: &str, at: Span, what: &str) -> Option<Problem> {
    // No text of fewer bytes has more letters.
    let letters = if text.len() > LONGEST_TEXT { text.chars().count() } else { 0 };
    if letters > LONGEST_TEXT {
        return Some(problem::text_long(at, what, letters));
    }
    has_stacked_marks(text).then(|| problem::marks_stacked(at))
}

/// What is wrong with the texts of a body.
pub(super) fn of_body(blocks: &[Block]) -> Vec<Problem> {
    let mut problems = Vec::new();
    each_block(blocks, &mut |block| match &block.shape {
        BlockShape::Heading { text, .. } => {
            problems.extend(of_text(&plain(text), block.span, "this heading"));
        }
        BlockShape::Html(text) => problems.extend(marks(text, block.span)),
        BlockShape::Code(code) => {
            problems.extend(code.lines.iter().find_map(|line| marks(&line.text, block.span)));
        }
        _ => {}
    });
    each_inline(blocks, &mut |inline| problems.extend(of_inline(inline)));
    problems
}

fn of_inline(inline: &Inline) -> Option<Problem> {
    match &inline.shape {
        InlineShape::Picture { text, .. } => of_text(text, inline.span, "what stands under this picture"),
        InlineShape::Text(text) | InlineShape::Code(text) | InlineShape::Html(text) => {
            marks(text, inline.span)
        }
        _ => None,
    }
}

fn marks(text: &str, at: Span) -> Option<Problem> {
    has_stacked_marks(text).then(|| problem::marks_stacked(at))
}

fn has_stacked_marks(text: &str) -> bool {
    let mut count = 0;
    !text.is_ascii()
        && text.chars().any(|letter| {
            count = if is_combining_mark(letter) { count + 1 } else { 0 };
            count > MOST_MARKS
        })
}
