//! Work away from the machine: off before, back after; and where a step is done that names no place.

use super::notes::{planned, step, told};

const WEIR: (&str, &str) = (
    "dossier.yaml",
    "title: A gate\nhome: shed\nsite: weir\nhours_per_week: 8\nstart: 2027-03-01\nmoney: GBP\nton: long\n",
);
const SHOPS: [(&str, &str); 4] = [
    ("lathe", "kind: shop\nname: Lathe\nprocesses: [turning]"),
    ("lorry", "kind: shop\nname: Lorry\nhas: {lift: 1 t}\ncomes: true"),
    ("shed", "kind: shop\nname: Shed\nhas: {lift: 500 lb}"),
    ("weir", "kind: shop\nname: Weir\nhands: keeper"),
];
const PARTS: [(&str, &str); 3] = [
    ("gear", "kind: part\nname: Gear\nwithin: frame\ndisposition: reuse"),
    ("frame", "kind: part\nname: Frame\ndisposition: rework"),
    ("worm", "kind: part\nname: Worm\nwithin: gear\ndisposition: rework"),
];

fn at_the_weir<'a>(steps: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let around = std::iter::once(WEIR).chain(SHOPS).chain(PARTS);
    around.chain(steps.iter().copied()).collect()
}

#[test]
fn work_elsewhere_waits_until_the_part_is_off_and_comes_before_it_goes_back() {
    let (project, plan) = planned(&at_the_weir(&[
        ("off", "kind: step\ndoes: Off\nremoves: [worm]\nat: weir"),
        ("turn", "kind: step\ndoes: Turn\nparts: [worm]\nat: lathe\nirreversible: true\nif_wrong: sleeve it"),
        ("on", "kind: step\ndoes: On\nrefits: [worm]\nat: weir"),
        ("oil", "kind: step\ndoes: Oil\nparts: [worm]\nat: weir"),
        ("test", "kind: step\ndoes: Test\nparts: [worm]\nat: lathe\nin_place: true"),
    ]));
    assert_eq!(
        told(&project, &plan, &["off", "turn", "on", "oil", "test"]),
        [
            "off: ready",
            "turn: held: Worm – no record as found, and the step can't be undone; Off – takes off Worm, to be worked on elsewhere",
            "on: waiting: Off – takes off Worm, to go back here; Turn – works on Worm elsewhere, before it goes back",
            "oil: ready",
            "test: ready",
        ]
    );
}

/// Off with the frame around it; or, of two ways, by the one that is known to come first.
#[test]
fn a_part_may_come_off_with_the_assembly_around_it() {
    let whole = [
        ("frame-off", "kind: step\ndoes: Frame off\nremoves: [frame]\nat: lorry"),
        ("turn", "kind: step\ndoes: Turn\nparts: [worm]\nat: lathe"),
        ("frame-on", "kind: step\ndoes: Frame on\nrefits: [frame]\nat: lorry"),
    ];
    let (project, plan) = planned(&at_the_weir(&whole));
    assert_eq!(
        told(&project, &plan, &["turn", "frame-on"]),
        [
            "turn: waiting: Frame off – takes off Frame, and with it Worm, to be worked on elsewhere",
            "frame-on: waiting: Frame off – takes off Frame, to go back here; Turn – works on Worm elsewhere, before Frame goes back",
        ]
    );
    let on_the_bench =
        [("worm-off", "kind: step\ndoes: Worm off\nremoves: [worm]\nneeds: [frame-off]\nat: shed")];
    let steps: Vec<_> = whole.into_iter().chain(on_the_bench).collect();
    let (project, plan) = planned(&at_the_weir(&steps));
    assert!(plan.graph.network.circles().is_empty());
    assert_eq!(
        told(&project, &plan, &["turn"]),
        ["turn: waiting: Frame off – takes off Frame, and with it Worm, to be worked on elsewhere"]
    );
}

/// What is done at the bench to a part that only then comes out of its assembly, waits for the assembly.
#[test]
fn a_part_that_is_taken_out_on_the_bench_waits_for_the_assembly() {
    let (project, plan) = planned(&at_the_weir(&[
        ("frame-off", "kind: step\ndoes: Frame off\nremoves: [frame]\nat: weir"),
        ("soak", "kind: step\ndoes: Soak\nparts: [worm]\nat: shed"),
        ("worm-off", "kind: step\ndoes: Worm off\nparts: [worm]\nremoves: [worm]\nneeds: [soak]\nat: shed"),
    ]));
    assert!(plan.graph.network.circles().is_empty() && plan.graph.still_on.is_empty());
    assert_eq!(
        told(&project, &plan, &["soak", "worm-off"]),
        [
            "soak: waiting: Frame off – takes off Frame, and with it Worm, to be worked on elsewhere",
            "worm-off: waiting: Frame off – takes off Frame, and with it Worm, to be worked on elsewhere; Soak – comes first",
        ]
    );
}

/// Off already: ready, and still before it goes back.
#[test]
fn a_part_that_is_off_can_be_worked_on() {
    let (project, plan) = planned(&at_the_weir(&[
        ("off", "kind: step\ndoes: Off\nremoves: [worm]\nat: weir\nstate: done"),
        ("turn", "kind: step\ndoes: Turn\nparts: [worm]\nat: lathe"),
        ("on", "kind: step\ndoes: On\nrefits: [worm]\nat: weir"),
    ]));
    assert_eq!(
        told(&project, &plan, &["turn", "on"]),
        ["turn: ready", "on: waiting: Turn – works on Worm elsewhere, before it goes back"]
    );
}

/// Without `site` the machine stands at home.
#[test]
fn the_machine_stands_at_home_unless_said() {
    let (project, plan) = planned(&[
        ("lathe", "kind: shop\nname: Lathe"),
        ("worm", "kind: part\nname: Worm\ndisposition: rework"),
        ("off", "kind: step\ndoes: Off\nremoves: [worm]"),
        ("clean", "kind: step\ndoes: Clean\nparts: [worm]"),
        ("turn", "kind: step\ndoes: Turn\nparts: [worm]\nat: lathe"),
    ]);
    assert_eq!(
        told(&project, &plan, &["clean", "turn"]),
        ["clean: ready", "turn: waiting: Off – takes off Worm, to be worked on elsewhere"]
    );
    assert_eq!(project.dossier.site, project.dossier.home);
}

/// A step that names no place is done at the machine while what it touches is on it, by whoever comes there if need be.
#[test]
fn a_step_without_a_place_is_done_where_its_parts_are() {
    let (project, plan) = planned(&at_the_weir(&[
        ("a-soak", "kind: step\ndoes: Soak\nparts: [worm]"),
        ("b-off", "kind: step\ndoes: Off\nremoves: [worm]\nneeds: [a-soak]"),
        ("c-clean", "kind: step\ndoes: Clean\nparts: [worm]"),
        ("d-on", "kind: step\ndoes: On\nrefits: [worm]"),
        ("e-lift", "kind: step\ndoes: Lift\nremoves: [frame]\ncalls_for: {lift: 400 lb}\nneeds: [d-on]"),
        ("f-letter", "kind: step\ndoes: Write for leave"),
    ]));
    let places: Vec<_> = ["a-soak", "b-off", "c-clean", "d-on", "e-lift", "f-letter"]
        .map(|id| plan.placement(step(&project.dossier, id)).place.map(|shop| project.dossier[shop].id()))
        .into_iter()
        .flatten()
        .collect();
    assert_eq!(places, ["weir", "weir", "shed", "weir", "lorry", "shed"]);
}

/// That a step is done tells nothing of where: a place that was not known stays unknown.
#[test]
fn a_step_that_is_done_was_not_done_at_home_for_that() {
    let place = |state: &str| {
        let examine = format!("kind: step\ndoes: Examine\nprocesses: [examination]\nstate: {state}");
        let (project, plan) = planned(&at_the_weir(&[
            ("examine", examine.as_str()),
            ("turn", "kind: step\ndoes: Turn a bush\nprocesses: [turning]\nstate: done"),
        ]));
        ["examine", "turn"].map(|id| {
            let shop = plan.placement(step(&project.dossier, id)).place;
            shop.map(|shop| project.dossier[shop].id().to_owned())
        })
    };
    let known = Some("lathe".to_owned());
    assert_eq!(place("todo"), [None, known.clone()]);
    assert_eq!(place("done"), [None, known]);
}
