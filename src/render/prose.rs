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

/// A text as a sentence: with a full stop unless it has its own end.
pub(super) fn ended(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '!', '?', '…']) { text.to_owned() } else { format!("{text}.") }
}

/// "the wharf itself" for "The wharf itself", in the middle of a sentence; other names stay as they are.
pub(super) fn in_sentence(name: &str) -> String {
    name.strip_prefix("The ").map_or_else(|| name.to_owned(), |rest| format!("the {rest}"))
}

/// A process in words: "lead paint removal" for `lead-paint-removal`.
pub(super) fn process(name: &str) -> String {
    name.replace(['-', '_'], " ")
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_ends_once() {
        assert_eq!(["it agrees", "It agrees.", "Why? "].map(ended), ["it agrees.", "It agrees.", "Why?"]);
    }

    #[test]
    fn only_an_article_is_small_within_a_sentence() {
        assert_eq!(
            ["The wharf itself", "Theodolite works", "Long yard"].map(in_sentence),
            ["the wharf itself", "Theodolite works", "Long yard"]
        );
    }
}
