//! Problems of figures: the engine's faults with their place in the note, and fits that have no limits.

use crate::calc::fault::Fault;
use crate::calc::function::Refusal;
use crate::diagnostic::{Problem, codes};
use crate::record::{Fit, Head, Links};
use crate::text::{FileId, Span};

/// `file` gives the file of a scope.
pub fn fault(fault: &Fault, file: impl Fn(usize) -> FileId) -> Problem {
    let code = codes::of_fault(fault.code);
    let mut problem = Problem::new(code, Span::new(file(fault.scope), fault.range.clone()), fault.says())
        .help(fault.help.clone());
    for label in &fault.labels {
        problem = problem.also(Span::new(file(label.scope), label.range.clone()), label.text.clone());
    }
    problem
}

/// The `fit:` of a part names a class that no table gives at its size; the place is that of the one to blame.
pub fn fit_class<L: Links>(part: &Head, fit: &Fit<L>, refusal: &Refusal) -> Problem {
    let place = if refusal.parameter == Some("at") { fit.at_place } else { fit.class.span };
    Problem::new(&codes::FIT_CLASS, place, refusal.message.clone()).help(refusal.help.clone()).about(&part.id)
}
