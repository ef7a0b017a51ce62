//! Every function's own example through the real engine: it is worked out without a fault, and every check holds.

use std::collections::BTreeSet;

use asfound::calc::evaluate::verdict::Outcome;
use asfound::calc::fault::Severity;
use asfound::calc::function::Function;
use asfound::calc::print;
use asfound::calc::sheet::{Block, Evaluation, Scope, SourceLine, evaluate};
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, System, Units};
use asfound::trade;

fn units(system: System) -> Units {
    Units::new(&Settings { system, ..Settings::default() })
}

/// A text of calculation lines as the only block of one note.
fn worked_out(text: &str, units: &Units) -> Evaluation {
    let mut offset = 0;
    let lines = text.split('\n').map(|line| {
        let start = offset;
        offset += line.len() + 1;
        SourceLine { text: line.to_owned(), offset: start }
    });
    let block = Block { lines: lines.collect() };
    let scope = Scope { id: "example".to_owned(), blocks: vec![block], ..Scope::default() };
    let functions: Vec<&'static Function> = trade::functions().collect();
    evaluate(&[scope], units, &functions, Sources::new())
}

/// What is wrong with an example: faults, checks that do not hold, none at all, the function not called.
fn complaints(function: &Function, units: &Units) -> Vec<String> {
    let evaluation = worked_out(function.example, units);
    let errors = evaluation.faults.iter().filter(|fault| matches!(fault.severity(), Severity::Error));
    let mut complaints: Vec<String> =
        errors.map(|fault| format!("{}: {} {}", function.name, fault.message, fault.help)).collect();
    for place in &evaluation.checks {
        let line = evaluation.line(*place).expect("a line of the block");
        match &line.verdict {
            Some(verdict) if verdict.outcome == Outcome::Holds => {}
            Some(verdict) => {
                complaints.push(format!("{}: {} {}", function.name, line.typed, verdict.reason(units)));
            }
            None => complaints.push(format!("{}: {} has no verdict", function.name, line.typed)),
        }
    }
    if evaluation.checks.is_empty() {
        complaints.push(format!("{}: the example checks nothing", function.name));
    }
    if evaluation.used.iter().all(|used| used.name != function.name) {
        complaints.push(format!("{}: the example does not call it", function.name));
    }
    complaints
}

#[test]
fn every_example_holds() {
    let units = units(System::Metric);
    let all: Vec<&'static Function> = trade::functions().collect();
    let complaints: Vec<String> = all.iter().flat_map(|each| complaints(each, &units)).collect();
    println!("{} functions, {} complaints", all.len(), complaints.len());
    assert_eq!(complaints, Vec::<String>::new());
}

/// The units of every output are units, of its dimension, in both systems: the inch results carry the same size.
#[test]
fn examples_hold_in_inches() {
    let units = units(System::Inch);
    let complaints: Vec<String> = trade::functions().flat_map(|each| complaints(each, &units)).collect();
    assert_eq!(complaints, Vec::<String>::new());
}

/// What a function is for stands in one form: a noun phrase or an indirect question, without article and full stop.
#[test]
fn purposes_have_one_form() {
    const VERBS: [&str; 10] =
        ["works", "looks", "gives", "tells", "checks", "sizes", "divides", "the", "a", "an"];
    let mut names = BTreeSet::new();
    for function in trade::functions() {
        let first = function.does.split(' ').next().unwrap_or_default();
        // "sizes of", "sizes to", "sizes," name things.
        let is_noun =
            ["sizes of ", "sizes to ", "sizes, "].iter().any(|noun| function.does.starts_with(noun));
        assert!(is_noun || !VERBS.contains(&first), "{}: {}", function.name, function.does);
        assert!(!function.does.ends_with('.'), "{}: {}", function.name, function.does);
        assert!(names.insert(function.name), "two functions are called {}", function.name);
    }
}

fn printed(text: &str, units: &Units) -> String {
    let evaluation = worked_out(text, units);
    assert!(evaluation.faults.is_empty(), "{:?}", evaluation.faults);
    let last = evaluation.scopes[0].blocks[0].lines.last().expect("a line");
    print::value(last.value.as_ref().expect("a value"), units)
}

/// ANSI B4.1-1967, RC5 over 3.15 up to 4.73 in: hole +2.2/0, shaft -3.0/-4.4 thou. The clearance of the bounded sizes
/// reaches from the least to the greatest of the table.
#[test]
fn a_fit_carries_its_uncertainty() {
    let units = units(System::Inch);
    let fit = "pivot = fit(\"RC5\", at: 3.973 in)";
    assert_eq!(printed(&format!("{fit}\npivot.clearance_min"), &units), "3.00 thou");
    assert_eq!(printed(&format!("{fit}\npivot.clearance_max"), &units), "6.60 thou");
    let clearance = printed(&format!("{fit}\npivot.hole - pivot.shaft to thou"), &units);
    assert!(
        clearance.starts_with("4.8 thou ± 1.") && clearance.ends_with("at worst ± 1.8 thou"),
        "{clearance}"
    );
    // One part is the same part wherever it stands; two that are named apart vary apart.
    let other = |part: &str| {
        format!("{fit}\nother = fit(\"RC5\", at: 3.973 in{part})\npivot.hole - other.hole to thou")
    };
    assert!(!printed(&other(""), &units).contains('±'));
    assert!(printed(&other(", part: \"left\""), &units).contains('±'));
}

/// A nominal size with an uncertainty of its own is reported, since a bounded size can't carry it.
#[test]
fn a_doubtful_nominal_size_is_told() {
    let evaluation = worked_out("fit(\"H7/k6\", at: 50 mm ± 0.1 mm)", &units(System::Metric));
    let line = &evaluation.scopes[0].blocks[0].lines[0];
    assert!(
        line.notes.iter().any(|note| note.is_warning && note.said.text.contains("uncertainty of its own"))
    );
    let plain = worked_out("fit(\"H7/k6\", at: 50 mm)", &units(System::Metric));
    assert!(plain.scopes[0].blocks[0].lines[0].notes.is_empty());
}

/// 50 j6 is +11/-5 micrometres: 49.9974 mm is inside by 2.4, which an uncertainty of 6 leaves open.
#[test]
fn the_margin_is_judged_with_its_uncertainty() {
    let text = "pin = judge_journal(\"j6\", at: 50 mm, smallest: 49.9974 mm ± 0.006 mm, largest: 50.000 mm)\n\
                check pin.margin >= 0 mm";
    let evaluation = worked_out(text, &units(System::Metric));
    let check = evaluation.line(evaluation.checks[0]).expect("the check");
    assert_eq!(check.verdict.as_ref().map(|verdict| verdict.outcome), Some(Outcome::NotSettled));
}

/// ANSI B4.1-1967, RC5 at 3.973 in: hole 3.9730 to 3.9752 in, shaft 3.9686 to 3.9700 in; ISO 286-1, 50 j6: 49.995 to
/// 50.011 mm.
#[test]
fn limits_of_size_print_to_the_last_figure_of_the_standard() {
    let units = units(System::Inch);
    let limit = |name: &str| printed(&format!("pivot = fit(\"RC5\", at: 3.973 in)\npivot.{name}"), &units);
    assert_eq!(
        ["hole_min", "hole_max", "shaft_min", "shaft_max"].map(limit),
        ["3.9730 in", "3.9752 in", "3.9686 in", "3.9700 in"]
    );
    let seat =
        |name: &str| printed(&format!("seat = tolerance_limits(\"j6\", at: 50 mm)\nseat.{name}"), &units);
    assert_eq!(["min", "max", "lower"].map(seat), ["49.995 mm", "50.011 mm", "-5.0 µm"]);
}

#[test]
fn metric_parts_stay_metric() {
    let inch = units(System::Inch);
    assert_eq!(printed("b = bearing(\"6205\")\nb.bore", &inch), "25.000 mm");
    assert_eq!(printed("t = thread(\"M12\")\nt.pitch", &inch), "1.750 mm");
    assert_eq!(printed("t = thread(\"1/2 BSW\")\nt.major", &inch), "0.5000 in");
    assert_eq!(printed("t = thread(\"1/2 BSW\")\nt.major", &units(System::Metric)), "12.700 mm");
}
