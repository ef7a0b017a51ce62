//! The slopes of every function of this room's geometry and fits against central differences.

use asfound::trade::{limits, measuring, press, repair, thermal};

use super::calling::Calling;

const RTOL: f64 = 1e-5;

const STEEL: [(&str, f64); 3] = [("E", 206e9), ("poisson", 0.3), ("cte", 12e-6)];
const BRONZE: [(&str, f64); 3] = [("E", 100e9), ("poisson", 0.34), ("cte", 18e-6)];

fn all(calling: &Calling, outputs: &[&str]) {
    for output in outputs {
        calling.assert_slopes(output, RTOL);
    }
}

#[test]
fn of_fits() {
    let journal = Calling::of(limits::FUNCTIONS, "judge_journal")
        .text("class", "f7")
        .number("at", 0.0701)
        .number("smallest", 0.069_912)
        .number("largest", 0.069_955);
    all(&journal, &["past_worn", "left", "to_come_off"]);
    let pair = Calling::of(limits::FUNCTIONS, "judge_fit")
        .text("class", "H8/f7")
        .number("at", 0.0701)
        .number("journal_min", 0.069_912)
        .number("journal_max", 0.069_955)
        .number("bore_min", 0.070_004)
        .number("bore_max", 0.070_03);
    all(&pair, &["clearance_min", "clearance_max", "too_slack", "too_tight"]);
    let fit = Calling::of(limits::FUNCTIONS, "fit").text("class", "H7/k6").number("at", 0.0701);
    all(&fit, &["hole_min", "hole_max", "shaft_min", "shaft_max", "clearance_min", "clearance_max"]);
}

#[test]
fn of_press_fits() {
    let press = Calling::of(press::FUNCTIONS, "press_fit")
        .number("d", 0.05)
        .number("interference", 4e-5)
        .number("length", 0.06)
        .number("outer", 0.09)
        .number("inner", 0.02)
        .number("mu", 0.12)
        .number("mu_hold", 0.08)
        .number("roughness_hub", 6e-6)
        .number("roughness_shaft", 3e-6)
        .material("hub", &STEEL)
        .material("shaft", &BRONZE);
    all(
        &press,
        &[
            "pressure",
            "interference",
            "hub_hoop",
            "hub_hoop_outside",
            "hub_equivalent",
            "shaft_hoop",
            "shaft_hoop_bore",
            "force",
            "push_out",
            "torque",
        ],
    );
    let stress = Calling::of(press::FUNCTIONS, "interference_for_stress")
        .number("d", 0.04)
        .number("outer", 0.06)
        .number("inner", 0.02)
        .number("hoop", 1e8)
        .material("hub", &STEEL)
        .material("shaft", &BRONZE);
    all(&stress, &["pressure", "interference", "bore"]);
    let hold = Calling::of(press::FUNCTIONS, "interference_to_hold")
        .number("d", 0.06)
        .number("length", 0.07)
        .number("outer", 0.11)
        .number("inner", 0.01)
        .number("torque", 500.0)
        .number("force", 9000.0)
        .number("mu", 0.1)
        .number("safety", 1.5)
        .material("hub", &STEEL)
        .material("shaft", &BRONZE);
    all(&hold, &["pressure", "interference", "hub_hoop"]);
    let growth = Calling::of(press::FUNCTIONS, "press_from_growth")
        .number("d", 0.08)
        .number("outer", 0.12)
        .number("growth", 5e-6)
        .number("length", 0.05)
        .number("mu", 0.2)
        .material("hub", &STEEL);
    all(&growth, &["pressure", "hub_hoop_outside", "hub_hoop", "force", "torque"]);
    let warm = Calling::of(press::FUNCTIONS, "shrink_temperatures")
        .number("d", 0.4)
        .number("interference", 2e-4)
        .number("clearance", 1e-4)
        .number("room", 288.0)
        .material("hub", &STEEL)
        .material("shaft", &BRONZE);
    all(&warm, &["rise", "heat_to", "drop", "cool_to"]);
}

#[test]
fn of_repair() {
    let sizes = Calling::of(repair::FUNCTIONS, "undersize_repair")
        .number("nominal", 0.07)
        .number("journal_min", 0.069_62)
        .number("bore_max", 0.070_81)
        .number("journal", 0.0694)
        .number("bore", 0.0801)
        .number("clearance", 7e-5)
        .number("interference", 4e-5);
    all(
        &sizes,
        &[
            "journal",
            "undersize",
            "bore",
            "wall",
            "bush_outside",
            "bush_inside",
            "strength_left",
            "stiffness_left",
        ],
    );
    let shaft = Calling::of(repair::FUNCTIONS, "undersize_strength")
        .number("d", 0.06)
        .number("was", 0.07)
        .number("inner", 0.02)
        .number("torque", 800.0)
        .number("moment", 1500.0)
        .number("notch", 1.4)
        .material("material", &[("yield", 235e6)]);
    all(&shaft, &["bending", "shear", "equivalent", "safety", "strength_left"]);
    let bush = Calling::of(repair::FUNCTIONS, "bush_closing_in")
        .number("outside", 0.05)
        .number("inside", 0.04)
        .number("housing_outer", 0.09)
        .number("interference", 5e-5)
        .material("bush", &BRONZE)
        .material("housing", &STEEL);
    all(&bush, &["pressure", "closing", "closing_ratio", "inside_after", "bush_hoop", "housing_hoop"]);
    let bar = Calling::of(repair::FUNCTIONS, "stock_bar").number("d", 0.0801).number("length", 0.09);
    all(&bar, &["bar", "cut", "to_turn_off"]);
}

#[test]
fn of_warmth_and_contact() {
    let growth = Calling::of(thermal::FUNCTIONS, "thermal_growth")
        .number("length", 2.0)
        .number("rise", 30.0)
        .material("material", &STEEL);
    all(&growth, &["growth"]);
    let read = Calling::of(thermal::FUNCTIONS, "length_at_20")
        .number("length", 0.3)
        .number("temperature", 310.0)
        .material("material", &BRONZE)
        .material("gauge", &STEEL);
    all(&read, &["length", "correction"]);
    let bar = Calling::of(thermal::FUNCTIONS, "clamped_stress")
        .number("rise", 40.0)
        .number("gap", 1e-4)
        .number("length", 1.0)
        .material("material", &STEEL);
    all(&bar, &["stress"]);
    let bars = Calling::of(thermal::FUNCTIONS, "bars_across_gap")
        .number("length_1", 0.36)
        .number("area_1", 1.3e-3)
        .number("length_2", 0.45)
        .number("area_2", 1.6e-3)
        .number("rise", 100.0)
        .number("gap", 6e-4)
        .material("bar_1", &BRONZE)
        .material("bar_2", &STEEL);
    all(&bars, &["force", "growth_1", "growth_2", "stress_1", "stress_2"]);
    let joint = Calling::of(thermal::FUNCTIONS, "sleeve_on_bolt")
        .number("sleeve_area", 6e-4)
        .number("bolt_area", 4e-4)
        .number("rise", 65.0)
        .material("sleeve", &BRONZE)
        .material("bolt", &STEEL);
    all(&joint, &["force", "sleeve_stress", "bolt_stress"]);
    let ball = Calling::of(thermal::FUNCTIONS, "ball_contact")
        .number("force", 100.0)
        .number("d", 0.01)
        .number("against", -0.03)
        .material("ball", &STEEL)
        .material("other", &BRONZE);
    all(&ball, &["pressure", "radius", "approach", "shear", "depth"]);
    let line = Calling::of(thermal::FUNCTIONS, "line_contact")
        .number("force", 24e3)
        .number("length", 0.02)
        .number("d", 0.08)
        .number("against", 0.06)
        .material("roller", &STEEL)
        .material("other", &BRONZE);
    all(&line, &["pressure", "half_width", "shear", "depth"]);
}

#[test]
fn of_measuring() {
    let of = |name| Calling::of(measuring::FUNCTIONS, name);
    all(&of("best_wire").number("pitch", 1.5e-3).number("angle", 1.0), &["wire"]);
    let wires = of("over_wires").number("pitch", 1.5e-3).number("wire", 0.9e-3).number("angle", 1.0);
    all(&wires.clone().number("pitch_diameter", 9e-3), &["over", "best_wire"]);
    let sixty = of("over_wires").number("pitch", 1.5e-3).number("wire", 0.9e-3).number("major", 0.01);
    all(&sixty, &["over", "best_wire"]);
    let back =
        of("pitch_diameter_over_wires").number("over", 0.01).number("pitch", 1.5e-3).number("wire", 0.9e-3);
    all(&back.number("angle", 1.0), &["pitch_diameter"]);
    let taper = of("taper").number("large", 0.0524).number("small", 0.05).number("apart", 0.06);
    all(&taper, &["taper", "half_angle", "full_angle"]);
    let balls =
        of("taper_by_balls").number("small_ball", 8e-3).number("large_ball", 12e-3).number("apart", 0.01);
    all(&balls, &["half_angle", "full_angle"]);
    all(&of("setover").number("taper", 0.08).number("length", 0.9), &["offset"]);
    all(
        &of("bore_by_balls").number("lower_ball", 0.03).number("upper_ball", 0.028).number("height", 0.054),
        &["bore"],
    );
    all(&of("bore_by_ball_on_edge").number("ball", 0.05).number("above", 0.04), &["bore"]);
    all(&of("eccentricity").number("runout", 6e-5), &["offset"]);
    all(&of("radius_by_height").number("chord", 0.6).number("height", 0.1), &["radius"]);
}

#[test]
fn of_circles() {
    let of = |name| Calling::of(measuring::FUNCTIONS, name);
    let radii = [1.0e-5, 3.0e-5, 5.1e-5, 2.2e-5, 0.4e-5, -1.3e-5, -0.2e-5];
    all(&of("roundness").list("radii", &radii), &["radius", "eccentricity", "direction", "roundness"]);
    let (x, y) = ([9.0, 35.0, -13.0, 10.0, 23.0, 0.5], [34.0, 10.0, 6.0, -14.0, 27.0, -10.0]);
    for method in ["geometric", "algebraic"] {
        let circle = of("circle_through").list("x", &x).list("y", &y).text("method", method);
        all(&circle, &["x", "y", "radius", "roundness", "sum_squares"]);
    }
}
