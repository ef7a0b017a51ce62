//! One line from its tree to its outcome: worked out, set out, reported.

use std::ops::Range;

use super::evaluate::verdict::Verdict;
use super::evaluate::{Entry, Eval, Evaluator, Meaning, Note};
use super::expression::{Builder, Put, PutIn, Setting, Symbol, Working, comparison_sign};
use super::fault;
use super::function::Function;
use super::print;
use super::sheet::{Asked, Budget, BudgetRow, BudgetTotal, LineKind, LineOutcome, Reference, Referent, Side};
use super::syntax::{Line, Name, Node, NodeId, Span, Statement, Tree};
use super::uncertainty::Sources;
use super::units::Units;
use super::value::{Quantity, Value};

/// What working out a line gives.
#[derive(Clone, Debug)]
pub(super) struct Worked {
    pub value: Option<Value>,
    pub verdict: Option<Box<Verdict>>,
    pub notes: Vec<Note>,
    pub functions: Vec<&'static Function>,
}

/// The value of a line, or its verdict.
pub(super) fn work_out(evaluator: &mut Evaluator, entry: &Entry) -> Eval<Worked> {
    let (mut value, mut verdict) = (None, None);
    match entry.line.statement {
        Statement::Define { value: node, .. } => {
            let defined = evaluator.root(entry, node)?;
            let defined = evaluator.settled(entry, node, defined)?;
            value = Some(defined);
        }
        Statement::Show { value: node } => {
            let shown = evaluator.root(entry, node)?;
            if let Value::Record(record) = &shown {
                evaluator.say_of(record, |_| true);
            }
            let shown = evaluator.settled(entry, node, shown)?;
            value = Some(shown);
        }
        Statement::Budget { of } => {
            let quantity = evaluator.root(entry, of)?;
            if quantity.quantity().is_none() {
                return Err(fault::kind(entry.line.tree.span(of), "a number", &quantity).into());
            }
            evaluator.say_curved(entry, of, &quantity);
            value = Some(quantity);
        }
        Statement::Check { value, comparison, low, high, .. } => {
            verdict = Some(Box::new(evaluator.verdict(entry, value, comparison, [low, high])?));
        }
        Statement::DefineFunction { .. } | Statement::Nothing => {}
    }
    let notes = std::mem::take(&mut evaluator.notes);
    Ok(Worked { value, verdict, notes, functions: std::mem::take(&mut evaluator.used) })
}

impl Worked {
    /// Adds what is to be said of a record whose fields nothing else reads, so that they all stand here.
    pub(super) fn say_all(&mut self) {
        let Some(Value::Record(record)) = &self.value else { return };
        for note in record.remarks.iter().map(Note::of) {
            if !self.notes.contains(&note) {
                self.notes.push(note);
            }
        }
    }
}

/// The outcome of a line that can't be read.
pub(super) fn faulty(typed: &str, range: Range<usize>) -> LineOutcome {
    LineOutcome {
        kind: LineKind::Faulty,
        name: None,
        typed: typed.trim().to_owned(),
        range,
        comment: None,
        value: None,
        literal: None,
        asked: None,
        references: Vec::new(),
        working: None,
        verdict: None,
        budget: None,
        notes: Vec::new(),
        functions: Vec::new(),
    }
}

/// The outcome of a line that was read; `worked` is none when it has a fault.
pub(super) fn outcome(
    entry: &Entry,
    worked: Option<Worked>,
    range: Range<usize>,
    units: &Units,
    sources: &Sources,
    values: &PutIn,
) -> LineOutcome {
    let line = &entry.line;
    let plain = LineOutcome {
        kind: kind(&line.statement),
        name: line.defines().map(|name| line.at(name).to_owned()),
        comment: line.comment_text().map(str::to_owned),
        literal: line.typed().cloned(),
        asked: asked(line),
        references: references(entry),
        ..faulty(&line.text, range)
    };
    if let Statement::DefineFunction { .. } = line.statement {
        return LineOutcome { working: set_out(entry, None, None, units, values), ..plain };
    }
    let Some(worked) = worked else { return plain };
    let budget = match (&line.statement, &worked.value) {
        (Statement::Budget { of }, Some(Value::Quantity(quantity))) => {
            Some(Box::new(budget(&line.text[line.tree.span(*of)], quantity, units, sources)))
        }
        _ => None,
    };
    LineOutcome {
        working: set_out(entry, worked.value.as_ref(), worked.verdict.as_deref(), units, values),
        budget,
        value: worked.value,
        verdict: worked.verdict,
        notes: worked.notes,
        functions: worked.functions,
        ..plain
    }
}

/// The names of a line that stand for something in the notes, with their places in its text.
pub(super) fn references(entry: &Entry) -> Vec<Reference> {
    let names = entry.line.tree.names_with_fields().zip(&entry.meanings);
    names.filter_map(|((name, field), meaning)| reference(&entry.line, name, field, *meaning)).collect()
}

fn reference(line: &Line, name: &Name, field: Option<Span>, meaning: Meaning) -> Option<Reference> {
    let referent = match meaning {
        Meaning::Line(_) => Referent::Line,
        Meaning::User(_) => Referent::Function,
        Meaning::Given(..) => Referent::Given,
        Meaning::Faulty => Referent::Unknown,
        Meaning::Parameter(_)
        | Meaning::Pi
        | Meaning::StandardGravity
        | Meaning::Builtin(_)
        | Meaning::Workshop(_) => return None,
    };
    let text = |span: Span| line.at(span).to_owned();
    // The sign stands before the id.
    let start = name.note.map_or(name.name.start, |note| note.start.saturating_sub(1));
    let end = field.map_or(name.name.end, |field| field.end);
    Some(Reference {
        note: name.note.map(text),
        name: text(name.name),
        field: field.map(text),
        referent,
        range: Span { start, end }.range(),
    })
}

fn asked(line: &Line) -> Option<Asked> {
    let Statement::Check { value, comparison, low, high, asks } = line.statement else { return None };
    let side = |node: NodeId| Side {
        text: in_one_line(&line.text[line.tree.span(node)]),
        literal: line.literal(node).cloned(),
    };
    Some(Asked {
        text: in_one_line(line.at(asks)),
        subject: side(value),
        relation: comparison,
        low: low.map(side),
        high: high.map(side),
    })
}

/// A formula that goes on over several lines, in one.
fn in_one_line(text: &str) -> String {
    text.lines().map(str::trim).filter(|line| !line.is_empty()).collect::<Vec<_>>().join(" ")
}

/// What is put in for the name of a line with this value.
pub(super) fn put_in(entry: &Entry, value: &Value) -> Put {
    match entry.line.typed().filter(|literal| literal.is_exact()) {
        Some(literal) => Put::Typed(literal.clone()),
        None => Put::Value(value.clone()),
    }
}

fn kind(statement: &Statement) -> LineKind {
    match statement {
        Statement::Define { assumed: false, .. } => LineKind::Definition,
        Statement::Define { assumed: true, .. } => LineKind::Assumption,
        Statement::DefineFunction { .. } => LineKind::FunctionDefinition,
        Statement::Check { .. } => LineKind::Check,
        Statement::Budget { .. } => LineKind::Budget,
        Statement::Show { .. } => LineKind::Value,
        Statement::Nothing => LineKind::Comment,
    }
}

/// Symbol, formula, numbers and result.
fn set_out(
    entry: &Entry,
    value: Option<&Value>,
    verdict: Option<&Verdict>,
    units: &Units,
    values: &PutIn,
) -> Option<Working> {
    let symbols = Builder { entry, units, value: None };
    let numbers = Builder { entry, units, value: Some(values) };
    let symbol = |name| Setting::Symbol(Symbol::of(entry.line.at(name), None));
    match &entry.line.statement {
        Statement::Define { name, value: node, .. } => {
            Some(equation(&symbols, &numbers, Some(symbol(*name)), *node, value?))
        }
        Statement::Show { value: node } | Statement::Budget { of: node } => {
            Some(equation(&symbols, &numbers, None, *node, value?))
        }
        Statement::DefineFunction { name, parameters, body } => {
            let arguments = parameters.iter().map(|parameter| (None, symbol(*parameter)));
            let head =
                Setting::Call { name: entry.line.at(*name).to_owned(), arguments: arguments.collect() };
            Some(Working::new(Some(head), symbols.set(*body), None, None))
        }
        Statement::Check { value, comparison, low, high, .. } => {
            let verdict = verdict?;
            let sides = [Some(*value), *low, *high];
            let formula = check(&sides.map(|side| side.map(|side| symbols.set(side))), *comparison);
            let put_in = [Some(&verdict.value), verdict.low.as_ref(), verdict.high.as_ref()];
            let numbers = check(&put_in.map(|side| side.map(|side| measured(side, units))), *comparison);
            Some(Working::new(None, formula, Some(numbers), None))
        }
        Statement::Nothing => None,
    }
}

/// A name, or a field of one: its value is the result.
fn is_name(tree: &Tree, node: NodeId) -> bool {
    match tree.node(node) {
        Node::Name(_) => true,
        Node::Field(inner, _) => is_name(tree, inner),
        _ => false,
    }
}

fn equation(
    symbols: &Builder,
    numbers: &Builder,
    symbol: Option<Setting>,
    node: NodeId,
    value: &Value,
) -> Working {
    let tree = &symbols.entry.line.tree;
    let is_typed = matches!(tree.node(node), Node::Literal(_) | Node::Text(_) | Node::Truth(_));
    let is_name = is_name(tree, node);
    let put_in = (!is_typed && !is_name && !tree.names.is_empty()).then(|| numbers.set(node));
    let result = (!is_typed).then(|| result(value, symbols.units));
    Working::new(symbol, symbols.set(node), put_in, result)
}

fn result(value: &Value, units: &Units) -> Setting {
    match value {
        Value::Quantity(quantity) => measured(quantity, units),
        Value::List(values) if values.len() <= 12 => {
            Setting::List(values.iter().map(|each| result(each, units)).collect())
        }
        other => Setting::Text(print::value(other, units)),
    }
}

fn measured(quantity: &Quantity, units: &Units) -> Setting {
    Setting::Value(print::quantity(quantity, units))
}

/// `value ≤ limit`, or `value within low .. high`.
fn check(sides: &[Option<Setting>; 3], comparison: super::syntax::Comparison) -> Setting {
    let side = |index: usize| Box::new(sides[index].clone().unwrap_or(Setting::Text(String::new())));
    let sign = comparison_sign(comparison);
    match (comparison, sides) {
        (super::syntax::Comparison::Within, _) => {
            Setting::Relation(side(0), sign, Box::new(Setting::Relation(side(1), "..", side(2))))
        }
        (_, [_, Some(_), _]) => Setting::Relation(side(0), sign, side(1)),
        _ => Setting::Relation(side(0), sign, side(2)),
    }
}

/// What the row is called that holds all that the sensitivities leave out.
const NONLINEARITY: &str = "nonlinearity";

/// A share of the worst case that is worth a row.
const SEEN: f64 = 0.01;

fn budget(of: &str, quantity: &Quantity, units: &Units, sources: &Sources) -> Budget {
    let unit = quantity.printed_unit(units);
    let expanded = quantity.uncertainty.expanded();
    let printed = print::in_unit(quantity, unit);
    let scale = libm::pow(10.0, f64::from(-printed.power));
    let decimals = print::decimals_for(unit.interval_from_si(expanded.value) * scale) + 1;
    let figure = |value: f64| print::rounded(unit.interval_from_si(value) * scale, decimals);
    let at_most = |value: f64| print::rounded_up(unit.interval_from_si(value) * scale, decimals);
    let variance: f64 =
        quantity.uncertainty.terms().iter().map(|term| term.standard() * term.standard()).sum();
    let mut rows: Vec<(f64, BudgetRow)> = quantity
        .uncertainty
        .terms()
        .iter()
        .filter(|term| !term.is_bend())
        .map(|term| {
            let share = 100.0 * term.standard() * term.standard() / variance;
            let row = BudgetRow {
                source: sources.label(term.source).to_owned(),
                degrees_of_freedom: term.degrees_of_freedom(),
                standard: figure(term.standard()),
                worst: figure(term.worst()),
                share,
            };
            (share, row)
        })
        .collect();
    rows.sort_by(|a, b| b.0.total_cmp(&a.0));
    let left_out = quantity.uncertainty.left_out();
    if left_out > SEEN * quantity.uncertainty.worst() {
        let (source, [standard, worst]) = (NONLINEARITY.to_owned(), [0.0, left_out].map(figure));
        rows.push((0.0, BudgetRow { source, degrees_of_freedom: None, standard, worst, share: 0.0 }));
    }
    let total = BudgetTotal {
        standard: figure(quantity.uncertainty.standard()),
        expanded: (!quantity.uncertainty.is_curved()).then(|| at_most(expanded.value)),
        worst: at_most(quantity.uncertainty.worst()),
        unit: if printed.power == 0 {
            printed.unit
        } else {
            format!("10^{} {}", printed.power, printed.unit)
        },
    };
    Budget {
        of: of.to_owned(),
        quantity: quantity.clone(),
        rows: rows.into_iter().map(|(_, row)| row).collect(),
        factor: expanded.factor,
        degrees_of_freedom: expanded.degrees_of_freedom,
        total,
    }
}
