//! Threads that strip: areas in shear, what gives first, how much thread it takes.

use std::f64::consts::PI;

use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Sign, Source, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{
    force, in_work, length, needed, number, optional, or_from, or_number, table, words,
};
use crate::trade::thread::{self, Thread};

use super::{AREA, FACTOR, LENGTH, STRESS, area, within};
use crate::hazard::Hazard;

const ENGAGEMENT: Parameter = needed("engagement", LENGTH, "length of full thread in engagement Le");
const THREAD: Parameter = optional(
    "thread",
    Takes::Text,
    "a standard thread (\"M16\", \"1 1/4 BSW\"), for the sizes that are not given: the basic ones, without \
     tolerance",
);
const PITCH: Parameter = optional("pitch", LENGTH, "pitch, if there is no `thread`");
const MAJOR: Parameter = optional("major", LENGTH, "outside diameter of the screw, the least");
const PITCH_DIAMETER: Parameter =
    optional("pitch_diameter", LENGTH, "pitch diameter of the screw d2, the least");
const MINOR: Parameter = optional("minor", LENGTH, "minor diameter of the nut D1, the largest");
const NUT_PITCH_DIAMETER: Parameter = or_from(
    "nut_pitch_diameter",
    LENGTH,
    "pitch_diameter",
    "pitch diameter of the nut D2, the largest; as the screw's if not given",
);
const ANGLE: Parameter = or_from(
    "angle",
    Takes::Angle(Sign::Positive),
    "60 deg",
    "between the flanks; the thread's, or 60 deg: 55 deg for Whitworth, 47.5 deg for BA",
);
const STRESS_AREA: Parameter = optional("area", AREA, "stress area of the screw At");
const SCREW: Parameter = needed("screw_uts", STRESS, "ultimate tensile strength of the screw");
const NUT: Parameter = needed("nut_uts", STRESS, "ultimate tensile strength of the nut or tapped part");
const VALIDITY: &str = "Symmetric V threads; rounded crests and roots are taken as straight flanks. Even load \
                        on every thread is assumed; in fact the first few carry most, and more than about \
                        1.5 d adds little. Rules: 1 d in steel, 1.5 d in cast iron, 2 d in aluminium (common \
                        practice, no source).";
const SOURCE: &[Source] = &[in_work(
    "Machinery's Handbook",
    "31st ed.",
    "thread stripping and length of engagement (formulas long disputed; printed for 60 degrees, tan 30 written as the tangent of half the angle)",
)];

/// The sizes of a screw: as given, or from the table of threads.
struct Screw<'a> {
    call: &'a Call<'a>,
    thread: Option<&'static Thread>,
}

impl<'a> Screw<'a> {
    fn of(call: &'a Call<'a>) -> Result<Self, Refusal> {
        let named = call.text("thread");
        let thread = (!named.is_empty()).then(|| thread::one("thread", named)).transpose()?;
        Ok(Self { call, thread })
    }

    /// The figure given, else the thread's, which the table has in `unit` SI units.
    fn size(&self, name: &'static str, unit: f64, of: fn(&Thread) -> Option<f64>) -> Result<Real, Refusal> {
        let given = self.call.optional(name);
        let of_thread = || Some(Real::exact(of(self.thread?)? * unit));
        given.or_else(of_thread).ok_or_else(|| match self.thread {
            Some(thread) => Refusal::of(
                name,
                format!("the table has no `{name}` of {}", thread.full_name()),
                format!("Give `{name}` as a figure."),
            ),
            None => Refusal::of(
                name,
                format!("neither `{name}` nor `thread` is given"),
                format!("Give `{name}:` as a figure, or `thread:` by its designation."),
            ),
        })
    }

    fn stress_area(&self) -> Result<Real, Refusal> {
        self.size("area", 1e-6, |thread| thread.stress_area_mm2)
    }

    /// The tangent of the flank's slope.
    fn flank(&self) -> Result<Real, Refusal> {
        let angle = match self.thread.filter(|_| !self.call.is_given("angle")) {
            Some(thread) => Real::exact(thread.angle_deg.to_radians()),
            None => self.call.real("angle"),
        };
        if angle < PI / 2.0 {
            return Ok((angle / 2.0).tan());
        }
        Err(Refusal::of("angle", "the flanks of no thread are so flat", "Give 60 deg, 55 deg or 47.5 deg."))
    }
}

/// The threads of screw and nut by length of engagement.
struct Threads {
    /// Area in shear by length: of the screw's threads at the nut's minor diameter.
    screw: Real,
    /// Of the nut's threads at the screw's major diameter.
    nut: Real,
}

impl Threads {
    fn of(screw: &Screw) -> Result<Self, Refusal> {
        let d = screw.size("major", 1e-3, |thread| Some(thread.major_mm))?;
        let pitch = screw.size("pitch", 1e-3, |thread| Some(thread.pitch_mm))?;
        let mean = screw.size("pitch_diameter", 1e-3, |thread| Some(thread.pitch_diameter_mm))?;
        let minor = screw.size("minor", 1e-3, |thread| Some(thread.minor_nut_mm))?;
        let nut_mean = screw.call.optional("nut_pitch_diameter").unwrap_or(mean);
        within("pitch_diameter", "the pitch diameter", mean, "the major diameter", d)?;
        within("nut_pitch_diameter", "the nut's pitch diameter", nut_mean, "the major diameter", d)?;
        let flank = screw.flank()?;
        let of_screw = PI * minor * (0.5 + flank * (mean - minor) / pitch);
        let of_nut = PI * d * (0.5 + flank * (d - nut_mean) / pitch);
        if of_screw > 0.0 {
            return Ok(Self { screw: of_screw, nut: of_nut });
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
    parameters: &[ENGAGEMENT, PITCH, MAJOR, PITCH_DIAMETER, MINOR, NUT_PITCH_DIAMETER, ANGLE, THREAD],
    outputs: &[area("screw", "of the screw's threads"), area("nut", "of the nut's threads")],
    formula: table(
        "sizes that are not given: the basic ones of `thread` in the table of threads",
        "flank = tan(angle/2)\n\
         screw = pi*engagement*minor*(1/2 + flank*(pitch_diameter - minor)/pitch)\n\
         nut = pi*engagement*major*(1/2 + flank*(major - nut_pitch_diameter)/pitch)",
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: None,
    example: "m16 = thread_shear_area(engagement: 16 mm, pitch: 2 mm, major: 16 mm, pitch_diameter: 14.701 mm, \
              minor: 13.835 mm)\n\
              check m16.screw within 521 mm^2 .. 522 mm^2 \"basic sizes: 3/4 of the cylinder\"",
    body: thread_shear_area,
};

fn thread_shear_area(call: &Call) -> Result<Answer, Refusal> {
    let (threads, engagement) = (Threads::of(&Screw::of(call)?)?, call.real("engagement"));
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
        ANGLE,
        THREAD,
    ],
    outputs: &[
        force("screw_breaks", "pull that breaks the screw"),
        force("screw_strips", "pull that strips its threads"),
        force("nut_strips", "pull that strips the nut's threads"),
        force("load", "the least of them"),
        words("first", "what gives first"),
    ],
    formula: table(
        "sizes that are not given: the basic ones of `thread` in the table of threads",
        "flank = tan(angle/2)\n\
         screw = pi*engagement*minor*(1/2 + flank*(pitch_diameter - minor)/pitch)\n\
         nut = pi*engagement*major*(1/2 + flank*(major - nut_pitch_diameter)/pitch)\n\
         screw_breaks = area*screw_uts\n\
         screw_strips = shear_ratio*screw_uts*screw\n\
         nut_strips = shear_ratio*nut_uts*nut\n\
         load = min(screw_breaks, screw_strips, nut_strips)",
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: Some(Hazard::LoadCarryingPart),
    example: "m16 = thread_stripping(engagement: 16 mm, pitch: 2 mm, major: 16 mm, pitch_diameter: 14.701 mm, \
              minor: 13.835 mm, area: 156.7 mm^2, screw_uts: 400 MPa, nut_uts: 150 MPa)\n\
              check m16.nut_strips within 52 kN .. 53 kN \"0.5 x 150 MPa x 7/8 of the cylinder\"\n\
              check m16.screw_breaks within 62 kN .. 63 kN \"the iron strips before the bolt breaks\"",
    body: thread_stripping,
};

fn thread_stripping(call: &Call) -> Result<Answer, Refusal> {
    let given = Screw::of(call)?;
    let (threads, engagement) = (Threads::of(&given)?, call.real("engagement"));
    let (ratio, screw, nut) = (call.real("shear_ratio"), call.real("screw_uts"), call.real("nut_uts"));
    let breaks = screw * given.stress_area()?;
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
    parameters: &[
        PITCH,
        MAJOR,
        PITCH_DIAMETER,
        MINOR,
        STRESS_AREA,
        SCREW,
        NUT,
        NUT_PITCH_DIAMETER,
        ANGLE,
        THREAD,
    ],
    outputs: &[
        length("engagement", "length of full thread"),
        number("nut_factor", "J, by how much a soft nut lengthens it; 1 or more"),
    ],
    formula: table(
        "sizes that are not given: the basic ones of `thread` in the table of threads",
        "flank = tan(angle/2)\n\
         screw = pi*minor*(1/2 + flank*(pitch_diameter - minor)/pitch)\n\
         nut = pi*major*(1/2 + flank*(major - nut_pitch_diameter)/pitch)\n\
         nut_factor = max(1, screw*screw_uts/(nut*nut_uts))\n\
         engagement = nut_factor*2*area/screw",
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: Some(Hazard::LoadCarryingPart),
    example: "m16 = thread_engagement(pitch: 2 mm, major: 16 mm, pitch_diameter: 14.701 mm, minor: 13.835 mm, \
              area: 156.7 mm^2, screw_uts: 400 MPa, nut_uts: 400 MPa)\n\
              check m16.engagement within 9.5 mm .. 9.7 mm \"0.6 d between like materials\"\n\
              stud = thread_engagement(thread: \"1 1/4 BSW\", screw_uts: 400 MPa, nut_uts: 150 MPa)\n\
              check stud.engagement >= 1.25 in \"iron under a steel stud\"",
    body: thread_engagement,
};

fn thread_engagement(call: &Call) -> Result<Answer, Refusal> {
    let screw = Screw::of(call)?;
    let threads = Threads::of(&screw)?;
    let like = 2.0 * screw.stress_area()? / threads.screw;
    let softness = threads.screw * call.real("screw_uts") / (threads.nut * call.real("nut_uts"));
    let factor = softness.max(Real::exact(1.0));
    Ok(Answer::new().number("engagement", factor * like).number("nut_factor", factor))
}
