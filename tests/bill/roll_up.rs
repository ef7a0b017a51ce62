//! Quantities, masses and costs through the tree of parts.

use asfound::bill::report::BillReport;
use asfound::bill::{mass::weigh, roll_up};
use serde_json::{Value, json};

use crate::plan::notes::planned;

fn report(notes: &[(&str, &str)]) -> BillReport {
    let (project, plan) = planned(notes);
    BillReport::of(&project.dossier, &roll_up(&project.dossier, |step| plan.placement(step).place))
}

/// The line of one part with only these keys.
fn line(report: &BillReport, id: &str, keys: &[&str]) -> Value {
    let line = report.lines.iter().find(|line| line.id == id).unwrap();
    let all = serde_json::to_value(line).unwrap();
    keys.iter().map(|key| all[key].clone()).collect()
}

#[test]
fn quantities_multiply_through_the_tree() {
    let found = report(&[
        ("crane", "kind: part\nname: Crane"),
        ("sheave", "kind: part\nname: Sheave\nwithin: crane\nquantity: 2\ndisposition: reuse"),
        (
            "bolt",
            "kind: part\nname: Bolt\nwithin: sheave\nquantity: 4\nmass: 0.25 kg\ncost: 1 GBP .. 3 GBP\ndisposition: buy",
        ),
    ]);
    let keys = ["quantity", "mass_kg", "cost"];
    let cost = json!({"low": 8.0, "likely": 16.0, "high": 24.0});
    assert_eq!(line(&found, "bolt", &keys), json!([8, 2.0, cost]));
    assert_eq!(line(&found, "sheave", &keys), json!([2, 2.0, null]));
    assert_eq!(line(&found, "crane", &keys), json!([1, 2.0, null]));
    assert_eq!(found.totals.mass_kg, Some(2.0));
    let order: Vec<&str> = found.lines.iter().map(|line| line.id.as_str()).collect();
    assert_eq!(order, ["crane", "sheave", "bolt"]);
}

#[test]
fn a_weighed_whole_wins_and_the_sum_is_shown_beside_it() {
    let found = report(&[
        ("crab", "kind: part\nname: Crab\nmass: 400 kg"),
        ("drum", "kind: part\nname: Drum\nwithin: crab\nmass: 120 kg\ndisposition: reuse"),
        ("frame", "kind: part\nname: Frame\nwithin: crab\nquantity: 2\nmass: 90 kg\ndisposition: reuse"),
        ("pawl", "kind: part\nname: Pawl\nwithin: crab\ndisposition: reuse"),
        ("jib", "kind: part\nname: Jib"),
        ("tie", "kind: part\nname: Tie\nwithin: jib\nquantity: 2\nmass: 30 kg\ndisposition: reuse"),
        ("pin", "kind: part\nname: Pin\nwithin: jib\ndisposition: reuse"),
    ]);
    let keys = ["mass_kg", "sum_of_parts_kg"];
    assert_eq!(line(&found, "crab", &keys), json!([400.0, 300.0]));
    assert_eq!(line(&found, "jib", &keys), json!([60.0, null]));
    assert_eq!((found.totals.mass_kg, found.totals.unweighed), (Some(460.0), 1));
}

#[test]
fn what_is_scrapped_or_replaced_is_not_part_of_the_machine() {
    let notes = [
        ("crab", "kind: part\nname: Crab"),
        ("old", "kind: part\nname: Old bush\nwithin: crab\nmass: 5 kg\ndisposition: reuse"),
        ("new", "kind: part\nname: New bush\nwithin: crab\nmass: 4 kg\ndisposition: make\nreplaces: old"),
        ("shim", "kind: part\nname: Shim\nwithin: crab\nmass: 1 kg\ndisposition: scrap"),
    ];
    let found = report(&notes);
    assert_eq!(found.totals.mass_kg, Some(4.0));
    assert_eq!(line(&found, "old", &["mass_kg"]), json!([5.0]));
    let (project, _) = planned(&notes);
    assert_eq!(weigh(&project.dossier)[0].sum_kg, Some(4.0));
}

/// A hoist weighed with its old chain: as it stands when all is done the new chain is in it and the old is out, by each of
/// two hoists; what nobody replaces stays as weighed. By hand: 145 ± 5 - 96 - 9 + 88 + 6 = 134 ± 5, and 2 × 134 + 50.
#[test]
fn a_weighed_assembly_counts_with_what_replaces_what_was_in_it() {
    let notes = [
        ("hoist", "kind: part\nname: Hoist\nquantity: 2\nmass: 145 kg ± 5 kg\ndisposition: rework"),
        ("chain-old", "kind: part\nname: Old chain\nwithin: hoist\nmass: 96 kg\ndisposition: scrap"),
        (
            "chain",
            "kind: part\nname: Chain\nwithin: hoist\nmass: 88 kg\ndisposition: buy\ncost: 1 GBP\nreplaces: chain-old",
        ),
        ("block", "kind: part\nname: Block\nwithin: hoist\nmass: 40 kg\ndisposition: rework"),
        ("hook-old", "kind: part\nname: Old hook\nwithin: block\nmass: 9 kg\ndisposition: reuse"),
        ("hook", "kind: part\nname: Hook\nwithin: block\nmass: 6 kg\ndisposition: make\nreplaces: hook-old"),
        ("frame", "kind: part\nname: Frame\nmass: 50 kg\ndisposition: reuse"),
        ("bolt", "kind: part\nname: Bolt\nwithin: frame\nmass: 2 kg\ndisposition: reuse"),
    ];
    let found = report(&notes);
    let totals = &found.totals;
    assert_eq!([totals.mass_kg, totals.mass_low_kg, totals.mass_high_kg], [318.0, 308.0, 328.0].map(Some));
    assert_eq!(line(&found, "hoist", &["mass_low_kg", "mass_high_kg"]), json!([280.0, 300.0]));
    let (project, _) = planned(&notes);
    let weights = weigh(&project.dossier);
    let of = |id: &str| &weights[project.dossier.parts.iter().position(|part| part.id() == id).unwrap()];
    assert_eq!((of("hoist").each_kg, of("hoist").stands_kg), (Some(145.0), Some(134.0)));
    assert_eq!(of("hoist").stands_ends_kg, Some((129.0, 139.0)));
    assert_eq!((of("block").stands_kg, of("frame").stands_kg), (Some(37.0), Some(50.0)));
    assert_eq!(of("chain-old").stands_kg, None);
}

/// An own shop may cost nothing an hour: its work is priced at nothing, not left without a price.
#[test]
fn a_rate_of_nothing_is_a_rate() {
    let found = report(&[
        ("mine", "kind: shop\nname: Mine\nrate: 0 GBP/h"),
        ("file", "kind: step\ndoes: File\ntakes: 2 h\nat: mine"),
    ]);
    assert_eq!(
        serde_json::to_value(&found.work).unwrap(),
        json!([{"id": "file", "at_rate_of": "mine", "cost": {"low": 0.0, "likely": 0.0, "high": 0.0}}])
    );
}

#[test]
fn parts_and_work_are_two_sums_apart_and_together_with_ends_added_to_ends() {
    let found = report(&[
        ("yard", "kind: shop\nname: Yard\nrate: 40 GBP/h"),
        ("bush", "kind: part\nname: Bush\ncost: 50 GBP .. 70 GBP\ndisposition: buy"),
        (
            "key",
            "kind: part\nname: Key\ncost: {low: 2 GBP, likely: 3 GBP, high: 10 GBP}\ndisposition: buy\nsupply: received",
        ),
        ("chain", "kind: part\nname: Chain\ndisposition: buy"),
        ("a-stated", "kind: step\ndoes: A\ncost: 100 GBP .. 140 GBP\ntakes: 90 h\nat: yard"),
        ("b-rate", "kind: step\ndoes: B\ntakes: 2 h .. 4 h\nat: yard\nstate: done"),
        ("c-own", "kind: step\ndoes: C\ntakes: 8 h"),
        ("d-dropped", "kind: step\ndoes: D\ncost: 1000 GBP\nstate: dropped"),
    ]);
    let totals = serde_json::to_value(&found.totals).unwrap();
    assert_eq!(totals["parts"], json!({"low": 52.0, "likely": 63.0, "high": 80.0}));
    assert_eq!(totals["work"], json!({"low": 180.0, "likely": 240.0, "high": 300.0}));
    assert_eq!(totals["together"], json!({"low": 232.0, "likely": 303.0, "high": 380.0}));
    assert_eq!(totals["so_far"], json!({"low": 82.0, "likely": 123.0, "high": 170.0}));
    assert_eq!(totals["to_come"], json!({"low": 150.0, "likely": 180.0, "high": 210.0}));
    assert_eq!(totals["without_cost"], json!(1));
    assert_eq!(
        serde_json::to_value(&found.work).unwrap(),
        json!([
            {"id": "a-stated", "at_rate_of": null, "cost": {"low": 100.0, "likely": 120.0, "high": 140.0}},
            {"id": "b-rate", "at_rate_of": "yard", "cost": {"low": 80.0, "likely": 120.0, "high": 160.0}},
        ])
    );
}

#[test]
fn the_csv_has_a_head_and_cells_that_no_spreadsheet_takes_for_formulas() {
    let found = report(&[(
        "bearing",
        "kind: part\nname: '=SUM(A1), \"old\"'\ndesignation: '51110'\nmaterial: steel\nquantity: 2\nmass: 0.5 kg\n\
         cost: 10 GBP .. 14 GBP\nlead: 2 weeks\nfrom: '@dealer'\ndisposition: buy",
    )]);
    assert_eq!(
        found.csv(),
        "id,name,within,disposition,quantity,designation,material,supply,from,lead_days,mass_kg,sum_of_parts_kg,\
         cost_low,cost_likely,cost_high,money\n\
         bearing,\"'=SUM(A1), \"\"old\"\"\",,buy,2,51110,steel,needed,'@dealer,14.0,1.0,,20.0,24.0,28.0,GBP\n"
    );
}

/// 400 kg within 10 kg and twice 20 kg within 1 kg are 440 kg, from 428 kg to 452 kg.
#[test]
fn a_sum_of_doubtful_masses_has_ends() {
    let found = report(&[
        ("post", "kind: part\nname: Post\nmass: 400 kg ± 10 kg\ndisposition: reuse"),
        ("bolt", "kind: part\nname: Bolt\nmass: 19 kg .. 21 kg\nquantity: 2\ndisposition: reuse"),
    ]);
    let totals = &found.totals;
    assert_eq!(
        (totals.mass_low_kg, totals.mass_kg, totals.mass_high_kg),
        (Some(428.0), Some(440.0), Some(452.0))
    );
}

#[test]
fn no_parts_no_bill() {
    let found = report(&[]);
    assert!(found.lines.is_empty() && found.work.is_empty());
    assert_eq!(found.totals.mass_kg, None);
}

/// Quantities that no machine has end at the largest number instead of wrapping round.
#[test]
fn absurd_quantities_do_not_wrap() {
    let found = report(&[
        ("a", "kind: part\nname: A\nquantity: 4000000000"),
        ("b", "kind: part\nname: B\nwithin: a\nquantity: 4000000000\ndisposition: reuse"),
    ]);
    assert_eq!(line(&found, "b", &["quantity"]), json!([u32::MAX]));
}

/// A part that is made is paid for once all that makes it is done.
#[test]
fn a_part_is_spent_once_it_is_made() {
    let spent = |state: &str| {
        let turn = format!("kind: step\ndoes: Turn\nmakes: [pin]\nstate: {state}");
        let found = report(&[
            ("pin", "kind: part\nname: Pin\ndisposition: make\ncost: 110 GBP"),
            ("turn", turn.as_str()),
            ("harden", "kind: step\ndoes: Harden\nmakes: [pin]\nstate: done"),
        ]);
        found.totals.so_far.likely
    };
    assert_eq!([spent("todo"), spent("done"), spent("dropped")], [0.0, 110.0, 110.0]);
}

/// What a shop was to be paid stays on the bill once the step is done.
#[test]
fn the_cost_of_a_step_stays_when_it_is_done() {
    let bill = |state: &str| {
        let look = format!("kind: step\ndoes: Look\ntakes: 4 h\nprocesses: [examination]\nstate: {state}");
        report(&[
            ("inspector", "kind: shop\nname: Inspector\nprocesses: [examination]\nrate: 55 GBP/h"),
            ("look", look.as_str()),
            ("burn", "kind: step\ndoes: Burn\ntakes: 4 h\nprocesses: [licence]"),
        ])
    };
    for state in ["todo", "done"] {
        let found = bill(state);
        assert_eq!((found.work.len(), found.totals.work.likely), (1, 220.0), "{state}");
        assert_eq!(found.totals.work_without_cost, 1, "burning costs something, and nobody knows what");
    }
}

/// People lift by these: the least and the most stand beside the middle, and what is counted is counted truly.
#[test]
fn masses_keep_their_ends() {
    let notes = [
        ("base", "kind: part\nname: Base"),
        ("ring", "kind: part\nname: Ring\nwithin: base\nmass: 560 kg .. 700 kg\ndisposition: reuse"),
        ("bush", "kind: part\nname: Bush\nwithin: base\nquantity: 2\nmass: 5 kg\ndisposition: reuse"),
        ("plug", "kind: part\nname: Plug\nwithin: base\ndisposition: reuse"),
        ("shim", "kind: part\nname: Shim\nwithin: base\nmass: 1 kg\ndisposition: scrap"),
    ];
    let found = report(&notes);
    assert_eq!(line(&found, "base", &["mass_low_kg", "mass_high_kg"]), json!([570.0, 710.0]));
    assert_eq!(line(&found, "bush", &["mass_low_kg", "mass_high_kg"]), json!([10.0, 10.0]));
    let (project, _) = planned(&notes);
    let base = project.dossier.parts.iter().position(|part| part.id() == "base").unwrap();
    let weight = weigh(&project.dossier)[base];
    assert_eq!((weight.counted, weight.unknown, weight.given), (2, 1, false));
}

/// Every figure is in hundredths, so that those printed add up to the sum printed.
#[test]
fn what_is_printed_adds_up() {
    let found = report(&[
        ("works", "kind: shop\nname: Works\nrate: 35 GBP/h"),
        ("a", "kind: step\ndoes: A\ntakes: 20 min\nat: works"),
        ("b", "kind: step\ndoes: B\ntakes: 20 min\nat: works"),
    ]);
    assert_eq!(found.work[0].cost.likely, 11.67);
    assert!((found.totals.work.likely - 23.34).abs() < 1e-9);
}
