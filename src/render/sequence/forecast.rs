//! What decides the end of the work: its path, the chart, the forecast in words.

use std::collections::BTreeMap;

use jiff::Span;
use serde::Serialize;

use crate::Project;
use crate::calc::print::counted;
use crate::dossier::Dossier;
use crate::dossier::{NoteId, StepId};
use crate::plan::forecast::Slot;
use crate::plan::network::ActivityKind;
use crate::plan::timetable::Timetable;
use crate::plan::window::day_after;
use crate::render::edition::Edition;
use crate::render::prose::day;
use crate::render::shapes::Mention;

#[derive(Serialize)]
pub(super) struct PathLine {
    label: Option<String>,
    number: String,
    does: String,
    start: String,
    finish: String,
    float: String,
}

#[derive(Serialize)]
pub(super) struct ForecastShape {
    says: String,
    /// While these have none, the end is not known.
    without_shop: Vec<Mention>,
}

pub(super) fn path(
    edition: &Edition,
    timetable: &Timetable,
    numbers: &BTreeMap<StepId, usize>,
) -> Vec<PathLine> {
    let line = |node: usize| {
        let slot = &timetable.forecast.slots[node];
        let note = timetable.notes[node];
        let date = |days: f64| {
            let date = date_of(edition.project, days);
            if timetable.conditional[node] { format!("({date})") } else { date }
        };
        PathLine {
            label: edition.names.label(note),
            number: match note {
                NoteId::Step(step) => numbers.get(&step).map(ToString::to_string).unwrap_or_default(),
                _ => String::new(),
            },
            does: match note {
                NoteId::Part(part) => format!("Delivery: {}", edition.dossier()[part].name),
                note => edition.dossier().title(note),
            },
            start: date(slot.start),
            finish: date(slot.finish),
            float: float_of(slot),
        }
    };
    told(timetable).into_iter().map(line).collect()
}

/// The whole days that it may slip.
fn float_of(slot: &Slot) -> String {
    format!("{:.0}", slot.float.floor())
}

/// What takes time, but for orders that decide nothing.
fn told(timetable: &Timetable) -> Vec<usize> {
    let idle = timetable.network.idle_orders();
    timetable.in_order().into_iter().filter(|&node| !idle[node]).collect()
}

/// The date so many days after day 0; the number of the day when the notes hold no date.
pub(in crate::render) fn date_of(project: &Project, days: f64) -> String {
    let later = project.plan.day_zero.and_then(|zero| day_after(zero, days));
    later.map_or_else(|| format!("day {:.0}", days.floor()), |date| day(date).says)
}

#[derive(Serialize)]
struct Chart {
    days: f64,
    ticks: Vec<Tick>,
    bars: Vec<Bar>,
    ends: Option<Ends>,
    caption: String,
    alt: String,
}

#[derive(Serialize)]
struct Tick {
    day: f64,
    says: String,
}

#[derive(Serialize)]
struct Bar {
    label: Option<String>,
    says: String,
    state: &'static str,
    critical: bool,
    start: f64,
    hands: f64,
    waits: f64,
    float: f64,
    /// In whole days, as in the table.
    says_float: String,
}

#[derive(Serialize)]
struct Ends {
    low: f64,
    likely: f64,
    high: f64,
}

pub(super) fn chart(edition: &Edition, timetable: &Timetable) -> Option<String> {
    let nodes = told(timetable);
    if nodes.is_empty() {
        return None;
    }
    let days = timetable.forecast.days;
    let spread = timetable.forecast.spread;
    let known = timetable.end_is_known();
    let over = if known {
        format!(" over {}", counted(format!("{:.0}", days.likely), "day"))
    } else {
        String::new()
    };
    let chart = Chart {
        days: days.likely,
        ticks: ticks(edition.project, spread.p90.max(days.likely)),
        bars: nodes.iter().map(|node| bar(edition, timetable, *node)).collect(),
        ends: known.then_some(Ends { low: spread.p10, likely: days.likely, high: spread.p90 }),
        caption: "The forecast: solid bars can't slip without moving the end; dashes are waiting that costs no hands; the \
                  thin line is how far a step may slip."
            .to_owned(),
        alt: format!("Bar chart of the forecast: {}{over}.", counted(nodes.len(), "job")),
    };
    Some(edition.assets.lay_data("chart", &chart))
}

fn bar(edition: &Edition, timetable: &Timetable, node: usize) -> Bar {
    let slot = &timetable.forecast.slots[node];
    let note = timetable.notes[node];
    let is_step = timetable.network.activities()[node].kind == ActivityKind::Step;
    Bar {
        label: edition.names.label(note),
        says: if is_step {
            edition.dossier().title(note)
        } else {
            format!("Delivery: {}", edition.dossier().title(note))
        },
        state: match note {
            NoteId::Step(step) => edition.project.state(step),
            _ => "waiting",
        },
        critical: slot.float < 1.0,
        start: slot.start,
        hands: slot.hands_off - slot.start,
        waits: slot.finish - slot.hands_off,
        float: slot.float,
        says_float: float_of(slot),
    }
}

/// The first of every month, or of every second or third when there are many.
fn ticks(project: &Project, last: f64) -> Vec<Tick> {
    let Some(zero) = project.plan.day_zero else { return Vec::new() };
    let every = (last / 30.0 / 5.0).ceil().max(1.0);
    let mut ticks = Vec::new();
    let mut month = zero.first_of_month();
    loop {
        #[expect(clippy::cast_possible_truncation, reason = "a handful of months")]
        let step = Span::new().try_months(every as i32);
        let Ok(next) = step.and_then(|step| month.checked_add(step)) else { break };
        let at = f64::from((next - zero).get_days());
        if at > last || ticks.len() > 24 {
            break;
        }
        let says = day(next).says;
        let says = says.split_once(' ').map_or(says.clone(), |(_, rest)| short_month(rest));
        ticks.push(Tick { day: at, says });
        month = next;
    }
    ticks
}

/// "Mar 2027" for "March 2027".
fn short_month(text: &str) -> String {
    text.split_once(' ')
        .map_or(text.to_owned(), |(month, year)| format!("{} {year}", month.get(..3).unwrap_or(month)))
}

pub(super) fn forecast(edition: &Edition, timetable: &Timetable) -> Option<ForecastShape> {
    if timetable.notes.is_empty() {
        return None;
    }
    if timetable.work_list().is_empty() {
        let says = "No step is open: there is no end to forecast.".to_owned();
        return Some(ForecastShape { says, without_shop: Vec::new() });
    }
    let spread = timetable.forecast.spread;
    let says = format!(
        "{} the last step is done by {} if every time is the likely one; eight times in ten {}. \
         From {} trial schedules with every time drawn between its low and its high; shops work side by side, and \
         waiting costs no hands. Taken for granted: questions are settled and papers renewed when the work comes to \
         them, what is not on order is ordered on day 0, and a shop without hours of its own keeps the keeper's pace, and carriage takes no time. It is not \
         held against where a part is: two steps may have the same part at two places at once.{}",
        opening(edition.dossier(), timetable),
        date_of(edition.project, timetable.forecast.days.likely),
        within(&date_of(edition.project, spread.p10), &date_of(edition.project, spread.p90)),
        spread.runs,
        too_late(edition.project, timetable),
    );
    Some(ForecastShape { says, without_shop: edition.names.mentions(timetable.without_shop.iter().copied()) })
}

/// "between 3 May 2027 and 9 May 2027", "on 3 May 2027".
fn within(first: &str, last: &str) -> String {
    if first == last { format!("on {last}") } else { format!("between {first} and {last}") }
}

/// The pace; and that there is no end while somebody has still to be found.
fn opening(dossier: &Dossier, timetable: &Timetable) -> String {
    let pace = format!("the keeper's {} a week", counted(dossier.about.hours_per_week, "hour"));
    match timetable.without_shop.len() {
        0 => format!("With {pace}"),
        1 => format!(
            "The end is not known while one step has no shop that can do it. If one is found by the time it is needed, \
             then with {pace}"
        ),
        count => format!(
            "The end is not known while {count} steps have no shop that can do them. If shops are found by the time they \
             are needed, then with {pace}"
        ),
    }
}

/// The steps that miss their last day.
fn too_late(project: &Project, timetable: &Timetable) -> String {
    let late = timetable.late().filter_map(|(step, finish)| {
        let last = project.plan.window(step).last?;
        let (name, finish) = (project.dossier.title(step.into()), date_of(project, finish));
        Some(format!(
            " Too late by this: {name}, to be done by {}, likely finished {finish}.",
            day(last.day.date).says
        ))
    });
    late.collect()
}
