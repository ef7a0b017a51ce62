//! Rolled and built-up sections: beams, channels, tees, angles, as rectangles put together.

use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Source};
use crate::calc::real::Real;
use crate::trade::declare::{derived, length, lines, needed};

use super::section::{DENSITY, mass_per_length};
use super::{LENGTH, area, second_moment, section_modulus, within};

const HEIGHT: Parameter = needed("height", LENGTH, "height over all h");
const WIDTH: Parameter = needed("width", LENGTH, "width of the flange b");
const WEB: Parameter = needed("web", LENGTH, "thickness of the web");
const FLANGE: Parameter = needed("flange", LENGTH, "thickness of the flange");

const OUTPUTS: &[Output] = &[
    area("area", "cross-section"),
    second_moment("second_moment", "I about the axis across the height (bending upright)"),
    section_modulus("section_modulus", "the smaller W = I/distance of the outer edge"),
    second_moment("second_moment_flat", "I about the other axis (bending sideways)"),
    section_modulus("section_modulus_flat", "the smaller W about the other axis"),
    length("centroid", "of the centroid from the bottom"),
    length("centroid_side", "of the centroid from the left"),
    mass_per_length("mass_per_length", "mass of a length"),
];

const VALIDITY: &str = "Sharp corners; fillets of rolled sections add 1 to 4 %, tapered flanges: take the \
                        mean. Bending about the axes given, not about the principal axes of an angle.";
const SOURCE: &[Source] = &[derived("parallel-axis theorem")];

/// What a section of rectangles comes to: their widths b, heights h and centres x, y, by the parallel-axis theorem.
macro_rules! of_rectangles {
    ($rectangles:literal) => {
        lines(concat!(
            $rectangles,
            "\n\
             area = sum(b*h)\n\
             centroid = sum(b*h*y)/area\n\
             centroid_side = sum(b*h*x)/area\n\
             second_moment = sum(b*h^3/12 + b*h*(y - centroid)^2)\n\
             section_modulus = second_moment/max(centroid, height - centroid)\n\
             second_moment_flat = sum(h*b^3/12 + b*h*(x - centroid_side)^2)\n\
             section_modulus_flat = second_moment_flat/max(centroid_side, width - centroid_side)\n\
             mass_per_length = area*density"
        ))
    };
}

pub(super) static I_SECTION: Function = Function {
    name: "i_section",
    does: "section of an I or H beam",
    parameters: &[HEIGHT, WIDTH, WEB, FLANGE, DENSITY],
    outputs: OUTPUTS,
    formula: of_rectangles!(
        "b = [web, width, width]\n\
         h = [height - 2*flange, flange, flange]\n\
         x = [width/2, width/2, width/2]\n\
         y = [height/2, flange/2, height - flange/2]"
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: None,
    example: "beam = i_section(height: 200 mm, width: 100 mm, web: 6 mm, flange: 9 mm)\n\
              check beam.area within 2891 mm^2 .. 2893 mm^2 \"2 x 100 x 9 + 182 x 6\"",
    body: |call| built(call, [true, true], Place::Middle),
};

pub(super) static CHANNEL_SECTION: Function = Function {
    name: "channel_section",
    does: "section of a channel, web upright",
    parameters: &[HEIGHT, WIDTH, WEB, FLANGE, DENSITY],
    outputs: OUTPUTS,
    formula: of_rectangles!(
        "b = [web, width, width]\n\
         h = [height - 2*flange, flange, flange]\n\
         x = [web/2, width/2, width/2]\n\
         y = [height/2, flange/2, height - flange/2]"
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: None,
    example: "channel = channel_section(height: 100 mm, width: 50 mm, web: 6 mm, flange: 8 mm)\n\
              check channel.area within 1303 mm^2 .. 1305 mm^2 \"2 x 50 x 8 + 84 x 6\"",
    body: |call| built(call, [true, true], Place::Left),
};

pub(super) static TEE_SECTION: Function = Function {
    name: "tee_section",
    does: "section of a tee, flange on top",
    parameters: &[HEIGHT, WIDTH, WEB, FLANGE, DENSITY],
    outputs: OUTPUTS,
    formula: of_rectangles!(
        "b = [web, width]\n\
         h = [height - flange, flange]\n\
         x = [width/2, width/2]\n\
         y = [(height - flange)/2, height - flange/2]"
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: None,
    example: "tee = tee_section(height: 80 mm, width: 80 mm, web: 9 mm, flange: 9 mm)\n\
              check tee.area within 1358 mm^2 .. 1360 mm^2 \"80 x 9 + 71 x 9\"",
    body: |call| built(call, [false, true], Place::Middle),
};

pub(super) static ANGLE_SECTION: Function = Function {
    name: "angle_section",
    does: "section of an angle, one leg upright on the left, the other at the bottom",
    parameters: &[HEIGHT, WIDTH, WEB, FLANGE, DENSITY],
    outputs: OUTPUTS,
    formula: of_rectangles!(
        "b = [web, width]\n\
         h = [height - flange, flange]\n\
         x = [web/2, width/2]\n\
         y = [(height + flange)/2, flange/2]"
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: None,
    example: "angle = angle_section(height: 60 mm, width: 60 mm, web: 6 mm, flange: 6 mm)\n\
              check angle.area within 683 mm^2 .. 685 mm^2 \"60 x 6 + 54 x 6\"",
    body: |call| built(call, [true, false], Place::Left),
};

/// Where the web stands on the flange.
#[derive(Clone, Copy)]
enum Place {
    Left,
    Middle,
}

struct Rectangle {
    width: Real,
    height: Real,
    /// Of its centre, from the left and from the bottom.
    x: Real,
    y: Real,
}

/// A web with flanges at the bottom and at the top.
fn built(call: &Call, [bottom, top]: [bool; 2], place: Place) -> Result<Answer, Refusal> {
    let [height, width, web, flange] = ["height", "width", "web", "flange"].map(|name| call.real(name));
    within("web", "the web", web, "the flange's width", width)?;
    within("flange", "the flange", flange, "half the height", height / 2.0)?;
    let flange_at = |y: Real| Rectangle { width, height: flange, x: width / 2.0, y };
    let zero = Real::exact(0.0);
    let foot = if bottom { flange } else { zero };
    let head = if top { height - flange } else { height };
    let x = match place {
        Place::Left => web / 2.0,
        Place::Middle => width / 2.0,
    };
    let mut parts = vec![Rectangle { width: web, height: head - foot, x, y: (head + foot) / 2.0 }];
    parts.extend(bottom.then(|| flange_at(flange / 2.0)));
    parts.extend(top.then(|| flange_at(height - flange / 2.0)));
    Ok(together(&parts, height, width, call.real("density")))
}

fn together(parts: &[Rectangle], height: Real, width: Real, density: Real) -> Answer {
    let area: Real = parts.iter().map(Rectangle::area).sum();
    let x = parts.iter().map(|each| each.area() * each.x).sum::<Real>() / area;
    let y = parts.iter().map(|each| each.area() * each.y).sum::<Real>() / area;
    let upright: Real = parts.iter().map(|each| second(each.width, each.height, each.y - y)).sum();
    let flat: Real = parts.iter().map(|each| second(each.height, each.width, each.x - x)).sum();
    Answer::new()
        .number("area", area)
        .number("second_moment", upright)
        .number("section_modulus", upright / y.max(height - y))
        .number("second_moment_flat", flat)
        .number("section_modulus_flat", flat / x.max(width - x))
        .number("centroid", y)
        .number("centroid_side", x)
        .number("mass_per_length", area * density)
}

impl Rectangle {
    fn area(&self) -> Real {
        self.width * self.height
    }
}

/// Second moment of a rectangle about an axis at `distance` from its centre, along its width.
fn second(width: Real, height: Real, distance: Real) -> Real {
    width * height.cubed() / 12.0 + width * height * distance.squared()
}
