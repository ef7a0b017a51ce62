//! Measuring methods against worked examples.

use std::f64::consts::{PI, TAU};

use asfound::trade::measuring::FUNCTIONS;
use proptest::prelude::*;

use super::calling::{Answered, Calling};
use super::worked::worked_examples;

fn circle(x: &[f64], y: &[f64], method: &str) -> Answered {
    Calling::of(FUNCTIONS, "circle_through").list("x", x).list("y", y).text("method", method).answer()
}

worked_examples! {
    /// `SciPy` Cookbook, Least Squares Circle.
    circle_through_six_points "ME-05" => |example| {
        let (x, y) = (example.list("x"), example.list("y"));
        let algebraic = circle(&x, &y, "algebraic");
        example.check("alg_xc", algebraic.number("x"));
        example.check("alg_yc", algebraic.number("y"));
        example.check("alg_R", algebraic.number("radius"));
        let geometric = circle(&x, &y, "geometric");
        example.check("geo_xc", geometric.number("x"));
        example.check("geo_yc", geometric.number("y"));
        example.check("geo_R", geometric.number("radius"));
        example.check("residual", geometric.number("sum_squares"));
    }

    /// Model-engineering society sheet, three-wire textbook formula.
    inch_thread_over_wires "ME-07" => |example| {
        let over = Calling::of(FUNCTIONS, "over_wires")
            .number("pitch", 1.0 / example.input("tpi"))
            .number("wire", example.input("W"))
            .number("major", example.input("D"))
            .answer();
        example.check("best_wire", over.number("best_wire"));
        example.check("M", over.number("over"));
    }

    /// ISO 724 basic pitch diameter with the standard three-wire relation.
    m10_over_the_best_wire "ME-08" => |example| {
        let best = Calling::of(FUNCTIONS, "best_wire").number("pitch", example.input("P")).answer().number("wire");
        example.check("best_wire", best);
        let over = Calling::of(FUNCTIONS, "over_wires")
            .number("pitch", example.input("P"))
            .number("wire", best)
            .number("pitch_diameter", example.input("d2"))
            .answer();
        example.check("M", over.number("over"));
    }

    /// Public metrology question with worked answer (two-ball method).
    tapered_slot_by_balls "ME-09" => |example| {
        let slot = Calling::of(FUNCTIONS, "taper_by_balls")
            .number("small_ball", example.input("dA"))
            .number("large_ball", example.input("dB"))
            .number("apart", example.input("hA") - example.input("hB"))
            .answer();
        example.check("half", slot.number("half_angle"));
        example.check("full", slot.number("full_angle"));
    }

    /// J. Rose, Modern Machine-Shop Practice.
    tailstock_setover "ME-10" => |example| {
        let setover = Calling::of(FUNCTIONS, "setover")
            .number("taper", example.input("taper"))
            .number("length", example.input("L"))
            .answer();
        example.check("offset", setover.number("offset"));
    }

    /// Worked two ways.
    runout_and_taper "XC-09" => |example| {
        let offset = Calling::of(FUNCTIONS, "eccentricity").number("runout", example.input("TIR")).answer();
        example.check("eccentricity", offset.number("offset"));
        let taper = Calling::of(FUNCTIONS, "taper")
            .number("large", example.input("D1"))
            .number("small", example.input("D2"))
            .number("apart", example.input("length"))
            .answer();
        example.check("taper", taper.number("taper"));
        example.check("half_angle", taper.number("half_angle"));
    }
}

/// 55° Whitworth: M = d2 + 3.1657 W - 0.9605 P, as printed in Machinery's Handbook, 31st ed.
#[test]
fn whitworth_over_wires() {
    let (pitch, wire, d2) = (0.0254 / 10.0, 1.5e-3, 0.018);
    let over = Calling::of(FUNCTIONS, "over_wires")
        .number("pitch", pitch)
        .number("wire", wire)
        .number("pitch_diameter", d2)
        .number("angle", 55.0 * PI / 180.0)
        .answer();
    let printed = d2 + 3.1657 * wire - 0.9605 * pitch;
    assert!((over.number("over") / printed - 1.0).abs() < 2e-5);
}

#[test]
fn wires_that_do_not_bear() {
    let call = |wire| {
        Calling::of(FUNCTIONS, "over_wires")
            .number("pitch", 2e-3)
            .number("wire", wire)
            .number("pitch_diameter", 0.02)
            .answer()
    };
    assert_eq!(call(1.155e-3).0.warnings.len(), 0);
    assert_eq!(call(0.9e-3).0.warnings.len(), 1);
    assert_eq!(call(2.2e-3).0.warnings.len(), 1);
    let neither = Calling::of(FUNCTIONS, "over_wires").number("pitch", 2e-3).number("wire", 1e-3);
    assert_eq!(neither.outcome().expect_err("no diameter").parameter, Some("pitch_diameter"));
}

#[test]
fn refused_with_the_argument_named() {
    let balls = |lower, upper, height| {
        Calling::of(FUNCTIONS, "bore_by_balls")
            .number("lower_ball", lower)
            .number("upper_ball", upper)
            .number("height", height)
            .outcome()
    };
    assert!(balls(0.03, 0.03, 0.06).is_err(), "stacked straight up");
    assert!(balls(0.03, 0.03, 0.03).is_err(), "side by side");
    assert!(balls(0.02, 0.004, 0.0239).is_err(), "narrower than the larger ball");
    let line =
        Calling::of(FUNCTIONS, "circle_through").list("x", &[0.0, 1.0, 2.0]).list("y", &[0.0, 1.0, 2.0]);
    assert!(line.outcome().expect_err("a line").message.contains("straight line"));
    let uneven = Calling::of(FUNCTIONS, "circle_through").list("x", &[0.0, 1.0, 2.0]).list("y", &[0.0, 1.0]);
    assert_eq!(uneven.outcome().expect_err("uneven").parameter, Some("y"));
    let few = Calling::of(FUNCTIONS, "roundness").list("radii", &[1.0, 1.0, 1.0]);
    assert!(few.outcome().is_err());
}

/// ISO 12181-1: an odd lobed form of amplitude a has a roundness of 2 a; the centre of a round part is found exactly.
#[test]
fn three_lobes_show_on_radii() {
    let radii: Vec<f64> = (0..12)
        .map(|index| TAU * f64::from(index) / 12.0)
        .map(|angle| 0.020 + 5e-6 * (3.0 * angle).cos() + 10e-6 * angle.cos() - 20e-6 * angle.sin())
        .collect();
    let ring = Calling::of(FUNCTIONS, "roundness").list("radii", &radii).answer();
    assert!((ring.number("radius") - 0.020).abs() < 1e-12);
    assert!((ring.number("roundness") - 10e-6).abs() < 1e-12);
    assert!((ring.number("eccentricity") - 500.0_f64.sqrt() * 1e-6).abs() < 1e-12);
    assert!((ring.number("direction") - (TAU - 2.0_f64.atan())).abs() < 1e-9);
}

#[test]
fn direction_on_the_axes() {
    for (index, wanted) in [(0, 0.0), (1, PI / 2.0), (2, PI), (3, 1.5 * PI)] {
        let mut radii = [0.0; 4];
        radii[index] = 1e-5;
        radii[(index + 2) % 4] = -1e-5;
        let ring = Calling::of(FUNCTIONS, "roundness").list("radii", &radii).answer();
        assert!((ring.number("direction") - wanted).abs() < 1e-9, "{index}: {}", ring.number("direction"));
        assert!((ring.number("eccentricity") - 1e-5).abs() < 1e-12);
    }
}

proptest! {
    /// Points on a circle give that circle, by both methods, wherever it lies.
    #[test]
    fn a_true_circle_is_found(x in -1.0..1.0_f64, y in -1.0..1.0_f64, r in 0.01..1.0_f64, turn in 0.0..TAU, arc in 1.0..TAU) {
        let angles: Vec<f64> = (0..9).map(|index| turn + arc * f64::from(index) / 9.0).collect();
        let xs: Vec<f64> = angles.iter().map(|angle| x + r * angle.cos()).collect();
        let ys: Vec<f64> = angles.iter().map(|angle| y + r * angle.sin()).collect();
        for method in ["algebraic", "geometric"] {
            let found = circle(&xs, &ys, method);
            prop_assert!((found.number("x") - x).abs() < 1e-9);
            prop_assert!((found.number("y") - y).abs() < 1e-9);
            prop_assert!((found.number("radius") - r).abs() < 1e-9);
            prop_assert!(found.number("roundness") < 1e-9);
        }
    }

    /// The geometric circle is the best one: no small move of the centre lessens the sum of squares.
    #[test]
    fn no_better_circle(noise in prop::collection::vec(-0.05..0.05_f64, 10), dx in -0.01..0.01_f64, dy in -0.01..0.01_f64) {
        let angles = (0..10).map(|index| TAU * f64::from(index) / 10.0);
        let points: Vec<(f64, f64)> =
            angles.zip(&noise).map(|(angle, off)| ((1.0 + off) * angle.cos(), (1.0 + off) * angle.sin())).collect();
        let (xs, ys): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
        let found = circle(&xs, &ys, "geometric");
        let sum = |x: f64, y: f64| {
            let radii: Vec<f64> = points.iter().map(|(px, py)| (px - x).hypot(py - y)).collect();
            let mean = radii.iter().sum::<f64>() / 10.0;
            radii.iter().map(|each| (each - mean).powi(2)).sum::<f64>()
        };
        let (x, y) = (found.number("x"), found.number("y"));
        prop_assert!(sum(x + dx, y + dy) >= sum(x, y) - 1e-12);
    }

    /// Measuring over wires and calculating back gives the pitch diameter.
    #[test]
    fn over_wires_and_back(pitch in 0.5e-3..6e-3_f64, ratio in 0.52..1.0_f64, d2 in 0.005..0.2_f64, degrees in 29.0..60.0_f64) {
        let angle = degrees * PI / 180.0;
        let over = Calling::of(FUNCTIONS, "over_wires")
            .number("pitch", pitch).number("wire", ratio * pitch).number("pitch_diameter", d2).number("angle", angle)
            .answer().number("over");
        let back = Calling::of(FUNCTIONS, "pitch_diameter_over_wires")
            .number("over", over).number("pitch", pitch).number("wire", ratio * pitch).number("angle", angle)
            .answer().number("pitch_diameter");
        prop_assert!((back / d2 - 1.0).abs() < 1e-12);
    }

    /// Two balls put into a cone give its angle back.
    #[test]
    fn balls_find_the_cone(half in 0.02..1.2_f64, small in 0.002..0.02_f64, larger in 1.1..3.0_f64) {
        let step = small * (larger - 1.0) / 2.0;
        let apart = step / half.sin() + step;
        let found = Calling::of(FUNCTIONS, "taper_by_balls")
            .number("small_ball", small).number("large_ball", small * larger).number("apart", apart).answer();
        prop_assert!((found.number("half_angle") - half).abs() < 1e-9);
    }

    /// Two balls laid into a bore give it back.
    #[test]
    fn balls_find_the_bore(lower in 0.01..0.05_f64, upper in 0.01..0.05_f64, part in 0.05..0.95_f64) {
        let widest = lower.max(upper);
        let bore = widest + part * (lower + upper - widest);
        let both = f64::midpoint(lower, upper);
        let height = both + (both.powi(2) - (bore - both).powi(2)).sqrt();
        let found = Calling::of(FUNCTIONS, "bore_by_balls")
            .number("lower_ball", lower).number("upper_ball", upper).number("height", height).answer();
        prop_assert!((found.number("bore") - bore).abs() < 1e-9);
    }

    /// A cap's height and chord give its sphere's radius; a ball on an edge gives the edge.
    #[test]
    fn caps(r in 0.01..10.0_f64, part in 0.05..0.95_f64) {
        let height = part * r;
        let chord = 2.0 * (r * r - (r - height).powi(2)).sqrt();
        let radius = Calling::of(FUNCTIONS, "radius_by_height").number("chord", chord).number("height", height).answer();
        prop_assert!((radius.number("radius") / r - 1.0).abs() < 1e-9);
        let edge = Calling::of(FUNCTIONS, "bore_by_ball_on_edge").number("ball", 2.0 * r).number("above", height).answer();
        prop_assert!((edge.number("bore") / chord - 1.0).abs() < 1e-9);
    }
}
