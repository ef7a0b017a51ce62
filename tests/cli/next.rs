//! `next`: ready now, held, to order, nobody can; and bad input.

use serde_json::json;

use super::asfound;
use super::scratch::{json, printed, project};

const NOTES: &[(&str, &str)] = &[
    ("dossier.yaml", "title: A crane\nhome: shed\nstart: 2027-03-01\n"),
    ("shed.md", "---\nkind: shop\nname: The shed\nhas: {press: 12 tonf}\n---\n"),
    ("post.md", "---\nkind: part\nname: Post\ndisposition: rework\ntrapped_by: [cap]\n---\n"),
    ("cap.md", "---\nkind: part\nname: Cap\ndisposition: reuse\n---\n"),
    ("bolt.md", "---\nkind: part\nname: Bolt\ndisposition: buy\ncost: 2 GBP\nlead: 1 week\n---\n"),
    ("unbolt.md", "---\nkind: step\ndoes: Unbolt the cap\nremoves: [cap]\ntakes: 90 min\n---\n"),
    ("lift.md", "---\nkind: step\ndoes: Lift the post\nremoves: [post]\n---\n"),
    ("squeeze.md", "---\nkind: step\ndoes: Squeeze\ncalls_for: {press: 30 tonf}\n---\n"),
    ("close.md", "---\nkind: step\ndoes: Close up\nneeds: [lift]\nuses: [bolt]\n---\n"),
];

#[test]
fn the_json_has_its_keys() {
    let dir = project(NOTES);
    assert_eq!(
        json(asfound(dir.path()).args(["next", "crane", "--format", "json"])),
        json!({
            "ready": [{"id": "unbolt", "at": "shed", "takes_h": 1.5, "left_h": 1.5, "then_days": 0.0}],
            "doing": [],
            "held": [
                {"id": "close", "state": "waiting", "causes": [
                    {"kind": "step", "id": "lift", "why": "Lift the post – comes first"},
                    {"kind": "part", "id": "bolt", "why": "Bolt – to be bought"},
                ]},
                {"id": "lift", "state": "waiting", "causes": [
                    {"kind": "step", "id": "unbolt", "why": "Unbolt the cap – takes off Cap, in the way of Post"},
                ]},
                {"id": "squeeze", "state": "unplaced", "causes": [{
                    "kind": "capability", "id": "squeeze",
                    "why": "no shop found: press: needs 30 tonf, best known 12 tonf (shed)",
                }]},
            ],
            "unplaced": [{
                "id": "squeeze", "needs": "press 30 tonf",
                "nearest": "press: needs 30 tonf, best known 12 tonf (shed)",
            }],
            "orders": [{"id": "bolt", "lead_days": 7.0, "left_days": 7.0, "supply": "needed"}],
        })
    );
}

#[test]
fn the_tables_stand_in_the_order_of_a_morning() {
    let dir = project(NOTES);
    let text = printed(asfound(dir.path()).args(["next", "crane"]));
    let heads: Vec<&str> =
        text.lines().filter(|line| line.starts_with(|first: char| first.is_uppercase())).collect();
    assert_eq!(heads, ["Ready now", "To order", "No shop found", "Blocked"]);
    assert!(text.contains("Unbolt the cap – takes off Cap, in the way of Post"), "{text}");
    assert!(text.contains("Lift the post – comes first (and 1 more)"), "{text}");
}

#[test]
fn what_is_ordered_is_not_to_order() {
    let ordered =
        "---\nkind: part\nname: Bolt\ndisposition: buy\ncost: 2 GBP\nlead: 1 week\nsupply: ordered\n---\n";
    let notes = NOTES.iter().map(|&(path, text)| (path, if path == "bolt.md" { ordered } else { text }));
    let dir = project(&notes.collect::<Vec<_>>());
    let text = printed(asfound(dir.path()).args(["next", "crane"]));
    assert!(text.contains("\nOn order\n") && !text.contains("To order"), "{text}");
    let text = printed(asfound(dir.path()).args(["why", "close", "crane"]));
    assert!(text.contains("on order") && !text.contains("to be bought"), "{text}");
}

#[test]
fn nothing_left_is_said() {
    let dir = project(&NOTES[..2]);
    asfound(dir.path()).args(["next", "crane"]).assert().success().stdout_eq("Nothing is left to do.\n");
}

#[test]
fn steps_that_wait_on_each_other_are_held_and_the_notes_are_said_to_be_wrong() {
    let dir = project(&[
        ("dossier.yaml", "title: A crane\n"),
        ("a.md", "---\nkind: step\ndoes: A\nneeds: [b]\n---\n"),
        ("b.md", "---\nkind: step\ndoes: B\nneeds: [a]\n---\n"),
        ("c.md", "---\nkind: step\ndoes: C\nneeds: [c]\n---\n"),
    ]);
    let result = asfound(dir.path()).args(["next", "crane", "--format", "json"]).assert().success();
    let next: serde_json::Value = serde_json::from_slice(&result.get_output().stdout).unwrap();
    assert_eq!(next["ready"], json!([]));
    assert_eq!(next["held"].as_array().unwrap().len(), 3);
    let said = String::from_utf8_lossy(&result.get_output().stderr).into_owned();
    assert!(said.contains("errors: the answer may be wrong until they are mended"), "{said}");
}

#[test]
fn a_folder_that_is_not_there_is_no_project() {
    let dir = tempfile::tempdir().unwrap();
    asfound(dir.path()).args(["next", "nowhere"]).assert().code(2);
}

/// Of a part on order only the days that are left are reported.
#[test]
fn what_is_on_order_has_less_time_to_go() {
    let chain = "---\nkind: part\nname: Chain\ndisposition: buy\nlead: 28 days\nsupply: ordered\n\
        ordered_on: 2027-02-15\n---\n";
    let dir = project(&[
        ("dossier.yaml", "title: A crane\nhome: shed\nstart: 2027-03-01\n"),
        ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
        ("chain.md", chain),
    ]);
    let text = printed(asfound(dir.path()).args(["next", "crane"]));
    assert!(text.contains("days left") && text.contains("14") && !text.contains("28"), "{text}");
    let order = json(asfound(dir.path()).args(["next", "crane", "--format", "json"]))["orders"][0].clone();
    assert_eq!((&order["lead_days"], &order["left_days"]), (&json!(28.0), &json!(14.0)));
}

/// The shop that has the most of one thing is named with all else that it lacks; what nobody has is named plainly.
#[test]
fn a_shop_that_comes_near_is_told_with_all_that_it_lacks() {
    let dir = project(&[
        ("dossier.yaml", "title: A crane\nhome: shed\nstart: 2027-03-01\n"),
        ("shed.md", "---\nkind: shop\nname: The shed\nhas: {lift: 2 t}\n---\n"),
        ("lock.md", "---\nkind: shop\nname: Lock works\nhas: {length: 10 ft, lift: 1100 lb}\n---\n"),
        ("turn.md", "---\nkind: step\ndoes: Turn\ncalls_for: {length: 11 ft, lift: 2000 lb}\n---\n"),
        ("strip.md", "---\nkind: step\ndoes: Strip\nprocesses: [licensed-removal]\n---\n"),
    ]);
    let text = printed(asfound(dir.path()).args(["next", "crane"]));
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("none known: licensed-removal"), "{text}");
    let next = json(asfound(dir.path()).args(["next", "crane", "--format", "json"]));
    assert_eq!(
        next["unplaced"][1]["nearest"],
        "length: needs 11 ft, best known 10 ft (lock), which also lacks lift: needs 2000 lb, has 1100 lb"
    );
}

/// What is left of a step in hand is the same in `next`, in `why` and in the forecast: 2 of 8 hours, then all of the cure.
#[test]
fn what_is_left_of_a_step_in_hand_is_told_alike() {
    let left = |logged: &str| {
        let entry = format!("---\nkind: entry\ndate: 2027-03-06\nhours: {{paint: {logged}}}\n---\n");
        let dir = project(&[
            ("dossier.yaml", "title: A crane\nhome: shed\nhours_per_week: 8\nstart: 2027-03-01\n"),
            ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
            ("paint.md", "---\nkind: step\ndoes: Paint\ntakes: 8 h\nwaits: 10 days\nstate: doing\n---\n"),
            ("log.md", &entry),
            ("later.md", "---\nkind: entry\ndate: 2027-03-08\n---\n"),
        ]);
        asfound(dir.path()).args(["build", "crane"]).assert().success();
        let state = std::fs::read_to_string(dir.path().join("crane/out/dossier.json")).unwrap();
        let state: serde_json::Value = serde_json::from_str(&state).unwrap();
        let step = state["schedule"]["steps"][0].clone();
        let job = state["next"]["doing"][0].clone();
        let told = [
            printed(asfound(dir.path()).args(["next", "crane"])),
            printed(asfound(dir.path()).args(["why", "paint", "crane"])),
        ];
        (told, job["left_h"].clone(), job["then_days"].clone(), step["forecast_finish_day"].clone())
    };
    let ([next, why], hours, days, finish) = left("6 h");
    assert!(next.contains("2.0") && next.contains("10 days of waiting"), "{next}");
    assert!(why.contains("finish it at The shed, 2.0 h, then 10 days of waiting"), "{why}");
    assert_eq!((hours, days, finish), (json!(2.0), json!(10.0), json!(1.75 + 10.0)));
    let ([next, why], hours, days, finish) = left("8 h");
    assert!(next.contains("0.0") && next.contains("8 days of waiting"), "{next}");
    assert!(why.contains("finish it at The shed, 0.0 h, then 8 days of waiting"), "{why}");
    assert_eq!((hours, days, finish), (json!(0.0), json!(8.0), json!(8.0)));
}
