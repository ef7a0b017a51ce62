//! Rolling bearings in calculations: by designation, and by measured dimensions.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Said, Source, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{at_home, force, joined, needed, open_table, optional, size, table, words};

use super::designation::{Found, lookup};
use super::identify::{self, Options};

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const DESIGNATION: Parameter =
    needed("designation", Takes::Text, "as it is written: \"6205-2RS\", \"NU 205\", \"RLS 8\"");
const BORE: Output = size("bore", "bore");
const OUTSIDE: Output = size("outside", "outside diameter");
const WIDTH: Output = size("width", "width of the inner ring, or height of a thrust bearing");
const TYPE: Output = words("type", "kind of bearing");
const STANDARD: Output = words("standard", "the plan or series that fixes the dimensions");
const PLANS: &[Source] = &[open_table(
    "ISO 15 (radial), ISO 104 (thrust), ISO 355 (tapered), ABMA/ANSI inch series, BS 292 (RLS, RMS)",
    "",
    "boundary dimensions from packages, catalogues and textbooks that agree, see the table's head",
)];

pub(super) static BEARING: Function = Function {
    name: "bearing",
    does: "boundary dimensions of a rolling bearing by its designation",
    parameters: &[DESIGNATION],
    outputs: &[BORE, OUTSIDE, WIDTH, TYPE, STANDARD],
    formula: table("the row of the table of bearings", ""),
    validity: "nominal sizes; 1610 bearings. An old bearing may follow its maker's own list: measure it as \
               well",
    source: PLANS,
    hazard: Some(Hazard::MovingMachinery),
    example: "b = bearing(\"6205\")\n\
              check b.bore within 24.99 mm .. 25.01 mm\n\
              check b.outside within 51.99 mm .. 52.01 mm",
    body: bearing,
};

pub(super) static RATINGS: Function = Function {
    name: "bearing_ratings",
    does: "basic load ratings of a deep groove ball bearing",
    parameters: &[DESIGNATION],
    outputs: &[
        force("dynamic", "basic dynamic load rating C"),
        force("static", "basic static load rating C0"),
    ],
    formula: table("the row of the table of bearings", ""),
    validity: "87 metric deep groove bearings; a bearing of 1930 carries a half to two thirds of it: take \
               the catalogue of its own time if there is one",
    source: &[open_table("machine-design textbook", "", "table 14-3, as carried by a public package")],
    hazard: Some(Hazard::MovingMachinery),
    example: "c = bearing_ratings(\"6205\")\ncheck c.dynamic within 13.9 kN .. 14.9 kN",
    body: ratings,
};

pub(super) static IDENTIFY: Function = Function {
    name: "identify_bearing",
    does: "standard bearing nearest to measured dimensions",
    parameters: &[
        optional("bore", LENGTH, "measured bore"),
        optional("outside", LENGTH, "measured outside diameter"),
        optional("width", LENGTH, "measured width"),
        optional("height", LENGTH, "measured height: looks at thrust bearings only"),
    ],
    outputs: &[words("designation", "the nearest bearing"), TYPE, BORE, OUTSIDE, WIDTH],
    formula: table(
        "least sum of squared deviations, each over what wear and reading explain: bore +0.20/-0.05 mm, outside +0.05/-0.20 mm, width +0.05/-0.35 mm",
        "",
    ),
    validity: "boundary dimensions alone do not give the type: the remark lists all that have them",
    source: PLANS,
    hazard: None,
    example: "found = identify_bearing(bore: 50.1 mm, outside: 70 mm, height: 14 mm)\n\
              check found.bore within 49.9 mm .. 50.1 mm",
    body: identify_bearing,
};

/// The one bearing of the designation in the call; one named whole goes before those named by half.
fn one(call: &Call) -> Result<Found, Refusal> {
    let designation = call.text("designation");
    let found = lookup(designation)?;
    match found.as_slice() {
        [only] => Ok(only.clone()),
        [first, ..] if !first.by_half => Ok(first.clone()),
        several => {
            let names: Vec<String> = several.iter().map(|each| each.designation.clone()).collect();
            let message = format!("`{designation}` is half of several bearings");
            Err(Refusal::of("designation", message, format!("Write {}.", joined(&names))))
        }
    }
}

fn bearing(call: &Call) -> Result<Answer, Refusal> {
    let Found { bearing, designation, notes, .. } = one(call)?;
    let answer = dimensions(
        Answer::new().in_system(at_home(bearing.system)),
        [bearing.bore_mm, bearing.outside_mm, bearing.width_mm],
    )
    .text("type", bearing.type_)
    .text("standard", bearing.standard);
    let answer = notes.into_iter().fold(answer, |answer, note| answer.remark(Said::of(&designation, note)));
    let answer = match bearing.overall_mm {
        Some(overall) => answer.remark(format!("overall width {overall:.2} mm")),
        None => answer,
    };
    Ok(if bearing.sources < 2 { answer.remark("dimensions from one source only") } else { answer })
}

fn dimensions(answer: Answer, [bore, outside, width]: [f64; 3]) -> Answer {
    let metres = |mm: f64| Real::exact(mm / 1e3);
    answer.number("bore", metres(bore)).number("outside", metres(outside)).number("width", metres(width))
}

fn ratings(call: &Call) -> Result<Answer, Refusal> {
    let found = one(call)?;
    match (found.bearing.dynamic_kn, found.bearing.static_kn) {
        (Some(dynamic), Some(at_rest)) => Ok(Answer::new()
            .number("dynamic", Real::exact(dynamic * 1e3))
            .number("static", Real::exact(at_rest * 1e3))),
        _ => Err(Refusal::of(
            "designation",
            format!("the table has no load ratings for {}", found.designation),
            "Take them from a maker's catalogue, best of the bearing's own time.",
        )),
    }
}

fn identify_bearing(call: &Call) -> Result<Answer, Refusal> {
    let mm = |name: &str| call.optional(name).map(|length| length.value() * 1e3);
    let (width, height) = (mm("width"), mm("height"));
    if width.is_some() && height.is_some() {
        return Err(Refusal::of(
            "height",
            "`width` and `height` are both given",
            "Leave one out; height is for thrust bearings.",
        ));
    }
    let options = Options { thrust_only: height.is_some(), most: 4 };
    let found = identify::candidates(mm("bore"), mm("outside"), width.or(height), &options)?;
    let Some((nearest, others)) = found.split_first() else {
        return Err(Refusal::whole("no bearing is near these dimensions", "Measure them again."));
    };
    let answer = Answer::new()
        .in_system(at_home(nearest.system))
        .text("designation", nearest.designation)
        .text("type", nearest.type_);
    let answer = dimensions(answer, [nearest.bore_mm, nearest.outside_mm, nearest.width_mm])
        .remark(Said::of(nearest.designation, &nearest.sure));
    Ok(others.iter().fold(answer, |answer, other| {
        answer.remark(format!(
            "next {} ({}), {} x {} x {} mm: {}",
            other.designation,
            other.type_,
            trimmed(other.bore_mm),
            trimmed(other.outside_mm),
            trimmed(other.width_mm),
            other.sure
        ))
    }))
}

/// To the micrometre, without trailing zeros.
fn trimmed(mm: f64) -> f64 {
    (mm * 1e3).round() / 1e3
}
