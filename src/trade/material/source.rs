//! The keys by which the tables name their sources, written out for a reader who has no list of them.

/// Keys of `materials.csv` (M) and `friction_pv.csv` (P), as their heads explain them.
const KEYS: &[(&str, &str)] = &[
    ("M1", "machine-design textbook appendix"),
    ("M2", "material cards with EN and DIN minima"),
    ("M3", "list of typical ranges"),
    ("M4", "aerospace handbook"),
    ("M5", "data pages for UNS C93200"),
    ("P1", "help page after DIN 7190-1"),
    ("P2", "code table after DIN 7190-1"),
    ("P3", "university tribology page"),
    ("P4", "general friction table"),
    ("P5", "another general friction table"),
    ("P6", "machine-design textbook table 16-1"),
    ("P7", "bronze supplier's data page"),
    ("P8", "machine-elements textbook table 12.5"),
    ("P9", "tribology handbook page"),
];

/// A source of a table with every key replaced by what it stands for.
pub(super) fn written_out(source: &str) -> String {
    let is_in_word = |c: char| c.is_ascii_alphanumeric();
    source
        .split_inclusive(|c: char| !is_in_word(c))
        .map(|piece| {
            let word = piece.trim_end_matches(|c: char| !is_in_word(c));
            let meant = KEYS.iter().find(|(key, _)| *key == word).map_or(word, |(_, meant)| meant);
            format!("{meant}{}", &piece[word.len()..])
        })
        .collect()
}
