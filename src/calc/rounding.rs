//! What rounding in the machine may have made of a value: the one rule by which something is zero.
//!
//! Every value keeps a bound of its rounding errors, which each operation carries on (running error analysis: J. H.
//! Wilkinson, Rounding Errors in Algebraic Processes, HMSO 1963; N. J. Higham, Accuracy and Stability of Numerical
//! Algorithms, 2nd ed., SIAM 2002, section 3.3; from memory). A result that is not larger than its own bound can't be
//! distinguished from zero, and is zero: `2.7518 in - 2.7461 in - 0.0057 in`, `68 degF - 20 degC`, `sin(180 deg)`.

/// The most that one rounding changes a value, as a share of it: half a unit in its last place.
const ONE: f64 = f64::EPSILON / 2.0;

/// Of an elementary function of `libm`, with some room: its last place may be off by one.
const FUNCTION: f64 = 4.0 * ONE;

/// Of a decimal number turned into SI units: digits, factor, zero of the scale, each rounded, with some room.
const TYPED: f64 = 6.0 * ONE;

/// A value with the bound of its rounding errors; zero if it is within that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rounded {
    pub value: f64,
    pub bound: f64,
}

impl Rounded {
    const fn new(value: f64, bound: f64) -> Self {
        let value = if value.abs() <= bound && bound.is_finite() { 0.0 } else { value };
        Self { value, bound }
    }

    /// A number that was typed, or that a table has, in SI units.
    pub const fn typed(value: f64) -> Self {
        Self { value, bound: TYPED * value.abs() }
    }

    /// A plain number as it stands in a formula or comes from a count: a whole one is exact.
    pub const fn plain(value: f64) -> Self {
        let is_whole = value as i64 as f64 == value;
        Self { value, bound: if is_whole { 0.0 } else { ONE * value.abs() } }
    }

    /// `one + sign * other`
    pub const fn sum(one: Self, other: Self, sign: f64) -> Self {
        let value = one.value + sign * other.value;
        Self::new(value, one.bound + other.bound + ONE * value.abs())
    }

    pub const fn product(one: Self, other: Self) -> Self {
        let value = one.value * other.value;
        let of_both = one.value.abs() * other.bound + other.value.abs() * one.bound;
        Self { value, bound: of_both + ONE * value.abs() }
    }

    pub const fn quotient(one: Self, other: Self) -> Self {
        let value = one.value / other.value;
        let of_both = (one.bound + value.abs() * other.bound) / other.value.abs();
        Self { value, bound: of_both + ONE * value.abs() }
    }

    /// A function with this value and slope where its argument is.
    pub const fn through(self, value: f64, slope: f64) -> Self {
        let carried = if self.bound == 0.0 { 0.0 } else { (slope * self.bound).abs() };
        // Where a curve is vertical its slope says nothing.
        let carried = if carried.is_finite() { carried } else { 0.0 };
        Self::new(value, carried + FUNCTION * value.abs())
    }
}

impl From<f64> for Rounded {
    fn from(value: f64) -> Self {
        Self::typed(value)
    }
}

/// The ends of a size for a report, to a millionth of its unit outwards: what lies between them lies between the figures.
pub fn ends_to_a_millionth((low, high): (f64, f64)) -> (f64, f64) {
    if low == high {
        return (to_a_millionth(low), to_a_millionth(high));
    }
    let [down, up] = [(low * 1e6 + DUST).floor(), (high * 1e6 - DUST).ceil()].map(|end| end / 1e6);
    let or = |rounded: f64, end: f64| if rounded.is_finite() { rounded } else { end };
    (or(down, low), or(up, high))
}

/// Of a millionth: what binary arithmetic leaves.
const DUST: f64 = 1e-3;

/// A figure for a report, without the last places that binary arithmetic leaves: to a millionth of its unit.
pub fn to_a_millionth(value: f64) -> f64 {
    let rounded = (value * 1e6).round() / 1e6;
    if rounded.is_finite() { rounded } else { value }
}
