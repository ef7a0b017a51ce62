//! What each step stands at, by the rules of the sequence.

use asfound::plan::report::Next;
use serde_json::json;

use super::notes::{planned, told};

const POST: &str = "kind: part\nname: Post\ndisposition: reuse";

#[test]
fn a_step_waits_for_what_it_needs_and_not_for_what_was_dropped() {
    let (project, plan) = planned(&[
        ("a", "kind: step\ndoes: First\nstate: done"),
        ("b", "kind: step\ndoes: Given up\nstate: dropped"),
        ("c", "kind: step\ndoes: Next\nneeds: [a, b]"),
        ("d", "kind: step\ndoes: Last\nneeds: [c]"),
        ("e", "kind: step\ndoes: Begun\nneeds: [a]\nstate: doing"),
    ]);
    assert_eq!(
        told(&project, &plan, &["a", "b", "c", "d", "e"]),
        ["a: done", "b: dropped", "c: ready", "d: waiting: Next – comes first", "e: doing"]
    );
}

#[test]
fn a_step_that_can_be_undone_waits_for_an_open_question() {
    let (project, plan) = planned(&[
        ("what", "kind: question\nasks: What is it?"),
        ("known", "kind: question\nasks: And that?\nstate: settled\nanswer: yes"),
        ("a", "kind: step\ndoes: Clean\nhangs_on: [what]"),
        ("b", "kind: step\ndoes: Dry\nhangs_on: [known]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["a", "b"]),
        ["a: waiting: What is it? – to be settled first", "b: ready"]
    );
}

#[test]
fn nothing_is_cut_before_question_record_and_recovery_are_there() {
    let (project, plan) = planned(&[
        ("post", POST),
        ("sleeve", "kind: part\nname: Sleeve\ndisposition: scrap"),
        ("bore", "kind: measurement\nof: sleeve\nfeature: bore\nstate: as-found\nvalue: 2.75 in"),
        ("turned", "kind: measurement\nof: post\nfeature: journal\nstate: as-left\nvalue: 2.75 in"),
        ("why-sleeve", "kind: question\nasks: Why a sleeve?"),
        ("cut", "kind: step\ndoes: Cut\nparts: [post, sleeve]\nirreversible: true\nhangs_on: [why-sleeve]"),
        ("turn", "kind: step\ndoes: Turn\nparts: [sleeve]\nirreversible: true\nif_wrong: make another"),
        (
            "drill",
            "kind: step\ndoes: Drill\nparts: [sleeve]\nirreversible: true\nif_wrong: plug it\nneeds: [turn]",
        ),
    ]);
    assert_eq!(
        told(&project, &plan, &["cut", "turn", "drill"]),
        [
            "cut: held: Post – no record as found, and the step can't be undone; it can't be undone, and nothing says what to do if it goes wrong; Why a sleeve? – to be settled first",
            "turn: ready",
            "drill: waiting: Turn – comes first",
        ]
    );
}

#[test]
fn parts_are_awaited_until_they_are_received_or_made() {
    let (project, plan) = planned(&[
        ("bearing", "kind: part\nname: Bearing\ndisposition: buy\nlead: 2 weeks"),
        ("washer", "kind: part\nname: Washer\ndisposition: buy\nsupply: ordered"),
        ("pin", "kind: part\nname: Pin\ndisposition: buy\nsupply: received"),
        ("bush", "kind: part\nname: Bush\ndisposition: make"),
        ("key", "kind: part\nname: Key\ndisposition: make"),
        ("post", POST),
        ("turn", "kind: step\ndoes: Turn the bush\nmakes: [bush]"),
        ("fit", "kind: step\ndoes: Fit\nuses: [bearing, pin, post]"),
        ("close", "kind: step\ndoes: Close\nrefits: [washer]"),
        ("press", "kind: step\ndoes: Press\nuses: [bush]"),
        ("lock", "kind: step\ndoes: Lock\nuses: [key]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["fit", "close", "press", "lock"]),
        [
            "fit: waiting: Bearing – to be bought",
            "close: waiting: Washer – on order",
            "press: waiting: Turn the bush – makes Bush",
            "lock: waiting: Key – to be made, and no step makes it",
        ]
    );
}

#[test]
fn any_shop_that_can_is_enough_and_where_none_can_the_nearest_miss_is_told() {
    let (project, plan) = planned(&[
        ("yard", "kind: shop\nname: Yard\nhas: {press: 8 tonf, swing: 18 in}\nmiles: 3"),
        ("works", "kind: shop\nname: Works\nhas: {press: 40 tonf}\nmiles: 30"),
        ("press-shed", "kind: step\ndoes: Press\ncalls_for: {press: 10 tonf}"),
        ("press-works", "kind: step\ndoes: Press harder\ncalls_for: {press: 30 tonf}\nat: shed"),
        ("turn", "kind: step\ndoes: Turn\ncalls_for: {swing: 16 in}"),
        ("squeeze", "kind: step\ndoes: Squeeze\ncalls_for: {press: 60 tonf}\nprocesses: [forging]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["press-shed", "press-works", "turn", "squeeze"]),
        [
            "press-shed: ready",
            "press-works: ready",
            "turn: ready",
            "squeeze: unplaced: no shop found: press: needs 60 tonf, best known 40 tonf (works); forging: none known",
        ]
    );
    let next = serde_json::to_value(Next::of(&project.dossier, &plan)).unwrap();
    assert_eq!(
        next,
        json!({
            "ready": [
                {"id": "press-shed", "at": "shed", "takes_h": null, "left_h": null, "then_days": 0.0},
                {"id": "press-works", "at": "shed", "takes_h": null, "left_h": null, "then_days": 0.0},
                {"id": "turn", "at": "yard", "takes_h": null, "left_h": null, "then_days": 0.0},
            ],
            "doing": [],
            "held": [{"id": "squeeze", "state": "unplaced", "causes": [{
                "kind": "capability", "id": "squeeze",
                "why": "no shop found: press: needs 60 tonf, best known 40 tonf (works); forging: none known",
            }]}],
            "unplaced": [{
                "id": "squeeze",
                "needs": "press 60 tonf, forging",
                "nearest": "press: needs 60 tonf, best known 40 tonf (works); forging: none known",
            }],
            "orders": [],
        })
    );
}

#[test]
fn next_lists_jobs_by_place_with_home_first_then_orders() {
    let (project, plan) = planned(&[
        (
            "bearing",
            "kind: part\nname: Bearing\ndisposition: buy\nlead: 10 days\nsupply: ordered\nordered_on: 2027-02-20",
        ),
        ("boatyard", "kind: shop\nname: Yard"),
        ("a", "kind: step\ndoes: There\nat: boatyard\ntakes: 2 h .. 4 h"),
        ("b", "kind: step\ndoes: Here\ntakes: 90 min"),
        ("c", "kind: step\ndoes: Here too\nstate: doing\ntakes: {low: 1 h, likely: 2 h, high: 9 h}"),
        ("d", "kind: step\ndoes: Fit\nuses: [bearing]"),
    ]);
    let next = serde_json::to_value(Next::of(&project.dossier, &plan)).unwrap();
    assert_eq!(
        next,
        json!({
            "ready": [{"id": "b", "at": "shed", "takes_h": 1.5, "left_h": 1.5, "then_days": 0.0}, {"id": "a", "at": "boatyard", "takes_h": 3.0, "left_h": 3.0, "then_days": 0.0}],
            "doing": [{"id": "c", "at": "shed", "takes_h": 2.0, "left_h": 2.0, "then_days": 0.0}],
            "held": [{"id": "d", "state": "waiting", "causes": [
                {"kind": "part", "id": "bearing", "why": "Bearing – on order"},
            ]}],
            "unplaced": [],
            "orders": [{"id": "bearing", "lead_days": 10.0, "left_days": 1.0, "supply": "ordered"}],
        })
    );
}

/// What is examined has to exist: `parts` waits for the step that makes the part, as `uses` does.
#[test]
fn a_part_is_made_before_it_is_worked_on() {
    let (project, plan) = planned(&[
        ("nut", "kind: part\nname: Nut\ndisposition: make"),
        ("draw", "kind: step\ndoes: Draw the nut\nparts: [nut]"),
        ("make", "kind: step\ndoes: Make the nut\nmakes: [nut]\nparts: [nut]\nneeds: [draw]"),
        ("look", "kind: step\ndoes: Have the nut examined\nparts: [nut]"),
    ]);
    assert_eq!(
        told(&project, &plan, &["draw", "make", "look"]),
        [
            "draw: ready",
            "make: waiting: Draw the nut – comes first",
            "look: waiting: Make the nut – makes Nut",
        ]
    );
    assert_eq!(plan.graph.network.sentence(1), "look works on nut, which make makes");
}
