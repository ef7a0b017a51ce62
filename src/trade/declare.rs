//! Short words in which the tables of functions are written, and the refusals that many of them share.
//!
//! ```text
//! parameters: &[
//!     needed("d", Takes::Positive(Dimension::LENGTH), "diameter of the journal"),
//!     or_number("mu", Takes::NotNegative(Dimension::NONE), 0.15, "coefficient of friction"),
//!     or_words("kind", "ball", "ball or roller"),
//! ],
//! outputs: &[length("closure", "how far the bore closes in"), force("pull", "pull in the chain")],
//! ```

use crate::calc::dimension::Dimension;
use crate::calc::formula::{Run, Stop};
use crate::calc::function::{
    Absent, Answer, Argument, Call, Field, Formula, Gives, Output, Parameter, Refusal, Seen, Source, Takes,
};
use crate::calc::units::System;
use crate::trade::material;

/// A parameter that must be given.
pub(super) const fn needed(name: &'static str, takes: Takes, meaning: &'static str) -> Parameter {
    Parameter { name, takes, absent: Absent::Refused, meaning }
}

/// A parameter that the body can do without.
pub(super) const fn optional(name: &'static str, takes: Takes, meaning: &'static str) -> Parameter {
    Parameter { name, takes, absent: Absent::Without, meaning }
}

/// A parameter that an expression of the other parameters stands for when it is not given: `material.E`.
pub(super) const fn or_from(
    name: &'static str,
    takes: Takes,
    expression: &'static str,
    meaning: &'static str,
) -> Parameter {
    Parameter { name, takes, absent: Absent::From(expression), meaning }
}

/// A parameter that is `number` SI units when it is not given.
pub(super) const fn or_number(
    name: &'static str,
    takes: Takes,
    number: f64,
    meaning: &'static str,
) -> Parameter {
    Parameter { name, takes, absent: Absent::Number(number), meaning }
}

/// A text parameter that reads `words` when it is not given.
pub(super) const fn or_words(name: &'static str, words: &'static str, meaning: &'static str) -> Parameter {
    Parameter { name, takes: Takes::Text, absent: Absent::Words(words), meaning }
}

/// A result with its dimension and the units it prints in, metric and inch.
pub(super) const fn quantity(
    name: &'static str,
    dimension: Dimension,
    [metric, inch]: [&'static str; 2],
    meaning: &'static str,
) -> Output {
    Output { name, gives: Gives::Quantity { dimension, metric, inch }, meaning }
}

/// A plain number.
pub(super) const fn number(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::NONE, ["", ""], meaning)
}

/// A share, printed in per cent.
pub(super) const fn share(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::NONE, ["%", "%"], meaning)
}

/// An angle, printed in degrees.
pub(super) const fn angle(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::NONE, ["deg", "deg"], meaning)
}

pub(super) const fn length(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::LENGTH, ["mm", "in"], meaning)
}

/// A size that a table fixes or a person works to: without uncertainty it prints to the last figure of the standards.
pub(super) const fn size(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::LENGTH, ["0.001 mm", "0.0001 in"], meaning)
}

/// A small length, as the tables of limits print it: a clearance, a deviation, what wears away.
pub(super) const fn hairs(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::LENGTH, ["0.1 um", "0.01 thou"], meaning)
}

pub(super) const fn mass(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::MASS, ["kg", "lb"], meaning)
}

pub(super) const fn force(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::FORCE, ["N", "lbf"], meaning)
}

pub(super) const fn moment(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::MOMENT, ["N·m", "ft·lbf"], meaning)
}

pub(super) const fn stress(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::STRESS, ["MPa", "psi"], meaning)
}

/// A strength of a material, in the unit in which tables print it.
pub(super) const fn strength(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::STRESS, ["MPa", "ksi"], meaning)
}

pub(super) const fn rate(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::RATE, ["rpm", "rpm"], meaning)
}

pub(super) const fn words(name: &'static str, meaning: &'static str) -> Output {
    Output { name, gives: Gives::Text, meaning }
}

pub(super) const fn count(name: &'static str, meaning: &'static str) -> Output {
    Output { name, gives: Gives::Count, meaning }
}

/// A formula of one or more lines.
pub(super) const fn lines(lines: &'static str) -> Formula {
    Formula::Lines(lines)
}

/// How a result is looked up, with the lines that hold of what is found.
pub(super) const fn table(how: &'static str, lines: &'static str) -> Formula {
    Formula::Table { how, lines }
}

/// A source that was read.
pub(super) const fn in_work(work: &'static str, edition: &'static str, at: &'static str) -> Source {
    Source::Work { work, edition, at, seen: Seen::Read }
}

/// A source whose figures were taken from an open table or transcription.
pub(super) const fn open_table(work: &'static str, edition: &'static str, at: &'static str) -> Source {
    Source::Work { work, edition, at, seen: Seen::OpenTable }
}

/// A source that was recalled and not read; `tests/trade/provenance.rs` lists them all.
pub(super) const fn recalled(work: &'static str, edition: &'static str, at: &'static str) -> Source {
    Source::Work { work, edition, at, seen: Seen::Recalled }
}

/// Common practice without a source, and what of the function rests on it; empty for all of it.
pub(super) const fn practice(about: &'static str) -> Source {
    Source::Practice(about)
}

/// What follows from geometry, statics or a definition.
pub(super) const fn derived(from: &'static str) -> Source {
    Source::Derived(from)
}

/// The body of a function that is just its formula.
pub(super) fn by_formula(call: &Call) -> Result<Answer, Refusal> {
    let values = Run::all(call).map_err(|stop| stopped(call, stop))?;
    let mut answer = Answer::new();
    for output in call.function().outputs {
        let Some((_, value)) = values.iter().rev().find(|(name, _)| *name == output.name) else { continue };
        answer = answer.field(output.name, field(value));
    }
    Ok(answer)
}

fn field(value: &Argument) -> Field {
    match value {
        Argument::Number(real) => Field::Number(*real),
        Argument::Count(count) => Field::Count(*count),
        Argument::Text(text) => Field::Text(text.clone()),
        Argument::Truth(truth) => Field::Truth(*truth),
        Argument::List(list) => Field::List(list.clone()),
        Argument::Fields(_) => Field::Text(String::new()),
    }
}

fn stopped(call: &Call, stop: Stop) -> Refusal {
    match stop {
        Stop::NoField { parameter, field } => material::not_given(call, parameter, &field),
        Stop::NotGiven(parameter) => neither(parameter),
        Stop::Absent => {
            Refusal::whole("an argument is missing", "Give the arguments that the formula needs.")
        }
        Stop::Wrong(what) => Refusal::whole(what, "This is a defect of asfound: report it."),
    }
}

/// The refusal of a figure that is not given, nor the material that would have it.
pub(super) fn neither(parameter: &'static str) -> Refusal {
    Refusal::of(
        parameter,
        format!("neither `{parameter}` nor `material` is given"),
        format!("Give `{parameter}:` as a figure, or `material: material(\"…\")` from the table."),
    )
}

/// Where the sizes of a standard part print: a metric one stays metric, an inch one follows the dossier.
pub(super) fn at_home(system: System) -> Option<System> {
    (system == System::Metric).then_some(system)
}

/// What the words of a text argument stand for; a word that is not among `choices` is refused with the list.
pub(super) fn chosen<T: Copy>(
    call: &Call,
    parameter: &'static str,
    choices: &[(&'static str, T)],
) -> Result<T, Refusal> {
    let given = call.text(parameter).trim();
    let found = choices.iter().find(|(word, _)| word.eq_ignore_ascii_case(given));
    found.map(|(_, meant)| *meant).ok_or_else(|| {
        let known: Vec<String> = choices.iter().map(|(word, _)| format!("\"{word}\"")).collect();
        Refusal::of(
            parameter,
            format!("`{parameter}` cannot be \"{given}\""),
            format!("Write {}.", joined(&known)),
        )
    })
}

/// A length in mm to the tenth of a micrometre: what a subtraction or a change of unit leaves behind it is cut off.
pub(super) fn clean_mm(mm: f64) -> f64 {
    (mm * 1e4).round() / 1e4
}

/// "a, b or c".
pub(super) fn joined(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
