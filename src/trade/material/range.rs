//! A figure of a table, or the two ends between which it lies.

use crate::calc::cause::{Cause, Origin};
use crate::calc::function::Field;
use crate::calc::real::Real;

/// From `low` to `high`, in SI units; the same twice for a single figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The lower bound.
    pub low: f64,
    /// The upper bound.
    pub high: f64,
}

impl Range {
    /// `200-210` or `372`, times `scale`; `None` if it is neither.
    pub(super) fn read(text: &str, scale: f64) -> Option<Self> {
        let (low, high) = text.split_once('-').unwrap_or((text, text));
        let figure = |text: &str| text.trim().parse::<f64>().ok().map(|figure| figure * scale);
        Some(Self { low: figure(low)?, high: figure(high)? })
    }

    /// The middle of the range.
    pub fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }

    /// Half its width.
    pub fn half_width(self) -> f64 {
        (self.high - self.low) / 2.0
    }

    /// Whether the table gives one figure only.
    pub fn is_single(self) -> bool {
        self.low.total_cmp(&self.high).is_eq()
    }

    /// The range that holds both.
    pub(super) fn with(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// The middle with its bounds; a single figure stands alone.
    pub(super) fn field(self, label: impl FnOnce() -> String) -> Field {
        if self.is_single() {
            return Field::Number(Real::exact(self.low));
        }
        Field::Bounded {
            middle: self.middle(),
            half_width: self.half_width(),
            source: Cause::of(Origin::Tabulated, label()),
        }
    }
}
