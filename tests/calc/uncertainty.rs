//! Uncertainty against the guide that defines it.

use asfound::calc::bench::PressFit;
use asfound::calc::dimension::Dimension;
use asfound::calc::sheet::{Block, Scope, SourceLine, evaluate};
use asfound::calc::student;
use asfound::calc::uncertainty::{Sources, Uncertainty};
use asfound::calc::units::{Settings, Unit, Units};
use asfound::calc::value::{Quantity, Value};

/// Source: JCGM 100:2008 (GUM), table G.2, columns 95.45 % and 99 %; from memory.
#[test]
fn students_factor_is_that_of_the_table() {
    let table = [
        (1.0, 13.97, 63.66),
        (2.0, 4.53, 9.92),
        (3.0, 3.31, 5.84),
        (4.0, 2.87, 4.60),
        (5.0, 2.65, 4.03),
        (6.0, 2.52, 3.71),
        (7.0, 2.43, 3.50),
        (8.0, 2.37, 3.36),
        (9.0, 2.32, 3.25),
        (10.0, 2.28, 3.17),
        (16.0, 2.17, 2.92),
        (20.0, 2.13, 2.85),
        (30.0, 2.09, 2.75),
        (50.0, 2.05, 2.68),
        (100.0, 2.025, 2.626),
        (f64::INFINITY, 2.0, 2.576),
    ];
    for (degrees_of_freedom, two_sigma, ninety_nine) in table {
        let figures = if degrees_of_freedom >= 100.0 { 0.0006 } else { 0.0051 };
        assert!(
            (student::factor(0.9545, degrees_of_freedom) - two_sigma).abs() <= figures,
            "{degrees_of_freedom}"
        );
        assert!(
            (student::factor(0.99, degrees_of_freedom) - ninety_nine).abs() <= figures,
            "{degrees_of_freedom}"
        );
    }
    assert!((student::factor(student::TWO_SIGMA, f64::INFINITY) - 2.0).abs() < 1e-12);
}

/// Source: JCGM 100:2008 (GUM), annex H.1, calibration of an end gauge; the inputs and printed results stand in
/// `tests/reference/worked_examples.yaml` (ME-03), which says what of them is from memory.
#[test]
fn the_end_gauge_of_annex_h_1() {
    let mut sources = Sources::new();
    let mut scatter = |name: &str, standard: f64, degrees_of_freedom| {
        Uncertainty::scatter(sources.fresh(name), standard, degrees_of_freedom)
    };
    let metre = |value, uncertainty| {
        Value::Quantity(Quantity { uncertainty, ..Quantity::exact(value, Dimension::LENGTH, Unit::NONE) })
    };
    let number = |value, dimension, uncertainty| {
        Value::Quantity(Quantity { uncertainty, ..Quantity::exact(value, dimension, Unit::NONE) })
    };
    let standard = scatter("calibration of the standard", 25e-9, 18);
    let repeat = scatter("repeated observations", 5.8e-9, 24);
    let random = scatter("comparator, random", 3.9e-9, 5);
    let systematic = scatter("comparator, systematic", 6.7e-9, 8);
    let expansion = scatter("difference of expansion", 1e-6 / 3.0_f64.sqrt(), 50);
    let temperature = scatter("difference of temperature", 0.05 / 3.0_f64.sqrt(), 2);
    let difference = repeat.plus(random).plus(systematic);
    assert!((difference.standard() * 1e9 - 9.7).abs() < 0.05);
    let given = [
        ("l_s", metre(50.000_623e-3, standard)),
        ("d", metre(215e-9, difference)),
        ("alpha", number(11.5e-6, Dimension::EXPANSION, Uncertainty::NONE)),
        ("d_alpha", number(0.0, Dimension::EXPANSION, expansion)),
        ("theta", number(-0.1, Dimension::TEMPERATURE, Uncertainty::NONE)),
        ("d_theta", number(0.0, Dimension::TEMPERATURE, temperature)),
    ];
    let given = given.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
    let text = "l = @g.l_s + @g.d - @g.l_s * (@g.d_alpha * @g.theta + @g.alpha * @g.d_theta)";
    let blocks = vec![Block { lines: vec![SourceLine { text: text.to_owned(), offset: 0 }] }];
    let scopes = [
        Scope { id: "g".to_owned(), given, ..Scope::default() },
        Scope { id: "h".to_owned(), blocks, ..Scope::default() },
    ];
    let units = Units::new(&Settings::default());
    let evaluation = evaluate(&scopes, &units, &[], sources);
    assert!(evaluation.faults.is_empty(), "{:?}", evaluation.faults);
    let value = evaluation.scopes[1].blocks[0].lines[0].value.clone().expect("a length");
    let length = value.quantity().expect("a quantity");
    assert!((length.value * 1e3 - 50.000_838).abs() < 1e-9);
    let combined = length.uncertainty.standard() * 1e9;
    assert!((combined - 31.663_879).abs() < 1e-5, "{combined}");
    assert!((combined / 32.0 - 1.0).abs() < 0.012, "printed as 32 nm");
    let degrees_of_freedom = length.uncertainty.degrees_of_freedom();
    assert!((degrees_of_freedom - 16.7).abs() < 0.1, "{degrees_of_freedom}");
    let ninety_nine = student::factor(0.99, degrees_of_freedom.floor());
    assert!((ninety_nine - 2.92).abs() < 0.005);
    assert!((ninety_nine * combined / 93.0 - 1.0).abs() < 0.01, "printed as 93 nm");
    let expanded = length.uncertainty.expanded();
    assert!((expanded.factor - student::factor(student::TWO_SIGMA, degrees_of_freedom)).abs() < 1e-12);
}

/// Source: JCGM 100:2008 (GUM), 4.3.7: a bound of half-width a has the standard uncertainty a/√3.
#[test]
fn bounds_alone_are_never_wider_than_their_worst_case() {
    let mut sources = Sources::new();
    let one = Uncertainty::bound(sources.fresh("one"), 0.3);
    assert!((one.standard() - 0.3 / 3.0_f64.sqrt()).abs() < 1e-15);
    assert_eq!(one.expanded().value, 0.3);
    let two = one.plus(Uncertainty::bound(sources.fresh("two"), 0.4));
    assert!((two.expanded().value - 2.0 * (0.25_f64 / 3.0).sqrt()).abs() < 1e-15);
    assert!((two.worst() - 0.7).abs() < 1e-15);
}

#[test]
fn an_instrument_is_one_source_and_each_literal_its_own() {
    let mut sources = Sources::new();
    assert_eq!(sources.shared("instrument mic"), sources.shared("instrument mic"));
    assert_ne!(sources.fresh("2.000 in ± 0.001 in"), sources.fresh("2.000 in ± 0.001 in"));
}

/// The line that the benches measure, by hand: p = E δ/d (D² - d²)/(2 D²).
#[test]
fn the_bench_works_out_the_pressure_of_the_press_fit() {
    let pressure = PressFit::new().pressure().expect("a pressure");
    let (modulus, delta, d, outer) = (210e9, 63.5e-6, 82.55e-3, 127e-3);
    let expected = modulus * delta / d * (outer * outer - d * d) / (2.0 * outer * outer);
    assert!((pressure.value / expected - 1.0).abs() < 1e-14);
    assert_eq!(pressure.dimension, Dimension::STRESS);
    let inputs = pressure.uncertainty.terms().iter().filter(|term| !term.is_bend());
    assert_eq!(inputs.count(), 2);
}
