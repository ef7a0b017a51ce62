//! Metric and inch side by side: the one place that decides how a value reads in the other system.
//!
//! A typed figure says how finely it was read: what is converted shows no coarser and hardly finer than that. The last
//! figure shown counts at most two and a half of the last one typed, and there are three figures at least.

use super::{Printed, Quantity, Way, quantity, round, rounded};
use crate::calc::dimension::Dimension;
use crate::calc::literal::{Form, Literal};
use crate::calc::units::{Unit, Units};

/// A typed quantity in the other system: `58.7 mm` for `2 5/16 in`; `None` for what is in neither, as hours are.
pub fn other_literal(literal: &Literal, units: &Units) -> Option<String> {
    let unit = units.counterpart(literal.unit, literal.high.abs().max(literal.low.abs()))?;
    let decimals = decimals_of(fineness(literal), literal.nominal, unit);
    let figure = |value: f64| rounded(unit.from_si(value), decimals);
    let interval = |value: f64| rounded(unit.interval_from_si(value), decimals);
    let shown = unit.shown();
    let ends = || match literal.dimension() {
        Dimension::MASS => [(literal.low, Way::Down), (literal.high, Way::Up)],
        _ => [(literal.low, Way::Nearest), (literal.high, Way::Nearest)],
    };
    Some(match literal.form {
        Form::Exact => format!("{} {shown}", figure(literal.nominal)),
        Form::PlusMinus => {
            format!("{} {shown} ± {} {shown}", figure(literal.nominal), interval(literal.half_width()))
        }
        Form::Limits => {
            let [upper, lower] = [literal.high, literal.low].map(|end| interval(end - literal.nominal));
            format!("{} {shown} {}/{}", figure(literal.nominal), signed(&upper, '+'), signed(&lower, '-'))
        }
        Form::Range => {
            let [low, high] = ends().map(|(end, way)| round::to(unit.from_si(end), decimals, way));
            format!("{low} to {high} {shown}")
        }
    })
}

/// A worked-out value in the other system, rounded by its uncertainty as ever.
pub fn other(value: &Quantity, units: &Units) -> Option<Printed> {
    let printed_in = value.printed_unit(units);
    let unit = units.counterpart(printed_in, value.value)?;
    let style = Quantity { unit: printed_in, ..value.clone() }.step_in(unit);
    Some(quantity(&Quantity { unit, style, ..value.clone() }, units))
}

/// A reading in another unit, to its own last figure and three figures at least: a mean, a limit.
pub fn reading(value: f64, step: f64, unit: Unit) -> String {
    rounded(unit.from_si(value), decimals_of(step, value, unit))
}

/// How finely a literal says its size, in SI units: one unit of its last figure, a fraction by the finest division of a
/// rule, and no coarser than its bounds need.
pub fn fineness(literal: &Literal) -> f64 {
    let mut step = literal.step;
    if literal.has_fraction() {
        // A fraction is a size by its name: 10 1/2 in is not known to half an inch only.
        step = step.min(literal.unit.interval_to_si(1.0 / FINEST_FRACTION));
    }
    if !literal.is_exact() && literal.half_width() > 0.0 {
        step = step.min(2.0 * literal.half_width() / (TENTHS * COARSER));
    }
    step
}

/// The finest division of a workshop rule.
const FINEST_FRACTION: f64 = 64.0;

/// The last figure shown is at most so many of the last typed: a pound is a kilogram, a hundredth of a millimetre is no
/// thousandth of an inch.
const COARSER: f64 = 2.5;

/// Limits lose at most a tenth of the distance between them.
const TENTHS: f64 = 10.0;

/// `step` and `value` in SI units.
fn decimals_of(step: f64, value: f64, unit: Unit) -> i32 {
    let step = unit.interval_from_si(step) * COARSER;
    // The digits of a power of ten begin at its own place, whatever the last bit says.
    let by_step = -round::first_digit(step * (1.0 + 1e-12), 15);
    let shown = unit.from_si(value);
    if shown == 0.0 || unit.is_point() { by_step } else { by_step.max(2 - round::first_digit(shown, 3)) }
}

/// `+0.056`, `-0`: the sign of a limit is always written.
fn signed(figures: &str, of_nothing: char) -> String {
    match figures.parse::<f64>() {
        Ok(0.0) => format!("{of_nothing}0"),
        Ok(value) if value > 0.0 => format!("+{figures}"),
        _ => figures.to_owned(),
    }
}
