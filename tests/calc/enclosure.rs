//! The worst case holds whatever the bounds allow, and what is zero is zero.

use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::units::{Settings, Units};
use asfound::calc::value::{Quantity, Value};
use proptest::prelude::*;

fn units() -> Units {
    Units::new(&Settings::default())
}

/// The value of the last line; `None` if a line has a fault.
fn last(lines: &[String]) -> Option<Value> {
    let (units, mut session) = (units(), Session::new(&[]));
    let mut value = None;
    for line in lines {
        value = evaluate_line(line, &units, &mut session).ok()?.outcome.value;
    }
    value
}

fn quantity(lines: &[String]) -> Option<Quantity> {
    last(lines)?.quantity().cloned()
}

fn told(line: &str) -> String {
    let (units, mut session) = (units(), Session::new(&[]));
    let answer =
        evaluate_line(line, &units, &mut session).unwrap_or_else(|faults| panic!("{line}: {faults:?}"));
    answer.outcome.text(&units)
}

/// A formula over `a`, `b` and `c`, plain numbers.
fn formula() -> impl Strategy<Value = String> {
    let leaf = prop::sample::select(vec!["a", "b", "c", "2", "0.7"]).prop_map(str::to_owned);
    leaf.prop_recursive(4, 24, 3, |inner| {
        let two = (inner.clone(), inner.clone(), prop::sample::select(vec!["+", "-", "*", "/"]));
        let one = prop::sample::select(vec![
            "abs", "sin", "cos", "atan", "exp", "round", "floor", "ceil", "square", "cube", "root",
            "inverse", "log", "table",
        ]);
        let list = prop::sample::select(vec!["min", "max", "mean", "sum"]);
        prop_oneof![
            two.prop_map(|(a, b, sign)| format!("({a} {sign} {b})")),
            (inner.clone(), one).prop_map(|(x, name)| match name {
                "square" => format!("({x})^2"),
                "cube" => format!("({x})^3"),
                "root" => format!("sqrt(({x})^2 + 0.5)"),
                "inverse" => format!("1 / (abs({x}) + 0.3)"),
                "exp" => format!("exp(sin({x}))"),
                "log" => format!("ln(abs({x}) + 0.2)"),
                "table" => format!("interpolate(sin({x}), [-1, -0.4, 0.1, 1], [3, 0, 2, -1])"),
                _ => format!("{name}({x})"),
            }),
            (inner.clone(), inner.clone(), list).prop_map(|(a, b, name)| format!("{name}({a}, {b})")),
            (inner.clone(), inner.clone(), inner)
                .prop_map(|(a, b, c)| format!("(if {a} < {b} then {c} else 2 * {a})")),
        ]
    })
}

fn input() -> impl Strategy<Value = (f64, f64)> {
    (-3.0..3.0, prop_oneof![0.001..0.1, 0.1..2.0])
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn no_point_within_the_bounds_is_outside_the_worst_case(
        formula in formula(),
        inputs in prop::array::uniform3(input()),
        points in prop::collection::vec(prop::array::uniform3(prop_oneof![Just(-1.0), Just(1.0), Just(0.0), -1.0..1.0]), 24),
    ) {
        let lines = |typed: &dyn Fn(f64, f64, usize) -> String| -> Vec<String> {
            let named = ["a", "b", "c"].iter().zip(inputs).enumerate();
            let mut lines: Vec<String> =
                named.map(|(index, (name, (middle, half)))| format!("{name} = {}", typed(middle, half, index))).collect();
            lines.push(format!("result = {formula}"));
            lines
        };
        let Some(bounded) = quantity(&lines(&|middle, half, _| format!("{middle:.6} ± {half:.6}"))) else { return Ok(()) };
        let (low, high) = bounded.worst_case();
        let slack = 1e-9 * (1.0 + low.abs().max(high.abs()));
        prop_assert!(bounded.expanded() <= bounded.uncertainty.worst() + slack);
        for point in points {
            let at = |middle: f64, half: f64, index: usize| format!("{:.6} + ({}) * {half:.6}", middle, point[index]);
            let Some(exact) = quantity(&lines(&at)) else { continue };
            prop_assert!(
                low - slack <= exact.value && exact.value <= high + slack,
                "{formula} at {point:?} of {inputs:?} is {}, outside {low} .. {high}", exact.value
            );
        }
    }

    /// Typed lengths in several units, added in any order, and the opposite of their sum in the finest unit.
    #[test]
    fn what_is_exactly_zero_is_zero_and_nothing_else_is(
        parts in prop::collection::vec((1_u32..2_000_000, prop::sample::select(vec!["in", "thou", "mm", "64ths", "ft"]), any::<bool>()), 1..9),
        order in any::<u64>(),
        off in prop_oneof![Just(0_i64), Just(1), Just(-1)],
    ) {
        // In units of 1/100 000 mm, of which a thou has 2540, a hundred-thousandth of an inch 25.4: so inches have
        // four decimals, thou one, millimetres five, and a sixty-fourth is 39 687.5 halves.
        let halves = |count: u32, unit: &str| 2 * i64::from(count) * match unit {
            "in" => 254,
            "thou" => 254,
            "mm" => 1,
            "64ths" => 0,
            _ => 254 * 12,
        } + if unit == "64ths" { i64::from(count % 640) * 79_375 } else { 0 };
        let typed = |count: u32, unit: &str| match unit {
            "in" => format!("{}.{:04} in", count / 10_000, count % 10_000),
            "thou" => format!("{}.{} thou", count / 10, count % 10),
            "mm" => format!("{}.{:05} mm", count / 100_000, count % 100_000),
            "64ths" => format!("({} {}/64 in)", count % 640 / 64, count % 640 % 64),
            _ => format!("{}.{:04} ft", count / 10_000, count % 10_000),
        };
        let sign = |negative: bool| if negative { "-" } else { "+" };
        let total: i64 = parts.iter().map(|(count, unit, negative)| halves(*count, unit) * if *negative { -1 } else { 1 }).sum();
        let rest = -total + 2 * off;
        let mut terms: Vec<String> = parts.iter().map(|(count, unit, negative)| format!("{} {}", sign(*negative), typed(*count, unit))).collect();
        let size = rest.unsigned_abs() * 5;
        terms.push(format!("{} {}.{:06} mm", sign(rest < 0), size / 1_000_000, size % 1_000_000));
        let count = terms.len();
        terms.rotate_left((order % count as u64) as usize);
        let sum = format!("0 mm {}", terms.join(" "));
        let value = quantity(std::slice::from_ref(&sum)).expect("a length");
        let verdict = |sign: &str| told(&format!("check {sum} {sign} 0 mm")).starts_with("holds");
        if off == 0 {
            prop_assert!(value.value == 0.0, "{sum} is {}", value.value);
            let text = told(&format!("({sum}) to mm"));
            prop_assert!(text.trim_end_matches(" mm").parse::<f64>() == Ok(0.0), "{sum} prints {text}");
            prop_assert!(verdict("<=") && verdict(">="), "{}", sum);
        } else {
            prop_assert!((value.value - off as f64 * 1e-8).abs() < 1e-13, "{sum} is {}", value.value);
            prop_assert!(!verdict("<=") || !verdict(">="), "{}", sum);
        }
    }
}

#[test]
fn what_cancels_is_zero_in_checks_conditions_and_print() {
    assert_eq!(told("check 2.7518 in - 2.7461 in - 0.0057 in >= 0 in"), "holds: it lies on the limit");
    assert_eq!(told("2.7518 in - 2.7461 in - 0.0057 in to mm"), "0.000 mm");
    assert_eq!(told("68 degF - 20 degC to K"), "0 K");
    assert_eq!(told("if 0.1 + 0.2 == 0.3 then 1 else 2"), "1");
    assert_eq!(told("sin(180 deg)"), "0");
    assert_eq!(told("floor(0.3 / 0.1)"), "3");
    assert_ne!(told("1e-13"), "0");
}

#[test]
fn the_worst_case_of_powers_and_tables_is_the_worst() {
    let ends = |line: &str| quantity(&[line.to_owned()]).map(|each| each.worst_case()).expect("a value");
    let near = |(low, high): (f64, f64), wanted: (f64, f64)| {
        assert!(
            (low - wanted.0).abs() < 1e-9 && (high - wanted.1).abs() < 1e-9,
            "{low} .. {high} for {wanted:?}"
        );
    };
    near(ends("(0 ± 0.1)^2"), (0.0, 0.01));
    near(ends("(-3 .. 2)^2"), (0.0, 9.0));
    near(ends("(10 ± 1)^2"), (81.0, 121.0));
    near(ends("interpolate(5 ± 1, [0, 5, 10], [38, 39.5, 46])"), (39.2, 40.8));
    near(ends("abs(-1 .. 3)"), (0.0, 3.0));
    near(ends("max(1 ± 0.5, 1.2 ± 0.1)"), (1.1, 1.5));
    near(ends("cos(0 deg ± 60 deg)"), (0.5, 1.0));
    near(ends("if 1 ± 0.5 > 1.2 then 3 else 7"), (3.0, 7.0));
    assert_eq!(told("(10 mm ± 1 mm)^2"), "100 mm², at worst + 21 mm² / - 19 mm²");
    for check in
        ["(0 mm ± 0.1 mm)^2 <= 0.005 mm^2", "(-3 mm .. 2 mm)^2 <= 5 mm^2", "(10 mm ± 1 mm)^2 <= 120.5 mm^2"]
    {
        assert!(told(&format!("check {check}")).starts_with("not settled"), "{check}");
    }
}

/// A truth within bounds through `and`, `or`, `not`, `if` and comparisons of texts; a caution only where it matters.
#[test]
fn a_condition_that_the_bounds_do_not_decide_is_not_settled() {
    let both = ["not settled: false or true", "not settled: true or false"];
    let cases = [
        ("x > 1.2", both[0], true),
        ("not (x > 1.2)", both[1], true),
        ("x > 1.2 and 1 < 2", both[0], true),
        ("x > 1.2 and 1 > 2", "false", false),
        ("x > 1.2 or 1 < 2", "true", false),
        ("x > 1.2 or 1 > 2", both[0], true),
        ("x > 1.6", "false", false),
        ("(if x > 1.2 then \"oak\" else \"ash\") == \"oak\"", both[0], true),
        ("if x > 1.2 then \"oak\" else \"ash\"", "not settled: ash or oak", true),
        ("if x > 1.2 and 1 > 2 then \"oak\" else \"ash\"", "ash", false),
        ("if x > 1.2 then 3 else 7", "7.0, at worst + 0.0 / - 4.0", true),
        (
            "check (if x > 1.2 then 3 else 7) >= 5",
            "not settled: 2.0 inside, known to ± 4.0; knowing it to ± 2.0 would settle it",
            true,
        ),
    ];
    for (line, wanted, is_cautioned) in cases {
        let (units, mut session) = (units(), Session::new(&[]));
        evaluate_line("x = 1 ± 0.5", &units, &mut session).expect("a definition");
        let answer = evaluate_line(line, &units, &mut session).expect(line);
        assert_eq!(answer.outcome.text(&units), wanted, "{line}");
        let codes: Vec<&str> = answer.cautions.iter().map(|caution| caution.code.word()).collect();
        let said = codes.iter().all(|code| *code == "condition-not-settled") && !codes.is_empty();
        assert_eq!(said, is_cautioned, "{line}: {codes:?}");
    }
    let (units, mut session) = (units(), Session::new(&[]));
    let faults = evaluate_line("sqrt(1 ± 0.5 > 1.2)", &units, &mut session).expect_err("no number");
    assert_eq!(faults[0].message, "a number is needed here, and this is a truth value that is not settled");
}

/// What cancels in first order stays exact at 95 %; where nonlinearity is all that is left there is no figure at 95 %.
#[test]
fn nonlinearity_is_in_the_worst_case_and_not_in_the_95_percent() {
    assert_eq!(told("(10 ± 1)^2 / (10 ± 1)"), "10.0 ± 2.6, at worst + 3.5 / - 2.7");
    let (units, mut session) = (units(), Session::new(&[]));
    for (line, wanted) in [
        ("a = 3.7 kg ± 0.2 kg", "a = 3.7 kg ± 0.2 kg"),
        ("b = 1.3 kg ± 0.1 kg", "b = 1.3 kg ± 0.1 kg"),
        ("a / (a + b) + b / (a + b)", "1.0000, at worst ± 0.0025"),
        ("a / (a + b) + 1.2 * b / (a + b)", "1.0520 ± 0.0042, at worst ± 0.0078"),
    ] {
        let answer = evaluate_line(line, &units, &mut session).expect(line);
        assert_eq!(answer.outcome.text(&units), wanted);
        assert!(answer.cautions.is_empty(), "{line}: {:?}", answer.cautions);
    }
}

#[test]
fn the_sine_of_an_angle_without_a_last_turn_is_refused() {
    let (units, mut session) = (units(), Session::new(&[]));
    for name in ["sin", "cos", "tan"] {
        let faults = evaluate_line(&format!("{name}(1e20 rad)"), &units, &mut session).expect_err(name);
        assert_eq!(faults[0].code.word(), "calc-arithmetic");
    }
    assert_eq!(told("sin(1000 rev + 30 deg)"), "0.5");
}

#[test]
fn a_divisor_that_can_be_zero_leaves_no_ends() {
    let (units, mut session) = (units(), Session::new(&[]));
    for line in ["1 / (0.5 ± 0.6)", "(0.5 ± 0.6)^-2"] {
        let answer = evaluate_line(line, &units, &mut session).expect(line);
        assert_eq!(answer.cautions[0].code.word(), "calc-bounds", "{line}");
        assert!(answer.outcome.text(&units).ends_with("at worst not known"), "{line}");
    }
    assert!(told("check 1 / (0.5 ± 0.6) <= 1000").starts_with("not settled"));
    let faults = evaluate_line("tan(80 deg ± 20 deg)", &units, &mut session).expect_err("no limit");
    assert_eq!(faults[0].code.word(), "calc-arithmetic");
}

#[test]
fn what_has_no_value_within_its_bounds_has_no_known_ends() {
    let (units, mut session) = (units(), Session::new(&[]));
    let answer = evaluate_line("sqrt(1 mm^2 ± 2 mm^2)", &units, &mut session).expect("a root");
    assert_eq!(answer.cautions[0].code.word(), "calc-bounds");
    assert_eq!(answer.outcome.text(&units), "1.0 mm, at worst not known");
    assert!(told("check sqrt(1 mm^2 ± 2 mm^2) <= 100 mm").starts_with("not settled"));
}

/// Student's factor for two degrees of freedom is 4.53: three times the standard uncertainty is less than that.
#[test]
fn the_uncertainty_at_95_percent_is_never_beyond_the_worst_case() {
    use asfound::calc::uncertainty::{Sources, Uncertainty};
    let mut sources = Sources::new();
    for degrees_of_freedom in 1..40 {
        let scatter = Uncertainty::scatter(sources.fresh("repeats"), 0.0055, degrees_of_freedom);
        assert!(scatter.expanded().value <= scatter.worst(), "{degrees_of_freedom}");
        let with_bound = scatter.plus(Uncertainty::bound(sources.fresh("scale"), 0.02));
        assert!(with_bound.expanded().value <= with_bound.worst(), "{degrees_of_freedom} with a bound");
    }
}

#[test]
fn a_reason_does_not_contradict_itself() {
    assert_eq!(
        told("check (10 mm ± 1.04 mm)^2 <= 120.6 mm^2").split(';').next(),
        Some("not settled: 20 mm² inside, known to ± 21 mm²")
    );
    let reason = told("check 100 mm ± 20.4 mm <= 120.3 mm");
    assert_eq!(reason, "not settled: 20 mm inside, known to ± 21 mm; knowing it to ± 20 mm would settle it");
    let reason = told("check (1 mm ± 0.3 mm) + (1 mm ± 0.3 mm) <= 2.55 mm");
    assert_eq!(reason, "not settled: 0.55 mm inside, known to ± 0.49 mm, but at worst 0.050 mm outside");
}

/// What is printed as enough to settle a check settles it, and an uncertainty is printed alike beside a value and a verdict.
#[test]
fn what_would_settle_a_check_is_rounded_down_and_uncertainty_up() {
    let reason = told("check 2 in ± 0.0105 in <= 2.00236 in");
    assert_eq!(
        reason,
        "not settled: 0.0023 in inside, known to ± 0.011 in; knowing it to ± 0.0023 in would settle it"
    );
}
