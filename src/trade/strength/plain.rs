//! Plain stresses: pull, push, pressure on a projected area, and stresses put together.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Absent, Answer, Call, Function, Parameter, Refusal, Takes};
use crate::hazard::Hazard;
use crate::trade::declare::{
    by_formula, derived, force, in_work, length, lines, needed, number, open_table, or_number, recalled,
    stress,
};
use crate::trade::material;

use super::round::Round;
use super::{AREA, BORE, D, FACTOR, FORCE, LENGTH, MATERIAL, MODULUS, OFFSET, figure_or_material, say};

const SIGNED_FORCE: Takes = Takes::Signed(Dimension::FORCE);
const SIGNED_STRESS: Takes = Takes::Signed(Dimension::STRESS);

pub(super) static AXIAL_STRESS: Function = Function {
    name: "axial_stress",
    does: "stress and change of length of a bar that is pulled or pushed",
    parameters: &[
        needed("force", SIGNED_FORCE, "pull (a push is negative)"),
        needed("area", AREA, "cross-section"),
        needed("length", LENGTH, "length under load"),
        MATERIAL,
        MODULUS,
    ],
    outputs: &[
        stress("stress", "force/area"),
        number("strain", "change of length per length"),
        length("change", "change of length"),
    ],
    formula: lines(
        "stress = force/area\n\
         strain = stress/modulus\n\
         change = strain*length",
    ),
    validity: "Elastic, away from the ends and from notches; a push on a slender bar needs `buckling`.",
    source: &[derived("definition of stress and Hooke's law")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "post = axial_stress(force: -26000 lbf, area: 3.338 in^2, length: 16 in, modulus: 30e6 psi)\n\
              check post.stress within -7800 psi .. -7780 psi \"Gere, 5th ed., example 1-1\"",
    body: by_formula,
};

pub(super) static STRETCH: Function = Function {
    name: "stretch",
    does: "strain and stress from a measured change of length: a bolt by micrometer, a post by \
           dial gauge",
    parameters: &[
        needed(
            "change",
            Takes::Signed(Dimension::LENGTH),
            "measured change of length (shortening is negative)",
        ),
        needed("length", LENGTH, "length that takes part"),
        MATERIAL,
        MODULUS,
    ],
    outputs: &[number("strain", "change/length"), stress("stress", "E strain")],
    formula: lines(
        "strain = change/length\n\
         stress = modulus*strain",
    ),
    validity: "Elastic, even section along the length.",
    source: &[in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "section 1.2 and example 1-1")],
    hazard: None,
    example: "post = stretch(change: -0.012 in, length: 16 in, modulus: 10.4e6 psi)\n\
              check post.strain within -0.000751 .. -0.000749 \"Gere, 5th ed., example 1-1: 750e-6\"",
    body: by_formula,
};

pub(super) static BEARING_PRESSURE: Function = Function {
    name: "bearing_pressure",
    does: "pressure of a pin, bolt or journal in its hole",
    parameters: &[
        needed("force", FORCE, "load"),
        needed("d", LENGTH, "diameter of the pin"),
        needed("length", LENGTH, "length in the hole, or thickness of the plate"),
        needed_count("count", "how many share the load evenly"),
    ],
    outputs: &[stress("pressure", "load by projected area")],
    formula: lines("pressure = force/(count*d*length)"),
    validity: "Close fit; pressure taken even over the projected area, in fact it peaks higher in a loose \
               hole.",
    source: &[in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "section 1.6 and example 1-5")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "strut = bearing_pressure(force: 12 kip, d: 0.75 in, length: 0.375 in, count: 2)\n\
              check strut within 21.2 ksi .. 21.4 ksi \"Gere, 5th ed., example 1-5: 21.3\"",
    body: by_formula,
};

/// A whole number that is 1 if not given.
pub(super) const fn needed_count(name: &'static str, meaning: &'static str) -> Parameter {
    Parameter { name, takes: Takes::Count, absent: Absent::Number(1.0), meaning }
}

pub(super) static COMBINED_STRESS: Function = Function {
    name: "combined_stress",
    does: "normal and shear stress at one point, put together",
    parameters: &[
        needed("normal", SIGNED_STRESS, "normal stress (pressure is negative)"),
        needed("shear", SIGNED_STRESS, "shear stress"),
    ],
    outputs: &[
        stress("max_shear", "largest shear stress; twice this is the Tresca stress"),
        stress("max_normal", "larger principal stress"),
        stress("min_normal", "smaller principal stress"),
        stress("von_mises", "equivalent stress by distortion energy"),
    ],
    formula: lines(
        "max_shear = sqrt((normal/2)^2 + shear^2)\n\
         max_normal = normal/2 + max_shear\n\
         min_normal = normal/2 - max_shear\n\
         von_mises = sqrt(normal^2 + 3*shear^2)",
    ),
    validity: "Plane stress with one normal stress.",
    source: &[
        open_table(
            "R. L. Mott, Machine Elements in Mechanical Design",
            "",
            "ch. 4, problem 1 (Mohr's circle)",
        ),
        derived("distortion energy (von Mises)"),
    ],
    hazard: None,
    example: "point = combined_stress(normal: 80 MPa, shear: 30 MPa)\n\
              check point.max_shear within 49.9 MPa .. 50.1 MPa \"a 3-4-5 triangle\"",
    body: by_formula,
};

pub(super) static ECCENTRIC_LOAD: Function = Function {
    name: "eccentric_load",
    does: "extreme stresses of a short round bar or tube pushed off its centre",
    parameters: &[
        needed("force", FORCE, "push along the axis"),
        needed("eccentricity", OFFSET, "distance of the push from the axis"),
        D,
        BORE,
    ],
    outputs: &[
        stress("stress_near", "on the side of the load (pressure is negative)"),
        stress("stress_far", "on the far side"),
    ],
    formula: lines(
        "area = pi/4*(d^2 - bore^2)\n\
         W = pi/32*(d^4 - bore^4)/d\n\
         stress_near = -force/area - force*eccentricity/W\n\
         stress_far = -force/area + force*eccentricity/W",
    ),
    validity: "Short: no buckling; elastic.",
    source: &[in_work("T. H. Wentzell, Machine Design", "", "Example 4.1 (p. 66)")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "post = eccentric_load(force: 10000 lbf, eccentricity: 2 in, d: 2 in)\n\
              check post.stress_near within -28700 psi .. -28600 psi \"Wentzell, example 4.1: -28648\"",
    body: eccentric_load,
};

fn eccentric_load(call: &Call) -> Result<Answer, Refusal> {
    let round = Round::of(call)?;
    let push = call.real("force") / round.area();
    let bending = call.real("force") * call.real("eccentricity") / round.section_modulus();
    Ok(Answer::new().number("stress_near", -push - bending).number("stress_far", bending - push))
}

/// Ultimate shear over ultimate tensile strength, from the books that go lowest and highest.
const SHEAR_RATIO: [f64; 2] = [0.5, 0.82];

pub(super) static SHEAR_STRENGTH: Function = Function {
    name: "shear_strength",
    does: "bracket of the ultimate shear strength of a pin, from its tensile strength",
    parameters: &[
        MATERIAL,
        super::uts("ultimate tensile strength, if there is no material"),
        or_number("usual_ratio", FACTOR, 0.6, "ultimate shear over ultimate tensile strength"),
    ],
    outputs: &[
        stress("holds", "count on this to hold"),
        stress("usual", "by the ratio given"),
        stress("breaks", "count on this to break"),
    ],
    formula: lines(
        "holds = 0.5*uts\n\
         usual = usual_ratio*uts\n\
         breaks = 0.82*uts",
    ),
    validity: "Ductile metals. A break load that matters is found by shearing some pins of the same bar.",
    source: &[
        derived("0.577 by distortion energy (von Mises)"),
        in_work("T. H. Wentzell, Machine Design", "", "ch. 6 (0.5 to 0.6)"),
        open_table("Industrial Fasteners Institute, Inch Fastener Standards", "7th ed.", "p. B-8 (0.6)"),
        recalled("books that differ", "", "0.75 mild steel, 0.82 in one text"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "pin = shear_strength(uts: 400 MPa)\n\
              check pin.holds within 199 MPa .. 201 MPa \"half\"\n\
              check pin.breaks >= 320 MPa \"the same pin may hold this much\"",
    body: shear_strength,
};

fn shear_strength(call: &Call) -> Result<Answer, Refusal> {
    let uts = figure_or_material(call, "uts", "uts")?;
    let answer = Answer::new()
        .number("holds", SHEAR_RATIO[0] * uts)
        .number("usual", call.real("usual_ratio") * uts)
        .number("breaks", SHEAR_RATIO[1] * uts);
    if !call.is_given("uts") && material::given(call, "material") {
        let least = say::stress(uts);
        return Ok(answer.remark(format!(
            "from the table's lower bound of {least}: a stronger bar of the same name breaks later"
        )));
    }
    Ok(answer)
}

pub(super) const SHARED_FORCE: crate::calc::function::Output = force("force", "force on each");
