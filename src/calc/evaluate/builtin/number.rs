//! Functions of one number of any dimension: roots, size, whole numbers, kelvin.

use std::ops::Range;

use crate::calc::dimension::{Dimension, Exponent};
use crate::calc::evaluate::smooth::{Curve, Shape};
use crate::calc::evaluate::{Eval, Evaluator, turns};
use crate::calc::fault;
use crate::calc::span::Span;
use crate::calc::uncertainty::Uncertainty;
use crate::calc::value::{Quantity, Style, Value, with_article};

pub(super) fn root(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity, degree: i32) -> Eval<Quantity> {
    if x.is_point() {
        let help = "Write `absolute(t)` for kelvin above absolute zero.";
        return Err(fault::temperature(range.clone(), "the root of a temperature in degrees", help).into());
    }
    if x.value < 0.0 && degree == 2 {
        return Err(fault::arithmetic(
            range.clone(),
            "this is the root of a negative value",
            "Check the signs.",
        )
        .into());
    }
    let power = Exponent::ratio(1, degree).unwrap_or(Exponent::whole(1));
    let dimension = x.dimension.to_the(power).unwrap_or(Dimension::NONE);
    let unit = x.unit.to_the(power).unwrap_or_default();
    let angle = turns::of_power(x, dimension, power);
    let of: fn(f64) -> f64 = if degree == 2 { f64::sqrt } else { libm::cbrt };
    let share = power.as_number();
    let slope = |value: f64| share * of(value) / value;
    let (shape, domain) = match degree {
        2 => (Shape::Plain, Span::new(0.0, f64::INFINITY)),
        _ => (Shape::Odd, Span::ALL),
    };
    let result = eval.through(
        range.clone(),
        x.clone(),
        "this root",
        &Curve { of: &of, slope: &slope, shape, domain },
    )?;
    Ok(Quantity { dimension, angle, unit, style: Style::Derived, ..result })
}

pub(super) fn absolute_size(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity) -> Eval<Quantity> {
    let slope = |value: f64| if value < 0.0 { -1.0 } else { 1.0 };
    let curve = Curve { of: &f64::abs, slope: &slope, shape: Shape::Even, domain: Span::ALL };
    eval.through(range.clone(), x.clone(), "`abs`", &curve)
}

/// A whole number; where the bounds reach over a step it is any that they hold.
pub(super) fn whole(
    eval: &mut Evaluator,
    range: &Range<usize>,
    x: &Quantity,
    to: fn(f64) -> f64,
) -> Eval<Quantity> {
    if x.dimension != Dimension::NONE {
        let found = with_article(&x.dimension.to_string());
        let help = "Divide by the unit first, and multiply by it afterwards.";
        return Err(fault::dimension(range.clone(), "a plain number", &found, help.to_owned()).into());
    }
    if !x.angle.is_zero() {
        let help = "Divide by the unit first, and multiply by it afterwards: `round(n / (1 rev)) * 1 rev`.";
        return Err(fault::dimension(range.clone(), "a plain number", "an angle", help.to_owned()).into());
    }
    // What can't be distinguished from a whole number is that number.
    let step =
        |value: f64| if (value - value.round()).abs() <= x.rounding { value.round() } else { to(value) };
    let whole = Quantity::number(step(x.value));
    let Span { low, high } = x.ends();
    let rest = Span::new(step(low), step(high)).moved(-whole.value);
    Ok(Quantity { uncertainty: Uncertainty::NONE.bent(rest, eval.sources), ..whole })
}

pub(super) fn kelvin(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity) -> Eval<Quantity> {
    if !x.is_point() {
        let found = Value::Quantity(x.clone()).kind();
        let help = "Write a temperature such as `20 degC`.";
        return Err(fault::dimension(range.clone(), "a temperature", &found, help.to_owned()).into());
    }
    Ok(Quantity { unit: eval.known.units.named("K").unwrap_or_default(), style: Style::Chosen, ..x.clone() })
}
