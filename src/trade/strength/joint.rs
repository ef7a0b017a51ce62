//! A bolted joint under load: stiffnesses, how the load divides, tightening by angle.

use std::f64::consts::PI;

use crate::calc::function::{Answer, Call, Caution, Function, Parameter, Refusal};
use crate::calc::real::Real;
use crate::trade::declare::{angle, force, needed, optional, share};

use super::bolt::PITCH;
use super::{AREA, FORCE, LENGTH, LOAD, MATERIAL, MODULUS, STIFFNESS, modulus, per_length, say};

const PRELOAD: Parameter = needed("preload", FORCE, "pull in the bolt when tightened Fi");
const BOLT: Parameter = needed("bolt", STIFFNESS, "stiffness of the bolt kb");
const CLAMPED: Parameter = needed("clamped", STIFFNESS, "stiffness of what is clamped km");

pub(super) static BOLT_STIFFNESS: Function = Function {
    name: "bolt_stiffness",
    does: "stiffness of a bolt, shank and thread one behind the other",
    parameters: &[
        needed("area", AREA, "cross-section of the threaded part: the stress area"),
        needed("length", LENGTH, "of thread between head and nut, plus half a nut"),
        optional("shank_area", AREA, "cross-section of the plain shank"),
        optional("shank_length", LENGTH, "of the plain shank"),
        MATERIAL,
        MODULUS,
    ],
    outputs: &[per_length("stiffness", "force by stretch")],
    formula: "stiffness = E/(length/area + shank_length/shank_area)",
    validity: "Elastic; head and nut stiff.",
    source: "J. E. Shigley, Mechanical Engineering Design, ch. on fasteners (from memory)",
    caution: None,
    example: "bolt = bolt_stiffness(area: 157 mm^2, length: 50 mm, modulus: 206 GPa)\n\
              check bolt within 646 kN/mm .. 648 kN/mm \"A E/L\"",
    body: bolt_stiffness,
};

fn bolt_stiffness(call: &Call) -> Result<Answer, Refusal> {
    let thread = call.real("length") / call.real("area");
    let shank = match (call.optional("shank_length"), call.optional("shank_area")) {
        (Some(length), Some(area)) => length / area,
        (None, None) => Real::exact(0.0),
        (Some(_), None) => return Err(half_a_shank("shank_area")),
        (None, Some(_)) => return Err(half_a_shank("shank_length")),
    };
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
    formula: "two cones of 30 degrees from washers of 1.5 d: 0.5774 pi E d/(2 ln(5 (0.5774 l + 0.5 \
              d)/(0.5774 l + 2.5 d)))",
    validity: "One material, room for the cones (more than about 1.5 d + 0.58 l wide).",
    source: "J. E. Shigley, Mechanical Engineering Design, ch. on fasteners (from memory)",
    caution: None,
    example: "plates = clamp_stiffness(major: 16 mm, grip: 40 mm, modulus: 206 GPa)\n\
              check plates within 3.0 MN/mm .. 3.5 MN/mm \"about five times the bolt\"",
    body: clamp_stiffness,
};

fn clamp_stiffness(call: &Call) -> Result<Answer, Refusal> {
    let (d, cone) = (call.real("major"), 0.5774 * call.real("grip"));
    let spread = (5.0 * (cone + 0.5 * d) / (cone + 2.5 * d)).ln();
    Ok(Answer::new().number("stiffness", 0.5774 * PI * modulus(call)? * d / (2.0 * spread)))
}

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
    formula: "C = kb/(kb + km); bolt_force = Fi + C Fe; clamp_force = Fi - (1 - C) Fe; opening_load = \
              Fi/(1 - C); once open the bolt carries all",
    validity: "Elastic; load through the middle of what is clamped.",
    source: "V. B. Bhandari, Design of Machine Elements, 3rd ed., ch. 7 (from memory)",
    caution: Some(Caution::LoadCarryingPart),
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
    formula: "turn = 360 deg preload (1/kb + 1/km)/pitch",
    validity: "From snug: all faces touching. More certain than torque, as friction does not enter.",
    source: "J. E. Shigley, Mechanical Engineering Design, ch. on fasteners (from memory)",
    caution: Some(Caution::LoadCarryingPart),
    example: "nut = turn_of_nut(preload: 50 kN, pitch: 2 mm, bolt: 500 kN/mm)\n\
              check nut within 17.9 deg .. 18.1 deg \"0.1 mm of stretch on 2 mm of pitch\"",
    body: turn_of_nut,
};

fn turn_of_nut(call: &Call) -> Result<Answer, Refusal> {
    let squeeze = call.optional("clamped").map_or(Real::exact(0.0), |clamped| 1.0 / clamped);
    let travel = call.real("preload") * (1.0 / call.real("bolt") + squeeze);
    Ok(Answer::new().number("turn", 2.0 * PI * travel / call.real("pitch")))
}
