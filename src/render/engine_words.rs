//! Messages of the engine in the words of the pages: what is a name there stands as it is read.

use super::escape::{escape, quoted};

/// Names that stand for Greek letters.
const GREEK: [(&str, &str); 11] = [
    ("alpha", "α"),
    ("beta", "β"),
    ("gamma", "γ"),
    ("delta", "δ"),
    ("eta", "η"),
    ("lambda", "λ"),
    ("mu", "μ"),
    ("phi", "φ"),
    ("rho", "ρ"),
    ("sigma", "σ"),
    ("tau", "τ"),
];

/// A text in which backquotes stand around what is typed: the name of a function, a parameter or a key as words, the rest as
/// it is typed.
pub(super) fn with_code(text: &str) -> String {
    let pieces = text.trim_end_matches('.').split('`').enumerate();
    pieces.map(|(index, piece)| if index % 2 == 1 { code(piece) } else { escape(&in_words(piece)) }).collect()
}

fn code(piece: &str) -> String {
    if is_name(piece) {
        format!("#emph[{}]", escape(&in_words(piece)))
    } else {
        format!("#raw({})", quoted(&signs(&in_words(piece))))
    }
}

fn is_name(piece: &str) -> bool {
    let is_letter = |letter: char| letter.is_ascii_alphanumeric() || letter == '_';
    piece.starts_with(|first: char| first.is_ascii_alphabetic()) && piece.chars().all(is_letter)
}

/// The signs of print for those of the keyboard.
fn signs(text: &str) -> String {
    text.replace(">=", "≥").replace("<=", "≤").replace(" .. ", " to ")
}

/// A text of the tool without the names of the engine: `lead_angle` as "lead angle", `mu` as its letter. The path of a file
/// stays.
pub(super) fn in_words(text: &str) -> String {
    text.split(' ')
        .map(|word| if word.contains('/') { word.to_owned() } else { words_of(word) })
        .collect::<Vec<_>>()
        .join(" ")
}

/// The names within one run of signs.
fn words_of(run: &str) -> String {
    let is_letter = |letter: char| letter.is_alphanumeric() || letter == '_';
    let (mut words, mut rest) = (String::new(), run);
    while !rest.is_empty() {
        let name = rest.find(|letter| !is_letter(letter)).unwrap_or(rest.len());
        words.push_str(&rest[..name].split('_').map(letter).collect::<Vec<_>>().join(" "));
        rest = &rest[name..];
        let between = rest.find(is_letter).unwrap_or(rest.len());
        words.push_str(&rest[..between]);
        rest = &rest[between..];
    }
    words
}

fn letter(name: &str) -> &str {
    GREEK.iter().find(|(word, _)| *word == name).map_or(name, |(_, letter)| letter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_of_the_engine_is_read_as_words() {
        let read = [
            ("It holds by itself when phi > lead_angle", "It holds by itself when φ > lead angle"),
            ("line_contact: wrought iron", "line contact: wrought iron"),
            ("photos/crab_side.jpg is missing", "photos/crab_side.jpg is missing"),
            ("Measure it", "Measure it"),
        ];
        for (text, words) in read {
            assert_eq!(in_words(text), words);
        }
    }

    #[test]
    fn what_stands_in_backquotes_is_a_name_or_is_typed() {
        assert_eq!(with_code("`bush_closing_in` gives how far."), "#emph[bush closing in] gives how far");
        let range = "#raw(\"0\\u{2e}0012 in to 0\\u{2e}0021 in\")";
        assert_eq!(with_code("`0.0012 in .. 0.0021 in`"), range);
        let raw = "#raw(\"atan\\u{28}μ thread\\u{29} ≥ angle\") holds";
        assert_eq!(with_code("`atan(mu_thread) >= angle` holds"), raw);
    }
}
