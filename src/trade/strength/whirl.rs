//! Critical speeds: where a shaft whirls.

use std::f64::consts::PI;

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{in_work, lines, needed, optional, or_number, practice, rate, recalled};

use super::round::Round;
use super::section::DENSITY;
use super::{BORE, D, FACTOR, LENGTH, MATERIAL, MODULUS, OFFSET, TURNING, modulus, say};
use crate::hazard::Hazard;

/// Standard gravity, m/s² (ISO 80000-3).
const GRAVITY: f64 = 9.806_65;

/// Middle deflection of a uniform shaft by that of one mass with the same critical speed: 5 pi^4/384.
const SHAFT_DIVISOR: f64 = 5.0 * PI * PI * PI * PI / 384.0;

/// Running speed over critical speed that is kept clear of (common practice).
const KEEP_CLEAR: [f64; 2] = [0.8, 1.2];

const RUNNING: Parameter = optional("running", TURNING, "running speed, to be kept away from it");
const OUTPUTS: &[Output] = &[
    rate("speed", "critical speed"),
    rate("below", "run slower than this: 0.8 of it"),
    rate("above", "or faster than this: 1.2 of it"),
];

pub(super) static CRITICAL_SPEED: Function = Function {
    name: "critical_speed",
    does: "critical speed of a shaft with masses, from the static deflections under each alone",
    parameters: &[
        needed(
            "deflections",
            Takes::List(Dimension::LENGTH),
            "deflection under each mass by its own weight alone",
        ),
        or_number("shaft_deflection", OFFSET, 0.0, "middle deflection of the shaft by its own weight"),
        RUNNING,
        or_number(
            "gravity",
            Takes::Positive(Dimension::ACCELERATION),
            GRAVITY,
            "gravity with which the deflections were worked out",
        ),
        or_number("shaft_divisor", FACTOR, SHAFT_DIVISOR, "for the shaft's own weight; books print 1.27"),
    ],
    outputs: OUTPUTS,
    formula: lines(
        "speed = sqrt(gravity/(sum(deflections) + shaft_deflection/shaft_divisor))\n\
         below = 0.8*speed\n\
         above = 1.2*speed",
    ),
    validity: "Rigid bearings, no gyroscopic effect, first critical speed; the result is a lower bound.",
    source: &[
        in_work(
            "B. K. Sarkar, Theory of Machines",
            "",
            "Illustration 11.11 (p. 297), which uses 1.27 and g = 9.81 m/s^2",
        ),
        practice("keeping clear of 0.8 to 1.2"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "whirl = critical_speed(deflections: [1 mm])\n\
              check whirl.speed within 945 rpm .. 946.5 rpm \"946/sqrt(mm)\"",
    body: critical_speed,
};

fn critical_speed(call: &Call) -> Result<Answer, Refusal> {
    let deflections = call.list("deflections");
    all_above_zero("deflections", deflections)?;
    let shaft = call.real("shaft_deflection") / call.real("shaft_divisor");
    let sum = deflections.iter().copied().sum::<Real>() + shaft;
    Ok(keep_clear(call, (call.real("gravity") / sum).sqrt()))
}

pub(super) static CRITICAL_SPEED_RAYLEIGH: Function = Function {
    name: "critical_speed_rayleigh",
    does: "critical speed from the deflections under all masses together",
    parameters: &[
        needed("masses", Takes::List(Dimension::MASS), "the masses on the shaft"),
        needed("deflections", Takes::List(Dimension::LENGTH), "deflection at each, under all of them"),
        RUNNING,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "speed = sqrt(g_n*sum(masses*deflections)/sum(masses*deflections^2))\n\
         below = 0.8*speed\n\
         above = 1.2*speed",
    ),
    validity: "Rigid bearings, no gyroscopic effect, first critical speed; the result is an upper bound.",
    source: &[recalled("B. K. Sarkar, Theory of Machines", "", "ch. 11 (Rayleigh's method)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "whirl = critical_speed_rayleigh(masses: [20 kg, 30 kg], deflections: [1 mm, 1 mm])\n\
              check whirl.speed within 945 rpm .. 946.5 rpm \"even deflection: 946/sqrt(mm)\"",
    body: critical_speed_rayleigh,
};

fn critical_speed_rayleigh(call: &Call) -> Result<Answer, Refusal> {
    let (masses, deflections) = (call.list("masses"), call.list("deflections"));
    all_above_zero("masses", masses)?;
    all_above_zero("deflections", deflections)?;
    same_length("deflections", masses, deflections)?;
    let pairs = || masses.iter().zip(deflections);
    let first: Real = pairs().map(|(mass, y)| *mass * *y).sum();
    let second: Real = pairs().map(|(mass, y)| *mass * y.squared()).sum();
    Ok(keep_clear(call, (GRAVITY * first / second).sqrt()))
}

pub(super) static CRITICAL_SPEED_BARE: Function = Function {
    name: "critical_speed_bare",
    does: "critical speed of a bare shaft in two bearings",
    parameters: &[
        D,
        BORE,
        needed("span", LENGTH, "between the bearings"),
        MATERIAL,
        MODULUS,
        DENSITY,
        RUNNING,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "m = pi/4*(d^2 - bore^2)*density\n\
         I = pi/64*(d^4 - bore^4)\n\
         speed = pi^2*sqrt(modulus*I/(m*span^4))\n\
         below = 0.8*speed\n\
         above = 1.2*speed",
    ),
    validity: "Bearings that let the shaft tilt (short or self-aligning); stiff ones raise it up to 2.27 \
               times.",
    source: &[recalled(
        "W. T. Thomson, Theory of Vibration",
        "",
        "ch. on continuous systems (beam, simply supported)",
    )],
    hazard: Some(Hazard::MovingMachinery),
    example: "whirl = critical_speed_bare(d: 50 mm, span: 2 m, modulus: 206 GPa, density: 7850 kg/m^3)\n\
              check whirl.speed within 1500 rpm .. 1520 rpm \"line shaft of 2 in\"",
    body: critical_speed_bare,
};

fn critical_speed_bare(call: &Call) -> Result<Answer, Refusal> {
    let round = Round::of(call)?;
    let mass = round.area() * call.real("density");
    let stiffness = modulus(call)? * round.second_moment();
    let speed = PI * PI * (stiffness / mass).sqrt() / call.real("span").squared();
    Ok(keep_clear(call, speed))
}

fn keep_clear(call: &Call, speed: Real) -> Answer {
    let (below, above) = (KEEP_CLEAR[0] * speed, KEEP_CLEAR[1] * speed);
    let answer = Answer::new().number("speed", speed).number("below", below).number("above", above);
    match call.optional("running") {
        Some(running) if running > below && running < above => answer.warn(format!(
            "running at {} is too near the critical speed of {}: keep below {} or above {}",
            say::rate(running),
            say::rate(speed),
            say::rate(below),
            say::rate(above)
        )),
        _ => answer,
    }
}

/// Refuses an empty list and figures that are zero or less.
pub(super) fn all_above_zero(parameter: &'static str, list: &[Real]) -> Result<(), Refusal> {
    if list.is_empty() {
        return Err(Refusal::of(parameter, format!("`{parameter}` is an empty list"), "Give at least one."));
    }
    match list.iter().position(|each| *each <= 0.0 || each.value().is_nan()) {
        None => Ok(()),
        Some(index) => Err(Refusal::of(
            parameter,
            format!("number {} of `{parameter}` is not above zero", index + 1),
            "Give sizes, without a sign.",
        )),
    }
}

/// Refuses two lists that do not belong together.
pub(super) fn same_length(parameter: &'static str, first: &[Real], second: &[Real]) -> Result<(), Refusal> {
    if first.len() == second.len() {
        return Ok(());
    }
    Err(Refusal::of(
        parameter,
        format!("`{parameter}` has {} figures where {} are wanted", second.len(), first.len()),
        "Give one figure for each.",
    ))
}
