//! Columns: where a slender part that is pushed gives way sideways.

use std::f64::consts::PI;

use crate::calc::function::{Answer, Call, Caution, Function, Refusal};
use crate::trade::declare::{force, needed, number, or_number, words};

use super::{AREA, FACTOR, LENGTH, MATERIAL, MODULUS, SECOND_MOMENT, YIELD, modulus, yield_strength};

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
    formula: "r = sqrt(I/A); s = k L/r; Euler: pi^2 E I/(k L)^2; Johnson, below s = sqrt(2 pi^2 E/yield): \
              A yield (1 - yield s^2/(4 pi^2 E))",
    validity: "Straight, pushed along its axis, even section; I the smaller one. A real strut is bent a \
               little: keep to a third or a quarter of it (common practice, no source).",
    source: "J. M. Gere, Mechanics of Materials, 5th ed., ch. 11; Johnson's parabola: J. E. Shigley, \
             Mechanical Engineering Design, ch. on columns (both from memory)",
    caution: Some(Caution::LoadCarryingPart),
    example: "rod = round_section(d: 30 mm)\n\
              strut = buckling(length: 2 m, second_moment: rod.second_moment, area: rod.area, modulus: 206 \
              GPa, yield: 235 MPa)\n\
              check strut.load within 20.1 kN .. 20.3 kN \"pi^2 E I/L^2\"",
    body: buckling,
};

fn buckling(call: &Call) -> Result<Answer, Refusal> {
    let (modulus, strength) = (modulus(call)?, yield_strength(call)?);
    let (second_moment, area) = (call.real("second_moment"), call.real("area"));
    let length = call.real("k") * call.real("length");
    let slenderness = length / (second_moment / area).sqrt();
    let euler = PI * PI * modulus * second_moment / length.squared();
    let answer = Answer::new().number("slenderness", slenderness).number("euler_load", euler);
    if slenderness >= (2.0 * PI * PI * modulus / strength).sqrt() {
        return Ok(answer.number("load", euler).text("rule", "Euler"));
    }
    let johnson = area * strength * (1.0 - strength * slenderness.squared() / (4.0 * PI * PI * modulus));
    Ok(answer.number("load", johnson).text("rule", "Johnson"))
}
