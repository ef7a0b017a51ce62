//! What the keeper does next: all that can be done now, what stands at a point of no return, what the end waits for, and
//! what has to be ordered.

use std::collections::BTreeMap;

use serde::Serialize;

use super::edition::Edition;
use super::log::hours;
use super::sequence::{date_of, work_order};
use super::shapes::Mention;
use crate::calc::print::counted;
use crate::dossier::{NoteId, ShopId, StepId};
use crate::plan::readiness::State;
use crate::plan::report;
use crate::record::Supply;

#[derive(Serialize)]
pub(super) struct Next {
    places: Vec<PlaceShape>,
    held: Vec<Kept>,
    unplaced: Vec<Kept>,
    path: Vec<PathLine>,
    orders: Vec<Order>,
    /// What the end is by the forecast; `None` while it is not known.
    end: Option<String>,
}

/// What can be done now, or is in hand, at one place.
#[derive(Serialize)]
struct PlaceShape {
    name: String,
    jobs: Vec<Job>,
}

#[derive(Serialize)]
pub(super) struct Job {
    step: Mention,
    takes: Option<String>,
    /// How long it may wait before the end moves; `None` where the forecast has no day for it.
    float: Option<String>,
    /// The end waits for it.
    critical: bool,
    hazards: Vec<String>,
}

/// A step with all that keeps it back.
#[derive(Serialize)]
pub(super) struct Kept {
    step: Mention,
    why: String,
}

#[derive(Serialize)]
struct PathLine {
    what: Mention,
    delivery: bool,
    start: String,
    finish: String,
}

#[derive(Serialize)]
struct Order {
    part: Mention,
    is_ordered: bool,
    from: Option<String>,
    lead: Option<String>,
}

pub(super) fn chapter(edition: &Edition) -> Next {
    let timetable = &edition.outlook.timetable;
    let orders = report::Next::of(edition.dossier(), &edition.project.plan).orders;
    Next {
        places: places(edition),
        held: kept(edition, State::Held).collect(),
        unplaced: kept(edition, State::Unplaced).collect(),
        path: timetable.critical_path().map(|node| path_line(edition, node)).collect(),
        orders: orders.iter().filter_map(|each| order(edition, each)).collect(),
        end: (timetable.end_is_known() && !timetable.work_list().is_empty())
            .then(|| date_of(edition.project, timetable.forecast.days.likely)),
    }
}

/// The steps in these states, those that the end can least wait for first; of equals, in the order of the work.
pub(super) fn most_urgent(edition: &Edition, states: &[State]) -> Vec<StepId> {
    let mut steps = work_order(edition.dossier(), &edition.outlook.timetable);
    steps.retain(|step| states.contains(&edition.project.plan.standing(*step).state));
    let slack = slack(edition);
    let of = |step: &StepId| slack.get(step).copied().unwrap_or(f64::INFINITY);
    steps.sort_by(|one, two| of(one).total_cmp(&of(two)));
    steps
}

/// The whole days that each open step may wait.
fn slack(edition: &Edition) -> BTreeMap<StepId, f64> {
    let timetable = &edition.outlook.timetable;
    let slots = timetable.notes.iter().zip(&timetable.forecast.slots);
    let of_step = |(note, slot): (&NoteId, &crate::plan::forecast::Slot)| match note {
        NoteId::Step(step) => Some((*step, slot.float.floor())),
        _ => None,
    };
    slots.filter_map(of_step).collect()
}

pub(super) fn job(edition: &Edition, step: StepId) -> Job {
    let slack = slack(edition).get(&step).copied();
    Job {
        step: edition.names.mention(step.into()),
        takes: edition.dossier()[step].takes.as_ref().map(|takes| hours(takes.likely)),
        float: slack.map(|days| counted(days, "day")),
        critical: slack.is_some_and(|days| days < 1.0),
        hazards: super::cautions::of_step(edition.project, step).into_iter().map(|it| it.topic).collect(),
    }
}

/// The place of a step that can be done.
pub(super) fn place_of(edition: &Edition, step: StepId) -> Option<String> {
    let place = edition.project.plan.placement(step).place;
    place.map(|shop| edition.dossier()[shop].name.clone())
}

/// Steps in hand and steps that can be done now, by place: the keeper's own first.
fn places(edition: &Edition) -> Vec<PlaceShape> {
    let dossier = edition.dossier();
    let mut by_place: BTreeMap<(bool, Option<ShopId>), Vec<Job>> = BTreeMap::new();
    for state in [State::Doing, State::Ready] {
        for step in most_urgent(edition, &[state]) {
            let place = edition.project.plan.placement(step).place;
            by_place.entry((place != dossier.home, place)).or_default().push(job(edition, step));
        }
    }
    let name = |place: Option<ShopId>| {
        place.map_or("The keeper's own place".to_owned(), |shop| dossier[shop].name.clone())
    };
    by_place.into_iter().map(|((_, place), jobs)| PlaceShape { name: name(place), jobs }).collect()
}

/// The steps in such a state, each with what keeps it back.
pub(super) fn kept(edition: &Edition, state: State) -> impl Iterator<Item = Kept> {
    let order = work_order(edition.dossier(), &edition.outlook.timetable);
    let plan = &edition.project.plan;
    order.into_iter().filter(move |step| plan.standing(*step).state == state).map(|step| {
        let whys: Vec<String> =
            plan.standing(step).causes.iter().map(|cause| edition.names.because(cause)).collect();
        Kept { step: edition.names.mention(step.into()), why: whys.join("; ") }
    })
}

fn path_line(edition: &Edition, node: usize) -> PathLine {
    let timetable = &edition.outlook.timetable;
    let slot = &timetable.forecast.slots[node];
    let date = |days: f64| {
        let date = date_of(edition.project, days);
        if timetable.conditional[node] { format!("({date})") } else { date }
    };
    PathLine {
        what: edition.names.mention(timetable.notes[node]),
        delivery: matches!(timetable.notes[node], NoteId::Part(_)),
        start: date(slot.start),
        finish: date(slot.finish),
    }
}

/// A part to buy that is not there yet.
fn order(edition: &Edition, order: &report::Order) -> Option<Order> {
    let dossier = edition.dossier();
    let NoteId::Part(id) = dossier.find(&order.id)? else { return None };
    Some(Order {
        part: edition.names.mention(id.into()),
        is_ordered: dossier[id].supply == Supply::Ordered,
        from: dossier[id].from.clone(),
        lead: order.left_days.map(|days| counted(days.ceil(), "day")),
    })
}
