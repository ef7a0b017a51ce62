//! Pitch diameter of an outside thread over three wires.

use std::f64::consts::FRAC_PI_3;

use super::SIZE;
use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Sign, Source, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{in_work, length, lines, needed, optional, or_number};

const PITCH: Parameter = needed("pitch", SIZE, "pitch of the thread; one over the threads per inch");
const WIRE: Parameter = needed("wire", SIZE, "diameter of the wires");
const ANGLE: Parameter = or_number(
    "angle",
    Takes::Angle(Sign::Positive),
    FRAC_PI_3,
    "angle between the flanks; 60° if not given, 55° for Whitworth",
);
const VALIDITY: &str = "symmetrical flanks, single start; the lead angle is not corrected for, which \
                        matters for coarse pitches on small diameters and for several starts";
const SOURCE: &[Source] =
    &[in_work("Machinery's Handbook", "31st ed.", "measuring screw threads (three-wire relation)")];

pub(super) static BEST_WIRE: Function = Function {
    name: "best_wire",
    does: "wire that touches a thread's flanks at the pitch diameter",
    parameters: &[PITCH, ANGLE],
    outputs: &[length("wire", "diameter of the best wire")],
    formula: lines("wire = pitch/(2*cos(angle/2))"),
    validity: VALIDITY,
    source: SOURCE,
    hazard: None,
    example: r"wire = best_wire(1.5 mm)
check wire within 0.8660 mm .. 0.8661 mm",
    body: |call| Ok(Answer::new().number("wire", best(call.real("pitch"), half(call)?))),
};

pub(super) static OVER_WIRES: Function = Function {
    name: "over_wires",
    does: "what a thread should measure over three wires",
    parameters: &[
        PITCH,
        WIRE,
        optional("pitch_diameter", SIZE, "pitch diameter of the thread"),
        optional("major", SIZE, "basic major diameter of a 60° thread, if its pitch diameter is not given"),
        ANGLE,
    ],
    outputs: &[
        length("over", "measurement over the wires"),
        length("best_wire", "diameter of the best wire"),
    ],
    formula: lines(
        "over = major + 3*wire - 1.5155*pitch # from the basic major diameter, 60 deg\n\
         over = pitch_diameter + wire*(1 + 1/sin(angle/2)) - pitch/(2*tan(angle/2)) # with pitch_diameter\n\
         best_wire = pitch/(2*cos(angle/2))",
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: None,
    example: r"m10 = over_wires(1.5 mm, wire: 0.866 mm, pitch_diameter: 9.026 mm)
check m10.over within 10.3249 mm .. 10.3251 mm",
    body: over_wires,
};

pub(super) static PITCH_DIAMETER: Function = Function {
    name: "pitch_diameter_over_wires",
    does: "pitch diameter of a thread from its measurement over three wires",
    parameters: &[needed("over", SIZE, "measurement over the wires"), PITCH, WIRE, ANGLE],
    outputs: &[length("pitch_diameter", "pitch diameter")],
    formula: lines("pitch_diameter = over - wire*(1 + 1/sin(angle/2)) + pitch/(2*tan(angle/2))"),
    validity: VALIDITY,
    source: SOURCE,
    hazard: None,
    example: r"d2 = pitch_diameter_over_wires(10.325 mm, pitch: 1.5 mm, wire: 0.866 mm)
check d2 within 9.0259 mm .. 9.0262 mm",
    body: |call| {
        let half = half(call)?;
        let diameter = call.real("over") - stand_off(call.real("pitch"), call.real("wire"), half);
        if diameter > 0.0 {
            return Ok(judge_wire(Answer::new().number("pitch_diameter", diameter), call, half));
        }
        let message = "the wires alone measure more than that over a thread of this pitch";
        Err(Refusal::of(
            "over",
            message,
            "Give the measurement over both sides, and the wires' own diameter.",
        ))
    },
};

/// Half the angle between the flanks.
fn half(call: &Call) -> Result<Real, Refusal> {
    let angle = call.real("angle");
    if angle < std::f64::consts::PI {
        return Ok(angle / 2.0);
    }
    Err(Refusal::of("angle", "flanks of 180° or more make no thread", "Give the angle in degrees: `60 deg`."))
}

fn best(pitch: Real, half: Real) -> Real {
    pitch / (2.0 * half.cos())
}

/// What the wires add to the pitch diameter.
fn stand_off(pitch: Real, wire: Real, half: Real) -> Real {
    wire * (1.0 + 1.0 / half.sin()) - pitch / (2.0 * half.tan())
}

/// A wire under 0.875 of the best one lies below the crests of a full 60° thread, one over 1.75 rides on them.
fn judge_wire(answer: Answer, call: &Call, half: Real) -> Answer {
    let ratio = call.real("wire").value() / best(call.real("pitch"), half).value();
    if (0.875..=1.75).contains(&ratio) {
        return answer;
    }
    answer.warn(format!("the wires are {ratio:.2} times the best wire: they do not bear on the flanks"))
}

fn over_wires(call: &Call) -> Result<Answer, Refusal> {
    let (pitch, wire, half) = (call.real("pitch"), call.real("wire"), half(call)?);
    let sixty = (half.value() - FRAC_PI_3 / 2.0).abs() < 1e-9;
    let over = match (call.optional("pitch_diameter"), call.optional("major")) {
        (Some(diameter), _) => diameter + stand_off(pitch, wire, half),
        (None, Some(major)) if sixty => major + 3.0 * wire - 1.5155 * pitch,
        (None, Some(_)) => {
            let message = "from the major diameter only 60° threads are worked out";
            return Err(Refusal::of("major", message, "Give `pitch_diameter` instead."));
        }
        (None, None) => {
            let message = "no diameter of the thread is given";
            return Err(Refusal::of(
                "pitch_diameter",
                message,
                "Give `pitch_diameter`, or `major` for a 60° thread.",
            ));
        }
    };
    let answer = Answer::new().number("over", over).number("best_wire", best(pitch, half));
    Ok(judge_wire(answer, call, half))
}
