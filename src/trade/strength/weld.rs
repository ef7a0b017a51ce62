//! Fillet and butt welds.

use crate::calc::function::{Absent, Answer, Call, Function, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    by_formula, force, in_work, length, lines, needed, open_table, optional, or_number, practice, stress,
};

use super::plain::needed_count;
use super::{FACTOR, FORCE, LENGTH, MATERIAL, STIFFNESS, STRESS, within};

/// Throat by leg of a fillet of equal legs, as the books print cos 45 degrees.
pub(super) const THROAT: f64 = 0.707;

const LEG: Parameter = needed("leg", LENGTH, "leg of the fillet h");
const WELD_LENGTH: Parameter = needed("length", LENGTH, "length of each weld");
const COUNT: Parameter = needed_count("count", "number of equal welds");
const CRATERS: Parameter = Parameter {
    name: "craters",
    takes: Takes::Truth,
    absent: Absent::Truth(false),
    meaning: "whether to take one leg off each end, for ends that are not returned",
};
const VALIDITY: &str = "Static, sound weld of full throat, load through the middle of the welds, side and \
                        end fillets taken alike; no fatigue, no residual stress.";

pub(super) static FILLET_WELD: Function = Function {
    name: "fillet_weld",
    does: "shear stress of fillet welds that are pulled straight",
    parameters: &[needed("force", FORCE, "load on all"), LEG, WELD_LENGTH, COUNT, CRATERS],
    outputs: &[length("throat", "0.707 of the leg"), stress("shear_stress", "in the throat")],
    formula: lines(
        "throat = 0.707*leg\n\
         sound_length = if craters then length - 2*leg else length\n\
         shear_stress = force/(count*sound_length*throat)",
    ),
    validity: VALIDITY,
    source: &[in_work("U. C. Jindal, Machine Design", "", "Example 12-1")],
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = fillet_weld(force: 100 kN, leg: 8 mm, length: 60 mm, count: 4)\n\
              check weld.shear_stress within 73.6 MPa .. 73.8 MPa \"Jindal, example 12-1: 73.7\"",
    body: fillet_weld,
};

fn fillet_weld(call: &Call) -> Result<Answer, Refusal> {
    let throat = THROAT * call.real("leg");
    let area = call.real("count") * sound_length(call)? * throat;
    Ok(Answer::new().number("throat", throat).number("shear_stress", call.real("force") / area))
}

fn sound_length(call: &Call) -> Result<Real, Refusal> {
    let (length, craters) = (call.real("length"), 2.0 * call.real("leg"));
    if !call.truth("craters") {
        return Ok(length);
    }
    within("leg", "the two end craters", craters, "the weld's length", length)?;
    Ok(length - craters)
}

pub(super) static FILLET_WELD_LOAD: Function = Function {
    name: "fillet_weld_load",
    does: "load that fillet welds carry",
    parameters: &[
        LEG,
        WELD_LENGTH,
        needed("shear", STRESS, "allowable shear stress of the throat"),
        COUNT,
        CRATERS,
    ],
    outputs: &[force("load", "on all")],
    formula: lines(
        "sound_length = if craters then length - 2*leg else length\n\
         load = count*sound_length*0.707*leg*shear",
    ),
    validity: VALIDITY,
    source: &[in_work("U. C. Jindal, Machine Design", "", "Example 12-3")],
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "load = fillet_weld_load(leg: 12 mm, length: 60 mm, shear: 80 MPa, count: 2)\n\
              check load within 81.4 kN .. 81.5 kN \"Jindal, example 12-3: 81.446\"",
    body: |call| {
        let area = call.real("count") * sound_length(call)? * THROAT * call.real("leg");
        Ok(Answer::new().number("load", area * call.real("shear")))
    },
};

pub(super) static WELD_SIZE: Function = Function {
    name: "weld_size",
    does: "throat and leg that a line load on a weld needs",
    parameters: &[
        needed("line_load", STIFFNESS, "force by length of weld, from a `weld_…` group"),
        needed("allowable", STRESS, "allowable stress of the throat, by the method of the group"),
        optional("plate", LENGTH, "thickness of the thinner plate"),
    ],
    outputs: &[length("throat", "of the weld"), length("leg", "of a fillet of equal legs")],
    formula: lines(
        "throat = line_load/allowable\n\
         leg = throat/0.707",
    ),
    validity: "As for the group.",
    source: &[
        in_work("V. B. Bhandari, Design of Machine Elements", "3rd ed.", "Examples 8.9 to 8.15"),
        practice("leg not above the plate"),
    ],
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = weld_size(line_load: 500 N/mm, allowable: 100 MPa)\n\
              check weld.leg within 7.06 mm .. 7.08 mm \"5 mm/0.707\"",
    body: weld_size,
};

fn weld_size(call: &Call) -> Result<Answer, Refusal> {
    let throat = call.real("line_load") / call.real("allowable");
    let leg = throat / THROAT;
    let answer = Answer::new().number("throat", throat).number("leg", leg);
    Ok(match call.optional("plate") {
        Some(plate) if leg > plate => answer.warn(format!(
            "a leg of {} is more than the plate of {}: the plate gives way first; weld a longer line",
            super::say::length(leg),
            super::say::length(plate)
        )),
        _ => answer,
    })
}

pub(super) static WELD_STRENGTH: Function = Function {
    name: "weld_strength",
    does: "design strength of a fillet weld by Eurocode 3",
    parameters: &[
        MATERIAL,
        super::uts("ultimate tensile strength of the weaker part, if there is no material"),
        needed("beta", FACTOR, "correlation factor: 0.8 S235, 0.85 S275, 0.9 S355, 1 S420 and S460"),
        or_number("gamma", FACTOR, 1.25, "partial factor gamma_M2"),
    ],
    outputs: &[
        stress("simplified", "for the method \"vector sum\""),
        stress("directional", "for the method \"directional\""),
    ],
    formula: lines(
        "simplified = uts/(sqrt(3)*beta*gamma)\n\
         directional = uts/(beta*gamma)",
    ),
    validity: "Weldable structural steel with matching electrodes, factored static loads. Not for cast \
               iron, old steel of unknown grade or fatigue.",
    source: &[open_table("EN 1993-1-8", "2005", "4.5.3.2 and 4.5.3.3, table 4.1")],
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = weld_strength(uts: 360 MPa, beta: 0.8)\n\
              check weld.simplified within 207 MPa .. 209 MPa \"S235: 360/(1.732 x 0.8 x 1.25)\"",
    body: by_formula,
};

const THICKNESS: Parameter = needed("thickness", LENGTH, "of the thinner plate");
const EFFICIENCY: Parameter = or_number(
    "efficiency",
    FACTOR,
    1.0,
    "joint efficiency: 1 full penetration and tested, 0.6 to 0.85 untested",
);
const BUTT_VALIDITY: &str = "Full penetration, straight pull; efficiency 0.6 to 1.0 as the code in force \
                             and the testing say.";

pub(super) static BUTT_WELD: Function = Function {
    name: "butt_weld",
    does: "stress of a butt weld",
    parameters: &[
        needed("force", FORCE, "pull"),
        THICKNESS,
        needed("length", LENGTH, "length of the weld"),
        EFFICIENCY,
    ],
    outputs: &[stress("stress", "to be held against the allowable stress of the plate")],
    formula: lines("stress = force/(efficiency*thickness*length)"),
    validity: BUTT_VALIDITY,
    source: &[open_table("V. M. Faires, Design of Machine Elements", "", "problem 941, published solution")],
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = butt_weld(force: 100 kN, thickness: 10 mm, length: 100 mm, efficiency: 0.8)\n\
              check weld within 124 MPa .. 126 MPa \"100/0.8\"",
    body: |call| {
        let area = efficiency(call)? * call.real("thickness") * call.real("length");
        Ok(Answer::new().number("stress", call.real("force") / area))
    },
};

pub(super) static BUTT_WELD_LOAD: Function = Function {
    name: "butt_weld_load",
    does: "pull that a butt weld carries",
    parameters: &[
        THICKNESS,
        needed("length", LENGTH, "length of the weld"),
        needed("stress", STRESS, "allowable stress of the plate"),
        EFFICIENCY,
    ],
    outputs: &[force("load", "pull")],
    formula: lines("load = efficiency*thickness*length*stress"),
    validity: BUTT_VALIDITY,
    source: &[open_table("V. M. Faires, Design of Machine Elements", "", "problem 941, published solution")],
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "load = butt_weld_load(thickness: 10 mm, length: 100 mm, stress: 100 MPa, efficiency: 0.8)\n\
              check load within 79.9 kN .. 80.1 kN \"0.8 x 100\"",
    body: |call| {
        let area = efficiency(call)? * call.real("thickness") * call.real("length");
        Ok(Answer::new().number("load", area * call.real("stress")))
    },
};

/// The joint efficiency, not above 1.
pub(super) fn efficiency(call: &Call) -> Result<Real, Refusal> {
    let efficiency = call.real("efficiency");
    if efficiency <= 1.0 {
        return Ok(efficiency);
    }
    Err(Refusal::of(
        "efficiency",
        "a joint is not stronger than its plate",
        "Give an efficiency of 1 or less.",
    ))
}

pub(super) static ANGLE_WELDS: Function = Function {
    name: "angle_welds",
    does: "lengths of the side welds of an angle whose pull goes through its centroid",
    parameters: &[
        needed("force", FORCE, "pull through the centroid"),
        needed("line_load", STIFFNESS, "force that a length of weld carries"),
        needed("y1", LENGTH, "from the centroid to the first weld"),
        needed("y2", LENGTH, "from the centroid to the second weld"),
    ],
    outputs: &[length("length1", "of the first weld"), length("length2", "of the second weld")],
    formula: lines(
        "whole = force/line_load\n\
         length1 = whole*y2/(y1 + y2)\n\
         length2 = whole*y1/(y1 + y2)",
    ),
    validity: "Equal fillets along both edges, no end weld.",
    source: &[in_work("I. J. Levinson, Statics and Strength of Materials", "", "Example 15.2")],
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "welds = angle_welds(force: 75 kip, line_load: 5000 lbf/in, y1: 2.63 in, y2: 1.37 in)\n\
              check welds.length1 within 5.13 in .. 5.15 in \"Levinson, example 15.2: 5.14\"\n\
              check welds.length2 within 9.85 in .. 9.87 in \"the same: 9.86\"",
    body: by_formula,
};
