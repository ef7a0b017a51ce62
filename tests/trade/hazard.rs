//! The vocabulary of hazards: whole words, all that apply, and a caution for each that defers to others.

use std::collections::BTreeSet;

use asfound::hazard::Hazard;
use asfound::trade::hazard::{named, nearest};
use asfound::trade::table::{Row, rows};

fn vocabulary() -> Vec<Row> {
    rows(include_str!("../../src/trade/data/hazard_words.csv"))
}

fn words_of(text: &str) -> Vec<&'static str> {
    named(text).hazards.into_iter().map(Hazard::word).collect()
}

#[test]
fn every_phrase_stands_once_and_names_known_hazards() {
    let mut seen = BTreeSet::new();
    let known: Vec<&str> = Hazard::ALL.iter().map(|hazard| hazard.word()).collect();
    for row in vocabulary() {
        let (phrase, hazards) = (row.text("phrase").to_owned(), row.text("hazards").to_owned());
        let mut listed: Vec<&str> = hazards.split(' ').filter(|word| *word != "none").collect();
        assert!(listed.iter().all(|word| known.contains(word)), "{phrase}: {hazards}");
        let all: Vec<&str> = words_of(&phrase);
        listed.sort_by_key(|word| known.iter().position(|each| each == word));
        assert_eq!(all, listed, "{phrase}");
        assert!(seen.insert(phrase.clone()), "{phrase} stands twice");
    }
    assert!(seen.len() > 200, "{}", seen.len());
    for hazard in Hazard::ALL {
        assert!(named(hazard.word()).hazards.contains(hazard) && named(hazard.word()).is_whole, "{hazard:?}");
    }
}

/// A phrase with a letter more at its end or its beginning says no more than it would with another word in that place.
#[test]
fn no_phrase_is_read_within_a_longer_word() {
    for row in vocabulary() {
        let phrase = row.text("phrase");
        let words: Vec<&str> = phrase.split(' ').collect();
        let (first, last) = (words[0], words[words.len() - 1]);
        let (behind, before) = (&words[1..], &words[..words.len() - 1]);
        let joined = |words: &[&str], word: &str, at_end: bool| {
            let rest = words.join(" ");
            if at_end { format!("{rest} {word}") } else { format!("{word} {rest}") }
        };
        for (longer, other) in [
            (joined(behind, &format!("q{first}"), false), joined(behind, "qqq", false)),
            (joined(before, &format!("{last}q"), true), joined(before, "qqq", true)),
        ] {
            assert_eq!(named(&longer).hazards, named(&other).hazards, "{longer}");
        }
    }
}

#[test]
fn whole_words_name_every_hazard_that_applies() {
    for (text, hazards) in [
        ("compressed-air", &["pressure"][..]),
        ("lead screw", &[]),
        ("the lead screw may run back", &["stored-energy"]),
        ("Lead", &["lead-paint"]),
        ("structural-weld", &["hot-work", "load-carrying-weld"]),
        (
            "load-carrying weld and overload",
            &["lifting", "hot-work", "load-carrying-weld", "load-carrying-part"],
        ),
        ("HOT_WORK", &["hot-work"]),
        ("tig", &["hot-work"]),
        ("600 lb over water, nobody under it", &["lifting", "work-over-water"]),
        ("shaft may part under the wheel: chock it", &["stored-energy"]),
        ("suction of the mud", &[]),
        ("possible asbestos", &["asbestos"]),
        ("an expression of regret", &[]),
        ("misleading", &[]),
        ("welder", &[]),
    ] {
        assert_eq!(words_of(text), hazards, "{text}");
    }
    assert!(named("hot-work and lifting").is_whole && !named("hot work on Tuesday").is_whole);
    assert!(!named("lead screw").is_whole && !named("").is_whole);
}

#[test]
fn a_slip_of_the_pen_is_recognised() {
    assert_eq!(nearest("lifing"), Some("lifting"));
    assert_eq!(nearest("asbestus"), Some("asbestos"));
    assert_eq!(nearest("Hot wrok"), Some("hot-work"));
    assert_eq!(nearest("lead screw"), None);
    assert_eq!(nearest("mantrap"), None);
    assert_eq!(nearest("somebody on the bank"), None);
}

/// Every caution says what to do in words of its own and leaves the last word to others.
#[test]
fn every_caution_defers() {
    let defers = [
        "local rules",
        "local codes",
        "local limits",
        "local health",
        "under the code",
        "set by law",
        "licensed",
    ];
    for hazard in Hazard::ALL {
        let says = hazard.caution().to_lowercase();
        assert!(defers.iter().any(|words| says.contains(words)), "{hazard:?}: {says}");
        assert!(says.ends_with('.') && !says.contains("  "), "{hazard:?}: {says}");
    }
}

/// The page of the problem, and the chapter on notes, list the vocabulary as it is.
#[test]
fn the_book_lists_every_hazard() {
    for text in
        [include_str!("../../book/src/problems/hazard-unknown.md"), include_str!("../../book/src/notes.md")]
    {
        for hazard in Hazard::ALL {
            assert!(text.contains(&format!("`{}`", hazard.word())), "{hazard:?} is missing");
        }
    }
}
