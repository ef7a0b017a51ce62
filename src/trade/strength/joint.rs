//! A bolted joint under load: stiffnesses, how the load divides, tightening by angle.

use crate::calc::function::{Answer, Call, Function, Parameter, Refusal};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    angle, by_formula, force, in_work, lines, needed, optional, or_from, recalled, share,
};

use super::bolt::PITCH;
use super::{AREA, FORCE, LENGTH, LOAD, MATERIAL, MODULUS, SHIGLEY, STIFFNESS, modulus, per_length, say};

const PRELOAD: Parameter = needed("preload", FORCE, "pull in the bolt when tightened Fi");
const BOLT: Parameter = needed("bolt", STIFFNESS, "stiffness of the bolt kb");
const CLAMPED: Parameter = needed("clamped", STIFFNESS, "stiffness of what is clamped km");

pub(super) static BOLT_STIFFNESS: Function = Function {
    name: "bolt_stiffness",
    does: "stiffness of a bolt, shank and thread one behind the other",
    parameters: &[
        needed("area", AREA, "cross-section of the threaded part: the stress area"),
        needed("length", LENGTH, "of thread between head and nut, plus half a nut"),
        or_from("shank_area", AREA, "area", "cross-section of the plain shank"),
        or_from("shank_length", LENGTH, "0 mm", "of the plain shank"),
        MATERIAL,
        MODULUS,
    ],
    outputs: &[per_length("stiffness", "force by stretch")],
    formula: lines("stiffness = modulus/(length/area + shank_length/shank_area)"),
    validity: "Elastic; head and nut stiff.",
    source: &[in_work(SHIGLEY, "9th ed.", "table 8-7 and Example 8-4")],
    hazard: None,
    example: "bolt = bolt_stiffness(area: 157 mm^2, length: 50 mm, modulus: 206 GPa)\n\
              check bolt within 646 kN/mm .. 648 kN/mm \"A E/L\"",
    body: bolt_stiffness,
};

fn bolt_stiffness(call: &Call) -> Result<Answer, Refusal> {
    let thread = call.real("length") / call.real("area");
    match (call.is_given("shank_length"), call.is_given("shank_area")) {
        (true, false) => return Err(half_a_shank("shank_area")),
        (false, true) => return Err(half_a_shank("shank_length")),
        _ => {}
    }
    let shank = call.real("shank_length") / call.real("shank_area");
    Ok(Answer::new().number("stiffness", modulus(call)? / (thread + shank)))
}

fn half_a_shank(missing: &'static str) -> Refusal {
    Refusal::of(
        missing,
        format!("the shank needs its `{missing}` too"),
        "Give both length and cross-section, or neither.",
    )
}

pub(super) static CLAMP_STIFFNESS: Function = Function {
    name: "clamp_stiffness",
    does: "stiffness of the parts that a bolt clamps",
    parameters: &[
        needed("major", LENGTH, "outside diameter of the bolt's thread, its nominal size"),
        needed("grip", LENGTH, "thickness of all that is clamped l"),
        MATERIAL,
        MODULUS,
    ],
    outputs: &[per_length("stiffness", "force by squeeze")],
    formula: lines(
        "cone = 0.5774*grip\n\
         stiffness = 0.5774*pi*modulus*major/(2*ln(5*(cone + 0.5*major)/(cone + 2.5*major)))",
    ),
    validity: "One material, room for the cones (more than about 1.5 d + 0.58 l wide).",
    source: &[in_work(SHIGLEY, "9th ed.", "equation 8-22 and Example 8-4")],
    hazard: None,
    example: "plates = clamp_stiffness(major: 16 mm, grip: 40 mm, modulus: 206 GPa)\n\
              check plates within 3.0 MN/mm .. 3.5 MN/mm \"about five times the bolt\"",
    body: by_formula,
};

pub(super) static JOINT_UNDER_LOAD: Function = Function {
    name: "joint_under_load",
    does: "how a load on a tightened joint divides between the bolt and what it clamps",
    parameters: &[PRELOAD, needed("load", LOAD, "pull on the joint, by bolt Fe"), BOLT, CLAMPED],
    outputs: &[
        share("share", "of the load that the bolt feels C"),
        force("bolt_force", "pull in the bolt under load"),
        force("clamp_force", "what still presses the joint together"),
        force("opening_load", "at which the joint opens"),
    ],
    formula: lines(
        "share = bolt/(bolt + clamped)\n\
         opening_load = preload/(1 - share)\n\
         is_closed = load < opening_load\n\
         bolt_force = if is_closed then preload + share*load else load\n\
         clamp_force = if is_closed then preload - (1 - share)*load else 0 N",
    ),
    validity: "Elastic; load through the middle of what is clamped.",
    source: &[recalled("V. B. Bhandari, Design of Machine Elements", "3rd ed.", "ch. 7")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "joint = joint_under_load(preload: 20 kN, load: 10 kN, bolt: 200 kN/mm, clamped: 800 kN/mm)\n\
              check joint.bolt_force within 21.9 kN .. 22.1 kN \"20 + 0.2 x 10\"\n\
              check joint.clamp_force within 11.9 kN .. 12.1 kN \"20 - 0.8 x 10\"",
    body: joint_under_load,
};

fn joint_under_load(call: &Call) -> Result<Answer, Refusal> {
    let [preload, load, bolt, clamped] = ["preload", "load", "bolt", "clamped"].map(|name| call.real(name));
    let share = bolt / (bolt + clamped);
    let opening = preload / (1.0 - share);
    let closed = load < opening;
    let (on_bolt, clamp) = if closed {
        (preload + share * load, preload - (1.0 - share) * load)
    } else {
        (load, Real::exact(0.0))
    };
    let answer = Answer::new()
        .number("share", share)
        .number("bolt_force", on_bolt)
        .number("clamp_force", clamp)
        .number("opening_load", opening);
    if closed {
        return Ok(answer);
    }
    let (load, opening) = (say::force(load), say::force(opening));
    Ok(answer
        .warn(format!("the joint opens at {opening}, and the load is {load}: the bolt carries all of it")))
}

pub(super) static TURN_OF_NUT: Function = Function {
    name: "turn_of_nut",
    does: "turn of the nut, from snug, for a preload",
    parameters: &[
        PRELOAD,
        PITCH,
        BOLT,
        optional("clamped", STIFFNESS, "stiffness of what is clamped km; left out if it is much stiffer"),
    ],
    outputs: &[angle("turn", "after the joint is snug")],
    formula: lines(
        "turn = 360 deg*preload/(bolt*pitch)\n\
         turn = 360 deg*preload*(1/bolt + 1/clamped)/pitch # with clamped",
    ),
    validity: "From snug: all faces touching. More certain than torque, as friction does not enter.",
    source: &[recalled(SHIGLEY, "9th ed.", "problem 8-27")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "nut = turn_of_nut(preload: 50 kN, pitch: 2 mm, bolt: 500 kN/mm)\n\
              check nut within 17.9 deg .. 18.1 deg \"0.1 mm of stretch on 2 mm of pitch\"",
    body: by_formula,
};
