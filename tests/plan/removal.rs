//! Taking apart and putting back: what nobody wrote and the machine asks for all the same.

use super::notes::{planned, told};

fn part<'a>(id: &'a str, trapped_by: &str) -> (&'a str, String) {
    (id, format!("kind: part\nname: {id}\ndisposition: reuse\ntrapped_by: [{trapped_by}]"))
}

/// Notes made of owned texts.
fn plan_of(notes: &[(&str, String)]) -> (asfound::Project, asfound::plan::Plan) {
    let borrowed: Vec<(&str, &str)> = notes.iter().map(|(id, text)| (*id, text.as_str())).collect();
    planned(&borrowed)
}

fn step<'a>(id: &'a str, keys: &str) -> (&'a str, String) {
    (id, format!("kind: step\ndoes: {id}\n{keys}"))
}

#[test]
fn what_traps_a_part_comes_off_first_and_goes_back_last() {
    let (project, plan) = plan_of(&[
        part("bearing", "post"),
        part("post", "cap"),
        part("cap", ""),
        step("draw-bearing", "removes: [bearing]"),
        step("lift-post", "removes: [post]"),
        step("unbolt-cap", "removes: [cap]"),
        step("set-bearing", "refits: [bearing]"),
        step("lower-post", "refits: [post]"),
        step("bolt-cap", "refits: [cap]"),
    ]);
    assert_eq!(
        told(
            &project,
            &plan,
            &["draw-bearing", "lift-post", "unbolt-cap", "set-bearing", "lower-post", "bolt-cap"]
        ),
        [
            "draw-bearing: waiting: lift-post – takes off post, in the way of bearing",
            "lift-post: waiting: unbolt-cap – takes off cap, in the way of post",
            "unbolt-cap: ready",
            "set-bearing: waiting: draw-bearing – takes off bearing, to go back here",
            "lower-post: waiting: lift-post – takes off post, to go back here; set-bearing – puts in bearing, which must be in before post",
            "bolt-cap: waiting: lower-post – puts in post, which must be in before cap; unbolt-cap – takes off cap, to go back here",
        ]
    );
}

#[test]
fn one_step_may_take_off_a_part_and_what_traps_it() {
    let (project, plan) = plan_of(&[
        part("shaft", "collar"),
        part("collar", ""),
        step("draw", "removes: [shaft, collar]"),
        step("return", "refits: [shaft, collar]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["draw", "return"]),
        [
            "draw: ready",
            "return: waiting: draw – takes off collar, to go back here; draw – takes off shaft, to go back here",
        ]
    );
}

#[test]
fn a_trap_is_off_when_the_assembly_around_it_is_off() {
    let (project, plan) = plan_of(&[
        part("bearing", "pinion"),
        ("crab", "kind: part\nname: Crab".to_owned()),
        ("pinion", "kind: part\nname: Pinion\nwithin: crab\ndisposition: reuse".to_owned()),
        step("draw-bearing", "removes: [bearing]"),
        step("lift-crab", "removes: [crab]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["draw-bearing"]),
        ["draw-bearing: waiting: lift-crab – takes off Pinion, in the way of bearing"]
    );
}

#[test]
fn an_assembly_around_both_frees_neither() {
    let (project, plan) = plan_of(&[
        ("crab", "kind: part\nname: Crab".to_owned()),
        ("bush", "kind: part\nname: Bush\nwithin: crab\ndisposition: reuse\ntrapped_by: [pinion]".to_owned()),
        ("pinion", "kind: part\nname: Pinion\nwithin: crab\ndisposition: reuse".to_owned()),
        step("lift-crab", "removes: [crab]\nstate: done"),
        step("draw-bush", "removes: [bush]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["draw-bush"]),
        ["draw-bush: waiting: Pinion – in the way of Bush, and no step takes it off"]
    );
}

#[test]
fn a_trap_that_nothing_takes_off_holds_and_what_traps_it_still_comes_first() {
    let (project, plan) = plan_of(&[
        part("bearing", "post"),
        part("post", "cap"),
        part("cap", ""),
        step("draw-bearing", "removes: [bearing]"),
        step("unbolt-cap", "removes: [cap]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["draw-bearing"]),
        ["draw-bearing: waiting: post – in the way of bearing, and no step takes it off"]
    );
    let network = &plan.graph.network;
    let sentences: Vec<String> = (0..network.edges().len()).map(|edge| network.sentence(edge)).collect();
    assert_eq!(sentences, ["draw-bearing comes after unbolt-cap, which takes off cap: it traps post"]);
}

#[test]
fn what_is_done_counts_and_a_trap_that_was_put_back_traps_again() {
    let parts = [part("bush", "wheel"), part("wheel", "")];
    let steps = |more: Vec<(&'static str, String)>| {
        let mut notes = parts.to_vec();
        notes.push(step("draw-bush", "removes: [bush]"));
        notes.push(step("pull-wheel", "removes: [wheel]\nstate: done"));
        notes.extend(more);
        notes
    };
    let (project, plan) = plan_of(&steps(vec![]));
    assert_eq!(told(&project, &plan, &["draw-bush"]), ["draw-bush: ready"]);

    let (project, plan) =
        plan_of(&steps(vec![step("push-wheel", "refits: [wheel]\nneeds: [pull-wheel]\nstate: done")]));
    assert_eq!(
        told(&project, &plan, &["draw-bush"]),
        ["draw-bush: waiting: wheel – in the way of bush, and no step takes it off"]
    );

    let (project, plan) = plan_of(&steps(vec![
        step("push-wheel", "refits: [wheel]\nneeds: [pull-wheel]\nstate: done"),
        step("pull-wheel-again", "removes: [wheel]\nneeds: [push-wheel]"),
    ]));
    assert_eq!(
        told(&project, &plan, &["draw-bush", "pull-wheel-again"]),
        [
            "draw-bush: waiting: pull-wheel-again – takes off wheel, in the way of bush",
            "pull-wheel-again: ready",
        ]
    );
}

#[test]
fn a_part_that_comes_off_twice_goes_back_in_between_as_written() {
    let (project, plan) = plan_of(&[
        part("cap", ""),
        step("a-off", "removes: [cap]"),
        step("b-on", "refits: [cap]\nneeds: [a-off]"),
        step("c-off", "removes: [cap]\nneeds: [b-on]"),
        step("d-on", "refits: [cap]\nneeds: [c-off]"),
    ]);
    assert!(plan.graph.network.circles().is_empty());
    assert_eq!(
        told(&project, &plan, &["a-off", "b-on", "c-off"]),
        [
            "a-off: ready",
            "b-on: waiting: a-off – takes off cap, to go back here",
            "c-off: waiting: b-on – comes first",
        ]
    );
}

#[test]
fn what_replaces_a_part_goes_in_before_what_traps_it() {
    let (project, plan) = plan_of(&[
        part("bearing", "post"),
        part("post", ""),
        (
            "bearing-new",
            "kind: part\nname: New\nreplaces: bearing\ndisposition: buy\ncost: 40 GBP\nsupply: received"
                .to_owned(),
        ),
        step("lift-post", "removes: [post]\nstate: done"),
        step("set-new", "refits: [bearing-new]"),
        step("lower-post", "refits: [post]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["set-new", "lower-post"]),
        ["set-new: ready", "lower-post: waiting: set-new – puts in New, which must be in before post",]
    );
}

fn assembly<'a>(id: &'a str, keys: &str) -> (&'a str, String) {
    (id, format!("kind: part\nname: {id}\ndisposition: reuse\n{keys}"))
}

/// The cap sits on the frame and traps the wheel; the wheel traps the frame. The cap comes off by itself, so nothing waits
/// in a circle, whatever is done already.
#[test]
fn a_trap_that_comes_off_by_itself_does_not_wait_for_the_assembly_around_it() {
    for (done, wheel_off) in [
        ("", "wheel-off: waiting: cap-off – takes off cap, in the way of wheel"),
        ("\nstate: done", "wheel-off: ready"),
    ] {
        let (project, plan) = plan_of(&[
            assembly("gear", ""),
            assembly("frame", "within: gear\ntrapped_by: [wheel]"),
            assembly("head", "within: frame"),
            assembly("cap", "within: head"),
            assembly("wheel", "trapped_by: [cap]"),
            step("cap-off", &format!("removes: [cap]{done}")),
            step("frame-off", "removes: [frame]"),
            step("wheel-off", "removes: [wheel]"),
        ]);
        assert!(plan.graph.network.circles().is_empty());
        assert_eq!(
            told(&project, &plan, &["wheel-off", "frame-off"]),
            [wheel_off, "frame-off: waiting: wheel-off – takes off wheel, in the way of frame"]
        );
    }
}

/// The pinion is drawn on the bench, after the crab is off; the bearing is free as soon as the crab is.
#[test]
fn a_trap_that_is_drawn_on_the_bench_was_off_with_its_assembly() {
    let (project, plan) = plan_of(&[
        part("bearing", "pinion"),
        assembly("crab", ""),
        assembly("pinion", "within: crab"),
        step("draw-bearing", "removes: [bearing]"),
        step("draw-pinion", "removes: [pinion]\nneeds: [lift-crab]"),
        step("lift-crab", "removes: [crab]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["draw-bearing"]),
        ["draw-bearing: waiting: lift-crab – takes off pinion, in the way of bearing"]
    );
}

/// The trap comes off with its assembly, goes back, and comes off again alone: the first time frees.
#[test]
fn a_trap_that_comes_off_twice_frees_the_first_time() {
    let (project, plan) = plan_of(&[
        part("bearing", "pinion"),
        assembly("crab", ""),
        assembly("pinion", "within: crab"),
        step("a-lift", "removes: [crab]"),
        step("b-draw", "removes: [bearing]"),
        step("c-lower", "refits: [crab]\nneeds: [b-draw]"),
        step("d-off", "removes: [pinion]\nneeds: [c-lower]"),
    ]);
    assert!(plan.graph.network.circles().is_empty());
    assert_eq!(
        told(&project, &plan, &["b-draw"]),
        ["b-draw: waiting: a-lift – takes off pinion, in the way of bearing"]
    );
}

/// A nut under a key under a cap; nut and key are replaced, the nut and its washer by one piece.
fn replaced(more: &str) -> Vec<(&'static str, String)> {
    let new = |id: &'static str, keys: &str| {
        (id, format!("kind: part\nname: {id}\ndisposition: make\nsupply: received\n{keys}"))
    };
    vec![
        assembly("wheel", ""),
        assembly("nut", "within: wheel\ntrapped_by: [key]"),
        assembly("washer", "within: wheel\ntrapped_by: [nut]"),
        assembly("key", "within: wheel\ntrapped_by: [cap]"),
        part("cap", ""),
        new("nut-new", &format!("replaces: [nut, washer]{more}")),
        new("key-new", "replaces: key"),
        step("a-strip", "removes: [nut, washer, key, cap]\nstate: done"),
        step("b-nut", "uses: [nut-new]"),
        step("c-key", "refits: [key-new]"),
        step("d-cap", "refits: [cap]"),
    ]
}

#[test]
fn a_new_part_takes_over_what_trapped_the_old_ones_and_where_they_sat() {
    let (project, plan) = plan_of(&replaced(""));
    assert_eq!(
        told(&project, &plan, &["b-nut", "c-key", "d-cap"]),
        [
            "b-nut: ready",
            "c-key: waiting: b-nut – puts in nut-new, which must be in before key-new",
            "d-cap: waiting: c-key – puts in key-new, which must be in before cap",
        ]
    );
    let new = project.dossier.parts.iter().find(|part| part.id() == "nut-new").unwrap();
    assert_eq!(new.within.map(|within| project.dossier[within].id()), Some("wheel"));
    assert_eq!(new.replaces.len(), 2);
}

#[test]
fn a_new_part_that_sits_otherwise_takes_over_nothing() {
    let (project, plan) = plan_of(&replaced("\nsits_as_before: false"));
    assert_eq!(told(&project, &plan, &["c-key"]), ["c-key: ready"]);
    let new = project.dossier.parts.iter().find(|part| part.id() == "nut-new").unwrap();
    assert!(new.within.is_none());
}

#[test]
fn a_new_part_goes_in_after_the_old_one_is_off() {
    let (project, plan) = plan_of(&[
        part("bush", ""),
        ("bush-new", "kind: part\nname: New\nreplaces: bush\ndisposition: make\nsupply: received".to_owned()),
        step("draw", "removes: [bush]"),
        step("press", "refits: [bush-new]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["press"]),
        ["press: waiting: draw – takes off bush, to be replaced by New"]
    );
}

/// The record of what is done keeps its order: the old key was out before the old nut came out, although a new key is in.
#[test]
fn a_done_step_still_comes_after_what_freed_its_part() {
    let new = |id: &'static str, keys: &str| {
        (id, format!("kind: part\nname: {id}\ndisposition: buy\nsupply: received\n{keys}"))
    };
    let scrap =
        |id: &'static str, keys: &str| (id, format!("kind: part\nname: {id}\ndisposition: scrap\n{keys}"));
    let (project, plan) = plan_of(&[
        scrap("nut", "trapped_by: [key]"),
        scrap("key", ""),
        new("key-new", "replaces: key"),
        step("drill-key", "removes: [key]\nstate: done\ndone_on: 2027-03-01"),
        step("nut-out", "removes: [nut]\nstate: done\ndone_on: 2027-03-02"),
        step("key-in", "refits: [key-new]\nstate: done\ndone_on: 2027-03-03"),
    ]);
    let id = |node: usize| project.dossier.head(plan.graph.notes[node]).id.as_str();
    let ties: Vec<_> =
        plan.graph.network.edges().iter().map(|edge| (id(edge.before), id(edge.after))).collect();
    assert!(ties.contains(&("drill-key", "nut-out")), "{ties:?}");
}
