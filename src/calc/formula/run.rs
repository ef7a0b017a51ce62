//! A formula run over numbers that carry their slopes.

use super::{builtin, definition, lines};
use crate::calc::function::{Absent, Argument, Call};
use crate::calc::real::Real;
use crate::calc::syntax::{Comparison, Line, Node, NodeId, Operator};

/// Why a line of a formula has no value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stop {
    /// An argument that may be left out was left out: what the line defines is left out as well.
    Absent,
    /// A parameter is neither given nor worked out from what stands for it.
    NotGiven(&'static str),
    /// A record argument has no such field.
    NoField { parameter: &'static str, field: String },
    /// The formula itself is wrong: a name it does not declare, a text where a number belongs.
    Wrong(String),
}

/// One run: the arguments, and what the lines have defined so far.
#[derive(Debug)]
pub struct Run<'a, 'call> {
    call: &'a Call<'call>,
    known: Vec<(&'static str, Argument)>,
}

impl<'a, 'call> Run<'a, 'call> {
    /// All lines of the function's formula, in their order.
    ///
    /// # Errors
    /// What stops a line that can't be left out.
    pub fn all(call: &'a Call<'call>) -> Result<Vec<(&'static str, Argument)>, Stop> {
        let mut run = Self { call, known: Vec::new() };
        for line in call.function().formula.lines() {
            let Some((name, value)) = definition(line) else { continue };
            match run.node(line, value) {
                Ok(value) => run.known.push((name, value)),
                Err(Stop::Absent) => {}
                Err(stop) => return Err(stop),
            }
        }
        Ok(run.known)
    }

    /// An expression of the arguments alone: what stands for a parameter that is not given.
    ///
    /// # Errors
    /// What stops it.
    pub fn expression(call: &'a Call<'call>, text: &'static str) -> Result<Argument, Stop> {
        let line = lines(text).first().ok_or_else(|| Stop::Wrong(format!("`{text}` can't be read")))?;
        let (_, value) = definition(line).ok_or_else(|| Stop::Wrong(format!("`{text}` is no value")))?;
        Self { call, known: Vec::new() }.node(line, value)
    }

    fn node(&self, line: &'static Line, id: NodeId) -> Result<Argument, Stop> {
        match line.tree.node(id) {
            Node::Literal(index) => Ok(number(line.tree.literals[index as usize].middle())),
            Node::Name(index) => self.name(line.at(line.tree.names[index as usize].name)),
            Node::Field(inner, field) => self.field(line, inner, line.at(field)),
            Node::Text(span) => Ok(Argument::Text(line.at(span).to_owned())),
            Node::Truth(truth) => Ok(Argument::Truth(truth)),
            Node::Negate(inner) => each(&self.node(line, inner)?, |real| -real),
            Node::Convert(inner, _) => self.node(line, inner),
            Node::Call(index) => self.call(line, index),
            Node::List { first, count } => {
                let nodes = line.tree.list(first, count);
                nodes.iter().map(|node| self.real(line, *node)).collect::<Result<_, _>>().map(Argument::List)
            }
            Node::Binary(operator, left, right) if !operator.is_logical() => {
                both(&self.node(line, left)?, &self.node(line, right)?, operation(operator)?)
            }
            other => self.choice(line, other),
        }
    }

    /// Conditions, and what depends on them.
    fn choice(&self, line: &'static Line, node: Node) -> Result<Argument, Stop> {
        match node {
            Node::If { condition, then, otherwise } => {
                self.node(line, if self.truth(line, condition)? { then } else { otherwise })
            }
            Node::Not(inner) => Ok(Argument::Truth(!self.truth(line, inner)?)),
            Node::Binary(operator, left, right) => {
                let (left, right) = (self.truth(line, left)?, self.truth(line, right)?);
                Ok(Argument::Truth(if operator == Operator::And { left && right } else { left || right }))
            }
            Node::Compare(comparison, left, right) => {
                compare(comparison, &self.node(line, left)?, &self.node(line, right)?).map(Argument::Truth)
            }
            _ => Err(Stop::Wrong("this is no value".to_owned())),
        }
    }

    fn real(&self, line: &'static Line, id: NodeId) -> Result<Real, Stop> {
        single(&self.node(line, id)?)
    }

    fn truth(&self, line: &'static Line, id: NodeId) -> Result<bool, Stop> {
        match self.node(line, id)? {
            Argument::Truth(truth) => Ok(truth),
            other => Err(Stop::Wrong(format!("{other:?} is no condition"))),
        }
    }

    fn name(&self, name: &str) -> Result<Argument, Stop> {
        if let Some((_, value)) = self.known.iter().rev().find(|(each, _)| *each == name) {
            return Ok(value.clone());
        }
        let Some(parameter) = self.call.function().parameters.iter().find(|each| each.name == name) else {
            return match name {
                "pi" => Ok(number(std::f64::consts::PI)),
                "g_n" => Ok(number(crate::calc::evaluate::STANDARD_GRAVITY)),
                _ if self.is_defined(name) => Err(Stop::Absent),
                _ => Err(Stop::Wrong(format!("`{name}` is neither a parameter nor defined"))),
            };
        };
        match (self.call.given(parameter.name), parameter.absent) {
            (Some(argument), _) => Ok(argument),
            (None, Absent::Without) => Err(Stop::Absent),
            (None, Absent::From(text)) => match Self::expression(self.call, text) {
                Err(Stop::NotGiven(_) | Stop::Absent) => Err(Stop::NotGiven(parameter.name)),
                other => other,
            },
            (None, _) => Err(Stop::NotGiven(parameter.name)),
        }
    }

    /// A line of the formula defines it, which was left out.
    fn is_defined(&self, name: &str) -> bool {
        let mut lines = self.call.function().formula.lines().iter();
        lines.any(|line| definition(line).is_some_and(|(each, _)| each == name))
    }

    /// A field of a record argument.
    fn field(&self, line: &'static Line, inner: NodeId, field: &str) -> Result<Argument, Stop> {
        let Node::Name(index) = line.tree.node(inner) else {
            return Err(Stop::Wrong(format!("`.{field}` of what is no argument")));
        };
        let of = line.at(line.tree.names[index as usize].name);
        self.name(of)?;
        let real = self.call.field_of(of, field).map(Argument::Number);
        let text = || self.call.text_of(of, field).map(|text| Argument::Text(text.to_owned()));
        let parameters = self.call.function().parameters.iter();
        let parameter = parameters.map(|each| each.name).find(|each| *each == of).unwrap_or_default();
        real.or_else(text).ok_or_else(|| Stop::NoField { parameter, field: field.to_owned() })
    }

    fn call(&self, line: &'static Line, index: u32) -> Result<Argument, Stop> {
        let call = &line.tree.calls[index as usize];
        let name = line.at(line.tree.names[call.name as usize].name);
        let arguments: Result<Vec<Argument>, Stop> =
            call.arguments.iter().map(|argument| self.node(line, argument.value)).collect();
        builtin::call(name, &arguments?)
    }
}

fn number(value: f64) -> Argument {
    Argument::Number(Real::exact(value))
}

/// A number that is needed.
pub(super) fn single(argument: &Argument) -> Result<Real, Stop> {
    match argument {
        Argument::Number(real) => Ok(*real),
        Argument::Count(count) => Ok(Real::exact(f64::from(*count))),
        other => Err(Stop::Wrong(format!("{other:?} is no number"))),
    }
}

/// A function of a number, of each number of a list.
pub(super) fn each(argument: &Argument, of: impl Fn(Real) -> Real) -> Result<Argument, Stop> {
    match argument {
        Argument::List(list) => Ok(Argument::List(list.iter().map(|real| of(*real)).collect())),
        other => single(other).map(|real| Argument::Number(of(real))),
    }
}

/// An operation of two numbers, of a list and a number, or of two lists, number by number.
fn both(left: &Argument, right: &Argument, of: fn(Real, Real) -> Real) -> Result<Argument, Stop> {
    match (left, right) {
        (Argument::List(left), Argument::List(right)) if left.len() == right.len() => {
            Ok(Argument::List(left.iter().zip(right).map(|(left, right)| of(*left, *right)).collect()))
        }
        (Argument::List(_), Argument::List(_)) => Err(Stop::Wrong("two lists of unlike length".to_owned())),
        (left, Argument::List(_)) => {
            let left = single(left)?;
            each(right, |right| of(left, right))
        }
        (left, right) => {
            let right = single(right)?;
            each(left, |left| of(left, right))
        }
    }
}

fn operation(operator: Operator) -> Result<fn(Real, Real) -> Real, Stop> {
    match operator {
        Operator::Add => Ok(|a, b| a + b),
        Operator::Subtract => Ok(|a, b| a - b),
        Operator::Multiply => Ok(|a, b| a * b),
        Operator::Divide => Ok(|a, b| a / b),
        Operator::Power => Ok(Real::to_the),
        _ => Err(Stop::Wrong("a range has no place in a formula".to_owned())),
    }
}

fn compare(comparison: Comparison, left: &Argument, right: &Argument) -> Result<bool, Stop> {
    if let (Argument::Text(left), Argument::Text(right)) = (left, right) {
        return Ok((left == right) == (comparison == Comparison::Equal));
    }
    if let (Argument::Truth(left), Argument::Truth(right)) = (left, right) {
        return Ok((left == right) == (comparison == Comparison::Equal));
    }
    let difference = (single(left)? - single(right)?).value();
    Ok(crate::calc::evaluate::holds(comparison, difference))
}
