//! General tolerances: what holds for sizes without limits of their own.
//!
//! Figures: ISO 2768-1:1989, tables 1 (linear), 2 (radii and chamfer heights) and 3 (angles, by the shorter leg).
//! All three were compared with open reprints of ISO 2768-1 in courses of machine elements, figure by figure.

/// A tolerance class of ISO 2768-1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// f.
    Fine,
    /// m.
    Medium,
    /// c.
    Coarse,
    /// v.
    VeryCoarse,
}

/// The general tolerance of a part.
#[derive(Clone, Debug, PartialEq)]
pub enum General {
    /// By class.
    Class(Class),
    /// One figure for all lengths.
    Figure {
        /// The permitted deviation either way, m.
        plus_minus: f64,
        /// As typed, with unit.
        text: String,
    },
}

/// What kind of size is asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeKind {
    /// A length or diameter.
    Linear,
    /// An outside radius or the height of a chamfer.
    Edge,
}

/// One row of a table: up to and including this many millimetres, ± for f, m, c, v (in mm, or in minutes of arc).
type Row = (f64, [Option<f64>; 4]);

const fn row(up_to: f64, f: f64, m: f64, c: f64, v: f64) -> Row {
    (up_to, [some(f), some(m), some(c), some(v)])
}

/// 0 stands for the table's dash.
const fn some(figure: f64) -> Option<f64> {
    if figure > 0.0 { Some(figure) } else { None }
}

/// Below this many millimetres the limits have to stand at the size itself.
const LEAST_MM: f64 = 0.5;

/// Table 1.
const LINEAR: [Row; 8] = [
    row(3.0, 0.05, 0.1, 0.2, 0.0),
    row(6.0, 0.05, 0.1, 0.3, 0.5),
    row(30.0, 0.1, 0.2, 0.5, 1.0),
    row(120.0, 0.15, 0.3, 0.8, 1.5),
    row(400.0, 0.2, 0.5, 1.2, 2.5),
    row(1000.0, 0.3, 0.8, 2.0, 4.0),
    row(2000.0, 0.5, 1.2, 3.0, 6.0),
    row(4000.0, 0.0, 2.0, 4.0, 8.0),
];

/// Table 2.
const EDGE: [Row; 3] =
    [row(3.0, 0.2, 0.2, 0.4, 0.4), row(6.0, 0.5, 0.5, 1.0, 1.0), row(f64::INFINITY, 1.0, 1.0, 2.0, 2.0)];

/// Table 3, minutes of arc.
const ANGLE: [Row; 5] = [
    row(10.0, 60.0, 60.0, 90.0, 180.0),
    row(50.0, 30.0, 30.0, 60.0, 120.0),
    row(120.0, 20.0, 20.0, 30.0, 60.0),
    row(400.0, 10.0, 10.0, 15.0, 30.0),
    row(f64::INFINITY, 5.0, 5.0, 10.0, 20.0),
];

const fn table(kind: SizeKind) -> &'static [Row] {
    match kind {
        SizeKind::Linear => &LINEAR,
        SizeKind::Edge => &EDGE,
    }
}

impl Class {
    /// Its letter.
    pub const fn letter(self) -> char {
        match self {
            Self::Fine => 'f',
            Self::Medium => 'm',
            Self::Coarse => 'c',
            Self::VeryCoarse => 'v',
        }
    }

    /// The class of a letter.
    pub fn from_letter(letter: &str) -> Option<Self> {
        [Self::Fine, Self::Medium, Self::Coarse, Self::VeryCoarse]
            .into_iter()
            .find(|class| letter == class.letter().to_string())
    }

    /// The permitted deviation either way for a size in metres; `None` where the table has a dash or ends, and below
    /// 0.5 mm.
    pub fn deviation(self, kind: SizeKind, nominal: f64) -> Option<f64> {
        let mm = nominal * 1000.0;
        (mm >= LEAST_MM - 1e-9).then(|| self.of(table(kind), mm)).flatten().map(|figure| figure * 0.001)
    }

    /// The permitted deviation of an angle either way, rad, by its shorter leg in metres.
    pub fn angle(self, shorter_leg: f64) -> Option<f64> {
        self.of(&ANGLE, shorter_leg * 1000.0).map(|minutes| (minutes / 60.0).to_radians())
    }

    /// The largest size in metres for which the same deviation holds as for this one; infinite in the last row of table 2.
    pub fn holds_up_to(self, kind: SizeKind, nominal: f64) -> Option<f64> {
        let own = self.deviation(kind, nominal)? * 1000.0;
        let rows =
            table(kind).iter().filter(|(_, row)| row[self as usize].is_some_and(|d| (d - own).abs() < 1e-9));
        rows.map(|(up_to, _)| up_to * 0.001).reduce(f64::max)
    }

    fn of(self, table: &[Row], mm: f64) -> Option<f64> {
        let row = table.iter().find(|(up_to, _)| mm <= *up_to + 1e-9)?;
        row.1[self as usize]
    }
}

impl General {
    /// The permitted deviation either way for a size in metres.
    pub fn deviation(&self, kind: SizeKind, nominal: f64) -> Option<f64> {
        match self {
            Self::Class(class) => class.deviation(kind, nominal),
            Self::Figure { plus_minus, .. } => Some(*plus_minus),
        }
    }
}
