//! What is printed reaches the true ends, and reads no better than it is.

use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::print::{self, Printed, Worst};
use asfound::calc::sheet::{Block, LineOutcome, Scope, SourceLine, evaluate};
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, Units};
use asfound::calc::value::{Quantity, Style};
use proptest::prelude::*;

fn units() -> Units {
    Units::new(&Settings::default())
}

/// The last line, worked out; `None` if a line has a fault.
fn last(lines: &[String]) -> Option<LineOutcome> {
    let (units, mut session) = (units(), Session::new(&[]));
    let mut last = None;
    for line in lines {
        last = Some(evaluate_line(line, &units, &mut session).ok()?.outcome);
    }
    last
}

fn quantity(lines: &[String]) -> Option<Quantity> {
    last(lines)?.value?.quantity().cloned()
}

fn told(line: &str) -> String {
    last(&[line.to_owned()]).unwrap_or_else(|| panic!("{line}")).text(&units())
}

fn read(figure: &str) -> f64 {
    figure.parse().unwrap_or_else(|_| panic!("{figure} is no number"))
}

fn ten(power: i32) -> f64 {
    libm::pow(10.0, f64::from(power))
}

/// A millionth of the last place is what the machine may have rounded.
fn slack(figure: &str) -> f64 {
    let decimals = print::places(figure);
    1e-6 * ten(-decimals) + 1e-12 * read(figure).abs()
}

/// How far up and down a printed value reaches, in its unit and power of ten.
fn reach(printed: &Printed) -> Option<(f64, f64)> {
    match printed.worst.as_ref()? {
        Worst::Even(end) => Some((read(end), read(end))),
        Worst::Uneven(up, down) => Some((read(up), read(down))),
        Worst::Unknown => None,
    }
}

/// A formula with uneven ends, with even ones, finely or coarsely known.
fn formula() -> impl Strategy<Value = (String, &'static str)> {
    let forms = prop::sample::select(vec![
        ("x", "mm"),
        ("x / 7", "mm"),
        ("x^2", "mm^2"),
        ("sqrt(x^2 + y^2)", "mm"),
        ("x * y / (x + y)", "mm"),
        ("1e7 * x", "mm"),
        ("x^2 / y to in", "in"),
        ("x - y", "mm"),
        ("max(x, y)", "mm"),
    ]);
    (0.5..2000.0, 0.0001..0.4, 0.5..2000.0, 0.0001..0.4, forms).prop_map(|(x, p, y, q, (form, unit))| {
        let lines = format!("x = {x:.5} mm ± {:.7} mm\ny = {y:.4} mm ± {:.6} mm\n{form}", p * x, q * y);
        (lines, unit)
    })
}

fn lines(text: &str) -> Vec<String> {
    text.lines().map(str::to_owned).collect()
}

/// A distance in a reason, `0.0023 in`, in front of a word.
fn before(reason: &str, word: &str) -> Option<f64> {
    let front = &reason[..reason.find(word)?];
    number_in(front.trim_start_matches("by "))
}

fn after(reason: &str, sign: &str) -> Option<f64> {
    number_in(&reason[reason.find(sign)? + sign.len()..])
}

/// The number at the beginning of a text, with its power of ten.
fn number_in(text: &str) -> Option<f64> {
    let figure = text.trim().split([' ', ',', ';']).next()?;
    let (number, power) = figure.split_once("×10").map_or((figure, String::new()), |(number, power)| {
        let plain = |sign: char| match sign {
            '⁻' => '-',
            sign => "⁰¹²³⁴⁵⁶⁷⁸⁹"
                .chars()
                .position(|each| each == sign)
                .map_or(sign, |digit| char::from(b'0' + digit as u8)),
        };
        (number, power.chars().map(plain).collect())
    });
    let power: i32 = if power.is_empty() { 0 } else { power.parse().ok()? };
    Some(number.parse::<f64>().ok()? * ten(power))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 2000, ..ProptestConfig::default() })]

    #[test]
    fn the_printed_ends_reach_the_true_ends((text, _) in formula()) {
        let Some(quantity) = quantity(&lines(&text)) else { return Ok(()) };
        let units = units();
        let printed = print::quantity(&quantity, &units);
        let unit = quantity.printed_unit(&units);
        let scale = ten(-printed.power);
        let (low, high) = quantity.worst_case();
        let [low, high] = [low, high].map(|end| unit.from_si(end) * scale);
        let value = read(&printed.number);
        let room = slack(&printed.number);
        let Some((up, down)) = reach(&printed) else { return Ok(()) };
        prop_assert!(value - down <= low + room && high - room <= value + up, "{} for {low} .. {high}", printed.text());
        if let Some(expanded) = &printed.expanded {
            let moved = (unit.from_si(quantity.value) * scale - value).abs();
            let true_one = unit.interval_from_si(quantity.expanded()) * scale;
            prop_assert!(read(expanded) <= up.max(down), "{}", printed.text());
            let is_worst = read(expanded) == up && up == down;
            prop_assert!(is_worst || read(expanded) + room >= true_one + moved, "{} for {true_one}", printed.text());
        }
    }

    /// A distance inside is no larger than the true one and one outside no smaller, what would settle a check does, and the
    /// sentence does not contradict itself.
    #[test]
    fn a_printed_margin_reads_no_better_than_it_is(
        (text, unit) in formula(),
        off in prop_oneof![-1.5..1.5, -0.01..0.01],
        is_least in any::<bool>(),
    ) {
        let lines_before = lines(&text);
        let Some(value) = quantity(&lines_before) else { return Ok(()) };
        let units = units();
        let in_unit = units.parse(unit).expect("a unit");
        let limit = in_unit.from_si(value.value) + off * in_unit.interval_from_si(value.uncertainty.worst());
        let sign = if is_least { ">=" } else { "<=" };
        let mut all = lines_before.clone();
        let formula = all.pop().unwrap_or_default();
        let formula = formula.split(" to ").next().unwrap_or_default().to_owned();
        all.push(format!("check {formula} {sign} {limit:.9} {unit}"));
        let Some(verdict) = last(&all).and_then(|line| line.verdict) else { return Ok(()) };
        let reason = verdict.reason(&units);
        let unit = verdict.margin.printed_unit(&units);
        let [margin, expanded] = [verdict.margin.value, verdict.margin.expanded()].map(|size| unit.interval_from_si(size));
        let room = 1e-9 * (margin.abs() + expanded);
        let size = before(&reason, " ").or_else(|| number_in(reason.trim_start_matches("by ")));
        let Some(size) = size else { return Ok(()) };
        if margin < 0.0 {
            prop_assert!(size >= -margin - room, "{reason} for {margin}");
        } else {
            prop_assert!(size <= margin + room, "{reason} for {margin}");
        }
        if let Some(uncertainty) = after(&reason, "known to ± ") {
            prop_assert!(uncertainty + room >= expanded, "{reason} for {expanded}");
            prop_assert!((uncertainty <= size) == (expanded <= margin.abs()), "{reason} for {margin} ± {expanded}");
        }
        if let Some(settles) = reason.find("knowing it to ± ").and_then(|_| after(&reason, "knowing it to ± ")) {
            prop_assert!(settles <= margin.abs() + room && settles <= size && settles > 0.0, "{reason} for {margin}");
            prop_assert!(margin < 0.0 || settles == size, "{reason} for {margin}");
        }
    }

    #[test]
    fn the_ends_of_a_mass_are_rounded_outwards(low in 0.001..90_000.0, width in 0.0..3_000.0, places in 0..5) {
        let tidy = |value: f64| (value * ten(places)).round() / ten(places);
        let (low, high) = (tidy(low), tidy(low + width));
        let unit = units().parse("lb").expect("a unit");
        let read = |printed: &Printed| read(&printed.number) * ten(printed.power);
        match print::ends((low, high), unit) {
            (one, None) => prop_assert!(low == high && (read(&one) - low).abs() <= 1e-3 * low),
            (least, Some(most)) => {
                prop_assert!(read(&least) <= low && high <= read(&most), "{} .. {}", least.number, most.number);
                prop_assert!(read(&least) >= 0.998 * low - 1e-9 && read(&most) <= 1.002 * high + 1e-9);
            }
        }
    }
}

/// 43.04, 130.4 and 0.041 03 are no 43, 130 and 0.041.
#[test]
fn ends_and_uncertainties_are_rounded_up() {
    assert_eq!(told("(20.5 mm ± 0.605 um) * 1"), "20.50000 mm ± 0.00061 mm");
    assert_eq!(told("(1000 lbf ± 130.4 lbf) * 1"), "1000 lbf ± 140 lbf");
    assert_eq!(told("(987 lbf ± 43.04 lbf) * 1"), "987 lbf ± 44 lbf");
    assert_eq!(told("(54.4 mm ± 6.03 mm) * 1"), "54.4 mm ± 6.1 mm");
    assert_eq!(told("(10.04 mm ± 1 mm) * 1"), "10.0 mm ± 1.1 mm");
    assert_eq!(told("(2.0035 in ± 0.0012 in) * 1"), "2.0035 in ± 0.0012 in");
}

#[test]
fn a_margin_reads_no_better_than_it_is() {
    assert_eq!(
        told("check (1000 psi ± 700 psi) * 1 <= 1674.6 psi"),
        "not settled: 670 psi inside, known to ± 700 psi; knowing it to ± 670 psi would settle it"
    );
    assert_eq!(
        told("check (1000 psi ± 700 psi) * 1 >= 1631.4 psi"),
        "not settled: 640 psi outside, known to ± 700 psi; knowing it to ± 630 psi would settle it"
    );
    assert_eq!(told("check 1000 psi ± 43 psi <= 2275.5 psi"), "holds: by 1275 psi, known to ± 43 psi");
    assert_eq!(told("check 1.2496 L <= 2.4992 L"), "holds: by 1.249 L");
    assert_eq!(told("check 2.4992 L <= 1.2496 L"), "fails: by 1.250 L");
}

/// The uncertainty of a value is printed alike beside the value and in a verdict on it.
#[test]
fn an_uncertainty_is_one_figure() {
    for (value, limit) in [("1.51 thou", "40 thou"), ("1.51 thou", "33 thou"), ("1.549 thou", "30.1 thou")] {
        let beside = told(&format!("(31.04 thou ± {value}) * 1"));
        let beside = beside.split("± ").nth(1).expect("an uncertainty");
        let verdict = told(&format!("check (31.04 thou ± {value}) * 1 <= {limit}"));
        assert!(verdict.contains(&format!("known to ± {beside}")), "{verdict} for {beside}");
    }
}

/// The last figure of what was read counts twice as much in twice the value, and half as much in half of it.
#[test]
fn a_multiple_of_readings_is_no_finer_than_they_are() {
    let thou = units().parse("thou").expect("a unit");
    let wear = quantity(&["66 thou ± 2 thou".to_owned()]).expect("a value");
    let wear = Quantity { style: Style::Read(0), unit: thou, ..wear };
    let given =
        Scope { id: "pin".to_owned(), given: vec![("wear".to_owned(), wear.into())], ..Scope::default() };
    let lines = ["@pin.wear", "2 * @pin.wear", "@pin.wear * 2", "@pin.wear / 2"];
    let line = |(index, text): (usize, &&str)| SourceLine { text: (*text).to_owned(), offset: 40 * index };
    let block = Block { lines: lines.iter().enumerate().map(line).collect() };
    let scopes = [given, Scope { id: "eye".to_owned(), blocks: vec![block], ..Scope::default() }];
    let evaluation = evaluate(&scopes, &units(), &[], Sources::new());
    let told: Vec<String> =
        evaluation.scopes[1].blocks[0].lines.iter().map(|line| line.text(&units())).collect();
    assert_eq!(told, ["66 thou ± 2 thou", "132 thou ± 4 thou", "132 thou ± 4 thou", "33.0 thou ± 1.0 thou"]);
}

/// Each figure has the power of ten that the number has.
#[test]
fn a_power_of_ten_is_on_every_figure() {
    let quantity = quantity(&["1e8 mm^2 / (1.6 mm ± 0.8 mm)".to_owned()]).expect("a value");
    let printed = print::quantity(&quantity, &units());
    let shown = printed.shown_uncertainty().expect("an uncertainty");
    assert_ne!(printed.power, 0, "{}", printed.text());
    assert_eq!(shown.matches("×10⁷").count(), 2, "{shown}");
}
