//! How far a note was when it was reported.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::plan::readiness::State;
use crate::record::{Disposition, QuestionState, Supply, Word};

/// How far a note was; kept as words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub enum Told {
    /// A step.
    Step(State),
    /// A question.
    Question(QuestionState),
    /// A part: what is to become of it, and of one that is bought how far that has come.
    Part(Disposition, Option<Supply>),
}

impl Told {
    /// Whether the step is done.
    pub fn is_done(self) -> bool {
        self == Self::Step(State::Done)
    }

    /// Whether the question is settled.
    pub fn is_settled(self) -> bool {
        self == Self::Question(QuestionState::Settled)
    }

    /// Whether the step can be done.
    pub fn is_ready(self) -> bool {
        self == Self::Step(State::Ready)
    }
}

impl fmt::Display for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Step(state) => f.write_str(state.word()),
            Self::Question(state) => f.write_str(state.word()),
            Self::Part(disposition, None) => f.write_str(disposition.word()),
            Self::Part(disposition, Some(supply)) => write!(f, "{}, {}", disposition.word(), supply.word()),
        }
    }
}

impl From<Told> for String {
    fn from(told: Told) -> Self {
        told.to_string()
    }
}

/// From the words in which it is kept.
impl TryFrom<String> for Told {
    type Error = String;

    fn try_from(words: String) -> Result<Self, Self::Error> {
        let part = || match words.split_once(", ") {
            Some((disposition, supply)) => {
                Some(Self::Part(Disposition::of_word(disposition)?, Some(Supply::of_word(supply)?)))
            }
            None => Some(Self::Part(Disposition::of_word(&words)?, None)),
        };
        let step = State::of_word(&words).map(Self::Step);
        let known = step.or_else(|| QuestionState::of_word(&words).map(Self::Question)).or_else(part);
        known.ok_or_else(|| format!("`{words}` is no state of a note"))
    }
}

#[cfg(test)]
mod tests {
    use super::{Disposition, QuestionState, State, Supply, Told, Word};

    #[test]
    fn every_state_is_read_back_from_its_words() {
        let steps = State::WORDS.iter().map(|(_, state)| Told::Step(*state));
        let questions = QuestionState::WORDS.iter().map(|(_, state)| Told::Question(*state));
        let parts = Disposition::WORDS.iter().map(|(_, each)| Told::Part(*each, None));
        let bought = Supply::WORDS.iter().map(|(_, each)| Told::Part(Disposition::Buy, Some(*each)));
        for told in steps.chain(questions).chain(parts).chain(bought) {
            assert_eq!(Told::try_from(told.to_string()), Ok(told));
        }
        assert!(Told::try_from("nearly".to_owned()).is_err());
    }
}
