//! What a careful person checks when the notes lie side by side.

use std::collections::{BTreeMap, BTreeSet};

use super::{Dossier, NoteId, Noted, PartId, Resolved, readings};
use crate::diagnostic::Problem;
use crate::dossier::problems as problem;
use crate::hazard::Hazard;
use crate::record::{
    Dated, Disposition, Hands, HazardItem, Head, Measurement, MeasurementState, Part, QuestionState, Step,
    StepState,
};
use crate::text::Span;
use crate::trade::hazard;

/// What a step that can't be undone still lacks before it may be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lack {
    /// This part has neither a finding with a photo nor a measurement as found.
    Record(PartId),
    /// `if_wrong` is empty.
    Recovery,
}

pub(super) fn check(dossier: &Dossier, problems: &mut Vec<Problem>) {
    parts(dossier, problems);
    measurements(dossier, problems);
    questions(dossier, problems);
    steps(dossier, problems);
    shops(dossier, problems);
    papers(dossier, problems);
    super::words::check(dossier, problems);
    if let Some(place) = bare_ton(dossier).filter(|_| dossier.about.settings.ton_assumed) {
        problems.push(problem::ton_assumed(place));
    }
}

/// Where a ton stands that may be short, long or metric.
fn bare_ton(dossier: &Dossier) -> Option<Span> {
    let is_bare = |literal: &crate::calc::literal::Literal| literal.unit.bare_ton().is_some();
    let weighed = |part: &&Noted<Part<Resolved>>| part.mass.as_ref().is_some_and(is_bare);
    let wanted = dossier.steps.iter().flat_map(|step| &step.calls_for);
    let had = dossier.shops.iter().flat_map(|shop| &shop.has);
    let part = dossier.parts.iter().find(weighed).map(|part| part.head.span);
    part.or_else(|| wanted.chain(had).find(|want| is_bare(&want.amount)).map(|want| want.place.span))
}

fn parts(dossier: &Dossier, problems: &mut Vec<Problem>) {
    for part in &dossier.parts {
        let assembly = dossier.find(part.id()).is_some_and(|note| match note {
            NoteId::Part(id) => !dossier.children(id).is_empty(),
            _ => false,
        });
        match part.disposition {
            Disposition::Undecided if !assembly => problems.push(problem::disposition_open(&part.head)),
            Disposition::Buy if part.cost.is_none() => problems.push(problem::cost_missing(&part.head)),
            _ => {}
        }
    }
}

fn measurements(dossier: &Dossier, problems: &mut Vec<Problem>) {
    for measurement in &dossier.measurements {
        problems.extend(readings::odd(dossier, measurement));
        if measurement.instrument.is_none() {
            problems.push(problem::instrument_missing(&measurement.head));
        }
    }
    near_features(dossier, problems);
}

/// Features of one part that differ in capitals or spaces alone: hardly two features.
fn near_features(dossier: &Dossier, problems: &mut Vec<Problem>) {
    let mut known: BTreeMap<(PartId, String), &Noted<Measurement<Resolved>>> = BTreeMap::new();
    for measurement in &dossier.measurements {
        let words = measurement.feature.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ");
        let first = known.entry((measurement.of, words)).or_insert(measurement);
        if first.feature != measurement.feature {
            let other = (first.feature_span, first.feature.as_str());
            problems.push(problem::feature_near(
                &measurement.head,
                measurement.feature_span,
                &measurement.feature,
                other,
            ));
        }
    }
}

fn questions(dossier: &Dossier, problems: &mut Vec<Problem>) {
    let settled =
        |question: &&Noted<crate::record::Question<Resolved>>| question.state == QuestionState::Settled;
    for question in dossier.questions.iter().filter(settled).filter(|question| question.answer.is_none()) {
        problems.push(problem::answer_missing(&question.head));
    }
}

fn steps(dossier: &Dossier, problems: &mut Vec<Problem>) {
    for step in &dossier.steps {
        problems.extend(step.hazards.iter().filter_map(|item| unknown_hazard(&step.head, item)));
        if step.state != StepState::Done {
            let (day, person) = (step.done_on.map(|day| day.span), step.done_by.as_ref().map(|by| by.span));
            problems.extend(day.map(|at| {
                problem::done_unsaid(&step.head, at, "the day that it was done on", step.state.word())
            }));
            problems.extend(
                person.map(|at| {
                    problem::done_unsaid(&step.head, at, "a name of who did it", step.state.word())
                }),
            );
        }
        if step.state == StepState::Todo {
            problems.extend(step.begun_on.map(|day| problem::begun_unsaid(&step.head, day.span)));
        }
        problems.extend(step.done_on.into_iter().flat_map(|day| mended_too_early(dossier, step, day)));
        if step.state == StepState::Done {
            done_too_early(dossier, step, problems);
        } else if step.state != StepState::Dropped {
            for lack in lacks(dossier, step) {
                problems.push(match lack {
                    Lack::Recovery => problem::one_way_no_recovery(&step.head),
                    Lack::Record(part) => problem::one_way_no_record(&step.head, dossier[part].id()),
                });
            }
        }
    }
}

/// A single word, or what is nearly the name of a hazard, is meant as a name; a sentence is the keeper's own.
fn unknown_hazard(step: &Head, item: &HazardItem) -> Option<Problem> {
    let typed = item.sentence.as_deref().filter(|_| item.named.is_empty())?;
    let near = hazard::nearest(typed);
    if near.is_none() && typed.contains(char::is_whitespace) {
        return None;
    }
    let known: Vec<&str> = Hazard::ALL.iter().map(|hazard| hazard.word()).collect();
    Some(problem::hazard_unknown(step, item.span, typed, near, &known))
}

/// A finding that was seen after the work that mends it.
fn mended_too_early(dossier: &Dossier, step: &Noted<Step<Resolved>>, done: Dated) -> Vec<Problem> {
    let seen = step
        .mends
        .iter()
        .map(|finding| &dossier[*finding])
        .filter_map(|finding| Some((finding, finding.seen?)));
    let later = seen.filter(|(_, seen)| seen.date > done.date);
    later.map(|(finding, seen)| problem::mended_too_early(&step.head, done, finding.id(), seen)).collect()
}

fn done_too_early(dossier: &Dossier, step: &Noted<Step<Resolved>>, problems: &mut Vec<Problem>) {
    for need in step.needs.iter().map(|need| &dossier[*need]) {
        if !matches!(need.state, StepState::Done | StepState::Dropped) {
            let why = step.head.at_id("needs", need.id());
            problems.push(problem::done_too_early(&step.head, &need.head, need.state.word(), why));
        }
    }
    for question in step.hangs_on.iter().map(|question| &dossier[*question]) {
        if question.state == QuestionState::Open {
            let why = step.head.at_id("hangs_on", question.id());
            problems.push(problem::done_too_early(&step.head, &question.head, question.state.word(), why));
        }
    }
}

/// What an irreversible step still lacks; nothing for any other.
pub fn lacks(dossier: &Dossier, step: &Step<Resolved>) -> Vec<Lack> {
    if !step.irreversible {
        return Vec::new();
    }
    let records =
        step.parts.iter().filter(|part| !dossier.recorded.contains(part)).map(|part| Lack::Record(*part));
    let recovery =
        step.if_wrong.as_deref().is_none_or(|text| text.trim().is_empty()).then_some(Lack::Recovery);
    records.chain(recovery).collect()
}

/// The parts that have a record as found: a finding with a photo, or a measurement.
pub(super) fn recorded(dossier: &Dossier) -> BTreeSet<PartId> {
    let pictured = dossier.findings.iter().filter(|finding| !finding.photos.is_empty());
    let measured = dossier.measurements.iter().filter(|measured| measured.state == MeasurementState::AsFound);
    let pictured = pictured.flat_map(|finding| finding.about.iter().copied());
    pictured.chain(measured.map(|measured| measured.of)).collect()
}

/// Where the keeper goes himself, only the keeper's own hours count.
fn shops(dossier: &Dossier, problems: &mut Vec<Problem>) {
    for shop in dossier.shops.ids().filter(|shop| dossier.home != Some(*shop)) {
        let shop = &dossier[shop];
        if let Some(pace) = shop.hours_per_week.filter(|_| shop.hands == Hands::Keeper) {
            problems.push(problem::hours_unused(&shop.head, pace.span));
        }
    }
}

fn papers(dossier: &Dossier, problems: &mut Vec<Problem>) {
    let Some(day_zero) = dossier.day_zero() else { return };
    for paper in &dossier.papers {
        if let Some(until) = paper.valid_until.filter(|until| until.date < day_zero) {
            problems.push(problem::paper_expired(&paper.head, until, day_zero));
        }
    }
}
