//! Every check of the notes, each once: those of calculations, of measured features against their limits, and of fits.

use super::{Asks, Check};
use crate::calc::evaluate::verdict::{Outcome, Verdict};
use crate::calc::value::Quantity;
use crate::dossier::{Dossier, MeasurementId, NoteId};
use crate::worked::Worked;

/// All checks, in the order of the notes; what carries load is not looked for.
pub(super) fn all(dossier: &Dossier, worked: &Worked) -> Vec<Check> {
    lines(worked).chain(limits(dossier, worked)).chain(fits(dossier, worked)).collect()
}

fn lines(worked: &Worked) -> impl Iterator<Item = Check> {
    worked.evaluation.checks.iter().filter_map(|place| {
        let (note, line) = (worked.note(*place), worked.evaluation.line(*place)?);
        let outcome = line.verdict.as_ref().map_or(Outcome::NotSettled, |verdict| verdict.outcome);
        let is_of_its_limits = match (note, &line.verdict) {
            (NoteId::Measurement(id), Some(verdict)) => asks_its_limits(worked, id, verdict),
            _ => false,
        };
        (!is_of_its_limits).then_some(Check { part: None, note, asks: Asks::Line(*place), outcome })
    })
}

fn limits(dossier: &Dossier, worked: &Worked) -> impl Iterator<Item = Check> {
    let latest = dossier.measurements.ids().filter(|id| dossier.is_latest(*id));
    latest.filter_map(|id| {
        let outcome = worked.measured(id).within_limits.as_ref()?.outcome;
        Some(Check { part: None, note: id.into(), asks: Asks::Limits(id), outcome })
    })
}

fn fits(dossier: &Dossier, worked: &Worked) -> impl Iterator<Item = Check> {
    worked.fits.iter().flat_map(move |fitted| {
        let latest = fitted.judged.iter().filter(|judged| judged.is_latest(dossier));
        let own = latest.filter(|judged| !asks_its_limits(worked, judged.measurement, &judged.verdict));
        own.map(move |judged| Check {
            part: None,
            note: fitted.part.into(),
            asks: Asks::Fit(fitted.part, judged.measurement),
            outcome: judged.verdict.outcome,
        })
    })
}

/// Whether a verdict is by the very limits that a feature is held against already.
fn asks_its_limits(worked: &Worked, id: MeasurementId, verdict: &Verdict) -> bool {
    let own = worked.measured(id).within_limits.as_ref();
    own.is_some_and(|own| is_same(&own.low, &verdict.low) && is_same(&own.high, &verdict.high))
}

fn is_same(one: &Option<Quantity>, other: &Option<Quantity>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => one.is_same_as(other),
        (None, None) => true,
        _ => false,
    }
}
