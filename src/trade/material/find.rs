//! Finds the row of a table that a person means: by its exact name, by its words, by how a name begins.

/// Why a look-up has no single answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotFound {
    /// The words fit several rows.
    Ambiguous {
        /// What was asked for.
        given: String,
        /// The rows that it fits, in the order of the table.
        candidates: Vec<String>,
    },
    /// The words fit no row.
    Unknown {
        /// What was asked for.
        given: String,
        /// The rows with the likest names, likest first; at most three.
        nearest: Vec<String>,
    },
}

/// How a row may be called.
#[derive(Clone, Debug)]
pub(super) struct Names {
    /// What candidates are listed as; unique in its table.
    label: String,
    /// Whole names, run together.
    whole: Vec<String>,
    /// Every word by which the row may be found.
    words: Vec<String>,
}

/// The likeness of two names (Jaro-Winkler) below which one is not offered for the other.
const LIKE: f64 = 0.8;

/// Something longer than this is no misspelt name.
const LONGEST_NAME: usize = 100;

/// A beginning of a name shorter than this tells nothing.
const SHORTEST_BEGINNING: usize = 3;

impl Names {
    /// `names` are names in full; the words of `hints` may be added to tell it from others.
    pub(super) fn new(label: &str, names: &[&str], hints: &str) -> Self {
        let words = names.iter().copied().chain([label, hints]).flat_map(split).collect();
        let whole = names.iter().copied().chain([label]).map(run_together).collect();
        Self { label: label.to_owned(), whole, words }
    }

    /// Whether every word asked for is among the words of the row, as often as it is asked for.
    pub(super) fn has_words(&self, asked: &[String]) -> bool {
        let times = |words: &[String], word: &String| words.iter().filter(|each| *each == word).count();
        (1..=self.words.len()).contains(&asked.len())
            && asked.iter().all(|word| times(&self.words, word) >= times(asked, word))
    }

    fn likeness(&self, asked: &str) -> f64 {
        self.whole.iter().map(|name| strsim::jaro_winkler(name, asked)).fold(0.0, f64::max)
    }
}

/// The index of the one row that is meant.
pub(super) fn find(rows: &[Names], given: &str) -> Result<usize, NotFound> {
    let (whole, asked) = (run_together(given), split(given));
    let begins = |row: &Names| row.whole.iter().any(|name| name.starts_with(&whole));
    let rules: [&dyn Fn(&Names) -> bool; 3] =
        [&|row| row.whole.contains(&whole), &|row| row.has_words(&asked), &|row| {
            whole.len() >= SHORTEST_BEGINNING && begins(row)
        }];
    for rule in rules {
        let fitting: Vec<usize> = (0..rows.len()).filter(|index| rule(&rows[*index])).collect();
        match fitting.as_slice() {
            [] => {}
            [only] => return Ok(*only),
            several => return Err(ambiguous(rows, several, given)),
        }
    }
    Err(NotFound::Unknown { given: given.to_owned(), nearest: nearest(rows, &whole) })
}

fn ambiguous(rows: &[Names], several: &[usize], given: &str) -> NotFound {
    let candidates = several.iter().map(|index| rows[*index].label.clone()).collect();
    NotFound::Ambiguous { given: given.to_owned(), candidates }
}

fn nearest(rows: &[Names], whole: &str) -> Vec<String> {
    if whole.len() > LONGEST_NAME {
        return Vec::new();
    }
    let mut like: Vec<(f64, &Names)> = rows.iter().map(|row| (row.likeness(whole), row)).collect();
    like.retain(|(likeness, _)| *likeness >= LIKE);
    like.sort_by(|(a, _), (b, _)| b.total_cmp(a));
    like.into_iter().take(3).map(|(_, row)| row.label.clone()).collect()
}

/// The words of a name: letters and digits in lower case, British spelling, the trade's synonyms made one.
pub(super) fn split(name: &str) -> Vec<String> {
    let lower = name.to_lowercase();
    let words = lower.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    words.filter(|word| !JOINING.contains(word)).map(|word| canonical(word).to_owned()).collect()
}

fn run_together(name: &str) -> String {
    split(name).concat()
}

/// Words that only join others.
const JOINING: &[&str] = &["on", "in", "and", "with", "against", "for", "the", "of", "a"];

fn canonical(word: &str) -> &str {
    match word {
        "gray" => "grey",
        "aluminum" => "aluminium",
        "lubricated" | "greased" | "oil" | "lubed" | "wet" => "oiled",
        "degreased" | "clean" | "unlubricated" => "dry",
        "pressed" | "pressing" => "press",
        "shrunk" | "shrinking" => "shrink",
        _ => word,
    }
}
