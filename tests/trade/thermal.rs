//! Thermal growth and contact against worked examples.

use asfound::trade::thermal::FUNCTIONS;
use proptest::prelude::*;

use super::calling::{Answered, Calling};
use super::worked::worked_examples;

worked_examples! {
    /// U. C. Jindal, Machine Design, Example 3-6.
    bars_across_a_gap "TH-01" => |example| {
        let bars = Calling::of(FUNCTIONS, "bars_across_gap")
            .number("length_1", example.input("L1"))
            .number("area_1", example.input("A1"))
            .material("bar_1", &[("E", example.input("E1")), ("cte", example.input("a1"))])
            .number("length_2", example.input("L2"))
            .number("area_2", example.input("A2"))
            .material("bar_2", &[("E", example.input("E2")), ("cte", example.input("a2"))])
            .number("rise", example.input("dT"))
            .number("gap", example.input("gap"))
            .answer();
        example.check("force", bars.number("force"));
        example.check("growth_2", bars.number("growth_2"));
        // Both growths fill the gap.
        assert!((bars.number("growth_1") + bars.number("growth_2") - example.input("gap")).abs() < 1e-12);
    }

    /// R. C. Hibbeler, Mechanics of Materials, Example 4.12.
    aluminium_sleeve_on_a_bolt "TH-03" => |example| {
        let joint = Calling::of(FUNCTIONS, "sleeve_on_bolt")
            .number("sleeve_area", example.input("A_s"))
            .number("bolt_area", example.input("A_b"))
            .material("sleeve", &[("E", example.input("E_s")), ("cte", example.input("a_s"))])
            .material("bolt", &[("E", example.input("E_b")), ("cte", example.input("a_b"))])
            .number("rise", example.input("dT"))
            .answer();
        example.check("force", joint.number("force"));
    }

    /// A. P. Boresi and R. J. Schmidt, Advanced Mechanics of Materials, 6th ed., Example 17.3.
    two_equal_cylinders "TH-05" => |example| {
        let steel = [("E", example.input("E")), ("poisson", example.input("nu"))];
        let contact = Calling::of(FUNCTIONS, "line_contact")
            .number("force", example.input("P"))
            .number("length", example.input("h"))
            .number("d", 2.0 * example.input("R"))
            .number("against", 2.0 * example.input("R"))
            .material("roller", &steel)
            .material("other", &steel)
            .answer();
        example.check("p_max", contact.number("pressure"));
    }
}

const STEEL: [(&str, f64); 4] = [("E", 206e9), ("poisson", 0.3), ("yield", 235e6), ("cte", 12e-6)];
const BRASS: [(&str, f64); 3] = [("E", 100e9), ("poisson", 0.34), ("cte", 19e-6)];

fn ball(force: f64, d: f64, against: Option<f64>) -> Answered {
    let calling = Calling::of(FUNCTIONS, "ball_contact")
        .number("force", force)
        .number("d", d)
        .material("ball", &STEEL)
        .material("other", &STEEL);
    against.map_or(calling.clone(), |against| calling.number("against", against)).answer()
}

/// Roark's Formulas for Stress and Strain (from memory), ball on a flat, like materials: a = 0.721 (F D C)^(1/3),
/// p = 0.918 (F/(D^2 C^2))^(1/3), C = 2 (1 - nu^2)/E; three printed figures.
#[test]
fn ball_on_a_flat() {
    let (force, d, give) = (500.0, 0.02, 2.0 * (1.0 - 0.09) / 206e9);
    let contact = ball(force, d, None);
    let radius = 0.721 * (force * d * give).cbrt();
    let pressure = 0.918 * (force / (d * d * give * give)).cbrt();
    assert!((contact.number("radius") / radius - 1.0).abs() < 1e-3);
    assert!((contact.number("pressure") / pressure - 1.0).abs() < 1e-3);
}

/// Roark's Formulas for Stress and Strain (from memory): y = 1.040 (F^2 C^2/D)^(1/3), C as above; four printed figures.
#[test]
fn approach_of_a_ball_to_a_flat() {
    let (force, d, give) = (500.0_f64, 0.02, 2.0 * (1.0 - 0.09) / 206e9);
    let approach = 1.040 * (force * force * give * give / d).cbrt();
    assert!((ball(force, d, None).number("approach") / approach - 1.0).abs() < 1e-3);
}

/// The largest value of `shear` over depth, and the depth, found by trying every thousandth.
fn greatest(shear: impl Fn(f64) -> f64) -> (f64, f64) {
    let depths = (1..3000).map(|index| f64::from(index) / 1000.0);
    depths
        .map(|depth| (shear(depth), depth))
        .fold((0.0, 0.0), |best, each| if each.0 > best.0 { each } else { best })
}

/// K. L. Johnson, Contact Mechanics, ch. 3 and 4 (from memory): the stresses on the axis below a ball and below a line,
/// searched for the greatest shear; two printed figures of the constants.
#[test]
fn greatest_shear_below_the_surface() {
    let (shear, depth) = greatest(|z| {
        let radial = 1.3 * (1.0 - z * (1.0 / z).atan()) - 0.5 / (1.0 + z * z);
        (1.0 / (1.0 + z * z) - radial) / 2.0
    });
    let contact = ball(500.0, 0.02, None);
    assert!((contact.number("shear") / contact.number("pressure") - shear).abs() < 0.005, "{shear}");
    assert!((contact.number("depth") / contact.number("radius") - depth).abs() < 0.005, "{depth}");
    let (shear, depth) = greatest(|z| {
        let root = (1.0 + z * z).sqrt();
        (1.0 / root - ((1.0 + 2.0 * z * z) / root - 2.0 * z)).abs() / 2.0
    });
    let contact = Calling::of(FUNCTIONS, "line_contact")
        .number("force", 1e4)
        .number("length", 0.02)
        .number("d", 0.05)
        .material("roller", &STEEL)
        .material("other", &BRASS)
        .answer();
    assert!((contact.number("shear") / contact.number("pressure") - shear).abs() < 0.0005, "{shear}");
    assert!((contact.number("depth") / contact.number("half_width") - depth).abs() < 0.0005, "{depth}");
}

/// First yield below the surface at p = 1.6 times the yield strength: pressure goes with the cube root of the force.
#[test]
fn contact_yield_begins_at_its_factor() {
    let pressure = ball(1.0, 0.02, None).number("pressure");
    let limit = (1.6 * 235e6 / pressure).powi(3);
    assert_eq!(ball(0.999 * limit, 0.02, None).0.warnings.len(), 0);
    assert_eq!(ball(1.001 * limit, 0.02, None).0.warnings.len(), 1, "said once for like materials");
}

#[test]
fn a_hollow_bears_better_than_a_flat() {
    let flat = ball(500.0, 0.02, None).number("pressure");
    assert!(ball(500.0, 0.02, Some(-0.022)).number("pressure") < flat);
    assert!(ball(500.0, 0.02, Some(0.02)).number("pressure") > flat);
    let tight = Calling::of(FUNCTIONS, "ball_contact")
        .number("force", 500.0)
        .number("d", 0.02)
        .number("against", -0.02)
        .material("ball", &STEEL)
        .material("other", &STEEL);
    assert_eq!(tight.outcome().expect_err("no larger").parameter, Some("against"));
}

#[test]
fn contact_yield_is_said() {
    let heavy = ball(5000.0, 0.02, None);
    assert!(heavy.0.warnings[0].contains("begins to yield below the surface"), "{:?}", heavy.0.warnings);
}

fn at_20(length: f64, kelvin: f64, gauge: bool) -> Answered {
    let calling = Calling::of(FUNCTIONS, "length_at_20")
        .number("length", length)
        .number("temperature", kelvin)
        .material("material", &BRASS);
    if gauge { calling.material("gauge", &STEEL) } else { calling }.answer()
}

/// L20 = L/(1 + alpha (T - 20)): 300 mm of brass read at 30 °C with a true gauge.
#[test]
fn corrected_to_twenty_degrees() {
    let read = at_20(0.3, 303.15, false);
    assert!((read.number("length") - 0.3 / (1.0 + 19e-6 * 10.0)).abs() < 1e-15);
    let with_gauge = at_20(0.3, 303.15, true);
    assert!((with_gauge.number("correction") - 0.3 * ((1.0 + 12e-5) / (1.0 + 19e-5) - 1.0)).abs() < 1e-15);
    assert_eq!(at_20(0.3, 293.15, false).number("correction"), 0.0);
}

fn clamped(rise: f64, gap: f64) -> f64 {
    Calling::of(FUNCTIONS, "clamped_stress")
        .number("rise", rise)
        .material("material", &STEEL)
        .number("gap", gap)
        .number("length", 1.0)
        .answer()
        .number("stress")
}

#[test]
fn a_gap_must_close_first() {
    assert!((clamped(40.0, 0.0) - 206e9 * 12e-6 * 40.0).abs() < 1.0);
    assert!((clamped(40.0, 0.1e-3) - 206e9 * (48e-5 - 1e-4)).abs() < 1.0);
    assert_eq!(clamped(40.0, 1e-3), 0.0);
    assert!(clamped(-10.0, 0.0) < 0.0);
    let no_length = Calling::of(FUNCTIONS, "clamped_stress")
        .number("rise", 1.0)
        .material("material", &STEEL)
        .number("gap", 1e-3);
    assert_eq!(no_length.outcome().expect_err("no length").parameter, Some("length"));
}

proptest! {
    /// Growth there and back is nothing to first order, and warmth and cold mirror each other.
    #[test]
    fn growth_mirrors(length in 0.001..100.0_f64, rise in 0.1..500.0_f64) {
        let growth = |rise| {
            Calling::of(FUNCTIONS, "thermal_growth")
                .number("length", length)
                .number("rise", rise)
                .material("material", &STEEL)
                .answer()
                .number("growth")
        };
        prop_assert_eq!(growth(rise), -growth(-rise));
        let cold = at_20(length + growth(rise), 293.15 + rise, false);
        prop_assert!(cold.number("length") < length + growth(rise));
    }

    /// Bolt and sleeve bear the same force, whichever way it goes.
    #[test]
    fn joint_is_in_balance(rise in -200.0..200.0_f64, sleeve in 1e-5..1e-2_f64, bolt in 1e-5..1e-2_f64) {
        let joint = Calling::of(FUNCTIONS, "sleeve_on_bolt")
            .number("sleeve_area", sleeve)
            .number("bolt_area", bolt)
            .material("sleeve", &BRASS)
            .material("bolt", &STEEL)
            .number("rise", rise)
            .answer();
        let force = joint.number("force");
        prop_assert_eq!(force.is_sign_negative(), rise.is_sign_negative());
        prop_assert!((joint.number("sleeve_stress") * sleeve - force).abs() <= 1e-9 * force.abs());
        prop_assert!((joint.number("bolt_stress") * bolt - force).abs() <= 1e-9 * force.abs());
    }

    /// Hertz: pressure over the contact adds up to the force (ball: 2/3 p pi a^2).
    #[test]
    fn pressure_carries_the_force(force in 1.0..1e5_f64, d in 0.001..1.0_f64) {
        let contact = ball(force, d, None);
        let carried = 2.0 / 3.0 * contact.number("pressure") * std::f64::consts::PI * contact.number("radius").powi(2);
        prop_assert!((carried / force - 1.0).abs() < 1e-12);
    }
}
