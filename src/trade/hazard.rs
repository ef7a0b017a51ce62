//! The words by which notes name hazards.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use super::table::Table;
use crate::calc::suggest;
use crate::hazard::Hazard;

/// The words by which notes name hazards: `phrase,hazards`.
static WORDS: Table = Table::of(include_str!("data/hazard_words.csv"));

/// What a text says of hazards.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Named {
    pub hazards: BTreeSet<Hazard>,
    /// Every word of the text belongs to the name of a hazard.
    pub is_whole: bool,
}

/// Words that may stand between the names of hazards.
const LINKS: [&str; 3] = ["and", "or", "with"];

/// The hazards that a text names by whole words, in capitals or not, with hyphens or spaces between them.
pub fn named(text: &str) -> Named {
    let text = text.to_lowercase();
    let words: Vec<&str> =
        text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let (mut named, mut only_names) = (Named::default(), true);
    let mut rest = words.as_slice();
    while let [first, tail @ ..] = rest {
        rest = if let Some(phrase) = longest(rest) {
            named.hazards.extend(&phrase.hazards);
            only_names &= !phrase.hazards.is_empty();
            &rest[phrase.words.len()..]
        } else {
            only_names &= LINKS.contains(first);
            tail
        };
    }
    named.is_whole = only_names && !named.hazards.is_empty();
    named
}

/// The word or phrase for a hazard that a text nearly is.
pub fn nearest(text: &str) -> Option<&'static str> {
    let text = text.to_lowercase();
    let spaced = text.replace(['-', '_'], " ");
    let own = Hazard::ALL.iter().map(|hazard| hazard.word());
    let naming = WORDS.rows().iter().filter(|row| !of_words(row.text("hazards")).is_empty());
    let others = naming.map(|row| row.text("phrase"));
    suggest::nearest(&text, own).or_else(|| suggest::nearest(&spaced, others))
}

/// Words in a row that name hazards, or none.
struct Phrase {
    words: Vec<&'static str>,
    hazards: Vec<Hazard>,
}

/// The longest phrase that these words begin with.
fn longest(words: &[&str]) -> Option<&'static Phrase> {
    phrases().iter().filter(|phrase| words.starts_with(&phrase.words)).max_by_key(|phrase| phrase.words.len())
}

/// The table of words, and the hazards' own.
fn phrases() -> &'static [Phrase] {
    static PHRASES: OnceLock<Vec<Phrase>> = OnceLock::new();
    PHRASES.get_or_init(|| {
        let own = Hazard::ALL.iter().map(|hazard| (hazard.word(), vec![*hazard]));
        let others = WORDS.rows().iter().map(|row| (row.text("phrase"), of_words(row.text("hazards"))));
        let phrase = |(text, hazards): (&'static str, Vec<Hazard>)| Phrase {
            words: text.split([' ', '-']).collect(),
            hazards,
        };
        own.chain(others).map(phrase).collect()
    })
}

fn of_words(words: &str) -> Vec<Hazard> {
    let of_word = |word| Hazard::ALL.iter().copied().find(|hazard| hazard.word() == word);
    words.split(' ').filter_map(of_word).collect()
}
