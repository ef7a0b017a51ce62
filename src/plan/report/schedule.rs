//! When: times, critical path and forecast.

use serde::Serialize;

use super::id;
use crate::calc::rounding::to_a_millionth;
use crate::dossier::{Dossier, NoteId};
use crate::estimate::Estimate;
use crate::plan::Plan;
use crate::plan::forecast::Forecast;
use crate::plan::network::ActivityKind;
use crate::plan::timetable::Timetable;
use crate::plan::window::Bound;

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
    /// How many trial schedules were made.
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
        kind: if activity.kind == ActivityKind::Order { "order" } else { "step" },
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
