//! Tapers, and bores measured with balls.

use super::SIZE;
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Refusal, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{angle, by_formula, derived, in_work, length, lines, needed, number};

const HALF_ANGLE: Output = angle("half_angle", "angle between a side and the axis");
const FULL_ANGLE: Output = angle("full_angle", "angle between the sides");

pub(super) static TAPER: Function = Function {
    name: "taper",
    does: "taper per length and its angle, from two diameters and the distance between them",
    parameters: &[
        needed("large", SIZE, "diameter at the large end"),
        needed("small", SIZE, "diameter at the small end"),
        needed("apart", SIZE, "distance between the two along the axis"),
    ],
    outputs: &[number("taper", "change of diameter per length"), HALF_ANGLE, FULL_ANGLE],
    formula: lines(
        "taper = (large - small)/apart\n\
         half_angle = atan((large - small)/(2*apart))\n\
         full_angle = 2*half_angle",
    ),
    validity: "diameters square to the axis; negative if `small` is the larger",
    source: &[in_work("ISO 3040", "2016", "rate of taper"), derived("geometry")],
    hazard: None,
    example: r"cone = taper(large: 52.40 mm, small: 50 mm, apart: 60 mm)
check cone.taper within 0.0399 .. 0.0401
check cone.half_angle within 1.145 deg .. 1.147 deg",
    body: by_formula,
};

pub(super) static TAPER_BY_BALLS: Function = Function {
    name: "taper_by_balls",
    does: "angle of a tapered bore or slot from two balls or rollers put into it one after the other",
    parameters: &[
        needed("small_ball", SIZE, "diameter of the smaller ball"),
        needed("large_ball", SIZE, "diameter of the larger ball"),
        needed(
            "apart",
            SIZE,
            "difference of the heights of their tops, or of the depths down to them, from one face",
        ),
    ],
    outputs: &[HALF_ANGLE, FULL_ANGLE],
    formula: lines(
        "step = (large_ball - small_ball)/2\n\
         half_angle = asin(step/(apart - step))\n\
         full_angle = 2*half_angle",
    ),
    validity: "both balls touch the sides and not the bottom; the larger ball lies towards the wide end",
    source: &[derived("two-ball method of workshop metrology"), derived("geometry")],
    hazard: None,
    example: r"slot = taper_by_balls(small_ball: 8 mm, large_ball: 12 mm, apart: 25 mm - 15 mm)
check slot.full_angle within 28.94 deg .. 28.97 deg",
    body: taper_by_balls,
};

fn taper_by_balls(call: &Call) -> Result<Answer, Refusal> {
    let step = (call.real("large_ball") - call.real("small_ball")) / 2.0;
    if step <= 0.0 {
        let message = "`large_ball` is not larger than `small_ball`";
        return Err(Refusal::of("large_ball", message, "Two balls of different size are needed."));
    }
    let centres = call.real("apart") - step;
    if centres <= step {
        return Err(Refusal::of(
            "apart",
            "the balls lie too near each other for any taper",
            "Their tops must differ by more than the difference of the ball diameters.",
        ));
    }
    let half = (step / centres).asin();
    Ok(Answer::new().number("half_angle", half).number("full_angle", 2.0 * half))
}

pub(super) static SETOVER: Function = Function {
    name: "setover",
    does: "how far to set the tailstock over to turn a taper between centres",
    parameters: &[
        needed("taper", Takes::Positive(Dimension::NONE), "change of diameter per length: `1 in / 1 ft`"),
        needed("length", SIZE, "whole length of the work between centres, not of the taper"),
    ],
    outputs: &[length("offset", "set-over of the tailstock")],
    formula: lines("offset = taper*length/2"),
    validity: "slender tapers: the centres bear at an angle",
    source: &[
        derived("geometry, similar triangles"),
        in_work("J. Rose, Modern Machine-Shop Practice", "", "tapers between centres"),
    ],
    hazard: None,
    example: r"offset = setover(1 in / 1 ft, length: 3 ft)
check offset within 1.499 in .. 1.501 in",
    body: by_formula,
};

pub(super) static BORE_BY_BALLS: Function = Function {
    name: "bore_by_balls",
    does: "bore from two balls stacked in it and the height over both",
    parameters: &[
        needed("lower_ball", SIZE, "diameter of the lower ball"),
        needed("upper_ball", SIZE, "diameter of the upper ball"),
        needed("height", SIZE, "height from the bottom of the bore to the top of the upper ball"),
    ],
    outputs: &[length("bore", "diameter of the bore")],
    formula: lines(
        "radii = (lower_ball + upper_ball)/2\n\
         rise = height - radii\n\
         bore = radii + sqrt(radii^2 - rise^2)",
    ),
    validity: "straight round bore with a flat bottom; each ball touches the wall on its side",
    source: &[derived("two-ball method of workshop metrology"), derived("geometry")],
    hazard: None,
    example: r#"bore = bore_by_balls(lower_ball: 30 mm, upper_ball: 30 mm, height: 54 mm)
check bore within 47.99 mm .. 48.01 mm   "30 + sqrt(30^2 - 24^2)""#,
    body: bore_by_balls,
};

fn bore_by_balls(call: &Call) -> Result<Answer, Refusal> {
    let (lower, upper) = (call.real("lower_ball"), call.real("upper_ball"));
    let both = (lower + upper) / 2.0;
    let rise = call.real("height") - both;
    if rise <= 0.0 {
        return Err(Refusal::of(
            "height",
            "that is no higher than the balls' radii",
            "Measure to the top of the upper ball.",
        ));
    }
    if rise >= both {
        let message =
            "that is as high as the balls stacked straight up: the bore would be no wider than they are";
        return Err(Refusal::of("height", message, "Measure from the bottom on which the lower ball lies."));
    }
    let bore = both + (both.squared() - rise.squared()).sqrt();
    if bore < lower.max(upper) {
        return Err(Refusal::of(
            "height",
            "so narrow a bore would not take the larger ball",
            "Measure the height again.",
        ));
    }
    Ok(Answer::new().number("bore", bore))
}

pub(super) static BORE_BY_BALL_ON_EDGE: Function = Function {
    name: "bore_by_ball_on_edge",
    does: "mouth of a hole from a ball resting on its edge",
    parameters: &[
        needed("ball", SIZE, "diameter of the ball"),
        needed("above", SIZE, "how far the top of the ball stands above the face"),
    ],
    outputs: &[length("bore", "diameter of the mouth")],
    formula: lines(
        "radius = ball/2\n\
         bore = 2*sqrt(radius^2 - (above - radius)^2)",
    ),
    validity: "sharp clean edge, square to the axis",
    source: &[derived("geometry of the spherical cap")],
    hazard: None,
    example: r"mouth = bore_by_ball_on_edge(ball: 50 mm, above: 40 mm)
check mouth within 39.99 mm .. 40.01 mm",
    body: |call| {
        let (radius, above): (Real, Real) = (call.real("ball") / 2.0, call.real("above"));
        let off = above - radius;
        if off.abs() >= radius {
            let message = "a ball resting on an edge stands above the face by less than its diameter";
            return Err(Refusal::of("above", message, "Measure from the face to the top of the ball."));
        }
        Ok(Answer::new().number("bore", 2.0 * (radius.squared() - off.squared()).sqrt()))
    },
};
