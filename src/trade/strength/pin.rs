//! Pins and bolts in shear: plain, across a shaft, round a flange.

use std::f64::consts::PI;

use crate::calc::function::{Answer, Call, Function, Parameter, Refusal};
use crate::calc::real::Real;
use crate::trade::declare::{by_formula, force, in_work, length, lines, moment, needed, stress};

use super::plain::{SHARED_FORCE, needed_count};
use super::shaft::TORQUE;
use super::{FORCE, LENGTH, STRESS, within};
use crate::hazard::Hazard;

pub(super) const PIN: Parameter = needed("pin", LENGTH, "diameter of the pin");
pub(super) const SHAFT: Parameter = needed("shaft", LENGTH, "diameter of the shaft that it goes through");
const RADIUS: Parameter = needed("radius", LENGTH, "from the axis to the pins: half the pitch circle");
const COUNT: Parameter = needed_count("count", "number of pins that share the load evenly");
const PINS_ACROSS: Parameter =
    needed_count("count", "number of such pins side by side in the shaft, one if not given");
const STRENGTH: Parameter = needed(
    "strength",
    STRESS,
    "shear stress to size by: ultimate to break at the torque, allowable to hold it",
);
const VALIDITY: &str = "Close fit: a pin in loose holes bends and breaks lower. Shear strength of \
                        commercial pins scatters by 10 to 20 %: shear some of the batch.";

/// The cross-section of a pin.
pub(super) fn area(pin: Real) -> Real {
    PI / 4.0 * pin.squared()
}

pub(super) static PIN_SHEAR: Function = Function {
    name: "pin_shear",
    does: "shear stress of pins, bolts or rivets",
    parameters: &[
        needed("force", FORCE, "load on all"),
        needed("d", LENGTH, "diameter"),
        needed_count("planes", "places at which each is sheared: 1 single, 2 double shear"),
        COUNT,
    ],
    outputs: &[stress("shear_stress", "mean shear stress")],
    formula: lines("shear_stress = force/(count*planes*pi/4*d^2)"),
    validity: VALIDITY,
    source: &[
        in_work("R. C. Hibbeler, Mechanics of Materials", "", "Example 1.10 (p. 35)"),
        in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "Example 1-5"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "pin = pin_shear(force: 12 kip, d: 0.75 in, planes: 2)\n\
              check pin within 13.5 ksi .. 13.7 ksi \"Gere, 5th ed., example 1-5: 13.6\"",
    body: by_formula,
};

pub(super) static CROSS_PIN: Function = Function {
    name: "cross_pin",
    does: "shear stress of a pin across a shaft and its hub",
    parameters: &[TORQUE, PIN, SHAFT, PINS_ACROSS],
    outputs: &[
        stress("shear_stress", "mean shear stress"),
        force("force", "on each of the two shear planes of a pin"),
    ],
    formula: lines(
        "force = torque/(count*shaft)\n\
         shear_stress = force/(pi/4*pin^2)",
    ),
    validity: VALIDITY,
    source: &[in_work("Machinery's Handbook", "31st ed.", "Strength of Taper Pins, Example 6(a)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "pin = cross_pin(torque: 1500 in·lbf, pin: 0.375 in, shaft: 2 in)\n\
              check pin.shear_stress within 6760 psi .. 6800 psi \"the handbook, rounding 4/pi to 1.27: \
              6770\"",
    body: cross_pin,
};

fn cross_pin(call: &Call) -> Result<Answer, Refusal> {
    let (pin, shaft) = across(call)?;
    let force = call.real("torque") / (call.real("count") * shaft);
    Ok(Answer::new().number("shear_stress", force / area(pin)).number("force", force))
}

/// Pin and shaft; the pin must be the thinner.
fn across(call: &Call) -> Result<(Real, Real), Refusal> {
    let (pin, shaft) = (call.real("pin"), call.real("shaft"));
    within("pin", "the pin", pin, "the shaft", shaft)?;
    Ok((pin, shaft))
}

pub(super) static CROSS_PIN_SIZE: Function = Function {
    name: "cross_pin_size",
    does: "size of a pin across a shaft for a torque: to hold it, or to shear at it",
    parameters: &[TORQUE, SHAFT, STRENGTH, PINS_ACROSS],
    outputs: &[length("d", "diameter of each pin")],
    formula: lines("d = sqrt(4*torque/(pi*count*shaft*strength))"),
    validity: VALIDITY,
    source: &[in_work("Machinery's Handbook", "31st ed.", "Strength of Taper Pins, Example 6(a)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "pin = cross_pin_size(torque: 1500 in·lbf, shaft: 2 in, strength: 6000 psi)\n\
              check pin within 0.398 in .. 0.401 in \"the handbook: 0.4\"",
    body: cross_pin_size,
};

fn cross_pin_size(call: &Call) -> Result<Answer, Refusal> {
    let shaft = call.real("shaft");
    let pins = call.real("count") * shaft * call.real("strength");
    let pin = (4.0 / PI * call.real("torque") / pins).sqrt();
    let answer = Answer::new().number("d", pin);
    Ok(if pin > shaft / 3.0 {
        answer
            .warn("the pin is more than a third of the shaft: its hole weakens the shaft more than it helps")
    } else {
        answer
    })
}

pub(super) static CROSS_PIN_BREAK: Function = Function {
    name: "cross_pin_break",
    does: "torque at which a pin across a shaft shears",
    parameters: &[PIN, SHAFT, needed("strength", STRESS, "ultimate shear strength of the pin"), PINS_ACROSS],
    outputs: &[moment("torque", "that shears them all"), force("force", "on all shear planes together")],
    formula: lines(
        "force = 2*count*strength*pi/4*pin^2\n\
         torque = force*shaft/2",
    ),
    validity: VALIDITY,
    source: &[
        in_work("public workshop estimate of an outboard drive pin", "", "worked example PB-03"),
        in_work("Machinery's Handbook", "31st ed.", "Strength of Taper Pins (formula)"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "pin = cross_pin_break(pin: 0.25 in, shaft: 0.75 in, strength: 67500 psi)\n\
              check pin.torque within 2450 in·lbf .. 2550 in·lbf \"the estimate: 2500\"",
    body: cross_pin_break,
};

fn cross_pin_break(call: &Call) -> Result<Answer, Refusal> {
    let (pin, shaft) = across(call)?;
    let force = 2.0 * call.real("count") * call.real("strength") * area(pin);
    Ok(Answer::new().number("torque", force * shaft / 2.0).number("force", force))
}

pub(super) static FLANGE_PINS: Function = Function {
    name: "flange_pins",
    does: "shear stress of pins or fitted bolts that drive a flange or disk",
    parameters: &[TORQUE, needed("pin", LENGTH, "diameter of each pin"), RADIUS, COUNT],
    outputs: &[stress("shear_stress", "mean shear stress"), SHARED_FORCE],
    formula: lines(
        "force = torque/(count*radius)\n\
         shear_stress = force/(pi/4*pin^2)",
    ),
    validity: "Single shear, fitted pins that share evenly. Bolts in clearance holes drive by friction, \
               not by shear.",
    source: &[in_work("Sadhu Singh, Machine Design I", "", "Example 7.10 (p. 212)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "bolts = flange_pins(torque: 800 N·m, pin: 6.9645 mm, radius: 62.5 mm, count: 6)\n\
              check bolts.shear_stress within 55.9 MPa .. 56.1 MPa \"Sadhu Singh, example 7.10: 56\"",
    body: by_formula,
};

pub(super) static FLANGE_PINS_SIZE: Function = Function {
    name: "flange_pins_size",
    does: "size of the pins or fitted bolts of a flange or disk for a torque: to hold it, or to shear at it",
    parameters: &[TORQUE, RADIUS, COUNT, STRENGTH],
    outputs: &[length("d", "diameter of each pin")],
    formula: lines("d = sqrt(4*torque/(pi*count*radius*strength))"),
    validity: "Single shear, fitted pins that share evenly; an overload device has one pin.",
    source: &[in_work("Sadhu Singh, Machine Design I", "", "Example 7.10 (p. 212)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "bolt = flange_pins_size(torque: 800 N·m, radius: 62.5 mm, count: 6, strength: 56 MPa)\n\
              check bolt within 6.95 mm .. 6.98 mm \"Sadhu Singh, example 7.10: 6.96\"",
    body: by_formula,
};
