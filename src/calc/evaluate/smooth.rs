//! The doubt of a smooth function, and whether slopes are good enough for it.

use std::ops::Range;

use super::Evaluator;
use crate::calc::value::Quantity;

/// Slopes are called poor when what they leave out exceeds this share of the doubt.
pub(super) const POOR: f64 = 0.1;

/// What is left out matters only beyond this share of the value.
const NEGLIGIBLE: f64 = 1e-4;

/// Half-width of the worst case as a share of the value.
pub(super) fn relative(quantity: &Quantity) -> f64 {
    quantity.doubt.worst() / quantity.value.abs()
}

/// `of` a quantity, with the doubt that its slope gives; dimension, unit and style are left for the caller.
pub(super) fn through(
    evaluator: &mut Evaluator,
    range: Range<usize>,
    quantity: Quantity,
    what: &str,
    of: impl Fn(f64) -> f64,
    slope: impl Fn(f64) -> f64,
) -> Quantity {
    let (value, slope) = at(evaluator, range, &quantity, what, of, slope);
    Quantity { value, doubt: quantity.doubt.scaled(slope), ..quantity }
}

/// The value and the slope of a function at a quantity; what is too curved for its doubt is told.
pub(super) fn at(
    evaluator: &mut Evaluator,
    range: Range<usize>,
    quantity: &Quantity,
    what: &str,
    of: impl Fn(f64) -> f64,
    slope: impl Fn(f64) -> f64,
) -> (f64, f64) {
    let value = of(quantity.value);
    if quantity.doubt.is_none() {
        return (value, 0.0);
    }
    let slope = slope(quantity.value);
    let width = quantity.doubt.worst();
    if is_poor(value, slope * width, of(quantity.value - width), of(quantity.value + width)) {
        evaluator.say_curved(range, what);
    }
    (value, slope)
}

/// Whether a function with this value, first-order change and values at the ends of the interval is too curved.
pub(super) fn is_poor(value: f64, change: f64, low: f64, high: f64) -> bool {
    let bend = (f64::midpoint(low, high) - value).abs();
    let matters = bend > POOR * change.abs() && bend > NEGLIGIBLE * value.abs();
    matters || (!bend.is_finite() && change != 0.0)
}
