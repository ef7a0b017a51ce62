//! Sheets and how views are projected.

use super::drawing::Rect;

/// How views are projected (ISO 5456-2).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Projection {
    /// First angle, usual with metric sizes.
    First,
    /// Third angle, usual with inches.
    Third,
}

/// The paper a drawing is made for, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// With frame and title block; without, the drawing is a figure on a page.
    pub framed: bool,
}

/// Filing margin on the left and the margin elsewhere (ISO 5457).
const FILING: f64 = 20.0;
const MARGIN: f64 = 10.0;
/// Free room inside the frame.
pub(crate) const INSET: f64 = 4.0;

impl Sheet {
    /// A4 on its side.
    pub const A4_LANDSCAPE: Self = Self { width: 297.0, height: 210.0, framed: true };
    /// A4 upright.
    pub const A4_PORTRAIT: Self = Self { width: 210.0, height: 297.0, framed: true };
    /// US letter on its side.
    pub const LETTER_LANDSCAPE: Self = Self { width: 279.4, height: 215.9, framed: true };
    /// US letter upright.
    pub const LETTER_PORTRAIT: Self = Self { width: 215.9, height: 279.4, framed: true };

    /// A framed sheet of a size in mm.
    pub const fn framed(width: f64, height: f64) -> Self {
        Self { width, height, framed: true }
    }

    /// A figure without frame, at most this large.
    pub const fn figure(width: f64, height: f64) -> Self {
        Self { width, height, framed: false }
    }

    /// The frame.
    pub(crate) fn frame(&self) -> Rect {
        if !self.framed {
            return Rect { left: 0.0, top: 0.0, right: self.width, bottom: self.height };
        }
        Rect { left: FILING, top: MARGIN, right: self.width - MARGIN, bottom: self.height - MARGIN }
    }
}
