//! Short link chains that lift: what they may carry by bar and grade, and when they are worn out.

use std::f64::consts::PI;

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Refusal, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{
    chosen, force, lines, needed, open_table, optional, or_number, recalled, share, words,
};

use super::{LENGTH, PITCH};
use crate::hazard::Hazard;

/// What a grade breaks at: the mean stress in both sides of the link, Pa (ISO 1834, EN 818-1).
const GRADES: &[(&str, f64)] =
    &[("4", 400e6), ("M", 400e6), ("6", 630e6), ("S", 630e6), ("8", 800e6), ("T", 800e6)];
/// Growth of the pitch at which a hoist chain is discarded (ISO 7592, from memory).
const GROWN: f64 = 0.02;
/// Loss of the mean bar diameter at which any lifting chain is discarded (ISO 7592, EN 818-6; from memory).
const THINNED: f64 = 0.10;

pub(super) static LINK_CHAIN: Function = Function {
    name: "link_chain",
    does: "breaking load and working load of a short link chain by its bar and grade",
    parameters: &[
        needed("bar", LENGTH, "diameter of the bar when new"),
        needed("grade", Takes::Text, "mark on the chain: \"4\" or \"M\", \"6\" or \"S\", \"8\" or \"T\""),
        or_number(
            "factor",
            Takes::Positive(Dimension::NONE),
            4.0,
            "breaking load over working load: 4 by hand, more under power or by local rule",
        ),
    ],
    outputs: &[
        force("breaking", "least breaking load when new"),
        force("working", "the most that one fall may carry"),
    ],
    formula: lines(
        "stress = if grade == \"8\" or grade == \"T\" then 800 MPa else if grade == \"6\" or grade == \"S\" then 630 MPa else 400 MPa\n\
         breaking = stress*2*pi/4*bar^2\n\
         working = breaking/factor",
    ),
    validity: "a chain with a legible grade mark, unworn, pulled straight. No mark, no figure: wrought iron \
               and unmarked chain are for a test house. The marked or certified working load goes before \
               this one; standards round it down",
    source: &[
        recalled("ISO 1834", "", "grades by mean stress at the breaking load"),
        open_table("EN 818-1", "", "grades by mean stress at the breaking load"),
        recalled("EN 818-7", "", "factor of hoist chain"),
    ],
    hazard: Some(Hazard::Lifting),
    example: "chain = link_chain(bar: 13 mm, grade: \"8\")\n\
              check chain.breaking within 211 kN .. 213 kN \"grade T of EN 818-1: 800 N/mm2\"\n\
              check chain.working >= 52 kN \"5.3 t\"",
    body: link_chain,
};

fn link_chain(call: &Call) -> Result<Answer, Refusal> {
    let factor = call.real("factor");
    if factor < 1.0 {
        let message = "a working load above the breaking load is none";
        return Err(Refusal::of("factor", message, "Give 4, or more."));
    }
    let stress = chosen(call, "grade", GRADES)?;
    let breaking = stress * PI / 2.0 * call.real("bar").squared();
    let answer = Answer::new().number("breaking", breaking).number("working", breaking / factor);
    Ok(if factor < 4.0 {
        answer.warn("a factor under 4 is less than any lifting chain is used with")
    } else {
        answer
    })
}

pub(super) static LINK_CHAIN_WEAR: Function = Function {
    name: "link_chain_wear",
    does: "growth and loss of bar of a short link chain, and whether they are past the usual limits",
    parameters: &[
        PITCH,
        needed("links", Takes::Count, "links measured over: 11 or more, or the few that look worst"),
        needed("length", LENGTH, "their length, pulled straight: so many pitches"),
        optional("bar", LENGTH, "diameter of the bar when new"),
        optional("worn", LENGTH, "where it is thinnest, the mean of two readings at right angles"),
    ],
    outputs: &[
        share("growth", "growth over the new length"),
        share("thinning", "loss of the bar's diameter; left out where the bar was not measured"),
        words("verdict", "by the values; checks on `growth` and `thinning` judge with the uncertainty"),
    ],
    formula: lines(
        "growth = length/(links*pitch) - 1\n\
         thinning = 1 - worn/bar # with worn",
    ),
    validity: "hoist chain over a pocketed wheel: discard at 2 % of growth or 10 % of the bar, its maker's \
               sheet may say less; slings: 5 % of growth. Cracks, nicks, twisted or bent links and stiff links \
               condemn a chain whatever it measures",
    source: &[recalled("ISO 7592", "", "hoist chain"), recalled("EN 818-6", "", "slings")],
    hazard: Some(Hazard::Lifting),
    example: "old = link_chain_wear(pitch: 31 mm, links: 11, length: 349 mm, bar: 10 mm, worn: 9.4 mm)\n\
              check old.growth within 2.3 % .. 2.4 %\n\
              check old.thinning within 5.9 % .. 6.1 %",
    body: link_chain_wear,
};

fn link_chain_wear(call: &Call) -> Result<Answer, Refusal> {
    let growth = call.real("length") / (f64::from(call.count("links")) * call.real("pitch")) - 1.0;
    let thinning = thinning(call)?;
    let answer = Answer::new().number("growth", growth);
    let answer = thinning.into_iter().fold(answer, |answer, loss| answer.number("thinning", loss));
    let is_thin = thinning.is_some_and(|loss| loss >= THINNED);
    let verdict = match (growth >= GROWN, is_thin) {
        (true, true) => "worn out by its values: grown and thin",
        (true, false) => "worn out by its value: grown",
        (false, true) => "worn out by its value: thin",
        (false, false) if growth < -0.005 => "shorter than new: check the pitch and the links counted",
        (false, false) => "within the usual limits by its value",
    };
    Ok(answer.text("verdict", verdict))
}

/// The share of the bar's diameter that is gone; nothing where it was not measured.
fn thinning(call: &Call) -> Result<Option<Real>, Refusal> {
    match (call.optional("bar"), call.optional("worn")) {
        (Some(bar), Some(worn)) => Ok(Some(1.0 - worn / bar)),
        (None, None) => Ok(None),
        (Some(_), None) => Err(half_measured("worn")),
        (None, Some(_)) => Err(half_measured("bar")),
    }
}

fn half_measured(missing: &'static str) -> Refusal {
    let help = "Give the bar's diameter both new and worn, or neither.";
    Refusal::of(missing, format!("the bar needs its `{missing}` too"), help)
}
