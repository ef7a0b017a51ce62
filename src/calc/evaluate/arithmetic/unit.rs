//! The unit and the style in which a sum, a product or a quotient prints.

use crate::calc::dimension::{Dimension, Exponent};
use crate::calc::units::Unit;
use crate::calc::value::{Quantity, Style};

impl Style {
    /// Of a sum with a value of this style.
    pub(super) fn of_sum(self) -> Self {
        if let Self::Fraction(_) | Self::Typed(_) = self { Self::Chosen } else { self }
    }

    /// Of a product with a plain number: the step of a table does not outlive it.
    fn of_product(self) -> Self {
        match self {
            Self::Fraction(_) | Self::Step(_) | Self::Typed(_) | Self::Read(_) => Self::Chosen,
            style => style,
        }
    }
}

impl Quantity {
    /// Of the sum in this one's unit: a size of a table keeps its figures, and readings have no more than the coarser of
    /// them.
    pub(in crate::calc::evaluate) fn style_of_sum(&self, other: &Self) -> Style {
        match (self.style, other.style) {
            (Style::Read(here), Style::Read(_)) => match other.step_in(self.unit) {
                Style::Read(there) => Style::Read(here.min(there)),
                style => style,
            },
            (Style::Chosen | Style::Typed(_) | Style::Step(_) | Style::Fraction(_), Style::Read(_))
            | (Style::Chosen | Style::Typed(_), Style::Step(_)) => other.step_in(self.unit),
            (Style::Typed(here), Style::Typed(there)) if self.unit == other.unit => {
                Style::Typed(here.min(there))
            }
            (Style::Typed(_), _) => Style::Chosen,
            (Style::Step(here), Style::Step(_)) => match other.step_in(self.unit) {
                Style::Step(there) => Style::Step(here.max(there)),
                style => style,
            },
            (style, _) => style.of_sum(),
        }
    }
}

impl Quantity {
    /// The style of readings times an exact plain number, or a part of them: their last figure counts as many times as much.
    pub(super) fn read_times(&self, plain: &Self, factor: f64) -> Option<Style> {
        let Style::Read(decimals) = self.style else { return None };
        let is_plain =
            plain.dimension == Dimension::NONE && plain.unit.is_none() && plain.uncertainty.is_none();
        let step = self.unit.interval_to_si(libm::pow(10.0, -f64::from(decimals))) * factor.abs();
        (is_plain && step > 0.0 && step.is_finite()).then(|| Style::read(step, self.unit))
    }
}

/// The unit of a product or quotient; a plain number leaves the other's alone, an angle does not.
pub(super) fn product_unit(
    a: &Quantity,
    b: &Quantity,
    (dimension, angle): (Dimension, Exponent),
    join: fn(Unit, Unit) -> Option<Unit>,
) -> (Unit, Style) {
    if a.unit.has_angle() || b.unit.has_angle() {
        return turning_unit(a, b, (dimension, angle), join);
    }
    if b.dimension == Dimension::NONE {
        let keeps = a.dimension != Dimension::NONE || b.unit.is_none();
        return if keeps { (a.unit, a.style.of_product()) } else { (Unit::NONE, Style::Chosen) };
    }
    if dimension == Dimension::NONE && a.dimension != Dimension::NONE {
        return (Unit::NONE, Style::Chosen);
    }
    let unit_of_a = if a.dimension == Dimension::NONE { Unit::NONE } else { a.unit };
    let unit = join(unit_of_a, b.unit);
    let style =
        if unit_of_a.is_none() && unit == Some(b.unit) { b.style.of_product() } else { Style::Derived };
    (unit.unwrap_or_default(), style)
}

/// The same where a unit of angle is in it: kept as typed, but for a number of turns, radians or degrees.
fn turning_unit(
    a: &Quantity,
    b: &Quantity,
    (dimension, angle): (Dimension, Exponent),
    join: fn(Unit, Unit) -> Option<Unit>,
) -> (Unit, Style) {
    if dimension == Dimension::NONE {
        let of_angle = a.unit.of_angle().or(b.unit.of_angle()).filter(|_| angle == Exponent::whole(1));
        return (of_angle.unwrap_or_default(), Style::Chosen);
    }
    if b.unit.is_none() {
        return (a.unit, a.style.of_product());
    }
    let kept = |quantity: &Quantity| {
        let is_number = quantity.dimension == Dimension::NONE && !quantity.unit.has_angle();
        if is_number { Unit::NONE } else { quantity.unit }
    };
    let unit = join(kept(a), kept(b)).unwrap_or_default();
    let style = if unit == b.unit { b.style.of_product() } else { Style::Derived };
    (unit, style)
}
