//! What is left of a step: of one in hand, its time without what the log holds of it.

use jiff::civil::Date;

use super::graph::{DAY, HOUR, in_units};
use super::window::days_between;
use crate::dossier::{Dossier, NoteId, StepId};
use crate::estimate::Estimate;
use crate::record::{StepState, Supply};

/// Hands-on hours left, if the note of the step says how long it takes; none of a step that is done or dropped.
pub fn hours_left(dossier: &Dossier, id: StepId) -> Option<Estimate> {
    let step = &dossier[id];
    let takes = in_units(step.takes.as_ref()?, HOUR);
    Some(match step.state {
        StepState::Todo => takes,
        StepState::Doing => {
            let logged = logged(dossier, id).map(|(_, hours)| hours).sum::<f64>();
            takes.map(|hours| (hours - logged).max(0.0))
        }
        StepState::Done | StepState::Dropped => Estimate::ZERO,
    })
}

/// Days that are still to pass by themselves: they begin when the work is done. Of a step in hand whose note says when it
/// was begun, they count from that day. Of another one without hours left they count from the last day on which the log has
/// hours of it; while hours are left, all of them are still to come. Where the hours may be over or not, each end of the
/// time goes with that end of the hours.
pub fn days_left(dossier: &Dossier, id: StepId, day_zero: Option<Date>) -> Estimate {
    let step = &dossier[id];
    let waits = step.waits.as_ref().map_or(Estimate::ZERO, |waits| in_units(waits, DAY));
    match step.state {
        StepState::Todo => waits,
        StepState::Doing if step.begun_on.is_some() => {
            let passed =
                step.begun_on.zip(day_zero).map_or(0.0, |(begun, today)| days_between(begun.date, today));
            waits.map(|days| (days - passed).max(0.0))
        }
        StepState::Doing => {
            let last = logged(dossier, id).map(|(day, _)| day).max();
            let passed = last.zip(day_zero).map_or(0.0, |(last, today)| days_between(last, today));
            let left = waits.map(|days| (days - passed).max(0.0));
            let hours = hours_left(dossier, id).unwrap_or(Estimate::ZERO);
            let end = |hours: f64, all: f64, left: f64| if hours > 0.0 { all } else { left };
            Estimate {
                low: end(hours.low, waits.low, left.low),
                likely: end(hours.likely, waits.likely, left.likely),
                high: end(hours.high, waits.high, left.high),
            }
        }
        StepState::Done | StepState::Dropped => Estimate::ZERO,
    }
}

/// The day on which a step in hand was begun, by its note or the log, or a part on order was ordered.
pub fn begun(dossier: &Dossier, note: NoteId) -> Option<Date> {
    match note {
        NoteId::Step(step) if dossier[step].state == StepState::Doing => {
            let typed = dossier[step].begun_on.map(|day| day.date);
            typed.or_else(|| logged(dossier, step).map(|(day, _)| day).min())
        }
        NoteId::Part(part) if dossier[part].supply == Supply::Ordered => {
            dossier[part].ordered_on.map(|day| day.date)
        }
        _ => None,
    }
}

/// The days on which the log has hours of a step, and how many.
fn logged(dossier: &Dossier, id: StepId) -> impl Iterator<Item = (Date, f64)> {
    let days =
        dossier.entries.iter().flat_map(|entry| entry.hours.iter().map(|hours| (entry.date.date, hours)));
    days.filter(move |(_, (step, _))| *step == id).map(|(day, (_, time))| (day, time.nominal / HOUR))
}
