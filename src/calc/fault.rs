//! What can be wrong with a calculation, and the words for it: every message of the engine is made here.

mod code;
mod turns;

use std::ops::Range;

use super::cause::{Dominant, Origin};
use super::literal::LiteralFault;
use super::suggest;
use super::units::UnitFault;
use super::value::Value;
pub use code::Code;
pub(crate) use code::fault_codes;
pub(super) use turns::{
    Reading, Subject, bare_frequency, cycles_beside_turns, not_an_angle, partner, plain_angle,
    plain_to_angle, turns_against_cycles, turns_or_radians,
};

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The line has no value.
    Error,
    /// The line has a value that a careful person would look at again.
    Caution,
}

/// Something wrong with a line, with its place. Ranges are in the coordinates of the text that was read: of a line while
/// it is worked out, of its file in what [`super::sheet::evaluate`] gives back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The index of the scope it is in.
    pub scope: usize,
    pub range: Range<usize>,
    pub code: Code,
    /// What is wrong, without the function that it is wrong in: [`Fault::says`] is what is printed.
    pub message: String,
    pub help: String,
    pub labels: Vec<Label>,
    /// The function of the notes in whose body it lies, the innermost of several.
    pub function: Option<String>,
}

/// A further place and what it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The index of the scope the place is in.
    pub scope: usize,
    pub range: Range<usize>,
    pub text: String,
}

impl Fault {
    pub(super) fn new(
        code: Code,
        range: Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        let (message, help) = (message.into(), help.into());
        Self { scope: 0, range, code, message, help, labels: Vec::new(), function: None }
    }

    /// How bad it is.
    pub fn severity(&self) -> Severity {
        self.code.severity()
    }

    /// What is wrong, in words.
    pub fn says(&self) -> String {
        match &self.function {
            Some(function) => format!("in `{function}`: {}", self.message),
            None => self.message.clone(),
        }
    }

    /// A fault in the body of a function of the notes, at the place of its call: places inside the function's own line
    /// mean nothing there.
    #[must_use]
    pub(super) fn at_call(self, function: &str, range: &Range<usize>) -> Self {
        let function = self.function.or_else(|| Some(function.to_owned()));
        Self { function, range: range.clone(), labels: Vec::new(), ..self }
    }

    /// The same in a text in which the line begins at `start`.
    #[must_use]
    pub(super) fn moved(mut self, start: usize) -> Self {
        let places = self.labels.iter_mut().map(|label| &mut label.range);
        for range in places.chain([&mut self.range]) {
            *range = range.start + start..range.end + start;
        }
        self
    }

    #[must_use]
    pub(super) fn label(mut self, range: Range<usize>, text: impl Into<String>) -> Self {
        self.labels.push(Label { scope: self.scope, range, text: text.into() });
        self
    }
}

impl From<LiteralFault> for Fault {
    fn from(fault: LiteralFault) -> Self {
        Self::new(Code::Literal, fault.range, fault.message, fault.help)
    }
}

impl From<UnitFault> for Fault {
    fn from(fault: UnitFault) -> Self {
        Self::new(Code::Literal, fault.range, fault.message, fault.help)
    }
}

// Reading a line.

pub(super) fn expected(range: Range<usize>, what: &str, help: &str) -> Fault {
    Fault::new(Code::Syntax, range, format!("{what} is missing here"), help)
}

pub(super) fn unexpected(range: Range<usize>, found: &str, help: &str) -> Fault {
    Fault::new(Code::Syntax, range, format!("`{found}` does not belong here"), help)
}

pub(super) fn too_deep(range: Range<usize>, most: usize) -> Fault {
    let message = format!("this formula is nested more than {most} deep");
    Fault::new(Code::Limit, range, message, "Give parts of it names on lines of their own.")
}

pub(super) fn too_long(range: Range<usize>, most: usize) -> Fault {
    let message = format!("this line is longer than {most} characters");
    Fault::new(Code::Limit, range, message, "Give parts of it names on lines of their own.")
}

pub(super) fn not_a_unit(range: Range<usize>, word: &str, help: &str) -> Fault {
    let help = format!("{help} To multiply by the name `{word}`, put `*` before it.");
    Fault::new(Code::Literal, range, format!("`{word}` is not a unit"), help)
}

pub(super) fn no_quote(range: Range<usize>) -> Fault {
    let help = "Define and check in a block; quote the name here, with `to` and a unit if need be.";
    Fault::new(Code::Syntax, range, "a value quoted in prose is a formula without a name", help)
}

// Names.

pub(super) fn redefined(range: Range<usize>, name: &str) -> Fault {
    let help = "A name means one thing in a note: choose another name for the second.";
    Fault::new(Code::Redefined, range, format!("`{name}` is already defined"), help)
}

pub(super) fn unknown_name<'a>(
    range: Range<usize>,
    name: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Fault {
    let help = match suggest::nearest(name, known) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => "Define it on a line before: `name = value`.".to_owned(),
    };
    Fault::new(Code::UnknownName, range, format!("nothing is called `{name}` here"), help)
}

pub(super) fn without_value(range: Range<usize>, name: &str) -> Fault {
    let message = format!("`{name}` has no value: its last line was faulty");
    Fault::new(Code::UnknownName, range, message, "Give it a value on a line of its own.")
}

/// At the prompt, where the fault of what is needed stands far above.
pub(super) fn blocked(range: Range<usize>) -> Fault {
    Fault::new(Code::UnknownName, range, "what this needs has no value", "Mend that first.")
}

pub(super) fn unit_for_a_name(range: Range<usize>, name: &str) -> Fault {
    let help = format!("A unit stands behind a number: write `1 {name}`.");
    Fault::new(Code::UnknownName, range, format!("`{name}` is a unit, and no name"), help)
}

/// `1450/min`, `8/in`: a unit that divides stands behind its number like any other.
pub(super) fn number_per_unit(range: Range<usize>, number: &str, unit: &str) -> Fault {
    let turns = match unit {
        "min" => format!("; turns in a minute are `{number} rpm`"),
        "s" | "h" => format!("; turns in a time are `{number} rev/{unit}`"),
        _ => String::new(),
    };
    let help = format!("So many to one of a unit is written `{number} 1/{unit}`{turns}.");
    Fault::new(Code::UnknownName, range, format!("`{unit}` is a unit, and no name"), help)
}

pub(super) fn not_yet(range: Range<usize>, name: &str, defined: Range<usize>) -> Fault {
    let help = "A name can be used from its block on: move this line, or the definition.";
    Fault::new(Code::UnknownName, range, format!("`{name}` is defined only further on"), help)
        .label(defined, "defined here")
}

pub(super) fn unknown_note<'a>(
    range: Range<usize>,
    id: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Fault {
    let help = match suggest::nearest(id, known) {
        Some(near) => format!("Did you mean `@{near}`?"),
        None => "Write `@` and the id of a note: its file name without `.md`.".to_owned(),
    };
    Fault::new(Code::UnknownNote, range, format!("no note has the id `{id}`"), help)
}

pub(super) fn unknown_in_note<'a>(
    range: Range<usize>,
    id: &str,
    name: &str,
    known: impl IntoIterator<Item = &'a str> + Clone,
) -> Fault {
    let help = match suggest::nearest(name, known.clone()) {
        Some(near) => format!("Did you mean `@{id}.{near}`?"),
        None => known_list("It has:", known),
    };
    Fault::new(Code::UnknownName, range, format!("`{id}` has no value called `{name}`"), help)
}

/// More names than this are no help.
const MOST_LISTED: usize = 20;

fn in_backquotes<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    names.into_iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

fn known_list<'a>(opening: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<&str> = known.into_iter().take(MOST_LISTED).collect();
    if names.is_empty() {
        "It has no values.".to_owned()
    } else {
        format!("{opening} {}.", in_backquotes(names))
    }
}

pub(super) fn unknown_function<'a>(
    range: Range<usize>,
    name: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Fault {
    let help = match suggest::nearest(name, known) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => "The book lists the functions; your own is defined as `f(x) = formula`.".to_owned(),
    };
    Fault::new(Code::UnknownFunction, range, format!("no function is called `{name}`"), help)
}

pub(super) fn not_a_function(range: Range<usize>, name: &str) -> Fault {
    let help = format!("To multiply write `{name} * (…)`.");
    Fault::new(Code::UnknownFunction, range, format!("`{name}` is a value, not a function"), help)
}

pub(super) fn function_as_value(range: Range<usize>, name: &str) -> Fault {
    let help = format!("Call it: `{name}(…)`.");
    Fault::new(Code::Kind, range, format!("`{name}` is a function, not a value"), help)
}

pub(super) fn name_is_unit(range: Range<usize>, name: &str) -> Fault {
    let help = format!("To use the name write `*` or `/` with blanks around it; else rename `{name}`.");
    Fault::new(
        Code::NameIsUnit,
        range,
        format!("`{name}` is read as the unit, but is also a name here"),
        help,
    )
}

pub(super) fn name_or_unit(range: Range<usize>, name: &str) -> Fault {
    let help = format!(
        "For the name put blanks around the operator: `10 kN / {name}`; for the unit rename the name."
    );
    let message = format!("`{name}` is a unit and also a name here: which is meant?");
    Fault::new(Code::Literal, range, message, help)
}

pub(super) fn circle(range: Range<usize>, names: &[String]) -> Fault {
    if let [name, _] = names {
        let help = "Work it out from other values; a function can't call itself.";
        return Fault::new(Code::Circle, range, format!("`{name}` needs itself"), help);
    }
    let help = "One of them must be known without the others.";
    Fault::new(Code::Circle, range, format!("these need each other: {}", names.join(" → ")), help)
}

pub(super) fn unknown_field(range: Range<usize>, what: &str, name: &str, known: &[&str]) -> Fault {
    let help = match suggest::nearest(name, known.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => known_list("It has:", known.iter().copied()),
    };
    Fault::new(Code::UnknownName, range, format!("`{what}` has no field `{name}`"), help)
}

pub(super) fn no_fields(range: Range<usize>, found: &str, name: &str) -> Fault {
    let help = "Only records have fields: what a function with several results gives.";
    Fault::new(Code::Kind, range, format!("this is {found} and has no field `{name}`"), help)
}

// Working out.

pub(super) fn unlike(
    range: Range<usize>,
    doing: &str,
    left: (Range<usize>, String),
    right: (Range<usize>, String),
) -> Fault {
    let message = format!("{doing} {} and {} does not work", left.1, right.1);
    Fault::new(Code::Dimension, range, message, String::new()).label(left.0, left.1).label(right.0, right.1)
}

/// `needed` is a kind of value: a number, a condition.
pub(super) fn kind(range: Range<usize>, needed: &str, found: &Value) -> Fault {
    let help = match found {
        Value::Record(record) => {
            format!("Take one of its fields: {}.", in_backquotes(record.names().take(MOST_LISTED)))
        }
        Value::Text(_) => "Take the quotes away if a number or a name is meant.".to_owned(),
        Value::List(_) => "Take `sum`, `mean`, `min` or `max` of it.".to_owned(),
        Value::Truth(_) | Value::Either(_) => "Choose a value by it: `if … then … else …`.".to_owned(),
        Value::Quantity(_) => "Compare it with another: `a <= b`.".to_owned(),
    };
    Fault::new(Code::Kind, range, format!("{needed} is needed here, and this is {}", found.kind()), help)
}

pub(super) fn dimension(range: Range<usize>, needed: &str, found: &str, help: String) -> Fault {
    Fault::new(Code::Dimension, range, format!("{needed} is needed here, and this is {found}"), help)
}

pub(super) fn temperature(range: Range<usize>, doing: &str, help: &str) -> Fault {
    Fault::new(Code::Temperature, range, format!("{doing} does not work"), help)
}

pub(super) fn arithmetic(range: Range<usize>, message: &str, help: &str) -> Fault {
    Fault::new(Code::Arithmetic, range, message, help)
}

pub(super) fn too_large(range: Range<usize>) -> Fault {
    arithmetic(range, "the result is too large to calculate with", "In SI units values reach to about 1e308.")
}

pub(super) fn uncertainty_without_end(range: Range<usize>) -> Fault {
    let help = "Here the curve is vertical or its slope too large: work it out at both ends of the interval instead.";
    arithmetic(range, "the uncertainty of this result has no limit", help)
}

pub(super) fn argument(range: Range<usize>, message: String, help: String) -> Fault {
    Fault::new(Code::Argument, range, message, help)
}

pub(super) fn out_of_range(range: Range<usize>, message: String, help: String) -> Fault {
    Fault::new(Code::Range, range, message, help)
}

pub(super) fn validity(range: Range<usize>, message: String, help: String) -> Fault {
    Fault::new(Code::Validity, range, message, help)
}

pub(super) fn too_much_work(range: Range<usize>) -> Fault {
    let help = "Leave out what is not needed, or split the project.";
    Fault::new(Code::Limit, range, "the calculations of this project take too many steps", help)
}

pub(super) fn list_long(range: Range<usize>, most: usize) -> Fault {
    let help = "Keep the data in a file of its own, and list what decides.";
    Fault::new(Code::Limit, range, format!("this list holds more than {most} values"), help)
}

pub(super) fn calls_too_deep(range: Range<usize>, name: &str) -> Fault {
    let help = "A function can't call itself, not even by way of others.";
    Fault::new(Code::Limit, range, format!("the calls of `{name}` are nested too deep"), help)
}

pub(super) fn curved(range: Range<usize>) -> Fault {
    let help = "Go by its worst case; narrow the bounds of what goes in if the shares matter.";
    let message = "the shares of this budget are by sensitivities, and nonlinearity outweighs them";
    Fault::new(Code::Curved, range, message, help)
}

/// Part of the bounds of what goes in has no result.
pub(super) fn not_over_bounds(range: Range<usize>, what: &str, takes: &str) -> Fault {
    let message = format!("over part of these bounds {what} has no value: it needs {takes}");
    let help = "The worst case of the result is not known: narrow the bounds, or give only bounds that are possible.";
    Fault::new(Code::Bounds, range, message, help)
}

/// A workshop function refuses part of the bounds of its arguments.
pub(super) fn refused_within_bounds(range: Range<usize>, function: &str, why: &str) -> Fault {
    let message = format!("over part of the bounds given, `{function}` has no result: {why}");
    let help = "The worst case of the result is not known: narrow the bounds, or give only bounds that are possible.";
    Fault::new(Code::Bounds, range, message, help)
}

pub(super) fn divisor_may_be_zero(range: Range<usize>) -> Fault {
    let message = "within its bounds this divisor can be zero";
    let help = "The quotient has no limit: narrow the bounds, or give only bounds that are possible.";
    Fault::new(Code::Bounds, range, message, help)
}

pub(super) fn unsettled_condition(range: Range<usize>) -> Fault {
    let help = "True and false are both possible within the bounds; the result covers both. Narrower bounds of what it compares settle it.";
    Fault::new(Code::ConditionNotSettled, range, "this condition is not settled by what is known", help)
}

pub(super) fn is_unsettled(fault: &Fault) -> bool {
    fault.code == Code::ConditionNotSettled
}

/// A workshop function has passed a limit, and says so with the figure.
pub(super) fn warning(range: Range<usize>, function: &str, text: &str) -> Fault {
    let help = "The value stands: look whether the part bears it, or change the figures.";
    Fault::new(Code::Warning, range, format!("`{function}`: {text}"), help)
}

pub(super) fn unlike_lists(range: Range<usize>, here: usize, there: usize) -> Fault {
    let message = format!("a list of {here} values does not go with one of {there}");
    argument(range, message, "Two lists go together value by value: give both as many.".to_owned())
}

pub(super) fn backwards(range: Range<usize>) -> Fault {
    arithmetic(range, "this range runs backwards", "Write the smaller end first.")
}

pub(super) fn negative_bound(range: Range<usize>) -> Fault {
    arithmetic(range, "a ± bound has no sign of its own", "Take the size of it: `abs(…)`.")
}

pub(super) fn check_fails(range: Range<usize>, what: &str) -> Fault {
    Fault::new(
        Code::CheckFails,
        range,
        format!("this check fails: {what}"),
        "Change the part, the fit or the limit.",
    )
}

pub(super) fn check_not_settled(range: Range<usize>, what: &str, dominant: Option<&Dominant>) -> Fault {
    let help = dominant.map_or_else(|| "Narrow the bounds of what goes into it.".to_owned(), Dominant::help);
    Fault::new(Code::CheckNotSettled, range, format!("this check is not settled: {what}"), help)
}

impl Dominant {
    /// What the uncertainty mostly is, and what makes it smaller.
    fn help(&self) -> String {
        let bound = self.needed.as_ref();
        let to = |words: &str| {
            bound.map_or_else(|| words.to_owned(), |bound| format!("{words} to within ± {bound}"))
        };
        let remedy = match self.cause.origin {
            Origin::Stated => to("measure it"),
            Origin::Assumed => to("settle the assumption"),
            Origin::Instrument => match bound {
                Some(bound) => format!("use one that is within ± {bound}"),
                None => "use a better one".to_owned(),
            },
            Origin::Reading => to("read it finer"),
            Origin::Scatter => "repeat the reading more often".to_owned(),
            Origin::Strength => "test a piece of it, or take the figure of its certificate".to_owned(),
            Origin::Tabulated => "find it for these parts, by a trial".to_owned(),
            Origin::Tolerance => "hold it tighter, or measure the parts as made".to_owned(),
        };
        let (percent, label) = (100.0 * self.share, &self.cause.label);
        format!("The largest part of its uncertainty ({percent:.0} %) is `{label}`: {remedy}.")
    }
}
