//! The subjects that the index looks for in the titles of notes: words of the workshop, nothing but these.

/// A subject with the words that stand for it.
type Subject = (&'static str, &'static [&'static str]);

/// Kinds of parts: what is done to one stands under the part.
const THINGS: &[&str] =
    &["bearing", "bolt", "brake", "bush", "chain", "gear", "key", "pin", "rope", "shaft", "spring", "thread"];

/// What is looked for in the text of a note too.
const IN_TEXT: &[&str] = &["crack", "leak", "seized", "weld"];

const SUBJECTS: &[Subject] = &[
    ("asbestos", &["asbestos"]),
    ("bearing", &["bearing", "bearings"]),
    ("bolt", &["bolt", "bolts", "stud", "studs"]),
    ("brake", &["brake", "brakes"]),
    ("bush", &["bush", "bushes"]),
    ("chain", &["chain", "chains"]),
    ("corrosion", &["corroded", "corrosion", "rust", "rusted", "rusty", "pitted"]),
    ("crack", &["crack", "cracks", "cracked", "fractured"]),
    ("gear", &["gear", "gears", "tooth", "teeth"]),
    ("key", &["key", "keys", "keyed", "keyway", "keyways"]),
    ("leak", &["leak", "leaks", "leaking", "leaked"]),
    ("paint", &["paint", "painted", "primer", "prime"]),
    ("pin", &["pin", "pins", "pinned"]),
    ("rope", &["rope", "ropes"]),
    ("seized", &["seized", "seizure", "stuck"]),
    ("shaft", &["shaft", "shafts", "spindle", "spindles"]),
    ("spring", &["spring", "springs"]),
    ("thread", &["thread", "threads", "threaded", "tap", "tapped"]),
    ("wear", &["wear", "worn", "scored", "undersize"]),
    ("weld", &["weld", "welds", "welded", "welding"]),
];

/// Whether a subject is a kind of part.
pub(super) fn is_thing(subject: &str) -> bool {
    THINGS.contains(&subject)
}

/// The subjects that a run of text names, of those that are looked for there.
pub(super) fn in_text(text: &str) -> impl Iterator<Item = &'static str> {
    of(text).filter(|subject| IN_TEXT.contains(subject))
}

/// The subjects that a title names.
pub(super) fn of(title: &str) -> impl Iterator<Item = &'static str> {
    let title = title.to_lowercase();
    let has = move |words: &[&str]| {
        title.split(|letter: char| !letter.is_alphanumeric()).any(|word| words.contains(&word))
    };
    SUBJECTS.iter().filter(move |(_, words)| has(words)).map(|(subject, _)| *subject)
}

/// A word without the ending of the plural.
pub(super) fn singular(word: &str) -> String {
    let stem = word.strip_suffix("es").filter(|stem| ["sh", "ch", "x"].iter().any(|end| stem.ends_with(end)));
    match stem.or_else(|| word.strip_suffix('s')) {
        Some(stem) if !stem.ends_with('s') && stem.chars().count() > 2 => stem.to_owned(),
        _ => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_subject_is_a_whole_word_of_the_title() {
        let subjects = |title| of(title).collect::<Vec<_>>();
        assert_eq!(subjects("Sound the drum shaft, looking for a crack"), ["crack", "shaft"]);
        assert_eq!(subjects("The monkey wrench, painted"), ["paint"]);
        assert_eq!(subjects("Handle"), Vec::<&str>::new());
    }

    #[test]
    fn plurals_are_one_with_their_singular() {
        let read =
            [("pins", "pin"), ("bushes", "bush"), ("boxes", "box"), ("brass", "brass"), ("gas", "gas")];
        for (word, one) in read {
            assert_eq!(singular(word), one);
        }
    }
}
