//! What is not known yet, and the theories.

use super::AsTyped;
use super::declare::record;
use super::fields::Word;
use super::form::{items, links, text, word};
use super::links::{TypedAny, without_links};

record! {
    /// What is not known yet.
    pub struct Question<L> of "a question" {
        /// The question, as a sentence.
        asks: String = text().needed("write the question as a sentence");
        /// The notes it is about.
        about: Vec<L::Any> = links::<TypedAny>();
        /// Whether it is settled; left out, it is open.
        state: QuestionState = word().or(QuestionState::Open);
        /// The possible answers.
        theories: Vec<Theory<L>> = items::<Theory<AsTyped>>();
        /// What came out.
        answer: Option<String> = text();
        /// The notes that settled it.
        settled_by: Vec<L::Any> = links::<TypedAny>();
    }
}

record! {
    /// A possible answer, with the evidence on each side.
    pub struct Theory<L> of "a theory" {
        /// What it holds to be true.
        claim: String = text().needed("say what it holds to be true");
        /// The notes that speak for it.
        supports ("for"): Vec<L::Any> = links::<TypedAny>();
        /// The notes that speak against it.
        against: Vec<L::Any> = links::<TypedAny>();
    }
}

without_links!(QuestionState);

/// Whether a question is settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum QuestionState {
    Open,
    Settled,
}

impl Word for QuestionState {
    const WORDS: &'static [(&'static str, Self)] = &[("open", Self::Open), ("settled", Self::Settled)];
}

impl QuestionState {
    /// The word as a person types it.
    pub fn word(self) -> &'static str {
        super::fields::word_of(self)
    }
}
