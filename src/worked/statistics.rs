//! What the readings of each measurement come to.

use std::collections::BTreeMap;

use crate::calc::literal::Literal;
use crate::calc::measure::{self, Feature, Measured};
use crate::calc::uncertainty::Sources;
use crate::dossier::{Dossier, MeasurementId};
use crate::record::{Instrument, Measurement, Station, Surface};

/// The limits that a measurement takes from the shape of its part.
pub(super) type OfShapes = BTreeMap<MeasurementId, Literal>;

/// Every measurement worked out, in the dossier's order.
pub(super) fn all(dossier: &Dossier, limits: &OfShapes, sources: &mut Sources) -> Vec<Measured> {
    let one = |id: MeasurementId| measure::measure(&feature(dossier, id, limits.get(&id)), sources);
    dossier.measurements.ids().map(one).collect()
}

/// A measurement as the engine takes it, with the limits that its notes state, else those of its part's shape.
pub(super) fn feature(dossier: &Dossier, id: MeasurementId, limits: Option<&Literal>) -> Feature {
    let noted = &dossier[id];
    Feature {
        name: noted.id().to_owned(),
        stations: noted.readings.stations.iter().map(|each| station(noted, each)).collect(),
        repeats: noted.readings.repeats,
        diameters: noted.readings.diameters,
        instrument: noted.instrument.map(|instrument| tool(&dossier[instrument])),
        nominal: noted.nominal.as_ref().map(|nominal| nominal.nominal),
        limits: dossier.limits(id).or(limits).map(|limits| (limits.low, limits.high)),
        surface: match noted.surface {
            Surface::Outside => measure::Surface::Outside,
            Surface::Inside => measure::Surface::Inside,
        },
        unit: noted.readings.unit,
    }
}

fn station<L: crate::record::Links>(measurement: &Measurement<L>, station: &Station) -> measure::Station {
    let head = |column: usize| measurement.readings.columns.get(column).cloned().unwrap_or_default();
    let readings = station.readings.iter();
    measure::Station {
        place: station.place.clone(),
        position: station.position,
        readings: readings
            .map(|reading| measure::Reading {
                value: reading.value,
                step: reading.step,
                column: head(reading.column),
            })
            .collect(),
    }
}

fn tool(instrument: &Instrument) -> measure::Instrument {
    let size = |literal: &Option<Literal>| literal.as_ref().map(|literal| literal.nominal);
    measure::Instrument {
        key: instrument.key.clone(),
        within: size(&instrument.within),
        resolution: size(&instrument.resolution),
    }
}
