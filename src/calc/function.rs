//! What a workshop function looks like to the engine.
//!
//! `trade` fills tables of [`Function`]; the engine checks names, dimensions and ranges of the arguments against the
//! table before the body runs, and turns the [`Answer`] into a value with uncertainty. All numbers are in SI units.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fmt;

use super::dimension::Dimension;
pub use super::formula::Formula;
use super::formula::Run;
pub use super::provenance::{Seen, Source};
use super::real::Real;
use super::units::System;

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
    pub caution: Option<Caution>,
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

/// The usual cautions; each prints its own text and defers to local codes and licensed practice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caution {
    Lifting,
    Pressing,
    HeatingAndCooling,
    LoadCarryingWeld,
    LoadCarryingPart,
    RotatingMachine,
    OldPaint,
    RoadTransport,
}

/// The arguments of one call, checked against the function's table.
pub struct Call<'a> {
    pub(super) function: &'a Function,
    pub(super) arguments: Vec<Option<Argument>>,
    /// In which system each argument was typed; empty if that is not known.
    pub(super) typed: Vec<Option<System>>,
    /// Fields of record arguments that the body asked for: parameter and field.
    pub(super) read: RefCell<BTreeSet<(usize, String)>>,
    /// Names that the body asked for and the table does not declare as such.
    undeclared: RefCell<BTreeSet<String>>,
}

impl fmt::Debug for Call<'_> {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "Call({}, {:?})", self.function.name, self.arguments)
    }
}

/// A checked argument.
#[derive(Clone, Debug)]
pub enum Argument {
    Number(Real),
    Count(u32),
    Text(String),
    Truth(bool),
    List(Vec<Real>),
    /// Named fields of a record, in SI units.
    Fields(Vec<(String, Argument)>),
}

/// Something worth saying about an answer: of the grade that was found, of a choice that was made.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Said {
    /// What it is about, where several things can be said of one: a material, a bearing.
    pub subject: Option<String>,
    pub text: String,
}

impl Said {
    pub fn of(subject: impl Into<String>, text: impl Into<String>) -> Self {
        Self { subject: Some(subject.into()), text: text.into() }
    }
}

impl From<String> for Said {
    fn from(text: String) -> Self {
        Self { subject: None, text }
    }
}

impl From<&String> for Said {
    fn from(text: &String) -> Self {
        text.clone().into()
    }
}

impl From<&str> for Said {
    fn from(text: &str) -> Self {
        text.to_owned().into()
    }
}

/// `wrought iron: along the grain`
impl fmt::Display for Said {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.subject {
            Some(subject) => write!(out, "{subject}: {}", self.text),
            None => out.write_str(&self.text),
        }
    }
}

/// What a body gives back: one value for every output, and what is worth saying about it.
#[derive(Clone, Debug, Default)]
pub struct Answer {
    pub fields: Vec<(&'static str, Field)>,
    /// Printed under the working: a choice that was made, a lower bound that was used.
    pub remarks: Vec<Said>,
    /// Printed only where one of these outputs is read: that of a strength the lower bound was used.
    pub remarks_of: Vec<(&'static [&'static str], Said)>,
    /// Printed as a caution: a limit that was passed, with the figure.
    pub warnings: Vec<String>,
    /// The system in which the results print; `None`: the dossier's. A metric bearing stays metric everywhere.
    pub system: Option<System>,
}

/// The value of one output.
#[derive(Clone, Debug)]
pub enum Field {
    Number(Real),
    /// A table value known within `half_width`; the same `source` is the same uncertainty wherever it is used.
    Bounded {
        middle: f64,
        half_width: f64,
        source: String,
    },
    Count(u32),
    Text(String),
    Truth(bool),
    List(Vec<Real>),
}

/// Why a call gives no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The argument to blame, if it is one.
    pub parameter: Option<&'static str>,
    pub message: String,
    pub help: String,
}

impl Refusal {
    pub fn of(parameter: &'static str, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { parameter: Some(parameter), message: message.into(), help: help.into() }
    }

    pub fn whole(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { parameter: None, message: message.into(), help: help.into() }
    }
}

impl Answer {
    pub fn new() -> Self {
        Self::default()
    }

    pub fn number(mut self, name: &'static str, value: Real) -> Self {
        self.fields.push((name, Field::Number(value)));
        self
    }

    pub fn field(mut self, name: &'static str, field: Field) -> Self {
        self.fields.push((name, field));
        self
    }

    pub fn text(self, name: &'static str, text: impl Into<String>) -> Self {
        self.field(name, Field::Text(text.into()))
    }

    pub fn remark(mut self, said: impl Into<Said>) -> Self {
        self.remarks.push(said.into());
        self
    }

    /// A remark that matters only to who reads one of those outputs.
    #[must_use]
    pub fn remark_of(mut self, outputs: &'static [&'static str], said: impl Into<Said>) -> Self {
        self.remarks_of.push((outputs, said.into()));
        self
    }

    pub fn warn(mut self, text: impl Into<String>) -> Self {
        self.warnings.push(text.into());
        self
    }

    /// Has the results printed in that system, or in the dossier's if it is `None`.
    #[must_use]
    pub fn in_system(mut self, system: Option<System>) -> Self {
        self.system = system;
        self
    }
}

/// The engine checks a call before its body runs, so these give the declared kind. Asking for a name or a kind that
/// the table does not declare is noted, and [`Function::answer`] refuses the call.
impl<'a> Call<'a> {
    /// A call with arguments in the order of the parameters: what the engine makes after its checks, and what
    /// commands and tests make by hand.
    pub fn new(function: &'a Function, arguments: Vec<Option<Argument>>) -> Self {
        Self {
            function,
            arguments,
            typed: Vec::new(),
            read: RefCell::default(),
            undeclared: RefCell::default(),
        }
    }

    /// The same call with the system of each argument's unit, in the order of the parameters.
    #[must_use]
    pub fn typed_in(self, typed: Vec<Option<System>>) -> Self {
        Self { typed, ..self }
    }

    /// The function that is called.
    pub fn function(&self) -> &'a Function {
        self.function
    }

    /// The place of a parameter; a name that the table does not declare is noted.
    fn index(&self, name: &str) -> Option<usize> {
        let index = self.function.parameters.iter().position(|each| each.name == name);
        if index.is_none() {
            self.note_undeclared(name);
        }
        index
    }

    fn note_undeclared(&self, name: &str) {
        self.undeclared.borrow_mut().insert(name.to_owned());
    }

    /// The argument itself, without what stands for one that is not given.
    pub fn given(&self, name: &str) -> Option<Argument> {
        self.arguments.get(self.index(name)?)?.clone()
    }

    /// Whether the argument was given, or has a default that stands in the table.
    pub fn is_given(&self, name: &str) -> bool {
        self.argument(name).is_some()
    }

    fn argument(&self, name: &str) -> Option<&Argument> {
        self.arguments.get(self.index(name)?)?.as_ref()
    }

    /// The argument, or what the table has stand for it.
    fn found(&self, name: &str) -> Option<Argument> {
        let index = self.index(name)?;
        match (self.arguments.get(index)?, self.function.parameters[index].absent) {
            (Some(argument), _) => Some(argument.clone()),
            (None, Absent::From(text)) => Run::expression(self, text).ok(),
            (None, _) => None,
        }
    }

    /// The system in which an argument was typed; `None` where that is not known.
    pub fn system_of(&self, name: &str) -> Option<System> {
        *self.typed.get(self.index(name)?)?
    }

    /// A required quantity, or one with a default.
    pub fn real(&self, name: &str) -> Real {
        self.optional(name).unwrap_or_else(|| {
            self.note_undeclared(name);
            Real::exact(f64::NAN)
        })
    }

    pub fn optional(&self, name: &str) -> Option<Real> {
        match self.found(name)? {
            Argument::Number(real) => Some(real),
            Argument::Count(count) => Some(Real::exact(f64::from(count))),
            _ => {
                self.note_undeclared(name);
                None
            }
        }
    }

    /// A whole number; 0 if it may be left out and is.
    pub fn count(&self, name: &str) -> u32 {
        match self.found(name) {
            Some(Argument::Count(count)) => count,
            // Of an expression of whole numbers.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            Some(Argument::Number(real)) => real.value() as u32,
            None => 0,
            Some(_) => {
                self.note_undeclared(name);
                0
            }
        }
    }

    /// A text; empty if it may be left out and is.
    pub fn text(&self, name: &str) -> &str {
        match self.argument(name) {
            Some(Argument::Text(text)) => text,
            None => "",
            Some(_) => {
                self.note_undeclared(name);
                ""
            }
        }
    }

    pub fn truth(&self, name: &str) -> bool {
        match self.argument(name) {
            Some(Argument::Truth(truth)) => *truth,
            _ => {
                self.note_undeclared(name);
                false
            }
        }
    }

    /// A list; empty if it may be left out and is.
    pub fn list(&self, name: &str) -> &[Real] {
        match self.argument(name) {
            Some(Argument::List(list)) => list,
            None => &[],
            Some(_) => {
                self.note_undeclared(name);
                &[]
            }
        }
    }

    /// A field of a record argument: `call.field_of("hub", "E")`.
    pub fn field_of(&self, name: &str, field: &str) -> Option<Real> {
        let Some(Argument::Fields(fields)) = self.argument(name) else { return None };
        self.read.borrow_mut().extend(self.index(name).map(|index| (index, field.to_owned())));
        fields.iter().find_map(|(each, value)| match value {
            Argument::Number(real) if each == field => Some(*real),
            _ => None,
        })
    }

    pub fn text_of(&self, name: &str, field: &str) -> Option<&str> {
        let Some(Argument::Fields(fields)) = self.argument(name) else { return None };
        fields.iter().find_map(|(each, value)| match value {
            Argument::Text(text) if each == field => Some(text.as_str()),
            _ => None,
        })
    }
}
