//! Bolts: strength classes, stress areas, preload and the torque for it.

use std::f64::consts::PI;

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{
    by_formula, force, in_work, joined, lines, moment, needed, open_table, optional, or_number, practice,
    recalled, stress, table,
};

use super::{AREA, FACTOR, FORCE, LENGTH, MOMENT, SHARE, SHIGLEY, STRESS, area, say};
use crate::hazard::Hazard;

pub(super) const PITCH: Parameter =
    needed("pitch", LENGTH, "pitch of the thread: `1 in/10` for ten to the inch");
const MAJOR: Parameter = needed("major", LENGTH, "outside diameter of the thread, its nominal size");
const PRELOAD: Parameter = needed("preload", FORCE, "pull in the bolt when tightened");
const NUT_FACTOR: Parameter =
    or_number("k", FACTOR, 0.2, "nut factor: 0.15 oiled, 0.2 dry, 0.3 rusty (common practice, no source)");

/// Class, largest diameter in metres for which the row holds, proof, yield and tensile strength in Pa.
struct Class {
    name: &'static str,
    up_to: f64,
    strengths: [f64; 3],
}

const fn class(name: &'static str, up_to: f64, mpa: [f64; 3]) -> Class {
    Class { name, up_to, strengths: [mpa[0] * 1e6, mpa[1] * 1e6, mpa[2] * 1e6] }
}

const fn grade(name: &'static str, up_to_inches: f64, ksi: [f64; 3]) -> Class {
    const KSI: f64 = 4.448_221_615_260_5 / (0.0254 * 0.0254) * 1e3;
    Class { name, up_to: up_to_inches * 0.0254, strengths: [ksi[0] * KSI, ksi[1] * KSI, ksi[2] * KSI] }
}

/// What a bolt without a mark may be trusted with.
const UNMARKED: &str = "unmarked";

const CLASSES: &[Class] = &[
    class("4.6", f64::INFINITY, [225.0, 240.0, 400.0]),
    class("4.8", f64::INFINITY, [310.0, 340.0, 420.0]),
    class("5.6", f64::INFINITY, [280.0, 300.0, 500.0]),
    class("5.8", f64::INFINITY, [380.0, 420.0, 520.0]),
    class("6.8", f64::INFINITY, [440.0, 480.0, 600.0]),
    class("8.8", 0.016, [580.0, 640.0, 800.0]),
    class("8.8", f64::INFINITY, [600.0, 660.0, 830.0]),
    class("9.8", 0.016, [650.0, 720.0, 900.0]),
    class("10.9", f64::INFINITY, [830.0, 940.0, 1040.0]),
    class("12.9", f64::INFINITY, [970.0, 1100.0, 1220.0]),
    grade("grade 1", 1.5, [33.0, 36.0, 60.0]),
    grade("grade 2", 0.75, [55.0, 57.0, 74.0]),
    grade("grade 2", 1.5, [33.0, 36.0, 60.0]),
    grade("grade 5", 1.0, [85.0, 92.0, 120.0]),
    grade("grade 5", 1.5, [74.0, 81.0, 105.0]),
    grade("grade 8", 1.5, [120.0, 130.0, 150.0]),
    class(UNMARKED, f64::INFINITY, [225.0, 240.0, 400.0]),
];

pub(super) static BOLT_CLASS: Function = Function {
    name: "bolt_class",
    does: "strength of a bolt by the mark on its head",
    parameters: &[needed("class", Takes::Text, "\"8.8\", \"grade 5\", or \"unmarked\""), MAJOR],
    outputs: &[
        stress("proof", "proof stress: tightened below it the bolt does not stretch for good"),
        stress("yield", "least yield strength"),
        stress("uts", "least tensile strength"),
    ],
    formula: table("the row of the table for the class and diameter", ""),
    validity: "ISO classes M1.6 to M39, SAE grades 1/4 to 1 1/2 in (grade 2 up to 6 in long); sound \
               threads. An old bolt without a mark counts as the weakest class.",
    source: &[open_table("ISO 898-1", "2013", "table 3"), open_table("SAE J429", "", "")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "bolt = bolt_class(class: \"8.8\", major: 20 mm)\n\
              check bolt.proof within 599 MPa .. 601 MPa \"ISO 898-1\"",
    body: bolt_class,
};

fn bolt_class(call: &Call) -> Result<Answer, Refusal> {
    let (given, d) = (call.text("class").trim(), call.real("major"));
    let mut named = CLASSES.iter().filter(|class| class.name.eq_ignore_ascii_case(given)).peekable();
    if named.peek().is_none() {
        return Err(no_class(given));
    }
    let rounding = 1.0 + 1e-9;
    let Some(class) = named.clone().find(|class| d.value() <= class.up_to * rounding) else {
        let most = named.map(|class| class.up_to).fold(0.0, f64::max);
        return Err(Refusal::of(
            "major",
            format!("there is no {given} for a diameter of {}", say::length(d)),
            format!("It goes up to {}.", say::length(Real::exact(most))),
        ));
    };
    let [proof, yielding, tensile] = class.strengths.map(Real::exact);
    let answer = Answer::new().number("proof", proof).number("yield", yielding).number("uts", tensile);
    Ok(if class.name == UNMARKED {
        answer.remark("no mark: the weakest class, 4.6, is used; an old bolt may be wrought iron and weaker")
    } else {
        answer
    })
}

fn no_class(given: &str) -> Refusal {
    let mut names: Vec<String> = CLASSES.iter().map(|class| format!("\"{}\"", class.name)).collect();
    names.dedup();
    let help = format!("Write {}.", joined(&names));
    Refusal::of("class", format!("there is no bolt class \"{given}\" in the table"), help)
}

pub(super) static STRESS_AREA: Function = Function {
    name: "stress_area_metric",
    does: "tensile stress area of a metric thread by rule, from diameter and pitch",
    parameters: &[MAJOR, PITCH],
    outputs: &[area("area", "stress area")],
    formula: lines("area = pi/4*(major - 0.9382*pitch)^2"),
    validity: "ISO metric profile.",
    source: &[in_work("ISO 898-1", "", "formula as in U. C. Jindal, Machine Design, Example 9-1")],
    hazard: None,
    example: "m16 = stress_area_metric(major: 16 mm, pitch: 2 mm)\n\
              check m16 within 156.5 mm^2 .. 157.5 mm^2 \"ISO 898-1 prints 157\"",
    body: |call| {
        let core = core(call, 0.9382)?;
        Ok(Answer::new().number("area", PI / 4.0 * core.squared()))
    },
};

/// The diameter of the stress area: `major` less `depth` times the pitch.
fn core(call: &Call, depth: f64) -> Result<Real, Refusal> {
    let core = call.real("major") - depth * call.real("pitch");
    if core > 0.0 {
        return Ok(core);
    }
    let message = format!("a pitch of {} leaves nothing of the bolt", say::length(call.real("pitch")));
    Err(Refusal::of(
        "pitch",
        message,
        "Give the distance from thread to thread, `1 in/10` for ten to the inch.",
    ))
}

pub(super) static STRESS_AREA_UNIFIED: Function = Function {
    name: "stress_area_unified",
    does: "tensile stress area of a Unified thread by rule, from diameter and pitch",
    parameters: &[
        MAJOR,
        PITCH,
        optional(
            "pitch_diameter",
            LENGTH,
            "least pitch diameter, for bolts of more than 100 ksi tensile strength",
        ),
    ],
    outputs: &[area("area", "stress area")],
    formula: lines(
        "area = pi/4*(major - 0.9743*pitch)^2\n\
         area = pi*(pitch_diameter/2 - 0.16238*pitch)^2 # with pitch_diameter",
    ),
    validity: "Unified profile (UNC, UNF, UN).",
    source: &[
        in_work("Machinery's Handbook", "31st ed.", "tensile stress area"),
        recalled("ASME B1.1", "", ""),
    ],
    hazard: None,
    example: "bolt = stress_area_unified(major: 0.75 in, pitch: 0.1 in)\n\
              check bolt within 0.333 in^2 .. 0.335 in^2 \"3/4-10 UNC: 0.334\"",
    body: stress_area_unified,
};

fn stress_area_unified(call: &Call) -> Result<Answer, Refusal> {
    let core = core(call, 0.9743)?;
    let area = match call.optional("pitch_diameter") {
        Some(mean) => PI * (mean / 2.0 - 0.16238 * call.real("pitch")).squared(),
        None => PI / 4.0 * core.squared(),
    };
    Ok(Answer::new().number("area", area))
}

pub(super) static BOLT_PRELOAD: Function = Function {
    name: "bolt_preload",
    does: "how tight a bolt may be drawn",
    parameters: &[
        needed("proof", STRESS, "proof stress of the bolt"),
        needed("area", AREA, "stress area"),
        or_number("fraction", FACTOR, 0.75, "of the proof load: 0.75 to be taken apart again, 0.9 for good"),
    ],
    outputs: &[force("preload", "pull in the bolt")],
    formula: lines("preload = fraction*proof*area"),
    validity: "Sound threads at full engagement.",
    source: &[
        in_work("T. H. Wentzell, Machine Design", "", "Example 6.1 (p. 120), which takes 0.85"),
        in_work(SHIGLEY, "9th ed.", "Example 8-4 (0.75)"),
        recalled(SHIGLEY, "9th ed.", "equation 8-31 (0.9)"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "preload = bolt_preload(proof: 85000 psi, area: 0.334 in^2, fraction: 0.85)\n\
              check preload within 24100 lbf .. 24200 lbf \"Wentzell, example 6.1\"",
    body: bolt_preload,
};

fn bolt_preload(call: &Call) -> Result<Answer, Refusal> {
    let fraction = call.real("fraction");
    let answer = Answer::new().number("preload", fraction * call.real("proof") * call.real("area"));
    Ok(if fraction > 1.0 {
        answer.warn(format!(
            "{} times the proof load: the bolt stretches for good",
            say::figures(fraction.value())
        ))
    } else {
        answer
    })
}

pub(super) static TIGHTENING_TORQUE: Function = Function {
    name: "tightening_torque",
    does: "torque for a preload, by the nut factor",
    parameters: &[PRELOAD, MAJOR, NUT_FACTOR],
    outputs: &[moment("torque", "at the wrench")],
    formula: lines("torque = k*major*preload"),
    validity: "Nut and washer smooth; by a torque wrench the preload scatters by 25 to 35 %.",
    source: &[in_work("T. H. Wentzell, Machine Design", "", "Example 6.1 (p. 120)")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "torque = tightening_torque(preload: 24131.5 lbf, major: 0.75 in, k: 0.2)\n\
              check torque within 3615 in·lbf .. 3625 in·lbf \"Wentzell, example 6.1: 3619.73\"",
    body: by_formula,
};

pub(super) static PRELOAD_OF_TORQUE: Function = Function {
    name: "preload_of_torque",
    does: "preload that a torque gives, and how far it may be off",
    parameters: &[
        needed("torque", MOMENT, "at the wrench"),
        MAJOR,
        NUT_FACTOR,
        or_number("scatter", SHARE, 0.3, "of the preload"),
    ],
    outputs: &[
        force("preload", "pull in the bolt"),
        force("least", "the same less the scatter: count on it to hold"),
        force("most", "the same with the scatter: count on it to break"),
    ],
    formula: lines(
        "preload = torque/(k*major)\n\
         least = (1 - scatter)*preload\n\
         most = (1 + scatter)*preload",
    ),
    validity: "Nut and washer smooth.",
    source: &[
        in_work("T. H. Wentzell, Machine Design", "", "Example 6.1 (p. 120)"),
        practice("scatter 25 to 35 %"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "bolt = preload_of_torque(torque: 3619.73 in·lbf, major: 0.75 in, k: 0.2)\n\
              check bolt.preload within 24100 lbf .. 24200 lbf \"Wentzell, example 6.1\"",
    body: preload_of_torque,
};

fn preload_of_torque(call: &Call) -> Result<Answer, Refusal> {
    let scatter = call.real("scatter");
    if scatter >= 1.0 {
        return Err(Refusal::of(
            "scatter",
            "a scatter of all the preload or more means nothing",
            "Give 0.25 to 0.35.",
        ));
    }
    let preload = call.real("torque") / (call.real("k") * call.real("major"));
    Ok(Answer::new()
        .number("preload", preload)
        .number("least", (1.0 - scatter) * preload)
        .number("most", (1.0 + scatter) * preload))
}

pub(super) static TIGHTENING_TORQUE_BY_FRICTION: Function = Function {
    name: "tightening_torque_by_friction",
    does: "torque for a preload from the friction in the thread and under the head",
    parameters: &[
        PRELOAD,
        PITCH,
        needed("pitch_diameter", LENGTH, "pitch diameter of the thread d2"),
        needed("bearing_diameter", LENGTH, "mean diameter of the ring under the head Db"),
        needed("mu_thread", Takes::NotNegative(Dimension::NONE), "friction in the thread"),
        needed("mu_head", Takes::NotNegative(Dimension::NONE), "friction under the head"),
    ],
    outputs: &[
        moment("torque", "at the wrench"),
        moment("torque_pitch", "the part that stretches the bolt"),
        moment("torque_thread", "the part lost in the thread"),
        moment("torque_head", "the part lost under the head"),
    ],
    formula: lines(
        "torque_pitch = preload*pitch/(2*pi)\n\
         torque_thread = preload*mu_thread*pitch_diameter/(2*cos(30 deg))\n\
         torque_head = preload*mu_head*bearing_diameter/2\n\
         torque = torque_pitch + torque_thread + torque_head",
    ),
    validity: "Thread of 60 degrees; the same preload with the same friction all through.",
    source: &[recalled("VDI 2230 part 1", "", "the long form of the tightening torque")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "torque = tightening_torque_by_friction(preload: 50 kN, pitch: 2 mm, pitch_diameter: 14.701 \
              mm, bearing_diameter: 20 mm, mu_thread: 0.12, mu_head: 0.12)\n\
              check torque.torque within 126 N·m .. 128 N·m \"M16: 15.9 + 50.9 + 60\"",
    body: by_formula,
};
