//! Quantities as people type them.

use asfound::calc::literal::{Form, Literal};
use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::units::{Settings, Unit, Units};

fn units() -> Units {
    Units::new(&Settings { currency: "GBP".to_owned(), ..Settings::default() })
}

fn parse(text: &str) -> Literal {
    Literal::parse(text, &units()).unwrap_or_else(|fault| panic!("{text}: {fault:?}"))
}

/// low, nominal, high in `unit`.
#[track_caller]
fn expect(text: &str, unit: &str, ends: [f64; 3], form: Form, printed: &str) {
    let literal = parse(text);
    let unit = if unit.is_empty() { Unit::NONE } else { units().parse(unit).expect("a unit") };
    let own = [literal.low, literal.nominal, literal.high].map(|value| unit.from_si(value));
    for (own, expected) in own.iter().zip(ends) {
        assert!((own - expected).abs() <= 1e-12 * expected.abs().max(1.0), "{text}: {own} for {expected}");
    }
    assert_eq!(literal.form, form, "{text}");
    assert_eq!(literal.print(), printed);
    assert_eq!(parse(printed), literal, "{text}");
}

#[test]
fn every_form_of_the_notes() {
    use Form::{Exact, Limits, PlusMinus, Range};
    let one = |value: f64| [value; 3];
    expect("2 5/16 in", "in", one(2.3125), Exact, "2 5/16 in");
    expect("2-5/16\"", "in", one(2.3125), Exact, "2 5/16 in");
    expect("5 ft 3 1/2 in", "in", one(63.5), Exact, "5 ft 3 1/2 in");
    expect("5'3\"", "in", one(63.0), Exact, "5 ft 3 in");
    expect("5' 3-1/2\"", "in", one(63.5), Exact, "5 ft 3 1/2 in");
    expect("5'-3 1/2\"", "in", one(63.5), Exact, "5 ft 3 1/2 in");
    expect("5' 3 1/2\"", "in", one(63.5), Exact, "5 ft 3 1/2 in");
    expect("5'-3-1/2\"", "in", one(63.5), Exact, "5 ft 3 1/2 in");
    expect("2-5/16 in", "in", one(2.3125), Exact, "2 5/16 in");
    expect("58.74 mm", "mm", one(58.74), Exact, "58.74 mm");
    expect("5 thou", "in", one(0.005), Exact, "5 thou");
    expect("1.998 in .. 2.000 in", "in", [1.998, 1.999, 2.0], Range, "1.998 in .. 2.000 in");
    expect("2.000 in ± 0.001 in", "in", [1.999, 2.0, 2.001], PlusMinus, "2.000 in ± 0.001 in");
    expect("2.000 in +/- 0.001", "in", [1.999, 2.0, 2.001], PlusMinus, "2.000 in ± 0.001");
    expect("25 mm +0.021/-0", "mm", [25.0, 25.0, 25.021], Limits, "25 mm +0.021/-0");
    expect("25 mm +0.021/0", "mm", [25.0, 25.0, 25.021], Limits, "25 mm +0.021/0");
    expect("25 mm 0/-0.021", "mm", [24.979, 25.0, 25.0], Limits, "25 mm 0/-0.021");
    expect("1 in +1/64/-0", "in", [1.0, 1.0, 1.015625], Limits, "1 in +1/64/-0");
    expect(
        "2 5/16\" +1/64\"/-1/64\"",
        "in",
        [2.296875, 2.3125, 2.328125],
        Limits,
        "2 5/16 in +1/64/-1/64 in",
    );
    expect("5 kN ± 5 %", "kN", [4.75, 5.0, 5.25], PlusMinus, "5 kN ± 5 %");
    expect("5 kN ± 2%", "kN", [4.9, 5.0, 5.1], PlusMinus, "5 kN ± 2 %");
    expect("5 kN +10 %/-5 %", "kN", [4.75, 5.0, 5.5], Limits, "5 kN +10/-5 %");
    expect("5 kN +10%/0", "kN", [5.0, 5.0, 5.5], Limits, "5 kN +10/0 %");
    expect("-5 kN ± 2 %", "kN", [-5.1, -5.0, -4.9], PlusMinus, "-5 kN ± 2 %");
    expect("0.15 ± 10 %", "", [0.135, 0.15, 0.165], PlusMinus, "0.15 ± 10 %");
    expect("65 % ± 5 %", "%", [60.0, 65.0, 70.0], PlusMinus, "65 % ± 5 %");
    expect("25 -0.020/-0.041 mm", "mm", [24.959, 25.0, 24.98], Limits, "25 -0.020/-0.041 mm");
    expect("3 h .. 6 h", "h", [3.0, 4.5, 6.0], Range, "3 h .. 6 h");
    expect("3 .. 6 h", "h", [3.0, 4.5, 6.0], Range, "3 .. 6 h");
    expect("120 GBP .. 180 GBP", "GBP", [120.0, 150.0, 180.0], Range, "120 GBP .. 180 GBP");
    expect("48 GBP/h", "GBP/h", one(48.0), Exact, "48 GBP/h");
    expect("2½ in", "in", one(2.5), Exact, "2 1/2 in");
    expect("3/4 in", "in", one(0.75), Exact, "3/4 in");
    expect("-5 degC .. 40 degC", "degC", [-5.0, 17.5, 40.0], Range, "-5 degC .. 40 degC");
    expect("20 °C ± 2 K", "degC", [18.0, 20.0, 22.0], PlusMinus, "20 degC ± 2 K");
    expect("3 days", "h", one(72.0), Exact, "3 day");
    expect("12 lb 4 oz", "lb", one(12.25), Exact, "12 lb 4 oz");
    expect("2 h 30 min", "h", one(2.5), Exact, "2 h 30 min");
    expect("1.5e3", "", one(1500.0), Exact, "1.5e3");
    expect("42", "", one(42.0), Exact, "42");
}

/// A decimal inch and its millimetres are the same number: factors are exact.
#[test]
fn exact_factors_stay_exact() {
    assert_eq!(parse("1 in").nominal, parse("25.4 mm").nominal);
    assert_eq!(parse("2 5/16 in").nominal, parse("58.7375 mm").nominal);
    assert_eq!(parse("1 thou").nominal, parse("0.0254 mm").nominal);
}

/// Feet and inches, mixed numbers and bounds are the same in a field and in a calculation.
#[test]
fn a_calculation_reads_what_a_field_reads() {
    for text in [
        "5'-3 1/2\"",
        "5' 3 1/2\"",
        "5'3\"",
        "5'-3\"",
        "2-5/16\"",
        "2-5/16 in",
        "2 5/16 in",
        "25 mm +0.021/0",
        "25 mm 0/-0.021",
        "1 in +1/64/-0",
        "5 kN ± 5 %",
        "5 kN ± 2%",
        "5 kN +10 %/-5 %",
        "0.15 ± 10 %",
    ] {
        let literal = parse(text);
        let answer = evaluate_line(&format!("a = {text}"), &units(), &mut Session::new(&[]));
        let outcome = answer.unwrap_or_else(|faults| panic!("{text}: {faults:?}")).outcome;
        let value = outcome.value.expect("a value");
        let quantity = value.quantity().expect("a quantity");
        assert_eq!(quantity.value, literal.middle(), "{text}");
        let worst = quantity.uncertainty.worst();
        assert!((worst - literal.half_width()).abs() <= 1e-12 * quantity.value.abs(), "{text}: {worst}");
        assert_eq!(outcome.literal, Some(literal), "{text}");
    }
}

/// A share of a value that has a name.
#[test]
fn per_cent_of_a_name() {
    let mut session = Session::new(&[]);
    evaluate_line("load = 5 kN", &units(), &mut session).expect("a value");
    let answer = evaluate_line("most = load ± 5 %", &units(), &mut session).expect("a value");
    let value = answer.outcome.value.expect("a value");
    let worst = value.quantity().expect("a quantity").uncertainty.worst();
    assert!((worst - 250.0).abs() < 1e-9, "{worst}");
}

#[test]
fn the_last_digit_typed() {
    let step =
        |text: &str, unit: &str| units().parse(unit).expect("a unit").interval_from_si(parse(text).step);
    for (text, unit, expected) in [
        ("2.000 in", "in", 0.001),
        ("2 5/16 in", "in", 0.0625),
        ("900 lb", "lb", 1.0),
        ("5 ft 3.5 in", "in", 0.1),
    ] {
        assert!((step(text, unit) - expected).abs() < 1e-12, "{text}");
    }
}

/// The unit may be typed between the limits; printed, it stands behind them.
#[test]
fn a_mixed_fraction_may_be_a_limit() {
    let literal = Literal::parse("25 mm +2 5/16 in/-0", &units()).unwrap();
    assert_eq!(literal.print(), "25 mm +2 5/16/-0 in");
    assert_eq!(Literal::parse(&literal.print(), &units()).unwrap().high, literal.high);
    assert!((literal.high - (0.025 + 2.3125 * 0.0254)).abs() < 1e-12);
}

#[test]
fn what_is_refused_says_why() {
    for (text, part) in [
        ("1,250 kg", "1250"),
        ("12 kgg", "kg"),
        ("", "number is missing"),
        ("abc", "number is missing"),
        ("6 h .. 3 h", "backwards"),
        ("25 mm -0/+0.021", "upper limit"),
        ("25 mm +0.021/-−0", "does not belong"),
        ("5 mm ± 2 kg", "a length"),
        ("1 250 kg", "side by side"),
        ("5 mm and more", "and"),
        ("2 in ±", "missing"),
        ("8/1 in", "8 1/in"),
        ("5' - 3\"", "5 ft 3 in"),
        ("5 ft-3 in", "5 ft 3 in"),
        ("30 psia", "write `psi`"),
        ("25 mm +0.021 in/-0.01 mm", "different units"),
        ("20 degC ± 5 %", "one kind"),
        ("1e999 mm", "too large"),
    ] {
        let fault = Literal::parse(text, &units()).expect_err(text);
        let said = format!("{} {}", fault.message, fault.help);
        assert!(said.contains(part), "{text}: {said}");
        assert!(fault.range.end <= text.len() && fault.range.start <= fault.range.end, "{text}: {fault:?}");
    }
    let long = "1".repeat(400);
    assert!(Literal::parse(&long, &units()).is_err());
}
