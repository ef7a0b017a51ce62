//! What is not known yet.

use serde::Serialize;

use super::edition::Edition;
use super::prose::ended;
use super::shapes::{Mention, RecordShape};
use crate::dossier::{NoteId, QuestionId};
use crate::record::QuestionState;

#[derive(Serialize)]
pub(super) struct Questions {
    questions: Vec<QuestionShape>,
}

#[derive(Serialize)]
struct QuestionShape {
    #[serde(flatten)]
    record: RecordShape,
    asks: String,
    state: &'static str,
    about: Vec<Mention>,
    answer: Option<String>,
    /// What has answered it, or is to.
    settled_by: Vec<Mention>,
    theories: Vec<TheoryShape>,
    waits: Vec<Mention>,
}

#[derive(Serialize)]
struct TheoryShape {
    claim: String,
    #[serde(rename = "for")]
    supports: Vec<Mention>,
    against: Vec<Mention>,
}

/// The open ones first.
pub(super) fn chapter(edition: &Edition) -> Questions {
    let dossier = edition.dossier();
    let mut order: Vec<QuestionId> = dossier.questions.ids().collect();
    order.sort_by_key(|id| dossier[*id].state == QuestionState::Settled);
    Questions { questions: order.into_iter().map(|id| shape(edition, id)).collect() }
}

fn shape(edition: &Edition, id: QuestionId) -> QuestionShape {
    let dossier = edition.dossier();
    let keys = &dossier[id];
    let waits: Vec<NoteId> =
        dossier.steps.ids().filter(|step| dossier[*step].hangs_on.contains(&id)).map(NoteId::Step).collect();
    QuestionShape {
        record: RecordShape {
            named_in: edition.names.named_in(id.into(), &waits),
            ..RecordShape::of(edition, id.into())
        },
        asks: keys.asks.clone(),
        state: keys.state.word(),
        about: edition.names.mentions(keys.about.iter().copied()),
        answer: keys.answer.as_deref().map(ended),
        settled_by: edition.names.mentions(keys.settled_by.iter().copied()),
        theories: keys
            .theories
            .iter()
            .map(|theory| TheoryShape {
                claim: theory.claim.clone(),
                supports: edition.names.mentions(theory.supports.iter().copied()),
                against: edition.names.mentions(theory.against.iter().copied()),
            })
            .collect(),
        waits: edition.names.mentions(waits),
    }
}
