//! Groups of bolts loaded off their centre.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Field, Function, Gives, Output, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{count, force, lines, needed, or_number, recalled};

use super::whirl::{all_above_zero, same_length};
use super::{LOAD, MOMENT};

const FORCES: Output = Output {
    name: "forces",
    gives: Gives::List { dimension: Dimension::FORCE, metric: "N", inch: "lbf" },
    meaning: "on each bolt, in the order given",
};
const MOST: Output = force("force", "on the bolt that is loaded most");
const WORST: Output = count("bolt", "which bolt that is, counted from 1");

pub(super) static BOLT_GROUP_TILT: Function = Function {
    name: "bolt_group_tilt",
    does: "pull in the bolts of a bracket that tilts about its edge",
    parameters: &[
        needed("moment", MOMENT, "that tilts it"),
        needed(
            "distances",
            Takes::List(Dimension::LENGTH),
            "of each bolt from the edge about which it tilts",
        ),
        or_number("pull", LOAD, 0.0, "straight pull on all"),
    ],
    outputs: &[FORCES, MOST, WORST],
    formula: lines(
        "forces = pull/count(distances) + moment*distances/sum(distances^2)\n\
         force = max(forces)",
    ),
    validity: "Stiff bracket, equal bolts, preload not counted.",
    source: &[recalled("V. B. Bhandari, Design of Machine Elements", "3rd ed.", "ch. 7")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "bracket = bolt_group_tilt(moment: 1 kN·m, distances: [50 mm, 50 mm, 150 mm, 150 mm])\n\
              check bracket.force within 2.99 kN .. 3.01 kN \"1000 x 0.15/0.05\"",
    body: bolt_group_tilt,
};

fn bolt_group_tilt(call: &Call) -> Result<Answer, Refusal> {
    let distances = call.list("distances");
    all_above_zero("distances", distances)?;
    let direct = call.real("pull") / number_of(distances);
    let squares: Real = distances.iter().map(|each| each.squared()).sum();
    let forces = distances.iter().map(|each| direct + call.real("moment") * *each / squares).collect();
    Ok(with_worst(forces))
}

fn number_of(list: &[Real]) -> f64 {
    list.iter().map(|_| 1.0).sum()
}

fn with_worst(forces: Vec<Real>) -> Answer {
    let (mut worst, mut most) = (0, Real::exact(f64::NEG_INFINITY));
    for (index, force) in (1..).zip(&forces) {
        if *force > most {
            (worst, most) = (index, *force);
        }
    }
    Answer::new()
        .field("forces", Field::List(forces))
        .number("force", most)
        .field("bolt", Field::Count(worst))
}

const PLACES: Takes = Takes::List(Dimension::LENGTH);
const ACROSS: Parameter =
    or_number("across", Takes::Signed(Dimension::FORCE), 0.0, "force to the right, on all");

pub(super) static BOLT_GROUP_TWIST: Function = Function {
    name: "bolt_group_twist",
    does: "shear on the bolts of a group that is pushed and twisted in its plane",
    parameters: &[
        needed("xs", PLACES, "of each bolt, to the right"),
        needed("ys", PLACES, "of each bolt, upwards"),
        ACROSS,
        or_number("up", Takes::Signed(Dimension::FORCE), 0.0, "force upwards, on all"),
        or_number(
            "moment",
            Takes::Signed(Dimension::MOMENT),
            0.0,
            "about the middle of the group, against the clock: force times its distance from the middle",
        ),
    ],
    outputs: &[FORCES, MOST, WORST],
    formula: lines(
        "x = xs - mean(xs)\n\
         y = ys - mean(ys)\n\
         turn = moment/sum(x^2 + y^2)\n\
         forces = sqrt((across/count(xs) - turn*y)^2 + (up/count(xs) + turn*x)^2)\n\
         force = max(forces)",
    ),
    validity: "Equal fitted bolts in shear, stiff plates.",
    source: &[recalled("V. B. Bhandari, Design of Machine Elements", "3rd ed.", "ch. 7")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "bracket = bolt_group_twist(xs: [-50 mm, 50 mm], ys: [0 mm, 0 mm], up: -2 kN, moment: -300 \
              N·m)\n\
              check bracket.force within 3.99 kN .. 4.01 kN \"1 direct + 3 from the moment, at the right\"",
    body: bolt_group_twist,
};

fn bolt_group_twist(call: &Call) -> Result<Answer, Refusal> {
    let (xs, ys) = (from_middle(call.list("xs")), from_middle(call.list("ys")));
    same_length("ys", &xs, &ys)?;
    let squares: Real = xs.iter().chain(&ys).map(|each| each.squared()).sum();
    if xs.len() < 2 || squares == 0.0 {
        return Err(Refusal::of(
            "xs",
            "a group needs two bolts at different places",
            "Give the place of each bolt.",
        ));
    }
    let (number, turn) = (number_of(&xs), call.real("moment") / squares);
    let (across, up) = (call.real("across") / number, call.real("up") / number);
    let on = |(x, y): (&Real, &Real)| ((across - turn * *y).squared() + (up + turn * *x).squared()).sqrt();
    Ok(with_worst(xs.iter().zip(&ys).map(on).collect()))
}

fn from_middle(places: &[Real]) -> Vec<Real> {
    let middle = places.iter().copied().sum::<Real>() / number_of(places);
    places.iter().map(|each| *each - middle).collect()
}
