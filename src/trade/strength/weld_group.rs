//! Groups of welds treated as lines: what a load off the middle does to them.
//!
//! Everything is by length of weld, so the throat need not be known: `weld_size` makes it from the line load.

use std::f64::consts::PI;

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Source};
use crate::calc::real::Real;
use crate::trade::declare::{
    chosen, in_work, length, lines, needed, or_number, or_words, quantity, recalled,
};

use super::{LENGTH, LOAD, LOAD_MOMENT, per_length};
use crate::hazard::Hazard;

const ALONG: Parameter = or_number("along", LOAD, 0.0, "force in the plane of the welds, along x");
const ACROSS: Parameter = or_number("across", LOAD, 0.0, "force in the plane of the welds, along y");
const PULL: Parameter = or_number("pull", LOAD, 0.0, "force square to the plane");
const TILT: Parameter =
    or_number("tilt", LOAD_MOMENT, 0.0, "moment that bends the weld across y: `across` times its distance");
const SWING: Parameter =
    or_number("swing", LOAD_MOMENT, 0.0, "moment that bends the weld across x: `along` times its distance");
const TWIST: Parameter = or_number("twist", LOAD_MOMENT, 0.0, "moment that turns the weld in its plane");
const METHOD: Parameter = or_words(
    "method",
    "vector sum",
    "\"vector sum\" (safest), \"maximum shear\" or \"directional\" (Eurocode 3)",
);

const OUTPUTS: &[Output] = &[
    per_length("line_load", "at the worst point, by the method"),
    per_length("in_plane", "its part in the plane of the welds"),
    per_length("square", "its part square to the plane"),
    length("length", "of all welds"),
    quantity("bending", Dimension::VOLUME, ["mm^3", "in^3"], "I by throat, for `tilt`"),
    quantity("torsion", Dimension::VOLUME, ["mm^3", "in^3"], "J by throat, for `twist`"),
];

const VALIDITY: &str = "Thin lines, throat section, static, no residual stress or fatigue; take about one \
                        leg off each end that is not returned. The three methods differ up to twofold: \
                        the vector sum is the safest of the two that share an allowable stress.";
const SOURCE: &[Source] = &[
    in_work(
        "V. B. Bhandari, Design of Machine Elements",
        "3rd ed.",
        "ch. 8 (Examples 8.9, 8.12, 8.14, 8.15 by maximum shear)",
    ),
    recalled("I. J. Levinson and American practice", "", "line method (vector sum)"),
    in_work(
        "EN 1993-1-8",
        "2005",
        "4.5.3.2 (directional: throat at 45 degrees, in-plane part taken along the weld)",
    ),
];

/// How the parts of the line load are put together.
#[derive(Clone, Copy)]
enum Method {
    VectorSum,
    MaximumShear,
    Directional,
}

const METHODS: &[(&str, Method)] = &[
    ("vector sum", Method::VectorSum),
    ("maximum shear", Method::MaximumShear),
    ("directional", Method::Directional),
];

impl Method {
    fn together(self, in_plane: Real, square: Real) -> Real {
        let sum = match self {
            Self::VectorSum => square.squared() + in_plane.squared(),
            Self::MaximumShear => (square / 2.0).squared() + in_plane.squared(),
            Self::Directional => 2.0 * square.squared() + 3.0 * in_plane.squared(),
        };
        sum.sqrt()
    }
}

/// A straight weld between two points.
#[derive(Clone, Copy)]
struct Line {
    from: [Real; 2],
    to: [Real; 2],
}

/// A group of lines about its centroid: everything by throat.
struct Group {
    length: Real,
    ix: Real,
    iy: Real,
    /// The ends of the lines, from the centroid.
    ends: Vec<[Real; 2]>,
}

impl Line {
    fn length(self) -> Real {
        let [dx, dy] = [0, 1].map(|axis| self.to[axis] - self.from[axis]);
        (dx.squared() + dy.squared()).sqrt()
    }

    /// Length times the coordinate of its middle.
    fn first_moment(self, axis: usize) -> Real {
        self.length() * (self.from[axis] + self.to[axis]) / 2.0
    }

    fn second_moment(self, axis: usize, centroid: Real) -> Real {
        let middle = (self.from[axis] + self.to[axis]) / 2.0 - centroid;
        self.length() * (middle.squared() + (self.to[axis] - self.from[axis]).squared() / 12.0)
    }
}

impl Group {
    fn of(lines: &[Line]) -> Self {
        let length: Real = lines.iter().map(|line| line.length()).sum();
        let [x, y] =
            [0, 1].map(|axis| lines.iter().map(|line| line.first_moment(axis)).sum::<Real>() / length);
        Self {
            length,
            ix: lines.iter().map(|line| line.second_moment(1, y)).sum(),
            iy: lines.iter().map(|line| line.second_moment(0, x)).sum(),
            ends: lines
                .iter()
                .flat_map(|line| [line.from, line.to])
                .map(|end| [end[0] - x, end[1] - y])
                .collect(),
        }
    }

    fn answer(&self, call: &Call) -> Result<Answer, Refusal> {
        let method = chosen(call, "method", METHODS)?;
        let mut worst = [Real::exact(0.0); 3];
        for end in &self.ends {
            let (in_plane, square) = self.at(call, *end);
            let together = method.together(in_plane, square);
            if together > worst[0] {
                worst = [together, in_plane, square];
            }
        }
        let [bending, torsion] = [self.ix, self.ix + self.iy];
        answer(call, worst, [self.length, bending, torsion])
    }

    /// The line load at a point, in the plane and square to it.
    fn at(&self, call: &Call, end: [Real; 2]) -> (Real, Real) {
        let load = |name: &str| call.real(name);
        let [x, y] = end.map(Real::abs);
        let turn = load("twist") / (self.ix + self.iy);
        let along = load("along") / self.length + turn * y;
        let across = load("across") / self.length + turn * x;
        // A single line has no stiffness against `tilt`, and does not take it.
        let tilted = if self.ix == 0.0 { Real::exact(0.0) } else { load("tilt") * y / self.ix };
        let bent = tilted + load("swing") * x / self.iy;
        ((along.squared() + across.squared()).sqrt(), load("pull") / self.length + bent)
    }
}

fn answer(call: &Call, worst: [Real; 3], shape: [Real; 3]) -> Result<Answer, Refusal> {
    if worst[0] == 0.0 {
        return Err(Refusal::whole(
            "the weld has no load",
            "Give a force or a moment: `across:`, `tilt:`, `twist:` …",
        ));
    }
    let [line_load, in_plane, square] = worst;
    let [length, bending, torsion] = shape;
    Ok(Answer::new()
        .number("line_load", line_load)
        .number("in_plane", in_plane)
        .number("square", square)
        .number("length", length)
        .number("bending", bending)
        .number("torsion", torsion)
        .remark(format!("put together by {}", call.text("method").trim().to_lowercase())))
}

/// Lines of length `length` along x at the heights given.
fn level(length: Real, y: Real) -> Line {
    Line { from: [length / -2.0, y], to: [length / 2.0, y] }
}

/// A line upright at `x`, `height` long, about the middle.
fn upright(x: Real, height: Real) -> Line {
    Line { from: [x, height / -2.0], to: [x, height / 2.0] }
}

pub(super) static WELD_LINE: Function = Function {
    name: "weld_line",
    does: "section of one straight weld along x",
    parameters: &[needed("length", LENGTH, "of the weld"), ALONG, ACROSS, PULL, SWING, TWIST, METHOD],
    outputs: OUTPUTS,
    formula: lines(
        "L = length\n\
         x = length/2\n\
         bending = 0 mm^3\n\
         I_y = length^3/12\n\
         torsion = I_y\n\
         in_plane = sqrt((along/L)^2 + (across/L + twist*x/torsion)^2)\n\
         square = pull/L + swing*x/I_y\n\
         line_load = if method == \"maximum shear\" then sqrt((square/2)^2 + in_plane^2) else if method == \"directional\" then sqrt(2*square^2 + 3*in_plane^2) else sqrt(square^2 + in_plane^2)",
    ),
    validity: "As for other groups; a single line has no strength against bending about its own axis.",
    source: SOURCE,
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = weld_line(length: 100 mm, pull: 10 kN, swing: 100 N·m)\n\
              check weld.line_load within 159 N/mm .. 161 N/mm \"100 + 6 x 100000/100^2\"",
    body: |call| Group::of(&[level(call.real("length"), Real::exact(0.0))]).answer(call),
};

pub(super) static WELD_TWO_LINES: Function = Function {
    name: "weld_two_lines",
    does: "section of two equal welds along x, one above the other",
    parameters: &[
        needed("length", LENGTH, "of each weld"),
        needed("gap", LENGTH, "between them, along y"),
        ALONG,
        ACROSS,
        PULL,
        TILT,
        SWING,
        TWIST,
        METHOD,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "L = 2*length\n\
         x = length/2\n\
         y = gap/2\n\
         bending = L*y^2\n\
         I_y = 2*length^3/12\n\
         torsion = bending + I_y\n\
         in_plane = sqrt((along/L + twist*y/torsion)^2 + (across/L + twist*x/torsion)^2)\n\
         square = pull/L + tilt*y/bending + swing*x/I_y\n\
         line_load = if method == \"maximum shear\" then sqrt((square/2)^2 + in_plane^2) else if method == \"directional\" then sqrt(2*square^2 + 3*in_plane^2) else sqrt(square^2 + in_plane^2)\n\
         length = L",
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = weld_two_lines(length: 50 mm, gap: 50 mm, across: 7.5 kN, twist: 7.5 kN * 125 mm)\n\
              size = weld_size(line_load: weld.line_load, allowable: 100 MPa)\n\
              check size.throat within 4.53 mm .. 4.55 mm \"Bhandari, example 8.9: 4.539\"",
    body: |call| {
        let (length, half) = (call.real("length"), call.real("gap") / 2.0);
        Group::of(&[level(length, half), level(length, -half)]).answer(call)
    },
};

pub(super) static WELD_U: Function = Function {
    name: "weld_u",
    does: "section of two equal welds along x with an upright one at their left end",
    parameters: &[
        needed("length", LENGTH, "of each level weld"),
        needed("gap", LENGTH, "between them, along y: length of the upright one"),
        ALONG,
        ACROSS,
        PULL,
        TILT,
        SWING,
        TWIST,
        METHOD,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "L = 2*length + gap\n\
         e = gap*length/(2*L)\n\
         x = length/2 + e\n\
         y = gap/2\n\
         bending = 2*length*y^2 + gap^3/12\n\
         I_y = 2*(length^3/12 + length*e^2) + gap*(length/2 - e)^2\n\
         torsion = bending + I_y\n\
         in_plane = sqrt((along/L + twist*y/torsion)^2 + (across/L + twist*x/torsion)^2)\n\
         square = pull/L + tilt*y/bending + swing*x/I_y\n\
         line_load = if method == \"maximum shear\" then sqrt((square/2)^2 + in_plane^2) else if method == \"directional\" then sqrt(2*square^2 + 3*in_plane^2) else sqrt(square^2 + in_plane^2)\n\
         length = L",
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = weld_u(length: 50 mm, gap: 100 mm, pull: 20 kN)\n\
              check weld.line_load within 99.9 N/mm .. 100.1 N/mm \"20 kN over 200 mm\"",
    body: |call| {
        let (length, gap) = (call.real("length"), call.real("gap"));
        Group::of(&[level(length, gap / 2.0), level(length, gap / -2.0), upright(length / -2.0, gap)])
            .answer(call)
    },
};

pub(super) static WELD_RECTANGLE: Function = Function {
    name: "weld_rectangle",
    does: "section of a weld all round a rectangle",
    parameters: &[
        needed("width", LENGTH, "along x"),
        needed("height", LENGTH, "along y"),
        ALONG,
        ACROSS,
        PULL,
        TILT,
        SWING,
        TWIST,
        METHOD,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "L = 2*(width + height)\n\
         x = width/2\n\
         y = height/2\n\
         bending = 2*(width*y^2 + height^3/12)\n\
         I_y = 2*(height*x^2 + width^3/12)\n\
         torsion = bending + I_y\n\
         in_plane = sqrt((along/L + twist*y/torsion)^2 + (across/L + twist*x/torsion)^2)\n\
         square = pull/L + tilt*y/bending + swing*x/I_y\n\
         line_load = if method == \"maximum shear\" then sqrt((square/2)^2 + in_plane^2) else if method == \"directional\" then sqrt(2*square^2 + 3*in_plane^2) else sqrt(square^2 + in_plane^2)\n\
         length = L",
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = weld_rectangle(width: 100 mm, height: 150 mm, across: 25 kN, tilt: 25 kN * 500 mm, \
              method: \"maximum shear\")\n\
              size = weld_size(line_load: weld.line_load, allowable: 75 MPa)\n\
              check size.leg within 5.31 mm .. 5.33 mm \"Bhandari, example 8.14: 5.323\"",
    body: |call| {
        let (width, height) = (call.real("width"), call.real("height"));
        let level = [height / 2.0, height / -2.0].map(|y| level(width, y));
        let sides = [width / 2.0, width / -2.0].map(|x| upright(x, height));
        Group::of(&[level[0], level[1], sides[0], sides[1]]).answer(call)
    },
};

pub(super) static WELD_ROUND: Function = Function {
    name: "weld_round",
    does: "section of a weld all round a bar or tube",
    parameters: &[
        needed("d", LENGTH, "outside diameter of the bar or tube"),
        ALONG,
        ACROSS,
        PULL,
        TILT,
        SWING,
        TWIST,
        METHOD,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "length = pi*d\n\
         bending = pi*d^3/8\n\
         torsion = 2*bending\n\
         in_plane = sqrt(along^2 + across^2)/length + 2*twist/(pi*d^2)\n\
         square = pull/length + 4*sqrt(tilt^2 + swing^2)/(pi*d^2)\n\
         line_load = if method == \"maximum shear\" then sqrt((square/2)^2 + in_plane^2) else if method == \"directional\" then sqrt(2*square^2 + 3*in_plane^2) else sqrt(square^2 + in_plane^2)",
    ),
    validity: VALIDITY,
    source: SOURCE,
    hazard: Some(Hazard::LoadCarryingWeld),
    example: "weld = weld_round(d: 50 mm, across: 10 kN, tilt: 10 kN * 200 mm, method: \"maximum shear\")\n\
              size = weld_size(line_load: weld.line_load, allowable: 100 MPa)\n\
              check size.leg within 7.25 mm .. 7.27 mm \"Bhandari, example 8.15: 7.2597\"",
    body: weld_round,
};

fn weld_round(call: &Call) -> Result<Answer, Refusal> {
    let method = chosen(call, "method", METHODS)?;
    let load = |name: &str| call.real(name);
    let radius = call.real("d") / 2.0;
    let round = 2.0 * PI * radius;
    let shear = (load("along").squared() + load("across").squared()).sqrt();
    let moment = (load("tilt").squared() + load("swing").squared()).sqrt();
    let in_plane = shear / round + load("twist") / (round * radius);
    let square = load("pull") / round + moment / (PI * radius.squared());
    let second = PI * radius.cubed();
    let worst = [method.together(in_plane, square), in_plane, square];
    answer(call, worst, [round, second, 2.0 * second])
}
