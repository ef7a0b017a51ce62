//! What a careful person would mend in the sequence.

use std::collections::BTreeSet;

use super::Plan;
use super::graph::is_there;
use super::readiness::State;
use super::window::{Bound, day_after};
use crate::diagnostic::{Problem, dossier as problem};
use crate::dossier::{Dossier, NoteId, PartId, ShopId, StepId};
use crate::record::{Disposition, StepState};

/// Circles, traps that nothing frees, and steps meant for a shop that can't do them.
pub(super) fn problems(dossier: &Dossier, plan: &Plan) -> Vec<Problem> {
    let mut problems: Vec<Problem> = circles(dossier, plan).collect();
    problems.extend(traps(dossier, plan));
    problems.extend(misplaced(dossier, plan));
    problems.extend(late(dossier, plan));
    for step in StepId::all(dossier.steps.len()).filter(|step| dossier[*step].state == StepState::Done) {
        problems.extend(without_its_parts(dossier, step));
        problems.extend(out_of_turn(dossier, step));
    }
    problems
}

/// What a step that is done uses, though by its note it never came or nothing has made it.
fn without_its_parts(dossier: &Dossier, step: StepId) -> impl Iterator<Item = Problem> {
    let missing = dossier[step].uses.iter().copied().filter(|part| !is_there(&dossier[*part]));
    missing.filter_map(move |part| {
        let (head, id) = (&dossier[step].head, dossier[part].id());
        match dossier[part].disposition {
            Disposition::Buy => Some(problem::used_too_early(head, id, dossier[part].supply.word())),
            Disposition::Make => {
                let makes = |maker: StepId| dossier[maker].makes.contains(&part);
                still_open(dossier, makes).map(|maker| done_before(dossier, step, maker))
            }
            _ => None,
        }
    })
}

/// The steps that should have freed what a step that is done has taken off.
fn out_of_turn(dossier: &Dossier, step: StepId) -> impl Iterator<Item = Problem> {
    let removes = &dossier[step].removes;
    let traps = removes.iter().flat_map(|part| &dossier[*part].trapped_by);
    let others: BTreeSet<PartId> = traps.copied().filter(|trap| !removes.contains(trap)).collect();
    others.into_iter().filter_map(move |trap| {
        let frees = |other: StepId| dossier[other].removes.contains(&trap);
        still_open(dossier, frees).map(|other| done_before(dossier, step, other))
    })
}

/// The first open step of those that do something, if none of them is done.
fn still_open(dossier: &Dossier, does_it: impl Fn(StepId) -> bool) -> Option<StepId> {
    let all = || StepId::all(dossier.steps.len()).filter(|step| does_it(*step));
    let is_done = all().any(|step| dossier[step].state == StepState::Done);
    all().find(|step| !is_done && dossier[*step].state != StepState::Dropped)
}

fn done_before(dossier: &Dossier, step: StepId, other: StepId) -> Problem {
    problem::done_too_early(&dossier[step].head, dossier[other].id(), dossier[other].state.word())
}

fn circles(dossier: &Dossier, plan: &Plan) -> impl Iterator<Item = Problem> {
    plan.graph.network.circles().iter().filter_map(|circle| {
        let lines = plan.graph.network.circle_in_words(circle);
        let first = plan.graph.network.edges()[*circle.first()?].before;
        let ids: Vec<String> = lines.iter().chain(lines.first()).map(|(id, _)| format!("`{id}`")).collect();
        let reasons: Vec<String> = lines.into_iter().map(|(_, why)| why).collect();
        Some(problem::step_circle(dossier.head(plan.graph.notes[first]), &ids.join(" before "), &reasons))
    })
}

fn traps(dossier: &Dossier, plan: &Plan) -> impl Iterator<Item = Problem> {
    let pairs: BTreeSet<(PartId, PartId)> =
        plan.graph.loose_traps.iter().map(|loose| (loose.trapped, loose.trap)).collect();
    pairs.into_iter().map(|(trapped, trap)| {
        let head = &dossier[trapped].head;
        problem::trap_not_freed(head, &head.id, dossier[trap].id())
    })
}

/// Steps that miss their last day by the forecast; steps with a season where no day 0 tells how far off it is.
fn late(dossier: &Dossier, plan: &Plan) -> Vec<Problem> {
    let bounded = |step: &StepId| plan.window(*step).first.or(plan.window(*step).last);
    let bounded: Vec<(StepId, Bound)> =
        StepId::all(dossier.steps.len()).filter_map(|step| Some((step, bounded(&step)?))).collect();
    let Some(day_zero) = plan.day_zero else {
        let uncounted = bounded.iter();
        return uncounted
            .map(|(step, bound)| problem::no_day_zero(&dossier[*step].head, bound.day.span))
            .collect();
    };
    if !bounded.iter().any(|(step, _)| plan.window(*step).last.is_some()) {
        return Vec::new();
    }
    let timetable = plan.timetable();
    let missed = timetable.late().filter_map(|(step, finish)| {
        let last = plan.window(step).last?;
        let finish = day_after(day_zero, finish)?;
        let paper = (last.says != NoteId::Step(step)).then(|| dossier.head(last.says).id.as_str());
        Some(problem::last_day_missed(&dossier[step].head, last.day, paper, finish))
    });
    missed.collect()
}

fn misplaced(dossier: &Dossier, plan: &Plan) -> impl Iterator<Item = Problem> {
    StepId::all(dossier.steps.len()).filter_map(|step| {
        let (placement, at) = (plan.placement(step), dossier[step].at?);
        let is_open = plan.standing(step).state.is_open() && plan.standing(step).state != State::Doing;
        if !is_open || placement.can(at) {
            return None;
        }
        let lacks = placement.lacks(dossier, at);
        let others = ShopId::all(dossier.shops.len()).filter(|&shop| placement.can(shop));
        let others: Vec<&str> = others.map(|shop| dossier[shop].id()).collect();
        Some(problem::place_cannot(&dossier[step].head, dossier[at].id(), &lacks.join("; "), &others))
    })
}
