//! Problems of calculations: the engine's faults with their place in the note.

use super::{Problem, codes};
use crate::calc::fault::Fault;
use crate::source::{FileId, Span};

/// `file` gives the file of a scope.
pub fn fault(fault: &Fault, file: impl Fn(usize) -> FileId) -> Problem {
    let code = codes::find(fault.code).unwrap_or(&codes::CALC_SYNTAX);
    let mut problem =
        Problem::new(code, Span::new(file(fault.scope), fault.range.clone()), fault.message.clone())
            .help(fault.help.clone());
    for label in &fault.labels {
        problem = problem.also(Span::new(file(label.scope), label.range.clone()), label.text.clone());
    }
    problem
}
