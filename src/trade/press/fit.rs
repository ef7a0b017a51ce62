//! What a press fit bears.

use std::f64::consts::PI;

use super::{
    D, ELASTIC, HUB, INNER, INTERFERENCE, LONG, MU, OUTER, PRESSURE, ROUGHNESS_HUB, ROUGHNESS_SHAFT, Rings,
    SHAFT, SOURCE, judge_strength, kilonewtons,
};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Refusal, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{hairs, lines, moment, or_from, stress};

pub(super) static PRESS_FIT: Function = Function {
    name: "press_fit",
    does: "pressure, stresses, push and torque of a shaft pressed or shrunk into a hub",
    parameters: &[
        D,
        INTERFERENCE,
        LONG,
        OUTER,
        INNER,
        HUB,
        SHAFT,
        MU,
        or_from(
            "mu_hold",
            Takes::Positive(Dimension::NONE),
            "mu",
            "friction that holds, for torque and pushing out; the same as `mu` if not given",
        ),
        ROUGHNESS_HUB,
        ROUGHNESS_SHAFT,
    ],
    outputs: &[
        PRESSURE,
        hairs("interference", "diametral interference left after the roughness is flattened"),
        stress("hub_hoop", "hoop stress at the bore of the hub, tension"),
        stress("hub_hoop_outside", "hoop stress at the outside of the hub, tension"),
        stress("hub_equivalent", "equivalent stress (von Mises) at the bore of the hub"),
        stress("shaft_hoop", "hoop stress at the surface of the shaft; negative: compression"),
        stress("shaft_hoop_bore", "hoop stress at the bore, or all through a solid shaft"),
        kilonewtons("force", "force to push in, at the end of the stroke"),
        kilonewtons("push_out", "force at which it lets go along the shaft"),
        moment("torque", "torque at which it slips"),
    ],
    formula: lines(
        "interference = interference - 0.8*(roughness_hub + roughness_shaft)\n\
         hub_ratio = (outer^2 + d^2)/(outer^2 - d^2)\n\
         shaft_ratio = (d^2 + inner^2)/(d^2 - inner^2)\n\
         pressure = interference/(d*((hub_ratio + hub.poisson)/hub.E + (shaft_ratio - shaft.poisson)/shaft.E))\n\
         hub_hoop = pressure*hub_ratio\n\
         hub_hoop_outside = 2*pressure*d^2/(outer^2 - d^2)\n\
         hub_equivalent = pressure*sqrt(hub_ratio^2 + hub_ratio + 1)\n\
         shaft_hoop = -pressure*shaft_ratio\n\
         shaft_hoop_bore = if inner == 0 mm then -pressure else -2*pressure*d^2/(d^2 - inner^2)\n\
         force = mu*pressure*pi*d*length\n\
         push_out = mu_hold*pressure*pi*d*length\n\
         torque = push_out*d/2",
    ),
    validity: ELASTIC,
    source: SOURCE,
    hazard: Some(Hazard::Pressing),
    example: r#"press = press_fit(d: 50 mm, interference: 0.04 mm, length: 60 mm, outer: 90 mm,
                  hub: material("S235JR"), shaft: material("S235JR"), mu: 0.12)
check press.pressure within 50 MPa .. 61 MPa       "E d/2 (1 - (d/outer)^2), E 200 to 210 GPa"
check press.force < 80 kN"#,
    body: press_fit,
};

fn press_fit(call: &Call) -> Result<Answer, Refusal> {
    let rings = Rings::of(call)?;
    let interference = after_roughness(call)?;
    let pressure = rings.pressure(interference);
    let hoop = pressure * rings.hub_ratio();
    let shaft_bore = pressure * rings.shaft_bore_ratio();
    let grip = pressure * PI * rings.d * call.real("length");
    let (push, hold) = (call.real("mu"), call.real("mu_hold"));
    let answer = Answer::new()
        .number("pressure", pressure)
        .number("interference", interference)
        .number("hub_hoop", hoop)
        .number("hub_hoop_outside", hoop - pressure)
        .number("hub_equivalent", rings.hub_equivalent(pressure))
        .number("shaft_hoop", -(pressure * rings.shaft_ratio()))
        .number("shaft_hoop_bore", -shaft_bore)
        .number("force", push * grip)
        .number("push_out", hold * grip)
        .number("torque", hold * grip * rings.d / 2.0);
    let answer = judge_strength(answer, call, ("hub", "hub"), (hoop, rings.hub_equivalent(pressure)));
    Ok(judge_strength(answer, call, ("shaft", "shaft"), (Real::exact(0.0), shaft_bore)))
}

/// What is left of the interference when the roughness of both faces is flattened (DIN 7190-1).
fn after_roughness(call: &Call) -> Result<Real, Refusal> {
    let loss = 0.8 * (call.real("roughness_hub") + call.real("roughness_shaft"));
    let left = call.real("interference") - loss;
    if left > 0.0 {
        return Ok(left);
    }
    let message = "the flattened roughness takes up the whole interference";
    Err(Refusal::of("interference", message, "Finish the faces finer or give more interference."))
}
