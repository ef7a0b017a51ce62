//! What an evaluation gives back.

use std::ops::Range;

use crate::calc::evaluate::Note;
use crate::calc::evaluate::verdict::Verdict;
use crate::calc::expression::Working;
use crate::calc::fault::Fault;
use crate::calc::function::Function;
use crate::calc::literal::Literal;
use crate::calc::print::Printed;
use crate::calc::syntax::Comparison;
use crate::calc::uncertainty::Sources;
use crate::calc::units::Ton;
use crate::calc::value::{Quantity, Value};

/// Everything worked out, scope by scope in the order given.
#[derive(Debug)]
pub struct Evaluation {
    pub scopes: Vec<ScopeOutcome>,
    /// Where assumptions stand, in order.
    pub assumptions: Vec<Place>,
    /// Where checks stand, in order.
    pub checks: Vec<Place>,
    /// A bare ton was used, and the dossier does not say which: it was taken for this one.
    pub assumed_ton: Option<Ton>,
    /// Workshop functions that were used, by name.
    pub used: Vec<&'static Function>,
    /// In the order of scopes and places.
    pub faults: Vec<Fault>,
    pub sources: Sources,
}

/// Where a line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    pub scope: usize,
    pub block: usize,
    pub line: usize,
}

#[derive(Clone, Debug, Default)]
pub struct ScopeOutcome {
    pub blocks: Vec<BlockOutcome>,
    /// In the order of the quotes; those that can't be worked out have no value.
    pub quotes: Vec<QuoteOutcome>,
}

#[derive(Clone, Debug, Default)]
pub struct BlockOutcome {
    /// Blank lines are left out.
    pub lines: Vec<LineOutcome>,
}

#[derive(Clone, Debug, Default)]
pub struct QuoteOutcome {
    pub value: Option<Value>,
    /// On one line: `2.0035 in ± 0.0012 in`; empty without a value.
    pub text: String,
    pub printed: Option<Printed>,
    /// What it refers to, in the order of the text; ranges in the file.
    pub references: Vec<Reference>,
}

/// One line worked out.
#[derive(Clone, Debug)]
pub struct LineOutcome {
    pub kind: LineKind,
    /// The name that it defines.
    pub name: Option<String>,
    /// The line as typed.
    pub typed: String,
    /// In the file.
    pub range: Range<usize>,
    /// Why, in quotes behind the line; of a comment its text.
    pub comment: Option<String>,
    /// None while the line has a fault or depends on one.
    pub value: Option<Value>,
    /// The value as typed, where the line holds nothing else: `2 3/4 in +0.0018/-0`; none where it is computed.
    pub literal: Option<Literal>,
    /// Of a check: what it asks.
    pub asked: Option<Asked>,
    /// What it refers to, in the order of the text.
    pub references: Vec<Reference>,
    pub working: Option<Working>,
    pub verdict: Option<Box<Verdict>>,
    pub budget: Option<Box<Budget>>,
    /// What workshop functions have to say about it.
    pub notes: Vec<Note>,
    pub functions: Vec<&'static Function>,
}

/// What a check asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// As typed, in one line, without its word and its comment: `spare >= 5`.
    pub text: String,
    pub subject: Side,
    pub relation: Comparison,
    /// One of them for a one-sided check, both alike for `==`.
    pub low: Option<Side>,
    pub high: Option<Side>,
}

/// One side of a check.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// As typed, in one line.
    pub text: String,
    /// The quantity that it is; none where it is computed.
    pub literal: Option<Literal>,
}

/// Something in the notes that a line names: `bore`, `repair.wall`, `@post-journal.min`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reference {
    /// The id behind `@`; none for what stands in the line's own note.
    pub note: Option<String>,
    pub name: String,
    /// What is read of it, where it has fields.
    pub field: Option<String>,
    pub referent: Referent,
    /// From the `@` to the end of the field; in the file, but of a line at the prompt in its text.
    pub range: Range<usize>,
}

/// What stands behind a reference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Referent {
    /// The value of a line.
    Line,
    /// A function that a line defines.
    Function,
    /// What the note has without a line: what readings come to, a mass, a cost.
    Given,
    /// Nothing of that name, or its own line has a fault.
    Unknown,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKind {
    Definition,
    Assumption,
    Check,
    FunctionDefinition,
    Budget,
    /// An expression without a name.
    Value,
    Comment,
    /// It can't be read.
    Faulty,
}

/// Which source of uncertainty contributes how much.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// What it is the budget of, as typed.
    pub of: String,
    pub quantity: Quantity,
    /// The largest contribution first.
    pub rows: Vec<BudgetRow>,
    /// Coverage factor and effective degrees of freedom of the expanded uncertainty.
    pub factor: f64,
    pub degrees_of_freedom: f64,
    pub total: BudgetTotal,
}

/// One source's line; uncertainties in the quantity's printed unit.
#[derive(Clone, Debug, PartialEq)]
pub struct BudgetRow {
    pub source: String,
    /// Known from scatter, with degrees of freedom; else from bounds.
    pub degrees_of_freedom: Option<u32>,
    /// Standard uncertainty that it contributes, and its worst case, as printed.
    pub standard: String,
    pub worst: String,
    /// Its share of the variance, in percent.
    pub share: f64,
}

/// The foot of a budget, as printed.
#[derive(Clone, Debug, PartialEq)]
pub struct BudgetTotal {
    pub standard: String,
    /// None where nonlinearity leaves only a worst case.
    pub expanded: Option<String>,
    pub worst: String,
    pub unit: String,
}

impl ScopeOutcome {
    /// What its lines refer to, then what its quotes do.
    pub fn references(&self) -> impl Iterator<Item = &Reference> {
        let lines = self.blocks.iter().flat_map(|block| &block.lines).flat_map(|line| &line.references);
        lines.chain(self.quotes.iter().flat_map(|quote| &quote.references))
    }
}

impl Budget {
    /// What it is the budget of, and the unit of its figures: `play, in mm`.
    pub fn subject(&self) -> String {
        match self.total.unit.as_str() {
            "" => self.of.clone(),
            unit => format!("{}, in {unit}", self.of),
        }
    }
}

impl Evaluation {
    /// The line at a place.
    pub fn line(&self, place: Place) -> Option<&LineOutcome> {
        self.scopes.get(place.scope)?.blocks.get(place.block)?.lines.get(place.line)
    }
}
