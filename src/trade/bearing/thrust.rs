//! How an axial load divides between two bearings.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Refusal, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{by_formula, force, in_work, length, lines, needed, or_number, recalled};

const STIFFNESS: Takes = Takes::Positive(Dimension::STIFFNESS);

pub(super) static SHARING: Function = Function {
    name: "thrust_sharing",
    does: "how an axial load divides between two bearings, one of them with end play",
    parameters: &[
        needed("load", Takes::NotNegative(Dimension::FORCE), "axial load on the shaft"),
        needed("stiffness_1", STIFFNESS, "axial stiffness of the bearing that touches at once"),
        needed("stiffness_2", STIFFNESS, "axial stiffness of the bearing with end play"),
        or_number(
            "end_play",
            Takes::NotNegative(Dimension::LENGTH),
            0.0,
            "gap of the second before it carries",
        ),
    ],
    outputs: &[
        force("first", "carried by the first bearing"),
        force("second", "carried by the second bearing"),
        length("shift", "how far the shaft moves"),
    ],
    formula: lines(
        "beyond = load - stiffness_1*end_play\n\
         second = max(0 N, stiffness_2*beyond/(stiffness_1 + stiffness_2))\n\
         first = load - second\n\
         shift = first/stiffness_1",
    ),
    validity: "both in line and elastic. The stiffness of a real bearing grows with its load: put in the \
               secant value at this load",
    source: &[
        in_work("R. C. Hibbeler, Mechanics of Materials", "", "Example 4.9"),
        in_work("I. J. Levinson, Statics and Strength of Materials", "", "Example 13.8 (the same algebra)"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "thrust = thrust_sharing(load: 20 kN, stiffness_1: 9817 N/mm, stiffness_2: 4909 N/mm, end_play: \
              1 mm)\n\
              check thrust.second within 3.38 kN .. 3.41 kN",
    body: sharing,
};

pub(super) static TAPERED_PAIR: Function = Function {
    name: "tapered_pair",
    does: "axial loads of two tapered roller bearings that face each other",
    parameters: &[
        needed(
            "radial_1",
            Takes::NotNegative(Dimension::FORCE),
            "radial load of the bearing that takes the outside thrust",
        ),
        needed("radial_2", Takes::NotNegative(Dimension::FORCE), "radial load of the other"),
        needed("y_1", Takes::Positive(Dimension::NONE), "axial factor Y of the first, from the catalogue"),
        needed("y_2", Takes::Positive(Dimension::NONE), "axial factor Y of the other"),
        or_number("thrust", Takes::NotNegative(Dimension::FORCE), 0.0, "outside thrust towards the first"),
    ],
    outputs: &[force("axial_1", "axial load of the first"), force("axial_2", "axial load of the other")],
    formula: lines(
        "induced_1 = 0.5*radial_1/y_1\n\
         induced_2 = 0.5*radial_2/y_2\n\
         axial_1 = max(induced_1, induced_2 + thrust)\n\
         axial_2 = max(induced_2, induced_1 - thrust)",
    ),
    validity: "adjusted to no play and no preload; angular contact balls the same way with their own factors",
    source: &[recalled("bearing catalogues", "", "rule for pairs of tapered roller bearings")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "pair = tapered_pair(radial_1: 6 kN, radial_2: 4 kN, y_1: 1.5, y_2: 1.6, thrust: 2 kN)\n\
              check pair.axial_1 within 3.24 kN .. 3.26 kN\n\
              check pair.axial_2 within 1.24 kN .. 1.26 kN",
    body: by_formula,
};

fn sharing(call: &Call) -> Result<Answer, Refusal> {
    let (load, gap) = (call.real("load"), call.real("end_play"));
    let (first_stiffness, second_stiffness) = (call.real("stiffness_1"), call.real("stiffness_2"));
    let beyond = load - first_stiffness * gap;
    let touches = beyond > 0.0;
    let second = if touches {
        second_stiffness * beyond / (first_stiffness + second_stiffness)
    } else {
        Real::exact(0.0)
    };
    let first = load - second;
    let answer = Answer::new()
        .number("first", first)
        .number("second", second)
        .number("shift", first / first_stiffness);
    Ok(if touches {
        answer
    } else {
        answer.remark("the end play is not taken up: the first bearing carries all")
    })
}
