//! What the keeper does next: all that can be done now, what stands at a point of no return, what the end waits for, and
//! what has to be ordered.

use std::collections::BTreeMap;

use jiff::civil::Date;
use serde::Serialize;

use super::cautions::{self, Warning};
use super::edition::Edition;
use super::log::hours;
use super::prose::{day, said};
use super::sequence::{date_of, work_order};
use super::shapes::Mention;
use crate::calc::print::counted;
use crate::dossier::{Lack, NoteId, PartId, ShopId, StepId, lacks};
use crate::plan::left::begun;
use crate::plan::readiness::{Obstacle, State};
use crate::plan::report;
use crate::record::Supply;

#[derive(Serialize)]
pub(super) struct Next {
    places: Vec<PlaceShape>,
    one_way: Vec<OneWay>,
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
    /// It can't wait a day: the end waits for it, or its own day does.
    critical: bool,
    /// The end waits for it.
    moves_end: bool,
    /// The day that it is to be finished by.
    due: Option<String>,
    hazards: Vec<String>,
}

/// A step that can't be undone, with the records that it asks for.
#[derive(Serialize)]
pub(super) struct OneWay {
    step: Mention,
    /// Parts that have no record as found yet.
    to_record: Vec<Mention>,
    /// Those that have one.
    recorded: Vec<Mention>,
    /// What else keeps it back; empty if nothing does, or where it stands with what has no shop.
    why: String,
}

/// A step that has to be finished by a day.
#[derive(Serialize)]
pub(super) struct Due {
    step: Mention,
    by: String,
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
    ordered_on: Option<String>,
    from: Option<String>,
    lead: Option<String>,
}

pub(super) fn chapter(edition: &Edition) -> Next {
    let timetable = &edition.outlook.timetable;
    let orders = report::Next::of(edition.dossier(), &edition.project.plan).orders;
    Next {
        places: places(edition),
        one_way: one_way(edition),
        unplaced: kept(edition, State::Unplaced).collect(),
        path: timetable.moving_the_end().map(|node| path_line(edition, node)).collect(),
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

/// The hazards of a step by their topics; its own sentences stand in its record.
fn to_mind(edition: &Edition, step: StepId) -> Vec<String> {
    let (usual, own): (Vec<Warning>, Vec<Warning>) =
        cautions::of_step(edition.project, step).into_iter().partition(|warning| warning.hazard.is_some());
    let own = (!own.is_empty()).then(|| "its own caution".to_owned());
    usual.into_iter().map(|warning| warning.topic).chain(own).collect()
}

pub(super) fn job(edition: &Edition, step: StepId) -> Job {
    let slack = slack(edition).get(&step).copied();
    Job {
        step: edition.names.mention(step.into()),
        takes: edition.dossier()[step].takes.as_ref().map(|takes| hours(takes.likely)),
        float: slack.map(|days| counted(days, "day")),
        critical: slack.is_some_and(|days| days < 1.0),
        moves_end: moves_the_end(edition, step),
        due: due_day(edition, step).map(|last| day(last).says),
        hazards: to_mind(edition, step),
    }
}

fn moves_the_end(edition: &Edition, step: StepId) -> bool {
    let timetable = &edition.outlook.timetable;
    let node = timetable.notes.iter().position(|note| *note == NoteId::Step(step));
    node.is_some_and(|node| timetable.forecast.slots[node].moves_the_end())
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

/// The last day of an open step.
fn due_day(edition: &Edition, step: StepId) -> Option<Date> {
    edition.project.plan.window(step).last.map(|last| last.day.date)
}

/// The open steps that have to be finished by a day, the first day first.
pub(super) fn due(edition: &Edition) -> Vec<Due> {
    let mut due: Vec<(Date, StepId)> =
        edition.dossier().steps.ids().filter_map(|step| Some((due_day(edition, step)?, step))).collect();
    due.sort();
    due.into_iter()
        .map(|(last, step)| Due { step: edition.names.mention(step.into()), by: day(last).says })
        .collect()
}

/// Every open step that can't be undone, in the order of the work.
pub(super) fn one_way(edition: &Edition) -> Vec<OneWay> {
    let dossier = edition.dossier();
    let is_one_way =
        |step: &StepId| dossier[*step].irreversible && edition.project.plan.standing(*step).state.is_open();
    let order = work_order(dossier, &edition.outlook.timetable);
    order.into_iter().filter(is_one_way).map(|step| point_of_no_return(edition, step)).collect()
}

fn point_of_no_return(edition: &Edition, step: StepId) -> OneWay {
    let dossier = edition.dossier();
    let lacking = lacks(dossier, &dossier[step]);
    let (to_record, recorded): (Vec<PartId>, Vec<PartId>) =
        dossier[step].parts.iter().partition(|part| lacking.contains(&Lack::Record(**part)));
    let standing = edition.project.plan.standing(step);
    let is_listed_below = standing.state == State::Unplaced;
    let others =
        standing.causes.iter().filter(|cause| !is_listed_below && cause.obstacle != Obstacle::Record);
    OneWay {
        step: edition.names.mention(step.into()),
        to_record: edition.names.mentions(to_record),
        recorded: edition.names.mentions(recorded),
        why: others.map(|cause| edition.names.because(cause)).collect::<Vec<_>>().join("; "),
    }
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
    let begun = begun(edition.dossier(), timetable.notes[node]);
    let date = |days: f64| {
        let date = date_of(edition.project, days);
        if timetable.conditional[node] { format!("({date})") } else { date }
    };
    PathLine {
        what: edition.names.mention(timetable.notes[node]),
        delivery: matches!(timetable.notes[node], NoteId::Part(_)),
        start: begun.map_or_else(|| date(slot.start), |begun| day(begun).says),
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
        ordered_on: said(dossier[id].ordered_on),
        from: dossier[id].from.clone(),
        lead: order.left_days.map(|days| format!("likely {}", counted(days.ceil(), "day"))),
    })
}
