//! Threads that strip: areas in shear, what gives first, how much thread it takes.

use std::f64::consts::PI;

use crate::calc::function::{Answer, Call, Caution, Function, Parameter, Refusal};
use crate::calc::real::Real;
use crate::trade::declare::{force, length, needed, number, optional, or_number, words};

use super::bolt::PITCH;
use super::{AREA, FACTOR, LENGTH, STRESS, area, within};

const ENGAGEMENT: Parameter = needed("engagement", LENGTH, "length of full thread in engagement Le");
const MAJOR: Parameter = needed("d", LENGTH, "major diameter of the screw, the least");
const PITCH_DIAMETER: Parameter =
    needed("pitch_diameter", LENGTH, "pitch diameter of the screw d2, the least");
const MINOR: Parameter = needed("minor", LENGTH, "minor diameter of the nut D1, the largest");
const NUT_PITCH_DIAMETER: Parameter = optional(
    "nut_pitch_diameter",
    LENGTH,
    "pitch diameter of the nut D2, the largest; as the screw's if not given",
);
const STRESS_AREA: Parameter = needed("area", AREA, "stress area of the screw At");
const SCREW: Parameter = needed("screw_uts", STRESS, "ultimate tensile strength of the screw");
const NUT: Parameter = needed("nut_uts", STRESS, "ultimate tensile strength of the nut or tapped part");
const VALIDITY: &str = "Threads of 60 degrees. Even load on every thread is assumed; in fact the first \
                        few carry most, and more than about 1.5 d adds little. Rules: 1 d in steel, 1.5 d \
                        in cast iron, 2 d in aluminium (common practice, no source).";
const SOURCE: &str =
    "Machinery's Handbook, 31st ed., thread stripping and length of engagement (formulas long disputed)";

/// The threads of screw and nut by length of engagement.
struct Threads {
    /// Area in shear by length: of the screw's threads at the nut's minor diameter.
    screw: Real,
    /// Of the nut's threads at the screw's major diameter.
    nut: Real,
}

impl Threads {
    fn of(call: &Call) -> Result<Self, Refusal> {
        let [d, pitch, mean, minor] = ["d", "pitch", "pitch_diameter", "minor"].map(|name| call.real(name));
        let nut_mean = call.optional("nut_pitch_diameter").unwrap_or(mean);
        within("pitch_diameter", "the pitch diameter", mean, "the major diameter", d)?;
        within("nut_pitch_diameter", "the nut's pitch diameter", nut_mean, "the major diameter", d)?;
        let flank = 1.0 / 3_f64.sqrt();
        let screw = PI * minor * (0.5 + flank * (mean - minor) / pitch);
        let nut = PI * d * (0.5 + flank * (d - nut_mean) / pitch);
        if screw > 0.0 {
            return Ok(Self { screw, nut });
        }
        let message = "with so large a minor diameter the threads do not engage";
        Err(Refusal::of(
            "minor",
            message,
            "Give the minor diameter of the nut, and the pitch diameter of the screw.",
        ))
    }
}

pub(super) static THREAD_SHEAR_AREA: Function = Function {
    name: "thread_shear_area",
    does: "areas in which the threads of screw and nut shear",
    parameters: &[ENGAGEMENT, PITCH, MAJOR, PITCH_DIAMETER, MINOR, NUT_PITCH_DIAMETER],
    outputs: &[area("screw", "of the screw's threads"), area("nut", "of the nut's threads")],
    formula: "screw = pi Le D1 (1/2 + (d2 - D1)/(sqrt(3) pitch)); nut = pi Le d (1/2 + (d - D2)/(sqrt(3) \
              pitch))",
    validity: VALIDITY,
    source: SOURCE,
    caution: None,
    example: "m16 = thread_shear_area(engagement: 16 mm, pitch: 2 mm, d: 16 mm, pitch_diameter: 14.701 mm, \
              minor: 13.835 mm)\n\
              check m16.screw within 521 mm^2 .. 522 mm^2 \"basic sizes: 3/4 of the cylinder\"",
    body: thread_shear_area,
};

fn thread_shear_area(call: &Call) -> Result<Answer, Refusal> {
    let (threads, engagement) = (Threads::of(call)?, call.real("engagement"));
    Ok(Answer::new().number("screw", threads.screw * engagement).number("nut", threads.nut * engagement))
}

pub(super) static THREAD_STRIPPING: Function = Function {
    name: "thread_stripping",
    does: "pull at which a screw breaks or strips, or its nut strips",
    parameters: &[
        ENGAGEMENT,
        PITCH,
        MAJOR,
        PITCH_DIAMETER,
        MINOR,
        STRESS_AREA,
        SCREW,
        NUT,
        NUT_PITCH_DIAMETER,
        or_number("shear_ratio", FACTOR, 0.5, "ultimate shear over ultimate tensile strength"),
    ],
    outputs: &[
        force("screw_breaks", "pull that breaks the screw"),
        force("screw_strips", "pull that strips its threads"),
        force("nut_strips", "pull that strips the nut's threads"),
        force("load", "the least of them"),
        words("first", "what gives first"),
    ],
    formula: "screw_breaks = area screw_uts; screw_strips = shear_ratio screw_uts screw; nut_strips = \
              shear_ratio nut_uts nut, with the areas of `thread_shear_area`",
    validity: VALIDITY,
    source: SOURCE,
    caution: Some(Caution::LoadCarryingPart),
    example: "m16 = thread_stripping(engagement: 16 mm, pitch: 2 mm, d: 16 mm, pitch_diameter: 14.701 mm, \
              minor: 13.835 mm, area: 156.7 mm^2, screw_uts: 400 MPa, nut_uts: 150 MPa)\n\
              check m16.nut_strips within 52 kN .. 53 kN \"0.5 x 150 MPa x 7/8 of the cylinder\"\n\
              check m16.screw_breaks within 62 kN .. 63 kN \"the iron strips before the bolt breaks\"",
    body: thread_stripping,
};

fn thread_stripping(call: &Call) -> Result<Answer, Refusal> {
    let (threads, engagement) = (Threads::of(call)?, call.real("engagement"));
    let (ratio, screw, nut) = (call.real("shear_ratio"), call.real("screw_uts"), call.real("nut_uts"));
    let breaks = screw * call.real("area");
    let screw_strips = ratio * screw * threads.screw * engagement;
    let nut_strips = ratio * nut * threads.nut * engagement;
    let load = breaks.min(screw_strips).min(nut_strips);
    let answer = Answer::new()
        .number("screw_breaks", breaks)
        .number("screw_strips", screw_strips)
        .number("nut_strips", nut_strips)
        .number("load", load);
    Ok(if breaks <= load {
        answer.text("first", "the screw breaks")
    } else if nut_strips <= load {
        answer
            .text("first", "the nut strips")
            .warn("the thread strips before the screw breaks: it gives no sign")
    } else {
        answer
            .text("first", "the screw strips")
            .warn("the thread strips before the screw breaks: it gives no sign")
    })
}

pub(super) static THREAD_ENGAGEMENT: Function = Function {
    name: "thread_engagement",
    does: "how much thread must engage so that the screw breaks before the thread strips",
    parameters: &[PITCH, MAJOR, PITCH_DIAMETER, MINOR, STRESS_AREA, SCREW, NUT, NUT_PITCH_DIAMETER],
    outputs: &[
        length("engagement", "length of full thread"),
        number("nut_factor", "J, by how much a soft nut lengthens it; 1 or more"),
    ],
    formula: "Le = 2 At/(pi D1 (1/2 + (d2 - D1)/(sqrt(3) pitch))), times J = (screw screw_uts)/(nut \
              nut_uts) if J > 1, with the areas of `thread_shear_area`",
    validity: VALIDITY,
    source: SOURCE,
    caution: Some(Caution::LoadCarryingPart),
    example: "m16 = thread_engagement(pitch: 2 mm, d: 16 mm, pitch_diameter: 14.701 mm, minor: 13.835 mm, \
              area: 156.7 mm^2, screw_uts: 400 MPa, nut_uts: 400 MPa)\n\
              check m16.engagement within 9.5 mm .. 9.7 mm \"0.6 d between like materials\"",
    body: thread_engagement,
};

fn thread_engagement(call: &Call) -> Result<Answer, Refusal> {
    let threads = Threads::of(call)?;
    let like = 2.0 * call.real("area") / threads.screw;
    let softness = threads.screw * call.real("screw_uts") / (threads.nut * call.real("nut_uts"));
    let factor = softness.max(Real::exact(1.0));
    Ok(Answer::new().number("engagement", factor * like).number("nut_factor", factor))
}
