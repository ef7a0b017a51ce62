//! How far each feature is past its limits, the worst first.

use super::Worked;
use crate::calc::evaluate::verdict::{Outcome, Verdict};
use crate::calc::value::Quantity;
use crate::dossier::{Dossier, MeasurementId};
use crate::record::Surface;

/// How worn a feature is, as it is now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wear {
    pub measurement: MeasurementId,
    /// How it stands in its limits.
    pub outcome: Outcome,
    /// How far it is past the limit on its worn side, in SI units; 0 where it is not.
    pub past: f64,
    /// The same in widths of its tolerance zone.
    pub widths: f64,
}

impl Worked {
    /// Every feature with limits as it is now: first what is outside, then what is not settled, then what is within, each the
    /// furthest past its limit first.
    pub fn wear(&self, dossier: &Dossier) -> Vec<Wear> {
        let latest = dossier.measurements.ids().filter(|id| dossier.is_latest(*id));
        let mut wear: Vec<Wear> = latest.filter_map(|id| self.worn(dossier, id)).collect();
        wear.sort_by(|one, two| {
            rank(one.outcome).cmp(&rank(two.outcome)).then(two.widths.total_cmp(&one.widths))
        });
        wear
    }

    fn worn(&self, dossier: &Dossier, measurement: MeasurementId) -> Option<Wear> {
        let keys = &dossier[measurement];
        let limits = dossier.limits(measurement).filter(|limits| limits.high > limits.low)?;
        let measured = self.measured(measurement);
        let beyond = measured.statistics.beyond.filter(|_| !keys.readings.repeats);
        let verdict = measured.within_limits.as_ref()?;
        let past = past_worn_side(verdict, keys.surface, beyond);
        Some(Wear { measurement, outcome: verdict.outcome, past, widths: past / (limits.high - limits.low) })
    }
}

/// The worst first.
fn rank(outcome: Outcome) -> usize {
    match outcome {
        Outcome::Fails => 0,
        Outcome::NotSettled => 1,
        Outcome::Holds => 2,
    }
}

/// How far it is past the limit on its worn side, in SI units: at the reading that decides, or at another where that one is
/// past the other side; nothing where the limits are held.
fn past_worn_side(verdict: &Verdict, surface: Surface, beyond: Option<f64>) -> f64 {
    if verdict.outcome == Outcome::Holds {
        return 0.0;
    }
    let below = |low: &Quantity| low.value - verdict.value.value;
    let above = |high: &Quantity| verdict.value.value - high.value;
    let past = match surface {
        Surface::Outside => verdict.low.as_ref().map(below),
        Surface::Inside => verdict.high.as_ref().map(above),
    };
    past.into_iter().chain(beyond).fold(0.0, f64::max)
}
