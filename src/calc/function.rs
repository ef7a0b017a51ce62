//! What a workshop function looks like to the engine.
//!
//! `trade` fills tables of [`Function`]; the engine checks names, dimensions and ranges of the arguments against the
//! table before the body runs, and turns the [`Answer`] into a value with uncertainty. All numbers are in SI units.

mod answer;
mod call;

use std::fmt;

use super::dimension::Dimension;
pub use super::formula::Formula;
pub use super::provenance::{Seen, Source};
use crate::hazard::Hazard;
pub use answer::{Answer, Field, Refusal, Said};
pub use call::{Argument, Call};

/// One function that a calculation block can call.
pub struct Function {
    /// Its name in a calculation: lower case, words joined by `_`.
    pub name: &'static str,
    /// What it works out, in one line.
    pub does: &'static str,
    /// In the order in which unnamed arguments are taken.
    pub parameters: &'static [Parameter],
    /// One output: the call's value is that quantity. Several: a record with these fields.
    pub outputs: &'static [Output],
    /// What is worked out, in the engine's own syntax; where the body does more, the tests hold it against this.
    pub formula: Formula,
    /// Where the formula holds.
    pub validity: &'static str,
    /// Standards with edition and clause, books with edition and place, or common practice.
    pub source: &'static [Source],
    /// What can hurt someone when this result is used.
    pub hazard: Option<Hazard>,
    /// Calculation lines that end in `check`s; run as a test and printed in the book.
    pub example: &'static str,
    pub body: fn(&Call) -> Result<Answer, Refusal>,
}

impl Function {
    /// Runs the body. A name that it asks for or answers with, and that the table does not declare, is refused: its
    /// value would be wrong without a word.
    ///
    /// # Errors
    /// The body's refusal, or that of an undeclared name.
    pub fn answer(&self, call: &Call) -> Result<Answer, Refusal> {
        let answer = (self.body)(call);
        if let Some(name) = call.undeclared.take().pop_first() {
            return Err(self.undeclared("asks for", &name));
        }
        let answer = answer?;
        let is_declared = |name: &str| self.outputs.iter().any(|output| output.name == name);
        let of_remarks = answer.remarks_of.iter().flat_map(|(names, _)| names.iter());
        let mut names = answer.fields.iter().map(|(name, _)| name).chain(of_remarks);
        match names.find(|name| !is_declared(name)) {
            Some(name) => Err(self.undeclared("answers with", name)),
            None => Ok(answer),
        }
    }

    fn undeclared(&self, does: &str, name: &str) -> Refusal {
        let message = format!("`{}` {does} `{name}`, which it does not declare", self.name);
        Refusal::whole(message, "This is a defect of asfound: report it, and work the value out by hand.")
    }
}

impl fmt::Debug for Function {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "Function({})", self.name)
    }
}

/// An argument that a function takes.
pub struct Parameter {
    pub name: &'static str,
    pub takes: Takes,
    pub absent: Absent,
    pub meaning: &'static str,
}

/// What kind of argument is accepted, and in which range.
#[derive(Clone, Copy)]
pub enum Takes {
    /// A quantity above zero.
    Positive(Dimension),
    /// A quantity of zero or more.
    NotNegative(Dimension),
    /// A quantity of either sign.
    Signed(Dimension),
    /// A rotational speed (`rpm`, `rad/s`), in radians a second; a bare frequency (`Hz`, `1/min`) is refused.
    Turning(Sign),
    /// A list of rotational speeds.
    Turnings,
    /// An angle (`deg`, `rad`), in radians; a plain number is refused unless it is exactly zero.
    Angle(Sign),
    /// A length above zero for each turn: `0.2 mm` or `0.2 mm/rev`, in metres a turn.
    PerTurn,
    /// A temperature as a point on the scale (`20 degC`), in kelvin.
    TemperaturePoint,
    /// A whole number of one or more.
    Count,
    Text,
    Truth,
    /// A list of quantities of either sign.
    List(Dimension),
    /// The record that `material("…")` gives.
    Material,
}

/// The range of a number that is accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Above zero.
    Positive,
    /// Zero or more.
    NotNegative,
    Either,
}

impl Sign {
    /// What `value` breaks: `above zero`, `zero or more`; none if it is in range.
    pub fn broken_by(self, value: f64) -> Option<&'static str> {
        match self {
            Self::Positive if value <= 0.0 => Some("above zero"),
            Self::NotNegative if value < 0.0 => Some("zero or more"),
            _ => None,
        }
    }
}

impl Takes {
    /// The range of the number that it takes.
    pub fn sign(self) -> Sign {
        match self {
            Self::Positive(_) | Self::PerTurn => Sign::Positive,
            Self::NotNegative(_) => Sign::NotNegative,
            Self::Turning(sign) | Self::Angle(sign) => sign,
            _ => Sign::Either,
        }
    }
}

/// What holds when an argument is not given.
#[derive(Clone, Copy)]
pub enum Absent {
    /// It must be given.
    Refused,
    /// The body does without: [`Call::optional`] gives `None`.
    Without,
    /// An expression of the other parameters stands for it: `material.E`, `span/2`.
    From(&'static str),
    /// This many SI units, without uncertainty.
    Number(f64),
    Words(&'static str),
    Truth(bool),
}

/// A result of a function.
pub struct Output {
    pub name: &'static str,
    pub gives: Gives,
    pub meaning: &'static str,
}

/// What kind of result, and the units it prints in, metric and inch. A step before the unit (`0.001 mm`, `0.0001 in`)
/// prints a result that has no uncertainty to so many decimals, as the table gives it; without one it has four figures.
#[derive(Clone, Copy)]
pub enum Gives {
    Quantity { dimension: Dimension, metric: &'static str, inch: &'static str },
    Count,
    Text,
    Truth,
    List { dimension: Dimension, metric: &'static str, inch: &'static str },
}
