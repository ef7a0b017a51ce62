//! Circles: eccentricity, roundness, the circle through measured points.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::SIZE;
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Refusal, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{
    angle, by_formula, chosen, derived, in_work, length, lines, needed, or_words, quantity, table,
};
use crate::trade::press::magnitude;

pub(super) static ECCENTRICITY: Function = Function {
    name: "eccentricity",
    does: "how far a round part is off centre, from the full swing of the dial",
    parameters: &[needed(
        "runout",
        Takes::NotNegative(Dimension::LENGTH),
        "full indicator movement in one turn",
    )],
    outputs: &[length("offset", "distance between the two centres")],
    formula: lines("offset = runout/2"),
    validity: "the part itself round: out-of-roundness counts as runout too",
    source: &[derived("geometry"), in_work("ISO 1101", "2017", "circular run-out")],
    hazard: None,
    example: r"offset = eccentricity(0.06 mm)
check offset within 0.0299 mm .. 0.0301 mm",
    body: by_formula,
};

pub(super) static ROUNDNESS: Function = Function {
    name: "roundness",
    does: "roundness and eccentricity from radii or dial readings taken at equal angles round one turn",
    parameters: &[needed(
        "radii",
        Takes::List(Dimension::LENGTH),
        "readings in order at equal angles, the first at 0°; four or more",
    )],
    outputs: &[
        length("radius", "mean radius, or mean dial reading"),
        length("eccentricity", "distance of the least-squares centre from the axis of turning"),
        angle("direction", "where that centre lies, from the first reading on"),
        length("roundness", "largest less smallest deviation from the least-squares circle"),
    ],
    formula: table(
        "sums over the readings r at the angles of n equal parts of a turn: p = 2 sum(r cos)/n, q = 2 sum(r sin)/n; eccentricity and direction are those of (p, q), roundness is the span of r - radius - p cos - q sin",
        "radius = mean(radii)",
    ),
    validity: "eccentricity small against the radius; diameters alone cannot show odd lobes, radii can",
    source: &[
        in_work("ISO 12181-1", "2011", "least-squares reference circle"),
        derived("sums for equal angles: least squares in closed form"),
    ],
    hazard: None,
    example: r#"ring = roundness([0.00 mm, 0.02 mm, 0.04 mm, 0.02 mm])
check ring.eccentricity within 0.0199 mm .. 0.0201 mm
check ring.roundness <= 0.0001 mm   "round, but off centre""#,
    body: roundness,
};

fn roundness(call: &Call) -> Result<Answer, Refusal> {
    let radii = call.list("radii");
    if radii.len() < 4 {
        return Err(Refusal::of(
            "radii",
            "fewer than four readings show no roundness",
            "Give four or more at equal angles.",
        ));
    }
    let count = radii.len() as f64;
    let turns: Vec<(f64, f64)> = (0..radii.len())
        .map(|index| TAU * index as f64 / count)
        .map(|angle| (libm::cos(angle), libm::sin(angle)))
        .collect();
    let radius = mean(radii.iter().copied(), count);
    let x = 2.0 * mean(radii.iter().zip(&turns).map(|(r, (cos, _))| *r * *cos), count);
    let y = 2.0 * mean(radii.iter().zip(&turns).map(|(r, (_, sin))| *r * *sin), count);
    let left = radii.iter().zip(&turns).map(|(r, (cos, sin))| *r - radius - x * *cos - y * *sin);
    Ok(Answer::new()
        .number("radius", radius)
        .number("eccentricity", magnitude(x, y))
        .number("direction", direction(x, y))
        .number("roundness", span(left)))
}

fn mean(terms: impl Iterator<Item = Real>, count: f64) -> Real {
    terms.sum::<Real>() / count
}

/// Largest less smallest.
fn span(values: impl Iterator<Item = Real> + Clone) -> Real {
    let largest = values.clone().reduce(Real::max);
    let smallest = values.reduce(Real::min);
    largest.zip(smallest).map_or(Real::exact(0.0), |(largest, smallest)| largest - smallest)
}

/// The angle of a point from the x axis, from 0 up to a full turn; a hair below 0 stays there, not at 360°.
fn direction(x: Real, y: Real) -> Real {
    if x == 0.0 && y == 0.0 {
        return Real::exact(0.0);
    }
    let angle = if x.abs() >= y.abs() {
        (y / x).atan() + if x < 0.0 { PI } else { 0.0 }
    } else {
        (if y > 0.0 { FRAC_PI_2 } else { -FRAC_PI_2 }) - (x / y).atan()
    };
    if angle < -1e-9 { angle + TAU } else { angle }
}

pub(super) static CIRCLE_THROUGH: Function = Function {
    name: "circle_through",
    does: "least-squares circle through points measured round an arc or a bore",
    parameters: &[
        needed("x", Takes::List(Dimension::LENGTH), "first coordinates of the points; three or more"),
        needed("y", Takes::List(Dimension::LENGTH), "second coordinates, as many"),
        or_words(
            "method",
            "geometric",
            "`geometric` (least squares of the distances) or `algebraic` (of the squared radii; quicker by \
             hand)",
        ),
    ],
    outputs: &[
        length("x", "first coordinate of the centre"),
        length("y", "second coordinate of the centre"),
        length("radius", "mean distance of the points from the centre"),
        length("roundness", "largest less smallest distance from the centre"),
        quantity(
            "sum_squares",
            Dimension::AREA,
            ["mm^2", "in^2"],
            "sum of the squared deviations from the radius",
        ),
    ],
    formula: table(
        "geometric: centre and radius with the least sum((R_i - R)^2), found step by step; algebraic: centre with the least sum((R_i^2 - R^2)^2), radius = mean R_i",
        "",
    ),
    validity: "points spread over a good part of the circle: a short arc fixes the radius badly",
    source: &[
        in_work("SciPy Cookbook", "", "Least Squares Circle"),
        derived("three points: the exact circle (geometry)"),
    ],
    hazard: None,
    example: r"boss = circle_through(x: [9 mm, 35 mm, -13 mm, 10 mm, 23 mm, 0 mm], y: [34 mm, 10 mm, 6 mm, -14 mm, 27 mm, -10 mm])
check boss.x within 10.500 mm .. 10.501 mm
check boss.radius within 23.333 mm .. 23.334 mm",
    body: circle_through,
};

type Point = (Real, Real);

fn circle_through(call: &Call) -> Result<Answer, Refusal> {
    let points = points(call)?;
    let fitted: fn(&[Point]) -> Option<Point> =
        chosen(call, "method", &[("geometric", geometric as fn(&[Point]) -> _), ("algebraic", algebraic)])?;
    let centre = fitted(&points);
    let centre = centre.filter(|(x, y)| x.value().is_finite() && y.value().is_finite()).ok_or_else(|| {
        let message = "the points lie on a straight line, or too nearly so";
        Refusal::of("x", message, "Measure points that are spread round the circle.")
    })?;
    let distances: Vec<Real> = points.iter().map(|point| distance(*point, centre)).collect();
    let radius = mean(distances.iter().copied(), distances.len() as f64);
    Ok(Answer::new()
        .number("x", centre.0)
        .number("y", centre.1)
        .number("radius", radius)
        .number("roundness", span(distances.iter().copied()))
        .number("sum_squares", distances.iter().map(|each| (*each - radius).squared()).sum()))
}

fn points(call: &Call) -> Result<Vec<Point>, Refusal> {
    let (x, y) = (call.list("x"), call.list("y"));
    if x.len() != y.len() {
        let message = format!("there are {} first and {} second coordinates", x.len(), y.len());
        return Err(Refusal::of("y", message, "Give one pair a point, in the same order."));
    }
    if x.len() < 3 {
        return Err(Refusal::of("x", "fewer than three points make no circle", "Give three or more."));
    }
    Ok(x.iter().copied().zip(y.iter().copied()).collect())
}

fn distance(point: Point, centre: Point) -> Real {
    magnitude(point.0 - centre.0, point.1 - centre.1)
}

/// Solves `a x + b y = p`, `b x + c y = q`; `None` if it has no single solution.
fn solve((a, b, c): (Real, Real, Real), (p, q): (Real, Real)) -> Option<Point> {
    let determinant = a * c - b * b;
    let scale = (a + c).value();
    if determinant.value().abs() <= 1e-12 * scale * scale {
        return None;
    }
    Some(((p * c - q * b) / determinant, (q * a - p * b) / determinant))
}

/// The centre with the least sum of squared differences of squared radii.
fn algebraic(points: &[Point]) -> Option<Point> {
    let count = points.len() as f64;
    let middle = (mean(points.iter().map(|p| p.0), count), mean(points.iter().map(|p| p.1), count));
    let sum = |term: fn(Real, Real) -> Real| -> Real {
        points.iter().map(|point| term(point.0 - middle.0, point.1 - middle.1)).sum()
    };
    let normal = (sum(|u, _| u * u), sum(|u, v| u * v), sum(|_, v| v * v));
    let right = (sum(|u, v| u * (u * u + v * v)) / 2.0, sum(|u, v| v * (u * u + v * v)) / 2.0);
    let (u, v) = solve(normal, right)?;
    Some((middle.0 + u, middle.1 + v))
}

/// The centre with the least sum of squared deviations of the distances.
///
/// Found on plain numbers; one last full step of Newton's method, taken with the slopes of the points, gives the
/// slopes of the centre exactly, since at the optimum that step is zero.
fn geometric(points: &[Point]) -> Option<Point> {
    let plain: Vec<Point> =
        points.iter().map(|(x, y)| (Real::exact(x.value()), Real::exact(y.value()))).collect();
    let mut centre = algebraic(&plain)?;
    for _ in 0..50 {
        let step = step(&plain, centre, Curvature::Approximate)?;
        centre = (centre.0 - step.0, centre.1 - step.1);
        let size = distance(plain[0], centre).value();
        if magnitude(step.0, step.1).value() <= 1e-14 * size {
            break;
        }
    }
    let last = step(points, centre, Curvature::Full)?;
    Some((centre.0 - last.0, centre.1 - last.1))
}

/// Whether the second derivatives of the distances are counted: not needed to find the optimum, where leaving them out
/// makes the search steadier; needed for its slopes.
#[derive(Clone, Copy, PartialEq)]
enum Curvature {
    Approximate,
    Full,
}

fn step(points: &[Point], centre: Point, curvature: Curvature) -> Option<Point> {
    let count = points.len() as f64;
    let distances: Vec<Real> = points.iter().map(|point| distance(*point, centre)).collect();
    let radius = mean(distances.iter().copied(), count);
    let zero = Real::exact(0.0);
    let (mut u_sum, mut v_sum, mut gradient) = (zero, zero, (zero, zero));
    let mut matrix = (zero, zero, zero);
    for (point, r) in points.iter().zip(&distances) {
        let (u, v) = ((point.0 - centre.0) / *r, (point.1 - centre.1) / *r);
        let off = *r - radius;
        let bend = if curvature == Curvature::Full { off / *r } else { zero };
        u_sum = u_sum + u;
        v_sum = v_sum + v;
        gradient = (gradient.0 - off * u, gradient.1 - off * v);
        matrix.0 = matrix.0 + u * u + bend * v * v;
        matrix.1 = matrix.1 + u * v - bend * u * v;
        matrix.2 = matrix.2 + v * v + bend * u * u;
    }
    matrix.0 = matrix.0 - u_sum * u_sum / count;
    matrix.1 = matrix.1 - u_sum * v_sum / count;
    matrix.2 = matrix.2 - v_sum * v_sum / count;
    solve(matrix, gradient)
}

pub(super) static RADIUS_BY_HEIGHT: Function = Function {
    name: "radius_by_height",
    does: "radius of an arc from a straightedge laid across it and the height in the middle",
    parameters: &[
        needed("chord", SIZE, "length of the straightedge between its points of contact"),
        needed("height", SIZE, "height of the arc over the middle of the chord"),
    ],
    outputs: &[length("radius", "radius of the arc")],
    formula: lines("radius = chord^2/(8*height) + height/2"),
    validity: "a true arc; a small height measured badly makes a bad radius",
    source: &[derived("geometry of the circular segment")],
    hazard: None,
    example: r"rail = radius_by_height(chord: 600 mm, height: 100 mm)
check rail within 499.9 mm .. 500.1 mm",
    body: by_formula,
};
