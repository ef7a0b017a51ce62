//! All calculations of a project: blocks read, names resolved, lines worked out in the order of their needs.
//!
//! Takes: scopes (one for each note) with their blocks, values from outside, and workshop functions. Gives: for every
//! line what it is, its working and value, and all faults at their places in the files. Never: reads a file or prints.

mod names;
mod order;
mod outcome;
mod run;
mod text;

use std::fmt;
use std::sync::Arc;

use super::function::Function;
use super::units::Units;
use super::value::Value;
pub use names::Functions;
pub(super) use names::{Catalogue, Defined, Names, resolve};
pub use outcome::{
    Asked, BlockOutcome, Budget, BudgetRow, BudgetTotal, Evaluation, LineKind, LineOutcome, Place,
    QuoteOutcome, Reference, Referent, ScopeOutcome, Side,
};
pub(super) use text::Logical;
pub use text::goes_on;

use super::uncertainty::Sources;

/// The calculations of one note, or of anything that has names of its own.
#[derive(Clone, Debug, Default)]
pub struct Scope {
    /// What stands behind `@`.
    pub id: String,
    pub blocks: Vec<Block>,
    /// Values from outside, seen as `@id.name`.
    pub given: Vec<(String, Value)>,
    /// Values quoted in prose; they see all names of the scope.
    pub quotes: Vec<Quote>,
    /// The note could not be read: what is asked of it has no value, and nothing more is said about that.
    pub is_unreadable: bool,
}

/// One `calc` block.
#[derive(Clone, Debug, Default)]
pub struct Block {
    pub lines: Vec<SourceLine>,
}

/// A line as it stands in the file.
#[derive(Clone, Debug, Default)]
pub struct SourceLine {
    pub text: String,
    /// The byte at which the text begins in its file.
    pub offset: usize,
}

/// A value quoted in prose: `clearance to thou`.
#[derive(Clone, Debug, Default)]
pub struct Quote {
    pub text: String,
    /// The byte at which the text begins in its file.
    pub offset: usize,
    /// Under which it can be asked for.
    pub named: Option<Named>,
}

/// A value without a line that others see as `@id.name`; the name may hold a stop.
#[derive(Clone)]
pub struct Named {
    pub name: String,
    /// What is seen of the value; the value itself where it gives none.
    pub becomes: Arc<Becomes>,
}

/// Makes one value of another, with sources of uncertainty of its own.
pub type Becomes = dyn Fn(&Value, &mut Sources) -> Option<Value> + Send + Sync;

impl fmt::Debug for Named {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.debug_struct("Named").field("name", &self.name).finish_non_exhaustive()
    }
}

/// Works out everything. `sources` are the sources of uncertainty that the given values refer to.
pub fn evaluate(
    scopes: &[Scope],
    units: &Units,
    functions: &[&'static Function],
    sources: Sources,
) -> Evaluation {
    run::Run::new(scopes, units, functions, sources).finish()
}
