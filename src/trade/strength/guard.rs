//! Whether a shear pin guards its drive: nothing else may give way first.

use std::f64::consts::PI;

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Refusal, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{
    in_work, lines, moment, needed, number, optional, or_number, practice, recalled, words,
};

use super::pin::{PIN, SHAFT, area};
use super::round::Round;
use super::whirl::all_above_zero;
use super::{BORE, MATERIAL, SHARE, STRESS, YIELD, say, within, yield_strength};
use crate::hazard::Hazard;

/// Shear yield over tensile yield by distortion energy.
const SHEAR_YIELD: f64 = 0.577;

pub(super) static SHEAR_PIN_GUARD: Function = Function {
    name: "shear_pin_guard",
    does: "whether a shear pin across a shaft breaks before the shaft and the rest of the drive give way",
    parameters: &[
        PIN,
        SHAFT,
        BORE,
        needed("strength", STRESS, "ultimate shear strength of the pin"),
        or_number("scatter", SHARE, 0.15, "by how much a pin may be stronger than that"),
        MATERIAL,
        YIELD,
        optional(
            "others",
            Takes::List(Dimension::MOMENT),
            "torques at which the other parts give way: key, weld, teeth",
        ),
    ],
    outputs: &[
        moment("break_torque", "at which the pin shears"),
        moment("break_torque_most", "the same with the scatter"),
        moment("shaft_torque", "at which the shaft yields at the pin's hole"),
        moment("weakest_torque", "at which the weakest part beside the pin gives way"),
        number("margin", "weakest_torque/break_torque_most; above 1 the pin guards the drive"),
        words("first", "what gives way first"),
    ],
    formula: lines(
        "break_torque = strength*pi/4*pin^2*shaft\n\
         break_torque_most = (1 + scatter)*break_torque\n\
         shaft_torque = 0.577*yield*(pi*(shaft^4 - bore^4)/(16*shaft) - pin*(shaft^3 - bore^3)/(6*shaft))\n\
         weakest_torque = shaft_torque\n\
         weakest_torque = min(shaft_torque, others) # with others\n\
         margin = weakest_torque/break_torque_most",
    ),
    validity: "Static; pin in double shear, close fit; the hole's stress peak is not counted, as it \
               yields locally. Usual break torque: 1.5 to 2.5 times the working torque.",
    source: &[
        in_work("Machinery's Handbook", "31st ed.", "Strength of Taper Pins"),
        recalled(
            "R. E. Peterson, Stress Concentration Factors",
            "",
            "net section of a shaft with a cross hole",
        ),
        practice("scatter of pins"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "guard = shear_pin_guard(pin: 6 mm, shaft: 40 mm, strength: 300 MPa, yield: 235 MPa)\n\
              check guard.break_torque within 339 N·m .. 340 N·m \"300 MPa x 28.27 mm^2 x 40 mm\"\n\
              check guard.margin >= 1 \"the shaft outlasts the pin\"",
    body: shear_pin_guard,
};

fn shear_pin_guard(call: &Call) -> Result<Answer, Refusal> {
    let (pin, shaft) = (call.real("pin"), call.real("shaft"));
    within("pin", "the pin", pin, "the shaft", shaft)?;
    let bore = call.real("bore");
    within("bore", "the bore", bore, "the shaft", shaft)?;
    let break_torque = call.real("strength") * area(pin) * shaft;
    let most = (1.0 + call.real("scatter")) * break_torque;
    let shaft_torque = SHEAR_YIELD * yield_strength(call)? * net_modulus(Round { d: shaft, bore }, pin)?;
    let weakest = weakest(shaft_torque, call)?;
    let answer = Answer::new()
        .number("break_torque", break_torque)
        .number("break_torque_most", most)
        .number("shaft_torque", shaft_torque)
        .number("weakest_torque", weakest.torque)
        .number("margin", weakest.torque / most);
    Ok(verdict(answer, [break_torque, most], &weakest))
}

/// The torsion modulus of a shaft with a hole across it.
fn net_modulus(shaft: Round, pin: Real) -> Result<Real, Refusal> {
    let whole = PI / 16.0 * (shaft.d.squared().squared() - shaft.bore.squared().squared()) / shaft.d;
    let net = whole - pin * (shaft.d.cubed() - shaft.bore.cubed()) / (6.0 * shaft.d);
    if net > 0.0 {
        return Ok(net);
    }
    Err(Refusal::of(
        "pin",
        "the hole for the pin leaves nothing of the shaft's wall",
        "Choose a thinner pin.",
    ))
}

struct Weakest {
    torque: Real,
    name: String,
}

fn weakest(shaft_torque: Real, call: &Call) -> Result<Weakest, Refusal> {
    let others = call.list("others");
    if !others.is_empty() {
        all_above_zero("others", others)?;
    }
    let mut weakest = Weakest { torque: shaft_torque, name: "the shaft at the pin's hole".to_owned() };
    for (index, torque) in others.iter().enumerate() {
        if *torque < weakest.torque {
            weakest = Weakest { torque: *torque, name: format!("number {} of the other parts", index + 1) };
        }
    }
    Ok(weakest)
}

fn verdict(answer: Answer, [least, most]: [Real; 2], weakest: &Weakest) -> Answer {
    let Weakest { torque, name } = weakest;
    let [pin, part, scattered] = [least, *torque, most].map(say::torque);
    if *torque < least {
        let warning = format!(
            "the pin is stronger than {name}: that gives way at {part}, the pin shears only at {pin}; \
             take a thinner or softer pin"
        );
        return answer.text("first", name).warn(warning);
    }
    if *torque < most {
        let warning = format!(
            "the pin does not surely guard the drive: {name} gives way at {part}, and a strong pin of the \
             batch shears at {scattered}; take a thinner or softer pin"
        );
        return answer.text("first", format!("the pin or {name}")).warn(warning);
    }
    answer.text("first", "the pin")
}
