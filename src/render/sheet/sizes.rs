//! The sizes of a job with their limits in figures: from its fits, its toleranced dimensions and its measurements.

use serde::Serialize;

use super::super::edition::decapital;
use super::super::{fit, measurement};
use super::scope::Scope;
use crate::calc::dimension::Dimension;
use crate::calc::literal::{Form, Literal, Piece};
use crate::calc::print::{self, places, rounded};
use crate::calc::units::Unit;
use crate::dossier::{MeasurementId, Noted, PartId, Resolved};
use crate::record::{Measurement, MeasurementState};
use crate::trade::limits::fit::Resolved as Limited;
use crate::trade::limits::iso286::Member;

/// A line of the table of sizes. Numbers are text in `unit`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Size {
    pub(super) feature: String,
    pub(super) nominal: Option<String>,
    pub(super) least: Option<String>,
    pub(super) most: Option<String>,
    pub(super) unit: String,
    /// The same in the other system, where the dossier asks for both.
    pub(super) other: Option<Other>,
    #[serde(skip)]
    in_unit: Unit,
    pub(super) found_least: Option<String>,
    pub(super) found_most: Option<String>,
    /// A feature of the job's own parts, to be measured when it is done.
    pub(super) is_ours: bool,
}

/// The figures of a size in the other system.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Other {
    nominal: Option<String>,
    least: Option<String>,
    most: Option<String>,
    unit: String,
    found_least: Option<String>,
    found_most: Option<String>,
}

impl Size {
    fn with_other(mut self, scope: &Scope) -> Self {
        let units = &scope.edition.dossier().units;
        let figures = [&self.nominal, &self.least, &self.most, &self.found_least, &self.found_most];
        let in_si = |figure: &String| Some(self.in_unit.to_si(figure.parse().ok()?));
        let largest = figures.iter().filter_map(|figure| in_si(figure.as_ref()?)).fold(0.0, f64::max);
        let Some(unit) = units.counterpart(self.in_unit, largest).filter(|_| scope.edition.shows_both())
        else {
            return self;
        };
        let [nominal, least, most, found_least, found_most] =
            figures.map(|figure| figure.as_ref().and_then(|figure| in_other(figure, self.in_unit, unit)));
        self.other = Some(Other { nominal, least, most, unit: unit.shown(), found_least, found_most });
        self
    }

    fn limits(&self) -> [Option<&String>; 4] {
        [self.least.as_ref(), self.most.as_ref(), Some(&self.unit), self.found_most.as_ref()]
    }

    /// Whether it says what is wanted, not only what was found.
    pub(super) fn is_wanted(&self) -> bool {
        self.least.is_some() || self.most.is_some() || self.nominal.is_some()
    }
}

/// Fits first, then what the working fixes, then what was measured.
pub(super) fn sizes(scope: &Scope) -> Vec<Size> {
    let fits = scope.sized.iter().flat_map(|part| of_fit(scope, *part));
    let drawn = scope.shaped.iter().flat_map(|part| toleranced(scope, *part));
    let measured = scope.measurements.iter().filter_map(|id| measured(scope, *id));
    let mut sizes: Vec<Size> = Vec::new();
    for size in fits.chain(drawn).chain(measured) {
        let is_known = |known: &Size| known.is_wanted() && known.limits() == size.limits();
        if !sizes.iter().any(is_known) {
            sizes.push(size.with_other(scope));
        }
    }
    sizes
}

// A fit

/// Both members of the part's fit, since a fit is held by both.
fn of_fit(scope: &Scope, part: PartId) -> Vec<Size> {
    let keys = &scope.edition.dossier()[part];
    let Some(fit) = keys.fit.as_ref().filter(|fit| scope.discretion.is_open(fit.with)) else {
        return Vec::new();
    };
    let fitted = scope.edition.project.worked.fit(part);
    let Some(limits) = fitted.and_then(|fitted| fitted.limits.as_ref().ok()) else { return Vec::new() };
    let other = &scope.edition.dossier()[fit.with].name;
    let member = |(member, word): (Member, &str)| {
        let (least, most) = limits.sizes(member)?;
        let feature = scope.of_part(part, &format!("{word}, {} with {}", fit.class.text, decapital(other)));
        Some(limit_line(scope, feature, &fit.at, (least, most), limits))
    };
    [(Member::Hole, "bore"), (Member::Shaft, "shaft")].into_iter().filter_map(member).collect()
}

fn limit_line(
    scope: &Scope,
    feature: String,
    at: &Literal,
    (least, most): (f64, f64),
    limits: &Limited,
) -> Size {
    let unit = fit::length_unit(scope.edition, at.unit);
    let [least, most] = fit::sizes(scope.edition, limits, [least, most], unit);
    let decimals = places(&least);
    Size {
        feature,
        nominal: Some(rounded(unit.from_si(at.nominal), decimals)),
        least: Some(least),
        most: Some(most),
        unit: unit.shown(),
        other: None,
        in_unit: unit,
        found_least: None,
        found_most: None,
        is_ours: true,
    }
}

/// A figure of one unit in another, as finely as its last figure says.
fn in_other(figure: &str, unit: Unit, other: Unit) -> Option<String> {
    let step = unit.interval_to_si(libm::pow(10.0, -f64::from(places(figure))));
    Some(print::systems::reading(unit.to_si(figure.parse().ok()?), step, other))
}

// Toleranced dimensions

/// Lines of the shown working that are a dimension with limits, as a drawing has it: `bore = 3.9730 in +0.0022/-0`.
fn toleranced(scope: &Scope, part: PartId) -> Vec<Size> {
    let edition = scope.edition;
    let blocks = scope.blocks_of(part).iter().filter_map(|span| edition.project.worked.block(*span));
    let line = |line: &crate::calc::sheet::LineOutcome| {
        let literal = Literal::parse(line.as_typed.as_ref()?, &edition.dossier().units).ok()?;
        let is_drawn = literal.form == Form::Limits && literal.dimension() == Dimension::LENGTH;
        let name = line.name.as_ref()?.replace('_', " ");
        is_drawn.then(|| of_literal(scope.of_part(part, &name), &literal))
    };
    blocks.flat_map(|block| &block.lines).filter_map(line).collect()
}

fn of_literal(feature: String, literal: &Literal) -> Size {
    let figure = |value: f64| rounded(literal.unit.from_si(value), decimals_typed(literal));
    Size {
        feature,
        nominal: Some(figure(literal.nominal)),
        least: Some(figure(literal.low)),
        most: Some(figure(literal.high)),
        unit: literal.unit.shown(),
        other: None,
        in_unit: literal.unit,
        found_least: None,
        found_most: None,
        is_ours: true,
    }
}

/// As many decimals as the finest figure was typed with.
fn decimals_typed(literal: &Literal) -> i32 {
    let typed = literal.pieces().iter().map(|piece| match piece {
        Piece::Figures(figures) => places(figures.trim_end()),
        Piece::Limits(upper, lower) => places(upper.trim_end()).max(places(lower.trim_end())),
        _ => 0,
    });
    typed.max().unwrap_or(0)
}

// Measurements

pub(super) type Taken = Noted<Measurement<Resolved>>;

/// Limits and nominal beside the smallest and the largest reading.
fn measured(scope: &Scope, id: MeasurementId) -> Option<Size> {
    let keys = &scope.edition.dossier()[id];
    let says_something = keys.limits.is_some() || keys.nominal.is_some() || is_one_dimension(keys);
    if keys.state != MeasurementState::AsFound || !says_something {
        return None;
    }
    let feature = scope.discretion.text(id, &keys.feature)?;
    let (least, most) = extremes(keys)?;
    let alone = least == most;
    Some(Size {
        feature: scope.of_part(keys.of, &feature),
        nominal: keys.nominal.as_ref().map(|nominal| in_unit(keys, nominal.nominal, nominal)),
        least: keys.limits.as_ref().map(|limits| in_unit(keys, limits.low, limits)),
        most: keys.limits.as_ref().map(|limits| in_unit(keys, limits.high, limits)),
        unit: keys.readings.unit.shown(),
        other: None,
        in_unit: keys.readings.unit,
        found_most: Some(measurement::reading(keys, most)),
        found_least: (!alone).then(|| measurement::reading(keys, least)),
        is_ours: scope.parts.contains(&keys.of),
    })
}

/// A single reading, or repeats of one dimension: a line of the table of sizes says it all.
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

/// A limit in the unit of the readings: as many decimals as it was typed with, or four figures when the unit changes.
fn in_unit(keys: &Taken, value: f64, typed: &Literal) -> String {
    let unit = keys.readings.unit;
    if unit == typed.unit {
        rounded(unit.from_si(value), decimals_typed(typed))
    } else {
        measurement::reading(keys, value)
    }
}
