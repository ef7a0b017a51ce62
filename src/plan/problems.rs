//! What a careful person would mend in the sequence.

use std::collections::BTreeSet;

use super::Plan;
use super::readiness::State;
use crate::diagnostic::{Problem, dossier as problem};
use crate::dossier::{Dossier, PartId, ShopId, StepId};

/// Circles, traps that nothing frees, and steps meant for a shop that can't do them.
pub(super) fn problems(dossier: &Dossier, plan: &Plan) -> Vec<Problem> {
    let mut problems: Vec<Problem> = circles(dossier, plan).collect();
    problems.extend(traps(dossier, plan));
    problems.extend(misplaced(dossier, plan));
    problems
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
