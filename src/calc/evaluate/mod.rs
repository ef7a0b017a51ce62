//! Working out a line whose names are resolved.
//!
//! Takes: lines with the meaning of every name, the values known so far. Gives: values with uncertainty, verdicts, remarks,
//! or the one fault that stops the line. Never: looks a name up, or works out another line on the way.

mod arithmetic;
pub mod builtin;
mod compare;
mod convert;
mod search;
mod smooth;
mod stop;
mod turns;
mod user;
pub mod verdict;
mod workshop;

use std::borrow::Cow;
use std::ops::Range;

use super::cause::{Cause, Origin};
use super::fault::{self, Fault};
use super::function::{Function, Said};
use super::literal::Literal;
use super::syntax::{Line, Node, NodeId, Operator, Span, Tree};
use super::uncertainty::Sources;
use super::units::Units;
use super::value::{Quantity, Record, Remark, Value};
use builtin::Builtin;
pub(super) use compare::holds;
pub(in crate::calc) use stop::Stop;

/// The most steps that one evaluation takes: a step is an operation, or a term of uncertainty that it carries.
pub const MOST_STEPS: u64 = 20_000_000;

/// The most values that a list holds, those of lists within it included.
const MOST_IN_LIST: usize = 10_000;

/// Standard acceleration of free fall, m/s² (3rd CGPM 1901).
pub(super) const STANDARD_GRAVITY: f64 = 9.80665;

/// How many operations may be under way at once, calls of functions included.
const DEEPEST: usize = 400;

pub(super) type Eval<T> = Result<T, Stop>;

/// A line ready to be worked out.
#[derive(Clone, Debug)]
pub struct Entry {
    pub scope: usize,
    pub block: usize,
    pub line: Line,
    /// What each of the tree's names means.
    pub meanings: Vec<Meaning>,
    /// The tree's literals as quantities, with their sources of uncertainty.
    pub constants: Vec<Quantity>,
}

/// What a name means.
#[derive(Clone, Copy, Debug)]
pub enum Meaning {
    /// The value of a line.
    Line(usize),
    /// A value from outside: scope, and its place there.
    Given(usize, usize),
    /// An argument of the function that the line defines.
    Parameter(usize),
    Pi,
    /// Standard acceleration of free fall.
    StandardGravity,
    Builtin(&'static Builtin),
    Workshop(&'static Function),
    /// A function that a line defines.
    User(usize),
    /// It has a fault of its own, already reported.
    Faulty,
}

impl Meaning {
    pub(super) const fn is_faulty(self) -> bool {
        matches!(self, Self::Faulty)
    }
}

/// Something worth saying under the working of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    pub is_warning: bool,
    pub said: Said,
    /// The workshop function that says it.
    pub function: Option<&'static str>,
}

impl Note {
    pub(super) fn of(remark: &Remark) -> Self {
        Self { is_warning: false, said: remark.said.clone(), function: Some(remark.function) }
    }
}

/// Everything that can be looked at while a line is worked out.
pub(super) struct Known<'a> {
    pub units: &'a Units,
    pub entries: &'a [Entry],
    /// By entry; `None` while it has no value.
    pub values: &'a [Option<Value>],
    pub given: &'a [&'a [(String, Value)]],
}

pub(super) struct Evaluator<'a> {
    pub known: Known<'a>,
    pub sources: &'a mut Sources,
    pub steps: &'a mut u64,
    pub notes: Vec<Note>,
    pub cautions: Vec<Fault>,
    pub used: Vec<&'static Function>,
    depth: usize,
    /// The line has named `pi`.
    names_pi: bool,
    /// What stood beside an angle in the products of the line.
    partners: Vec<fault::Subject>,
}

/// What an operation takes and gives.
enum Operand<'a> {
    One(Cow<'a, Quantity>),
    Many(Vec<Quantity>),
}

impl Operand<'_> {
    /// How many numbers it has; one alone goes with every number of a list.
    fn len(&self) -> usize {
        match self {
            Self::One(_) => 0,
            Self::Many(list) => list.len(),
        }
    }

    fn at(&self, index: usize) -> Cow<'_, Quantity> {
        match self {
            Self::One(quantity) => Cow::Borrowed(quantity),
            Self::Many(list) => Cow::Borrowed(&list[index]),
        }
    }

    fn into_value(self) -> Value {
        match self {
            Self::One(quantity) => Value::Quantity(quantity.into_owned()),
            Self::Many(list) => Value::list(list.into_iter().map(Value::Quantity).collect()),
        }
    }
}

/// A line and the arguments of its function, if it is one.
#[derive(Clone, Copy)]
pub(super) struct Frame<'a> {
    pub entry: &'a Entry,
    pub parameters: &'a [Value],
}

impl<'a> Evaluator<'a> {
    pub(super) fn new(known: Known<'a>, sources: &'a mut Sources, steps: &'a mut u64) -> Self {
        Self {
            known,
            sources,
            steps,
            notes: Vec::new(),
            cautions: Vec::new(),
            used: Vec::new(),
            depth: 0,
            names_pi: false,
            partners: Vec::new(),
        }
    }

    /// The value of a whole formula.
    pub(super) fn root(&mut self, entry: &Entry, node: NodeId) -> Eval<Value> {
        self.body(Frame { entry, parameters: &[] }, node)
    }

    /// The value of a formula that may be the body of a function under way.
    fn body(&mut self, frame: Frame, node: NodeId) -> Eval<Value> {
        let height = frame.entry.line.tree.height(node) + 1;
        if self.depth + height > DEEPEST {
            let name = frame.entry.line.defines().map_or("", |name| frame.entry.line.at(name));
            return Err(fault::calls_too_deep(frame.entry.line.tree.span(node), name).into());
        }
        self.depth += height;
        let value = self.node(frame, node);
        self.depth -= height;
        value
    }

    fn node(&mut self, frame: Frame, id: NodeId) -> Eval<Value> {
        self.charge(1, frame, id)?;
        match frame.entry.line.tree.node(id) {
            Node::Literal(index) => Ok(Value::Quantity(frame.entry.constants[index as usize].clone())),
            Node::Name(index) => self.name(frame, id, index),
            Node::Binary(operator, left, right) => self.binary(frame, id, operator, left, right),
            Node::Call(index) => self.call(frame, id, index),
            Node::Field(inner, field) => self.field(frame, inner, field),
            Node::Convert(inner, target) => self.convert(frame, inner, target, id),
            Node::Negate(inner) => self.negate(frame, inner),
            other => self.other(frame, id, other),
        }
    }

    fn other(&mut self, frame: Frame, id: NodeId, node: Node) -> Eval<Value> {
        match node {
            Node::Compare(comparison, left, right) => self.compare(frame, id, comparison, left, right),
            Node::If { condition, then, otherwise } => self.branch(frame, [condition, then, otherwise]),
            Node::Not(inner) => self.not(frame, inner),
            Node::List { first, count } => {
                let nodes = frame.entry.line.tree.list(first, count).to_vec();
                let values: Eval<Vec<Value>> = nodes.into_iter().map(|node| self.node(frame, node)).collect();
                let list = Value::list(values?);
                match list.has_more_than(MOST_IN_LIST) {
                    true => Err(fault::list_long(frame.tree().span(id), MOST_IN_LIST).into()),
                    false => Ok(list),
                }
            }
            Node::Text(span) => Ok(Value::text(frame.entry.line.at(span))),
            Node::Truth(truth) => Ok(Value::Truth(truth)),
            // `node` has taken all others.
            _ => Err(Stop::Blocked),
        }
    }

    fn binary(
        &mut self,
        frame: Frame,
        id: NodeId,
        operator: Operator,
        left: NodeId,
        right: NodeId,
    ) -> Eval<Value> {
        if operator.is_logical() {
            return self.logic(frame, operator, left, right);
        }
        self.arithmetic(frame, id, operator, left, right).map(Operand::into_value)
    }

    /// An operation of two numbers, of a list and a number, or of two lists, number by number.
    fn arithmetic<'f>(
        &mut self,
        frame: Frame<'f>,
        id: NodeId,
        operator: Operator,
        left: NodeId,
        right: NodeId,
    ) -> Eval<Operand<'f>>
    where
        'a: 'f,
    {
        let site = Site { frame, whole: id, left, right };
        match (self.operand(frame, left)?, self.operand(frame, right)?) {
            (Operand::One(a), Operand::One(b)) => {
                self.operation(&site, operator, a, b).map(|quantity| Operand::One(Cow::Owned(quantity)))
            }
            (a, b) => self.each(&site, operator, &a, &b).map(Operand::Many),
        }
    }

    fn each(&mut self, site: &Site, operator: Operator, a: &Operand, b: &Operand) -> Eval<Vec<Quantity>> {
        if let (Operand::Many(a), Operand::Many(b)) = (a, b)
            && a.len() != b.len()
        {
            return Err(fault::unlike_lists(site.range(), a.len(), b.len()).into());
        }
        let count = a.len().max(b.len());
        (0..count).map(|index| self.operation(site, operator, a.at(index), b.at(index))).collect()
    }

    fn operation(
        &mut self,
        site: &Site,
        operator: Operator,
        a: Cow<Quantity>,
        b: Cow<Quantity>,
    ) -> Eval<Quantity> {
        let terms = a.uncertainty.terms().len() + b.uncertainty.terms().len();
        self.charge(terms as u64, site.frame, site.whole)?;
        let joint = match operator {
            Operator::Add => self.add(site, &a, &b, 1.0),
            Operator::Subtract => self.add(site, &a, &b, -1.0),
            Operator::Multiply => self.multiply(site, &a, &b),
            Operator::Divide => self.divide(site, &a, &b),
            Operator::To => self.to(site, &a, &b),
            Operator::PlusMinus => self.plus_minus(site, &a, &b),
            _ => self.power(site, &a, &b),
        }?;
        checked(joint.of(a, b, self.sources), || site.range())
    }

    /// A node that must be a quantity.
    fn number<'f>(&mut self, frame: Frame<'f>, id: NodeId) -> Eval<Cow<'f, Quantity>>
    where
        'a: 'f,
    {
        match self.operand(frame, id)? {
            Operand::One(quantity) => Ok(quantity),
            many @ Operand::Many(_) => {
                Err(fault::kind(frame.tree().span(id), "a number", &many.into_value()).into())
            }
        }
    }

    /// A node that must be a quantity or a list of them; one that was typed or has a name is lent.
    fn operand<'f>(&mut self, frame: Frame<'f>, id: NodeId) -> Eval<Operand<'f>>
    where
        'a: 'f,
    {
        let lent = match frame.tree().node(id) {
            Node::Literal(index) => Some(&frame.entry.constants[index as usize]),
            Node::Name(index) => self.lent(frame, index).and_then(Value::quantity),
            Node::Binary(operator, left, right) if !operator.is_logical() => {
                self.charge(1, frame, id)?;
                return self.arithmetic(frame, id, operator, left, right);
            }
            _ => None,
        };
        if let Some(quantity) = lent {
            self.charge(1, frame, id)?;
            return Ok(Operand::One(Cow::Borrowed(quantity)));
        }
        match self.node(frame, id)? {
            Value::Quantity(quantity) => Ok(Operand::One(Cow::Owned(quantity))),
            list @ Value::List(_) => builtin::quantities(&list, &frame.tree().span(id)).map(Operand::Many),
            other => Err(fault::kind(frame.tree().span(id), "a number", &other).into()),
        }
    }

    /// The value that a name stands for, where it is kept.
    fn lent<'f>(&self, frame: Frame<'f>, index: u32) -> Option<&'f Value>
    where
        'a: 'f,
    {
        match frame.entry.meanings[index as usize] {
            Meaning::Line(entry) => self.known.values.get(entry)?.as_ref(),
            Meaning::Given(scope, place) => self.known.given.get(scope)?.get(place).map(|(_, value)| value),
            Meaning::Parameter(place) => frame.parameters.get(place),
            _ => None,
        }
    }

    fn name(&mut self, frame: Frame, id: NodeId, index: u32) -> Eval<Value> {
        let range = || frame.tree().span(id);
        match frame.entry.meanings[index as usize] {
            Meaning::Pi => {
                self.names_pi = true;
                Ok(Value::number(std::f64::consts::PI))
            }
            Meaning::StandardGravity => Ok(self.gravity()),
            Meaning::Builtin(builtin) => Err(fault::function_as_value(range(), builtin.name).into()),
            Meaning::Workshop(function) => Err(fault::function_as_value(range(), function.name).into()),
            Meaning::User(entry) => {
                let line = &self.known.entries[entry].line;
                let name = line.defines().map_or("", |name| line.at(name));
                Err(fault::function_as_value(range(), name).into())
            }
            // What stands before a line is worked out before it; a missing value has reported its own fault.
            _ => self.lent(frame, index).cloned().ok_or(Stop::Blocked),
        }
    }

    fn gravity(&self) -> Value {
        let unit = self.known.units.parse("m/s^2").unwrap_or_default();
        Quantity::exact(STANDARD_GRAVITY, super::dimension::Dimension::ACCELERATION, unit).into()
    }

    fn field(&mut self, frame: Frame, inner: NodeId, field: Span) -> Eval<Value> {
        let name = frame.entry.line.at(field);
        match self.node(frame, inner)? {
            Value::Record(record) => {
                self.say_of(&record, |each| each == name);
                record.field(name).cloned().ok_or_else(|| {
                    let known: Vec<&str> = record.names().collect();
                    let what = &frame.entry.line.text[frame.tree().span(inner)];
                    fault::unknown_field(field.range(), what, name, &known).into()
                })
            }
            other => Err(fault::no_fields(frame.tree().span(inner), &other.kind(), name).into()),
        }
    }

    fn charge(&mut self, steps: u64, frame: Frame, id: NodeId) -> Eval<()> {
        *self.steps += steps;
        if *self.steps > MOST_STEPS {
            return Err(fault::too_much_work(frame.tree().span(id)).into());
        }
        Ok(())
    }

    /// The remarks on the fields of a record that are read.
    pub(super) fn say_of(&mut self, record: &Record, is_read: impl Fn(&str) -> bool) {
        let notes = record.remarks.iter().filter(|remark| remark.of.iter().any(|field| is_read(field)));
        for note in notes.map(Note::of) {
            if !self.notes.contains(&note) {
                self.notes.push(note);
            }
        }
    }

    /// Says of a budget that sensitivities tell little of what it is about.
    pub(super) fn say_curved(&mut self, entry: &Entry, node: NodeId, value: &Value) {
        if value.quantity().is_some_and(|each| each.uncertainty.is_curved()) {
            self.cautions.push(fault::curved(entry.line.tree.span(node)));
        }
    }
}

impl<'a> Frame<'a> {
    fn tree(self) -> &'a Tree {
        &self.entry.line.tree
    }
}

/// Where an operation of two values stands.
pub(super) struct Site<'a> {
    frame: Frame<'a>,
    whole: NodeId,
    left: NodeId,
    right: NodeId,
}

impl Site<'_> {
    fn range(&self) -> Range<usize> {
        self.frame.tree().span(self.whole)
    }

    /// The source of uncertainty that begins here: `bore: least .. most`.
    fn cause(&self) -> Cause {
        let line = &self.frame.entry.line;
        let typed = &line.text[self.range()];
        let label =
            line.defines().map_or_else(|| typed.to_owned(), |name| format!("{}: {typed}", line.at(name)));
        Cause::of(origin(line), label)
    }

    fn left(&self) -> Range<usize> {
        self.frame.tree().span(self.left)
    }

    /// The two values with the texts that gave them.
    fn sides<'q>(&'q self, a: &'q Quantity, b: &'q Quantity) -> [(&'q Quantity, &'q str); 2] {
        let text = &self.frame.entry.line.text;
        [(a, &text[self.left()]), (b, &text[self.right()])]
    }

    fn right(&self) -> Range<usize> {
        self.frame.tree().span(self.right)
    }
}

/// Refuses what has left the range of numbers.
fn checked(quantity: Quantity, range: impl FnOnce() -> Range<usize>) -> Eval<Quantity> {
    if !quantity.value.is_finite() {
        return Err(fault::too_large(range()).into());
    }
    if !quantity.uncertainty.is_finite() {
        return Err(fault::uncertainty_without_end(range()).into());
    }
    Ok(quantity)
}

/// The literals of a tree as quantities; each one with bounds becomes a source of uncertainty of its own.
pub(super) fn constants(line: &Line, sources: &mut Sources) -> Vec<Quantity> {
    let name = line.defines().map(|name| line.at(name));
    let cause = |literal: &Literal| {
        let label = match name {
            Some(name) => format!("{name}: {literal}"),
            None => literal.to_string(),
        };
        Cause::of(origin(line), label)
    };
    line.tree
        .literals
        .iter()
        .map(|literal| Quantity::from_literal(literal, cause(literal), sources))
        .collect()
}

/// Where a bound that the line states comes from.
fn origin(line: &Line) -> Origin {
    if line.is_assumption() { Origin::Assumed } else { Origin::Stated }
}
