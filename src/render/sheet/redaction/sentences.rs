//! The sentences of a paragraph: what one of them tells need not take the others with it.

use super::GAP;
use crate::note::body::{Inline, InlineShape, plain};
use crate::text::Span;

/// In order; together they are the paragraph. One ends with its stop and what parts it from the next.
pub(super) fn of(text: &[Inline]) -> Vec<Vec<Inline>> {
    let mut all: Vec<Vec<Inline>> = vec![Vec::new()];
    for inline in text {
        for piece in pieces(inline) {
            let ends = ends_a_sentence(&piece) || is_break_after_stop(&piece, all.last());
            if let Some(last) = all.last_mut() {
                last.push(piece);
            }
            if ends {
                all.push(Vec::new());
            }
        }
    }
    all.retain(|sentence| !sentence.is_empty());
    all
}

/// What stands in the place of a sentence.
pub(super) fn gap(at: Span) -> Vec<Inline> {
    let text = |words: &str| Inline { shape: InlineShape::Text(words.to_owned()), span: at };
    vec![Inline { shape: InlineShape::Emphasis(vec![text(GAP)]), span: at }, text(" ")]
}

/// A text, parted after each stop that a blank follows.
fn pieces(inline: &Inline) -> Vec<Inline> {
    let InlineShape::Text(words) = &inline.shape else { return vec![inline.clone()] };
    let ends = words.match_indices(' ').map(|(at, _)| at + 1).filter(|end| ends_with_stop(&words[..*end]));
    let mut from = 0;
    let mut parts: Vec<&str> = Vec::new();
    for end in ends.chain([words.len()]) {
        parts.push(&words[from..end]);
        from = end;
    }
    let piece = |part: &str| Inline { shape: InlineShape::Text(part.to_owned()), ..inline.clone() };
    parts.into_iter().filter(|part| !part.is_empty()).map(piece).collect()
}

fn ends_with_stop(words: &str) -> bool {
    words.trim_end().ends_with(['.', '!', '?'])
}

fn ends_a_sentence(piece: &Inline) -> bool {
    matches!(&piece.shape, InlineShape::Text(words) if words.ends_with(' ') && ends_with_stop(words))
}

fn is_break_after_stop(piece: &Inline, before: Option<&Vec<Inline>>) -> bool {
    matches!(piece.shape, InlineShape::SoftBreak | InlineShape::HardBreak)
        && before.is_some_and(|sentence| ends_with_stop(&plain(sentence)))
}
