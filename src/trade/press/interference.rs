//! The interference to make: for a stress allowed, or for a load to hold.

use std::f64::consts::PI;

use super::{
    D, ELASTIC, HUB, INNER, LONG, MU, OUTER, PRESSURE, ROUGHNESS_HUB, ROUGHNESS_SHAFT, Rings, SHAFT, SOURCE,
    judge_strength, magnitude,
};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{in_work, length, lines, needed, or_number, stress};

pub(super) static INTERFERENCE_FOR_STRESS: Function = Function {
    name: "interference_for_stress",
    does: "diametral interference that brings the hub's bore to a chosen hoop stress, and the bore to \
           make",
    parameters: &[
        D,
        OUTER,
        INNER,
        needed("hoop", Takes::Positive(Dimension::STRESS), "hoop stress allowed at the bore of the hub"),
        HUB,
        SHAFT,
    ],
    outputs: &[
        PRESSURE,
        length("interference", "diametral interference"),
        length("bore", "bore of the hub before assembly, for a shaft of diameter d"),
    ],
    formula: lines(
        "hub_ratio = (outer^2 + d^2)/(outer^2 - d^2)\n\
         shaft_ratio = (d^2 + inner^2)/(d^2 - inner^2)\n\
         pressure = hoop/hub_ratio\n\
         interference = pressure*d*((hub_ratio + hub.poisson)/hub.E + (shaft_ratio - shaft.poisson)/shaft.E)\n\
         bore = d - interference",
    ),
    validity: ELASTIC,
    source: &[in_work(
        "V. B. Bhandari, Design of Machine Elements",
        "3rd ed.",
        "ch. 22 (compound cylinders)",
    )],
    hazard: Some(Hazard::Pressing),
    example: r#"jacket = interference_for_stress(d: 40 mm, outer: 60 mm, inner: 20 mm, hoop: 100 MPa,
                 hub: material("S235JR"), shaft: material("S235JR"))
check jacket.pressure within 38.4 MPa .. 38.5 MPa
check jacket.interference within 0.030 mm .. 0.034 mm"#,
    body: interference_for_stress,
};

fn interference_for_stress(call: &Call) -> Result<Answer, Refusal> {
    let rings = Rings::of(call)?;
    let pressure = call.real("hoop") / rings.hub_ratio();
    let interference = rings.interference(pressure);
    let answer = Answer::new()
        .number("pressure", pressure)
        .number("interference", interference)
        .number("bore", rings.d - interference);
    let shaft = pressure * rings.shaft_bore_ratio();
    let answer =
        judge_strength(answer, call, ("hub", "hub"), (call.real("hoop"), rings.hub_equivalent(pressure)));
    Ok(judge_strength(answer, call, ("shaft", "shaft"), (Real::exact(0.0), shaft)))
}

pub(super) static INTERFERENCE_TO_HOLD: Function = Function {
    name: "interference_to_hold",
    does: "diametral interference that holds a torque and an axial force together",
    parameters: &[
        D,
        LONG,
        OUTER,
        INNER,
        or_number("torque", Takes::NotNegative(Dimension::MOMENT), 0.0, "torque to hold"),
        or_number("force", Takes::NotNegative(Dimension::FORCE), 0.0, "axial force to hold at the same time"),
        HUB,
        SHAFT,
        Parameter { meaning: "friction that can be relied on: take the low end", ..MU },
        or_number("safety", Takes::Positive(Dimension::NONE), 1.0, "how many times the load is to be held"),
        ROUGHNESS_HUB,
        ROUGHNESS_SHAFT,
    ],
    outputs: &[
        PRESSURE,
        length("interference", "diametral interference to make, roughness loss included"),
        stress("hub_hoop", "hoop stress at the bore of the hub"),
    ],
    formula: lines(
        "hub_ratio = (outer^2 + d^2)/(outer^2 - d^2)\n\
         shaft_ratio = (d^2 + inner^2)/(d^2 - inner^2)\n\
         pressure = safety*sqrt(force^2 + (2*torque/d)^2)/(mu*pi*d*length)\n\
         elastic = pressure*d*((hub_ratio + hub.poisson)/hub.E + (shaft_ratio - shaft.poisson)/shaft.E)\n\
         interference = elastic + 0.8*(roughness_hub + roughness_shaft)\n\
         hub_hoop = pressure*hub_ratio",
    ),
    validity: ELASTIC,
    source: SOURCE,
    hazard: Some(Hazard::Pressing),
    example: r#"wheel = interference_to_hold(d: 60 mm, length: 70 mm, outer: 110 mm, torque: 500 N*m,
                hub: material("S235JR"), shaft: material("S235JR"), mu: 0.10, safety: 2)
check wheel.pressure within 25.2 MPa .. 25.3 MPa   "2 x 500 N*m x 2/60 mm over 0.1 pi 60 mm 70 mm""#,
    body: interference_to_hold,
};

fn interference_to_hold(call: &Call) -> Result<Answer, Refusal> {
    let rings = Rings::of(call)?;
    let (torque, force) = (call.real("torque"), call.real("force"));
    if torque == 0.0 && force == 0.0 {
        return Err(Refusal::whole(
            "neither a torque nor a force is to be held",
            "Give `torque`, `force` or both.",
        ));
    }
    let pull = magnitude(force, 2.0 * torque / rings.d) * call.real("safety");
    let pressure = pull / (call.real("mu") * PI * rings.d * call.real("length"));
    let loss = 0.8 * (call.real("roughness_hub") + call.real("roughness_shaft"));
    let hoop = pressure * rings.hub_ratio();
    let answer = Answer::new()
        .number("pressure", pressure)
        .number("interference", rings.interference(pressure) + loss)
        .number("hub_hoop", hoop);
    let answer = judge_strength(answer, call, ("hub", "hub"), (hoop, rings.hub_equivalent(pressure)));
    let shaft = pressure * rings.shaft_bore_ratio();
    Ok(judge_strength(answer, call, ("shaft", "shaft"), (Real::exact(0.0), shaft)))
}
