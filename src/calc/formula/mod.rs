//! The formula of a workshop function, in the engine's own syntax.
//!
//! Takes: the lines as they stand in the function's table. Gives: the same as mathematics, and their results over
//! [`Real`](super::real::Real), slopes kept. Never: checks dimensions; the tests run every formula through the engine,
//! which does.

mod builtin;
mod run;

use std::collections::BTreeMap;
use std::sync::{LazyLock, RwLock};

use super::evaluate::Entry;
use super::expression::{Builder, Setting, Symbol};
use super::fault::Fault;
use super::syntax::{self, Line, Statement};
use super::units::{Settings, Units};
pub use run::{Run, Stop};

/// How a function comes to its results.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Formula {
    /// `stress = force/area`, one definition a line. Names are the function's parameters, fields of its record
    /// parameters, and what the lines before define; every result that is a number is defined by one of them.
    Lines(&'static str),
    /// A row of a table or the best of a search: in words how it is found, and lines that hold of what is found.
    Table { how: &'static str, lines: &'static str },
}

impl Formula {
    /// The lines, each a definition; none where all is looked up.
    pub fn lines(self) -> &'static [Line] {
        let (Self::Lines(text) | Self::Table { lines: text, .. }) = self;
        lines(text)
    }

    /// How it is looked up, if it is.
    pub fn how(self) -> Option<&'static str> {
        match self {
            Self::Lines(_) => None,
            Self::Table { how, .. } => Some(how),
        }
    }

    /// The text of each line.
    pub fn texts(self) -> impl Iterator<Item = &'static str> {
        let (Self::Lines(text) | Self::Table { lines: text, .. }) = self;
        text.lines().map(str::trim).filter(|line| !line.is_empty())
    }

    /// Each line as mathematics: `stress = force/area`.
    pub fn settings(self) -> Vec<Setting> {
        self.lines().iter().filter_map(setting).collect()
    }
}

/// The units that formulas are read with.
static UNITS: LazyLock<Units> = LazyLock::new(|| Units::new(&Settings::default()));

/// Reads the lines of a formula.
///
/// # Errors
/// The first line that is not of the engine's syntax.
pub fn read(text: &str) -> Result<Vec<Line>, Box<Fault>> {
    let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.map(|line| syntax::parse(line, &UNITS)).collect()
}

/// The lines of a formula, read when they are first asked for; a test reads the formulas of all functions.
pub(super) fn lines(text: &'static str) -> &'static [Line] {
    static READ: RwLock<BTreeMap<&'static str, &'static [Line]>> = RwLock::new(BTreeMap::new());
    if let Some(lines) = READ.read().ok().and_then(|read| read.get(text).copied()) {
        return lines;
    }
    // Kept as long as the program runs, like the text itself.
    let lines: &'static [Line] = read(text).unwrap_or_default().leak();
    if let Ok(mut read) = READ.write() {
        read.insert(text, lines);
    }
    lines
}

/// The expression that a line defines its name by, and the name.
pub(super) fn definition(line: &Line) -> Option<(&str, syntax::NodeId)> {
    match line.statement {
        Statement::Define { name, value, .. } => Some((line.at(name), value)),
        Statement::Show { value } => Some(("", value)),
        _ => None,
    }
}

/// A line as mathematics.
fn setting(line: &Line) -> Option<Setting> {
    let (name, value) = definition(line)?;
    let entry = Entry { scope: 0, block: 0, line: line.clone(), meanings: Vec::new(), constants: Vec::new() };
    let formula = Builder { entry: &entry, units: &UNITS, value: None }.set(value);
    if name.is_empty() {
        return Some(formula);
    }
    let symbol = Setting::Symbol(Symbol::of(name, None));
    Some(Setting::Relation(Box::new(symbol), "=", Box::new(formula)))
}

/// An expression as mathematics: what a parameter is that is not given.
pub fn expression(text: &'static str) -> Option<Setting> {
    lines(text).first().and_then(setting)
}
