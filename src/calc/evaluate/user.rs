//! Calls: which function is meant, and those that lines define.

use std::ops::Range;

use super::super::fault;
use super::super::suggest;
use super::super::syntax::{NodeId, Span, Statement};
use super::super::value::Value;
use super::{Eval, Evaluator, Frame, Meaning, Stop};

/// A worked-out argument with its place and the name that it was given by.
#[derive(Clone)]
pub(super) struct Given<'a> {
    pub name: Option<&'a str>,
    pub value: Value,
    /// As it was typed.
    pub text: &'a str,
    pub range: Range<usize>,
    /// Of the name, or of the value where there is none.
    pub called: Range<usize>,
}

impl Evaluator<'_> {
    pub(super) fn call(&mut self, frame: Frame, id: NodeId, index: u32) -> Eval<Value> {
        let call = &frame.tree().calls[index as usize];
        let range = frame.tree().span(id);
        let meaning = frame.entry.meanings[call.name as usize];
        if let Meaning::Faulty = meaning {
            return Err(Stop::Blocked);
        }
        let mut arguments = Vec::with_capacity(call.arguments.len());
        for argument in &call.arguments {
            let value = self.node(frame, argument.value)?;
            let range = frame.tree().span(argument.value);
            let called = argument.name.map_or(range.clone(), Span::range);
            let name = argument.name.map(|name| frame.entry.line.at(name));
            let text = &frame.entry.line.text[range.clone()];
            arguments.push(Given { name, value, text, range, called });
        }
        match meaning {
            Meaning::Builtin(builtin) => builtin.call(self, &range, arguments),
            Meaning::Workshop(function) => self.workshop(function, &range, arguments),
            Meaning::User(entry) => self.user(entry, &range, arguments),
            _ => {
                let name = frame.tree().names[call.name as usize].name;
                Err(fault::not_a_function(name.range(), frame.entry.line.at(name)).into())
            }
        }
    }

    fn user(&mut self, entry: usize, range: &Range<usize>, arguments: Vec<Given>) -> Eval<Value> {
        let entry = &self.known.entries[entry];
        let Statement::DefineFunction { name, parameters, body } = &entry.line.statement else {
            return Err(Stop::Blocked);
        };
        let name = entry.line.at(*name);
        let names: Vec<&str> = parameters.iter().map(|parameter: &Span| entry.line.at(*parameter)).collect();
        let slots = assign(name, &names, arguments)?;
        let mut values = Vec::with_capacity(slots.len());
        for (slot, parameter) in slots.into_iter().zip(&names) {
            let given = slot.ok_or_else(|| missing(range.clone(), name, parameter, ""))?;
            values.push(given.value);
        }
        let cautions = self.cautions.len();
        let result = self.body(Frame { entry, parameters: &values }, *body);
        // As with a fault, the place is that of the call.
        for caution in &mut self.cautions[cautions..] {
            caution.range = range.clone();
        }
        result.map_err(|stop| stop.at_call(name, range))
    }
}

/// Arguments in the order of the parameters: unnamed ones fill from the left.
pub(super) fn assign<'a>(
    function: &str,
    parameters: &[&str],
    arguments: Vec<Given<'a>>,
) -> Eval<Vec<Option<Given<'a>>>> {
    let mut slots: Vec<Option<Given>> = parameters.iter().map(|_| None).collect();
    let mut next = 0;
    for argument in arguments {
        let index = match argument.name {
            Some(name) => parameters.iter().position(|parameter| *parameter == name),
            None => Some(next).filter(|next| *next < parameters.len()),
        };
        let Some(index) = index else { return Err(surplus(function, parameters, &argument)) };
        if argument.name.is_none() {
            next = index + 1;
        }
        if slots[index].is_some() {
            let message = format!("`{}` is given twice", parameters[index]);
            return Err(fault::argument(argument.called, message, "Leave one of them out.".to_owned()).into());
        }
        slots[index] = Some(argument);
    }
    Ok(slots)
}

fn surplus(function: &str, parameters: &[&str], argument: &Given) -> Stop {
    let list = parameters.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ");
    let (message, help) = match argument.name {
        Some(name) => {
            let help = match suggest::nearest(name, parameters.iter().copied()) {
                Some(near) => format!("Did you mean `{near}`?"),
                None => format!("It takes: {list}."),
            };
            (format!("`{function}` takes no argument called `{name}`"), help)
        }
        None => {
            (format!("`{function}` takes only {}", counted(parameters.len())), format!("It takes: {list}."))
        }
    };
    fault::argument(argument.called.clone(), message, help).into()
}

pub(super) fn counted(count: usize) -> String {
    if count == 1 { "one argument".to_owned() } else { format!("{count} arguments") }
}

pub(super) fn missing(range: Range<usize>, function: &str, parameter: &str, meaning: &str) -> Stop {
    let help = if meaning.is_empty() {
        format!("Write `{parameter}: value` inside the brackets.")
    } else {
        format!("`{parameter}`: {meaning}.")
    };
    fault::argument(range, format!("`{function}` needs `{parameter}`"), help).into()
}
