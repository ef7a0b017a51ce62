//! Undersize repair: closing-in against a worked check, the rest against its own laws.

use asfound::trade::repair::FUNCTIONS;
use proptest::prelude::*;

use super::calling::{Answered, Calling};
use super::worked::worked_examples;

worked_examples! {
    /// Worked two ways: Lamé, and the ring equation.
    bronze_bush_in_steel "XC-02" => |example| {
        let bush = Calling::of(FUNCTIONS, "bush_closing_in")
            .number("outside", example.input("bush_OD"))
            .number("inside", example.input("bush_ID"))
            .number("housing_outer", example.input("housing_OD"))
            .number("interference", example.input("interference_diametral"))
            .material("bush", &[("E", example.input("E_bush")), ("poisson", example.input("nu_bush"))])
            .material("housing", &[("E", example.input("E_housing")), ("poisson", example.input("nu_housing"))])
            .answer();
        example.check("contact_pressure", bush.number("pressure"));
        example.check("bore_closure", bush.number("closing"));
        example.check("closure_ratio", bush.number("closing_ratio"));
    }
}

const STEEL: [(&str, f64); 3] = [("E", 206e9), ("poisson", 0.3), ("yield", 235e6)];
const IRON: [(&str, f64); 3] = [("E", 90e9), ("poisson", 0.26), ("uts", 150e6)];
const BRONZE: [(&str, f64); 3] = [("E", 100e9), ("poisson", 0.34), ("yield", 125e6)];

fn repair(journal_min: f64, bore_max: f64) -> Calling {
    Calling::of(FUNCTIONS, "undersize_repair")
        .number("nominal", 0.070)
        .number("journal_min", journal_min)
        .number("bore_max", bore_max)
}

fn close(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 1e-9, "got {got}, wanted {wanted}");
}

#[test]
fn sizes_to_work_to() {
    let sizes = repair(0.069_62, 0.070_81).number("bore", 0.080).answer();
    close(sizes.number("journal"), 0.0695);
    close(sizes.number("undersize"), 0.0005);
    close(sizes.number("bore"), 0.080);
    // 80 H7/r6 is -13 to -62 micrometres; clearance a thousandth of 69.5 mm.
    close(sizes.number("bush_outside"), 0.080_037_5);
    close(sizes.number("bush_inside"), 0.069_569_5);
    close(sizes.number("wall"), (0.080_037_5 - 0.069_569_5) / 2.0);
    close(sizes.number("strength_left"), (69.5_f64 / 70.0).powi(3));
    assert_eq!(sizes.0.warnings, Vec::<String>::new());
    let thin = repair(0.069_62, 0.070_81).answer();
    close(thin.number("bore"), 0.071);
    assert!(thin.0.warnings[0].contains("thin for its bore"), "{:?}", thin.0.warnings);
}

#[test]
fn a_reading_on_a_step_counts_as_there() {
    let exact = repair(0.069_60, 0.070_15).number("cleanup", 0.1e-3).answer();
    close(exact.number("journal"), 0.0695);
    close(exact.number("bore"), 0.070_25);
}

#[test]
fn chosen_sizes_must_clean_up() {
    let journal = repair(0.069_62, 0.070_81).number("journal", 0.0696).outcome();
    assert_eq!(journal.expect_err("too large").parameter, Some("journal"));
    let bore = repair(0.069_62, 0.070_81).number("bore", 0.0708).outcome();
    assert_eq!(bore.expect_err("too small").parameter, Some("bore"));
    let gone = repair(0.0001, 0.08).outcome();
    assert_eq!(gone.expect_err("no journal").parameter, Some("journal_min"));
    let tight =
        repair(0.069_62, 0.069_80).number("cleanup", 0.0).number("bore", 0.0698).number("clearance", 0.001);
    assert_eq!(tight.outcome().expect_err("no wall").parameter, Some("bore"));
}

fn strength(d: f64, material: &[(&str, f64)]) -> Calling {
    Calling::of(FUNCTIONS, "undersize_strength")
        .number("d", d)
        .number("was", 0.070)
        .material("material", material)
}

/// Closed forms of the round bar: 32 M/(pi d^3), 16 T/(pi d^3).
#[test]
fn still_carries() {
    let shaft = strength(0.060, &STEEL).number("moment", 2000.0).number("torque", 1000.0).answer();
    let cube = std::f64::consts::PI * 0.060_f64.powi(3);
    assert!((shaft.number("bending") / (32.0 * 2000.0 / cube) - 1.0).abs() < 1e-12);
    assert!((shaft.number("shear") / (16.0 * 1000.0 / cube) - 1.0).abs() < 1e-12);
    // Von Mises from the principal stresses of bending and shear.
    let (half, reach) =
        (shaft.number("bending") / 2.0, (shaft.number("bending") / 2.0).hypot(shaft.number("shear")));
    let (first, second) = (half + reach, half - reach);
    let equivalent = (first * first - first * second + second * second).sqrt();
    assert!((shaft.number("equivalent") / equivalent - 1.0).abs() < 1e-12);
    assert!((shaft.number("safety") - 235e6 / equivalent).abs() < 1e-9);
    assert!((shaft.number("strength_left") - (6.0_f64 / 7.0).powi(3)).abs() < 1e-12);
    assert_eq!(shaft.0.warnings, Vec::<String>::new());
    let over = strength(0.030, &STEEL).number("moment", 2000.0).answer();
    assert!(over.0.warnings[0].contains("overloaded"), "{:?}", over.0.warnings);
    let brittle = strength(0.060, &IRON).number("torque", 1000.0).answer();
    assert!(
        (brittle.number("equivalent") / brittle.number("shear") - 1.0).abs() < 1e-12,
        "tension at 45 degrees"
    );
    assert!(strength(0.060, &STEEL).outcome().is_err(), "no load");
    assert_eq!(
        strength(0.080, &STEEL).number("torque", 1.0).outcome().expect_err("larger").parameter,
        Some("d")
    );
}

#[test]
fn bush_thinner_than_nothing() {
    let bush = |inside, outer| {
        Calling::of(FUNCTIONS, "bush_closing_in")
            .number("outside", 0.05)
            .number("inside", inside)
            .number("housing_outer", outer)
            .number("interference", 5e-5)
            .material("bush", &BRONZE)
            .material("housing", &STEEL)
            .outcome()
    };
    assert_eq!(bush(0.05, 0.09).expect_err("no wall").parameter, Some("inside"));
    let housing = bush(0.04, 0.045).expect_err("no housing");
    assert_eq!(housing.parameter, Some("housing_outer"));
    assert!(housing.message.starts_with("the housing is thinner than nothing"), "{}", housing.message);
}

fn bar(d: f64, series: &str) -> Result<Answered, asfound::calc::function::Refusal> {
    Calling::of(FUNCTIONS, "stock_bar").number("d", d).number("length", 0.1).text("series", series).outcome()
}

#[test]
fn next_bar() {
    close(bar(0.080_05, "metric").expect("a bar").number("bar"), 0.085);
    close(bar(0.077, "metric").expect("a bar").number("bar"), 0.080);
    close(bar(0.050_8, "inch").expect("a bar").number("bar"), 2.125 * 0.0254);
    assert!(bar(0.5, "metric").expect_err("too thick").message.contains("250 mm"));
    assert_eq!(bar(0.05, "cubit").expect_err("no series").parameter, Some("series"));
}

proptest! {
    /// The clean journal is below the reading, within a step of it, and the bush fills what is between.
    #[test]
    fn clean_sizes_bracket_the_readings(journal in 0.05..0.0699_f64, bore in 0.0701..0.09_f64) {
        let Ok(sizes) = repair(journal, bore).outcome() else { return Ok(()) };
        let (size, step, cleanup) = (sizes.number("journal"), 0.25e-3, 0.1e-3);
        prop_assert!(size <= journal - cleanup + 2e-9 && size > journal - cleanup - step - 2e-9);
        let opened = sizes.number("bore");
        prop_assert!(opened >= bore + cleanup - 2e-9 && opened < bore + cleanup + step + 2e-9);
        prop_assert!(sizes.number("wall") > 0.0);
    }

    /// A thinner bush in a stouter housing closes in by more of the interference, never past the whole of it plus
    /// what Poisson's ratio adds.
    #[test]
    fn closing_in_is_monotone(inside in 0.02..0.049_f64, outer in 0.055..0.3_f64) {
        let ratio = |inside, outer| {
            Calling::of(FUNCTIONS, "bush_closing_in")
                .number("outside", 0.05).number("inside", inside).number("housing_outer", outer)
                .number("interference", 2e-5).material("bush", &BRONZE).material("housing", &STEEL)
                .answer().number("closing_ratio")
        };
        let here = ratio(inside, outer);
        prop_assert!(here > 0.0 && here < 1.2);
        prop_assert!(ratio(inside, outer * 1.1) > here);
    }

    /// Bars only ever go up with the part.
    #[test]
    fn bars_are_monotone(d in 0.01..0.2_f64, more in 1.0..1.2_f64) {
        for series in ["metric", "inch"] {
            let (here, there) = (bar(d, series).expect("a bar"), bar(d * more, series).expect("a bar"));
            prop_assert!(there.number("bar") >= here.number("bar"));
            prop_assert!(here.number("to_turn_off") >= 3e-3 - 2e-9);
        }
    }
}
