//! Screw threads: sizes by designation, sizes by rule, and what a found thread is.
//!
//! Takes: designations, diameters, pitches. Gives: basic sizes, stress areas, tap drills, and the standard
//! threads nearest to a measured one. Never: gives tolerances of classes (6g, 2A); taper and trapezoidal
//! threads are not held.

use std::f64::consts::FRAC_PI_4;

use super::declare::{
    angle, at_home, chosen, in_work, joined, length, lines, needed, number, open_table, optional, or_words,
    practice, quantity, share, size, table, words,
};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Said, Source, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;

mod designation;
pub mod identify;
mod table;

pub use designation::lookup;
pub(super) use table::TABLE as THREAD_TABLE;
pub use table::{System, Thread, threads};

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const DESIGNATION: Parameter =
    needed("designation", Takes::Text, "\"M12 x 1.75\", \"1/2-13 UNC\", \"1/2 BSW\", \"2 BA\", \"G 1/2\"");
const BASIC: &str = "basic sizes without tolerance: a real bolt is smaller, a real nut larger";
const STANDARDS: &[Source] = &[open_table(
    "ISO 261 and ISO 724 (metric), ASME B1.1 (UNC, UNF), BS 84 (BSW, BSF), BS 93 (BA), ISO 228-1 (G)",
    "",
    "rules and lists as in the table's head",
)];
const PITCH_DIAMETER: Output = size("pitch_diameter", "diameter where tooth and gap are equal");
const MINOR_BOLT: Output = size("minor_bolt", "core of the bolt");
const MINOR_NUT: Output = size("minor_nut", "hole of the nut");

/// The functions of this family.
pub const FUNCTIONS: &[&Function] = &[&THREAD, &STRESS_AREA, &TAP_DRILL, &SIZES, &IDENTIFY];

static THREAD: Function = Function {
    name: "thread",
    does: "basic sizes of a standard thread",
    parameters: &[DESIGNATION],
    outputs: &[
        size("major", "outside diameter of the bolt"),
        size("pitch", "pitch"),
        number("per_inch", "threads per inch"),
        PITCH_DIAMETER,
        MINOR_BOLT,
        MINOR_NUT,
        angle("angle", "between the flanks"),
    ],
    formula: table(
        "the row of the table of threads; pitch_diameter and minor diameters by the rules of `thread_sizes`",
        "",
    ),
    validity: BASIC,
    source: STANDARDS,
    hazard: None,
    example: "t = thread(\"M12\")\n\
              check t.pitch within 1.749 mm .. 1.751 mm\n\
              check t.minor_nut within 10.1 mm .. 10.11 mm",
    body: thread,
};

static STRESS_AREA: Function = Function {
    name: "thread_stress_area",
    does: "stress area of a standard thread, from the table",
    parameters: &[DESIGNATION],
    outputs: &[quantity("area", Dimension::AREA, ["mm^2", "in^2"], "area to put a bolt's pull on")],
    formula: table("the row of the table of threads, by the rules of `thread_sizes`", ""),
    validity: "bolts; pipe threads have none",
    source: &[
        in_work("ISO 898-1 (metric), ASME B1.1 (UNC, UNF)", "", ""),
        practice("the same definition for BSW, BSF and BA, where no standard prints it"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "area = thread_stress_area(\"M16\")\ncheck area within 156 mm^2 .. 158 mm^2",
    body: stress_area,
};

static TAP_DRILL: Function = Function {
    name: "thread_tap_drill",
    does: "hole to drill before tapping a standard thread, from the table",
    parameters: &[DESIGNATION],
    outputs: &[
        length("drill", "diameter of the hole"),
        share("thread", "thread depth over 1.299 pitch: the workshop's per cent of thread"),
    ],
    formula: table(
        "the row of the table of threads; where it has no drill, the basic hole of the nut. `thread` is as by `thread_share`",
        "",
    ),
    validity: "the percentage is meant for 60 deg threads, for the others it only compares drills",
    source: &[
        in_work("ISO 2306", "", "metric"),
        open_table("handbook tables", "", "UN"),
        in_work("BS 1157", "", "BSW, BSF"),
        in_work("Machinery's Handbook", "31st ed.", "percentage"),
    ],
    hazard: None,
    example: "hole = thread_tap_drill(\"M12\")\ncheck hole.drill within 10.1 mm .. 10.3 mm",
    body: tap_drill,
};

static SIZES: Function = Function {
    name: "thread_sizes",
    does: "basic sizes of a thread by rule, for pitches that no table lists",
    parameters: &[
        needed("major", LENGTH, "outside diameter of the bolt"),
        needed("pitch", LENGTH, "pitch"),
        or_words("form", "ISO", "ISO, UN, Whitworth or BA"),
    ],
    outputs: &[
        PITCH_DIAMETER,
        MINOR_BOLT,
        MINOR_NUT,
        quantity("stress_area", Dimension::AREA, ["mm^2", "in^2"], "area to put a bolt's pull on"),
    ],
    formula: lines(
        "pitch_diameter = major - (if form == \"Whitworth\" then 0.640327 else if form == \"BA\" then 0.6 else 0.649519)*pitch\n\
         minor_bolt = major - (if form == \"Whitworth\" then 1.280654 else if form == \"BA\" then 1.2 else 1.226869)*pitch\n\
         minor_nut = major - (if form == \"Whitworth\" then 1.280654 else if form == \"BA\" then 1.2 else 1.082532)*pitch\n\
         depth = if form == \"Whitworth\" then 0.9604905 else if form == \"BA\" then 0.9 else if form == \"UN\" then 0.974279 else 0.938194\n\
         stress_area = pi/4*(major - depth*pitch)^2",
    ),
    validity: BASIC,
    source: &[in_work("ISO 724, ISO 898-1, ASME B1.1, BS 84, BS 93", "", "")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "t = thread_sizes(major: 12 mm, pitch: 1.75 mm)\n\
              check t.stress_area within 84.2 mm^2 .. 84.4 mm^2",
    body: sizes,
};

static IDENTIFY: Function = Function {
    name: "identify_thread",
    does: "standard thread nearest to a measured one",
    parameters: &[
        optional("major", LENGTH, "outside diameter of the bolt"),
        optional("hole", LENGTH, "or the hole of the nut"),
        optional("pitch", LENGTH, "pitch, best over ten threads"),
        optional("per_inch", Takes::Positive(Dimension::NONE), "or threads per inch"),
    ],
    outputs: &[
        words("designation", "the nearest thread"),
        words("system", "the system it belongs to"),
        size("major", "its outside diameter"),
        size("pitch", "its pitch"),
        angle("angle", "between its flanks"),
    ],
    formula: table(
        "least sum of squared deviations, each over what tolerance, wear and reading explain: diameter 0.05 mm and on the worn side 0.12 pitch more, pitch 0.6 %",
        "",
    ),
    validity: "the remarks name the next and those that are easily taken for it; the flank angle tells 55 \
               from 60 deg",
    source: STANDARDS,
    hazard: None,
    example: "found = identify_thread(major: 12.6 mm, per_inch: 12)\n\
              check found.pitch within 2.116 mm .. 2.118 mm",
    body: identify_thread,
};

/// The one thread that the call's `designation` names.
fn named(call: &Call) -> Result<&'static Thread, Refusal> {
    one("designation", call.text("designation"))
}

/// The one thread of a designation, which the call gives as `parameter`.
pub(super) fn one(parameter: &'static str, designation: &str) -> Result<&'static Thread, Refusal> {
    let blame = |refusal: Refusal| Refusal { parameter: Some(parameter), ..refusal };
    match lookup(designation).map_err(blame)?.as_slice() {
        [only] => Ok(only),
        several => {
            let names: Vec<String> = several.iter().map(|thread| thread.full_name()).collect();
            let message = format!("`{}` is the size of several threads", designation.trim());
            Err(Refusal::of(parameter, message, format!("Write {}.", joined(&names))))
        }
    }
}

fn metres(mm: f64) -> Real {
    Real::exact(mm / 1e3)
}

fn thread(call: &Call) -> Result<Answer, Refusal> {
    let thread = named(call)?;
    Ok(Answer::new()
        .in_system(at_home(thread.measured_in()))
        .number("major", metres(thread.major_mm))
        .number("pitch", metres(thread.pitch_mm))
        .number("per_inch", Real::exact(thread.per_inch))
        .number("pitch_diameter", metres(thread.pitch_diameter_mm))
        .number("minor_bolt", metres(thread.minor_bolt_mm))
        .number("minor_nut", metres(thread.minor_nut_mm))
        .number("angle", Real::exact(thread.angle_deg.to_radians()))
        .remark(format!("{}, {}", thread.full_name(), thread.system.standard())))
}

fn stress_area(call: &Call) -> Result<Answer, Refusal> {
    let thread = named(call)?;
    match thread.stress_area_mm2 {
        Some(area) => {
            let answer = Answer::new().in_system(at_home(thread.measured_in()));
            Ok(answer.number("area", Real::exact(area / 1e6)))
        }
        None => Err(Refusal::of(
            "designation",
            format!("{} is a pipe thread: it has no stress area", thread.full_name()),
            "A pipe carries its pull in the wall that is left under the thread.",
        )),
    }
}

fn tap_drill(call: &Call) -> Result<Answer, Refusal> {
    let thread = named(call)?;
    let drill = thread.tap_drill_mm.unwrap_or(thread.minor_nut_mm);
    let height = (thread.major_mm - drill) / (1.299 * thread.pitch_mm);
    let answer = Answer::new()
        .in_system(at_home(thread.measured_in()))
        .number("drill", metres(drill))
        .number("thread", Real::exact(height));
    Ok(match thread.tap_drill_mm {
        Some(_) => answer.remark(Said::of(thread.full_name(), format!("drill {}", thread.tap_drill))),
        None => answer.remark(format!(
            "the table has no drill for {}: this is the nut's basic hole; take the next drill above it",
            thread.full_name()
        )),
    })
}

/// Pitch diameter, nut's hole and bolt's core below the outside diameter, and the mean diameter of the stress
/// area, in pitches.
const FORMS: &[(&str, [f64; 4])] = &[
    ("ISO", [0.649_519, 1.082_532, 1.226_869, 0.938_194]),
    ("UN", [0.649_519, 1.082_532, 1.226_869, 0.974_279]),
    ("Whitworth", [0.640_327, 1.280_654, 1.280_654, 0.960_490_5]),
    ("BA", [0.6, 1.2, 1.2, 0.9]),
];

fn sizes(call: &Call) -> Result<Answer, Refusal> {
    let (major, pitch) = (call.real("major"), call.real("pitch"));
    let [pitch_diameter, nut, bolt, stress] =
        chosen(call, "form", FORMS)?.map(|pitches| major - pitches * pitch);
    if bolt <= 0.0 {
        return Err(Refusal::of(
            "pitch",
            "the thread is deeper than the bolt is thick",
            "Check `major` and `pitch`.",
        ));
    }
    Ok(Answer::new()
        .number("pitch_diameter", pitch_diameter)
        .number("minor_bolt", bolt)
        .number("minor_nut", nut)
        .number("stress_area", stress.squared() * FRAC_PI_4))
}

fn identify_thread(call: &Call) -> Result<Answer, Refusal> {
    let either = |a: &'static str, b: &'static str| {
        let both = call.optional(a).is_some() && call.optional(b).is_some();
        let help = "Leave one of them out.";
        if both { Err(Refusal::of(b, format!("`{a}` and `{b}` are both given"), help)) } else { Ok(()) }
    };
    either("major", "hole")?;
    either("pitch", "per_inch")?;
    let mm = |name: &str| call.optional(name).map(|length| length.value() * 1e3);
    let hole = mm("hole");
    let pitch = mm("pitch").or(call.optional("per_inch").map(|per_inch| 25.4 / per_inch.value()));
    let options = identify::Options { inside: hole.is_some(), most: 3 };
    let found = identify::candidates(mm("major").or(hole), pitch, &options)?;
    let Some((nearest, others)) = found.split_first() else {
        return Err(Refusal::whole("no thread is near these dimensions", "Measure them again."));
    };
    Ok(described(nearest, others))
}

fn described(nearest: &identify::Candidate, others: &[identify::Candidate]) -> Answer {
    let answer = Answer::new()
        .in_system(at_home(nearest.measured_in))
        .text("designation", &*nearest.designation)
        .text("system", nearest.system)
        .number("major", metres(nearest.major_mm))
        .number("pitch", metres(nearest.pitch_mm))
        .number("angle", Real::exact(nearest.angle_deg.to_radians()))
        .remark(Said::of(&nearest.designation, &nearest.sure));
    let answer = nearest.twins.iter().fold(answer, |answer, twin| {
        answer.remark(Said::of(format!("easily taken for {}", twin.designation), &twin.tell))
    });
    others.iter().fold(answer, |answer, other| {
        answer.remark(Said::of(format!("next {}", other.designation), &other.sure))
    })
}
