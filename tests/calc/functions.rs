//! Workshop functions made up for the tests: one with several results, one that bends, one that refuses,
//! one with the figures of a table.

use asfound::calc::cause::Cause;
use asfound::calc::dimension::Dimension;
use asfound::calc::function::{
    Absent, Answer, Call, Field, Formula, Function, Gives, Output, Parameter, Refusal, Source, Takes,
};
use asfound::calc::real::Real;

const fn needs(name: &'static str, takes: Takes, meaning: &'static str) -> Parameter {
    Parameter { name, takes, absent: Absent::Refused, meaning }
}

const fn gives(name: &'static str, dimension: Dimension, metric: &'static str, inch: &'static str) -> Output {
    Output { name, gives: Gives::Quantity { dimension, metric, inch }, meaning: "" }
}

const PLAIN: Function = Function {
    name: "",
    does: "",
    parameters: &[],
    outputs: &[],
    formula: Formula::Lines(""),
    validity: "diameters up to 1 m",
    source: &[Source::Derived("made up for the tests")],
    hazard: None,
    example: "",
    body: nothing,
};

fn nothing(_: &Call) -> Result<Answer, Refusal> {
    Ok(Answer::new())
}

pub(super) static DISC: Function = Function {
    name: "disc",
    parameters: &[
        needs("d", Takes::Positive(Dimension::LENGTH), "diameter"),
        Parameter {
            name: "holes",
            takes: Takes::Count,
            absent: Absent::Number(1.0),
            meaning: "how many holes there are",
        },
    ],
    outputs: &[gives("area", Dimension::AREA, "mm^2", "in^2"), gives("edge", Dimension::LENGTH, "mm", "in")],
    body: disc,
    ..PLAIN
};

fn disc(call: &Call) -> Result<Answer, Refusal> {
    let d = call.real("d");
    if d > 1.0 {
        return Err(Refusal::of("d", "the disc is larger than the table", "Cut it from a plate."));
    }
    let pi = std::f64::consts::PI;
    let answer = Answer::new().number("area", d.squared() * (pi / 4.0)).number("edge", d * pi);
    Ok(if d > 0.5 { answer.warn("over 0.5 m the disc must be held in four jaws") } else { answer })
}

pub(super) static ALLOY: Function = Function {
    name: "alloy",
    parameters: &[needs("name", Takes::Text, "designation")],
    outputs: &[gives("E", Dimension::STRESS, "GPa", "psi")],
    body: alloy,
    ..PLAIN
};

fn alloy(call: &Call) -> Result<Answer, Refusal> {
    let source = Cause::from(format!("E of {}", call.text("name")));
    Ok(Answer::new()
        .field("E", Field::Bounded { middle: 1.1e11, half_width: 1e10, source })
        .remark("a range of the table became its middle with bounds"))
}

pub(super) static AVERAGE: Function = Function {
    name: "average_of",
    parameters: &[needs("values", Takes::List(Dimension::LENGTH), "sizes")],
    outputs: &[gives("average", Dimension::LENGTH, "mm", "in")],
    body: average,
    ..PLAIN
};

fn average(call: &Call) -> Result<Answer, Refusal> {
    let list = call.list("values");
    let total: Real = list.iter().copied().sum();
    Ok(Answer::new().number("average", total / list.len() as f64))
}

/// Sizes that a table gives to its last figure.
pub(super) static SLEEVE: Function = Function {
    name: "sleeve",
    parameters: &[needs("d", Takes::Positive(Dimension::LENGTH), "nominal diameter")],
    outputs: &[
        gives("bore_min", Dimension::LENGTH, "0.001 mm", "0.0001 in"),
        gives("bore_max", Dimension::LENGTH, "0.001 mm", "0.0001 in"),
    ],
    body: sleeve,
    ..PLAIN
};

fn sleeve(call: &Call) -> Result<Answer, Refusal> {
    let d = call.real("d");
    Ok(Answer::new().number("bore_min", d).number("bore_max", d + 0.000_021).in_system(call.system_of("d")))
}

pub(super) static ALL: &[&Function] = &[&DISC, &ALLOY, &AVERAGE, &SLEEVE];
