//! What `check` says of the sequence.

use asfound::plan::report::Schedule;

use super::notes::planned;

fn messages(notes: &[(&str, &str)]) -> Vec<String> {
    let (project, plan) = planned(notes);
    let line = |problem: asfound::diagnostic::Problem| {
        format!(
            "{} {}: {}: {}",
            problem.code.word,
            problem.about.unwrap_or_default(),
            problem.message,
            problem.help
        )
    };
    plan.problems(&project.dossier).into_iter().map(line).collect()
}

#[test]
fn a_circle_is_told_with_its_reasons_and_the_rest_is_planned() {
    let notes = [
        ("cap", "kind: part\nname: Cap\ndisposition: reuse"),
        ("post", "kind: part\nname: Post\ndisposition: reuse\ntrapped_by: [cap]"),
        ("a-lift", "kind: step\ndoes: Lift the post\nremoves: [post]\ntakes: 8 h"),
        ("b-unbolt", "kind: step\ndoes: Unbolt the cap\nremoves: [cap]\nneeds: [a-lift]\ntakes: 8 h"),
        ("c-paint", "kind: step\ndoes: Paint\nneeds: [b-unbolt]\ntakes: 8 h"),
    ];
    assert_eq!(
        messages(&notes),
        ["step-circle a-lift: these steps wait for each other: `a-lift` before `b-unbolt` before `a-lift`: \
          b-unbolt needs a-lift; a-lift comes after b-unbolt, which takes off cap: it traps post. Take one of these away."]
    );
    let (project, plan) = planned(&notes);
    let schedule = Schedule::of(&project.dossier, &plan, &plan.timetable());
    assert_eq!(schedule.steps.len(), 3);
    assert_eq!(schedule.end.forecast_days.unwrap().likely, 21.0);
}

#[test]
fn a_trap_that_nothing_frees_is_a_caution_once() {
    let told = messages(&[
        ("cap", "kind: part\nname: Cap\ndisposition: reuse"),
        ("post", "kind: part\nname: Post\ndisposition: reuse\ntrapped_by: [cap]"),
        ("lift", "kind: step\ndoes: Lift\nremoves: [post]"),
        ("lift-again", "kind: step\ndoes: Lift again\nremoves: [post]\nneeds: [lift]"),
    ]);
    assert_eq!(
        told,
        ["trap-not-freed post: `post` is trapped by `cap`, and no step takes `cap` off: \
          Add a step that `removes: [cap]`, or correct `trapped_by:`."]
    );
}

#[test]
fn a_step_meant_for_a_shop_that_cannot_names_who_could() {
    let told = messages(&[
        ("works", "kind: shop\nname: Works\nhas: {press: 40 tonf}"),
        ("press", "kind: step\ndoes: Press\ncalls_for: {press: 30 tonf}\nat: shed"),
        ("weld", "kind: step\ndoes: Weld\nprocesses: [tig]\nat: works"),
        ("old", "kind: step\ndoes: Pressed\ncalls_for: {press: 30 tonf}\nat: shed\nstate: done"),
    ]);
    assert_eq!(
        told,
        [
            "place-cannot press: `shed` can't do `press`: press: needs 30 tonf, has 12 tonf: Who could: works.",
            "place-cannot weld: `works` can't do `weld`: tig: not done there: No known shop can: see the unplaced jobs.",
        ]
    );
}
