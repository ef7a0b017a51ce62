//! The shaft that a load needs, and the torque that a shaft may carry.

use std::f64::consts::PI;

use crate::calc::function::{Absent, Answer, Call, Function, Parameter, Refusal, Sign, Takes};
use crate::trade::declare::{
    by_formula, in_work, length, lines, moment, needed, open_table, optional, or_number, recalled, stress,
    words,
};

use super::round::Round;
use super::{
    BORE, D, FACTOR, LENGTH, LOAD_MOMENT, MATERIAL, SHARE, SHEAR_MODULUS, STRESS, YIELD, say, shear_modulus,
};
use crate::hazard::Hazard;

pub(super) static SHAFT_CODE_STRESS: Function = Function {
    name: "shaft_code_stress",
    does: "allowable shear stress of the old shaft code",
    parameters: &[
        MATERIAL,
        YIELD,
        super::uts("ultimate tensile strength, if there is no material"),
        Parameter {
            name: "keyway",
            takes: Takes::Truth,
            absent: Absent::Truth(false),
            meaning: "whether there is a keyway at the place",
        },
    ],
    outputs: &[stress("shear", "allowable shear stress")],
    formula: lines("shear = (if keyway then 0.75 else 1)*min(0.30*yield, 0.18*uts)"),
    validity: "Ductile steel. The code was withdrawn; later standards use fatigue factors.",
    source: &[
        open_table("ASME code for transmission shafting", "1927", "30 % of yield, 18 % of ultimate strength"),
        recalled("ASME code for transmission shafting", "1927", "a quarter less at a keyway"),
        in_work("Sadhu Singh, Machine Design I", "", "Example 6.1"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "allowed = shaft_code_stress(yield: 380 MPa, uts: 650 MPa, keyway: true)\n\
              check allowed within 85.4 MPa .. 85.6 MPa \"Sadhu Singh, example 6.1: 0.75 min(114, 117)\"",
    body: by_formula,
};

pub(super) static SHAFT_DIAMETER: Function = Function {
    name: "shaft_diameter",
    does: "diameter that a torque and a bending moment need",
    parameters: &[
        or_number("torque", LOAD_MOMENT, 0.0, "torque T"),
        or_number("moment", LOAD_MOMENT, 0.0, "bending moment M"),
        needed("shear", STRESS, "allowable shear stress"),
        or_number("torque_shock", FACTOR, 1.0, "shock factor Kt: 1 steady, 1.5 small shocks, 3 heavy"),
        or_number("moment_shock", FACTOR, 1.0, "shock factor Km: 1 at rest, 1.5 turning and steady, 3 heavy"),
        or_number("bore_ratio", SHARE, 0.0, "bore by diameter k; 0 if solid"),
    ],
    outputs: &[
        length("d", "by the largest shear stress; the safer"),
        length("d_von_mises", "by distortion energy, for a normal stress of sqrt(3) shear"),
        moment("equivalent_torque", "torque that alone gives the same largest shear stress"),
        moment("equivalent_moment", "moment that alone gives the same principal stress"),
    ],
    formula: lines(
        "M = moment_shock*moment\n\
         T = torque_shock*torque\n\
         strength = pi*shear*(1 - bore_ratio^4)\n\
         equivalent_torque = sqrt(M^2 + T^2)\n\
         equivalent_moment = (M + equivalent_torque)/2\n\
         d = cbrt(16*equivalent_torque/strength)\n\
         d_von_mises = cbrt(32*sqrt(M^2 + 0.75*T^2)/(sqrt(3)*strength))",
    ),
    validity: "Static with shock factors; fatigue and stiffness need checks of their own.",
    source: &[
        in_work("Sadhu Singh, Machine Design I", "", "Example 6.1 (p. 168)"),
        recalled("ASME code for transmission shafting", "1927", "factors"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "shaft = shaft_diameter(torque: 795.8 N·m, shear: 60 MPa)\n\
              check shaft.d within 40.6 mm .. 40.8 mm \"(16 x 795.8/(pi x 60e6))^(1/3)\"",
    body: shaft_diameter,
};

fn shaft_diameter(call: &Call) -> Result<Answer, Refusal> {
    let ratio = call.real("bore_ratio");
    if ratio >= 1.0 {
        let message = format!("a bore ratio of {} leaves no wall", say::figures(ratio.value()));
        return Err(Refusal::of("bore_ratio", message, "Give bore by outside diameter, below 1."));
    }
    let moment = call.real("moment_shock") * call.real("moment");
    let torque = call.real("torque_shock") * call.real("torque");
    if moment == 0.0 && torque == 0.0 {
        return Err(Refusal::of(
            "torque",
            "neither a torque nor a bending moment is given",
            "Give one or both.",
        ));
    }
    let equivalent = (moment.squared() + torque.squared()).sqrt();
    let distortion = (moment.squared() + 0.75 * torque.squared()).sqrt();
    let strength = PI * call.real("shear") * (1.0 - ratio.squared().squared());
    Ok(Answer::new()
        .number("d", (16.0 * equivalent / strength).cbrt())
        .number("d_von_mises", (32.0 / 3_f64.sqrt() * distortion / strength).cbrt())
        .number("equivalent_torque", equivalent)
        .number("equivalent_moment", (moment + equivalent) / 2.0))
}

pub(super) static SHAFT_CAPACITY: Function = Function {
    name: "shaft_capacity",
    does: "torque that a shaft may carry, by stress and, if asked, by twist",
    parameters: &[
        D,
        BORE,
        needed("shear", STRESS, "allowable shear stress"),
        optional("twist", Takes::Angle(Sign::Positive), "allowable angle of twist over the length"),
        optional("length", LENGTH, "length that is twisted"),
        MATERIAL,
        SHEAR_MODULUS,
    ],
    outputs: &[moment("torque", "the smaller of both"), words("governs", "what sets it: stress or twist")],
    formula: lines(
        "J = pi/32*(d^4 - bore^4)\n\
         by_stress = shear*2*J/d\n\
         by_twist = shear_modulus*J*twist/length # with twist\n\
         torque = by_stress\n\
         torque = min(by_stress, by_twist) # with twist",
    ),
    validity: "Elastic, no notch factors.",
    source: &[in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "Example 3-1")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "rod = shaft_capacity(d: 1.5 in, shear: 6000 psi, twist: 2.5 deg, length: 54 in, \
              shear_modulus: 11.5e6 psi)\n\
              check rod.torque within 330 ft·lbf .. 332 ft·lbf \"Gere, 5th ed., example 3-1: 331\"",
    body: shaft_capacity,
};

fn shaft_capacity(call: &Call) -> Result<Answer, Refusal> {
    let round = Round::of(call)?;
    let by_stress = call.real("shear") * round.polar_modulus();
    let answer = |torque, governs| Ok(Answer::new().number("torque", torque).text("governs", governs));
    let Some(twist) = call.optional("twist") else { return answer(by_stress, "stress") };
    let Some(length) = call.optional("length") else {
        return Err(Refusal::of(
            "length",
            "a limit of twist needs the length",
            "Give the length that is twisted.",
        ));
    };
    let by_twist = shear_modulus(call)? * round.polar_moment() * twist / length;
    if by_twist < by_stress { answer(by_twist, "twist") } else { answer(by_stress, "stress") }
}
