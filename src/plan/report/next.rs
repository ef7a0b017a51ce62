//! What can be done now, and what can't.

use std::collections::BTreeMap;

use serde::Serialize;

use super::id;
use crate::calc::rounding::to_a_millionth;
use crate::dossier::{Dossier, PartId, ShopId, StepId};
use crate::plan::Plan;
use crate::plan::graph::{days_to_come, in_units, to_come};
use crate::plan::left::{days_left, hours_left};
use crate::plan::readiness::{Cause, State};
use crate::plan::words::{by_id, misses};

/// What can be done now, and what can't.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Next {
    /// Steps that can be done now, by place, home first.
    pub ready: Vec<Job>,
    /// Steps under way.
    pub doing: Vec<Job>,
    /// Every other open step.
    pub held: Vec<HeldStep>,
    /// Those of `held` that no known shop can do.
    pub unplaced: Vec<Unplaced>,
    /// Parts to buy that are not there yet.
    pub orders: Vec<Order>,
}

/// A step that can be done or is under way.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Job {
    /// The step.
    pub id: String,
    /// The shop; `null` where no shop is home.
    pub at: Option<String>,
    /// Likely hands-on hours, if the note says.
    pub takes_h: Option<f64>,
    /// Of these, what is left by the log.
    pub left_h: Option<f64>,
    /// Likely days that then pass by themselves, as far as they are still to come.
    pub then_days: f64,
}

/// An open step that is not ready.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeldStep {
    /// The step.
    pub id: String,
    /// `waiting`, `held` (at a point of no return) or `unplaced`.
    pub state: &'static str,
    /// What directly keeps it back.
    pub causes: Vec<DirectCause>,
}

/// What directly keeps a step back.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DirectCause {
    /// `step`, `question`, `part`, `size`, `record`, `recovery`, `capability`, `day` or `paper`.
    pub kind: &'static str,
    /// The note to look at.
    pub id: String,
    /// Why, as a sentence.
    pub why: String,
}

/// A step that no known shop can do.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Unplaced {
    /// The step.
    pub id: String,
    /// Everything it requires.
    pub needs: String,
    /// What is missing and the best that is known; `null` if no shop has any of it.
    pub nearest: Option<String>,
}

/// A part to buy.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Order {
    /// The part.
    pub id: String,
    /// Likely delivery time from the day of ordering.
    pub lead_days: Option<f64>,
    /// Likely days until it is there: of a part on order, less what has passed since.
    pub left_days: Option<f64>,
    /// `needed` or `ordered`.
    pub supply: &'static str,
}

impl Next {
    /// What can be done now, and what can't.
    pub fn of(dossier: &Dossier, plan: &Plan) -> Self {
        let open = || dossier.steps.ids().filter(|&step| plan.standing(step).state.is_open());
        let is = |step: StepId| plan.standing(step).state;
        let held = || open().filter(move |&step| !matches!(is(step), State::Ready | State::Doing));
        Self {
            ready: jobs(dossier, plan, open().filter(|&step| is(step) == State::Ready)),
            doing: jobs(dossier, plan, open().filter(|&step| is(step) == State::Doing)),
            held: held().map(|step| held_step(dossier, plan, step)).collect(),
            unplaced: held()
                .filter(|&step| plan.placement(step).nobody_can())
                .map(|step| unplaced(dossier, plan, step))
                .collect(),
            orders: dossier.parts.ids().filter_map(|part| order(dossier, plan, part)).collect(),
        }
    }
}

fn jobs(dossier: &Dossier, plan: &Plan, steps: impl Iterator<Item = StepId>) -> Vec<Job> {
    let mut by_place: BTreeMap<(bool, Option<ShopId>), Vec<Job>> = BTreeMap::new();
    for step in steps {
        let place = plan.placement(step).place;
        let takes_h = dossier[step].takes.as_ref().map(|takes| to_a_millionth(takes.likely / 3_600.0));
        let left_h = hours_left(dossier, step).map(|left| to_a_millionth(left.likely));
        let at = place.map(|shop| dossier[shop].id().to_owned());
        let then_days = to_a_millionth(days_left(dossier, step, plan.day_zero).likely);
        let job = Job { id: dossier[step].id().to_owned(), at, takes_h, left_h, then_days };
        by_place.entry((place != dossier.home, place)).or_default().push(job);
    }
    by_place.into_values().flatten().collect()
}

fn held_step(dossier: &Dossier, plan: &Plan, step: StepId) -> HeldStep {
    let standing = plan.standing(step);
    HeldStep {
        id: dossier[step].id().to_owned(),
        state: standing.state.word(),
        causes: standing.causes.iter().map(|cause| direct(dossier, cause)).collect(),
    }
}

fn direct(dossier: &Dossier, cause: &Cause) -> DirectCause {
    DirectCause { kind: cause.obstacle.word(), id: id(dossier, cause.note), why: cause.sentence(dossier) }
}

fn unplaced(dossier: &Dossier, plan: &Plan, step: StepId) -> Unplaced {
    let placement = plan.placement(step);
    Unplaced {
        id: dossier[step].id().to_owned(),
        needs: placement.demand.in_words().join(", "),
        nearest: placement.verdict.nearest.as_ref().map(|_| misses(&placement.verdict, by_id(dossier))),
    }
}

fn order(dossier: &Dossier, plan: &Plan, id: PartId) -> Option<Order> {
    let part = &dossier[id];
    let lead = part.lead.as_ref().map(|lead| to_a_millionth(in_units(lead, 86_400.0).likely));
    let left = days_to_come(part, plan.day_zero).map(|left| to_a_millionth(left.likely));
    to_come(part).then(|| Order {
        id: part.id().to_owned(),
        lead_days: lead,
        left_days: left,
        supply: part.supply.word(),
    })
}
