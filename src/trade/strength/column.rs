//! Columns: where a slender part that is pushed gives way sideways.

use crate::calc::function::Function;
use crate::hazard::Hazard;
use crate::trade::declare::{by_formula, force, lines, needed, number, open_table, or_number, words};

use super::{AREA, FACTOR, LENGTH, MATERIAL, MODULUS, SECOND_MOMENT, YIELD};

pub(super) static BUCKLING: Function = Function {
    name: "buckling",
    does: "push at which a strut or column buckles",
    parameters: &[
        needed("length", LENGTH, "between the ends L"),
        SECOND_MOMENT,
        needed("area", AREA, "cross-section A"),
        MATERIAL,
        MODULUS,
        YIELD,
        or_number(
            "k",
            FACTOR,
            1.0,
            "length factor: 1 both ends pinned, 2 one end free, 0.8 one fixed, 0.65 both fixed (practice)",
        ),
    ],
    outputs: &[
        number("slenderness", "k L over the radius of gyration"),
        force("euler_load", "by Euler"),
        force("load", "critical load: Euler if slender, Johnson if stout"),
        words("rule", "which of both"),
    ],
    formula: lines(
        "slenderness = k*length/sqrt(second_moment/area)\n\
         euler_load = pi^2*modulus*second_moment/(k*length)^2\n\
         johnson_load = area*yield*(1 - yield*slenderness^2/(4*pi^2*modulus))\n\
         is_slender = slenderness >= sqrt(2*pi^2*modulus/yield)\n\
         load = if is_slender then euler_load else johnson_load\n\
         rule = if is_slender then \"Euler\" else \"Johnson\"",
    ),
    validity: "Straight, pushed along its axis, even section; I the smaller one. A real strut is bent a \
               little: keep to a third or a quarter of it (common practice, no source).",
    source: &[open_table(
        "public encyclopedias",
        "",
        "Johnson's parabolic formula, its tangent point, and Euler's formula beyond it",
    )],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "rod = round_section(d: 30 mm)\n\
              strut = buckling(length: 2 m, second_moment: rod.second_moment, area: rod.area, modulus: 206 \
              GPa, yield: 235 MPa)\n\
              check strut.load within 20.1 kN .. 20.3 kN \"pi^2 E I/L^2\"",
    body: by_formula,
};
