//! The sizes of a job with their limits in figures: from its fits, its toleranced dimensions and its measurements.

use serde::Serialize;

use super::super::prose::decapital;
use super::super::{fit, measurement};
use super::scope::Scope;
use crate::calc::dimension::Dimension;
use crate::calc::literal::{Form, Literal};
use crate::calc::print::{self, rounded};
use crate::calc::sheet::LineOutcome;
use crate::calc::units::Unit;
use crate::dossier::{MeasurementId, Noted, PartId, Resolved};
use crate::record::{Measurement, MeasurementState};
use crate::trade::limits::fit::Resolved as Limited;
use crate::trade::limits::iso286::Member;

/// A line of the table of sizes, as it is printed: numbers are text in `unit`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Size {
    pub(super) feature: String,
    #[serde(flatten)]
    pub(super) figures: Printed,
    /// The same in the other system, where the dossier asks for both.
    other: Option<Printed>,
    /// A feature of the job's own parts, to be measured when it is done.
    pub(super) is_ours: bool,
}

/// The figures of a size in one unit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Printed {
    nominal: Option<String>,
    pub(super) least: Option<String>,
    pub(super) most: Option<String>,
    pub(super) unit: String,
    found_least: Option<String>,
    found_most: Option<String>,
}

impl Size {
    fn limits(&self) -> [Option<&String>; 4] {
        let figures = &self.figures;
        [figures.least.as_ref(), figures.most.as_ref(), Some(&figures.unit), figures.found_most.as_ref()]
    }

    /// Whether it says what is wanted, not only what was found.
    pub(super) fn is_wanted(&self) -> bool {
        let figures = &self.figures;
        figures.least.is_some() || figures.most.is_some() || figures.nominal.is_some()
    }
}

/// A line of the table before it is printed.
struct Line {
    feature: String,
    unit: Unit,
    nominal: Option<Figure>,
    least: Option<Figure>,
    most: Option<Figure>,
    found_least: Option<Figure>,
    found_most: Option<Figure>,
    is_ours: bool,
}

/// A size with what its printing needs.
#[derive(Clone, Copy)]
struct Figure {
    /// In SI units.
    size: f64,
    /// In the unit of the line.
    decimals: i32,
    /// One unit of the last figure that was typed or read, in SI units.
    step: f64,
}

impl Figure {
    /// To so many decimals of the unit.
    fn to(decimals: i32, unit: Unit, size: f64) -> Self {
        let step = unit.interval_to_si(libm::pow(10.0, -f64::from(decimals)));
        Self { size, decimals, step }
    }
}

impl Line {
    fn printed(self, scope: &Scope) -> Size {
        let units = &scope.edition.dossier().units;
        let figures = [self.nominal, self.least, self.most, self.found_least, self.found_most];
        let largest = figures.iter().flatten().map(|figure| figure.size).fold(0.0, f64::max);
        let other = units.counterpart(self.unit, largest).filter(|_| scope.edition.amounts.shows_both);
        let in_other = |unit: Unit| {
            Printed::of(figures, unit, |figure| print::systems::reading(figure.size, figure.step, unit))
        };
        let in_own = |figure: Figure| rounded(self.unit.from_si(figure.size), figure.decimals);
        Size {
            feature: self.feature,
            figures: Printed::of(figures, self.unit, in_own),
            other: other.map(in_other),
            is_ours: self.is_ours,
        }
    }
}

impl Printed {
    fn of(figures: [Option<Figure>; 5], unit: Unit, print: impl Fn(Figure) -> String) -> Self {
        let [nominal, least, most, found_least, found_most] = figures.map(|figure| figure.map(&print));
        Self { nominal, least, most, unit: unit.shown(), found_least, found_most }
    }
}

/// Fits first, then what the working fixes, then what was measured.
pub(super) fn sizes(scope: &Scope) -> Vec<Size> {
    let fits = scope.sized.iter().flat_map(|part| of_fit(scope, *part));
    let drawn = scope.shaped.iter().flat_map(|part| toleranced(scope, *part));
    let measured = scope.measurements.iter().filter_map(|id| measured(scope, *id));
    let mut sizes: Vec<Size> = Vec::new();
    for line in fits.chain(drawn).chain(measured) {
        let size = line.printed(scope);
        let is_known = |known: &Size| known.is_wanted() && known.limits() == size.limits();
        if !sizes.iter().any(is_known) {
            sizes.push(size);
        }
    }
    sizes
}

// A fit

/// Both members of the part's fit, since a fit is held by both.
fn of_fit(scope: &Scope, part: PartId) -> Vec<Line> {
    let keys = &scope.edition.dossier()[part];
    let Some(fit) = keys.fit.as_ref().filter(|fit| scope.redaction.is_open(fit.with)) else {
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
) -> Line {
    let unit = fit::length_unit(scope.edition.dossier(), at.unit);
    let decimals = fit::places(scope.edition.dossier(), limits, [least, most], unit);
    let figure = |size: f64| Some(Figure::to(decimals, unit, size));
    Line {
        feature,
        unit,
        nominal: figure(at.nominal),
        least: figure(least),
        most: figure(most),
        found_least: None,
        found_most: None,
        is_ours: true,
    }
}

// Toleranced dimensions

/// Lines of the shown working that are a dimension with limits, as a drawing has it: `bore = 3.9730 in +0.0022/-0`.
fn toleranced(scope: &Scope, part: PartId) -> Vec<Line> {
    let edition = scope.edition;
    let blocks = scope.blocks_of(part).iter().filter_map(|span| edition.project.worked.block(*span));
    let line = |line: &LineOutcome| {
        let literal = line.literal.as_ref()?;
        let is_drawn = literal.form == Form::Limits && literal.dimension() == Dimension::LENGTH;
        let name = line.name.as_ref()?.replace('_', " ");
        is_drawn.then(|| of_literal(scope.of_part(part, &name), literal))
    };
    blocks.flat_map(|block| &block.lines).filter_map(line).collect()
}

fn of_literal(feature: String, literal: &Literal) -> Line {
    let figure = |size: f64| Some(typed_figure(literal, size));
    Line {
        feature,
        unit: literal.unit,
        nominal: figure(literal.nominal),
        least: figure(literal.low),
        most: figure(literal.high),
        found_least: None,
        found_most: None,
        is_ours: true,
    }
}

/// A size that a literal says, as finely as it says it.
fn typed_figure(literal: &Literal, size: f64) -> Figure {
    let figure = Figure::to(literal.decimals(), literal.unit, size);
    if literal.has_fraction() { Figure { step: print::systems::fineness(literal), ..figure } } else { figure }
}

// Measurements

pub(super) type Taken = Noted<Measurement<Resolved>>;

/// Limits and nominal beside the smallest and the largest reading.
fn measured(scope: &Scope, id: MeasurementId) -> Option<Line> {
    let keys = &scope.edition.dossier()[id];
    let says_something = keys.limits.is_some() || keys.nominal.is_some() || is_one_dimension(keys);
    if keys.state != MeasurementState::AsFound || !says_something {
        return None;
    }
    let feature = scope.redaction.text(id, &keys.feature)?;
    let (least, most) = extremes(keys)?;
    let alone = least == most;
    let limits = keys.limits.as_ref();
    Some(Line {
        feature: scope.of_part(keys.of, &feature),
        unit: keys.readings.unit,
        nominal: keys.nominal.as_ref().map(|nominal| in_unit(keys, nominal.nominal, nominal)),
        least: limits.map(|limits| in_unit(keys, limits.low, limits)),
        most: limits.map(|limits| in_unit(keys, limits.high, limits)),
        found_most: Some(reading(keys, most)),
        found_least: (!alone).then(|| reading(keys, least)),
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

/// A limit in the unit of the readings: as finely as it was typed, or as the readings when the unit changes.
fn in_unit(keys: &Taken, size: f64, typed: &Literal) -> Figure {
    if keys.readings.unit == typed.unit { typed_figure(typed, size) } else { reading(keys, size) }
}

/// A size as finely as the finest reading.
fn reading(keys: &Taken, size: f64) -> Figure {
    let unit = keys.readings.unit;
    let decimals = i32::try_from(measurement::decimals(keys, unit)).unwrap_or_default();
    Figure::to(decimals, unit, size)
}
