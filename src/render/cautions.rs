//! The usual cautions: where the work can hurt someone, and whom to ask. They defer to local codes and licensed practice.

use std::collections::BTreeSet;

use serde::Serialize;

use super::prose::{capital, ended};
use crate::Project;
use crate::dossier::{NoteId, StepId};
use crate::hazard::Hazard;
use crate::note::body::BlockShape;
use crate::record::StepState;
use crate::text::Span;

/// A hazard of a step, or a caution of the reading chapter.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Warning {
    pub(super) topic: String,
    /// Empty in a dossier's step: it points at the chapter that says it.
    pub(super) says: String,
    /// `None` for a sentence of the note.
    #[serde(skip)]
    pub(super) hazard: Option<Hazard>,
}

/// "hot work", "load-carrying weld".
pub(super) fn topic(hazard: Hazard) -> String {
    hazard.word().replace('-', " ").replace("load carrying", "load-carrying")
}

fn in_own_words(topic: &str, sentence: &str) -> Warning {
    Warning { topic: topic.to_owned(), says: ended(&capital(sentence.trim())), hazard: None }
}

/// The hazards of the workshop functions that these calculations use.
fn of_working(project: &Project, blocks: impl Iterator<Item = Span>) -> BTreeSet<Hazard> {
    let worked = blocks.filter_map(|block| project.worked.block(block));
    let functions = worked.flat_map(|block| &block.lines).flat_map(|line| &line.functions);
    functions.filter_map(|function| function.hazard).collect()
}

/// Every hazard of a step: those that its note names, those of what it has in hand, and those of these calculations.
fn of_step_and(project: &Project, step: StepId, blocks: impl Iterator<Item = Span>) -> BTreeSet<Hazard> {
    let named = project.dossier[step].named_hazards();
    let in_hand = project.plan.in_hand(step).keys().copied();
    named.into_iter().chain(in_hand).chain(of_working(project, blocks)).collect()
}

/// The hazards of a step by its note, its parts and its own calculations, in the order in which they are printed.
pub(super) fn hazards(project: &Project, step: StepId) -> BTreeSet<Hazard> {
    let blocks = project.dossier.head(NoteId::Step(step)).body.iter();
    let sums = blocks.filter(|block| matches!(block.shape, BlockShape::Code(_))).map(|block| block.span);
    of_step_and(project, step, sums)
}

/// The hazards of a step as the dossier prints them: a usual one only by its topic.
pub(super) fn of_step(project: &Project, step: StepId) -> Vec<Warning> {
    let usual = hazards(project, step).into_iter().map(|hazard| Warning {
        topic: topic(hazard),
        says: String::new(),
        hazard: Some(hazard),
    });
    let own = project.dossier[step].hazards.iter().filter_map(|item| item.sentence.as_deref());
    usual.chain(own.map(|sentence| in_own_words("at this step", sentence))).collect()
}

/// The hazards of a step and of the calculations that go with it, each with what is to be done in full; then the sentences
/// of its note that may be said.
pub(super) fn in_full(
    project: &Project,
    step: StepId,
    blocks: impl Iterator<Item = Span>,
    may_be_said: impl Fn(&String) -> Option<String>,
) -> Vec<Warning> {
    let usual = of_step_and(project, step, blocks).into_iter().map(usual);
    let own = project.dossier[step].hazards.iter().filter_map(|item| may_be_said(item.sentence.as_ref()?));
    usual.chain(own.map(|sentence| in_own_words("at this job", &sentence))).collect()
}

fn usual(hazard: Hazard) -> Warning {
    Warning { topic: topic(hazard), says: hazard.caution().to_owned(), hazard: Some(hazard) }
}

/// The cautions that the notes of this machine call for, in a fixed order.
pub(super) fn of_machine(project: &Project) -> Vec<Warning> {
    let dossier = &project.dossier;
    let steps = dossier.steps.iter().filter(|step| step.state != StepState::Dropped);
    let functions = project.worked.evaluation.used.iter().filter_map(|function| function.hazard);
    let in_hand = project.plan.in_hand.iter().flat_map(|held| held.keys().copied());
    let all: BTreeSet<Hazard> =
        steps.flat_map(|step| step.named_hazards()).chain(functions).chain(in_hand).collect();
    all.into_iter().map(usual).collect()
}
