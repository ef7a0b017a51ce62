//! Sections of bars, tubes and boxes.

use std::f64::consts::PI;

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{by_formula, derived, length, lines, needed, or_number, quantity, recalled};

use super::round::Round;
use super::{BORE, D, LENGTH, OFFSET, area, second_moment, section_modulus, within};

/// The density of steel, kg/m³ (EN 10210-2, clause for mass).
const STEEL: f64 = 7850.0;

pub(super) const DENSITY: Parameter = or_number(
    "density",
    Takes::Positive(Dimension::DENSITY),
    STEEL,
    "density of the metal; steel if not given",
);

pub(super) const fn mass_per_length(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::of(-1, 1, 0), ["kg/m", "lb/ft"], meaning)
}

pub(super) static ROUND_SECTION: Function = Function {
    name: "round_section",
    does: "section of a round bar or tube",
    parameters: &[D, BORE, DENSITY],
    outputs: &[
        area("area", "cross-section"),
        second_moment("second_moment", "I about a diameter"),
        section_modulus("section_modulus", "W = I/(d/2), for bending"),
        second_moment("torsion_constant", "J = 2 I"),
        section_modulus("torsion_modulus", "J/(d/2), for torsion"),
        length("gyration", "radius of gyration"),
        mass_per_length("mass_per_length", "mass of a length"),
    ],
    formula: lines(
        "area = pi/4*(d^2 - bore^2)\n\
         second_moment = pi/64*(d^4 - bore^4)\n\
         section_modulus = 2*second_moment/d\n\
         torsion_constant = 2*second_moment\n\
         torsion_modulus = 2*section_modulus\n\
         gyration = sqrt(second_moment/area)\n\
         mass_per_length = area*density",
    ),
    validity: "Bore concentric with the outside.",
    source: &[recalled("EN 10210-2", "2006", "annex A (circular hollow sections)")],
    hazard: None,
    example: "tube = round_section(d: 114.3 mm, bore: 104.3 mm)\n\
              check tube.area within 17.1 cm^2 .. 17.3 cm^2 \"EN 10210-2 prints 17.2\"\n\
              check tube.mass_per_length within 13.4 kg/m .. 13.6 kg/m \"EN 10210-2 prints 13.5\"",
    body: round_section,
};

fn round_section(call: &Call) -> Result<Answer, Refusal> {
    let round = Round::of(call)?;
    Ok(Answer::new()
        .number("area", round.area())
        .number("second_moment", round.second_moment())
        .number("section_modulus", round.section_modulus())
        .number("torsion_constant", round.polar_moment())
        .number("torsion_modulus", round.polar_modulus())
        .number("gyration", (round.second_moment() / round.area()).sqrt())
        .number("mass_per_length", round.area() * call.real("density")))
}

pub(super) static BOX_SECTION: Function = Function {
    name: "box_section",
    does: "section of a square or rectangular hollow section",
    parameters: &[
        needed("width", LENGTH, "outside width B"),
        needed("height", LENGTH, "outside height H"),
        needed("wall", LENGTH, "wall thickness t"),
        or_number("corner", OFFSET, 0.0, "outside radius of the corners; 0 if sharp"),
        DENSITY,
    ],
    outputs: &[
        area("area", "cross-section"),
        second_moment("second_moment", "I about the axis across the height (bending upright)"),
        section_modulus("section_modulus", "W = I/(H/2)"),
        second_moment("second_moment_flat", "I about the other axis (bending sideways)"),
        section_modulus("section_modulus_flat", "the same over B/2"),
        second_moment("torsion_constant", "torsion constant J"),
        mass_per_length("mass_per_length", "mass of a length"),
    ],
    formula: lines(
        "k = 1 - pi/4\n\
         c = (10 - 3*pi)/(12 - 3*pi)\n\
         m = 1/3 - pi/16 - 1/(36 - 9*pi)\n\
         b = width - 2*wall\n\
         h = height - 2*wall\n\
         r = max(0 mm, corner - wall)\n\
         area = width*height - 4*k*corner^2 - (b*h - 4*k*r^2)\n\
         outer = width*height^3/12 - 4*(m*corner^4 + k*corner^2*(height/2 - c*corner)^2)\n\
         second_moment = outer - b*h^3/12 + 4*(m*r^4 + k*r^2*(h/2 - c*r)^2)\n\
         section_modulus = 2*second_moment/height\n\
         outer_flat = height*width^3/12 - 4*(m*corner^4 + k*corner^2*(width/2 - c*corner)^2)\n\
         second_moment_flat = outer_flat - h*b^3/12 + 4*(m*r^4 + k*r^2*(b/2 - c*r)^2)\n\
         section_modulus_flat = 2*second_moment_flat/width\n\
         r_middle = max(0 mm, corner - wall/2)\n\
         perimeter = 2*(width + height - 2*wall) - (8 - 2*pi)*r_middle\n\
         enclosed = (width - wall)*(height - wall) - 4*k*r_middle^2\n\
         torsion_constant = perimeter*wall^3/3 + 4*wall*enclosed^2/perimeter\n\
         mass_per_length = area*density",
    ),
    validity: "Wall below a quarter of the smaller side; even wall; J is for a closed thin wall, within \
               about 3 %.",
    source: &[
        recalled("EN 10210-2", "2006", "annex A"),
        derived("corner figures: a square less its inscribed quarter circle, a closed form"),
    ],
    hazard: None,
    example: "box = box_section(width: 50 mm, height: 100 mm, wall: 5 mm)\n\
              check box.area within 1399 mm^2 .. 1401 mm^2 \"2 x 5 x (50 + 100 - 10)\"",
    body: box_section,
};

fn box_section(call: &Call) -> Result<Answer, Refusal> {
    let [width, height, wall] = ["width", "height", "wall"].map(|name| call.real(name));
    let smaller = width.min(height);
    within("wall", "the wall", wall, "half the smaller side", smaller / 2.0)?;
    within("corner", "the corner radius", call.real("corner"), "half the smaller side", smaller / 2.0)?;
    let outer = Rounded { width, height, corner: call.real("corner") };
    let inner = outer.inside(wall);
    let area = outer.area() - inner.area();
    let upright = outer.second_moment() - inner.second_moment();
    let flat = outer.turned().second_moment() - inner.turned().second_moment();
    let answer = Answer::new()
        .number("area", area)
        .number("second_moment", upright)
        .number("section_modulus", 2.0 * upright / height)
        .number("second_moment_flat", flat)
        .number("section_modulus_flat", 2.0 * flat / width)
        .number("torsion_constant", outer.torsion_constant(wall))
        .number("mass_per_length", area * call.real("density"));
    Ok(if wall > smaller / 4.0 {
        answer.warn("the wall is thick for a hollow section: the torsion constant is too low")
    } else {
        answer
    })
}

/// A rectangle with rounded corners.
#[derive(Clone, Copy)]
struct Rounded {
    width: Real,
    height: Real,
    corner: Real,
}

impl Rounded {
    // A square of side 1 less the quarter circle in it: area, centroid from the outer sides, second moment about
    // its own centroid.
    const SPANDREL: f64 = 1.0 - PI / 4.0;
    const SPANDREL_CENTROID: f64 = (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI);
    const SPANDREL_MOMENT: f64 = 1.0 / 3.0 - PI / 16.0 - 1.0 / (36.0 - 9.0 * PI);

    fn inside(self, wall: Real) -> Self {
        let corner = (self.corner - wall).max(Real::exact(0.0));
        Self { width: self.width - 2.0 * wall, height: self.height - 2.0 * wall, corner }
    }

    fn turned(self) -> Self {
        Self { width: self.height, height: self.width, corner: self.corner }
    }

    fn area(self) -> Real {
        self.width * self.height - 4.0 * Self::SPANDREL * self.corner.squared()
    }

    /// About the axis across the height.
    fn second_moment(self) -> Real {
        let square = self.corner.squared();
        let arm = self.height / 2.0 - Self::SPANDREL_CENTROID * self.corner;
        let spandrel = Self::SPANDREL_MOMENT * square.squared() + Self::SPANDREL * square * arm.squared();
        self.width * self.height.cubed() / 12.0 - 4.0 * spandrel
    }

    /// Of a thin wall along this outside: Bredt's closed tube and the wall's own twisting.
    fn torsion_constant(self, wall: Real) -> Real {
        let corner = (self.corner - wall / 2.0).max(Real::exact(0.0));
        let middle = Self { width: self.width - wall, height: self.height - wall, corner };
        let perimeter = 2.0 * (middle.width + middle.height) - (8.0 - 2.0 * PI) * corner;
        perimeter * wall.cubed() / 3.0 + 4.0 * wall * middle.area().squared() / perimeter
    }
}

pub(super) static RECTANGLE_SECTION: Function = Function {
    name: "rectangle_section",
    does: "section of a flat or square bar",
    parameters: &[
        needed("width", LENGTH, "width b"),
        needed("height", LENGTH, "height h, in the direction of the load"),
        DENSITY,
    ],
    outputs: &[
        area("area", "cross-section"),
        second_moment("second_moment", "I about the axis across the height"),
        section_modulus("section_modulus", "W = I/(h/2)"),
        second_moment("torsion_constant", "torsion constant J"),
        mass_per_length("mass_per_length", "mass of a length"),
    ],
    formula: lines(
        "area = width*height\n\
         second_moment = width*height^3/12\n\
         section_modulus = width*height^2/6\n\
         long = max(width, height)\n\
         short = min(width, height)\n\
         n = [1, 3, 5, 7, 9, 11]\n\
         e = exp(-n*pi*long/short)\n\
         torsion_constant = long*short^3/3*(1 - 192/pi^5*short/long*sum((1 - e)/(1 + e)/n^5))\n\
         mass_per_length = area*density",
    ),
    validity: "Sharp corners.",
    source: &[recalled("S. Timoshenko and J. N. Goodier, Theory of Elasticity", "3rd ed.", "section 109")],
    hazard: None,
    example: "rod = rectangle_section(width: 10 mm, height: 40 mm)\n\
              check rod.second_moment within 5.33 cm^4 .. 5.34 cm^4 \"10 x 40^3/12\"",
    body: by_formula,
};
