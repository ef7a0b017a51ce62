//! Shells and pipes under pressure.

use crate::calc::function::{Answer, Call, Function, Parameter, Refusal};
use crate::hazard::Hazard;
use crate::trade::declare::{in_work, length, lines, needed, or_number, recalled, stress};

use super::weld::efficiency;
use super::{D, FACTOR, LENGTH, STRESS, say, within};

const PRESSURE: Parameter = needed("pressure", STRESS, "inside over outside p");
const ALLOWABLE: Parameter = needed("stress", STRESS, "allowable stress s");
const EFFICIENCY: Parameter = or_number("efficiency", FACTOR, 1.0, "efficiency of the seams");
const VALIDITY: &str = "Wall below a tenth of the radius; no corrosion allowance. With the inside, mean \
                        or outside diameter the result differs by wall/d: the outside is on the safe \
                        side. A boiler or pressure vessel is judged by its inspector.";

pub(super) static HOOP_STRESS: Function = Function {
    name: "hoop_stress",
    does: "stresses of a thin shell or pipe under pressure",
    parameters: &[PRESSURE, D, needed("wall", LENGTH, "thickness of the wall t"), EFFICIENCY],
    outputs: &[
        stress("hoop", "round the shell, on its lengthwise seam"),
        stress("lengthwise", "along it; half"),
    ],
    formula: lines(
        "hoop = pressure*d/(2*wall*efficiency)\n\
         lengthwise = pressure*d/(4*wall*efficiency)",
    ),
    validity: VALIDITY,
    source: &[in_work("U. C. Jindal, Machine Design", "", "Example 3-11")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "shell = hoop_stress(pressure: 1.2 MPa, d: 1500 mm, wall: 12 mm, efficiency: 0.75)\n\
              check shell.hoop within 99.9 MPa .. 100.1 MPa \"Jindal, example 3-11: 100\"",
    body: hoop_stress,
};

fn hoop_stress(call: &Call) -> Result<Answer, Refusal> {
    let (d, wall) = (call.real("d"), call.real("wall"));
    within("wall", "twice the wall", 2.0 * wall, "the diameter", d)?;
    let hoop = call.real("pressure") * d / (2.0 * wall * efficiency(call)?);
    let answer = Answer::new().number("hoop", hoop).number("lengthwise", hoop / 2.0);
    Ok(if wall > d / 20.0 {
        answer.warn("the wall is thick: the stress at the bore is higher than this, see `thick_wall`")
    } else {
        answer
    })
}

pub(super) static SHELL_WALL: Function = Function {
    name: "shell_wall",
    does: "wall that a thin shell or pipe needs",
    parameters: &[PRESSURE, D, ALLOWABLE, EFFICIENCY],
    outputs: &[
        length("wall", "by the hoop stress, on the lengthwise seam"),
        length("wall_round_seam", "by the lengthwise stress, on the round seam or in a ball; half"),
    ],
    formula: lines(
        "wall = pressure*d/(2*stress*efficiency)\n\
         wall_round_seam = pressure*d/(4*stress*efficiency)",
    ),
    validity: VALIDITY,
    source: &[in_work("U. C. Jindal, Machine Design", "", "Example 3-11")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "shell = shell_wall(pressure: 1.2 MPa, d: 1500 mm, stress: 100 MPa, efficiency: 0.75)\n\
              check shell.wall within 11.99 mm .. 12.01 mm \"Jindal, example 3-11: 12\"",
    body: shell_wall,
};

fn shell_wall(call: &Call) -> Result<Answer, Refusal> {
    let d = call.real("d");
    let wall = call.real("pressure") * d / (2.0 * call.real("stress") * efficiency(call)?);
    let answer = Answer::new().number("wall", wall).number("wall_round_seam", wall / 2.0);
    Ok(if wall > d / 20.0 { answer.warn("that is no thin wall any more: use `thick_wall`") } else { answer })
}

pub(super) static THICK_WALL: Function = Function {
    name: "thick_wall",
    does: "outside diameter that a thick cylinder needs",
    parameters: &[PRESSURE, needed("bore", LENGTH, "bore"), ALLOWABLE],
    outputs: &[length("d", "outside diameter"), length("wall", "thickness of the wall")],
    formula: lines(
        "d = bore*sqrt((stress + pressure)/(stress - pressure))\n\
         wall = (d - bore)/2",
    ),
    validity: "Elastic, open ends, brittle materials by the largest stress; no temperature difference.",
    source: &[recalled("V. B. Bhandari, Design of Machine Elements", "3rd ed.", "ch. 22")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "cylinder = thick_wall(pressure: 30 MPa, bore: 100 mm, stress: 50 MPa)\n\
              check cylinder.d within 199.9 mm .. 200.1 mm \"sqrt(80/20) = 2\"",
    body: thick_wall,
};

fn thick_wall(call: &Call) -> Result<Answer, Refusal> {
    let [pressure, bore, allowable] = ["pressure", "bore", "stress"].map(|name| call.real(name));
    if pressure >= allowable {
        let message =
            format!("no wall holds {} with a stress of {}", say::stress(pressure), say::stress(allowable));
        return Err(Refusal::of("pressure", message, "The allowable stress must be above the pressure."));
    }
    let d = bore * ((allowable + pressure) / (allowable - pressure)).sqrt();
    Ok(Answer::new().number("d", d).number("wall", (d - bore) / 2.0))
}
