//! A quantity as a person types it: `2 5/16 in`, `5 ft 3 1/2 in`, `25 mm +0.021/-0`, `3 h .. 6 h`.

mod bounds;
mod magnitude;
mod read;

use std::fmt;
use std::ops::Range;

use super::dimension::Dimension;
use super::print::places;
use super::scan::Scan;
use super::units::{Unit, UnitFault, Units};
pub(super) use read::Place;

/// A typed quantity with the bounds that were typed with it. All values are in SI units; a temperature point in kelvin.
#[derive(Clone, Debug, PartialEq)]
pub struct Literal {
    /// The lower end; `nominal` when it is exact.
    pub low: f64,
    /// The number that was typed; of a range its middle.
    pub nominal: f64,
    /// The upper end; `nominal` when it is exact.
    pub high: f64,
    pub form: Form,
    /// The unit as typed; the smaller one of feet and inches.
    pub unit: Unit,
    /// One unit of the last digit typed: 0.001 in for `2.000 in`, 1/16 in for `2 5/16 in`.
    pub step: f64,
    pieces: Vec<Piece>,
}

/// How the bounds were typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// `58.74 mm`
    Exact,
    /// `2.000 in ± 0.001 in`
    PlusMinus,
    /// `25 mm +0.021/-0`
    Limits,
    /// `1.998 in .. 2.000 in`
    Range,
}

/// What a literal is made of, in reading order, for setting it out.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// A number as typed: `2 5/16`, `0.001`, `-4`.
    Figures(String),
    Unit(Unit),
    /// `±`
    PlusMinus,
    /// `..`
    To,
    /// Upper and lower limit with their signs: `+0.021`, `-0`.
    Limits(String, String),
}

/// What is wrong with a typed quantity; the range is within the text it was read from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LiteralFault {
    pub range: Range<usize>,
    pub message: String,
    pub help: String,
}

/// The longest number that is read, in characters.
pub const LONGEST_NUMBER: usize = 40;

impl Literal {
    /// The quantity that is the whole of `text`, as in front matter: `2-5/16"` is a mixed number here.
    ///
    /// # Errors
    /// When `text` is no quantity, or its bounds contradict it.
    pub fn parse(text: &str, units: &Units) -> Result<Self, LiteralFault> {
        let mut scan = Scan::new(text);
        scan.blanks();
        let literal = read::literal(units, &mut scan, Place::FrontMatter)?;
        scan.blanks();
        match literal {
            Some(literal) if scan.at_end() => Ok(literal),
            Some(_) => Err(read::left_over(units, &scan)),
            None => Err(read::no_number(&scan)),
        }
    }

    /// The literal that begins at the scan, in a calculation.
    pub(super) fn read(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Self>, LiteralFault> {
        read::literal(units, scan, place)
    }

    pub fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }

    /// The middle of the interval, which is the value that a calculation uses.
    pub fn middle(&self) -> f64 {
        match self.form {
            Form::Exact | Form::PlusMinus => self.nominal,
            Form::Limits | Form::Range => self.low + (self.high - self.low) / 2.0,
        }
    }

    /// Half the width of the interval; zero when exact.
    pub fn half_width(&self) -> f64 {
        (self.high - self.low) / 2.0
    }

    pub fn is_exact(&self) -> bool {
        self.form == Form::Exact
    }

    /// What was typed, piece by piece.
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// Whether a figure was typed as a fraction: `2 5/16 in`.
    pub fn has_fraction(&self) -> bool {
        self.pieces.iter().any(|piece| matches!(piece, Piece::Figures(figures) if figures.contains('/')))
    }

    /// As many decimals as the finest figure was typed with; of fractions as many as they come to.
    pub fn decimals(&self) -> i32 {
        if self.has_fraction() {
            return self.decimals_of_fractions();
        }
        let typed = self.pieces.iter().map(|piece| match piece {
            Piece::Figures(figures) => places(figures.trim_end()),
            Piece::Limits(upper, lower) => places(upper.trim_end()).max(places(lower.trim_end())),
            _ => 0,
        });
        typed.max().unwrap_or(0)
    }

    /// A 64th has six decimals; what never ends, as a third, is cut at four.
    fn decimals_of_fractions(&self) -> i32 {
        // The middle of a range was not typed.
        let nominal = if self.form == Form::Range { self.low } else { self.nominal };
        let sizes = [self.low, nominal, self.high].map(|size| self.unit.from_si(size));
        let is_whole = |value: f64| (value - libm::round(value)).abs() < 1e-6;
        let ends = |decimals: &i32| {
            let scale = libm::pow(10.0, f64::from(*decimals));
            sizes.iter().all(|size| is_whole(size * scale))
        };
        (0..=6).find(ends).unwrap_or(4)
    }

    /// In its usual spelling; [`Literal::parse`] reads it back as the same literal.
    pub fn print(&self) -> String {
        self.to_string()
    }

    /// `50 mm`, not `50 mm ± 1 mm` and not `5 ft 3 in`: a further unit may be typed behind it.
    pub(super) fn ends_in_a_unit(&self) -> bool {
        matches!(self.pieces[..], [Piece::Figures(_), Piece::Unit(_)])
    }

    /// The number, when it is exact and has no unit.
    pub fn plain_number(&self) -> Option<f64> {
        (self.unit.is_none() && self.is_exact()).then_some(self.nominal)
    }
}

/// In its usual spelling.
impl fmt::Display for Literal {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, piece) in self.pieces.iter().enumerate() {
            if index > 0 {
                out.write_str(" ")?;
            }
            match piece {
                Piece::Figures(text) => out.write_str(text)?,
                Piece::Unit(unit) => write!(out, "{unit}")?,
                Piece::PlusMinus => out.write_str("±")?,
                Piece::To => out.write_str("..")?,
                Piece::Limits(upper, lower) => write!(out, "{upper}/{lower}")?,
            }
        }
        Ok(())
    }
}

impl From<UnitFault> for LiteralFault {
    fn from(fault: UnitFault) -> Self {
        Self { range: fault.range, message: fault.message, help: fault.help }
    }
}
