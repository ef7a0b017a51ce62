//! What a body gives back: an answer with what is worth saying about it, or a refusal.

use std::fmt;

use crate::calc::cause::Cause;
use crate::calc::real::Real;
use crate::calc::units::System;

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
    /// A table value known within `half_width`; the same label of `source` is the same uncertainty wherever it is used.
    Bounded {
        middle: f64,
        half_width: f64,
        source: Cause,
    },
    Count(u32),
    Text(String),
    Truth(bool),
    List(Vec<Real>),
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
