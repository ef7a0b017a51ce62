//! A figure that is not known exactly: low, likely, high.

pub mod random;

use std::iter::Sum;
use std::ops::{Add, Mul};

use serde::{Deserialize, Serialize};

use random::Random;

/// Low, likely and high of a time or a cost, in the unit of its holder. Always low ≤ likely ≤ high.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// The least it can be.
    pub low: f64,
    /// The most likely figure.
    pub likely: f64,
    /// The most it can be.
    pub high: f64,
}

impl Estimate {
    /// Nothing: no time, no cost.
    pub const ZERO: Self = Self::exact(0.0);

    /// A figure without uncertainty.
    pub const fn exact(value: f64) -> Self {
        Self { low: value, likely: value, high: value }
    }

    /// Three points; ends that lie on the wrong side of `likely` are pulled to it.
    pub fn new(low: f64, likely: f64, high: f64) -> Self {
        Self { low: low.min(likely), likely, high: high.max(likely) }
    }

    /// The three-point mean `(low + 4 likely + high) / 6`.
    ///
    /// Source: Malcolm, Roseboom, Clark and Fazar, Operations Research 7 (1959), as in Heizer and Render,
    /// Operations Management, chapter on project management (from memory).
    pub fn mean(self) -> f64 {
        (self.low + 4.0 * self.likely + self.high) / 6.0
    }

    /// The three-point variance `((high - low) / 6)²`; source as for [`Estimate::mean`].
    pub fn variance(self) -> f64 {
        let sigma = (self.high - self.low) / 6.0;
        sigma * sigma
    }

    /// One draw from the triangular distribution with these three points.
    pub fn draw(self, random: &mut Random) -> f64 {
        let range = self.high - self.low;
        if range <= 0.0 {
            return self.likely;
        }
        let part = random.fraction();
        let peak = (self.likely - self.low) / range;
        if part < peak {
            self.low + range * (part * peak).sqrt()
        } else {
            self.high - range * ((1.0 - part) * (1.0 - peak)).sqrt()
        }
    }

    /// Each of the three through the same rule, which must not change their order.
    #[must_use]
    pub fn map(self, rule: impl Fn(f64) -> f64) -> Self {
        Self { low: rule(self.low), likely: rule(self.likely), high: rule(self.high) }
    }

    /// The low ends multiplied, the likely figures, the high ends; of estimates that are not negative.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        Self { low: self.low * other.low, likely: self.likely * other.likely, high: self.high * other.high }
    }
}

impl Add for Estimate {
    type Output = Self;
    /// Ends are added to ends.
    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, likely: self.likely + other.likely, high: self.high + other.high }
    }
}

impl Mul<f64> for Estimate {
    type Output = Self;
    /// Scales by a factor that is not negative.
    fn mul(self, factor: f64) -> Self {
        Self { low: self.low * factor, likely: self.likely * factor, high: self.high * factor }
    }
}

impl Sum for Estimate {
    fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
        terms.fold(Self::ZERO, Add::add)
    }
}
