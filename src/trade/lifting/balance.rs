//! Where a load balances, and what two supports carry.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Refusal, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{force, in_work, length, lines, mass, needed};
use crate::trade::say;

use super::pairs;

pub(super) static CENTRE_OF_GRAVITY: Function = Function {
    name: "centre_of_gravity",
    does: "common centre of gravity of several parts, along one direction",
    parameters: &[
        needed("masses", Takes::List(Dimension::MASS), "mass of each part; a hole counts negative"),
        needed("at", Takes::List(Dimension::LENGTH), "place of each part's own centre, from one chosen zero"),
    ],
    outputs: &[
        mass("mass", "all parts together"),
        length("centre", "place of the common centre, from that zero"),
    ],
    formula: lines(
        "mass = sum(masses)\n\
         centre = sum(masses*at)/mass",
    ),
    validity: "one direction a call: call it again for height and for width. At most twelve parts in one \
               call: join the rest in a first call",
    source: &[in_work(
        "F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics",
        "",
        "Sample Problem 5.1",
    )],
    hazard: Some(Hazard::Lifting),
    example: "whole = centre_of_gravity(masses: [300 kg, 120 kg], at: [1.2 m, 3.4 m])\n\
              check whole.mass within 419.9 kg .. 420.1 kg\n\
              check whole.centre within 1828 mm .. 1829 mm",
    body: centre_of_gravity,
};

pub(super) static TWO_SUPPORTS: Function = Function {
    name: "two_supports",
    does: "what two supports carry under several loads",
    parameters: &[
        needed("loads", Takes::List(Dimension::FORCE), "loads, downward positive"),
        needed("at", Takes::List(Dimension::LENGTH), "place of each load, from the first support"),
        needed("span", Takes::Positive(Dimension::LENGTH), "distance of the second support from the first"),
    ],
    outputs: &[
        force("first", "carried by the first support"),
        force("second", "carried by the second support"),
    ],
    formula: lines(
        "second = sum(loads*at)/span\n\
         first = sum(loads) - second",
    ),
    validity: "a stiff load on two supports, at rest; a jack under one end is a support. Loads outside the \
               span are allowed, before the first support with a negative place",
    source: &[in_work(
        "F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics",
        "",
        "Sample Problem 4.2",
    )],
    hazard: Some(Hazard::Lifting),
    example: "beam = two_supports(loads: [70 kN, 27 kN, 27 kN], at: [0.9 m, 3.3 m, 3.9 m], span: 2.7 m)\n\
              check beam.second within 95.3 kN .. 95.4 kN\n\
              check beam.first within 28.6 kN .. 28.7 kN",
    body: two_supports,
};

pub(super) static POST: Function = Function {
    name: "crane_post",
    does: "what the upper and the lower bearing of a slewing post carry",
    parameters: &[
        needed("loads", Takes::List(Dimension::FORCE), "hook load, jib, balance weight, downward positive"),
        needed(
            "reach",
            Takes::List(Dimension::LENGTH),
            "their distance in front of the post; behind it negative",
        ),
        needed("height", Takes::Positive(Dimension::LENGTH), "distance between the two bearings"),
    ],
    outputs: &[
        force("side", "side load of the upper bearing, and of the lower one the other way"),
        force("down", "down load of the foot bearing"),
        force("foot", "side and down load of the foot joined"),
    ],
    formula: lines(
        "side = sum(loads*reach)/height\n\
         down = sum(loads)\n\
         foot = sqrt(side^2 + down^2)",
    ),
    validity: "the post held at two heights, the whole down load on the lower bearing; `foot` is for one \
               bearing that takes both, where a bush takes the side load and a step the down load use \
               `side` and `down`; at rest, no wind, no swing: the makers' duty factor (1.25 and more) comes \
               on top",
    source: &[in_work(
        "F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics",
        "",
        "Sample Problem 4.1",
    )],
    hazard: Some(Hazard::Lifting),
    example: "post = crane_post(loads: [9.81 kN, 23.5 kN], reach: [2 m, 6 m], height: 1.5 m)\n\
              check post.side within 107.0 kN .. 107.2 kN\n\
              check post.foot within 112.1 kN .. 112.2 kN",
    body: post,
};

fn centre_of_gravity(call: &Call) -> Result<Answer, Refusal> {
    let parts = pairs(call, "masses", "at")?;
    let mass: Real = parts.iter().map(|(mass, _)| *mass).sum();
    if mass <= 0.0 {
        return Err(Refusal::of(
            "masses",
            "the masses add up to nothing",
            "Check the signs: only what is cut away counts negative.",
        ));
    }
    Ok(Answer::new().number("mass", mass).number("centre", moment(&parts) / mass))
}

fn two_supports(call: &Call) -> Result<Answer, Refusal> {
    let loads = pairs(call, "loads", "at")?;
    let second = moment(&loads) / call.real("span");
    let first = total(&loads) - second;
    let mut answer = Answer::new().number("first", first).number("second", second);
    for (name, carried) in [("first", first), ("second", second)] {
        if carried < 0.0 {
            answer = answer.warn(format!(
                "the {name} support is pulled up with {}: the load tips unless it is held down there",
                say::force(-carried)
            ));
        }
    }
    Ok(answer)
}

fn post(call: &Call) -> Result<Answer, Refusal> {
    let loads = pairs(call, "loads", "reach")?;
    let side = moment(&loads) / call.real("height");
    let down = total(&loads);
    if side == 0.0 && down == 0.0 {
        return Err(Refusal::of("loads", "the loads are all nothing", "Give at least one load."));
    }
    let foot = (side.squared() + down.squared()).sqrt();
    Ok(Answer::new().number("side", side).number("down", down).number("foot", foot))
}

fn total(loads: &[(Real, Real)]) -> Real {
    loads.iter().map(|(load, _)| *load).sum()
}

/// Sum of each load times its place.
pub(super) fn moment(loads: &[(Real, Real)]) -> Real {
    loads.iter().map(|(load, at)| *load * *at).sum()
}
