//! Spur gears: sizes from the module, what a found gear is, what a train does.
//!
//! Takes: teeth, diameters, distances. Gives: sizes, ratios, and the standard tooth sizes nearest to a
//! measured gear. Never: judges tooth strength; helical, bevel and worm teeth are not covered.

use std::f64::consts::PI;

use super::declare::{
    by_formula, derived, in_work, length, lines, moment, needed, number, optional, or_from, or_number,
    practice, quantity, rate, recalled, table, words,
};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Sign, Source, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;

pub mod identify;

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const PER_LENGTH: Dimension = Dimension::of(-1, 0, 0);
const MODULE: Parameter = or_from(
    "module",
    LENGTH,
    "1/diametral_pitch",
    "pitch diameter for each tooth; or give `diametral_pitch`",
);
const DIAMETRAL_PITCH: Parameter = optional(
    "diametral_pitch",
    Takes::Positive(PER_LENGTH),
    "teeth for each length of pitch diameter (8/1 in)",
);
const MODULE_OUTPUT: Output =
    quantity("module", Dimension::LENGTH, ["mm", "mm"], "pitch diameter for each tooth");
const DIAMETRAL_OUTPUT: Output =
    quantity("diametral_pitch", PER_LENGTH, ["1/in", "1/in"], "teeth for each inch of pitch diameter");
const FULL_DEPTH: &str = "standard full-depth spur teeth without profile shift: addendum one module, \
                          dedendum 1.25 modules. Stub, shifted and old cast teeth break this: check a second \
                          gear of the pair or the base pitch";
const PROPORTIONS: &[Source] = &[in_work("U. C. Jindal, Machine Design", "", "chapter 25, Example 25-1")];

/// The functions of this family.
pub const FUNCTIONS: &[&Function] = &[&GEAR, &GEAR_PAIR, &FROM_OUTSIDE, &FROM_CENTRE, &FROM_SPANS, &TRAIN];

static GEAR: Function = Function {
    name: "gear",
    does: "sizes of a spur gear",
    parameters: &[needed("teeth", Takes::Count, "number of teeth"), MODULE, DIAMETRAL_PITCH],
    outputs: &[
        length("pitch_diameter", "pitch diameter"),
        length("outside", "outside diameter"),
        length("root", "diameter at the bottom of the teeth"),
        length("circular_pitch", "distance of two teeth along the pitch circle"),
        length("depth", "whole depth of a tooth"),
    ],
    formula: lines(
        "pitch_diameter = module*teeth\n\
         outside = module*(teeth + 2)\n\
         root = module*(teeth - 2.5)\n\
         circular_pitch = pi*module\n\
         depth = 2.25*module",
    ),
    validity: FULL_DEPTH,
    source: PROPORTIONS,
    hazard: Some(Hazard::MovingMachinery),
    example: "wheel = gear(teeth: 60, module: 5 mm)\n\
              check wheel.pitch_diameter within 299.9 mm .. 300.1 mm\n\
              check wheel.outside within 309.9 mm .. 310.1 mm",
    body: gear,
};

static GEAR_PAIR: Function = Function {
    name: "gear_pair",
    does: "sizes, centre distance and ratio of two spur gears",
    parameters: &[
        needed("teeth_1", Takes::Count, "teeth of the driver"),
        needed("teeth_2", Takes::Count, "teeth of the driven gear"),
        MODULE,
        DIAMETRAL_PITCH,
    ],
    outputs: &[
        length("pitch_diameter_1", "pitch diameter of the driver"),
        length("pitch_diameter_2", "pitch diameter of the driven gear"),
        length("centre", "centre distance"),
        number("ratio", "turns of the driver for one of the driven gear"),
        length("addendum", "tooth above the pitch circle"),
        length("dedendum", "tooth below the pitch circle"),
        length("clearance", "between tip and root"),
    ],
    formula: lines(
        "pitch_diameter_1 = module*teeth_1\n\
         pitch_diameter_2 = module*teeth_2\n\
         centre = module*(teeth_1 + teeth_2)/2\n\
         ratio = teeth_2/teeth_1\n\
         addendum = module\n\
         dedendum = 1.25*module\n\
         clearance = 0.25*module",
    ),
    validity: FULL_DEPTH,
    source: PROPORTIONS,
    hazard: Some(Hazard::MovingMachinery),
    example: "pair = gear_pair(teeth_1: 25, teeth_2: 60, module: 5 mm)\n\
              check pair.centre within 212.4 mm .. 212.6 mm",
    body: gear_pair,
};

/// `gear_from_outside(…)`.
pub static FROM_OUTSIDE: Function = Function {
    name: "gear_from_outside",
    does: "module and diametral pitch of a found gear from its outside diameter and teeth",
    parameters: &[
        needed("outside", LENGTH, "outside diameter"),
        needed("teeth", Takes::Count, "number of teeth"),
    ],
    outputs: &[MODULE_OUTPUT, DIAMETRAL_OUTPUT, words("nearest", "the nearest standard tooth size")],
    formula: table(
        "nearest: the standard tooth size that deviates least",
        "module = outside/(teeth + 2)\n\
         diametral_pitch = 1/module",
    ),
    validity: FULL_DEPTH,
    source: &[
        in_work("U. C. Jindal, Machine Design", "", "chapter 25 (outside = m (z + 2))"),
        recalled("ISO 54", "", "series of modules"),
        practice("usual diametral and circular pitches"),
    ],
    hazard: None,
    example: "found = gear_from_outside(outside: 135 mm, teeth: 25)\n\
              check found.module within 4.99 mm .. 5.01 mm",
    body: from_outside,
};

static FROM_CENTRE: Function = Function {
    name: "gear_from_centre",
    does: "module and diametral pitch of a pair from its centre distance and teeth",
    parameters: &[
        needed("centre", LENGTH, "centre distance of the shafts"),
        needed("teeth_1", Takes::Count, "teeth of one gear"),
        needed("teeth_2", Takes::Count, "teeth of the other"),
    ],
    outputs: &[MODULE_OUTPUT, DIAMETRAL_OUTPUT],
    formula: lines(
        "module = 2*centre/(teeth_1 + teeth_2)\n\
         diametral_pitch = 1/module",
    ),
    validity: "outside gears, mesh neither drawn apart nor shifted; worn bearings change the measured \
               distance",
    source: PROPORTIONS,
    hazard: None,
    example: "found = gear_from_centre(centre: 212.5 mm, teeth_1: 25, teeth_2: 60)\n\
              check found.module within 4.99 mm .. 5.01 mm",
    body: by_formula,
};

static FROM_SPANS: Function = Function {
    name: "gear_from_spans",
    does: "module from two calliper spans that differ by one tooth",
    parameters: &[
        needed("more", LENGTH, "span over the larger number of teeth"),
        needed("fewer", LENGTH, "span over one tooth less"),
        or_number(
            "pressure_angle",
            Takes::Angle(Sign::Positive),
            20.0 * PI / 180.0,
            "20 deg today, 14.5 deg on many old gears",
        ),
    ],
    outputs: &[length("base_pitch", "pitch along the line of action"), MODULE_OUTPUT, DIAMETRAL_OUTPUT],
    formula: lines(
        "base_pitch = more - fewer\n\
         module = base_pitch/(pi*cos(pressure_angle))\n\
         diametral_pitch = 1/module",
    ),
    validity: "involute teeth, shifted or not; both spans square to the flanks, not over worn tips. Wear on \
               the flanks cancels if it is even",
    source: &[derived("geometry of the involute: W(k + 1) - W(k) = pi m cos(pressure_angle)")],
    hazard: None,
    example: "found = gear_from_spans(more: 53.51 mm, fewer: 38.75 mm, pressure_angle: 20 deg)\n\
              check found.module within 4.9 mm .. 5.1 mm",
    body: from_spans,
};

static TRAIN: Function = Function {
    name: "gear_train",
    does: "ratio, speed and torque of a gear train",
    parameters: &[
        needed("drivers", Takes::List(Dimension::NONE), "teeth of the driving gears, in order"),
        needed("driven", Takes::List(Dimension::NONE), "teeth of the gears that they drive, in order"),
        needed("torque", Takes::NotNegative(Dimension::MOMENT), "torque on the first shaft"),
        needed("speed", Takes::Turning(Sign::NotNegative), "speed of the first shaft"),
        or_number("efficiency", Takes::Positive(Dimension::NONE), 1.0, "work that arrives at the last shaft"),
    ],
    outputs: &[
        number("ratio", "turns of the first shaft for one of the last"),
        moment("torque", "torque on the last shaft"),
        rate("speed", "speed of the last shaft"),
    ],
    formula: lines(
        "ratio = product(driven)/product(drivers)\n\
         torque = torque*ratio*efficiency\n\
         speed = speed/ratio",
    ),
    validity: "each pair 0.95 to 0.98 when machined and oiled, 0.90 and less with cast teeth (common \
               practice, no source)",
    source: &[in_work("T. H. Wentzell, Machine Design", "", "Example 11.5")],
    hazard: Some(Hazard::MovingMachinery),
    example: "hoist = gear_train(drivers: [12, 16], driven: [36, 64], torque: 54 lbf in, speed: 1750 rpm)\n\
              check hoist.ratio within 11.99 .. 12.01\n\
              check hoist.speed within 145.8 rpm .. 145.9 rpm",
    body: train,
};

/// The module, from whichever of the two ways it was given.
fn module(call: &Call) -> Result<Real, Refusal> {
    match (call.is_given("module"), call.is_given("diametral_pitch")) {
        (true, false) | (false, true) => Ok(call.real("module")),
        (true, true) => Err(Refusal::of(
            "diametral_pitch",
            "`module` and `diametral_pitch` are both given",
            "Leave one of them out.",
        )),
        (false, false) => Err(Refusal::whole(
            "neither `module` nor `diametral_pitch` is given",
            "Add `module: 5 mm` or `diametral_pitch: 8/1 in`.",
        )),
    }
}

fn teeth(call: &Call, name: &'static str) -> f64 {
    f64::from(call.count(name))
}

fn gear(call: &Call) -> Result<Answer, Refusal> {
    let (module, teeth) = (module(call)?, teeth(call, "teeth"));
    if teeth < 3.0 {
        return Err(Refusal::of(
            "teeth",
            "a gear has at least three teeth",
            "Count the teeth of the whole gear.",
        ));
    }
    let answer = Answer::new()
        .number("pitch_diameter", module * teeth)
        .number("outside", module * (teeth + 2.0))
        .number("root", module * (teeth - 2.5))
        .number("circular_pitch", module * PI)
        .number("depth", module * 2.25);
    Ok(undercut(answer, teeth))
}

/// Below 17 teeth at 20 deg the root of an unshifted tooth is cut away.
fn undercut(answer: Answer, teeth: f64) -> Answer {
    if teeth >= 17.0 {
        return answer;
    }
    answer.remark(format!(
        "{teeth} teeth: below 17 (20 deg) pinions are usually cut with a shifted profile and larger outside"
    ))
}

fn gear_pair(call: &Call) -> Result<Answer, Refusal> {
    let (module, teeth_1, teeth_2) = (module(call)?, teeth(call, "teeth_1"), teeth(call, "teeth_2"));
    let answer = Answer::new()
        .number("pitch_diameter_1", module * teeth_1)
        .number("pitch_diameter_2", module * teeth_2)
        .number("centre", module * (teeth_1 + teeth_2) / 2.0)
        .number("ratio", Real::exact(teeth_2 / teeth_1))
        .number("addendum", module)
        .number("dedendum", module * 1.25)
        .number("clearance", module * 0.25);
    Ok(undercut(answer, teeth_1.min(teeth_2)))
}

fn from_outside(call: &Call) -> Result<Answer, Refusal> {
    let (outside, teeth) = (call.real("outside"), call.count("teeth"));
    let found = identify::candidates(outside.value() * 1e3, teeth, 1)?;
    let Some(nearest) = found.first() else {
        return Err(Refusal::of(
            "outside",
            "no standard tooth is near this size",
            "Check the diameter and the teeth.",
        ));
    };
    let answer = sizes(Answer::new(), outside / (f64::from(teeth) + 2.0));
    Ok(answer.text("nearest", &*nearest.designation).remark(nearest.sure.clone()))
}

fn from_spans(call: &Call) -> Result<Answer, Refusal> {
    let base_pitch = call.real("more") - call.real("fewer");
    if base_pitch <= 0.0 {
        return Err(Refusal::of(
            "fewer",
            "the span over fewer teeth is not smaller",
            "Swap `more` and `fewer`.",
        ));
    }
    let cosine = call.real("pressure_angle").cos();
    if cosine <= 0.0 {
        return Err(Refusal::of(
            "pressure_angle",
            "no tooth has this pressure angle",
            "Give 20 deg or 14.5 deg.",
        ));
    }
    Ok(sizes(Answer::new().number("base_pitch", base_pitch), base_pitch / (PI * cosine)))
}

fn sizes(answer: Answer, module: Real) -> Answer {
    answer.number("module", module).number("diametral_pitch", 1.0 / module)
}

fn train(call: &Call) -> Result<Answer, Refusal> {
    let efficiency = call.real("efficiency");
    if efficiency > 1.0 {
        return Err(Refusal::of(
            "efficiency",
            "no train gives more work than it takes",
            "Give at most 100 %.",
        ));
    }
    let ratio = product(call, "driven")? / product(call, "drivers")?;
    if call.list("drivers").len() != call.list("driven").len() {
        return Err(Refusal::of(
            "driven",
            "the train has not as many driven gears as drivers",
            "Name them in pairs; an idler stands in both lists.",
        ));
    }
    Ok(Answer::new()
        .number("ratio", ratio)
        .number("torque", call.real("torque") * ratio * efficiency)
        .number("speed", call.real("speed") / ratio))
}

fn product(call: &Call, name: &'static str) -> Result<Real, Refusal> {
    let teeth = call.list(name);
    let whole = |each: &Real| *each >= 1.0 && each.value().fract() == 0.0;
    if teeth.is_empty() || !teeth.iter().all(whole) {
        return Err(Refusal::of(
            name,
            "teeth are whole numbers, at least one gear",
            "Write them as `[12, 16]`.",
        ));
    }
    Ok(teeth.iter().fold(Real::exact(1.0), |product, each| product * *each))
}
