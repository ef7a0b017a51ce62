//! Problems of the keeper's declaration, and of the tag for what carries load.

use jiff::civil::Date;

use super::LOAD_TAG;
use crate::diagnostic::{Problem, choice, codes};
use crate::record::{Dated, Head};
use crate::text::Span;

pub fn ahead(declared: Dated, today: Date) -> Problem {
    let message =
        format!("the machine is declared fit for use on {}, and the notes end on {today}", declared.date);
    Problem::new(&codes::FITNESS_AHEAD, declared.span, message)
        .help("Until the notes have come to that day it counts as not declared. Check the date, or write a log entry of that day.")
}

pub fn ended(until: Dated, today: Date) -> Problem {
    let message = format!(
        "the machine was declared fit for use until {}, and the notes have come to {today}",
        until.date
    );
    Problem::new(&codes::FITNESS_ENDED, until.span, message)
        .help("It counts as not declared. Have it looked at again before you write a new declaration.")
}

/// What stands against a declaration, by the ids of the notes.
pub struct Against<'a> {
    pub dangerous: Vec<&'a str>,
    pub not_met: Vec<&'a str>,
    pub lapsed: Vec<&'a str>,
}

pub fn contradicted(at: Span, against: &Against) -> Problem {
    let list = |says: &str, ids: &[&str]| {
        let ids: std::collections::BTreeSet<&str> = ids.iter().copied().collect();
        (!ids.is_empty()).then(|| format!("{says} {}", choice(ids).replace(" or ", " and ")))
    };
    let all = [
        list("dangerous findings:", &against.dangerous),
        list("load-carrying checks that are not met, in", &against.not_met),
        list("lapsed papers:", &against.lapsed),
    ];
    let all: Vec<String> = all.into_iter().flatten().collect();
    let message = format!("the machine is declared fit for use, and against it stand {}", all.join("; "));
    Problem::new(&codes::FITNESS_CONTRADICTED, at, message)
        .help("Take the declaration out until they are settled. The cover prints them below it.")
}

pub fn near_tag(part: &Head, tag: &str) -> Problem {
    let message = format!("the tag `{tag}` does not mark a part as carrying load");
    Problem::new(&codes::LOAD_TAG, part.at_id("tags", tag), message)
        .help(format!("Write `{LOAD_TAG}`: only that tag puts the part before the inspector."))
        .about(&part.id)
}

/// `between` says both diameters.
pub fn sharp_shoulder(part: &Head, at: Span, between: &str) -> Problem {
    let message = format!(
        "no radius or undercut is given at the shoulder between {between}, and the part carries load"
    );
    Problem::new(&codes::SHAPE_CORNER, at, message)
        .help("Give `radius:` or `undercut:` at the shoulder: a crack begins in a sharp corner.")
        .about(&part.id)
}
