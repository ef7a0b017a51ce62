//! Tubes that stick out, spigots in sockets, walls that are worn.

use crate::calc::function::{Answer, Call, Function, Refusal};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    by_formula, chosen, derived, length, lines, needed, open_table, or_words, practice, recalled, share,
    stress, words,
};

use super::round::Round;
use super::{
    BORE, D, FORCE, LENGTH, MATERIAL, OFFSET, YIELD, area, say, section_modulus, within, yield_strength,
};

pub(super) static TUBE_STUB: Function = Function {
    name: "tube_stub",
    does: "stresses at the root of a round bar or tube that sticks out and is loaded at its end",
    parameters: &[
        needed("force", FORCE, "load F"),
        needed("length", OFFSET, "from the root to the load"),
        D,
        BORE,
    ],
    outputs: &[
        stress("bending_stress", "at top and bottom of the root"),
        stress("shear_stress", "the largest, at mid-height"),
    ],
    formula: lines(
        "area = pi/4*(d^2 - bore^2)\n\
         W = pi/32*(d^4 - bore^4)/d\n\
         bending_stress = force*length/W\n\
         shear_stress = 4*force/(3*area)*(d^2 + d*bore + bore^2)/(d^2 + bore^2)",
    ),
    validity: "Elastic, even wall, root without notch; a thin tube (d/wall above 50) needs a check of its \
               wall.",
    source: &[open_table("J. M. Gere, Mechanics of Materials", "", "equation 5-41 and Example 5-11")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "stub = tube_stub(force: 2 kN, length: 100 mm, d: 60 mm, bore: 44 mm)\n\
              check stub.bending_stress within 13.2 MPa .. 13.4 MPa \"200 N·m/15.07 cm^3\"",
    body: tube_stub,
};

fn tube_stub(call: &Call) -> Result<Answer, Refusal> {
    let (round, force) = (Round::of(call)?, call.real("force"));
    let answer = Answer::new()
        .number("bending_stress", force * call.real("length") / round.section_modulus())
        .number("shear_stress", round.shear_peak(force));
    let slenderness = round.d / ((round.d - round.bore) / 2.0);
    Ok(if slenderness > 50.0 {
        answer.warn(format!(
            "the tube is {} times its wall: the wall may buckle first, see `tube_class`",
            say::figures(slenderness.value())
        ))
    } else {
        answer
    })
}

pub(super) static SPIGOT: Function = Function {
    name: "spigot",
    does: "pressures of a spigot, post or peg in its socket",
    parameters: &[
        needed("force", FORCE, "sideways load F"),
        needed("arm", OFFSET, "from the mouth of the socket to the load a"),
        needed("d", LENGTH, "diameter of the spigot"),
        needed("length", LENGTH, "in the socket L"),
    ],
    outputs: &[
        stress("mean", "from the force"),
        stress("from_moment", "from its moment, at the ends of the socket"),
        stress("peak", "both together, at the mouth"),
        stress("peak_inside", "at the inner end, on the other side"),
    ],
    formula: lines(
        "mean = force/(d*length)\n\
         from_moment = 6*force*(arm + length/2)/(d*length^2)\n\
         peak = mean + from_moment\n\
         peak_inside = from_moment - mean",
    ),
    validity: "Stiff spigot, close fit, pressure rising in a straight line over the projected area; a \
               loose or soft spigot presses harder at the mouth.",
    source: &[recalled(
        "S. S. Bhavikatti, Mechanics of Solids",
        "",
        "ch. 10 (rigid-body pressure as for an eccentric load)",
    )],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "post = spigot(force: 5 kN, arm: 300 mm, d: 80 mm, length: 200 mm)\n\
              check post.mean within 0.312 MPa .. 0.313 MPa \"5000/(80 x 200)\"\n\
              check post.peak within 4.06 MPa .. 4.07 MPa \"0.3125 (1 + 6 x 400/200)\"",
    body: by_formula,
};

/// Where the metal was lost.
#[derive(Clone, Copy)]
enum Side {
    Inside,
    Outside,
}

pub(super) static WALL_LEFT: Function = Function {
    name: "wall_left",
    does: "what is left of a corroded or worn tube, from the thinnest wall measured",
    parameters: &[
        needed("d", LENGTH, "outside diameter when new"),
        needed("wall", LENGTH, "wall when new"),
        needed("least", LENGTH, "thinnest wall measured"),
        or_words("side", "inside", "where the metal was lost: \"inside\" or \"outside\""),
    ],
    outputs: &[
        share("loss", "of the wall"),
        area("area", "cross-section left"),
        section_modulus("section_modulus", "W left"),
        share("strength_left", "W left by W when new: what is left of the strength in bending"),
    ],
    formula: lines(
        "lost = wall - least\n\
         outer = if side == \"outside\" then d - 2*lost else d\n\
         inner = if side == \"outside\" then d - 2*wall else d - 2*least\n\
         loss = lost/wall\n\
         area = pi/4*(outer^2 - inner^2)\n\
         section_modulus = pi/32*(outer^4 - inner^4)/outer\n\
         strength_left = section_modulus/(pi/32*(d^4 - (d - 2*wall)^4)/d)",
    ),
    validity: "The least reading, not the mean; pits act as notches besides.",
    source: &[derived("closed form of the annulus"), practice("use of the least wall")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "post = wall_left(d: 100 mm, wall: 10 mm, least: 8 mm)\n\
              check post.loss within 19.9 % .. 20.1 % \"2 of 10 mm\"\n\
              check post.strength_left within 84 % .. 86 % \"84^4 and 80^4 of 100^4\"",
    body: wall_left,
};

fn wall_left(call: &Call) -> Result<Answer, Refusal> {
    let [d, wall, least] = ["d", "wall", "least"].map(|name| call.real(name));
    within("wall", "twice the wall", 2.0 * wall, "the outside diameter", d)?;
    let lost = wall - least;
    within("least", "twice the thinnest wall", 2.0 * least, "the outside diameter", d)?;
    let new = Round { d, bore: d - 2.0 * wall };
    let left = match chosen(call, "side", &[("inside", Side::Inside), ("outside", Side::Outside)])? {
        Side::Inside => Round { d, bore: d - 2.0 * least },
        Side::Outside => Round { d: d - 2.0 * lost, bore: new.bore },
    };
    let answer = Answer::new()
        .number("loss", lost / wall)
        .number("area", left.area())
        .number("section_modulus", left.section_modulus())
        .number("strength_left", left.section_modulus() / new.section_modulus());
    Ok(if lost < 0.0 {
        answer.warn("the thinnest wall measured is more than the wall when new: check both figures")
    } else {
        answer
    })
}

pub(super) static WALL_ECCENTRIC: Function = Function {
    name: "wall_eccentric",
    does: "thinnest and thickest wall of a tube whose bore is off its centre",
    parameters: &[
        D,
        needed("bore", LENGTH, "bore"),
        needed("offset", OFFSET, "of the bore's centre from the outside's"),
    ],
    outputs: &[length("least", "thinnest wall"), length("most", "thickest wall")],
    formula: lines(
        "least = (d - bore)/2 - offset\n\
         most = (d - bore)/2 + offset",
    ),
    validity: "Both round.",
    source: &[derived("geometry")],
    hazard: None,
    example: "tube = wall_eccentric(d: 100 mm, bore: 80 mm, offset: 1.5 mm)\n\
              check tube.least within 8.49 mm .. 8.51 mm \"10 - 1.5\"",
    body: wall_eccentric,
};

fn wall_eccentric(call: &Call) -> Result<Answer, Refusal> {
    let round = Round::of(call)?;
    let (mean, offset) = ((round.d - round.bore) / 2.0, call.real("offset"));
    within("offset", "the offset", offset, "the mean wall", mean)?;
    Ok(Answer::new().number("least", mean - offset).number("most", mean + offset))
}

pub(super) static OVALITY: Function = Function {
    name: "ovality",
    does: "how far out of round a tube or ring is",
    parameters: &[
        needed("largest", LENGTH, "largest diameter"),
        needed("smallest", LENGTH, "smallest diameter"),
    ],
    outputs: &[share("ovality", "by the mean diameter")],
    formula: lines("ovality = 2*(largest - smallest)/(largest + smallest)"),
    validity: "Readings at one station.",
    source: &[
        practice("definition for tubes and pressure parts"),
        recalled("EN 10210-2", "", "takes it by the specified diameter instead"),
    ],
    hazard: None,
    example: "tube = ovality(largest: 101 mm, smallest: 99 mm)\n\
              check tube within 1.99 % .. 2.01 % \"2 of 100 mm\"",
    body: ovality,
};

fn ovality(call: &Call) -> Result<Answer, Refusal> {
    let (largest, smallest) = (call.real("largest"), call.real("smallest"));
    if largest < smallest {
        let (largest, smallest) = (say::length(largest), say::length(smallest));
        let message = format!("the largest diameter, {largest}, is less than the smallest, {smallest}");
        return Err(Refusal::of("largest", message, "Change the two readings over."));
    }
    Ok(Answer::new().number("ovality", 2.0 * (largest - smallest) / (largest + smallest)))
}

pub(super) static TUBE_CLASS: Function = Function {
    name: "tube_class",
    does: "whether the wall of a round tube may buckle before it yields",
    parameters: &[D, needed("bore", LENGTH, "bore"), MATERIAL, YIELD],
    outputs: &[
        crate::trade::declare::number("slenderness", "d/wall by 235 MPa/yield"),
        words(
            "class",
            "1: may yield and turn; 2: may yield all through; 3: up to yield; 4: buckles before it yields",
        ),
    ],
    formula: lines(
        "wall = (d - bore)/2\n\
         slenderness = d/wall*yield/235 MPa\n\
         class = if slenderness <= 50 then \"1\" else if slenderness <= 70 then \"2\" else if slenderness <= 90 then \"3\" else \"4\"",
    ),
    validity: "Steel tubes in bending or pushed.",
    source: &[recalled("EN 1993-1-1", "2005", "table 5.2, sheet 3")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "tube = tube_class(d: 114.3 mm, bore: 104.3 mm, yield: 235 MPa)\n\
              check tube.slenderness <= 50 \"class 1\"",
    body: tube_class,
};

fn tube_class(call: &Call) -> Result<Answer, Refusal> {
    let round = Round::of(call)?;
    let wall = (round.d - round.bore) / 2.0;
    let slenderness = round.d / wall * yield_strength(call)? / Real::exact(235e6);
    let limits = [(50.0, "1"), (70.0, "2"), (90.0, "3")];
    let class = limits.iter().find(|(limit, _)| slenderness <= *limit).map_or("4", |(_, class)| class);
    let answer = Answer::new().number("slenderness", slenderness).text("class", class);
    Ok(match class {
        "4" => {
            answer.warn("the wall buckles before the steel yields: the stresses of solid theory do not hold")
        }
        _ => answer,
    })
}
