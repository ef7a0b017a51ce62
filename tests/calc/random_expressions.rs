//! Random formulas against two independent libraries.

use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::units::{Settings, Units};
use asfound::calc::value::Quantity;

/// Source: `tests/reference/random_expressions.csv`, worked out by pint and uncertainties in the versions it names.
#[test]
fn two_hundred_formulas_agree_with_pint_and_uncertainties() {
    let table = include_str!("../reference/random_expressions.csv");
    let rows: Vec<&str> = table.lines().filter(|line| !line.starts_with('#')).skip(1).collect();
    assert_eq!(rows.len(), 200);
    for row in rows {
        let [inputs, formula, value, standard, dimension] = row.split(',').collect::<Vec<_>>()[..] else {
            panic!("{row}")
        };
        let own = worked_out(inputs, formula);
        let (value, standard): (f64, f64) =
            (value.parse().expect("a value"), standard.parse().expect("an uncertainty"));
        assert!((own.value / value - 1.0).abs() <= 1e-11, "{row}: {}", own.value);
        let uncertainty = own.uncertainty.standard();
        assert!(
            (uncertainty - standard).abs() <= 1e-9 * standard + 1e-14 * value.abs(),
            "{row}: {uncertainty}"
        );
        let exponents =
            own.dimension.exponents().into_iter().take(3).map(|exponent| exponent.as_number().to_string());
        assert_eq!(exponents.collect::<Vec<_>>().join(" "), dimension, "{row}");
    }
}

fn worked_out(inputs: &str, formula: &str) -> Quantity {
    let (units, mut session) = (Units::new(&Settings::default()), Session::new(&[]));
    for line in inputs.split("; ") {
        evaluate_line(line, &units, &mut session).unwrap_or_else(|faults| panic!("{line}: {faults:?}"));
    }
    let answer =
        evaluate_line(formula, &units, &mut session).unwrap_or_else(|faults| panic!("{formula}: {faults:?}"));
    answer.outcome.value.and_then(|value| value.quantity().cloned()).expect("a quantity")
}
