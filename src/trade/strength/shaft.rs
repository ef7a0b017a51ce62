//! Shafts: torque from power, torsion, bending, both together, twist.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Takes};
use crate::hazard::Hazard;
use crate::trade::declare::{
    angle, by_formula, derived, in_work, lines, moment, needed, or_number, quantity, recalled, stress,
};

use super::round::Round;
use super::{BORE, D, LENGTH, LOAD, LOAD_MOMENT, MATERIAL, MOMENT, SHEAR_MODULUS, TURNING, shear_modulus};

pub(super) const TORQUE: Parameter = needed("torque", MOMENT, "torque T");
pub(super) const SPEED: Parameter = needed("speed", TURNING, "rotational speed");

pub(super) static TORQUE_OF_POWER: Function = Function {
    name: "torque_of_power",
    does: "torque from power and speed",
    parameters: &[needed("power", Takes::Positive(Dimension::POWER), "power"), SPEED],
    outputs: &[moment("torque", "torque")],
    formula: lines("torque = power/speed"),
    validity: "Even running; starting and shocks are a multiple of it.",
    source: &[in_work("T. H. Wentzell, Machine Design", "", "Example 3.4 (p. 46)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "torque = torque_of_power(power: 10 hp, speed: 1750 rpm)\n\
              check torque within 359 in·lbf .. 361 in·lbf \"Wentzell, example 3.4: 360\"",
    body: by_formula,
};

pub(super) static POWER_OF_TORQUE: Function = Function {
    name: "power_of_torque",
    does: "power from torque and speed",
    parameters: &[TORQUE, SPEED],
    outputs: &[quantity("power", Dimension::POWER, ["kW", "hp"], "power")],
    formula: lines("power = torque*speed"),
    validity: "Even running.",
    source: &[derived("definition of power")],
    hazard: Some(Hazard::MovingMachinery),
    example: "power = power_of_torque(torque: 100 N·m, speed: 955 rpm)\n\
              check power within 9.99 kW .. 10.01 kW \"T = 9549.3 kW/n\"",
    body: by_formula,
};

pub(super) static TORSION: Function = Function {
    name: "torsion",
    does: "shear stress of a round shaft in torsion",
    parameters: &[TORQUE, D, BORE],
    outputs: &[
        stress("shear_stress", "at the outside"),
        stress("shear_stress_bore", "at the bore; 0 if solid"),
    ],
    formula: lines(
        "J = pi/32*(d^4 - bore^4)\n\
         shear_stress = torque*d/(2*J)\n\
         shear_stress_bore = torque*bore/(2*J)",
    ),
    validity: "Elastic, round, away from keyways, holes and shoulders: those raise it 1.3 to 3 times.",
    source: &[in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "section 3.3 and examples 3-1, 3-6")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "rod = torsion(torque: 250 ft·lbf, d: 1.5 in)\n\
              check rod.shear_stress within 4520 psi .. 4535 psi \"Gere, 5th ed., example 3-1: 4530\"",
    body: torsion,
};

fn torsion(call: &Call) -> Result<Answer, Refusal> {
    let round = Round::of(call)?;
    let outside = call.real("torque") / round.polar_modulus();
    Ok(Answer::new()
        .number("shear_stress", outside)
        .number("shear_stress_bore", outside * round.bore / round.d))
}

pub(super) static TWIST: Function = Function {
    name: "twist",
    does: "how far a round shaft twists",
    parameters: &[
        TORQUE,
        needed("length", LENGTH, "length that is twisted"),
        D,
        BORE,
        MATERIAL,
        SHEAR_MODULUS,
    ],
    outputs: &[
        angle("twist", "angle between the ends"),
        moment("stiffness", "torque that twists it by one radian"),
    ],
    formula: lines(
        "J = pi/32*(d^4 - bore^4)\n\
         twist = torque*length/(shear_modulus*J)\n\
         stiffness = shear_modulus*J/length",
    ),
    validity: "Elastic, round, even section.",
    source: &[in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "section 3.3 and examples 3-1, 3-8")],
    hazard: None,
    example: "rod = twist(torque: 250 ft·lbf, length: 54 in, d: 1.5 in, shear_modulus: 11.5e6 psi)\n\
              check rod.twist within 1.61 deg .. 1.63 deg \"Gere, 5th ed., example 3-1: 1.62\"",
    body: twist,
};

fn twist(call: &Call) -> Result<Answer, Refusal> {
    let stiffness = shear_modulus(call)? * Round::of(call)?.polar_moment() / call.real("length");
    Ok(Answer::new().number("twist", call.real("torque") / stiffness).number("stiffness", stiffness))
}

pub(super) static SHAFT_STRESS: Function = Function {
    name: "shaft_stress",
    does: "stresses of a round shaft in bending, torsion and push or pull together",
    parameters: &[
        or_number("moment", LOAD_MOMENT, 0.0, "bending moment M"),
        or_number("torque", LOAD_MOMENT, 0.0, "torque T"),
        D,
        BORE,
        or_number("axial", LOAD, 0.0, "pull along the shaft"),
    ],
    outputs: &[
        stress("bending_stress", "normal stress from bending"),
        stress("normal_stress", "from bending and pull"),
        stress("shear_stress", "from torsion"),
        stress("max_shear", "largest shear stress"),
        stress("max_normal", "largest principal stress"),
        stress("von_mises", "equivalent stress by distortion energy"),
    ],
    formula: lines(
        "area = pi/4*(d^2 - bore^2)\n\
         W = pi/32*(d^4 - bore^4)/d\n\
         bending_stress = moment/W\n\
         normal_stress = bending_stress + axial/area\n\
         shear_stress = torque/(2*W)\n\
         max_shear = sqrt((normal_stress/2)^2 + shear_stress^2)\n\
         max_normal = normal_stress/2 + max_shear\n\
         von_mises = sqrt(normal_stress^2 + 3*shear_stress^2)",
    ),
    validity: "Static, elastic, no notch factors; a turning shaft needs a fatigue check of its own.",
    source: &[
        in_work("T. H. Wentzell, Machine Design", "", "Example 4.4 (p. 71)"),
        recalled("J. M. Gere, Mechanics of Materials", "5th ed.", "ch. 8"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "shaft = shaft_stress(moment: 1890.8 in·lbf, torque: 2521.1 in·lbf, d: 1.25 in)\n\
              check shaft.bending_stress within 9850 psi .. 9870 psi \"Wentzell, example 4.4: 9857\"\n\
              check shaft.max_normal within 13100 psi .. 13200 psi \"the same: 13142\"",
    body: shaft_stress,
};

fn shaft_stress(call: &Call) -> Result<Answer, Refusal> {
    let round = Round::of(call)?;
    let bending = call.real("moment") / round.section_modulus();
    let normal = bending + call.real("axial") / round.area();
    let shear = call.real("torque") / round.polar_modulus();
    let max_shear = ((normal / 2.0).squared() + shear.squared()).sqrt();
    Ok(Answer::new()
        .number("bending_stress", bending)
        .number("normal_stress", normal)
        .number("shear_stress", shear)
        .number("max_shear", max_shear)
        .number("max_normal", normal / 2.0 + max_shear)
        .number("von_mises", (normal.squared() + 3.0 * shear.squared()).sqrt()))
}
