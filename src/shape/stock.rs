//! What to saw a part from, and what a machine has to take.

/// What is added to a part's size for sawing and cleaning up, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowance {
    /// On the diameter of a bar.
    pub diameter: f64,
    /// On the length of a bar, for facing both ends.
    pub facing: f64,
    /// On the width and height of a plate's blank, both sides together.
    pub margin: f64,
    /// On a plate's thickness; 0 if the faces stay as rolled.
    pub thickness: f64,
}

impl Allowance {
    /// 2 mm on the diameter, 3 mm for facing, 6 mm round a plate (common practice, no source).
    pub const USUAL: Self = Self { diameter: 0.002, facing: 0.003, margin: 0.006, thickness: 0.0 };
}

/// A blank, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Blank {
    /// Round bar.
    Bar {
        /// Least diameter.
        d: f64,
        /// Length.
        long: f64,
    },
    /// Plate.
    Plate {
        /// Thickness.
        thick: f64,
        /// The longer side.
        long: f64,
        /// The shorter side.
        wide: f64,
    },
}

/// What a machine has to take, in metres; `None` where the part asks for nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needs {
    /// Diameter to swing.
    pub swing: Option<f64>,
    /// Length between centres.
    pub between_centres: Option<f64>,
}

pub(crate) fn bar(d: f64, length: f64, allowance: &Allowance) -> Blank {
    Blank::Bar { d: d + allowance.diameter, long: length + allowance.facing }
}

pub(crate) fn plate(wide: f64, high: f64, thick: f64, allowance: &Allowance) -> Blank {
    let (long, wide) = (wide.max(high) + allowance.margin, wide.min(high) + allowance.margin);
    Blank::Plate { thick: thick + allowance.thickness, long, wide }
}

impl Blank {
    /// The length of the piece, m.
    pub const fn long(self) -> f64 {
        match self {
            Self::Bar { long, .. } | Self::Plate { long, .. } => long,
        }
    }

    /// Whether this stock is enough for what is needed: the same kind, and no size below.
    pub fn is_enough_for(&self, needed: &Self) -> bool {
        let slack = 1e-9;
        match (self, needed) {
            (Self::Bar { d, long }, Self::Bar { d: d0, long: long0 }) => {
                d + slack >= *d0 && long + slack >= *long0
            }
            (Self::Plate { thick, long, wide }, Self::Plate { thick: thick0, long: long0, wide: wide0 }) => {
                thick + slack >= *thick0 && long + slack >= *long0 && wide + slack >= *wide0
            }
            _ => false,
        }
    }
}
