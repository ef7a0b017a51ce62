//! Sum, product, quotient and power of quantities with uncertainty.

mod power;
mod unit;
mod unlike;

use std::borrow::Cow;
use std::ops::Range;

use super::super::dimension::{Dimension, Exponent};
use super::super::fault;
use super::super::rounding::Rounded;
use super::super::span::Span;
use super::super::syntax::NodeId;
use super::super::uncertainty::{Sources, Uncertainty};
use super::super::units::Unit;
use super::super::value::{Quantity, Style, Value};
use super::{Eval, Evaluator, Frame, Operand, Site, Stop};
use unit::product_unit;
pub(super) use unlike::{weight, weight_of};

/// What an operation makes of two quantities, with its slopes by both.
pub(super) struct Joint {
    value: Rounded,
    dimension: Dimension,
    angle: Exponent,
    unit: Unit,
    style: Style,
    slopes: [f64; 2],
    /// What the slopes leave out.
    rest: Rest,
}

/// What the slopes of an operation leave out, and between which ends its result lies.
enum Rest {
    Nothing,
    /// A source of uncertainty that the operation itself brings.
    Bound(Uncertainty),
    Product,
    Quotient,
    /// What is left out, and the ends of the result.
    Curve(Span, Span),
}

impl Joint {
    /// The result, with the uncertainty of both that went into it.
    pub(super) fn of(self, a: Cow<Quantity>, b: Cow<Quantity>, sources: &mut Sources) -> Quantity {
        let Self { value: Rounded { value, bound: rounding }, dimension, angle, unit, style, slopes, rest } =
            self;
        let uncertainty = match rest {
            Rest::Bound(bound) => joined(a, b, slopes).plus(bound),
            _ if a.uncertainty.is_none() && b.uncertainty.is_none() => Uncertainty::NONE,
            Rest::Product if !a.uncertainty.is_none() && !b.uncertainty.is_none() => {
                let (rest, ends) =
                    (Uncertainty::product(&a.uncertainty, &b.uncertainty), a.ends().times(b.ends()));
                joined(a, b, slopes).bent(rest, sources).within(ends.moved(-value))
            }
            Rest::Quotient if !b.uncertainty.is_none() => {
                let below = inverse(b.ends());
                let ends = a.ends().times(below);
                let uncertainty = Uncertainty::combined(
                    Cow::Borrowed(&a.uncertainty),
                    slopes[0],
                    Cow::Borrowed(&b.uncertainty),
                    slopes[1],
                );
                // a/b is c + (a - c b)/b with c of their values.
                let rest = Uncertainty::product(&uncertainty, &b.uncertainty).times(below).scaled(-1.0);
                uncertainty.bent(rest, sources).within(ends.moved(-value))
            }
            Rest::Curve(rest, ends) => joined(a, b, slopes).bent(rest, sources).within(ends.moved(-value)),
            _ => joined(a, b, slopes),
        };
        Quantity { value, rounding, dimension, angle, unit, style, uncertainty }
    }
}

fn joined(a: Cow<Quantity>, b: Cow<Quantity>, [by_a, by_b]: [f64; 2]) -> Uncertainty {
    Uncertainty::combined(uncertainty_of(a), by_a, uncertainty_of(b), by_b)
}

/// One over a span that does not hold zero.
fn inverse(span: Span) -> Span {
    if span.is_finite() { Span::new(1.0 / span.high, 1.0 / span.low) } else { Span::ALL }
}

fn uncertainty_of(quantity: Cow<Quantity>) -> Cow<Uncertainty> {
    match quantity {
        Cow::Borrowed(quantity) => Cow::Borrowed(&quantity.uncertainty),
        Cow::Owned(quantity) => Cow::Owned(quantity.uncertainty),
    }
}

impl Evaluator<'_> {
    pub(super) fn add(&mut self, site: &Site, a: &Quantity, b: &Quantity, sign: f64) -> Eval<Joint> {
        if a.dimension != b.dimension {
            return Err(self.unlike(site, if sign > 0.0 { "adding" } else { "subtracting" }, a, b));
        }
        let (unit, style) = match (a.is_point(), b.is_point()) {
            (false, false) if a.unit.is_none() => (b.unit, b.style.of_sum()),
            (false, false) | (true, false) => (a.unit, a.style_of_sum(b)),
            (true, true) if sign < 0.0 => (a.unit.of_difference(), Style::Chosen),
            (false, true) if sign > 0.0 => (b.unit, b.style),
            (true, true) => return Err(two_points(site)),
            (false, true) => return Err(point_from_difference(site)),
        };
        self.same_turns(&site.range(), site.sides(a, b))?;
        let value = Rounded::sum(a.as_rounded(), b.as_rounded(), sign);
        let angle = if a.angle == b.angle { a.angle } else { unit.angle() };
        Ok(Joint {
            value,
            dimension: a.dimension,
            angle,
            unit,
            style,
            slopes: [1.0, sign],
            rest: Rest::Nothing,
        })
    }

    /// `low .. high`: the middle, with half of the distance, as large as it can be, as a bound of its own.
    pub(super) fn to(&mut self, site: &Site, low: &Quantity, high: &Quantity) -> Eval<Joint> {
        self.alike(site, low, high)?;
        let half = (high.value - low.value) / 2.0;
        if half < 0.0 {
            return Err(fault::backwards(site.range()).into());
        }
        let distance = Uncertainty::of_difference(&high.uncertainty, &low.uncertainty);
        Ok(Joint {
            value: Rounded { value: low.value + half, bound: low.rounding.max(high.rounding) },
            dimension: low.dimension,
            angle: low.angle,
            unit: low.unit,
            style: low.style_of_sum(high),
            slopes: [0.5, 0.5],
            rest: self.bound(site, half + distance.worst() / 2.0),
        })
    }

    /// `middle ± bound`, the bound in per cent of the middle or in its unit; a bound that is uncertain itself counts with
    /// the largest that it can be.
    pub(super) fn plus_minus(&mut self, site: &Site, middle: &Quantity, bound: &Quantity) -> Eval<Joint> {
        let is_share = bound.unit.is_percent() && !middle.unit.is_percent() && !middle.is_point();
        if !is_share && (middle.dimension != bound.dimension || bound.is_point()) {
            return Err(self.unlike(site, "bounding", middle, bound));
        }
        if bound.value < 0.0 {
            return Err(fault::negative_bound(site.right()).into());
        }
        Ok(Joint {
            value: middle.as_rounded(),
            dimension: middle.dimension,
            angle: middle.angle,
            unit: middle.unit,
            style: middle.style,
            slopes: [1.0, 0.0],
            rest: {
                let most = bound.ends().high;
                self.bound(site, if is_share { most * middle.ends().reach() } else { most })
            },
        })
    }

    fn bound(&mut self, site: &Site, half: f64) -> Rest {
        Rest::Bound(Uncertainty::bound(self.sources.fresh(site.cause()), half))
    }

    fn alike(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Eval<()> {
        if a.dimension == b.dimension && a.is_point() == b.is_point() {
            return self.same_turns(&site.range(), site.sides(a, b));
        }
        Err(self.unlike(site, "making a range of", a, b))
    }

    pub(super) fn multiply(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Eval<Joint> {
        no_points(site, a, b, "multiplying")?;
        let dimension = product(site, a.dimension.times(b.dimension))?;
        let angle = self.angle_of_product(site, a, b);
        let (unit, style) = product_unit(a, b, (dimension, angle), Unit::times);
        let read = a.read_times(b, b.value).or_else(|| b.read_times(a, a.value));
        let style = read.filter(|_| unit == a.unit || unit == b.unit).unwrap_or(style);
        let value = Rounded::product(a.as_rounded(), b.as_rounded());
        let slopes = [b.value, a.value];
        Ok(Joint { value, dimension, angle, unit, style, slopes, rest: Rest::Product })
    }

    pub(super) fn divide(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Eval<Joint> {
        no_points(site, a, b, "dividing")?;
        if b.value == 0.0 {
            let help = "Look at how the divisor came about.";
            return Err(fault::arithmetic(site.right(), "this divisor is zero", help).into());
        }
        let has_pole = !b.uncertainty.is_none() && b.ends().holds(0.0);
        if has_pole && !b.uncertainty.is_open() {
            self.cautions.push(fault::divisor_may_be_zero(site.right()));
        }
        let dimension = product(site, a.dimension.per(b.dimension))?;
        let angle = self.angle_of_quotient(site, a, b);
        let (unit, style) = product_unit(a, b, (dimension, angle), Unit::per);
        let style = a.read_times(b, 1.0 / b.value).filter(|_| unit == a.unit).unwrap_or(style);
        let value = Rounded::quotient(a.as_rounded(), b.as_rounded());
        let slopes = [1.0 / b.value, -value.value / b.value];
        let rest = if has_pole { Rest::Curve(Span::ALL, Span::ALL) } else { Rest::Quotient };
        Ok(Joint { value, dimension, angle, unit, style, slopes, rest })
    }

    pub(super) fn negate(&mut self, frame: Frame, inner: NodeId) -> Eval<Value> {
        let range = frame.tree().span(inner);
        match self.operand(frame, inner)? {
            Operand::One(quantity) => negative(&range, quantity.into_owned()).map(Value::Quantity),
            Operand::Many(list) => {
                let list: Eval<Vec<Value>> =
                    list.into_iter().map(|each| negative(&range, each).map(Value::Quantity)).collect();
                list.map(Value::list)
            }
        }
    }
}

fn negative(range: &Range<usize>, quantity: Quantity) -> Eval<Quantity> {
    if quantity.is_point() {
        let help = "Write the sign at the number: `-5 degC`.";
        return Err(fault::temperature(range.clone(), "the negative of a temperature", help).into());
    }
    let uncertainty = quantity.uncertainty.scaled(-1.0);
    Ok(Quantity { value: -quantity.value, uncertainty, ..quantity })
}

fn two_points(site: &Site) -> Stop {
    let help = "Write the rise as a difference: `20 degC + 5 K`, or `+ 9 degF_diff`.";
    fault::temperature(site.range(), "adding two temperatures", help)
        .label(site.right(), "a point on the scale")
        .into()
}

fn point_from_difference(site: &Site) -> Stop {
    let help = "A temperature less another is a difference; a difference less a temperature is nothing.";
    fault::temperature(site.range(), "subtracting a temperature from a difference", help).into()
}

fn no_points(site: &Site, a: &Quantity, b: &Quantity, doing: &str) -> Eval<()> {
    for (quantity, range) in [(a, site.left()), (b, site.right())] {
        if quantity.is_point() {
            let help = "Take a difference of two temperatures, or write `absolute(t)` for kelvin above absolute zero.";
            return Err(fault::temperature(range, &format!("{doing} a temperature in degrees"), help).into());
        }
    }
    Ok(())
}

fn product(site: &Site, dimension: Option<Dimension>) -> Eval<Dimension> {
    dimension.ok_or_else(|| {
        let help = "Check the exponents.";
        fault::arithmetic(site.range(), "the dimension of this result has exponents too large to keep", help)
            .into()
    })
}

/// A difference of two values of one kind, for checks.
pub(super) fn difference(a: &Quantity, b: &Quantity) -> Quantity {
    Quantity { style: Style::Derived, ..a.difference(b) }
}
