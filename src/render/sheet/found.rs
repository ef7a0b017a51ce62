//! How the piece was found: its readings, as left beside them where they are known. These are no sizes to work to, so that
//! they have a table of their own, and the limits by which wear is judged are not in it.

use serde::Serialize;

use super::scope::Scope;
use super::sizes::{Figure, typed_figure};
use crate::calc::units::Unit;
use crate::dossier::{MeasurementId, Noted, Resolved};
use crate::record::{Measurement, MeasurementState};
use crate::render::measurement;

/// A feature as it was found, as it is printed: numbers are text in `unit`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Found {
    feature: String,
    #[serde(flatten)]
    figures: Printed,
    /// The same in the other system, where the dossier asks for both.
    other: Option<Printed>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct Printed {
    /// The size that it had when it was new.
    new: Option<String>,
    found: Ends,
    left: Option<Ends>,
    unit: String,
}

/// The smallest and the largest reading; of a single one the same.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Ends {
    least: String,
    most: String,
}

pub(super) type Taken = Noted<Measurement<Resolved>>;

/// Every feature that was measured as found, or only as left.
pub(super) fn found(scope: &Scope) -> Vec<Found> {
    scope.measurements.iter().filter_map(|id| line(scope, *id)).collect()
}

fn line(scope: &Scope, id: MeasurementId) -> Option<Found> {
    let dossier = scope.edition.dossier();
    let keys = &dossier[id];
    let says_something = keys.nominal.is_some() || keys.limits.is_some() || is_one_dimension(keys);
    if keys.state != MeasurementState::AsFound || !says_something {
        return None;
    }
    let left = dossier.other_state(id).filter(|left| scope.redaction.is_open(*left));
    let unit = keys.readings.unit;
    let largest = extremes(keys)?.1;
    let other = dossier.units.counterpart(unit, largest).filter(|_| scope.edition.amounts.shows_both);
    Some(Found {
        feature: scope.of_part(keys.of, &scope.redaction.text(id, &keys.feature)),
        figures: printed(keys, left.map(|left| &dossier[left]), unit, |figure| figure.in_own(unit))?,
        other: other.and_then(|unit| {
            printed(keys, left.map(|left| &dossier[left]), unit, |figure| figure.in_other(unit))
        }),
    })
}

fn printed(
    keys: &Taken,
    left: Option<&Taken>,
    unit: Unit,
    print: impl Fn(Figure) -> String,
) -> Option<Printed> {
    let ends = |keys: &Taken| {
        let (least, most) = extremes(keys)?;
        Some(Ends { least: print(reading(keys, least)), most: print(reading(keys, most)) })
    };
    let new = keys.nominal.as_ref().map(|nominal| {
        let is_alike = keys.readings.unit == nominal.unit;
        print(if is_alike { typed_figure(nominal, nominal.nominal) } else { reading(keys, nominal.nominal) })
    });
    Some(Printed { new, found: ends(keys)?, left: left.and_then(ends), unit: unit.shown() })
}

/// A single reading, or repeats of one dimension: a line of the table says it all.
pub(super) fn is_one_dimension(keys: &Taken) -> bool {
    keys.readings.stations.len() == 1
        && (keys.readings.repeats || keys.readings.stations[0].readings.len() == 1)
}

fn extremes(keys: &Taken) -> Option<(f64, f64)> {
    let values =
        keys.readings.stations.iter().flat_map(|station| &station.readings).map(|reading| reading.value);
    let least = values.clone().reduce(f64::min)?;
    Some((least, values.reduce(f64::max)?))
}

/// A size as finely as the finest reading.
fn reading(keys: &Taken, size: f64) -> Figure {
    let unit = keys.readings.unit;
    let decimals = measurement::decimals(keys, unit);
    Figure::to(decimals, unit, size)
}
