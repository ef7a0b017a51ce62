//! Plain bearings: pressure and speed, clearance, film number, wear.

use std::f64::consts::TAU;

use crate::calc::cause::{Cause, Origin};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Field, Function, Parameter, Refusal, Said, Sign, Source, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    by_formula, chosen, hairs, in_work, length, lines, needed, number, open_table, optional, or_words,
    practice, quantity, stress,
};
use crate::trade::material::{PvLimit, pv_limit};
use crate::trade::say;

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const LOAD: Parameter = needed("load", Takes::Positive(Dimension::FORCE), "radial load");
const D: Parameter = needed("d", LENGTH, "diameter of the journal");
const LONG: Parameter = needed("length", LENGTH, "length of the bearing");
const SPEED: Parameter = needed("speed", Takes::Turning(Sign::Positive), "speed of the journal");
const DIAMETRAL: Parameter = needed("clearance", LENGTH, "clearance on the diameter (bore less journal)");
const FILM: &str = "full oil film only: a bearing that creeps, swings or is oiled by hand runs on boundary \
                    oil, judge it by pressure and PV. Handbooks differ: n in turns per second or minute, \
                    clearance on radius or diameter";
const FILM_SOURCE: &[Source] = &[in_work("U. C. Jindal, Machine Design", "", "Example 17-2")];

pub(super) static PLAIN_BEARING: Function = Function {
    name: "plain_bearing",
    does: "pressure, speed and PV of a plain bearing, against the limits of its material",
    parameters: &[
        LOAD,
        D,
        LONG,
        needed(
            "speed",
            Takes::Turning(Sign::NotNegative),
            "speed of the journal; the mean one when it swings",
        ),
        optional("material", Takes::Text, "bearing material, to compare with its limits (\"SAE 660\")"),
    ],
    outputs: &[
        stress("pressure", "load over projected area"),
        quantity("velocity", Dimension::SPEED, ["m/s", "ft/min"], "speed at the surface"),
        quantity("pv", Dimension::PV, ["MPa·m/s", "psi·ft/min"], "pressure times velocity"),
    ],
    formula: lines(
        "pressure = load/(d*length)\n\
         velocity = d/2*speed\n\
         pv = pressure*velocity",
    ),
    validity: "load evenly along the length: length / d of 0.75 to 1.5. Pressure, speed and PV must each be \
               under their limit; lists of limits differ two- to threefold",
    source: &[
        in_work("T. H. Wentzell, Machine Design", "", "Example 19.1"),
        open_table("table of plain-bearing materials", "", "limits"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "bush = plain_bearing(load: 20 lbf, d: 0.75 in, length: 0.875 in, speed: 500 rpm)\n\
              check bush.pressure within 30.4 psi .. 30.5 psi\n\
              check bush.velocity within 98.1 ft/min .. 98.2 ft/min",
    body: plain_bearing,
};

pub(super) static LENGTH_FOR_PV: Function = Function {
    name: "plain_bearing_length",
    does: "length of plain bearing that keeps PV within its limit",
    parameters: &[
        LOAD,
        SPEED,
        needed("pv", Takes::Positive(Dimension::PV), "the limit of the bearing material"),
    ],
    outputs: &[length("length", "least length; the diameter cancels")],
    formula: lines("length = load*speed/(2*pv)"),
    validity: "check pressure and speed too; a length over 1.5 diameters does not carry evenly",
    source: &[in_work("T. H. Wentzell, Machine Design", "", "Example 19.1")],
    hazard: Some(Hazard::MovingMachinery),
    example: "length = plain_bearing_length(load: 20 lbf, speed: 500 rpm, pv: 3000 psi ft/min)\n\
              check length within 0.872 in .. 0.873 in",
    body: by_formula,
};

pub(super) static NUMBER: Function = Function {
    name: "bearing_number",
    does: "pressure and characteristic number of an oil-film bearing",
    parameters: &[
        LOAD,
        D,
        LONG,
        DIAMETRAL,
        needed("viscosity", Takes::Positive(Dimension::VISCOSITY), "of the oil when warm"),
        SPEED,
    ],
    outputs: &[
        stress("pressure", "load over projected area"),
        number("number", "characteristic number (Sommerfeld), n in turns per second"),
    ],
    formula: lines(
        "pressure = load/(d*length)\n\
         number = (d/clearance)^2*viscosity*speed/(2*pi*pressure)",
    ),
    validity: FILM,
    source: FILM_SOURCE,
    hazard: Some(Hazard::MovingMachinery),
    example: "film = bearing_number(load: 6000 N, d: 60 mm, length: 60 mm, clearance: 0.08 mm, viscosity: \
              6.293 mPa s, speed: 1260 rpm)\n\
              check film.number within 0.0445 .. 0.0447",
    body: bearing_number,
};

pub(super) static VISCOSITY: Function = Function {
    name: "bearing_oil",
    does: "oil viscosity that gives a wanted characteristic number",
    parameters: &[
        LOAD,
        D,
        LONG,
        DIAMETRAL,
        SPEED,
        needed("number", Takes::Positive(Dimension::NONE), "wanted characteristic number"),
    ],
    outputs: &[
        stress("pressure", "load over projected area"),
        quantity("viscosity", Dimension::VISCOSITY, ["mPa·s", "mPa·s"], "of the oil when warm"),
    ],
    formula: lines(
        "pressure = load/(d*length)\n\
         viscosity = number*pressure*2*pi/((d/clearance)^2*speed)",
    ),
    validity: FILM,
    source: FILM_SOURCE,
    hazard: Some(Hazard::MovingMachinery),
    example: "oil = bearing_oil(load: 6000 N, d: 60 mm, length: 60 mm, clearance: 0.08 mm, speed: 1260 rpm, \
              number: 0.0446)\n\
              check oil.viscosity within 6.29 mPa s .. 6.30 mPa s",
    body: bearing_oil,
};

pub(super) static CLEARANCE: Function = Function {
    name: "bearing_clearance",
    does: "usual clearance on the diameter of a plain bearing",
    parameters: &[
        D,
        or_words("service", "general", "precision (clean, oiled), general, or dirty (slow, outdoors)"),
    ],
    outputs: &[
        hairs("clearance", "what a new bearing may have: the middle, with the two ends as bounds"),
        hairs("least", "smallest clearance"),
        hairs("most", "largest clearance when new"),
    ],
    formula: lines(
        "least = (if service == \"precision\" then 0.0005 else if service == \"dirty\" then 0.001 else 0.0007)*d\n\
         most = if service == \"precision\" then 0.0007*d else if service == \"dirty\" then 0.001*d + 0.05 mm else 0.001*d\n\
         clearance = (least + most)/2",
    ),
    validity: "bronze or white metal on steel, clearance on the diameter, after a pressed-in bush has closed \
               in and been reamed",
    source: &[practice("")],
    hazard: Some(Hazard::MovingMachinery),
    example: "gap = bearing_clearance(d: 60 mm, service: \"dirty\")\n\
              check gap.least within 0.059 mm .. 0.061 mm\n\
              check gap.most within 0.109 mm .. 0.111 mm",
    body: clearance,
};

pub(super) static WEAR_LIFE: Function = Function {
    name: "wear_life",
    does: "running time until a plain bearing has worn by a given depth",
    parameters: &[
        needed("wear", LENGTH, "depth that may wear away"),
        needed("pressure", Takes::Positive(Dimension::STRESS), "load over projected area"),
        needed("velocity", Takes::Positive(Dimension::SPEED), "speed at the surface"),
        needed(
            "factor",
            Takes::Positive(Dimension::of(1, -1, 2)),
            "wear factor of the pair, from its maker (m^3/(N m))",
        ),
    ],
    outputs: &[quantity("time", Dimension::TIME, ["h", "h"], "running time")],
    formula: lines("time = wear/(factor*pressure*velocity)"),
    validity: "steady wear after running in, under the limits of pressure, speed and PV; factors scatter by \
               three and more",
    source: &[in_work("T. H. Wentzell, Machine Design", "", "chapter 19")],
    hazard: Some(Hazard::MovingMachinery),
    example: "life = wear_life(wear: 0.1 mm, pressure: 2 MPa, velocity: 0.1 m/s, factor: 1e-15 m^3/(N m))\n\
              check life within 138 h .. 140 h",
    body: by_formula,
};

fn pressure(call: &Call) -> Real {
    call.real("load") / (call.real("d") * call.real("length"))
}

fn plain_bearing(call: &Call) -> Result<Answer, Refusal> {
    let pressure = pressure(call);
    let velocity = call.real("d") * call.real("speed") / 2.0;
    let pv = pressure * velocity;
    let answer = Answer::new().number("pressure", pressure).number("velocity", velocity).number("pv", pv);
    let answer = slenderness(answer, call.real("length").value() / call.real("d").value());
    if call.text("material").is_empty() {
        return Ok(answer);
    }
    Ok(against(answer, pv_limit(call, "material")?, [pressure.value(), velocity.value(), pv.value()]))
}

fn slenderness(answer: Answer, ratio: f64) -> Answer {
    if (0.75..=1.5).contains(&ratio) {
        return answer;
    }
    answer.remark(format!("length / d is {ratio:.2}; usual are 0.75 to 1.5"))
}

/// Compares pressure, speed and PV (SI) with the limits of a bearing material.
fn against(mut answer: Answer, limit: &PvLimit, found: [f64; 3]) -> Answer {
    let limits = [limit.pressure, limit.speed, limit.pv].map(|range| range.map(|range| range.low));
    let mut told = Vec::new();
    for ((what, say), (found, limit)) in MEASURES.iter().zip(found.into_iter().zip(limits)) {
        let Some(limit) = limit else { continue };
        told.push(format!("{what} {}", say(Real::exact(limit))));
        if found > limit {
            let (found, limit) = (say(Real::exact(found)), say(Real::exact(limit)));
            answer = answer.warn(format!("the {what} is {found}, over the limit of {limit}"));
        }
    }
    if let Some(hottest) = limit.hottest {
        told.push(format!("temperature {hottest:.0} °C"));
    }
    answer.remark(Said::of(format!("limits of {}", limit.material), told.join(", ")))
}

/// A figure in the words of a message.
type Saying = fn(Real) -> String;

/// What is compared, and how its figures are stated.
const MEASURES: [(&str, Saying); 3] = [("pressure", say::stress), ("speed", say::speed), ("PV", say::pv)];

/// The square of diameter over clearance.
fn tightness(call: &Call) -> Result<Real, Refusal> {
    let (d, clearance) = (call.real("d"), call.real("clearance"));
    if clearance >= d {
        return Err(Refusal::of(
            "clearance",
            "the clearance is larger than the journal",
            "Give bore less journal.",
        ));
    }
    Ok((d / clearance).squared())
}

fn bearing_number(call: &Call) -> Result<Answer, Refusal> {
    let turns = call.real("speed") / TAU;
    let pressure = pressure(call);
    let number = tightness(call)? * call.real("viscosity") * turns / pressure;
    Ok(Answer::new().number("pressure", pressure).number("number", number))
}

fn bearing_oil(call: &Call) -> Result<Answer, Refusal> {
    let turns = call.real("speed") / TAU;
    let pressure = pressure(call);
    let viscosity = call.real("number") * pressure / (tightness(call)? * turns);
    Ok(Answer::new().number("pressure", pressure).number("viscosity", viscosity))
}

fn clearance(call: &Call) -> Result<Answer, Refusal> {
    let services = [
        ("precision", (0.0005, 0.0007, 0.0)),
        ("general", (0.0007, 0.001, 0.0)),
        ("dirty", (0.001, 0.001, 0.05e-3)),
    ];
    let (least, most, added) = chosen(call, "service", &services)?;
    let d = call.real("d");
    let (least, most) = (d * least, d * most + added);
    let clearance = Field::Bounded {
        middle: f64::midpoint(least.value(), most.value()),
        half_width: (most.value() - least.value()) / 2.0,
        source: Cause::of(Origin::Tolerance, format!("clearance of a plain bearing of {}", say::length(d))),
    };
    Ok(Answer::new()
        .in_system(call.system_of("d"))
        .field("clearance", clearance)
        .number("least", least)
        .number("most", most))
}
