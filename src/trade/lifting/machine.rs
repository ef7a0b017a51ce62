//! Levers, jacks, screws and tackles: what the hand has to give.

use std::f64::consts::{PI, TAU};

use super::GRAVITY;
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Sign, Source, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    angle, by_formula, derived, force, in_work, lines, moment, needed, number, or_number, share, words,
};

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const FORCE: Takes = Takes::Positive(Dimension::FORCE);
const FRICTION: Takes = Takes::NotNegative(Dimension::NONE);

pub(super) static LEVER: Function = Function {
    name: "lever",
    does: "effort at the end of a lever or pry bar",
    parameters: &[
        needed("load", FORCE, "load at the short end"),
        needed("load_arm", LENGTH, "from the fulcrum to the load, square to it"),
        needed("effort_arm", LENGTH, "from the fulcrum to the hand, square to the pull"),
    ],
    outputs: &[
        force("effort", "pull of the hand"),
        force(
            "fulcrum",
            "on the fulcrum when the load lies between it and the ground on the far side from the hand",
        ),
        number("advantage", "load over effort"),
    ],
    formula: lines(
        "advantage = effort_arm/load_arm\n\
         effort = load/advantage\n\
         fulcrum = load + effort",
    ),
    validity: "load and hand on opposite sides of the fulcrum, weight of the bar left out; with both on one \
               side the fulcrum carries load - effort",
    source: &[
        derived("law of the lever"),
        in_work(
            "F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics",
            "",
            "chapter 4",
        ),
    ],
    hazard: Some(Hazard::Lifting),
    example: "bar = lever(load: 4 kN, load_arm: 100 mm, effort_arm: 1.6 m)\n\
              check bar.effort within 249 N .. 251 N",
    body: by_formula,
};

pub(super) static JACK_AT_END: Function = Function {
    name: "jack_at_end",
    does: "what a jack under one end of a piece has to lift",
    parameters: &[
        needed("mass", Takes::Positive(Dimension::MASS), "mass of the whole piece"),
        needed("centre", LENGTH, "from the end that stays down to the centre of gravity"),
        needed("at", LENGTH, "place of the jack, from the end that stays down"),
    ],
    outputs: &[force("jack", "on the jack"), force("far_end", "on the end that stays down")],
    formula: lines(
        "jack = mass*g_n*centre/at\n\
         far_end = mass*g_n - jack",
    ),
    validity: "the piece level and at rest. As one end rises the load moves towards the other; wedges and \
               cribbing follow the lift",
    source: &[
        derived("moments"),
        in_work(
            "F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics",
            "",
            "chapter 4",
        ),
    ],
    hazard: Some(Hazard::Lifting),
    example: "end = jack_at_end(mass: 600 kg, centre: 1.2 m, at: 3 m)\n\
              check end.jack within 2353 N .. 2354 N\n\
              check end.far_end within 3530 N .. 3531 N",
    body: jack_at_end,
};

const MEAN_D: Parameter = needed("mean_d", LENGTH, "mean diameter of the thread");
const LEAD: Parameter = needed("lead", Takes::PerTurn, "advance in one turn: pitch x starts");
const MU: Parameter = needed("mu", FRICTION, "friction in the thread");
const HALF_ANGLE: Parameter = or_number(
    "half_angle",
    Takes::Angle(Sign::NotNegative),
    0.0,
    "half the angle between the flanks; 0 for a square thread",
);
const COLLAR_MU: Parameter = or_number("collar_mu", FRICTION, 0.0, "friction under the head or collar");
const COLLAR_RADIUS: Parameter =
    or_number("collar_radius", Takes::NotNegative(Dimension::LENGTH), 0.0, "mean radius of the collar");
const ARM: Parameter = needed("arm", LENGTH, "length of the handle, from the axis to the hand");
const SCREW_OUTPUTS: &[Output] = &[
    force("load", "on the screw, along it"),
    force("effort", "of the hand at the end of the arm"),
    moment("torque", "on the screw"),
    share("efficiency", "work that arrives at the load"),
    angle("lead_angle", "steepness of the thread"),
    words("holds", "whether the thread holds the load when the hand lets go"),
];
const SCREW_VALIDITY: &str = "raising, steady friction (0.10 to 0.20 greased, more when dry or rusty). It \
                              holds by itself when phi > lead_angle, thread alone; vibration can still run \
                              it down";
const SCREW_SOURCE: &[Source] = &[in_work("U. C. Jindal, Machine Design", "", "chapter 16, Example 16-5")];

pub(super) static SCREW_EFFORT: Function = Function {
    name: "screw_jack",
    does: "effort that a screw jack or press screw needs for a load",
    parameters: &[
        needed("load", FORCE, "along the screw"),
        ARM,
        MEAN_D,
        LEAD,
        MU,
        HALF_ANGLE,
        COLLAR_MU,
        COLLAR_RADIUS,
    ],
    outputs: SCREW_OUTPUTS,
    formula: lines(
        "lead_angle = atan(lead/(pi*mean_d))\n\
         phi = atan(mu/cos(half_angle))\n\
         arm_of_thread = mean_d/2*tan(lead_angle + phi) + collar_mu*collar_radius\n\
         torque = load*arm_of_thread\n\
         effort = torque/arm\n\
         efficiency = load*lead/(2*pi*torque)\n\
         holds = if phi > lead_angle then \"holds by itself\" else \"runs back when let go\"",
    ),
    validity: SCREW_VALIDITY,
    source: SCREW_SOURCE,
    hazard: Some(Hazard::Lifting),
    example: "jack = screw_jack(load: 20 kN, arm: 500 mm, mean_d: 36 mm, lead: 6 mm, mu: 0.15)\n\
              check jack.effort within 147 N .. 148 N\n\
              check jack.efficiency within 0.25 .. 0.27",
    body: |call| screw(call, call.real("load")),
};

pub(super) static SCREW_FORCE: Function = Function {
    name: "screw_force",
    does: "force that a screw gives for a pull of the hand",
    parameters: &[
        needed("effort", FORCE, "pull of the hand"),
        ARM,
        MEAN_D,
        LEAD,
        MU,
        HALF_ANGLE,
        COLLAR_MU,
        COLLAR_RADIUS,
    ],
    outputs: SCREW_OUTPUTS,
    formula: lines(
        "lead_angle = atan(lead/(pi*mean_d))\n\
         phi = atan(mu/cos(half_angle))\n\
         arm_of_thread = mean_d/2*tan(lead_angle + phi) + collar_mu*collar_radius\n\
         torque = effort*arm\n\
         load = torque/arm_of_thread\n\
         efficiency = load*lead/(2*pi*torque)\n\
         holds = if phi > lead_angle then \"holds by itself\" else \"runs back when let go\"",
    ),
    validity: SCREW_VALIDITY,
    source: SCREW_SOURCE,
    hazard: Some(Hazard::Pressing),
    example: "press = screw_force(effort: 392.4 N, arm: 250 mm, mean_d: 21 mm, lead: 16 mm, mu: 0.14)\n\
              check press.load within 23.5 kN .. 23.7 kN",
    body: screw_force,
};

pub(super) static PULLEYS: Function = Function {
    name: "pulleys",
    does: "pull on the hauling rope of a tackle or winch",
    parameters: &[
        needed("load", FORCE, "load on the hook"),
        needed(
            "ratio",
            Takes::Positive(Dimension::NONE),
            "way of the hand over way of the load: the falls that carry it",
        ),
        or_number("efficiency", Takes::Positive(Dimension::NONE), 1.0, "work that arrives at the load"),
    ],
    outputs: &[force("effort", "pull on the rope"), number("advantage", "load over effort")],
    formula: lines(
        "advantage = efficiency*ratio\n\
         effort = load/advantage",
    ),
    validity: "steady hauling. An old sheave on a dry pin loses 5 to 10 % each (common practice, no source); \
               starting takes more",
    source: &[in_work("A. K. Tayal, Engineering Mechanics", "", "Example 8-4")],
    hazard: Some(Hazard::Lifting),
    example: "tackle = pulleys(load: 1000 N, ratio: 5, efficiency: 75 %)\n\
              check tackle.effort within 266 N .. 267 N",
    body: pulleys,
};

fn jack_at_end(call: &Call) -> Result<Answer, Refusal> {
    let weight = call.real("mass") * GRAVITY;
    let on_jack = weight * call.real("centre") / call.real("at");
    let far_end = weight - on_jack;
    let answer = Answer::new().number("jack", on_jack).number("far_end", far_end);
    Ok(if far_end < 0.0 {
        answer.warn(
            "the jack stands inside the centre of gravity: the far end rises and the piece tips over the \
             jack",
        )
    } else {
        answer
    })
}

fn screw(call: &Call, load: Real) -> Result<Answer, Refusal> {
    let arm = torque_arm(call)?;
    let torque = load * arm;
    let answer = Answer::new()
        .number("load", load)
        .number("effort", torque / call.real("arm"))
        .number("torque", torque)
        .number("efficiency", load * call.real("lead") / (TAU * torque))
        .number("lead_angle", lead_angle(call))
        .text("holds", if self_locking(call) { "holds by itself" } else { "runs back when let go" });
    Ok(if self_locking(call) {
        answer
    } else {
        answer.warn("the thread does not hold the load by itself: it runs back when the hand lets go")
    })
}

fn screw_force(call: &Call) -> Result<Answer, Refusal> {
    let torque = call.real("effort") * call.real("arm");
    screw(call, torque / torque_arm(call)?)
}

/// Torque for each unit of load.
fn torque_arm(call: &Call) -> Result<Real, Refusal> {
    let (slope, friction) = (lead_slope(call), thread_friction(call));
    if slope * friction >= 1.0 {
        return Err(Refusal::of(
            "mu",
            "the thread is so steep or rough that no effort turns it",
            "Check `lead`, `mean_d` and `mu`: steepness and friction angle together pass 90 deg.",
        ));
    }
    let tangent = (slope + friction) / (1.0 - slope * friction);
    Ok(call.real("mean_d") / 2.0 * tangent + call.real("collar_mu") * call.real("collar_radius"))
}

fn lead_slope(call: &Call) -> Real {
    call.real("lead") / (PI * call.real("mean_d"))
}

fn lead_angle(call: &Call) -> Real {
    lead_slope(call).atan()
}

fn thread_friction(call: &Call) -> Real {
    call.real("mu") / call.real("half_angle").cos()
}

fn self_locking(call: &Call) -> bool {
    thread_friction(call) > lead_slope(call)
}

fn pulleys(call: &Call) -> Result<Answer, Refusal> {
    let efficiency = call.real("efficiency");
    if efficiency > 1.0 {
        return Err(Refusal::of(
            "efficiency",
            "no tackle gives more work than it takes",
            "Give at most 100 %.",
        ));
    }
    let advantage = efficiency * call.real("ratio");
    Ok(Answer::new().number("effort", call.real("load") / advantage).number("advantage", advantage))
}
