//! What each leg of a sling carries.

use std::f64::consts::FRAC_PI_2;

use super::GRAVITY;
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Sign, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{angle, derived, force, in_work, lines, mass, needed, number, or_from, practice};

/// Flatter than this, measured from the horizontal, no sling is used (OSHA 29 CFR 1910.184 and ASME B30.9
/// practice).
const FLATTEST_DEG: f64 = 30.0;
/// Flatter than this many codes ask for a look at the gear and the load.
const FLAT_DEG: f64 = 45.0;

const MASS: Parameter =
    needed("mass", Takes::Positive(Dimension::MASS), "mass of the load with hook and sling");
const LEGS: Parameter = needed("legs", Takes::Count, "legs of the sling");
const COUNTED: Parameter = or_from(
    "counted",
    Takes::Count,
    "if legs > 3 then 2 else legs",
    "legs taken to carry; without it one, two or three as they are, of four and more only two",
);
const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const OUTPUTS: &[Output] = &[
    force("tension", "pull in each leg that carries"),
    force("inward", "horizontal pull of a leg on its lifting point"),
    number("factor", "pull of a leg over its share of the weight"),
    mass("rating", "the least rating a single leg must have, hung straight"),
    angle("angle", "angle of a leg from the horizontal"),
];
const LEGS_COUNTED: &str = "a stiff load hung from four or more legs sits on two of them, however carefully \
                            they are made: two are counted (some codes allow three, then say `counted: 3`). \
                            Three legs share evenly only when the centre of gravity is under the hook and \
                            the legs are spread evenly. At rest: jerk and swing come on top. Never flatter \
                            than 30 deg from the horizontal; many codes say 45 or 60";

pub(super) static BY_ANGLE: Function = Function {
    name: "sling",
    does: "pull in each leg of a sling from its angle",
    parameters: &[
        MASS,
        LEGS,
        needed("angle", Takes::Angle(Sign::Positive), "angle of a leg from the horizontal"),
        COUNTED,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "factor = 1/sin(angle)\n\
         tension = mass*g_n/counted*factor\n\
         inward = tension*cos(angle)\n\
         rating = tension/g_n",
    ),
    validity: LEGS_COUNTED,
    source: &[
        in_work(
            "OSHA 29 CFR 1910.184, ASME B30.9",
            "",
            "load-angle tables: 1.155 at 60 deg, 1.414 at 45 deg, 2 at 30 deg",
        ),
        practice("legs counted"),
    ],
    hazard: Some(Hazard::Lifting),
    example: "legs = sling(mass: 900 lb, legs: 4, angle: 60 deg)\n\
              check legs.factor within 1.154 .. 1.156\n\
              check legs.rating within 519 lb .. 520 lb",
    body: by_angle,
};

pub(super) static BY_HEIGHT: Function = Function {
    name: "sling_from_height",
    does: "pull in each leg of a sling from its length and the height of the hook",
    parameters: &[
        MASS,
        LEGS,
        needed("length", LENGTH, "length of a leg, from the hook to the load"),
        needed("height", LENGTH, "height of the hook above the lifting points"),
        COUNTED,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "factor = length/height\n\
         angle = asin(height/length)\n\
         tension = mass*g_n/counted*factor\n\
         inward = tension*cos(angle)\n\
         rating = tension/g_n",
    ),
    validity: LEGS_COUNTED,
    source: &[
        derived("similar triangles"),
        in_work("a public crane-safety practice paper", "", "two legs, 15000 lbf, 16 ft, 12 ft: 10000 lbf"),
    ],
    hazard: Some(Hazard::Lifting),
    example: "legs = sling_from_height(mass: 15000 lb, legs: 2, length: 16 ft, height: 12 ft)\n\
              check legs.tension within 9999 lbf .. 10001 lbf",
    body: by_height,
};

pub(super) static OFF_CENTRE: Function = Function {
    name: "sling_off_centre",
    does: "pull in two unequal legs when the centre of gravity is not in the middle",
    parameters: &[
        MASS,
        needed("height", LENGTH, "height of the hook above the two lifting points, which are level"),
        needed("left", LENGTH, "level distance from the centre of gravity to the left lifting point"),
        needed("right", LENGTH, "level distance from the centre of gravity to the right lifting point"),
    ],
    outputs: &[
        force("tension_left", "pull in the left leg"),
        force("tension_right", "pull in the right leg"),
        force("inward", "horizontal pull, the same for both legs"),
        angle("angle_left", "angle of the left leg from the horizontal"),
        angle("angle_right", "angle of the right leg from the horizontal"),
    ],
    formula: lines(
        "inward = mass*g_n*left*right/(height*(left + right))\n\
         tension_left = inward*sqrt(height^2 + left^2)/left\n\
         tension_right = inward*sqrt(height^2 + right^2)/right\n\
         angle_left = atan(height/left)\n\
         angle_right = atan(height/right)",
    ),
    validity: "the load hangs level because the hook stands above the centre of gravity; the nearer leg is \
               the steeper and carries more",
    source: &[in_work(
        "I. J. Levinson, Statics and Strength of Materials",
        "",
        "concurrent forces (statics, moments about the hook)",
    )],
    hazard: Some(Hazard::Lifting),
    example: "legs = sling_off_centre(mass: 400 kg, height: 1.5 m, left: 0.5 m, right: 1.2 m)\n\
              check legs.tension_left within 2918 N .. 2919 N\n\
              check legs.tension_right within 1477 N .. 1478 N",
    body: off_centre,
};

fn by_angle(call: &Call) -> Result<Answer, Refusal> {
    let angle = call.real("angle");
    if angle > FRAC_PI_2 * (1.0 + 1e-12) {
        return Err(Refusal::of(
            "angle",
            "a leg cannot stand at more than 90 deg from the horizontal",
            "Give the angle between the leg and the horizontal; upright is 90 deg.",
        ));
    }
    legs(call, 1.0 / angle.sin(), angle)
}

fn by_height(call: &Call) -> Result<Answer, Refusal> {
    let (length, height) = (call.real("length"), call.real("height"));
    if height >= length {
        return Err(Refusal::of(
            "height",
            "the hook is at least as high above the load as the leg is long",
            "Measure the height from the lifting points to the hook, and the leg along itself; for upright \
             legs use `sling`.",
        ));
    }
    legs(call, length / height, (height / length).asin())
}

fn legs(call: &Call, factor: Real, angle: Real) -> Result<Answer, Refusal> {
    let counted = counted(call)?;
    let each = call.real("mass") / f64::from(counted) * factor;
    let tension = each * GRAVITY;
    let answer = Answer::new()
        .number("tension", tension)
        .number("inward", tension * angle.cos())
        .number("factor", factor)
        .number("rating", each)
        .number("angle", angle);
    let answer = flatness(answer, "the legs stand", angle);
    Ok(match call.count("legs") {
        legs if legs == counted => answer,
        legs => answer.remark(format!("of {legs} legs {counted} are taken to carry")),
    })
}

/// How many of the legs are taken to carry.
fn counted(call: &Call) -> Result<u32, Refusal> {
    let (legs, counted) = (call.count("legs"), call.count("counted"));
    if counted > legs {
        let message = format!("{counted} legs cannot carry when there are {legs}");
        return Err(Refusal::of("counted", message, "Count at most the legs that there are."));
    }
    Ok(counted)
}

fn off_centre(call: &Call) -> Result<Answer, Refusal> {
    let (height, left, right) = (call.real("height"), call.real("left"), call.real("right"));
    let inward = call.real("mass") * GRAVITY * left * right / (height * (left + right));
    let tension = |distance: Real| inward * (height.squared() + distance.squared()).sqrt() / distance;
    let angle = |distance: Real| (height / distance).atan();
    let answer = Answer::new()
        .number("tension_left", tension(left))
        .number("tension_right", tension(right))
        .number("inward", inward)
        .number("angle_left", angle(left))
        .number("angle_right", angle(right));
    Ok(flatness(answer, "the flatter leg stands", angle(left).min(angle(right))))
}

fn flatness(answer: Answer, who: &str, angle: Real) -> Answer {
    let degrees = angle.value().to_degrees();
    if degrees < FLATTEST_DEG - 1e-9 {
        answer.warn(format!(
            "{who} at {degrees:.1} deg from the horizontal; under {FLATTEST_DEG:.0} deg no sling is used: \
             longer legs or a spreader beam"
        ))
    } else if degrees < FLAT_DEG - 1e-9 {
        answer.warn(format!(
            "{who} at {degrees:.1} deg from the horizontal; many codes allow nothing flatter than \
             {FLAT_DEG:.0} or 60 deg"
        ))
    } else {
        answer
    }
}
