//! One measurement: its readings, what follows from them, and the plot against the limits.

use serde::Serialize;

use super::edition::Edition;
use super::held::{self, Against};
use super::prose::{capital, decapital, said};
use super::readings::Table;
use super::shapes::{Fact, RecordShape};
use super::statistics;
use crate::Project;
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::literal::Literal;
use crate::calc::measure::{Measured, StationStatistics};
use crate::calc::print;
use crate::calc::units::Unit;
use crate::calc::value::{Quantity, Value};
use crate::dossier::Dossier;
use crate::dossier::{MeasurementId, Noted, Resolved};
use crate::record::{Measurement, MeasurementState, Surface};

#[derive(Serialize)]
pub(super) struct MeasurementShape {
    #[serde(flatten)]
    record: RecordShape,
    feature: String,
    state: &'static str,
    facts: Vec<Fact>,
    data: Option<String>,
    /// What the readings come to, in one line.
    statistics: Option<String>,
    against: Option<Against>,
    change: Option<String>,
}

#[derive(Serialize)]
struct Data {
    table: Option<Table>,
    left: Option<Table>,
    plot: Option<Plot>,
}

#[derive(Serialize)]
struct Plot {
    plot: &'static str,
    unit: String,
    quantity: &'static str,
    along: String,
    decimals: i32,
    stations: Vec<Tick>,
    series: Vec<Series>,
    nominal: Option<Line>,
    low: Option<Line>,
    high: Option<Line>,
    caption: String,
    alt: String,
}

#[derive(Serialize)]
struct Tick {
    says: String,
    at: f64,
}

#[derive(Serialize)]
struct Line {
    at: f64,
    says: String,
}

#[derive(Serialize)]
struct Series {
    name: &'static str,
    uncertainty: Option<f64>,
    points: Vec<Point>,
}

#[derive(Serialize)]
struct Point {
    at: f64,
    value: f64,
}

pub(super) type Taken = Noted<Measurement<Resolved>>;

pub(super) fn shape(edition: &Edition, id: MeasurementId) -> MeasurementShape {
    let keys = &edition.dossier()[id];
    MeasurementShape {
        record: RecordShape::without(edition, id.into(), keys.readings.table),
        feature: keys.feature.clone(),
        state: keys.state.word(),
        facts: facts(edition, id),
        data: data(edition, id),
        statistics: statistics::line(edition, id),
        against: held::against(edition, id),
        change: held::change(edition, id),
    }
}

fn facts(edition: &Edition, id: MeasurementId) -> Vec<Fact> {
    let keys = &edition.dossier()[id];
    let with = keys.instrument.map(|instrument| {
        let instrument = &edition.dossier()[instrument];
        Fact::new("with", instrument.what.clone().unwrap_or_else(|| instrument.key.clone()))
    });
    let facts = [
        with,
        said(keys.date).map(|date| Fact::new("on", date)),
        keys.nominal.as_ref().map(|nominal| Fact::new("nominal", edition.amounts.typed_size(nominal))),
        limits(edition, id),
        (keys.surface == Surface::Inside).then(|| Fact::new("surface", "inside")),
    ];
    facts.into_iter().flatten().collect()
}

/// The readings and their drawing.
fn data(edition: &Edition, id: MeasurementId) -> Option<String> {
    let partner = edition.dossier().other_state(id);
    laid(edition, id, partner, plot(edition, id, partner))
}

/// The readings alone, without what is private: what a job sheet shows.
pub(super) fn readings(edition: &Edition, id: MeasurementId) -> Option<String> {
    let partner =
        edition.dossier().other_state(id).filter(|partner| !edition.dossier()[*partner].head.private);
    laid(edition, id, partner, None)
}

/// The as-left of the same feature goes beside the as-found, in the as-found's file.
fn laid(
    edition: &Edition,
    id: MeasurementId,
    partner: Option<MeasurementId>,
    plot: Option<Plot>,
) -> Option<String> {
    let keys = &edition.dossier()[id];
    if keys.state == MeasurementState::AsLeft && partner.is_some() {
        return None;
    }
    let left = partner.map(|partner| &edition.dossier()[partner]);
    let several = |keys: &&Taken| !is_single(keys);
    let data = Data {
        table: Some(keys).filter(several).map(Table::of),
        left: left.filter(several).map(Table::of),
        plot,
    };
    let is_empty = data.table.is_none() && data.left.is_none() && data.plot.is_none();
    (!is_empty).then(|| edition.assets.lay_data(&data))
}

fn is_single(keys: &Taken) -> bool {
    keys.readings.stations.iter().flat_map(|station| &station.readings).count() < 2
}

/// The smallest and the largest reading; of repeats their mean: `1.7195 in to 1.7197 in`.
pub(super) fn spread(project: &Project, id: MeasurementId) -> String {
    let keys = &project.dossier[id];
    let measured = project.worked.measured(id);
    let unit = keys.readings.unit;
    let decimals = decimals(keys, unit);
    let figure =
        |name: &str| measured.figure(name).map(|each| print::rounded(unit.from_si(each.value), decimals));
    let says = match (figure("min"), figure("max"), figure("mean")) {
        (_, _, Some(mean)) if keys.readings.repeats => mean,
        (Some(least), Some(most), _) if least != most => format!("{least} to {most}"),
        (least, ..) => least.unwrap_or_default(),
    };
    format!("{says} {}", unit.shown())
}

/// A size in metres as its readings print it; in another unit than theirs to their own last figure.
pub(super) fn figure(dossier: &Dossier, id: MeasurementId, size: f64, unit: Unit) -> String {
    let keys = &dossier[id];
    if unit == keys.readings.unit {
        return reading(keys, size);
    }
    print::systems::reading(size, finest(keys), unit)
}

/// A size in SI units with the decimals of the finest reading.
pub(super) fn reading(keys: &Taken, size: f64) -> String {
    let unit = keys.readings.unit;
    print::rounded(unit.from_si(size), decimals(keys, unit))
}

/// One unit of the last figure of the reading that was typed with the most.
fn finest(keys: &Taken) -> f64 {
    let readings = keys.readings.stations.iter().flat_map(|station| &station.readings);
    readings.map(|reading| reading.step).fold(f64::INFINITY, f64::min)
}

/// As many places as the finest reading was typed with.
pub(super) fn decimals(keys: &Taken, unit: Unit) -> i32 {
    places_of(finest(keys), unit)
}

/// The places of `unit` that show a step, in SI units.
pub(super) fn places_of(step: f64, unit: Unit) -> i32 {
    let step = unit.interval_from_si(step);
    (0..8).find(|places| step * libm::pow(10.0, f64::from(*places)) >= 0.999).unwrap_or(8)
}

/// A journal is worn past its lower limit, a bore past its upper one.
pub(super) fn past_word(surface: Surface) -> &'static str {
    match surface {
        Surface::Outside => "past the lower limit",
        Surface::Inside => "past the upper limit",
    }
}

/// How far the size furthest from nominal is off it, on either side. `wear`: how far the worst is off on the worn side.
pub(super) fn furthest_off(keys: &Taken, measured: &Measured, wear: &Quantity) -> Quantity {
    let fuller = if keys.surface == Surface::Outside { "max" } else { "min" };
    let found = measured.fields.iter().find(|(name, _)| name == fuller || name == "value");
    let (Some(fullest), Some(nominal)) =
        (found.and_then(|(_, value)| value.quantity()), keys.nominal.as_ref().map(|nominal| nominal.nominal))
    else {
        return wear.clone();
    };
    let off = libm::fabs(fullest.value - nominal);
    if off <= wear.value {
        wear.clone()
    } else {
        Quantity { value: off, uncertainty: fullest.uncertainty.clone(), ..wear.clone() }
    }
}

/// A taper has its largest and its smallest mean at its two ends; a hollow or a crowned feature has not.
pub(super) fn taper_word(stations: &[StationStatistics]) -> &'static str {
    let mean = |station: Option<&StationStatistics>| station.map_or(f64::NAN, |station| station.mean);
    let (first, last) = (mean(stations.first()), mean(stations.last()));
    let (low, high) = (first.min(last), first.max(last));
    if stations.iter().all(|station| (low..=high).contains(&station.mean)) {
        "taper"
    } else {
        "between stations"
    }
}

/// What is off nominal is wear only on a feature as found, and only where the uncertainty leaves no uncertainty of its side.
pub(super) fn wear_word(keys: &Taken, measured: &Measured) -> &'static str {
    if is_worn(keys, measured) { "wear" } else { "from nominal" }
}

pub(super) fn is_worn(keys: &Taken, measured: &Measured) -> bool {
    let wear = measured.fields.iter().find(|(name, _)| name == "wear");
    let is_shown = |wear: &Quantity| wear.value > wear.expanded();
    keys.state == MeasurementState::AsFound
        && wear.and_then(|(_, wear)| wear.quantity()).is_some_and(is_shown)
}

/// Whether its stations lie at lengths along it: only then is there a taper.
pub(super) fn lies_along(keys: &Taken) -> bool {
    keys.readings.stations.iter().filter(|station| station.position.is_some()).count() > 1
}

/// Only a trend is worth a drawing: readings at three places or more that differ by more than is uncertain of them, that
/// reach over a limit, or that were taken again as left.
fn shows_a_trend(edition: &Edition, id: MeasurementId, left: Option<MeasurementId>) -> bool {
    let measured = edition.project.worked.measured(id);
    let differs = measured.figure("taper").is_some_and(|taper| taper.value > taper.expanded());
    let is_past = measured.within_limits.as_ref().is_some_and(|verdict| verdict.outcome != Outcome::Holds);
    edition.dossier()[id].readings.stations.len() >= 3 && (differs || is_past || left.is_some())
}

fn plot(edition: &Edition, id: MeasurementId, left: Option<MeasurementId>) -> Option<Plot> {
    let dossier = edition.dossier();
    let keys = &dossier[id];
    let has_measure = edition.limits(id).is_some() || keys.nominal.is_some();
    if !has_measure || !shows_a_trend(edition, id, left) {
        return None;
    }
    let unit = keys.readings.unit;
    let series = |id: MeasurementId, name| series(edition.dossier(), id, unit, name);
    let mut all =
        vec![series(id, if keys.state == MeasurementState::AsFound { "as found" } else { "as left" })];
    all.extend(left.map(|left| series(left, "as left")));
    let line = |value: f64, says: &str| Line { at: unit.from_si(value), says: says.to_owned() };
    let corner = &keys.readings.corner;
    let caption = caption(edition, id, left);
    Some(Plot {
        plot: "readings",
        unit: unit.shown(),
        quantity: if keys.surface == Surface::Inside { "bore" } else { "size" },
        along: if corner.is_empty() { "station".to_owned() } else { corner.clone() },
        decimals: decimals(keys, unit),
        stations: keys
            .readings
            .stations
            .iter()
            .enumerate()
            .map(|(at, station)| Tick { says: station.place.clone(), at: place(at) })
            .collect(),
        series: all,
        nominal: keys.nominal.as_ref().map(|nominal| line(nominal.nominal, "nominal")),
        low: edition.limits(id).map(|limits| line(limits.low, "lower limit")),
        high: edition.limits(id).map(|limits| line(limits.high, "upper limit")),
        alt: format!("Readings of {} at {} stations. {caption}", keys.feature, keys.readings.stations.len()),
        caption,
    })
}

/// As typed; or those of the part's drawing, which is said.
fn limits(edition: &Edition, id: MeasurementId) -> Option<Fact> {
    let typed = edition.dossier()[id].limits.as_ref();
    let drawn = || edition.limits(id).filter(|_| edition.dossier().limits(id).is_none());
    let fact =
        |limits: &Literal, by: &str| Fact::new("limits", format!("{}{by}", edition.amounts.typed(limits)));
    typed.map(|limits| fact(limits, "")).or_else(|| drawn().map(|limits| fact(limits, ", by the drawing")))
}

fn place(index: usize) -> f64 {
    f64::from(u32::try_from(index).unwrap_or(u32::MAX))
}

fn series(dossier: &Dossier, id: MeasurementId, unit: Unit, name: &'static str) -> Series {
    let keys = &dossier[id];
    let within = keys.instrument.and_then(|instrument| dossier[instrument].within.clone());
    let points = keys.readings.stations.iter().enumerate().flat_map(|(at, station)| {
        station
            .readings
            .iter()
            .map(move |reading| Point { at: place(at), value: unit.from_si(reading.value) })
    });
    Series {
        name,
        uncertainty: within.map(|within| unit.interval_from_si(within.nominal)),
        points: points.collect(),
    }
}

/// What to see in the plot: how far past the limit, or that the limits are held; and what has become of it.
fn caption(edition: &Edition, id: MeasurementId, left: Option<MeasurementId>) -> String {
    let found = caption_of(edition.project, id);
    match left.and_then(|left| held::against(edition, left)) {
        Some(left) => format!("{found} As left, the rings: {}.", decapital(&left.says)),
        None => found,
    }
}

fn caption_of(project: &Project, id: MeasurementId) -> String {
    let keys = &project.dossier[id];
    let measured = project.worked.measured(id);
    let field = |name: &str| {
        let found = measured.fields.iter().find(|(each, _)| each == name).map(|(_, value)| value);
        found.and_then(Value::quantity).map(|quantity| {
            (quantity.value, print::quantity(quantity, &project.dossier.units).plain().value())
        })
    };
    let outcome = measured.within_limits.as_ref().map(|verdict| verdict.outcome);
    let feature = capital(&keys.feature);
    match (field("beyond"), field("wear"), outcome) {
        (_, _, Some(Outcome::Holds)) => format!("{feature}: within the limits."),
        (Some((beyond, says)), ..) if beyond > 0.0 => {
            format!("{feature}: {says} past the limit at the worst reading.")
        }
        (_, _, Some(Outcome::NotSettled)) => format!("{feature}: not settled against the limits."),
        (_, _, Some(Outcome::Fails)) => format!("{feature}: outside the limits, though not by wear."),
        (_, Some((_, says)), None) if is_worn(keys, measured) => {
            format!("{feature}: {says} of wear from nominal at the worst reading.")
        }
        (_, Some(_), None) if keys.state == MeasurementState::AsFound => {
            format!("{feature}: no wear shown from nominal.")
        }
        _ => format!("{feature}, station by station."),
    }
}
