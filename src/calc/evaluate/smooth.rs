//! A function of one value: its slope for the uncertainty, and what the slope leaves out over the whole interval.

use std::ops::Range;

use super::super::fault;
use super::super::rounding::Rounded;
use super::super::span::Span;
use super::{Eval, Evaluator};
use crate::calc::value::Quantity;

/// A function of one number, in SI units.
pub(super) struct Curve<'a> {
    pub of: &'a dyn Fn(f64) -> f64,
    pub slope: &'a dyn Fn(f64) -> f64,
    pub shape: Shape,
    /// Where it has a value.
    pub domain: Span,
}

/// Where a curve turns, and where it begins to bend the other way. All are symmetric about these points.
#[derive(Clone, Copy, Debug)]
pub(super) enum Shape {
    /// It rises or falls, and bends one way, throughout.
    Plain,
    /// It turns at zero and bends one way: an even power, the size without sign.
    Even,
    /// It bends the other way at zero: an odd power, a cube root.
    Odd,
    /// It bends the other way at this point and at every half turn from it, and turns half way between.
    Wave(f64),
    /// It bends the other way at every half turn, and has no limit half way between.
    Tangent,
}

/// What a function makes of a value.
#[derive(Clone, Copy, Debug)]
pub(super) struct Curved {
    pub value: Rounded,
    pub slope: f64,
    /// What the slope leaves out, from the value.
    pub rest: Span,
    /// The ends of the result.
    pub ends: Span,
}

impl Evaluator<'_> {
    /// A quantity put through a function; dimension, unit and style are left for the caller.
    pub(super) fn through(
        &mut self,
        range: Range<usize>,
        quantity: Quantity,
        what: &str,
        curve: &Curve,
    ) -> Eval<Quantity> {
        let Curved { value, slope, rest, ends } = self.curved(range, &quantity, what, curve)?;
        if quantity.uncertainty.is_none() {
            return Ok(quantity.rounded(value));
        }
        let uncertainty = quantity.uncertainty.clone().scaled(slope).bent(rest, self.sources);
        Ok(Quantity { uncertainty: uncertainty.within(ends.moved(-value.value)), ..quantity }.rounded(value))
    }

    /// The value and slope of a function at a quantity, and what the slope leaves out; that part of the bounds which has
    /// no value is reported, and its ends are not known.
    pub(super) fn curved(
        &mut self,
        range: Range<usize>,
        quantity: &Quantity,
        what: &str,
        curve: &Curve,
    ) -> Eval<Curved> {
        let at = quantity.value;
        let value = (curve.of)(at);
        let steep = (curve.slope)(at);
        let rounded = quantity.as_rounded().through(value, steep);
        if quantity.uncertainty.is_none() {
            return Ok(Curved {
                value: rounded,
                slope: steep,
                rest: Span::ZERO,
                ends: Span::new(value, value),
            });
        }
        // Where the curve is vertical all of it is left out.
        let slope = if steep.is_finite() { steep } else { 0.0 };
        let ends = quantity.ends();
        let unknown = Curved { value: rounded, slope, rest: Span::ALL, ends: Span::ALL };
        if quantity.uncertainty.is_open() {
            return Ok(unknown);
        }
        let is_whole = curve.domain.holds(ends.low) && curve.domain.holds(ends.high);
        if curve.shape.has_pole(ends) || (!is_whole && !steep.is_finite()) {
            return Err(fault::uncertainty_without_end(range).into());
        }
        if !is_whole {
            self.cautions.push(fault::not_over_bounds(range, what, &taken(curve.domain)));
            return Ok(unknown);
        }
        let left_out = |x: f64| (curve.of)(x) - value - slope * (x - at);
        let inside =
            |points: [f64; MOST]| points.into_iter().filter(|point| ends.holds(*point)).collect::<Vec<_>>();
        let turns = inside(curve.shape.turns(ends)).into_iter().map(curve.of);
        let mirrored = inside(curve.shape.mirrored(at, ends)).into_iter().map(left_out);
        let reached =
            Span::around([(curve.of)(ends.low), value, (curve.of)(ends.high)].into_iter().chain(turns));
        let rest = Span::around([left_out(ends.low), 0.0, left_out(ends.high)].into_iter().chain(mirrored));
        if curve.shape.is_wide(ends) {
            let by_slope = quantity.uncertainty.span().scaled(-slope);
            return Ok(Curved { value: rounded, slope, rest: WAVE.moved(-value).plus(by_slope), ends: WAVE });
        }
        Ok(Curved { value: rounded, slope, rest, ends: reached })
    }
}

fn taken(domain: Span) -> String {
    match (domain.low, domain.high) {
        (0.0, f64::INFINITY) => "a value of zero or more".to_owned(),
        (_, f64::INFINITY) => "a value above zero".to_owned(),
        _ => "a value from -1 to 1".to_owned(),
    }
}

/// All that a sine can be.
const WAVE: Span = Span::new(-1.0, 1.0);

/// The most points of one kind that are looked at.
const MOST: usize = 8;

const HALF_TURN: f64 = std::f64::consts::PI;

impl Shape {
    /// So wide that a wave goes through all of its values, more than once.
    fn is_wide(self, ends: Span) -> bool {
        matches!(self, Self::Wave(_)) && ends.width() >= 2.0 * HALF_TURN
    }

    fn has_pole(self, ends: Span) -> bool {
        let branch = |x: f64| (x / HALF_TURN - 0.5).floor();
        matches!(self, Self::Tangent) && branch(ends.low) != branch(ends.high)
    }

    /// Where it turns; points that do not count are no numbers.
    fn turns(self, ends: Span) -> [f64; MOST] {
        match self {
            Self::Even => first(0.0),
            Self::Wave(zero) => every_half_turn(zero + HALF_TURN / 2.0, ends),
            _ => NOWHERE,
        }
    }

    /// Where it is as steep as at `at`, beyond the points at which it begins to bend the other way.
    fn mirrored(self, at: f64, ends: Span) -> [f64; MOST] {
        match self {
            Self::Odd => first(-at),
            Self::Tangent => every_half_turn(0.0, ends).map(|point| 2.0 * point - at),
            Self::Wave(zero) => every_half_turn(zero, ends).map(|point| 2.0 * point - at),
            _ => NOWHERE,
        }
    }
}

const NOWHERE: [f64; MOST] = [f64::NAN; MOST];

fn first(point: f64) -> [f64; MOST] {
    let mut points = NOWHERE;
    points[0] = point;
    points
}

/// From the one below the span on.
fn every_half_turn(zero: f64, ends: Span) -> [f64; MOST] {
    let from = ((ends.low - zero) / HALF_TURN).floor();
    std::array::from_fn(|index| zero + (from + index as f64) * HALF_TURN)
}
