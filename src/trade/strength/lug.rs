//! Pins in plates: clevises, lugs, riveted and bolted laps.

use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Source};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    by_formula, derived, force, in_work, lines, moment, needed, or_from, or_number, practice, stress, words,
};

use super::pin::area;
use super::plain::needed_count;
use super::{FORCE, LENGTH, OFFSET, STRESS, within};

const FORCE_ON: Parameter = needed("force", FORCE, "pull");
const PIN: Parameter = needed("d", LENGTH, "diameter of the pin and its hole");
const THICKNESS: Parameter = needed("thickness", LENGTH, "of the plate");
const WIDTH: Parameter = needed("width", LENGTH, "of the plate at the holes; of a riveted seam the pitch");
const EDGE: Parameter =
    needed("edge", LENGTH, "from the edge of the hole to the end of the plate, along the pull");
const PLANES: Parameter =
    needed_count("planes", "places at which each pin is sheared: 1 single, 2 double shear");
const COUNT: Parameter = needed_count("count", "number of pins, side by side");

pub(super) static CLEVIS_PIN: Function = Function {
    name: "clevis_pin",
    does: "stresses of a pin that joins an eye to a fork: shear, bending, pressures",
    parameters: &[
        FORCE_ON,
        PIN,
        needed("eye", LENGTH, "thickness of the eye in the middle"),
        needed("fork", LENGTH, "thickness of each arm of the fork"),
        or_number("gap", OFFSET, 0.0, "between eye and fork on each side"),
    ],
    outputs: &[
        stress("shear_stress", "mean, in two planes"),
        moment("moment", "bending moment in the middle of the pin"),
        stress("bending_stress", "from it"),
        stress("pressure_eye", "in the eye"),
        stress("pressure_fork", "in the fork"),
    ],
    formula: lines(
        "shear_stress = force/(2*pi/4*d^2)\n\
         moment = force*(eye + 2*fork + 4*gap)/8\n\
         bending_stress = 32*moment/(pi*d^3)\n\
         pressure_eye = force/(d*eye)\n\
         pressure_fork = force/(2*d*fork)",
    ),
    validity: "Pin loose in eye and fork, pressure even along them; a pressed-in pin bends less.",
    source: &[
        derived("statics, with the load even along eye and arms"),
        in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "Example 1-5 (shear)"),
    ],
    hazard: Some(Hazard::Lifting),
    example: "pin = clevis_pin(force: 10 kN, d: 20 mm, eye: 20 mm, fork: 10 mm)\n\
              check pin.moment within 49.9 N·m .. 50.1 N·m \"10 kN x 40 mm/8\"\n\
              check pin.pressure_eye within 24.9 MPa .. 25.1 MPa \"10 kN/(20 x 20 mm^2)\"",
    body: by_formula,
};

const PLATE_VALIDITY: &str = "Pins share evenly, snug holes, static; no bending of the lap.";
const PLATE_SOURCE: &[Source] = &[
    in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "Example 1-7"),
    in_work("U. C. Jindal, Machine Design", "", "Example 11-1"),
    practice("tear-out with the clear edge, on the safe side"),
];

pub(super) static PINNED_PLATE: Function = Function {
    name: "pinned_plate",
    does: "four stresses of a plate on pins, bolts or rivets",
    parameters: &[FORCE_ON, PIN, THICKNESS, WIDTH, EDGE, PLANES, COUNT],
    outputs: &[
        stress("shear", "of the pins"),
        stress("bearing", "pressure in the holes"),
        stress("net", "pull in the plate between the holes"),
        stress("tear_out", "shear of the plate behind the holes"),
    ],
    formula: lines(
        "shear = force/(count*planes*pi/4*d^2)\n\
         bearing = force/(count*d*thickness)\n\
         net = force/((width - count*d)*thickness)\n\
         tear_out = force/(2*count*edge*thickness)",
    ),
    validity: PLATE_VALIDITY,
    source: PLATE_SOURCE,
    hazard: Some(Hazard::LoadCarryingPart),
    example: "lap = pinned_plate(force: 60 kN, d: 25 mm, thickness: 20 mm, width: 100 mm, edge: 40 mm)\n\
              check lap.shear within 122 MPa .. 122.5 MPa \"Jindal, example 11-1: 122.23\"\n\
              check lap.bearing within 119.9 MPa .. 120.1 MPa \"the same: 120\"",
    body: pinned_plate,
};

/// The areas over which a load on pins in a plate divides.
struct Areas {
    shear: Real,
    bearing: Real,
    net: Real,
    tear_out: Real,
}

impl Areas {
    fn of(call: &Call) -> Result<Self, Refusal> {
        let [d, thickness, width, edge] = ["d", "thickness", "width", "edge"].map(|name| call.real(name));
        let count = call.real("count");
        within("width", "the holes across the plate", count * d, "the width", width)?;
        Ok(Self {
            shear: count * call.real("planes") * area(d),
            bearing: count * d * thickness,
            net: (width - count * d) * thickness,
            tear_out: 2.0 * count * edge * thickness,
        })
    }
}

fn pinned_plate(call: &Call) -> Result<Answer, Refusal> {
    let (areas, force) = (Areas::of(call)?, call.real("force"));
    Ok(Answer::new()
        .number("shear", force / areas.shear)
        .number("bearing", force / areas.bearing)
        .number("net", force / areas.net)
        .number("tear_out", force / areas.tear_out))
}

pub(super) static PINNED_PLATE_CAPACITY: Function = Function {
    name: "pinned_plate_capacity",
    does: "load of a plate on pins by each way it can fail, and which comes first",
    parameters: &[
        PIN,
        THICKNESS,
        WIDTH,
        EDGE,
        needed("shear", STRESS, "allowable shear stress of the pins"),
        needed("bearing", STRESS, "allowable pressure in the holes"),
        needed("net", STRESS, "allowable pull between the holes"),
        or_from(
            "tear_out",
            STRESS,
            "0.577*net",
            "allowable shear stress of the plate; 0.577 of `net` if not given",
        ),
        PLANES,
        COUNT,
    ],
    outputs: &[
        force("by_shear", "that the pins carry"),
        force("by_bearing", "that the holes carry"),
        force("by_net", "that the plate carries between the holes"),
        force("by_tear_out", "that the plate carries behind the holes"),
        force("load", "the least of them"),
        words("governs", "what sets it"),
    ],
    formula: lines(
        "by_shear = shear*count*planes*pi/4*d^2\n\
         by_bearing = bearing*count*d*thickness\n\
         by_net = net*(width - count*d)*thickness\n\
         by_tear_out = tear_out*2*count*edge*thickness\n\
         load = min(by_shear, by_bearing, by_net, by_tear_out)",
    ),
    validity: PLATE_VALIDITY,
    source: PLATE_SOURCE,
    hazard: Some(Hazard::LoadCarryingPart),
    example: "rod = pinned_plate_capacity(d: 1 in, thickness: 0.5 in, width: 3 in, edge: 2 in, shear: 6500 \
              psi, bearing: 26000 psi, net: 11000 psi, planes: 2)\n\
              check rod.by_net within 10990 lbf .. 11010 lbf \"Gere, 5th ed., example 1-7: 11000\"\n\
              check rod.load within 10200 lbf .. 10220 lbf \"the same: 10210, the pin\"",
    body: pinned_plate_capacity,
};

fn pinned_plate_capacity(call: &Call) -> Result<Answer, Refusal> {
    let (areas, net) = (Areas::of(call)?, call.real("net"));
    let tear_out = call.real("tear_out");
    let loads = [
        ("by_shear", "the pins in shear", call.real("shear") * areas.shear),
        ("by_bearing", "pressure in the holes", call.real("bearing") * areas.bearing),
        ("by_net", "the plate between the holes", net * areas.net),
        ("by_tear_out", "the plate behind the holes", tear_out * areas.tear_out),
    ];
    let mut governing = loads[0];
    let mut answer = Answer::new();
    for each in loads {
        answer = answer.number(each.0, each.2);
        if each.2 < governing.2 {
            governing = each;
        }
    }
    Ok(answer.number("load", governing.2).text("governs", governing.1))
}
