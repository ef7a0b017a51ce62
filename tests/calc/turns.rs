//! Turns, radians and cycles: what is refused, what is said with both readings, and that every suggestion works.

use asfound::calc::dimension::Dimension;
use asfound::calc::fault::{Fault, Severity};
use asfound::calc::function::{Function, Gives, Takes};
use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::sheet::{Block, Evaluation, Scope, SourceLine, evaluate};
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, Units};
use asfound::trade::functions;

/// A call with one argument left open.
type Formula<'a> = &'a dyn Fn(&str) -> String;

fn units() -> Units {
    Units::new(&Settings::default())
}

fn run(text: &str) -> Evaluation {
    let mut offset = 0;
    let lines = text.lines().map(|line| {
        let start = offset;
        offset += line.len() + 1;
        SourceLine { text: line.to_owned(), offset: start }
    });
    let block = Block { lines: lines.collect() };
    let scope = Scope { id: "note".to_owned(), blocks: vec![block], ..Scope::default() };
    let all: Vec<&'static Function> = functions().collect();
    evaluate(&[scope], &units(), &all, Sources::new())
}

/// What the last line prints.
fn printed(text: &str) -> String {
    let evaluation = run(text);
    let line = evaluation.scopes[0].blocks[0].lines.last().expect("a line");
    line.text(&units())
}

#[track_caller]
fn silent(text: &str, result: &str) {
    assert_eq!(run(text).faults, [], "{text}");
    assert_eq!(printed(text), result, "{text}");
}

#[track_caller]
fn only_fault(text: &str) -> Fault {
    let mut faults = run(text).faults;
    assert_eq!(faults.len(), 1, "{text}: {faults:?}");
    faults.remove(0)
}

/// The pieces in backquotes.
fn quoted(text: &str) -> Vec<&str> {
    text.split('`').skip(1).step_by(2).collect()
}

/// Both readings stand in the message; each suggestion, put where it belongs, is silent and comes to its reading.
#[track_caller]
fn two_readings(line: &str, typed: &str, radians: &str, turns: &str) {
    let fault = only_fault(line);
    assert_eq!((fault.code.word(), fault.severity()), ("calc-angle", Severity::Caution), "{line}");
    assert!(fault.message.contains(&format!("{radians} if")), "{line}: {}", fault.message);
    assert!(fault.message.contains(&format!("{turns} if")), "{line}: {}", fault.message);
    let suggested = quoted(&fault.help);
    assert_eq!(suggested.len(), 2, "{}", fault.help);
    for (suggestion, result) in suggested.iter().zip([radians, turns]) {
        silent(&line.replacen(typed, suggestion, 1), result);
    }
}

#[test]
fn a_feed_or_a_radius_beside_turns_is_told_with_both_readings() {
    two_readings("100 mm / (0.2 mm * 200 rpm) to min", "0.2 mm", "0.3979 min", "2.5 min");
    two_readings("200 rpm * 50 mm to m/s", "50 mm", "1.047 m/s", "0.1667 m/s");
    two_readings("pi * 3 in * 500 rpm to ft/min", "pi * 3 in", "2467 ft/min", "392.7 ft/min");
    two_readings("(10 m/min) / (pi * 50 mm) to rpm", "pi * 50 mm", "10.13 rpm", "63.66 rpm");
    two_readings("5 kN * 6 mm * 200 rpm to W", "5 kN * 6 mm", "628.3 W", "100 W");
    two_readings("90 deg * 50 mm", "50 mm", "78.54 mm", "12.5 mm");
    two_readings("25 / (1 min) to rpm", "25 / (1 min)", "3.979 rpm", "25 rpm");
    two_readings("10 m / (pi * 1 m) to rev", "10 m / (pi * 1 m)", "0.5066 rev", "3.183 rev");
    two_readings("10 kW / (20 rpm) to kJ", "10 kW / (20 rpm)", "4.775 kJ", "30 kJ");
    two_readings("2 / (200 rpm) to s", "2 / (200 rpm)", "0.09549 s", "0.6 s");
}

/// A name keeps what its line settled: it is reported once.
#[test]
fn a_reading_is_told_where_it_is_made_and_not_again() {
    let fault = only_fault("rim = 150 mm * 60 rpm\ntwice = 2 * rim\ntime = 3 m / rim to s");
    assert!(fault.message.contains("`150 mm`"), "{}", fault.message);
    silent("feed = 0.2 mm/rev\nn = 200 rpm\ntime = 100 mm / (feed * n) to min", "time = 2.5 min");
    let told = only_fault("f(d, n) = d * n\nv = f(50 mm, 200 rpm) to m/s");
    assert_eq!(told.code.word(), "calc-angle");
}

#[test]
fn what_can_only_be_radians_is_not_told() {
    silent("30 N m * 600 rpm to W", "1885 W");
    silent("5 kW / (30 N m) to rpm", "1592 rpm");
    silent("10 kW / (200 rpm)", "477.5 N·m");
    silent("5 kg * 0.5 m * (300 rpm)^2 to N", "2467 N");
    silent("sqrt(1000 N/m / (2 kg)) to rpm", "213.5 rpm");
    silent("(1000 N/m / (2 kg))^(1/2)", "22.36 rad/s");
    silent("pi / 6 to deg", "30°");
    silent("30 deg + 0.1 to rad", "0.6236 rad");
    silent("180 deg - 2 * asin(0.5)", "120°");
    silent("3 in / 2 / (1 rad) * 500 rpm to ft/min", "392.7 ft/min");
}

#[test]
fn turns_stay_turns() {
    silent("200 rpm * 3 min", "600 rev");
    silent("3 rev / 1 min", "3 rev/min");
    silent("3 rev / 1 min to rpm", "3 rpm");
    silent("0.2 mm/rev * 10 rev", "2 mm");
    silent("50 mm / (1 rev)", "50 mm/rev");
    silent("100 N m / (2 deg)", "50 N·m/°");
    silent("2 * 200 rpm * 14 / 42", "133.3 rpm");
    silent("30 deg/s * 2 s", "60°");
}

#[test]
fn cycles_are_no_turns_until_it_is_said() {
    silent("29.17 rev/s to rpm", "1750 rpm");
    silent("1 Hz * 2 * pi to rpm", "60 rpm");
    silent("1750 rpm / (2 * pi) to Hz", "29.17 Hz");
    silent("2 * pi * 50 Hz", "314.2 1/s");
    for (line, typed, results) in [
        ("50 Hz to rpm", "50 Hz", &["3000 rpm"][..]),
        ("1750 rpm to Hz", "1750 rpm", &["29.17 Hz"]),
        ("50 Hz + 10 rpm to rpm", "50 Hz", &["3010 rpm"]),
        ("50 Hz + 10 rpm to Hz", "10 rpm", &["50.17 Hz"]),
    ] {
        let fault = only_fault(line);
        assert_eq!((fault.code.word(), fault.severity()), ("calc-dimension", Severity::Error), "{line}");
        let suggested: Vec<&str> =
            quoted(&fault.help).into_iter().filter(|each| each.starts_with(typed)).collect();
        assert_eq!(suggested.len(), results.len(), "{line}: {}", fault.help);
        for (suggestion, result) in suggested.iter().zip(results) {
            silent(&line.replacen(typed, suggestion, 1), result);
        }
    }
    assert_eq!(only_fault("check 1750 rpm <= 25 Hz").code.word(), "calc-dimension");
    assert_eq!(only_fault("a = max(1750 rpm, 25 Hz)").code.word(), "calc-dimension");
    assert_eq!(only_fault("low = 6 rpm\nhigh = 1 Hz\na = low .. high").code.word(), "calc-dimension");
    for bounds in ["6 rpm .. 1 Hz", "6 rpm ± 1 Hz", "6 rpm +1/-1 Hz"] {
        let fault = only_fault(&format!("a = {bounds}"));
        assert!(fault.message.contains("only one of the value and its bound"), "{}", fault.message);
    }
}

/// Sums and comparisons of what counts turns with what does not say.
#[test]
fn one_side_that_counts_turns_is_told() {
    let sum = "10 rpm + 25/(1 min) to rpm";
    let fault = only_fault(sum);
    assert!(
        fault.message.contains("3.979 rpm if") && fault.message.contains("25 rpm if"),
        "{}",
        fault.message
    );
    for (suggestion, result) in quoted(&fault.help).iter().zip(["13.98 rpm", "35 rpm"]) {
        silent(&sum.replacen("25/(1 min)", suggestion, 1), result);
    }
    let fault = only_fault("30 deg + 15");
    assert!(quoted(&fault.help).contains(&"15 deg"), "{}", fault.help);
    silent("30 deg + 15 deg", "45°");
    assert_eq!(only_fault("check 200 rpm * 50 mm <= 2 m/s").code.word(), "calc-angle");
    assert_eq!(only_fault("a = round(3.2 rev)").code.word(), "calc-dimension");
    silent("round(3.2 rev / (1 rev)) * 1 rev", "3 rev");
}

#[test]
fn a_nameplate_that_prints_per_minute_is_told_what_to_write() {
    for (line, suggestions) in [
        ("n = 1450/min", &["1450 1/min", "1450 rpm"][..]),
        ("n = 24.2/s", &["24.2 1/s", "24.2 rev/s"]),
        ("per = 8/in", &["8 1/in"]),
    ] {
        let fault = only_fault(line);
        let suggested = quoted(&fault.help);
        assert_eq!(suggested, suggestions, "{line}");
        let typed = line.split("= ").last().expect("a value");
        for suggestion in suggested {
            assert_eq!(run(&line.replacen(typed, suggestion, 1)).faults, []);
        }
    }
}

#[test]
fn a_rotational_speed_is_no_bare_frequency() {
    let life = |speed: &str| format!("bearing_life_time(rating: 14.8 kN, load: 2 kN, speed: {speed}).time");
    let torque = |speed: &str| format!("torque_of_power(power: 10 hp, speed: {speed}) to in lbf");
    silent(&life("1000 rpm"), "6754 h");
    silent(&life("104.71975512 rad/s"), "6754 h");
    silent(&life("6000 deg/s"), "6754 h");
    silent(&torque("1750 rpm"), "360.1 in·lbf");
    let cases: [(&str, Formula, &str); 3] = [
        ("1000/(1 min)", &life, "6754 h"),
        ("1000 1/min", &life, "6754 h"),
        ("29.17 Hz", &torque, "360.1 in·lbf"),
    ];
    for (speed, formula, turns) in cases {
        let fault = only_fault(&formula(speed));
        assert_eq!((fault.code.word(), fault.severity()), ("calc-dimension", Severity::Error), "{speed}");
        let suggested = quoted(&fault.help);
        let [rpm, by_turn, by_radian] = suggested[..] else { panic!("{}", fault.help) };
        assert_eq!([rpm, by_turn].map(|each| printed(&formula(each))), [turns, turns], "{speed}");
        assert_eq!(run(&formula(by_radian)).faults, [], "{speed}");
    }
    let spells =
        "bearing_varying_load(loads: [2 kN, 3 kN], speeds: [25/(1 s), 10 rpm], shares: [50 %, 50 %])";
    let fault = only_fault(spells);
    assert!(fault.message.contains("for `speeds` a rotational speed is needed"), "{}", fault.message);
}

/// A rate among the parameters is always one of rotation; what counts strokes or cycles would have to be named here.
#[test]
fn no_parameter_that_turns_is_a_plain_rate() {
    let is_rate = |takes: Takes| match takes {
        Takes::Positive(dimension)
        | Takes::NotNegative(dimension)
        | Takes::Signed(dimension)
        | Takes::List(dimension) => dimension == Dimension::RATE,
        _ => false,
    };
    let parameters =
        || functions().flat_map(|function| function.parameters.iter().map(move |each| (function.name, each)));
    let plain: Vec<_> =
        parameters().filter(|(_, each)| is_rate(each.takes)).map(|(name, each)| (name, each.name)).collect();
    assert_eq!(plain, []);
    let turning =
        parameters().filter(|(_, each)| matches!(each.takes, Takes::Turning(_) | Takes::Turnings)).count();
    assert!(turning >= 12, "{turning}");
}

/// A plain parameter whose meaning or default is an angle would take radians without a word.
#[test]
fn no_parameter_that_is_an_angle_is_a_plain_number() {
    let says_angle = |name: &str, meaning: &str| {
        let is_named = name.contains("angle") || ["twist", "point", "wrap", "lap"].contains(&name);
        is_named || meaning.contains(" deg") || meaning.contains('°') || meaning.contains("angle of")
    };
    let plain = functions().flat_map(|function| {
        let is_plain = |takes: Takes| {
            matches!(
                takes,
                Takes::Positive(Dimension::NONE)
                    | Takes::NotNegative(Dimension::NONE)
                    | Takes::Signed(Dimension::NONE)
            )
        };
        let angles = function
            .parameters
            .iter()
            .filter(move |each| is_plain(each.takes) && says_angle(each.name, each.meaning));
        angles.map(move |each| (function.name, each.name))
    });
    assert_eq!(plain.collect::<Vec<_>>(), []);
}

#[test]
fn an_angle_is_no_plain_number() {
    let jack = |angle: &str| {
        format!(
            "screw_jack(load: 10 kN, mean_d: 30 mm, lead: 6 mm, mu: 0.15, arm: 500 mm, half_angle: {angle}).effort"
        )
    };
    let bend = |angle: &str| format!("bend_allowance(angle: {angle}, radius: 10 mm, thickness: 2 mm)");
    let spans = |angle: &str| {
        format!("gear_from_spans(more: 53.86 mm, fewer: 39.1 mm, pressure_angle: {angle}).module")
    };
    let formulas: [(Formula, &str); 3] = [(&jack, "30"), (&bend, "90"), (&spans, "20")];
    for (formula, number) in formulas {
        let fault = only_fault(&formula(number));
        assert_eq!((fault.code.word(), fault.severity()), ("calc-dimension", Severity::Error), "{number}");
        assert!(
            fault.message.contains("an angle is needed here, and this is a plain number"),
            "{}",
            fault.message
        );
        assert_eq!(quoted(&fault.help)[0], format!("{number} deg"));
        for suggestion in quoted(&fault.help).iter().take(1) {
            assert_eq!(run(&formula(suggestion)).faults.len(), 0, "{suggestion}");
        }
    }
    assert_eq!(run(&jack("0")).faults, [], "nothing at all is an angle");
    assert_eq!(run(&jack("0 ± 0.1")).faults.len(), 1);
    assert_eq!(run(&jack("atan(0.25)")).faults, []);
    assert_eq!(run(&jack("thread(\"M12\").angle / 2")).faults, [], "a function's angle stays one");
    let fault = only_fault(&bend("100 mm / (50 mm)"));
    for suggestion in quoted(&fault.help) {
        assert_eq!(run(&bend(suggestion)).faults, [], "{suggestion}");
    }
}

#[test]
fn a_feed_is_for_each_turn_either_way() {
    let time = |feed: &str| {
        format!("turning(before: 0.5 in, after: 0.480 in, length: 6 in, feed: {feed}, speed: 400 rpm).time")
    };
    assert_eq!(printed(&time("0.02 in")), "0.75 min");
    silent(&time("0.02 in/rev"), "0.75 min");
    assert_eq!(only_fault(&time("200 rpm * 3 in / (1 s)")).code.word(), "calc-dimension");
    let fault =
        only_fault("cutting = drilling(d: 20 mm, depth: 90 deg * 50 mm, feed: 0.25 mm, speed: 320 rpm)");
    assert_eq!(fault.code.word(), "calc-angle");
}

/// Results that are angles or rotational speeds keep that they are.
#[test]
fn results_keep_their_angle() {
    for function in functions() {
        for output in function.outputs {
            let Gives::Quantity { dimension, metric, .. } = output.gives else { continue };
            let is_rate = dimension == Dimension::RATE && output.name != "strokes";
            let unit = units().parse(metric).ok();
            assert!(
                !is_rate || unit.is_some_and(|unit| unit.has_angle()),
                "{}.{}",
                function.name,
                output.name
            );
        }
    }
}

#[test]
fn at_the_prompt_too() {
    let mut session = Session::new(&[]);
    let answer = evaluate_line("v = 200 rpm * 50 mm", &units(), &mut session).expect("a value");
    assert_eq!(answer.cautions.len(), 1);
    let answer = evaluate_line("v to ft/min", &units(), &mut session).expect("a value");
    assert_eq!(answer.cautions, []);
}
