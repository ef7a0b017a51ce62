//! The plan as figures and words for JSON: documented keys, the unit in the key.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Plan;
use super::forecast::Forecast;
use super::graph::{days_to_come, in_units, to_come};
use super::left::hours_left;
use super::loads::{Loads, Run, loads};
use super::network::Kind;
use super::readiness::{Cause, State};
use super::timetable::Timetable;
use super::travel::Itinerary;
use super::why::{Line, Why};
use super::window::Bound;
use super::words::{by_id, misses};
use crate::calc::rounding::to_a_millionth;
use crate::dossier::{Dossier, NoteId, PartId, ShopId, StepId};
use crate::estimate::Estimate;

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
    /// `step`, `question`, `part`, `record`, `recovery`, `capability`, `day` or `paper`.
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
    /// All that it calls for.
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

/// What stands between now and a step, part or question.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reasons {
    /// What was asked about.
    pub id: String,
    /// The direct causes, each with its own.
    pub causes: Vec<CauseTree>,
    /// The steps, questions and parts that something can be done about today.
    pub doable_now: Vec<String>,
}

/// A cause and its causes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CauseTree {
    /// As in [`DirectCause`].
    pub kind: &'static str,
    /// The note to look at.
    pub id: String,
    /// Why, as a sentence.
    pub why: String,
    /// The note that says so.
    pub from: String,
    /// Its own causes stand at its first mention.
    pub told_above: bool,
    /// Its own causes.
    pub causes: Vec<CauseTree>,
}

/// Early and late times, critical path and forecast of what is still to be done.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Schedule {
    /// Day 0 as a date, if the notes give one.
    pub day_zero: Option<String>,
    /// Open steps and parts still to come, by early start.
    pub steps: Vec<TimedStep>,
    /// One longest chain, from start to end, without any limit of hands.
    pub critical_path: Vec<String>,
    /// The end; each of these is `null` while a step has no shop.
    #[serde(flatten)]
    pub end: End,
    /// The open steps that no known shop can do.
    pub without_shop: Vec<String>,
    /// The end if shops are found for these; `null` if there are none.
    pub if_shops_found: Option<End>,
    /// What the figures mean.
    pub method: &'static str,
}

/// The end of the work, in days from day 0; without a figure where it is not known.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct End {
    /// With limited hands: all times low, likely, high.
    pub forecast_days: Option<Estimate>,
    /// With limited hands and every time drawn at random.
    pub simulated_days: Option<Simulated>,
    /// Without limits of hands by three-point moments.
    pub three_point_days: Option<ThreePoint>,
}

/// The times of one step or order, in days from day 0.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TimedStep {
    /// The step, or the part on order.
    pub id: String,
    /// `step` or `order`.
    pub kind: &'static str,
    /// The earliest start, without any limit of hands.
    pub early_start_day: f64,
    /// The earliest finish, waiting included.
    pub early_finish_day: f64,
    /// The latest start that moves neither the end nor anything past a last day.
    pub late_start_day: f64,
    /// The latest finish that moves neither.
    pub late_finish_day: f64,
    /// How long it may slip without moving either, without any limit of hands.
    pub float_days: f64,
    /// How long it may slip without moving anything.
    pub free_float_days: f64,
    /// It has no float.
    pub critical: bool,
    /// Its days hold only if shops are found for the steps without one.
    pub if_shops_found: bool,
    /// Its first day, by its note or a paper that it is done under.
    pub not_before: Option<String>,
    /// Its last day, by its note or a paper that it is done under.
    pub not_after: Option<String>,
    /// It is finished by its last day.
    pub in_time: bool,
    /// The start by the forecast with limited hands.
    pub forecast_start_day: f64,
    /// The finish by the forecast, waiting included.
    pub forecast_finish_day: f64,
    /// How long it may slip without moving the end of the forecast: the float that is printed.
    pub forecast_float_days: f64,
}

/// Percentiles of the simulated end.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Simulated {
    /// How often the work was played through.
    pub runs: usize,
    /// One in ten ends earlier.
    pub p10: f64,
    /// Half end earlier.
    pub p50: f64,
    /// Nine in ten end earlier.
    pub p90: f64,
    /// The average.
    pub mean: f64,
}

/// Three-point moments of the longest path.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ThreePoint {
    /// The expected end.
    pub mean: f64,
    /// The standard deviation.
    pub sigma: f64,
}

/// How the forecast is made, in a sentence or two for the reader.
pub const METHOD: &str = "One pair of hands at each place, and for each step without a shop; hands-on hours spread evenly over the week; the order of \
    work is found with likely times and kept; forecast_start_day, forecast_finish_day and forecast_float_days are those \
    of that order. early_*, late_*, float_days and critical_path take no account of hands. What is in hand goes first, less \
    the hours in the log. What waits for a shop that is not found yet is fitted in around the rest and moves nothing of it. \
    A first day is kept to, and a last day where it can be. forecast_days: that order with all times low, likely, high. \
    simulated_days: the same order with every time drawn at random between low and high, most often near likely. \
    three_point_days: mean and deviation of the longest path without any limit of hands, which is optimistic.";

/// A stay at one shop.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct TripLine {
    /// The shop; `null` where no shop is home, or none is known that can.
    pub shop: Option<String>,
    /// No known shop can do what is to be done there.
    pub unplaced: bool,
    /// What is done there, in order.
    pub steps: Vec<String>,
    /// Those of them that the shop comes for.
    pub in_place: Vec<String>,
    /// The parts that have to be there.
    pub parts: Vec<String>,
    /// Those of them that are still on the machine, where it stands.
    pub there_already: Vec<String>,
    /// The mass together of the others, as far as it is known.
    pub mass_kg: Option<f64>,
    /// Those of the others whose mass is unknown.
    pub unweighed: Vec<String>,
    /// The largest envelope among them, length x width x height.
    pub largest_m: Option<[f64; 3]>,
    /// The runs of the keeper's own transport; `null` if it is not known or nothing is carried there.
    pub runs: Option<Vec<RunLine>>,
    /// The parts that no run can take.
    pub no_run: Vec<NoRun>,
    /// The parts in the runs whose size is not known: they were held against the payload alone.
    pub of_unknown_size: Vec<String>,
}

/// One run of the keeper's own transport.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RunLine {
    /// What goes in it.
    pub parts: Vec<Carried>,
    /// The most that it weighs together.
    pub mass_kg: f64,
}

/// Pieces of a part in a run.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Carried {
    /// The part.
    pub id: String,
    /// How many pieces of it.
    pub pieces: u32,
}

/// A part that no run can take.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NoRun {
    /// The part.
    pub id: String,
    /// Why, in words.
    pub why: &'static str,
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
        let job = Job { id: dossier[step].id().to_owned(), at, takes_h, left_h };
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

fn id(dossier: &Dossier, note: NoteId) -> String {
    dossier.head(note).id.clone()
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

/// Causes deeper than this stand beside each other instead of below each other.
const DEEPEST: usize = 60;

impl Reasons {
    /// The tree of causes.
    pub fn of(dossier: &Dossier, why: &Why) -> Self {
        let mut lines = why.lines.iter().peekable();
        let doable =
            why.doable.iter().filter(|doable| !doable.in_the_notes).map(|doable| id(dossier, doable.note));
        let mut doable_now: Vec<String> = doable.collect();
        let mut once = std::collections::BTreeSet::new();
        doable_now.retain(|id| once.insert(id.clone()));
        Self { id: id(dossier, why.note), causes: trees(dossier, &mut lines, 0), doable_now }
    }
}

fn trees<'a>(
    dossier: &Dossier,
    lines: &mut std::iter::Peekable<impl Iterator<Item = &'a Line>>,
    depth: usize,
) -> Vec<CauseTree> {
    let mut found = Vec::new();
    while let Some(line) = lines.next_if(|line| line.depth >= depth) {
        let cause = &line.cause;
        let causes = if depth < DEEPEST { trees(dossier, lines, depth + 1) } else { Vec::new() };
        found.push(CauseTree {
            kind: cause.obstacle.word(),
            id: id(dossier, cause.note),
            why: cause.sentence(dossier),
            from: id(dossier, cause.says),
            told_above: line.told_above,
            causes,
        });
    }
    found
}

impl Schedule {
    /// The times of what is still to be done.
    pub fn of(dossier: &Dossier, plan: &Plan, timetable: &Timetable) -> Self {
        let name = |node: usize| timetable.network.activities()[node].id.clone();
        let end = End::of(&timetable.forecast);
        let (end, if_shops_found) =
            if timetable.end_is_known() { (end, None) } else { (End::default(), Some(end)) };
        Self {
            day_zero: plan.day_zero.map(|date| date.to_string()),
            steps: timetable.in_order().into_iter().map(|node| timed(plan, timetable, node)).collect(),
            critical_path: timetable.unlimited_path().map(name).collect(),
            end,
            without_shop: timetable.without_shop.iter().map(|&step| id(dossier, step.into())).collect(),
            if_shops_found,
            method: METHOD,
        }
    }
}

impl End {
    fn of(forecast: &Forecast) -> Self {
        let spread = forecast.spread;
        Self {
            forecast_days: Some(forecast.days.map(to_a_millionth)),
            simulated_days: Some(Simulated {
                runs: spread.runs,
                p10: to_a_millionth(spread.p10),
                p50: to_a_millionth(spread.p50),
                p90: to_a_millionth(spread.p90),
                mean: to_a_millionth(spread.mean),
            }),
            three_point_days: Some(ThreePoint {
                mean: to_a_millionth(forecast.moments.mean),
                sigma: to_a_millionth(forecast.moments.sigma()),
            }),
        }
    }
}

fn timed(plan: &Plan, timetable: &Timetable, node: usize) -> TimedStep {
    let window = match timetable.notes[node] {
        NoteId::Step(step) => Some(plan.window(step)),
        _ => None,
    };
    let day = |bound: Option<Bound>| bound.map(|bound| bound.day.date.to_string());
    let activity = &timetable.network.activities()[node];
    let (times, slot) = (timetable.unlimited.times[node], timetable.forecast.slots[node]);
    TimedStep {
        id: activity.id.clone(),
        kind: if activity.kind == Kind::Order { "order" } else { "step" },
        early_start_day: to_a_millionth(times.early_start),
        early_finish_day: to_a_millionth(times.early_finish),
        late_start_day: to_a_millionth(times.late_start),
        late_finish_day: to_a_millionth(times.late_finish),
        float_days: to_a_millionth(times.float),
        free_float_days: to_a_millionth(times.free_float),
        critical: times.critical,
        if_shops_found: timetable.conditional[node],
        not_before: day(window.and_then(|window| window.first)),
        not_after: day(window.and_then(|window| window.last)),
        in_time: activity.due.is_none_or(|due| slot.finish <= due),
        forecast_start_day: to_a_millionth(slot.start),
        forecast_finish_day: to_a_millionth(slot.finish),
        forecast_float_days: to_a_millionth(slot.float),
    }
}

/// The stays at all shops.
pub fn trips(dossier: &Dossier, itinerary: &Itinerary) -> Vec<TripLine> {
    let steps = |steps: &[StepId]| steps.iter().map(|&step| dossier[step].id().to_owned()).collect();
    let parts = |parts: &[PartId]| parts.iter().map(|&part| dossier[part].id().to_owned()).collect();
    let line = |trip: &super::travel::Trip| TripLine {
        shop: trip.shop.map(|shop| dossier[shop].id().to_owned()),
        unplaced: trip.unplaced,
        steps: steps(&trip.steps),
        in_place: steps(&trip.in_place),
        parts: parts(&trip.parts),
        there_already: parts(&trip.there_already),
        mass_kg: trip.mass_kg.map(to_a_millionth),
        unweighed: parts(&trip.unweighed),
        largest_m: trip.largest.and_then(|part| dossier[part].envelope.as_ref()).map(|envelope| {
            [&envelope.length, &envelope.width, &envelope.height].map(|side| to_a_millionth(side.high))
        }),
        ..carried(dossier, loads(dossier, trip))
    };
    itinerary.trips.iter().map(line).collect()
}

/// How the parts of a trip are carried; the other keys are left empty.
fn carried(dossier: &Dossier, loads: Option<Loads>) -> TripLine {
    let run = |run: &Run| RunLine {
        parts: run
            .parts
            .iter()
            .map(|(part, pieces)| Carried { id: id(dossier, (*part).into()), pieces: *pieces })
            .collect(),
        mass_kg: to_a_millionth(run.mass_kg),
    };
    let Some(loads) = loads else { return TripLine::default() };
    TripLine {
        runs: Some(loads.runs.iter().map(run).collect()),
        no_run: loads
            .refused
            .iter()
            .map(|(part, refusal)| NoRun { id: id(dossier, (*part).into()), why: refusal.word() })
            .collect(),
        of_unknown_size: loads.of_unknown_size.iter().map(|part| id(dossier, (*part).into())).collect(),
        ..TripLine::default()
    }
}
