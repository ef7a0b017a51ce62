//! Workshop functions at their own examples with bounds added: no point within the bounds gives a result outside the
//! printed worst case, or words that were not reported.

use asfound::calc::function::{Function, Takes};
use asfound::calc::literal::Literal;
use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::units::{Settings, Units};
use asfound::calc::value::Value;
use asfound::trade;

/// Points for each function and width.
const POINTS: usize = 4;

/// Half-widths of the bounds, as shares of the values.
const WIDTHS: [f64; 2] = [0.02, 0.15];

#[test]
fn no_point_within_the_bounds_is_outside_the_worst_case() {
    let mut random = Random(0x2545_F491_4F6C_DD1D);
    let mut bounded = 0;
    let units = Units::new(&Settings::default());
    for function in trade::functions() {
        for width in WIDTHS {
            bounded += usize::from(holds(function, width, &units, &mut random));
        }
    }
    assert!(bounded > 100, "{bounded} functions with bounds");
}

/// Formulas of one or two uncertain names that are one where these are: bent, with the value off the middle of the ends,
/// turning, and held together by what they share.
const BENT: [&str; 14] = [
    "shared^2",
    "1 / shared",
    "sqrt(shared)",
    "shared^3",
    "exp(shared - 1)",
    "cos(shared - 1)",
    "(2 * shared - shared^2)",
    "shared * other",
    "shared / other",
    "shared^2 / other",
    "2 / (shared + other^2)",
    "(shared^2 + other) / 2",
    "(shared + (other - 1)^2)",
    "(1 - (shared - 1) * (other - 1))",
];

/// Calls with different formulas for each function and width.
const DRAWS: usize = 1;

/// Points for each of these.
const BENT_POINTS: usize = 8;

#[test]
fn no_point_within_the_bounds_of_what_bent_arguments_share_is_outside_the_worst_case() {
    let mut random = Random(0x9E37_79B9_7F4A_7C15);
    let mut bounded = 0;
    let units = Units::new(&Settings::default());
    for function in trade::functions() {
        for width in WIDTHS {
            for _ in 0..DRAWS {
                bounded += usize::from(holds_bent(function, width, &units, &mut random));
            }
        }
    }
    assert!(bounded > 100 * DRAWS, "{bounded} calls with bounds");
}

/// Whether the function has a result with bounds where every argument is a bent formula of two uncertain names.
fn holds_bent(function: &'static Function, width: f64, units: &Units, random: &mut Random) -> bool {
    let first = random.next();
    let with = |[shared, other]: [String; 2]| {
        let mut draw = Random(first);
        let names = [format!("shared = {shared}"), format!("other = {other}")];
        let mut bent = |value: &str| format!("(({value}) * {})", BENT[draw.below(BENT.len())]);
        after(&names, function, units, &mut bent)
    };
    let Some(Value::Record(all)) = with([(); 2].map(|()| format!("1 ± {width}"))) else { return false };
    for _ in 0..BENT_POINTS {
        let shares = [random.share(), random.share()];
        let Some(Value::Record(point)) = with(shares.map(|share| format!("1 + ({share}) * {width}"))) else {
            continue;
        };
        for (name, value) in &point.fields {
            let Some(known) = all.field(name) else { continue };
            assert!(
                is_within(value, known),
                "{} {name} ± {width} from {first:#x} at {shares:?}: {value:?} is not in {known:?}",
                function.name
            );
        }
    }
    true
}

/// The value is off the middle of its ends: at an efficiency of 0.65² the pull is 1000 kgf/(2·0.65²) = 11 605 N.
#[test]
fn no_check_holds_that_a_bent_argument_breaks() {
    let said = |check: &str| printed(&["s = 0.8 ± 0.15", "t = 0.9 ± 0.05", "x = 40 mm ± 8 mm", check]).0;
    let effort = "pulleys(load: 1000 kgf, ratio: 2, efficiency: s^2).effort";
    assert_eq!(printed(&[&effort.replace("s^2", "0.65^2")]).0, "11610 N");
    assert!(said(&format!("check {effort} <= 11300 N")).starts_with("not settled"));
    assert!(said(&format!("check {effort} <= 11600 N")).starts_with("not settled"));
    let effort = "pulleys(load: 4630 lbf, ratio: 2, efficiency: t^2).effort";
    assert!(said(&format!("check {effort} <= 3198 lbf")).starts_with("not settled"));
    assert!(said(&format!("check {effort} <= 3212 lbf")).starts_with("holds"));
    let stress = "torsion(torque: 500 N m, d: 1600 mm^2 / x).shear_stress";
    let worst = printed(&["torsion(torque: 500 N m, d: 1600 mm^2 / 48 mm).shear_stress to kPa"]).0;
    assert!(said(&format!("check {stress} <= {worst} - 1 kPa")).starts_with("not settled"), "{worst}");
}

/// What a line comes to after others, and the codes of its cautions.
fn printed(lines: &[&str]) -> (String, Vec<&'static str>) {
    let units = Units::new(&Settings::default());
    let functions: Vec<&'static Function> = trade::functions().collect();
    let mut session = Session::new(&functions);
    let mut last = (String::new(), Vec::new());
    for line in lines {
        let answer =
            evaluate_line(line, &units, &mut session).unwrap_or_else(|faults| panic!("{line}: {faults:?}"));
        last = (
            answer.outcome.text(&units),
            answer.cautions.iter().map(|caution| caution.code.word()).collect(),
        );
    }
    last
}

/// tan(lead angle) is 14/(36 pi) = 0.124: the screw runs back at 0.12 and holds at 0.2.
#[test]
fn words_are_worked_out_over_the_bounds() {
    let jack = |mu: &str| {
        format!("jack = screw_jack(load: 20 kN, arm: 500 mm, mean_d: 36 mm, lead: 14 mm, mu: {mu})")
    };
    let after = |mu: &str, line: &str| printed(&[&jack(mu), line]);
    assert_eq!(after("0.12", "jack.holds").0, "runs back when let go");
    assert_eq!(after("0.13 .. 0.2", "jack.holds"), ("holds by itself".to_owned(), vec![]));
    let both = "not settled: holds by itself or runs back when let go";
    assert_eq!(after("0.12 .. 0.2", "jack.holds").0, both);
    let same = "jack.holds == \"holds by itself\"";
    assert_eq!(
        after("0.12 .. 0.2", same),
        ("not settled: true or false".to_owned(), vec!["condition-not-settled"])
    );
    assert_eq!(after("0.12 .. 0.2", "jack.holds == \"sticks\"").0, "false");
    let pawl = format!("if {same} then \"no pawl\" else \"pawl\"");
    assert_eq!(after("0.12 .. 0.2", &pawl).0, "not settled: no pawl or pawl");
    let check = format!("check (if {same} then 0 kN else 3 kN) <= 1 kN");
    assert!(after("0.12 .. 0.2", &check).0.starts_with("not settled"), "{}", after("0.12 .. 0.2", &check).0);
    assert_eq!(after("0.13 .. 0.2", &check).0, "holds: by 1 kN");
}

/// In the middle and with any one input at its end the factor is at its lower limit of 1, where it has no slope.
#[test]
fn a_limit_is_left_where_several_inputs_are_at_their_ends() {
    let call = |screw: &str, nut: &str, within: &str| {
        let thread = format!(
            "pitch: 2 mm{within}, major: 16 mm, pitch_diameter: 14.701 mm{within}, minor: 13.835 mm{within}"
        );
        format!(
            "thread_engagement({thread}, area: 156.7 mm^2, screw_uts: {screw}, nut_uts: {nut}).nut_factor"
        )
    };
    let factor = |call: String| printed(&[&call]).0;
    assert_eq!(factor(call("500 MPa", "380 MPa", "")), "1");
    assert_eq!(factor(call("510 MPa", "380 MPa", "")), "1");
    assert_eq!(factor(call("510 MPa", "372.4 MPa", "")), "1.015");
    assert_eq!(
        factor(call("500 MPa ± 2 %", "380 MPa ± 2 %", " ± 0.001 mm")),
        "1.000, at worst + 0.017 / - 0.001"
    );
}

/// Whether the function has a result with bounds.
fn holds(function: &'static Function, width: f64, units: &Units, random: &mut Random) -> bool {
    let Some(Value::Record(all)) =
        worked_out(function, units, &mut |value| format!("(({value}) ± ({width} * ({value})))"))
    else {
        return false;
    };
    for _ in 0..POINTS {
        let mut shares = Vec::new();
        let point = worked_out(function, units, &mut |value| {
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
fn worked_out(
    function: &'static Function,
    units: &Units,
    bounded: &mut dyn FnMut(&str) -> String,
) -> Option<Value> {
    after(&[], function, units, bounded)
}

/// The same after other lines.
fn after(
    before: &[String],
    function: &'static Function,
    units: &Units,
    bounded: &mut dyn FnMut(&str) -> String,
) -> Option<Value> {
    let functions: Vec<&'static Function> = trade::functions().collect();
    let mut session = Session::new(&functions);
    let mut found = None;
    for line in before {
        evaluate_line(line, units, &mut session).ok()?;
    }
    for line in lines(function.example) {
        let mut written = line.clone();
        if found.is_none() && line.contains(&format!("{}(", function.name)) {
            written = with_bounds(function, &line, units, bounded);
        }
        let answer = evaluate_line(&written, units, &mut session).ok()?;
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
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() >> 11) as usize % count
    }

    /// From -1 to 1, often an end.
    fn share(&mut self) -> f64 {
        let number = self.next();
        match number % 5 {
            0 => -1.0,
            1 => 1.0,
            _ => (number >> 11) as f64 / (1_u64 << 52) as f64 - 1.0,
        }
    }
}
