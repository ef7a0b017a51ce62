//! `calc`: one expression, lines from standard input, and what a script gets.

use serde_json::{Value, json};
use snapbox::cmd::OutputAssert;
use snapbox::str;

use super::asfound;

fn calc(words: &[&str]) -> OutputAssert {
    asfound(std::path::Path::new(".")).arg("calc").args(words).assert()
}

fn lines(text: &str, words: &[&str]) -> OutputAssert {
    asfound(std::path::Path::new(".")).arg("calc").args(words).stdin(text).assert()
}

fn near(value: &Value, wanted: f64) {
    let value = value.as_f64().expect("a number");
    assert!((value - wanted).abs() <= 1e-12 * wanted.abs(), "{value} is not {wanted}");
}

#[test]
fn an_expression_comes_to_a_value() {
    calc(&["2 5/16 in + 3 mm to thou"]).success().stdout_eq("2430.6 thou\n").stderr_eq("");
    calc(&["bore = 50.02 mm ± 0.01 mm"]).success().stdout_eq("bore = 50.02 mm ± 0.01 mm\n");
    calc(&["-5 mm + 3 mm"]).success().stdout_eq("-2 mm\n");
    calc(&["sqrt(2) < 1.5"]).success().stdout_eq("true\n");
}

#[test]
fn the_settings_of_a_dossier_are_options() {
    calc(&["3 * 5 gbp", "--money", "gbp"]).code(1);
    calc(&["3 * 5 GBP", "--money", "gbp"]).success().stdout_eq("15.00 GBP\n");
    calc(&["1 ton to lb", "--ton", "long"]).success().stdout_eq("2240 lb\n").stderr_eq("");
    calc(&["1 ton to lb"])
        .success()
        .stdout_eq("2000 lb\n")
        .stderr_eq("caution: the ton is taken for the short one of 2000 lb; `--ton` says which is meant\n");
    calc(&["1", "--money", "xyz"]).code(2).stdout_eq("");
}

#[test]
fn a_script_gets_the_value_with_its_uncertainty() {
    calc(&["2.75 in ± 0.01 in .. 3 in", "--format", "json"]).code(1).stdout_eq("");
    let answer = calc(&["bore = 1 in + 2 in ± 0.01 in", "--format", "json"]).success();
    let told: Value = serde_json::from_slice(&answer.get_output().stdout).expect("JSON");
    assert_eq!(told["unit"], "in");
    near(&told["value"], 3.0);
    near(&told["expanded_uncertainty"], 0.01);
    near(&told["worst_case"]["low"], 2.99);
    near(&told["worst_case"]["high"], 3.01);
}

#[test]
fn checks_print_their_verdict() {
    let text =
        "play = 5.7 thou ± 0.6 thou\ncheck play <= 8 thou\ncheck play <= 6 thou\ncheck play <= 5 thou\n";
    lines(text, &[]).success().stderr_eq("").stdout_eq(str![[r#"
play = 5.7 thou ± 0.6 thou
holds: by 2.30 thou, known to ± 0.60 thou
not settled: 0.30 thou inside, known to ± 0.60 thou; knowing it to ± 0.30 thou would settle it
fails: by 0.70 thou, known to ± 0.60 thou

"#]]);
    let told = lines(text, &["--format", "json"]).success();
    let told = String::from_utf8(told.get_output().stdout.clone()).expect("text");
    let told: Vec<Value> = told.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    let verdicts: Vec<&Value> = told.iter().skip(1).map(|line| &line["verdict"]).collect();
    assert_eq!(json!(verdicts), json!(["holds", "not settled", "fails"]));
    assert_eq!(told[3]["line"], 4);
}

#[test]
fn a_faulty_line_is_shown_and_the_others_are_worked_out() {
    let text = "bore = 50.02 mm\nwall = 60 mm - \ntwice = 2 * wall\nsum = bore + 3 kg\r\nhalf = bore / 2\n";
    lines(text, &[]).code(1).stdout_eq("bore = 50.02 mm\nhalf = 25.01 mm\n").stderr_eq(str![[r#"
error[calc-syntax]: a value is missing here
 --> standard input:2:16
  |
2 | wall = 60 mm - 
  |                ^
  |
  = help: Write a number with its unit, a name or a formula.

error[calc-dimension]: adding a length and a mass does not work
 --> standard input:4:7
  |
4 | sum = bore + 3 kg
  |       ----^^^----
  |       |      |
  |       |      a mass
  |       a length
  |
  = help: Only values of one kind go together; check the formula.

"#]]);
}

#[test]
fn lines_go_on_inside_brackets_with_their_remarks() {
    let text = "load = sum(2 kN,   # the post\n           1 kN)   # its bracket\n";
    lines(text, &[]).success().stdout_eq("load = 3 kN\n");
}

#[test]
fn a_workshop_function_tells_every_result_its_remarks_and_the_caution() {
    let answer = calc(&["hook = gear(teeth: 60, module: 5 mm)"]).success();
    let text = String::from_utf8(answer.get_output().stdout.clone()).expect("text");
    assert!(text.contains("hook.pitch_diameter = 300"), "{text}");
    let fit = "press_fit(d: 3 in, interference: 0.1 in, length: 4 in, outer: 5 in, hub: material(\"GJL-150\"), \
               shaft: material(\"S235JR\"), mu: 0.15)";
    let answer = calc(&[fit, "--units", "inch"]).success();
    let (out, err) = (&answer.get_output().stdout, &answer.get_output().stderr);
    let (out, err) = (String::from_utf8_lossy(out), String::from_utf8_lossy(err));
    assert!(out.contains("Caution: A press") && out.contains(" psi"), "{out}");
    assert!(err.contains("caution[calc-warning]"), "{err}");
}

/// What is said of a strength stands where a strength is read, and once.
#[test]
fn a_material_says_no_more_than_what_is_read_of_it_calls_for() {
    let text = "iron = material(\"EN 8\")\ngrown = thermal_growth(length: 1 m, rise: 20 K, material: iron)\n\
                least = iron.yield / 2\nmost = iron.uts / 5\n";
    let answer = lines(text, &[]).success();
    let out = String::from_utf8_lossy(&answer.get_output().stdout).into_owned();
    let (before, after) = out.split_once("least = 145 MPa ± 22 MPa\n").expect("the line");
    assert!(!before.contains("lower end") && before.contains("grown = 0.230 mm"), "{out}");
    assert!(after.contains("hot rolled to cold drawn; of each strength the lower end is used"), "{out}");
    assert_eq!(after.matches("lower end").count(), 1, "{out}");
    calc(&["material(\"EN 8\").cte to um/(m K)"]).success().stdout_eq("11.50 µm/(m·K) ± 0.50 µm/(m·K)\n");
}

/// ANSI B4.1-1967, RC1 over 0 up to 0.12 in: the shaft from -0.25 to -0.1 thou. ISO 286-1:2010, Table 1: IT5 over 30 up to
/// 50 mm is 11 µm, so js5 is half of that to each side.
#[test]
fn limits_print_to_the_last_figure_of_their_table() {
    let answer = calc(&["fit(\"RC1\", at: 0.1 in)", "--units", "inch"]).success();
    let out = String::from_utf8_lossy(&answer.get_output().stdout).into_owned();
    assert!(out.contains("shaft_min = 0.09975 in\nshaft_max = 0.0999 in\n"), "{out}");
    let answer = calc(&["tolerance_limits(\"js5\", at: 50 mm)"]).success();
    let out = String::from_utf8_lossy(&answer.get_output().stdout).into_owned();
    assert!(out.contains("min = 49.9945 mm\nmax = 50.0055 mm\nlower = -5.5 µm\n"), "{out}");
}

#[test]
fn a_budget_is_a_table() {
    let text = "a = 10.0 mm ± 0.3 mm\nb = 5.0 mm ± 0.1 mm\nd = a - b\nbudget(d)\n";
    let answer = lines(text, &[]).success();
    let out = String::from_utf8_lossy(&answer.get_output().stdout);
    let rows: Vec<String> =
        out.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ")).collect();
    for row in [
        "budget of d, in mm",
        "source of uncertainty standard at worst share",
        "a: 10.0 mm ± 0.3 mm 0.173 0.300 90 %",
        "b: 5.0 mm ± 0.1 mm 0.058 0.100 10 %",
        "all together 0.183 0.400 100 %",
        "± 0.366 mm at 95 %, k = 2.00",
    ] {
        assert!(rows.iter().any(|each| each == row), "no row `{row}` in\n{out}");
    }
}

#[test]
fn nothing_comes_to_nothing() {
    calc(&[""]).success().stdout_eq("").stderr_eq("");
    lines("", &["--format", "json"]).success().stdout_eq("").stderr_eq("");
}
