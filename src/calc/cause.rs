//! What makes values uncertain: where each source comes from, and so what would make it smaller.

use super::print;
use super::uncertainty::{Sources, Term};
use super::units::Unit;
use super::value::Quantity;

/// Where an uncertainty comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Origin {
    /// A bound that a note states for a value.
    #[default]
    Stated,
    /// A bound that a note states for what it assumes.
    Assumed,
    /// How far off an instrument reads.
    Instrument,
    /// The last figure of a reading.
    Reading,
    /// The scatter of repeats.
    Scatter,
    /// The strength that a table gives for a material: the piece in hand was not tested.
    Strength,
    /// Any other range of a table: a coefficient of friction, a modulus.
    Tabulated,
    /// The room that a tolerance or a rule leaves to whoever makes the part.
    Tolerance,
}

/// One thing that makes values uncertain.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cause {
    /// What a budget calls it: `bore: 50.02 mm ± 0.01 mm`.
    pub label: String,
    pub origin: Origin,
    /// The bound in SI units, with the unit that it prints in; none where it is no single bound.
    half_width: Option<(f64, Unit)>,
}

impl Cause {
    pub fn of(origin: Origin, label: impl Into<String>) -> Self {
        Self { label: label.into(), origin, half_width: None }
    }

    /// With its bound: `half_width` in SI units, printed in `unit`.
    #[must_use]
    pub fn bounded(self, half_width: f64, unit: Unit) -> Self {
        Self { half_width: Some((half_width, unit.of_difference())), ..self }
    }
}

impl From<String> for Cause {
    /// A bound that is stated.
    fn from(label: String) -> Self {
        Self::of(Origin::Stated, label)
    }
}

impl From<&str> for Cause {
    /// A bound that is stated.
    fn from(label: &str) -> Self {
        Self::of(Origin::Stated, label)
    }
}

/// The source that contributes most to the uncertainty of a value.
#[derive(Clone, Debug, PartialEq)]
pub struct Dominant {
    pub cause: Cause,
    /// Its share of the variance, from 0 to 1.
    pub share: f64,
    /// How small its bound has to become, all else as it is, for the worst case not to reach past a limit; with its unit. None
    /// where the others reach past it by themselves, or where it is no single bound.
    pub needed: Option<String>,
}

impl Dominant {
    /// What decides whether `margin`, the distance from a limit, is settled; none where nothing contributes, or where
    /// nonlinearity outweighs every source.
    pub(super) fn of(margin: &Quantity, sources: &Sources) -> Option<Self> {
        let uncertainty = &margin.uncertainty;
        let terms = || uncertainty.terms().iter().filter(|term| !term.is_bend());
        let most = terms().max_by(|one, other| one.standard().total_cmp(&other.standard()))?;
        if uncertainty.is_open() || uncertainty.is_curved() {
            return None;
        }
        let variance: f64 = terms().map(|term| term.standard() * term.standard()).sum();
        let cause = sources.cause(most.source)?.clone();
        let needed = cause.half_width.and_then(|bound| needed(bound, most, margin));
        Some(Self { share: most.standard() * most.standard() / variance, needed, cause })
    }
}

/// The bound times what is left for it of the distance, by what it takes now.
fn needed((half_width, unit): (f64, Unit), term: &Term, margin: &Quantity) -> Option<String> {
    let others = margin.uncertainty.worst() - term.worst();
    let left = (margin.value.abs() - others) / term.worst();
    let bound = Quantity::exact(half_width * left, unit.dimension(), unit);
    (term.is_bound() && left > 0.0 && left < 1.0).then(|| print::to_reach(&bound, unit))
}
