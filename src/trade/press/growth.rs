//! A fit already made, judged by what the hub grew.

use std::f64::consts::PI;

use super::{
    D, ELASTIC, Elastic, HUB, LONG, MU, NoWall, OUTER, PRESSURE, Rings, SIZE, judge_strength, kilonewtons,
};
use crate::calc::function::{Answer, Call, Function, Refusal};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{in_work, lines, moment, needed, stress};

pub(super) static PRESS_FROM_GROWTH: Function = Function {
    name: "press_from_growth",
    does: "pressure, push and torque from what a hub grew by on its outside when the shaft went in",
    parameters: &[
        D,
        OUTER,
        needed("growth", SIZE, "growth of the outside diameter, measured before and after"),
        LONG,
        HUB,
        MU,
    ],
    outputs: &[
        PRESSURE,
        stress("hub_hoop_outside", "hoop stress at the outside of the hub"),
        stress("hub_hoop", "hoop stress at the bore of the hub"),
        kilonewtons("force", "axial force at which it moves"),
        moment("torque", "torque at which it slips"),
    ],
    formula: lines(
        "hub_hoop_outside = hub.E*growth/outer\n\
         pressure = hub_hoop_outside*(outer^2 - d^2)/(2*d^2)\n\
         hub_hoop = hub_hoop_outside + pressure\n\
         force = mu*pressure*pi*d*length\n\
         torque = force*d/2",
    ),
    validity: ELASTIC,
    source: &[in_work("U. C. Jindal, Machine Design", "", "Example 3-14 (hoop strain at the outside)")],
    hazard: Some(Hazard::Pressing),
    example: r#"found = press_from_growth(d: 80 mm, outer: 120 mm, growth: 0.00492 mm, length: 50 mm,
                          hub: material("S235JR"), mu: 0.2)
check found.force within 12.8 kN .. 13.6 kN   "13.5 kN for E 210 GPa""#,
    body: press_from_growth,
};

fn press_from_growth(call: &Call) -> Result<Answer, Refusal> {
    let (d, outer) = (call.real("d"), call.real("outer"));
    let hub = Elastic::of(call, "hub")?;
    // The shaft has no part in this; any will do to check the diameters.
    let rings = Rings::new((d, outer, Real::exact(0.0)), hub, hub).map_err(NoWall::refusal)?;
    let outside = hub.modulus * call.real("growth") / outer;
    let pressure = outside / (rings.hub_ratio() - 1.0);
    let hoop = outside + pressure;
    let force = call.real("mu") * pressure * PI * d * call.real("length");
    let answer = Answer::new()
        .number("pressure", pressure)
        .number("hub_hoop_outside", outside)
        .number("hub_hoop", hoop)
        .number("force", force)
        .number("torque", force * d / 2.0);
    Ok(judge_strength(answer, call, ("hub", "hub"), (hoop, rings.hub_equivalent(pressure))))
}
