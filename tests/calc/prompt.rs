//! One line after the other, as at the prompt: what a faulty line leaves behind, and where its fault is shown.

use asfound::calc::fault::Fault;
use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::units::{Settings, Units};

use super::functions;

/// What each line comes to, or its first fault.
fn run(lines: &[&str]) -> (Session, Vec<Result<String, Fault>>) {
    let (units, mut session) = (Units::new(&Settings::default()), Session::new(functions::ALL));
    let told = lines.iter().map(|line| {
        let answer = evaluate_line(line, &units, &mut session);
        answer.map(|answer| answer.outcome.text(&units)).map_err(|faults| faults[0].clone())
    });
    let told = told.collect();
    (session, told)
}

#[test]
fn a_fault_stands_at_its_line_of_all_that_was_typed() {
    let (session, told) = run(&["a = 5 mm", "b = (2 mm,\n  3 kg + a", "c = a + 3 kg"]);
    let fault = told[2].clone().unwrap_err();
    assert_eq!(&session.typed()[fault.range.clone()], "a + 3 kg");
    assert_eq!(session.typed()[..fault.range.start].lines().count(), 4);
    assert!(fault.labels.iter().all(|label| session.typed().get(label.range.clone()).is_some()));
}

#[test]
fn a_faulty_line_takes_the_value_from_its_name() {
    let (_, told) = run(&["a = 5", "a = 5 mm +", "2 * a", "a = 6 mm", "2 * a"]);
    assert_eq!(told[1].clone().unwrap_err().message, "a value is missing here");
    let fault = told[2].clone().unwrap_err();
    assert_eq!(fault.message, "`a` has no value: its last line was faulty");
    assert_eq!(
        (fault.code.word(), fault.help.as_str()),
        ("calc-unknown-name", "Give it a value on a line of its own.")
    );
    assert_eq!(told[4].clone().unwrap(), "12 mm");
}

#[test]
fn a_line_goes_on_inside_brackets_with_its_remarks() {
    let (_, told) = run(&["a = sum(1 mm,   # the wall\n  2 mm)   # the gap"]);
    assert_eq!(told[0].clone().unwrap(), "a = 3 mm");
}

#[test]
fn a_line_that_could_not_be_worked_out_is_faulty_too() {
    let (_, told) = run(&["a = 1", "a = 1 / 0", "f(x) = x + nothing", "a", "f(2)"]);
    assert_eq!(told[3].clone().unwrap_err().message, "`a` has no value: its last line was faulty");
    assert_eq!(told[4].clone().unwrap_err().message, "`f` has no value: its last line was faulty");
}
