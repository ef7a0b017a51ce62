//! Beams of even section: deflection, bending moment, reactions.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Takes};
use crate::hazard::Hazard;
use crate::trade::declare::{
    angle, by_formula, chosen, force, in_work, length, lines, moment, needed, open_table, or_from, or_words,
    recalled,
};

use super::{FORCE, LENGTH, MATERIAL, MODULUS, SECOND_MOMENT, modulus, within};

const LOAD: Parameter = needed("force", FORCE, "load F");
const SPAN: Parameter = needed("span", LENGTH, "between the supports L");
const DEFLECTION: Output = length("deflection", "under the load");
const MOST_MOMENT: Output = moment("moment", "largest bending moment");
const VALIDITY: &str = "Elastic, even section, longer than about 5 times its height, small deflection.";

pub(super) static CANTILEVER: Function = Function {
    name: "cantilever",
    does: "forces and bending of a beam held at one end and loaded at the other",
    parameters: &[
        LOAD,
        needed("length", LENGTH, "from the support to the load L"),
        SECOND_MOMENT,
        MATERIAL,
        MODULUS,
    ],
    outputs: &[DEFLECTION, angle("slope", "at the load"), MOST_MOMENT],
    formula: lines(
        "deflection = force*length^3/(3*modulus*second_moment)\n\
         slope = force*length^2/(2*modulus*second_moment)\n\
         moment = force*length",
    ),
    validity: VALIDITY,
    source: &[
        in_work("T. H. Wentzell, Machine Design", "", "Example 1.2 (p. 13)"),
        open_table("public tables of structural formulas", "", "beam deflections"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "rod = round_section(d: 1.625 in)\n\
              tip = cantilever(force: 300 lbf, length: 36 in, second_moment: rod.second_moment, modulus: \
              30e6 psi)\n\
              check tip.deflection within 0.45 in .. 0.46 in \"Wentzell, example 1.2: 0.45\"",
    body: by_formula,
};

pub(super) static BEAM_POINT: Function = Function {
    name: "beam_point",
    does: "forces and bending of a beam on two supports with one load between them",
    parameters: &[
        LOAD,
        SPAN,
        or_from("at", LENGTH, "span/2", "from the left support to the load a; the middle if not given"),
        SECOND_MOMENT,
        MATERIAL,
        MODULUS,
    ],
    outputs: &[
        DEFLECTION,
        length("deflection_most", "the largest, between the load and the middle"),
        MOST_MOMENT,
        force("reaction_left", "on the left support"),
        force("reaction_right", "on the right support"),
    ],
    formula: lines(
        "b = span - at\n\
         c = min(at, b)\n\
         deflection = force*at^2*b^2/(3*modulus*second_moment*span)\n\
         deflection_most = force*c*(span^2 - c^2)^(3/2)/(9*sqrt(3)*modulus*second_moment*span)\n\
         moment = force*at*b/span\n\
         reaction_left = force*b/span\n\
         reaction_right = force*at/span",
    ),
    validity: VALIDITY,
    source: &[
        open_table("Machine Elements in Mechanical Design", "4th ed.", "table A14-1, simply supported beams"),
        in_work("B. K. Sarkar, Theory of Machines", "", "Illustration 11.11 (p. 297)"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "pipe = round_section(d: 60 mm, bore: 44 mm)\n\
              beam = beam_point(force: 4.52 kN, span: 2 m, second_moment: pipe.second_moment, modulus: 206 \
              GPa)\n\
              stress = beam.moment / pipe.section_modulus\n\
              check stress within 149 MPa .. 151 MPa \"Bhavikatti, Mechanics of Solids, example 10.2: \
              150\"",
    body: beam_point,
};

fn beam_point(call: &Call) -> Result<Answer, Refusal> {
    let (force, span) = (call.real("force"), call.real("span"));
    let left = call.real("at");
    within("at", "the place of the load", left, "the span", span)?;
    let right = span - left;
    let stiffness = modulus(call)? * call.real("second_moment");
    let near = left.min(right);
    let most =
        force * near * (span.squared() - near.squared()).powf(1.5) / (9.0 * 3_f64.sqrt() * stiffness * span);
    Ok(Answer::new()
        .number("deflection", force * (left * right).squared() / (3.0 * stiffness * span))
        .number("deflection_most", most)
        .number("moment", force * left * right / span)
        .number("reaction_left", force * right / span)
        .number("reaction_right", force * left / span))
}

pub(super) static BEAM_FIXED: Function = Function {
    name: "beam_fixed",
    does: "forces and bending of a beam with both ends held fast and a load in the middle",
    parameters: &[LOAD, SPAN, SECOND_MOMENT, MATERIAL, MODULUS],
    outputs: &[DEFLECTION, MOST_MOMENT, force("reaction", "on each support")],
    formula: lines(
        "deflection = force*span^3/(192*modulus*second_moment)\n\
         moment = force*span/8\n\
         reaction = force/2",
    ),
    validity: "As for a beam on two supports; ends that give a little move it towards F L^3/(48 E I) and \
               F L/4.",
    source: &[open_table("public tables of structural formulas", "", "beam deflections")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "beam = beam_fixed(force: 8 kN, span: 1 m, second_moment: 10 cm^4, modulus: 200 GPa)\n\
              check beam.moment within 999 N·m .. 1001 N·m \"F L/8\"",
    body: by_formula,
};

pub(super) static BEAM_OVERHANG: Function = Function {
    name: "beam_overhang",
    does: "forces and bending of a beam on two supports with a load on the end that sticks out",
    parameters: &[
        LOAD,
        SPAN,
        needed("overhang", LENGTH, "from the near support to the load a"),
        SECOND_MOMENT,
        MATERIAL,
        MODULUS,
    ],
    outputs: &[
        DEFLECTION,
        MOST_MOMENT,
        force("reaction_near", "on the support beside the load"),
        force("uplift_far", "that lifts the far end"),
    ],
    formula: lines(
        "deflection = force*overhang^2*(span + overhang)/(3*modulus*second_moment)\n\
         moment = force*overhang\n\
         reaction_near = force*(span + overhang)/span\n\
         uplift_far = force*overhang/span",
    ),
    validity: VALIDITY,
    source: &[recalled("J. M. Gere, Mechanics of Materials", "5th ed.", "ch. 9")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "end = beam_overhang(force: 1 kN, span: 1 m, overhang: 200 mm, second_moment: 10 cm^4, \
              modulus: 200 GPa)\n\
              check end.reaction_near within 1199 N .. 1201 N \"F (L + a)/L\"",
    body: by_formula,
};

/// Deflection by w L^4/(E I), moment by w L^2, reaction by w L.
const UNIFORM: &[(&str, [f64; 3])] = &[
    ("supported", [5.0 / 384.0, 1.0 / 8.0, 1.0 / 2.0]),
    ("fixed", [1.0 / 384.0, 1.0 / 12.0, 1.0 / 2.0]),
    ("cantilever", [1.0 / 8.0, 1.0 / 2.0, 1.0]),
];

pub(super) static BEAM_UNIFORM: Function = Function {
    name: "beam_uniform",
    does: "forces and bending of a beam with an even load along it: its own weight",
    parameters: &[
        needed("load", Takes::Positive(Dimension::STIFFNESS), "load by length w"),
        SPAN,
        SECOND_MOMENT,
        MATERIAL,
        MODULUS,
        or_words("ends", "supported", "\"supported\" at both, \"fixed\" at both, or \"cantilever\""),
    ],
    outputs: &[length("deflection", "the largest"), MOST_MOMENT, force("reaction", "on each support")],
    formula: lines(
        "k = if ends == \"fixed\" then 1/384 else if ends == \"cantilever\" then 1/8 else 5/384\n\
         deflection = k*load*span^4/(modulus*second_moment)\n\
         moment = (if ends == \"fixed\" then 1/12 else if ends == \"cantilever\" then 1/2 else 1/8)*load*span^2\n\
         reaction = (if ends == \"cantilever\" then 1 else 1/2)*load*span",
    ),
    validity: VALIDITY,
    source: &[
        open_table("public tables of structural formulas", "", "beam deflections"),
        in_work("B. K. Sarkar, Theory of Machines", "", "Illustration 11.11 (p. 297) for the first"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "beam = beam_uniform(load: 1 N/mm, span: 2 m, second_moment: 10 cm^4, modulus: 200 GPa)\n\
              check beam.moment within 499 N·m .. 501 N·m \"w L^2/8\"",
    body: beam_uniform,
};

fn beam_uniform(call: &Call) -> Result<Answer, Refusal> {
    let [deflection, moment, reaction] = chosen(call, "ends", UNIFORM)?;
    let (load, span) = (call.real("load"), call.real("span"));
    let stiffness = modulus(call)? * call.real("second_moment");
    Ok(Answer::new()
        .number("deflection", deflection * load * span.squared().squared() / stiffness)
        .number("moment", moment * load * span.squared())
        .number("reaction", reaction * load * span))
}
