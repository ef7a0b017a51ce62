//! A workshop function's body, run at its arguments and at points within their bounds.

use std::cell::RefCell;
use std::collections::BTreeSet;

use super::accept::{meaning_of, of_a_turn};
use crate::calc::evaluate::user::Given;
use crate::calc::function::{Absent, Answer, Argument, Call, Function, Parameter, Refusal, Takes};
use crate::calc::real::{MAX_INPUTS, Real};
use crate::calc::rounding::Rounded;
use crate::calc::units::System;
use crate::calc::value::{Quantity, Record, Value};

/// The accepted arguments of a call.
pub(super) struct Running<'a> {
    pub(super) function: &'static Function,
    pub(super) values: &'a [Option<Value>],
    /// What the body asked of record arguments.
    pub(super) read: RefCell<BTreeSet<(usize, String)>>,
}

impl Running<'_> {
    /// The system of each argument's unit.
    fn typed(&self) -> Vec<Option<System>> {
        self.values.iter().map(|value| value.as_ref()?.quantity()?.unit.system()).collect()
    }

    /// Every input with uncertainty, in the order in which the arguments hold them.
    pub(super) fn uncertain(&self) -> Vec<Quantity> {
        let mut inputs = Vec::new();
        self.arguments(&mut |quantity| {
            if !quantity.uncertainty.is_none() {
                inputs.push(quantity.clone());
            }
            Real::rounded(quantity.as_rounded())
        });
        inputs
    }

    /// The body run with slopes by the uncertain inputs of one pass.
    pub(super) fn answer(&self, pass: usize) -> Result<Answer, Refusal> {
        let (first, mut count) = (pass * MAX_INPUTS, 0);
        let arguments = self.arguments(&mut |quantity| {
            if quantity.uncertainty.is_none() {
                return Real::rounded(quantity.as_rounded());
            }
            let index = count;
            count += 1;
            let is_in_pass = (first..first + MAX_INPUTS).contains(&index);
            let value = quantity.as_rounded();
            if is_in_pass { Real::input(value, index - first) } else { Real::rounded(value) }
        });
        let call = Call::new(self.function, arguments).typed_in(self.typed());
        let answer = self.function.answer(&call);
        self.read.borrow_mut().append(&mut call.read.borrow_mut());
        answer
    }

    /// The body run with every uncertain input moved by its offset, and slopes by the first of them.
    pub(super) fn moved(&self, offsets: &[f64]) -> Result<Answer, Refusal> {
        let mut count = 0;
        let arguments = self.arguments(&mut |quantity| {
            if quantity.uncertainty.is_none() {
                return Real::rounded(quantity.as_rounded());
            }
            let index = count;
            count += 1;
            let value = Rounded { value: quantity.value + offsets[index], bound: quantity.rounding };
            if index < MAX_INPUTS { Real::input(value, index) } else { Real::rounded(value) }
        });
        self.in_range(&arguments)?;
        self.function.answer(&Call::new(self.function, arguments).typed_in(self.typed()))
    }

    /// Refuses what [`Evaluator::accept`] would refuse of moved inputs.
    fn in_range(&self, arguments: &[Option<Argument>]) -> Result<(), Refusal> {
        for (parameter, argument) in self.function.parameters.iter().zip(arguments) {
            let Some(Argument::Number(real)) = argument else { continue };
            let needed = match parameter.takes {
                Takes::Positive(_) if real.value() <= 0.0 => "above zero",
                Takes::NotNegative(_) if real.value() < 0.0 => "zero or more",
                _ => continue,
            };
            let message = format!("`{}` must be {needed}", parameter.name);
            return Err(Refusal::of(parameter.name, message, meaning_of(parameter)));
        }
        Ok(())
    }

    fn arguments(&self, real: &mut dyn FnMut(&Quantity) -> Real) -> Vec<Option<Argument>> {
        let parameters = self.function.parameters.iter().zip(self.values);
        parameters
            .map(|(parameter, value)| match value {
                Some(value) => Some(argument(parameter.takes, value, real)),
                None => absent(parameter),
            })
            .collect()
    }
}

fn argument(takes: Takes, value: &Value, real: &mut dyn FnMut(&Quantity) -> Real) -> Argument {
    match (takes, value) {
        // Whole and in range: accepted before.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        (Takes::Count, Value::Quantity(quantity)) => Argument::Count(quantity.value as u32),
        (Takes::List(_) | Takes::Turnings, Value::Quantity(quantity)) => Argument::List(vec![real(quantity)]),
        (_, Value::Quantity(quantity)) => Argument::Number(real(quantity)),
        (_, Value::Text(text)) => Argument::Text(text.to_string()),
        (_, Value::Truth(truth)) => Argument::Truth(*truth),
        (_, Value::List(values)) => {
            Argument::List(values.iter().filter_map(Value::quantity).map(real).collect())
        }
        (_, Value::Record(record)) => Argument::Fields(fields(record, real)),
        // Every alternative has a call of its own; one deep in a record counts as what the middles give.
        (_, Value::Either(all)) => match all.first() {
            Some(first) => argument(takes, first, real),
            None => Argument::Text(String::new()),
        },
    }
}

fn fields(record: &Record, real: &mut dyn FnMut(&Quantity) -> Real) -> Vec<(String, Argument)> {
    let plain = record.fields.iter().filter(|(_, value)| !matches!(value, Value::Record(_)));
    plain.map(|(name, value)| (name.clone(), argument(Takes::Text, value, real))).collect()
}

fn absent(parameter: &Parameter) -> Option<Argument> {
    match parameter.absent {
        Absent::Refused | Absent::Without | Absent::From(_) => None,
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        Absent::Number(number) if matches!(parameter.takes, Takes::Count) => {
            Some(Argument::Count(number as u32))
        }
        Absent::Number(number) => Some(Argument::Number(Real::exact(number))),
        Absent::Words(words) => Some(Argument::Text(words.to_owned())),
        Absent::Truth(truth) => Some(Argument::Truth(truth)),
    }
}

/// The value of an argument as the body takes it.
pub(super) fn taken(parameter: &Parameter, given: Given) -> Option<Value> {
    match (parameter.takes, given.value) {
        (Takes::PerTurn, Value::Quantity(quantity)) => Some(of_a_turn(quantity).into()),
        (_, value) => Some(value),
    }
}
