//! What a drawing consists of, in millimetres on paper, x to the right and y downwards.

use super::scale::Scale;
use crate::shape::{Key, Unit};

/// A place on the paper.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right, mm.
    pub x: f64,
    /// Downwards, mm.
    pub y: f64,
}

impl Point {
    /// A place.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    pub(crate) fn moved(self, dx: f64, dy: f64) -> Self {
        Self::new(self.x + dx, self.y + dy)
    }
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Its left side.
    pub left: f64,
    /// Its upper side.
    pub top: f64,
    /// Its right side.
    pub right: f64,
    /// Its lower side.
    pub bottom: f64,
}

impl Rect {
    pub(crate) const EMPTY: Self =
        Self { left: f64::INFINITY, top: f64::INFINITY, right: f64::NEG_INFINITY, bottom: f64::NEG_INFINITY };

    /// Its width.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Its height.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub(crate) fn around(a: Point, b: Point) -> Self {
        Self { left: a.x.min(b.x), top: a.y.min(b.y), right: a.x.max(b.x), bottom: a.y.max(b.y) }
    }

    pub(crate) fn join(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    pub(crate) fn moved(self, dx: f64, dy: f64) -> Self {
        Self { left: self.left + dx, top: self.top + dy, right: self.right + dx, bottom: self.bottom + dy }
    }

    pub(crate) fn grown(self, by: f64) -> Self {
        Self { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    /// Whether the two share more than an edge.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// The kinds of line. Widths stand 1 : 2 (ISO 128-2:2020): 0.25 mm and 0.5 mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pen {
    /// Visible edges: continuous, wide.
    Outline,
    /// Dimension, extension and leader lines, thread roots, breaks: continuous, narrow.
    Thin,
    /// Hidden edges: dashed, narrow.
    Hidden,
    /// Axes and pitch circles: long-dashed dotted, narrow.
    Centre,
    /// Hatching: continuous, narrow.
    Hatch,
    /// Cutting planes: ends of the long-dashed dotted wide line.
    Plane,
    /// Beside a surface that is treated: long-dashed dotted, wide (ISO 15787:2016).
    Treated,
    /// Frame and title block.
    Frame,
    /// Lettering and symbols.
    Lettering,
}

impl Pen {
    /// Every kind.
    pub const ALL: [Self; 9] = [
        Self::Outline,
        Self::Thin,
        Self::Hidden,
        Self::Centre,
        Self::Hatch,
        Self::Plane,
        Self::Treated,
        Self::Frame,
        Self::Lettering,
    ];

    /// Its width in mm.
    pub const fn width(self) -> f64 {
        match self {
            Self::Outline | Self::Plane | Self::Treated | Self::Frame => 0.5,
            Self::Thin | Self::Hidden | Self::Centre | Self::Hatch | Self::Lettering => 0.25,
        }
    }

    /// Dashes and gaps in mm, empty if continuous.
    pub const fn dashes(self) -> &'static [f64] {
        match self {
            Self::Hidden => &[3.0, 0.75],
            Self::Centre => &[6.0, 0.75, 0.25, 0.75],
            Self::Treated => &[5.0, 1.5, 0.25, 1.5],
            _ => &[],
        }
    }
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Ink {
    /// A straight line.
    Line {
        /// Its beginning.
        from: Point,
        /// Its end.
        to: Point,
    },
    /// An arc or circle.
    Arc {
        /// Its centre.
        centre: Point,
        /// Its radius, mm.
        radius: f64,
        /// Angle of its beginning from x towards y (clockwise on paper), rad.
        start: f64,
        /// Angle it sweeps, rad, at most a full turn.
        sweep: f64,
    },
    /// A filled polygon: arrowheads and dots.
    Solid {
        /// Its corners.
        points: Vec<Point>,
    },
    /// A text.
    Text {
        /// Left end of its baseline.
        at: Point,
        /// Height of its capitals, mm.
        height: f64,
        /// Runs upwards, to be read from the right.
        upward: bool,
        /// The text.
        text: String,
    },
}

/// One thing drawn with its pen and what it belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// 0 for the part itself; else the dimension, label or field it belongs to.
    pub owner: usize,
    /// The pen.
    pub pen: Pen,
    /// What is drawn.
    pub ink: Ink,
}

/// The room that a text with its symbols takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Claim {
    /// What it belongs to.
    pub owner: usize,
    /// The room.
    pub rect: Rect,
}

/// A size with limits, numbered on the drawing, to be reported back.
#[derive(Clone, Debug, PartialEq)]
pub struct Numbered {
    /// The number in the balloon.
    pub number: usize,
    /// The size.
    pub key: Key,
    /// As printed, without limits: `⌀40 f7`.
    pub text: String,
    /// Least size, m.
    pub least: f64,
    /// Greatest size, m.
    pub greatest: f64,
    /// The unit it is printed in.
    pub unit: Unit,
}

/// A size on hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// Its sign in the box: `H1`.
    pub sign: String,
    /// The size.
    pub key: Key,
    /// What has to be done first.
    pub why: String,
}

/// One size that the drawing states, for a text that says the same without a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated {
    /// The size or feature; `None` for one that follows from others.
    pub key: Option<Key>,
    /// As printed: `⌀40 f7 −0.025/−0.050`.
    pub text: String,
}

/// A finished drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Width of the sheet, mm.
    pub width: f64,
    /// Height of the sheet, mm.
    pub height: f64,
    /// The scale of its views.
    pub scale: Scale,
    /// Everything drawn.
    pub marks: Vec<Mark>,
    /// The room of every text.
    pub claims: Vec<Claim>,
    /// Hatched areas; their lines are among the marks.
    pub hatched: Vec<Vec<Point>>,
    /// Sizes to report back, in order of their numbers.
    pub numbered: Vec<Numbered>,
    /// Sizes on hold.
    pub held: Vec<Held>,
    /// All sizes in the order in which they are stated.
    pub stated: Vec<Stated>,
    /// The lines of the note block.
    pub notes: Vec<String>,
}
