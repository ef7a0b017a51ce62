//! Why a line can't be worked out to its end.

use std::ops::Range;

use crate::calc::fault::Fault;

/// Why a line stops.
#[derive(Debug)]
pub(in crate::calc) enum Stop {
    /// What it needs has no value, and the fault is reported where that should have had one.
    Blocked,
    /// It has a fault of its own.
    Fault(Box<Fault>),
}

impl Stop {
    /// A fault in the body of a function of the notes, at the place of its call.
    pub(super) fn at_call(self, function: &str, range: &Range<usize>) -> Self {
        match self {
            Self::Blocked => Self::Blocked,
            Self::Fault(fault) => fault.at_call(function, range).into(),
        }
    }
}

impl From<Fault> for Stop {
    fn from(fault: Fault) -> Self {
        Self::Fault(Box::new(fault))
    }
}
