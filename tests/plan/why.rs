//! The tree of causes, down to what can be done today.

use asfound::Project;
use asfound::plan::Plan;
use asfound::plan::report::Reasons;
use serde_json::json;

use super::notes::planned;

/// The tree as indented lines, then what can be done today.
fn tree(project: &Project, plan: &Plan, id: &str) -> Vec<String> {
    let dossier = &project.dossier;
    let why = plan.why(dossier, dossier.find(id).unwrap());
    let lines = why.lines.iter().map(|line| {
        let above = if line.told_above { " (told above)" } else { "" };
        format!("{}{}{above}", "  ".repeat(line.depth), line.cause.sentence(dossier))
    });
    let doable =
        why.doable.iter().map(|doable| format!("now {}: {}", dossier.head(doable.note).id, doable.what));
    lines.chain(doable).collect()
}

const NOTES: &[(&str, &str)] = &[
    ("bearing", "kind: part\nname: Footstep bearing\ndisposition: scrap\ntrapped_by: [post]"),
    ("bearing-new", "kind: part\nname: New bearing\ndisposition: buy\ncost: 80 GBP\nreplaces: bearing"),
    ("post", "kind: part\nname: Post\ndisposition: rework\ntrapped_by: [jib, pins]"),
    ("jib", "kind: part\nname: Jib\ndisposition: reuse"),
    ("pins", "kind: part\nname: Roller pins\ndisposition: scrap"),
    ("pins-drilled", "kind: question\nasks: Are the pins drilled?\nsettled_by: [look]"),
    ("look", "kind: step\ndoes: Look at the pins\nneeds: [lower-jib]"),
    ("lower-jib", "kind: step\ndoes: Lower the jib\nremoves: [jib]"),
    (
        "cut-pins",
        "kind: step\ndoes: Cut the pins\nparts: [pins]\nremoves: [pins]\nirreversible: true\nhangs_on: [pins-drilled]",
    ),
    ("lift-post", "kind: step\ndoes: Lift the post\nremoves: [post]\ncalls_for: {lift: 2000 lb}"),
    ("draw-bearing", "kind: step\ndoes: Draw the bearing\nremoves: [bearing]"),
    ("fit-bearing", "kind: step\ndoes: Fit the new bearing\nuses: [bearing-new]\nneeds: [draw-bearing]"),
];

#[test]
fn the_whole_chain_with_shared_causes_once() {
    let (project, plan) = planned(NOTES);
    assert_eq!(
        tree(&project, &plan, "fit-bearing"),
        [
            "Draw the bearing – takes off Footstep bearing, to be replaced by New bearing",
            "  Lift the post – takes off Post, in the way of Footstep bearing",
            "    Cut the pins – takes off Roller pins, in the way of Post",
            "      Roller pins – no record as found, and the step can't be undone",
            "      it can't be undone, and nothing says what to do if it goes wrong",
            "      Are the pins drilled? – to be settled first",
            "        Look at the pins – settles it",
            "          Lower the jib – comes first",
            "    Lower the jib – takes off Jib, in the way of Post (told above)",
            "    no shop found: lift: needs 2000 lb, best known 500 lb (shed)",
            "New bearing – to be bought",
            "now pins: photograph or measure it as found",
            "now cut-pins: write under `if_wrong` how to recover",
            "now lower-jib: do it",
            "now lift-post: find a shop that can, and write a note of it",
            "now bearing-new: order it",
        ]
    );
}

#[test]
fn a_part_until_it_is_off_and_a_new_one_until_it_is_in_place() {
    let (project, plan) = planned(NOTES);
    let off = tree(&project, &plan, "bearing");
    assert_eq!(
        off[..2],
        [
            "Draw the bearing – takes it off",
            "  Lift the post – takes off Post, in the way of Footstep bearing"
        ]
    );
    let in_place = tree(&project, &plan, "bearing-new");
    assert_eq!(in_place[0], "Fit the new bearing – uses it");
    assert_eq!(in_place[1], "  Draw the bearing – takes off Footstep bearing, to be replaced by New bearing");

    let done: Vec<(&str, &str)> = vec![
        ("cap", "kind: part\nname: Cap\ndisposition: reuse"),
        ("off", "kind: step\ndoes: Off\nremoves: [cap]\nstate: done"),
        ("on", "kind: step\ndoes: On\nrefits: [cap]"),
    ];
    let (project, plan) = planned(&done);
    assert_eq!(tree(&project, &plan, "cap"), ["On – puts it back", "now on: do it"]);
}

#[test]
fn a_part_that_nothing_fits_yet_until_it_is_there() {
    let (project, plan) = planned(&[
        ("bush", "kind: part\nname: Bush\ndisposition: make"),
        ("turn", "kind: step\ndoes: Turn\nmakes: [bush]"),
        ("chain", "kind: part\nname: Chain\ndisposition: buy\ncost: 1 GBP"),
        ("post", "kind: part\nname: Post\ndisposition: reuse"),
    ]);
    assert_eq!(tree(&project, &plan, "bush"), ["Turn – makes it", "now turn: do it"]);
    assert_eq!(tree(&project, &plan, "chain"), ["Chain – to be bought", "now chain: order it"]);
    assert_eq!(tree(&project, &plan, "post"), [""; 0]);
}

#[test]
fn traps_that_nothing_frees_are_told_to_the_end_of_the_chain() {
    let (project, plan) = planned(&[
        ("bearing", "kind: part\nname: B\ndisposition: reuse\ntrapped_by: [post]"),
        ("post", "kind: part\nname: P\ndisposition: reuse\ntrapped_by: [collar, jib]"),
        ("collar", "kind: part\nname: C\ndisposition: reuse"),
        ("jib", "kind: part\nname: J\ndisposition: reuse"),
        ("lower-jib", "kind: step\ndoes: Lower\nremoves: [jib]"),
        ("draw", "kind: step\ndoes: Draw\nremoves: [bearing]"),
    ]);
    assert_eq!(
        tree(&project, &plan, "draw"),
        [
            "P – in the way of B, and no step takes it off",
            "  C – in the way of P, and no step takes it off",
            "  Lower – takes off J, in the way of P",
            "now collar: write a step that takes it off",
            "now lower-jib: do it",
        ]
    );
}

#[test]
fn circles_end_and_ready_or_done_steps_have_no_causes() {
    let (project, plan) = planned(&[
        ("a", "kind: step\ndoes: A\nneeds: [b]"),
        ("b", "kind: step\ndoes: B\nneeds: [a]"),
        ("c", "kind: step\ndoes: C"),
        ("d", "kind: step\ndoes: D\nstate: done"),
    ]);
    assert_eq!(tree(&project, &plan, "a"), ["B – comes first", "  A – comes first (told above)"]);
    assert_eq!(tree(&project, &plan, "c"), ["now c: do it"]);
    assert_eq!(tree(&project, &plan, "d"), [""; 0]);
}

#[test]
fn the_json_nests_causes_and_lists_ids_that_can_be_done() {
    let (project, plan) = planned(&[
        ("q", "kind: question\nasks: Why?"),
        ("a", "kind: step\ndoes: A"),
        ("b", "kind: step\ndoes: B\nneeds: [a]\nhangs_on: [q]"),
        ("c", "kind: step\ndoes: C\nneeds: [b]"),
    ]);
    let why = plan.why(&project.dossier, project.dossier.find("c").unwrap());
    assert_eq!(
        serde_json::to_value(Reasons::of(&project.dossier, &why)).unwrap(),
        json!({
            "id": "c",
            "causes": [{"kind": "step", "id": "b", "why": "B – comes first", "from": "c", "told_above": false, "causes": [
                {"kind": "step", "id": "a", "why": "A – comes first", "from": "b", "told_above": false, "causes": []},
                {"kind": "question", "id": "q", "why": "Why? – to be settled first", "from": "b", "told_above": false, "causes": []},
            ]}],
            "doable_now": ["a", "q"],
        })
    );
}

#[test]
fn a_chain_of_a_thousand_is_told_without_a_thousand_levels() {
    let ids: Vec<String> = (0..1_000).map(|index| format!("s{index:04}")).collect();
    let texts: Vec<String> = (0..1_000)
        .map(|index| match index {
            0 => "kind: step\ndoes: First".to_owned(),
            _ => format!("kind: step\ndoes: Next\nneeds: [s{:04}]", index - 1),
        })
        .collect();
    let notes: Vec<(&str, &str)> =
        ids.iter().zip(&texts).map(|(id, text)| (id.as_str(), text.as_str())).collect();
    let (project, plan) = planned(&notes);
    let why = plan.why(&project.dossier, project.dossier.find("s0999").unwrap());
    assert_eq!(why.lines.len(), 999);
    let text = serde_json::to_string(&Reasons::of(&project.dossier, &why)).unwrap();
    assert_eq!(text.matches("\"why\"").count(), 999);
    assert!(text.ends_with("\"doable_now\":[\"s0000\"]}"));
    let levels = |text: &str| {
        text.chars().fold((0_i32, 0_i32), |(now, most), letter| match letter {
            '[' => (now + 1, most.max(now + 1)),
            ']' => (now - 1, most),
            _ => (now, most),
        })
    };
    assert!(levels(&text).1 < 100);
}

/// A permit that has run out and the step that renews it are one thing to do: said once, and waited for without `needs`.
#[test]
fn a_paper_that_has_run_out_is_told_once_with_the_step_that_renews_it() {
    let notes = |renews: &str, state: &str| {
        let renew = format!("kind: step\ndoes: Renew the permit\nwaits: 21 days\n{renews}state: {state}");
        let (project, plan) = planned(&[
            ("permit", "kind: paper\ntitle: Slip permit\nvalid_until: 2027-02-01"),
            ("renew", renew.as_str()),
            ("clear", "kind: step\ndoes: Clear the slip\nunder: [permit]\nneeds: [renew]"),
            ("tow", "kind: step\ndoes: Tow it in\nunder: [permit]"),
        ]);
        (tree(&project, &plan, "clear"), tree(&project, &plan, "tow"))
    };
    let renewed = ["Renew the permit – renews Slip permit, which has run out", "now renew: do it"];
    let (clear, tow) = notes("renews: [permit]\n", "todo");
    assert_eq!((&clear[..], &tow[..]), (&renewed.map(str::to_owned)[..], &renewed.map(str::to_owned)[..]));
    let expired = "Slip permit – valid until 2027-02-01, and that day is past";
    let (clear, tow) = notes("renews: [permit]\n", "done");
    assert_eq!((clear[0].as_str(), tow[0].as_str()), (expired, expired));
    let (clear, tow) = notes("", "todo");
    assert_eq!(clear[..2], ["Renew the permit – comes first".to_owned(), expired.to_owned()]);
    assert_eq!(tow[0], expired);
}

const BUSH: &str = "kind: part\nname: Bush\ndisposition: make\nshape:\n  turned:\n    - {d: {hold: measure the seat, settled_by: [bore-seat, seat-worn]}, long: 50 mm}";

/// A size on hold keeps back the step that makes the part, with what it waits for; once that is done only the note is left.
#[test]
fn a_size_on_hold_blocks_the_step_that_makes_the_part() {
    let notes = [
        ("bush", BUSH),
        ("seat-worn", "kind: question\nasks: Is the seat worn?"),
        ("bore-seat", "kind: step\ndoes: Bore the seat"),
        ("make-bush", "kind: step\ndoes: Make the bush\nmakes: [bush]"),
    ];
    let (project, plan) = planned(&notes);
    assert_eq!(
        tree(&project, &plan, "make-bush"),
        [
            "Bush – a size is on hold: measure the seat; it waits for: Bore the seat; Is the seat worn?",
            "  Bore the seat – settles it",
            "  Is the seat worn? – settles it",
            "now bore-seat: do it",
            "now seat-worn: settle it and write down the answer",
        ]
    );
    let settled = [
        ("bush", BUSH),
        (
            "seat-worn",
            "kind: question\nasks: Is the seat worn?\nstate: settled\nanswer: no\nsettled_by: [bore-seat]",
        ),
        ("bore-seat", "kind: step\ndoes: Bore the seat\nstate: done\ndone_on: 2027-02-01"),
        ("make-bush", "kind: step\ndoes: Make the bush\nmakes: [bush]"),
    ];
    let (project, plan) = planned(&settled);
    assert_eq!(
        tree(&project, &plan, "make-bush"),
        [
            "Bush – a size is on hold: measure the seat",
            "now bush: measure what its size on hold waits for, and write it into `shape`",
        ]
    );
    let here = BUSH.replace("disposition: make", "disposition: make\nsupply: received");
    let (project, plan) = planned(&[("bush", &here), settled[1], settled[2], settled[3]]);
    assert_eq!(tree(&project, &plan, "make-bush"), ["now make-bush: do it"]);
}
