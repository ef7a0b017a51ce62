//! What is not known yet, and the theories.

use super::fields::{Fields, Word};
use super::{AsTyped, Links};
use crate::note::yaml::Node;

/// What is not known yet.
#[derive(Clone, Debug)]
pub struct Question<L: Links> {
    pub asks: String,
    pub about: Vec<L::Any>,
    pub state: QuestionState,
    pub theories: Vec<Theory<L>>,
    pub answer: Option<String>,
    pub settled_by: Vec<L::Any>,
}

/// A possible answer, with the evidence on each side.
#[derive(Clone, Debug)]
pub struct Theory<L: Links> {
    pub claim: String,
    pub supports: Vec<L::Any>,
    pub against: Vec<L::Any>,
}

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

pub(super) const KEYS: &[&str] = &["asks", "about", "state", "theories", "answer", "settled_by"];

pub(super) fn read(fields: &mut Fields) -> Option<Question<AsTyped>> {
    Some(Question {
        about: fields.list("about"),
        state: fields.word("state").unwrap_or(QuestionState::Open),
        theories: fields.nodes("theories").into_iter().filter_map(|node| theory(fields, node)).collect(),
        answer: fields.text("answer"),
        settled_by: fields.list("settled_by"),
        asks: fields.required("asks", "write the question as a sentence")?,
    })
}

fn theory(fields: &mut Fields, node: &Node) -> Option<Theory<AsTyped>> {
    let mut theory = Fields::of(node, "a theory", &["claim", "for", "against"], &mut *fields.reader)?;
    Some(Theory {
        supports: theory.list("for"),
        against: theory.list("against"),
        claim: theory.required("claim", "say what it holds to be true")?,
    })
}
