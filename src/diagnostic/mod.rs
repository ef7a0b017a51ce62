//! One problem type, the list of its codes, three renderers. The constructors stand with each stage, in `problems.rs`.
//!
//! Takes: facts from the stage that found them. Gives: a [`Problem`] with a stable code, a place, and what to do; text,
//! short and JSON forms of a list of them. Never: decides what is wrong.

pub mod codes;
mod plain;
mod show;

pub use codes::{Code, Severity};
pub use plain::{escaped_controls, without_commands};
pub use show::{Format, show};

use crate::text::Span;

/// Something wrong in the notes, or something a careful person would mend.
#[derive(Clone, Debug)]
pub struct Problem {
    pub code: &'static Code,
    /// What is wrong.
    pub message: String,
    /// Where; a problem of the project as a whole has no place.
    pub place: Option<Span>,
    /// Other places that belong to it, each with a word on why.
    pub also: Vec<(Span, String)>,
    /// What to do about it, a sentence.
    pub help: String,
    /// The id of the note it is about, for `allow` in dossier.yaml.
    pub about: Option<String>,
    pub keys: Keys,
}

/// What a problem has to do with the keys of its note.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keys {
    /// Nothing beyond its place.
    AtPlace,
    /// One of these is missing, or says something else than is meant: another error may be the reason.
    Misses(&'static [&'static str]),
    /// What stands at its place was probably meant for a key.
    Unknown,
}

impl Problem {
    pub(crate) fn new(
        code: &'static Code,
        place: impl Into<Option<Span>>,
        message: impl Into<String>,
    ) -> Self {
        Self {
            code,
            message: message.into(),
            place: place.into(),
            also: Vec::new(),
            help: String::new(),
            about: None,
            keys: Keys::AtPlace,
        }
    }

    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }

    pub(crate) fn also(mut self, place: Span, why: impl Into<String>) -> Self {
        self.also.push((place, why.into()));
        self
    }

    /// It tells of a key that is missing, or that says something else than is meant.
    pub(crate) fn missing(self, keys: &'static [&'static str]) -> Self {
        Self { keys: Keys::Misses(keys), ..self }
    }

    #[must_use]
    pub fn about(mut self, id: &str) -> Self {
        self.about = Some(id.to_owned());
        self
    }

    pub fn is_error(&self) -> bool {
        self.code.severity == Severity::Error
    }
}

/// Sorts by place and drops exact repeats.
pub fn in_order(mut problems: Vec<Problem>) -> Vec<Problem> {
    let key = |problem: &Problem| (problem.place, problem.code.word, problem.message.clone());
    problems.sort_by_key(key);
    problems.dedup_by_key(|problem| key(problem));
    problems
}

/// The known name that was probably meant: the nearest one, or one that the typed word is a part of.
pub fn nearest<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let known: Vec<&str> = known.into_iter().collect();
    let holds = || known.iter().copied().filter(|name| typed.len() > 3 && name.contains(typed)).min();
    crate::calc::suggest::nearest(typed, known.iter().copied()).or_else(holds)
}

/// The words of a choice, each in backquotes: "`a`, `b` or `c`".
pub fn choice<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let mut words: Vec<String> = words.into_iter().map(|word| format!("`{word}`")).collect();
    match words.pop() {
        None => String::new(),
        Some(last) if words.is_empty() => last,
        Some(last) => format!("{} or {last}", words.join(", ")),
    }
}
