//! An interval of numbers: between which ends a value lies for certain.

/// From `low` to `high`; an end that is not known is infinite.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Span {
    pub low: f64,
    pub high: f64,
}

impl Span {
    pub const ZERO: Self = Self { low: 0.0, high: 0.0 };
    pub const ALL: Self = Self { low: f64::NEG_INFINITY, high: f64::INFINITY };

    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// `middle` and `half` to both sides.
    pub fn about(middle: f64, half: f64) -> Self {
        Self { low: middle - half, high: middle + half }
    }

    /// The least that holds all of these; `ALL` where one is no number.
    pub fn around(values: impl IntoIterator<Item = f64>) -> Self {
        let none = Self { low: f64::INFINITY, high: f64::NEG_INFINITY };
        values.into_iter().fold(none, |span, value| match value.is_nan() {
            true => Self::ALL,
            false => Self { low: span.low.min(value), high: span.high.max(value) },
        })
    }

    pub fn is_finite(self) -> bool {
        self.low.is_finite() && self.high.is_finite()
    }

    pub fn holds(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    pub fn width(self) -> f64 {
        self.high - self.low
    }

    /// How far the further end is from zero.
    pub fn reach(self) -> f64 {
        self.high.max(-self.low)
    }

    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }

    #[must_use]
    pub fn moved(self, by: f64) -> Self {
        Self { low: self.low + by, high: self.high + by }
    }

    /// Nothing times what has no end is nothing.
    #[must_use]
    pub fn scaled(self, slope: f64) -> Self {
        match slope {
            0.0 => Self::ZERO,
            slope if slope < 0.0 => Self { low: self.high * slope, high: self.low * slope },
            slope => Self { low: self.low * slope, high: self.high * slope },
        }
    }

    #[must_use]
    pub fn times(self, other: Self) -> Self {
        let product = |a: f64, b: f64| if a == 0.0 || b == 0.0 { 0.0 } else { a * b };
        Self::around([
            product(self.low, other.low),
            product(self.low, other.high),
            product(self.high, other.low),
            product(self.high, other.high),
        ])
    }

    /// What both hold; where they miss each other by rounding in the machine, this one.
    #[must_use]
    pub fn meet(self, other: Self) -> Self {
        let met = Self { low: self.low.max(other.low), high: self.high.min(other.high) };
        if met.low <= met.high { met } else { self }
    }

    /// The least that holds both.
    #[must_use]
    pub fn hull(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }
}
