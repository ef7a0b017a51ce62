//! Workshop functions at their own examples with bounds added: no point within the bounds gives a result outside the
//! printed worst case, or words that were not told.

use asfound::calc::function::{Function, Takes};
use asfound::calc::literal::Literal;
use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::units::{Settings, Units};
use asfound::calc::value::Value;
use asfound::trade;

/// Points for each function and width.
const POINTS: usize = 12;

/// Half-widths of the bounds, as shares of the values.
const WIDTHS: [f64; 2] = [0.02, 0.15];

#[test]
fn no_point_within_the_bounds_is_outside_the_worst_case() {
    let mut random = Random(0x2545_F491_4F6C_DD1D);
    let mut bounded = 0;
    for function in trade::functions() {
        for width in WIDTHS {
            bounded += usize::from(holds(function, width, &mut random));
        }
    }
    assert!(bounded > 100, "{bounded} functions with bounds");
}

/// Whether the function has a result with bounds.
fn holds(function: &'static Function, width: f64, random: &mut Random) -> bool {
    let Some(Value::Record(all)) =
        worked_out(function, &mut |value| format!("(({value}) ± ({width} * ({value})))"))
    else {
        return false;
    };
    for _ in 0..POINTS {
        let mut shares = Vec::new();
        let point = worked_out(function, &mut |value| {
            let share = random.share();
            shares.push(share);
            format!("(({value}) + ({share}) * {width} * ({value}))")
        });
        let Some(Value::Record(point)) = point else { continue };
        for (name, value) in &point.fields {
            let Some(known) = all.field(name) else { continue };
            let what =
                || format!("{} {name} ± {width} at {shares:?}: {value:?} is not in {known:?}", function.name);
            assert!(is_within(value, known), "{}", what());
        }
    }
    true
}

fn is_within(value: &Value, known: &Value) -> bool {
    match (value, known) {
        (Value::Quantity(value), Value::Quantity(known)) => {
            let (low, high) = known.worst_case();
            let slack = 1e-9 * (value.value.abs() + (high - low));
            low - slack <= value.value && value.value <= high + slack || slack.is_infinite() || slack.is_nan()
        }
        (Value::List(values), Value::List(known)) => {
            values.iter().zip(known.iter()).all(|(value, known)| is_within(value, known))
        }
        _ => known.alternatives().contains(value),
    }
}

/// The first call of the example, every number that takes one in it written anew; a single result as a record.
fn worked_out(function: &'static Function, bounded: &mut dyn FnMut(&str) -> String) -> Option<Value> {
    let units = Units::new(&Settings::default());
    let functions: Vec<&'static Function> = trade::functions().collect();
    let mut session = Session::new(&functions);
    let mut found = None;
    for line in lines(function.example) {
        let mut written = line.clone();
        if found.is_none() && line.contains(&format!("{}(", function.name)) {
            written = with_bounds(function, &line, &units, bounded);
        }
        let answer = evaluate_line(&written, &units, &mut session).ok()?;
        if found.is_none() && written != line {
            found = answer.outcome.value;
        }
    }
    match found? {
        Value::Quantity(only) => Some(Value::record(vec![("only".to_owned(), Value::Quantity(only))])),
        other => Some(other),
    }
}

/// Lines of an example, each with what goes on inside its brackets, without checks.
fn lines(example: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut open = 0_i32;
    for line in example.lines() {
        let goes_on = open > 0;
        open += line.chars().map(|each| i32::from(each == '(') - i32::from(each == ')')).sum::<i32>();
        match lines.last_mut().filter(|_| goes_on) {
            Some(last) => {
                last.push(' ');
                last.push_str(line.trim());
            }
            None => lines.push(line.trim().to_owned()),
        }
    }
    lines.retain(|line| !line.starts_with("check"));
    lines
}

/// `d: 50 mm` as `d: (50 mm ± 0.02 * (50 mm))`.
fn with_bounds(
    function: &Function,
    line: &str,
    units: &Units,
    bounded: &mut dyn FnMut(&str) -> String,
) -> String {
    let mut written = line.to_owned();
    for parameter in function.parameters {
        let is_number =
            matches!(parameter.takes, Takes::Positive(_) | Takes::NotNegative(_) | Takes::Signed(_));
        let key = format!("{}: ", parameter.name);
        let starts = |text: &str| text.find(&format!("({key}")).or_else(|| text.find(&format!(" {key}")));
        let Some(start) = starts(&written).filter(|_| is_number).map(|at| at + 1 + key.len()) else {
            continue;
        };
        let end = start + written[start..].find([',', ')']).unwrap_or(written.len() - start);
        let value = written[start..end].trim().to_owned();
        let literal = Literal::parse(&value, units);
        if literal.is_ok_and(|each| each.is_exact() && each.nominal > 0.0) {
            written.replace_range(start..end, &bounded(&value));
        }
    }
    written
}

/// Marsaglia's xorshift generator with 64 bits (Journal of Statistical Software 8, 2003; from memory).
struct Random(u64);

impl Random {
    /// From -1 to 1, often an end.
    fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        match self.0 % 5 {
            0 => -1.0,
            1 => 1.0,
            _ => (self.0 >> 11) as f64 / (1_u64 << 52) as f64 - 1.0,
        }
    }
}
