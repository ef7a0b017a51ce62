//! One line at a time, for a prompt: each line sees the names of those before it.

use std::collections::BTreeMap;
use std::ops::Range;

use serde::Serialize;

use super::evaluate::verdict::Verdict;
use super::evaluate::{Entry, Evaluator, Known, Meaning, Stop, constants};
use super::fault::{self, Fault, Severity};
use super::function::Function;
use super::line;
use super::print;
use super::sheet::{Catalogue, Defined, Functions, LineOutcome, Logical, Names, resolve};
use super::syntax::{self, Line, Statement};
use super::uncertainty::Sources;
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
    typed: String,
}

impl Session {
    pub fn new(functions: &[&'static Function]) -> Self {
        Self { functions: Functions::new(functions), ..Self::default() }
    }

    /// All that was typed, faulty lines too, each with its end of line.
    pub fn typed(&self) -> &str {
        &self.typed
    }
}

/// A line worked out.
#[derive(Debug)]
pub struct Answer {
    pub outcome: LineOutcome,
    /// What a careful person would look at again.
    pub cautions: Vec<Fault>,
}

/// Works out one line. A name defined again takes the new value from here on, and has none if its line is faulty.
///
/// # Errors
/// Every fault that leaves the line without a value; ranges are in [`Session::typed`].
pub fn evaluate_line(text: &str, units: &Units, session: &mut Session) -> Result<Answer, Vec<Fault>> {
    let start = session.typed.len();
    session.typed.push_str(text);
    session.typed.push('\n');
    let moved = |faults: Vec<Fault>| faults.into_iter().map(|fault| fault.moved(start)).collect();
    match work_out(text, units, session) {
        Ok(answer) => Ok(Answer { cautions: moved(answer.cautions), ..answer }),
        Err(faults) => {
            session.keep_faulty(text, units);
            Err(moved(faults))
        }
    }
}

fn work_out(text: &str, units: &Units, session: &mut Session) -> Result<Answer, Vec<Fault>> {
    let logical = Logical::of_text(text);
    let line = syntax::parse(&logical.text, units).map_err(|fault| vec![*fault])?;
    let block = session.entries.len();
    let (meanings, mut cautions) = session.resolved(&line, block, units)?;
    let constants = constants(&line, &mut session.sources);
    let entry = Entry { scope: 0, block, line, meanings, constants };
    let known = Known { units, entries: &session.entries, values: &session.values, given: &[&[]] };
    let mut steps = 0;
    let mut evaluator = Evaluator::new(known, &mut session.sources, &mut steps);
    let worked = line::work_out(&mut evaluator, &entry);
    cautions.append(&mut evaluator.cautions);
    let mut worked = worked.map_err(|stop| match stop {
        Stop::Fault(fault) => vec![*fault],
        Stop::Blocked => vec![fault::blocked(0..text.len())],
    })?;
    worked.say_all();
    let value = worked.value.clone();
    let values = |meaning| match meaning {
        Meaning::Line(entry) => {
            session.values[entry].as_ref().map(|value| line::put_in(&session.entries[entry], value))
        }
        _ => None,
    };
    let outcome = line::outcome(&entry, Some(worked), 0..text.len(), units, &session.sources, &values);
    let outcome = LineOutcome { comment: logical.comment(outcome.comment), ..outcome };
    session.keep(entry, value, units);
    Ok(Answer { outcome, cautions })
}

impl Session {
    /// What the names of a line mean, and what is to be said of them; a name without a value is an error here, since
    /// its own fault stands far above.
    fn resolved(
        &self,
        line: &Line,
        block: usize,
        units: &Units,
    ) -> Result<(Vec<Meaning>, Vec<Fault>), Vec<Fault>> {
        let (ids, scopes, given) = (BTreeMap::new(), [self.names.clone()], [&[][..]]);
        let catalogue =
            Catalogue { units, functions: &self.functions, ids: &ids, scopes: &scopes, given: &given };
        let (meanings, faults) = resolve(line, 0, block, &catalogue);
        let (mut errors, cautions): (Vec<_>, Vec<_>) =
            faults.into_iter().partition(|fault| fault.severity() == Severity::Error);
        if errors.is_empty() {
            let faulty = line.tree.names.iter().zip(&meanings).filter(|(_, meaning)| meaning.is_faulty());
            errors
                .extend(faulty.map(|(name, _)| fault::without_value(name.name.range(), line.at(name.name))));
        }
        if errors.is_empty() { Ok((meanings, cautions)) } else { Err(errors) }
    }

    fn keep(&mut self, entry: Entry, value: Option<Value>, units: &Units) {
        if let Some(name) = entry.line.defines() {
            let is_function = matches!(entry.line.statement, Statement::DefineFunction { .. });
            self.define(entry.line.at(name), Some(self.entries.len()), is_function, name.range(), units);
        }
        self.entries.push(entry);
        self.values.push(value);
    }

    /// The name of a faulty line stands for no value, not for an earlier one.
    fn keep_faulty(&mut self, text: &str, units: &Units) {
        if let Some(head) = syntax::head(text, units) {
            self.define(&text[head.name.clone()], None, head.is_function, head.name, units);
        }
    }

    /// Every line is a block of its own, so that the last definition holds.
    fn define(
        &mut self,
        name: &str,
        entry: Option<usize>,
        is_function: bool,
        range: Range<usize>,
        units: &Units,
    ) {
        self.names.add(name, Defined { entry, block: self.entries.len(), is_function, range }, units);
    }
}

/// A value for other programs: numbers in the printed unit, the unit as it can be typed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Report {
    Quantity {
        value: f64,
        unit: String,
        expanded_uncertainty: f64,
        worst_case: Ends,
    },
    Check {
        verdict: &'static str,
        margin: f64,
        unit: String,
        expanded_uncertainty: f64,
        worst_case: Ends,
    },
    Truth {
        truth: bool,
    },
    Text {
        text: String,
    },
    /// One of several, the one by the middles first.
    Either {
        not_settled: Vec<Report>,
    },
    List {
        values: Vec<Report>,
    },
    Record {
        fields: BTreeMap<String, Report>,
    },
    Nothing {},
}

/// The ends of the worst case; nothing (`null`) where it is not known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ends {
    pub low: f64,
    pub high: f64,
}

impl Report {
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
            Value::Either(all) => {
                Self::Either { not_settled: all.iter().map(|each| Self::value(each, units)).collect() }
            }
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
            value: quantity.shown_in(unit),
            unit: unit.to_string(),
            expanded_uncertainty: match quantity.uncertainty.is_open() {
                true => f64::INFINITY,
                false => unit.interval_from_si(quantity.expanded()),
            },
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
            worst_case: {
                let (low, high) = verdict.margin.worst_case();
                Ends { low: unit.interval_from_si(low), high: unit.interval_from_si(high) }
            },
        }
    }
}

impl LineOutcome {
    /// The line and what it comes to, as plain text: `clearance = 0.0032 in ± 0.0009 in`.
    pub fn text(&self, units: &Units) -> String {
        let value = match (&self.verdict, &self.value) {
            (Some(verdict), _) => format!("{}: {}", verdict.word(), verdict.reason(units)),
            (None, Some(value)) => match &self.literal {
                Some(literal) => literal.print(),
                None => print::value(value, units),
            },
            (None, None) => String::new(),
        };
        match &self.name {
            Some(name) if !value.is_empty() => format!("{name} = {value}"),
            _ => value,
        }
    }
}
