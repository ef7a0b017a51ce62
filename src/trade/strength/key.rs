//! Parallel keys, their sizes, and the hub they drive.

use std::f64::consts::PI;

use crate::calc::function::{Answer, Call, Function, Parameter, Refusal};
use crate::calc::real::Real;
use crate::trade::declare::{
    by_formula, chosen, force, in_work, length, lines, needed, open_table, or_from, or_number, or_words,
    recalled, stress, table,
};
use crate::trade::table::{Row, Table};

use super::shaft::TORQUE;
use super::{FACTOR, LENGTH, STRESS, say, within};
use crate::hazard::Hazard;

pub(in crate::trade) static TABLE: Table = Table::of(include_str!("../data/keys.csv"));

const SHAFT: Parameter = needed("d", LENGTH, "diameter of the shaft D");
const WIDTH: Parameter = needed("width", LENGTH, "width of the key b");
const HEIGHT: Parameter = needed("height", LENGTH, "height of the key h");
const SHEAR: Parameter = needed("shear", STRESS, "allowable shear stress");
const CRUSHING: Parameter = needed("crushing", STRESS, "allowable pressure on the flanks");
const VALIDITY: &str = "Even pressure along the key, straight part only; up to 1.5 D long, longer keys do \
                        not load evenly. With shock divide the allowable stresses by 1.5 to 2.";

/// A longer key than this times the shaft does not load evenly.
const LONGEST: f64 = 1.5;

/// How far a size may be off a limit of the table by the rounding of units.
const ROUNDING: f64 = 1e-9;

/// The standard key of a range of shafts; all in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeySize {
    /// Shafts over this.
    pub over: f64,
    /// Up to and including this.
    pub to: f64,
    /// Width of the key.
    pub width: f64,
    /// Height of the key.
    pub height: f64,
    /// Depth of the keyway in the shaft, from the edge of the flat (metric: from the diameter).
    pub shaft_depth: f64,
    /// Depth of the keyway in the hub.
    pub hub_depth: f64,
}

impl KeySize {
    fn read(row: &Row) -> Option<Self> {
        let figure = |column| row.number(column).map(|millimetres| millimetres * 1e-3);
        Some(Self {
            over: figure("over_mm")?,
            to: figure("to_mm")?,
            width: figure("width_mm")?,
            height: figure("height_mm")?,
            shaft_depth: figure("shaft_depth_mm")?,
            hub_depth: figure("hub_depth_mm")?,
        })
    }
}

/// The standard key for a shaft of `d` metres: `system` is `metric` (DIN 6885-1) or `inch` (ANSI B17.1).
///
/// # Errors
/// The range of shafts, in metres, for which the standard has keys, if `d` is outside it.
pub fn key_size(system: &str, d: f64) -> Result<KeySize, [f64; 2]> {
    let rows = || TABLE.rows().iter().filter(|row| row.text("system") == system).filter_map(KeySize::read);
    let up_to = |limit: f64| d <= limit * (1.0 + ROUNDING);
    let found = rows().find(|size| !up_to(size.over) && up_to(size.to));
    found.ok_or_else(|| {
        rows().fold([f64::INFINITY, 0.0], |[low, high], size| [low.min(size.over), high.max(size.to)])
    })
}

pub(super) static KEY_SIZE: Function = Function {
    name: "key_size",
    does: "standard parallel key for a shaft",
    parameters: &[
        SHAFT,
        or_words("system", "metric", "\"metric\" (DIN 6885-1) or \"inch\" (ANSI B17.1, square)"),
    ],
    outputs: &[
        length("width", "width of the key"),
        length("height", "height of the key"),
        length("shaft_depth", "depth of the keyway in the shaft"),
        length("hub_depth", "depth of the keyway in the hub"),
    ],
    formula: table("the row of the standard's table with over < d <= to", ""),
    validity: "Shafts over 6 to 500 mm, or over 5/16 to 11 in (flat above 6 1/2 in). Inch depths are half \
               the height, from the side of the keyway.",
    source: &[open_table("DIN 6885-1, ISO/R 773", "", ""), open_table("ANSI B17.1", "1967", "table 1")],
    hazard: None,
    example: "key = key_size(d: 40 mm)\n\
              check key.width within 11.99 mm .. 12.01 mm \"DIN 6885-1: 12 x 8\"",
    body: key_size_of,
};

fn key_size_of(call: &Call) -> Result<Answer, Refusal> {
    let system = chosen(call, "system", &[("metric", "metric"), ("inch", "inch")])?;
    let d = call.real("d");
    let size = key_size(system, d.value()).map_err(|range| {
        let [low, high] = range.map(|bound| say::length(Real::exact(bound)));
        Refusal::of(
            "d",
            format!("the standard has no key for a shaft of {}", say::length(d)),
            format!("Its table runs from over {low} to {high}."),
        )
    })?;
    let figure = |figure: f64| Real::exact(figure);
    Ok(Answer::new()
        .number("width", figure(size.width))
        .number("height", figure(size.height))
        .number("shaft_depth", figure(size.shaft_depth))
        .number("hub_depth", figure(size.hub_depth)))
}

pub(super) static KEY_STRESS: Function = Function {
    name: "key_stress",
    does: "shear and crushing of a parallel key",
    parameters: &[
        TORQUE,
        SHAFT,
        WIDTH,
        HEIGHT,
        needed("length", LENGTH, "length that bears L"),
        or_from(
            "depth",
            LENGTH,
            "height/2",
            "depth that bears in the weaker part; half the height if not given",
        ),
    ],
    outputs: &[
        force("force", "at the surface of the shaft"),
        stress("shear_stress", "in the key"),
        stress("crushing", "pressure on the flanks"),
    ],
    formula: lines(
        "force = 2*torque/d\n\
         shear_stress = force/(width*length)\n\
         crushing = force/(depth*length)",
    ),
    validity: VALIDITY,
    source: &[
        in_work("Sadhu Singh, Machine Design I", "", "ch. 7"),
        in_work("T. H. Wentzell, Machine Design", "", "ch. 15"),
        recalled("DIN 6892", "", "bearing on the true depth"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "key = key_stress(torque: 180 in·lbf, d: 0.5 in, width: 1/8 in, height: 1/8 in, length: 0.472 \
              in)\n\
              check key.shear_stress within 12.1 ksi .. 12.3 ksi \"Wentzell, example 15.1: 30.5 ksi/2.5\"",
    body: key_stress,
};

fn key_stress(call: &Call) -> Result<Answer, Refusal> {
    let [torque, d, width, height, length] =
        ["torque", "d", "width", "height", "length"].map(|name| call.real(name));
    within("width", "the key", width, "the shaft", d)?;
    let depth = call.real("depth");
    within("depth", "the depth that bears", depth, "the height of the key", height)?;
    let force = 2.0 * torque / d;
    let answer = Answer::new()
        .number("force", force)
        .number("shear_stress", force / (width * length))
        .number("crushing", force / (depth * length));
    Ok(too_long(answer, length, d))
}

pub(super) static KEY_LENGTH: Function = Function {
    name: "key_length",
    does: "how long a parallel key must be",
    parameters: &[
        TORQUE,
        SHAFT,
        WIDTH,
        HEIGHT,
        SHEAR,
        CRUSHING,
        or_number("safety", FACTOR, 1.0, "factor of safety S"),
    ],
    outputs: &[
        length("length_shear", "for shear"),
        length("length_crush", "for crushing"),
        length("length", "the longer of both"),
    ],
    formula: lines(
        "length_shear = safety*2*torque/(shear*width*d)\n\
         length_crush = safety*4*torque/(crushing*height*d)\n\
         length = max(length_shear, length_crush)",
    ),
    validity: VALIDITY,
    source: &[
        in_work("T. H. Wentzell, Machine Design", "", "Example 15.1 (p. 332)"),
        in_work("Sadhu Singh, Machine Design I", "", "Example 7.8 (p. 208)"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "key = key_length(torque: 180 in·lbf, d: 0.5 in, width: 1/8 in, height: 1/8 in, shear: 30500 \
              psi, crushing: 51000 psi, safety: 2.5)\n\
              check key.length within 0.56 in .. 0.57 in \"Wentzell, example 15.1: 0.56\"",
    body: key_length,
};

fn key_length(call: &Call) -> Result<Answer, Refusal> {
    let [torque, d, width, height] = ["torque", "d", "width", "height"].map(|name| call.real(name));
    within("width", "the key", width, "the shaft", d)?;
    let force = call.real("safety") * 2.0 * torque / d;
    let shear = force / (call.real("shear") * width);
    let crush = 2.0 * force / (call.real("crushing") * height);
    let length = shear.max(crush);
    let answer =
        Answer::new().number("length_shear", shear).number("length_crush", crush).number("length", length);
    Ok(too_long(answer, length, d))
}

fn too_long(answer: Answer, length: Real, d: Real) -> Answer {
    if length <= LONGEST * d {
        return answer;
    }
    answer.warn(format!(
        "a key of {} is longer than 1.5 times the shaft ({}) and does not load evenly: take a second key \
         or a bigger one",
        say::length(length),
        say::length(LONGEST * d)
    ))
}

pub(super) static KEY_BALANCED: Function = Function {
    name: "key_balanced",
    does: "key that is as strong in crushing as in shear, and as strong as its shaft",
    parameters: &[SHAFT, WIDTH, SHEAR, CRUSHING],
    outputs: &[
        length("height", "height of the key"),
        length("length", "length, for equal shear stress in the shaft"),
    ],
    formula: lines(
        "height = 2*width*shear/crushing\n\
         length = pi*d^2/(8*width)",
    ),
    validity: VALIDITY,
    source: &[in_work("Sadhu Singh, Machine Design I", "", "Example 7.7 (p. 208)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "key = key_balanced(d: 50 mm, width: 15 mm, shear: 42 MPa, crushing: 72 MPa)\n\
              check key.height within 17.4 mm .. 17.6 mm \"Sadhu Singh, example 7.7: 17.5\"\n\
              check key.length within 65.4 mm .. 65.5 mm \"the same: 65.45\"",
    body: key_balanced,
};

fn key_balanced(call: &Call) -> Result<Answer, Refusal> {
    let (d, width) = (call.real("d"), call.real("width"));
    within("width", "the key", width, "the shaft", d)?;
    let length = PI / 8.0 * d.squared() / width;
    let answer = Answer::new()
        .number("height", 2.0 * width * call.real("shear") / call.real("crushing"))
        .number("length", length);
    Ok(too_long(answer, length, d))
}

pub(super) static TANGENT_KEYS: Function = Function {
    name: "tangent_keys",
    does: "size of a pair of square tangent keys at right angles",
    parameters: &[TORQUE, SHAFT, WIDTH, needed("length", LENGTH, "length that bears L")],
    outputs: &[force("force", "on each key"), stress("shear_stress", "across the diagonal of the key")],
    formula: lines(
        "force = torque/d\n\
         shear_stress = force/(sqrt(2)*width*length)",
    ),
    validity: "Two keys driven up evenly, torque both ways; heavy old drives.",
    source: &[open_table("a textbook of machine design", "", "question 7.24, published solution")],
    hazard: Some(Hazard::MovingMachinery),
    example: "keys = tangent_keys(torque: 2000 N·m, d: 100 mm, width: 25 mm, length: 100 mm)\n\
              check keys.force within 19.9 kN .. 20.1 kN \"T/D\"",
    body: by_formula,
};

pub(super) static FLANGE_THICKNESS: Function = Function {
    name: "flange_thickness",
    does: "how thick a flange must be where it joins its hub",
    parameters: &[TORQUE, needed("hub", LENGTH, "outside diameter of the hub"), SHEAR],
    outputs: &[length("thickness", "of the flange at the hub")],
    formula: lines("thickness = 2*torque/(pi*hub^2*shear)"),
    validity: "Shear round the hub only; castings are made thicker than this.",
    source: &[in_work("Sadhu Singh, Machine Design I", "", "Example 7.10 (p. 212)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "flange = flange_thickness(torque: 800 N·m, hub: 70 mm, shear: 10 MPa)\n\
              check flange within 10.3 mm .. 10.5 mm \"Sadhu Singh, example 7.10: 10.4\"",
    body: by_formula,
};
