//! Words in a sentence: days, capitals, plurals.

use jiff::civil::Date;

use super::shapes::DayShape;
use crate::record::Dated;

/// "14 March 2027".
pub(super) fn day(date: Date) -> DayShape {
    DayShape {
        year: date.year(),
        month: date.month(),
        day: date.day(),
        says: date.strftime("%-d %B %Y").to_string(),
    }
}

/// The day that was written, in words.
pub(super) fn said(dated: Option<Dated>) -> Option<String> {
    dated.map(|dated| day(dated.date).says)
}

/// A text that begins a sentence.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// "the post" for "The post", in the middle of a sentence; what begins with two capitals stays as it is.
pub(super) fn decapital(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if second.is_lowercase() => {
            first.to_lowercase().chain(std::iter::once(second)).chain(letters).collect()
        }
        _ => text.to_owned(),
    }
}

/// An uncertainty is not parted from its sign.
pub(super) fn joined(says: &str) -> String {
    says.replace("± ", "±\u{a0}")
}

/// "weeks", unless it is one.
pub(super) fn several(unit: &str, figures: &str) -> String {
    let is_one = figures == "1"
        || figures.starts_with("1 ") && !figures.contains(['/', '.']) && !figures.contains(" to ");
    match unit {
        "day" | "week" | "month" | "year" if !is_one => format!("{unit}s"),
        _ => unit.to_owned(),
    }
}
