//! Laws that hold for every input.

use std::borrow::Cow;

use asfound::calc::dimension::{Dimension, Exponent};
use asfound::calc::literal::Literal;
use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::print;
use asfound::calc::uncertainty::{Sources, Uncertainty};
use asfound::calc::units::{Settings, Units};
use asfound::calc::value::{Quantity, Value};
use proptest::prelude::*;

fn units() -> Units {
    Units::new(&Settings::default())
}

const NAMES: &[&str] = &[
    "mm",
    "in",
    "thou",
    "ft",
    "m",
    "kg",
    "lb",
    "t",
    "long ton",
    "N",
    "kN",
    "lbf",
    "tonf",
    "MPa",
    "psi",
    "bar",
    "rpm",
    "hp",
    "kW",
    "ft·lbf",
    "N·m",
    "US gal",
    "imperial gal",
    "L",
    "degC",
    "degF",
    "s",
    "min",
    "h",
    "day",
    "week",
    "%",
    "deg",
    "EUR",
    "EUR/h",
    "kg/m^3",
    "um/(m·K)",
    "1/degF",
    "in^4",
    "m^(1/2)",
];

fn unit() -> impl Strategy<Value = &'static str> {
    prop::sample::select(NAMES)
}

fn magnitude() -> impl Strategy<Value = f64> {
    prop_oneof![-1e6..1e6, 1e-9..1e-3, Just(0.0), Just(1.0), 1e9..1e15]
}

fn dimension() -> impl Strategy<Value = Dimension> {
    prop::collection::vec((-30_i32..30, 1_i32..12), 3).prop_map(|powers| {
        let bases = [Dimension::LENGTH, Dimension::MASS, Dimension::TIME];
        bases.iter().zip(powers).fold(Dimension::NONE, |product, (base, (above, below))| {
            let power = Exponent::ratio(above, below).expect("a small exponent");
            product.times(base.to_the(power).expect("in range")).expect("in range")
        })
    })
}

/// A literal in one of its forms, as a person might type it.
fn typed() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        (0_u32..10_000, 0_usize..5)
            .prop_map(|(number, places)| format!("{:.places$}", f64::from(number) / 100.0)),
        (1_u32..40, 1_u32..16).prop_map(|(whole, above)| format!("{whole} {above}/16")),
        (1_u32..16).prop_map(|above| format!("{above}/16")),
        (1_u32..999, -12_i32..12).prop_map(|(number, power)| format!("{number}e{power}")),
    ];
    (number, unit(), 0_usize..4, 1_u32..9).prop_map(|(number, unit, form, bound)| match form {
        0 => format!("{number} {unit}"),
        1 => format!(
            "{number} {unit} ± 0.00{bound} {}",
            if matches!(unit, "degC" | "degF") { "K" } else { unit }
        ),
        2 => format!("{number} {unit} +0.0{bound}/-0.00{bound}"),
        _ => format!("{number} {unit} .. {bound}e15 {unit}"),
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn there_and_back_is_where_it_was(value in magnitude(), unit in unit()) {
        let unit = units().parse(unit).expect("a unit");
        let back = unit.from_si(unit.to_si(value));
        // A temperature point loses what its zero is rounded to.
        let allowed = if unit.is_point() { 1e-12 * value.abs().max(1000.0) } else { 4.0 * f64::EPSILON * value.abs() };
        prop_assert!((back - value).abs() <= allowed, "{value} became {back}");
    }

    #[test]
    fn a_quantity_less_itself_is_nothing(value in magnitude(), bound in 0.001..0.1) {
        let (units, mut session) = (units(), Session::new(&[]));
        let line = format!("a = {value:.6} mm ± {bound:.4} mm");
        evaluate_line(&line, &units, &mut session).expect("a definition");
        let answer = evaluate_line("a * 3 - a - 2 * a + (a - a)", &units, &mut session).expect("a difference");
        let Some(Value::Quantity(nothing)) = answer.outcome.value else { panic!("no quantity") };
        prop_assert!(nothing.value.abs() <= 1e-15 * value.abs());
        prop_assert!(nothing.uncertainty.worst() <= 1e-15 * bound);
        let exact = evaluate_line("a - a", &units, &mut session).expect("a difference");
        let Some(Value::Quantity(exact)) = exact.outcome.value else { panic!("no quantity") };
        prop_assert!(exact.value == 0.0 && exact.uncertainty.is_none());
    }

    #[test]
    fn what_is_printed_reads_as_what_it_was(text in typed()) {
        let units = units();
        let literal = Literal::parse(&text, &units);
        prop_assert!(literal.is_ok(), "{text}: {literal:?}");
        let literal = literal.expect("checked");
        let again = Literal::parse(&literal.print(), &units);
        prop_assert_eq!(again.as_ref(), Ok(&literal), "{} printed {}", text, literal.print());
        prop_assert!(literal.low <= literal.middle() && literal.middle() <= literal.high);
    }

    #[test]
    fn dimensions_multiply_in_any_order(a in dimension(), b in dimension(), c in dimension()) {
        let product = |x: Dimension, y: Dimension| x.times(y).expect("in range");
        prop_assert_eq!(product(product(a, b), c), product(a, product(b, c)));
        prop_assert_eq!(product(a, b), product(b, a));
        prop_assert_eq!(product(a, b).per(b), Some(a));
        prop_assert_eq!(a.to_the(Exponent::whole(2)), a.times(a));
    }

    #[test]
    fn the_worst_case_is_never_less_than_the_root_of_squares(
        parts in prop::collection::vec((-1e3..1e3, 1e-6..1e3, prop::option::of(1_u32..50)), 1..20),
    ) {
        let mut sources = Sources::new();
        let uncertainties: Vec<(Uncertainty, f64)> = parts.into_iter().map(|(slope, size, degrees_of_freedom)| {
            let source = sources.fresh("source");
            (degrees_of_freedom.map_or_else(|| Uncertainty::bound(source, size), |degrees_of_freedom| Uncertainty::scatter(source, size, degrees_of_freedom)), slope)
        }).collect();
        let all = Uncertainty::sum(uncertainties.iter().map(|(uncertainty, slope)| (uncertainty, *slope)));
        let one_by_one = uncertainties.iter().fold(Uncertainty::NONE, |sum, (uncertainty, slope)| Uncertainty::combined(Cow::Owned(sum), 1.0, Cow::Borrowed(uncertainty), *slope));
        prop_assert_eq!(all.terms(), one_by_one.terms());
        // Added one by one, each sum keeps the narrower of two enclosures that differ by rounding only: the ends agree to
        // the last places, not bit by bit.
        prop_assert!((all.worst() - one_by_one.worst()).abs() <= 1e-12 * all.worst());
        prop_assert!(all.worst() >= all.standard() * (1.0 - 1e-12));
        let bounds_only = all.terms().iter().all(asfound::calc::uncertainty::Term::is_bound);
        prop_assert!(!bounds_only || all.expanded().value <= all.worst());
        prop_assert!(all.expanded().factor >= 2.0 - 1e-12);
    }

    #[test]
    fn figures_are_rounded_never_cut(value in -1e6..1e6, decimals in 0_i32..8) {
        let text = print::rounded(value, decimals);
        let read: f64 = text.parse().expect("a number");
        let half = 0.5 * libm::pow(10.0, f64::from(-decimals));
        prop_assert!((read - value).abs() <= half * (1.0 + 1e-6) + 1e-9 * value.abs(), "{value} to {decimals}: {text}");
        prop_assert_eq!(text.split_once('.').map_or(0, |(_, places)| places.len()), decimals as usize);
    }

    #[test]
    fn printed_figures_are_within_their_uncertainty(value in -1e5..1e5, bound in 1e-6..1e3, unit in unit()) {
        let units = units();
        let unit = units.parse(unit).expect("a unit");
        let source = Sources::new().fresh("bound");
        let quantity = Quantity {
            uncertainty: Uncertainty::bound(source, unit.interval_to_si(bound)),
            ..Quantity::exact(unit.to_si(value), unit.dimension(), unit)
        };
        let printed = print::in_unit(&quantity, unit);
        let scale = libm::pow(10.0, f64::from(printed.power));
        let read = printed.number.parse::<f64>().expect("a number") * scale;
        prop_assert!((read - value).abs() <= bound + 1e-6 * value.abs(), "{value} ± {bound}: {printed:?}");
    }
}
