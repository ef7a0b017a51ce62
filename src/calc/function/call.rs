//! The arguments of one call, as a body asks for them.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fmt;

use super::{Absent, Function};
use crate::calc::formula::Run;
use crate::calc::real::Real;
use crate::calc::units::System;

/// The arguments of one call, checked against the function's table.
pub struct Call<'a> {
    pub(in crate::calc) function: &'a Function,
    pub(in crate::calc) arguments: Vec<Option<Argument>>,
    /// In which system each argument was typed; empty if that is not known.
    pub(in crate::calc) typed: Vec<Option<System>>,
    /// Fields of record arguments that the body asked for: parameter and field.
    pub(in crate::calc) read: RefCell<BTreeSet<(usize, String)>>,
    /// Names that the body asked for and the table does not declare as such.
    pub(super) undeclared: RefCell<BTreeSet<String>>,
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
