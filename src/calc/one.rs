//! One line at a time, for a prompt: each line sees the names of those before it.

use std::collections::BTreeMap;

use serde::Serialize;

use super::doubt::Sources;
use super::evaluate::verdict::Verdict;
use super::evaluate::{Entry, Evaluator, HELD, Known, Meaning, constants};
use super::fault::{Fault, Severity};
use super::function::Function;
use super::line;
use super::print;
use super::sheet::{Catalogue, Functions, LineOutcome, Names, resolve};
use super::syntax::{self, Statement};
use super::units::Units;
use super::value::{Quantity, Value};

/// The names defined so far, and the functions that can be called.
#[derive(Debug, Default)]
pub struct Session {
    functions: Functions,
    entries: Vec<Entry>,
    values: Vec<Option<Value>>,
    names: Names,
    sources: Sources,
}

impl Session {
    pub fn new(functions: &[&'static Function]) -> Self {
        Self { functions: Functions::new(functions), ..Self::default() }
    }
}

/// A line worked out.
#[derive(Debug)]
pub struct Answer {
    pub outcome: LineOutcome,
    /// What a careful person would look at again.
    pub cautions: Vec<Fault>,
}

/// Works out one line. A name defined again takes the new value from here on.
///
/// # Errors
/// Every fault that leaves the line without a value; ranges are in `text`.
pub fn evaluate_line(text: &str, units: &Units, session: &mut Session) -> Result<Answer, Vec<Fault>> {
    let line = syntax::parse(text, units).map_err(|fault| vec![*fault])?;
    let block = session.entries.len();
    let scopes = [session.names.clone()];
    let (ids, given) = (BTreeMap::new(), [&[][..]]);
    let catalogue =
        Catalogue { units, functions: &session.functions, ids: &ids, scopes: &scopes, given: &given };
    let (meanings, faults) = resolve(&line, 0, block, &catalogue);
    let (errors, mut cautions): (Vec<_>, Vec<_>) =
        faults.into_iter().partition(|fault| fault.severity == Severity::Error);
    if !errors.is_empty() {
        return Err(errors);
    }
    let constants = constants(&line, &mut session.sources);
    let entry = Entry { scope: 0, block, line, meanings, constants };
    let known = Known { units, entries: &session.entries, values: &session.values, given: &given };
    let mut steps = 0;
    let mut evaluator = Evaluator::new(known, &mut session.sources, &mut steps);
    let worked = line::work_out(&mut evaluator, &entry);
    cautions.append(&mut evaluator.cautions);
    let worked = worked.map_err(|fault| vec![*fault])?;
    let value = worked.value.clone();
    let values = |meaning| match meaning {
        Meaning::Line(entry) => {
            session.values[entry].as_ref().map(|value| line::put_in(&session.entries[entry], value))
        }
        _ => None,
    };
    let outcome = line::outcome(&entry, Some(worked), 0..text.len(), units, &session.sources, &values);
    session.keep(entry, value, units);
    debug_assert!(cautions.iter().all(|caution| caution.code != HELD));
    Ok(Answer { outcome, cautions })
}

impl Session {
    fn keep(&mut self, entry: Entry, value: Option<Value>, units: &Units) {
        if let Some(name) = entry.line.defines() {
            let is_function = matches!(entry.line.statement, Statement::DefineFunction { .. });
            self.names.define(entry.line.at(name), self.entries.len(), is_function, name.range(), units);
        }
        self.entries.push(entry);
        self.values.push(value);
    }
}

/// A value for other programs: numbers in the printed unit, the unit as it can be typed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Told {
    Quantity { value: f64, unit: String, expanded_uncertainty: f64, worst_case: Ends },
    Check { verdict: &'static str, margin: f64, unit: String, expanded_uncertainty: f64 },
    Truth { truth: bool },
    Text { text: String },
    List { values: Vec<Told> },
    Record { fields: BTreeMap<String, Told> },
    Nothing {},
}

/// The ends of the worst case.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ends {
    pub low: f64,
    pub high: f64,
}

impl Told {
    /// What a line comes to.
    pub fn of(outcome: &LineOutcome, units: &Units) -> Self {
        match (&outcome.verdict, &outcome.value) {
            (Some(verdict), _) => Self::verdict(verdict, units),
            (None, Some(value)) => Self::value(value, units),
            (None, None) => Self::Nothing {},
        }
    }

    pub fn value(value: &Value, units: &Units) -> Self {
        match value {
            Value::Quantity(quantity) => Self::quantity(quantity, units),
            Value::Truth(truth) => Self::Truth { truth: *truth },
            Value::Text(text) => Self::Text { text: text.to_string() },
            Value::List(values) => {
                Self::List { values: values.iter().map(|each| Self::value(each, units)).collect() }
            }
            Value::Record(record) => {
                let fields =
                    record.fields.iter().map(|(name, each)| (name.clone(), Self::value(each, units)));
                Self::Record { fields: fields.collect() }
            }
        }
    }

    fn quantity(quantity: &Quantity, units: &Units) -> Self {
        let unit = quantity.printed_unit(units);
        let (low, high) = quantity.worst_case();
        Self::Quantity {
            value: unit.from_si(quantity.value),
            unit: unit.to_string(),
            expanded_uncertainty: unit.interval_from_si(quantity.expanded()),
            worst_case: Ends { low: unit.from_si(low), high: unit.from_si(high) },
        }
    }

    /// A check.
    pub fn verdict(verdict: &Verdict, units: &Units) -> Self {
        let unit = verdict.margin.printed_unit(units);
        Self::Check {
            verdict: verdict.word(),
            margin: unit.interval_from_si(verdict.margin.value),
            unit: unit.to_string(),
            expanded_uncertainty: unit.interval_from_si(verdict.margin.expanded()),
        }
    }
}

impl LineOutcome {
    /// The line and what it comes to, as plain text: `clearance = 0.0032 in ± 0.0009 in`.
    pub fn text(&self, units: &Units) -> String {
        let value = match (&self.verdict, &self.value) {
            (Some(verdict), _) => format!("{}: {}", verdict.word(), verdict.reason(units)),
            (None, Some(value)) => self.as_typed.clone().unwrap_or_else(|| print::value(value, units)),
            (None, None) => String::new(),
        };
        match &self.name {
            Some(name) if !value.is_empty() => format!("{name} = {value}"),
            _ => value,
        }
    }
}
