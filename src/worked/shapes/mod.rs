//! The parts' key `shape:` with every size that is known: expressions worked out, classes of fits as limits.

mod fitted;
mod held_against;
mod judged;
mod making;
mod problems;

use std::sync::Arc;

use super::scopes::bounded;
use super::{Fitted, Worked};
use crate::calc;
use crate::calc::dimension::Dimension;
use crate::calc::function::Refusal;
use crate::calc::sheet::Named;
use crate::calc::uncertainty::Sources;
use crate::calc::units::System;
use crate::calc::value::Value;
use crate::diagnostic::Problem;
use crate::dossier::{Dossier, NoteId, PartId, Resolved};
use crate::record::{Formula, Shaped};
use crate::shape::{
    Body, Fault, Key, Limits, Origin, Shape, Size, Unit, check, features, sharp_shoulder, visit,
};
use crate::trade::limits::iso286::{Class, deviations};

pub(super) use judged::{formed_limits, typed_limits};
pub use making::Making;

/// A part's shape with every size that is known.
#[derive(Clone, Debug)]
pub struct Formed {
    pub part: PartId,
    pub shape: Shape,
    /// What is wrong with it; empty when it can be drawn.
    pub faults: Vec<Fault>,
    /// Sizes without limits or figures, each with its reason.
    wrong: Vec<(Key, Wrong)>,
}

/// A shoulder without radius or undercut.
#[derive(Clone, Debug)]
pub struct SharpCorner {
    /// The segment on its smaller side.
    pub feature: Key,
    /// Both diameters, as printed.
    pub between: String,
}

/// Why a size has no limits or no figure.
#[derive(Clone, Debug)]
pub(super) enum Wrong {
    /// Its class gives none.
    Class(Refusal),
    /// Its expression is no length.
    NoLength(Option<Dimension>),
}

impl Formed {
    /// Whether it can be drawn and measured.
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty() && self.wrong.is_empty()
    }

    /// The first shoulder that is cut on it with nothing in its corner.
    pub fn sharp_shoulder(&self) -> Option<SharpCorner> {
        let Body::Turned(turned) = &self.shape.body else { return None };
        let sharp = sharp_shoulder(turned).filter(|_| self.is_sound())?;
        let of = crate::shape::unit(&self.shape);
        let [small, large] = [sharp.d.0, sharp.d.1].map(|d| problems::length(d, of));
        Some(SharpCorner { feature: sharp.feature, between: format!("⌀{small} and ⌀{large}") })
    }
}

/// Every shape whose expressions have a value, in the order of the parts.
pub(super) fn all(dossier: &Dossier, worked: &Worked) -> Vec<Formed> {
    let one = |part: PartId| formed(dossier, worked, part, dossier[part].shape.as_ref()?);
    dossier.parts.ids().filter_map(one).collect()
}

/// `None` while an expression has no value: its own fault is reported already.
fn formed(dossier: &Dossier, worked: &Worked, part: PartId, shaped: &Shaped<Resolved>) -> Option<Formed> {
    let (mut shape, mut wrong, mut is_known) = (shaped.shape.clone(), Vec::new(), true);
    visit(&mut shape, &mut |_, size| {
        if let Some(formula) = shaped.formulas.iter().find(|formula| formula.key == size.key) {
            match worked.quote(formula.span).and_then(|quote| quote.value.as_ref()) {
                None => is_known = false,
                Some(value) => fill(size, value, &mut wrong),
            }
            if is_reading(&formula.text, dossier) {
                size.origin = Origin::Measured;
            }
        }
        limit(size, &mut wrong);
    });
    let faults = if wrong.is_empty() { check(&shape) } else { Vec::new() };
    is_known.then_some(Formed { part, shape, faults, wrong })
}

fn fill(size: &mut Size, value: &Value, wrong: &mut Vec<(Key, Wrong)>) {
    let Value::Quantity(quantity) = value else {
        wrong.push((size.key, Wrong::NoLength(None)));
        return;
    };
    if quantity.dimension != Dimension::LENGTH {
        wrong.push((size.key, Wrong::NoLength(Some(quantity.dimension))));
        return;
    }
    size.unit = match quantity.unit.system() {
        Some(System::Inch) => Unit::Inch,
        Some(System::Metric) => Unit::Millimetre,
        None => size.unit,
    };
    size.text = rounded(quantity.value, size);
    size.nominal = size.text.parse().ok().map(|figure: f64| figure * size.unit.metres());
}

/// To 0.01 mm or 0.001 in; a decimal more where a class of fit or limits follow.
fn rounded(metres: f64, size: &Size) -> String {
    let coarse = if size.unit == Unit::Inch { 3 } else { 2 };
    let decimals = coarse + usize::from(size.class.is_some() || size.limits.is_some());
    let text = format!("{:.decimals$}", metres / size.unit.metres());
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// Whether it is nothing but what a measurement gives: `@post-journal.mean`.
fn is_reading(formula: &str, dossier: &Dossier) -> bool {
    let id = formula.strip_prefix('@').and_then(|rest| rest.split_once('.')).map(|(id, _)| id);
    let is_name = formula.chars().skip(1).all(|each| each.is_alphanumeric() || "-_.".contains(each));
    is_name && matches!(id.and_then(|id| dossier.find(id)), Some(NoteId::Measurement(_)))
}

/// The limits of a size's class.
fn limit(size: &mut Size, wrong: &mut Vec<(Key, Wrong)>) {
    let (Some(class), Some(nominal)) = (&size.class, size.nominal) else { return };
    match of_class(class, nominal, size.unit) {
        Ok(limits) => size.limits = Some(limits),
        Err(refusal) => wrong.push((size.key, Wrong::Class(refusal))),
    }
}

fn of_class(class: &str, nominal: f64, unit: Unit) -> Result<Limits, Refusal> {
    let found = Class::parse(class).and_then(|class| deviations(class, nominal * 1e3))?;
    let limits = Limits { upper: found.upper_um * 1e-6, lower: found.lower_um * 1e-6 };
    Ok(if unit == Unit::Inch { in_ten_thousandths(limits) } else { limits })
}

/// The tables are in micrometres: an inch size gets the nearest ten-thousandths of an inch that do not go past a limit by
/// more than 2 % of the tolerance, else those within (ISO 370:1975, method A, from memory).
fn in_ten_thousandths(limits: Limits) -> Limits {
    const STEP: f64 = 0.0001 * 0.0254;
    const SLACK: f64 = 1e-6;
    let beyond = 0.02 * (limits.upper - limits.lower) / STEP + SLACK;
    let (most, least) = (limits.upper / STEP, limits.lower / STEP);
    let upper = if most.round() - most <= beyond { most.round() } else { most.floor() } * STEP;
    let lower = if least - least.round() <= beyond { least.round() } else { least.ceil() } * STEP;
    if lower < upper { Limits { upper, lower } } else { limits }
}

/// The least and the most of every named size that is typed, in metres, by its name in a calculation.
pub(super) fn named(shape: &Shape) -> Vec<(String, (f64, f64), Unit)> {
    let ends = |(name, size): (String, &Size)| {
        let mut size = size.clone();
        limit(&mut size, &mut Vec::new());
        Some((said(&name), ends(&size)?, size.unit))
    };
    features(shape).into_iter().filter_map(ends).collect()
}

/// A name in a calculation has no blanks or hyphens.
fn said(name: &str) -> String {
    name.replace([' ', '-'], "_")
}

/// The least and the most of a size that is known; `None` while it is on hold, or if its class gives no limits.
fn ends(size: &Size) -> Option<(f64, f64)> {
    let nominal = size.nominal.filter(|_| !size.on_hold())?;
    let none = Limits { lower: 0.0, upper: 0.0 };
    let limits = if size.class.is_some() { size.limits? } else { size.limits.unwrap_or(none) };
    Some((nominal + limits.lower, nominal + limits.upper))
}

/// A size that is worked out, under the name that calculations ask for it by: as it stands on the drawing, with its limits
/// as bounds. `None` for a size without a name.
pub(super) fn named_formula(
    dossier: &Dossier,
    part: PartId,
    shaped: &Shaped<Resolved>,
    formula: &Formula,
) -> Option<Named> {
    let features = features(&shaped.shape);
    let (name, size) = features.into_iter().find(|(_, size)| size.key == formula.key)?;
    let (name, size) = (said(&name), size.clone());
    let label = format!("{name} of {}", dossier[part].id());
    let units = [Unit::Millimetre, Unit::Inch].map(|each| (each, unit(dossier, each)));
    let becomes = move |value: &Value, sources: &mut Sources| {
        let mut size = size.clone();
        fill(&mut size, value, &mut Vec::new());
        limit(&mut size, &mut Vec::new());
        let (low, high) = ends(&size)?;
        let unit = units.iter().find(|(each, _)| *each == size.unit)?.1;
        Some(bounded(low, high, unit, &label, sources))
    };
    Some(Named { name, becomes: Arc::new(becomes) })
}

/// A unit of sizes as the engine has it.
pub(super) fn unit(dossier: &Dossier, unit: Unit) -> calc::units::Unit {
    dossier.units.named(unit.symbol()).unwrap_or_else(|| calc::units::Unit::coherent(Dimension::LENGTH))
}

/// What is wrong with the shapes.
pub(super) fn problems(dossier: &Dossier, shapes: &[Formed], fits: &[Fitted]) -> Vec<Problem> {
    let of = |formed: &Formed| {
        let part = &dossier[formed.part];
        let Some(shaped) = &part.shape else { return Vec::new() };
        let say = problems::Say { shaped, id: part.id(), unit: crate::shape::unit(&formed.shape) };
        let wrong = formed.wrong.iter().map(|(key, wrong)| say.wrong(*key, wrong));
        let faults = formed.faults.iter().map(|fault| say.fault(fault));
        let fits = fitted::problems(dossier, formed, fits);
        wrong.chain(faults).chain(held_against::problems(dossier, formed)).chain(fits).collect()
    };
    shapes.iter().flat_map(of).collect()
}
