//! Which characters the text face can print.

use std::sync::OnceLock;

use typst::text::{Coverage, FontVariant};

use super::world::fonts;

/// The text with every character that the text face lacks written as its code, `‹U+1F600›`, and control characters as
/// spaces: an archival PDF may not hold a character without a shape. Nothing in the code may mean anything to Typst,
/// since the text may be markup: square brackets would hand it on as an argument to the call before them.
pub(super) fn printable(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\n' | '\t' => shown.push(letter),
            _ if letter.is_control() => shown.push(' '),
            _ if letter.is_ascii() || covered(letter) => shown.push(letter),
            _ => shown.push_str(&format!("‹U+{:04X}›", u32::from(letter))),
        }
    }
    shown
}

fn covered(letter: char) -> bool {
    static COVERAGE: OnceLock<Option<Coverage>> = OnceLock::new();
    let coverage = COVERAGE.get_or_init(|| {
        let book = fonts().book();
        let index = book.select("libertinus serif", FontVariant::default())?;
        Some(book.info(index)?.coverage.clone())
    });
    coverage.as_ref().is_some_and(|coverage| coverage.contains(u32::from(letter)))
}
