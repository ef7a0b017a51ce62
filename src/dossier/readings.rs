//! Readings that can hardly be right: far from their fellows, or outside what the instrument measures.

use super::{Dossier, Noted, Resolved};
use crate::calc::literal::Literal;
use crate::calc::{outlier, print};
use crate::diagnostic::Problem;
use crate::dossier::problems as problem;
use crate::record::{Instrument, Measurement, Reading};

type Taken = Noted<Measurement<Resolved>>;

/// A difference of fewer steps of the instrument than this is no slip.
const STEPS: f64 = 5.0;

pub(super) fn odd(dossier: &Dossier, measurement: &Taken) -> Vec<Problem> {
    let instrument = measurement.instrument.map(|instrument| &dossier[instrument]);
    let readings = readings(measurement);
    let mut odd = far(measurement, instrument, &readings);
    odd.extend(instrument.and_then(|instrument| outside(measurement, instrument, &readings)));
    odd
}

fn readings(measurement: &Taken) -> Vec<&Reading> {
    measurement.readings.stations.iter().flat_map(|station| &station.readings).collect()
}

fn far(measurement: &Taken, instrument: Option<&Instrument>, readings: &[&Reading]) -> Vec<Problem> {
    let values: Vec<f64> = readings.iter().map(|reading| reading.value).collect();
    let Some(median) = outlier::median(values.clone()) else { return Vec::new() };
    let far = outlier::far(&values, is_one_dimension(measurement), least(measurement, instrument, readings));
    let told = |at: usize| {
        let reading = readings[at];
        let figure = |value: f64| figure(measurement, value, reading.step);
        problem::reading_far(&measurement.head, reading.span, &figure(reading.value), &figure(median))
    };
    far.into_iter().map(told).collect()
}

/// Repeats at one place; at several the places differ by shape.
fn is_one_dimension(measurement: &Taken) -> bool {
    measurement.readings.repeats && measurement.readings.stations.len() == 1
}

/// The least difference that is worth a word: steps of the reading, and what the instrument may be off.
fn least(measurement: &Taken, instrument: Option<&Instrument>, readings: &[&Reading]) -> f64 {
    let dimension = measurement.readings.unit.dimension();
    let alike = |literal: &Option<Literal>| {
        literal.as_ref().filter(|literal| literal.dimension() == dimension).map(|literal| literal.nominal)
    };
    let resolution = instrument.and_then(|instrument| alike(&instrument.resolution));
    let within = instrument.and_then(|instrument| alike(&instrument.within)).unwrap_or_default();
    let typed = readings.iter().map(|reading| reading.step).fold(0.0, f64::max);
    within.max(STEPS * resolution.unwrap_or_default().max(typed))
}

/// The first reading outside, for all of them.
fn outside(measurement: &Taken, instrument: &Instrument, readings: &[&Reading]) -> Option<Problem> {
    let measures = instrument.measures.as_ref()?;
    let (low, high) = instrument.range()?;
    let is_outside = |reading: &&&Reading| {
        let rounding = ROUNDING * high.abs();
        reading.value < low - rounding || reading.value > high + rounding
    };
    let outside: Vec<&&Reading> = readings
        .iter()
        .filter(|_| measures.dimension() == measurement.readings.unit.dimension())
        .filter(is_outside)
        .collect();
    let first = outside.first()?;
    let shown = figure(measurement, first.value, first.step);
    let told = match outside.len() {
        1 => format!("{shown} lies"),
        count => format!("{count} of {} readings, such as {shown}, lie", readings.len()),
    };
    Some(problem::reading_outside(
        &measurement.head,
        first.span,
        &told,
        &instrument.key,
        &measures.to_string(),
    ))
}

/// Conversion between units may lose this part of a figure.
const ROUNDING: f64 = 1e-9;

fn figure(measurement: &Taken, value: f64, step: f64) -> String {
    let unit = measurement.readings.unit;
    format!("{} {}", print::systems::reading(value, step, unit), unit.shown())
}
