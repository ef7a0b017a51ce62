//! `bill`: the bill of materials and the cut list, for people, scripts and spreadsheets.

use serde_json::json;

use super::asfound;
use super::scratch::{json, lines, pages, pdf_text, printed, project, table_rows};

/// Bars are 20 ft, 6096 mm, and a cut is 1/8 in, 3.175 mm: two legs of 9 ft fit on one, a third needs another.
const NOTES: &[(&str, &str)] = &[
    (
        "dossier.yaml",
        "title: A crane\nhome: shed\nunits: inch\nmoney: GBP\nton: long\nstart: 2027-03-01\n\
         stock_lengths:\n  angle 50 x 50: {length: 20 ft, cut: 1/8 in}\n  tube 100: {length: 20 ft, cut: 1/8 in}\n",
    ),
    ("shed.md", "---\nkind: shop\nname: The shed\nrate: 20 GBP/h\n---\n"),
    ("frame.md", "---\nkind: part\nname: Frame\ndisposition: rework\n---\n"),
    (
        "leg.md",
        "---\nkind: part\nname: Leg\nwithin: frame\ndisposition: make\nquantity: 3\nmass: 10 kg\n\
         stock: {section: angle 50 x 50, length: 9 ft}\n---\n",
    ),
    (
        "mast.md",
        "---\nkind: part\nname: Mast\nwithin: frame\ndisposition: make\nmass: 40 kg\n\
         stock: {section: tube 100, length: 21 ft}\n---\n",
    ),
    (
        "foot.md",
        "---\nkind: part\nname: Foot\nwithin: frame\ndisposition: make\nstock: {section: flat 80}\n---\n",
    ),
    (
        "bearing.md",
        "---\nkind: part\nname: Bearing\ndisposition: buy\nquantity: 2\ncost: 30 GBP .. 50 GBP\nlead: 10 days\n\
         mass: 2 kg\n---\n",
    ),
    ("saw.md", "---\nkind: step\ndoes: Saw the legs\nmakes: [leg]\ntakes: 3 h\n---\n"),
];

#[test]
fn the_json_has_its_keys() {
    let dir = project(NOTES);
    let bill = json(asfound(dir.path()).args(["bill", "crane", "--format", "json"]));
    assert_eq!(bill["money"], "GBP");
    let line = |id: &str| bill["lines"].as_array().unwrap().iter().find(|line| line["id"] == id).unwrap();
    assert_eq!(line("bearing")["cost"], json!({"low": 60.0, "likely": 80.0, "high": 100.0}));
    assert_eq!(line("bearing")["disposition"], "buy");
    assert_eq!(line("leg")["quantity"], 3);
    assert_eq!(line("leg")["mass_kg"], 30.0);
    assert_eq!(line("frame")["mass_kg"], 70.0);
    assert_eq!(
        bill["work"][0],
        json!({
            "id": "saw", "at_rate_of": "shed", "cost": {"low": 60.0, "likely": 60.0, "high": 60.0},
        })
    );
    assert_eq!(bill["totals"]["together"], json!({"low": 120.0, "likely": 140.0, "high": 160.0}));
}

#[test]
fn the_cut_list_says_how_to_cut_and_whether_fewer_bars_can_do() {
    let dir = project(NOTES);
    let list = json(asfound(dir.path()).args(["bill", "crane", "--cut-list", "--format", "json"]));
    let legs = &list["sections"][0];
    let leg = json!({"id": "leg", "length_mm": 2743.2});
    assert_eq!(
        legs["bars"],
        json!([
            {"cuts": [leg, leg], "offcut_mm": 6096.0 - 2.0 * (2743.2 + 3.175)},
            {"cuts": [leg], "offcut_mm": 6096.0 - 2743.2 - 3.175},
        ])
    );
    assert_eq!((&legs["bars_at_least"], &legs["proven"]), (&json!(2), &json!(true)));
    assert_eq!(list["sections"][1]["too_long"], json!(["mast"]));
    assert_eq!(list["without_length"], json!(["foot"]));
}

#[test]
fn for_people_it_is_a_tree_with_sums() {
    let dir = project(NOTES);
    let text = printed(asfound(dir.path()).args(["bill", "crane"]));
    assert!(text.contains("\n   leg"), "{text}");
    assert!(text.contains("60 .. 80 .. 100"), "{text}");
    assert!(text.contains("120 .. 140 .. 160"), "{text}");
    let text = printed(asfound(dir.path()).args(["bill", "crane", "--cut-list"]));
    assert!(text.contains("2 bars; fewer can't be enough."), "{text}");
    assert!(text.contains("Longer than a bar: mast."), "{text}");
    assert!(text.contains("how long the piece is: foot."), "{text}");
}

/// RFC 4180: a head, one line a record, the same number of fields in each.
#[test]
fn for_spreadsheets_it_is_csv() {
    let dir = project(NOTES);
    let rows = |arguments: &[&str]| -> Vec<csv::StringRecord> {
        let text = printed(asfound(dir.path()).args(arguments));
        csv::Reader::from_reader(text.as_bytes()).records().map(Result::unwrap).collect()
    };
    assert_eq!(rows(&["bill", "crane", "--format", "csv"]).len(), 5);
    let cuts = rows(&["bill", "crane", "--cut-list", "--format", "csv"]);
    assert_eq!(cuts.iter().filter(|row| &row[4] == "part").count(), 3);
    assert_eq!(cuts.iter().filter(|row| &row[4] == "offcut").count(), 2);
    let long = cuts.iter().find(|row| &row[4] == "too long").unwrap();
    assert_eq!((&long[3], &long[5]), ("", "mast"));
}

#[test]
fn a_project_without_parts_has_no_bill() {
    let dir = project(&NOTES[..2]);
    asfound(dir.path()).args(["bill", "crane"]).assert().success().stdout_eq("The notes hold no part yet.\n");
    asfound(dir.path())
        .args(["bill", "crane", "--cut-list"])
        .assert()
        .success()
        .stdout_eq("No part has to be cut from stock.\n");
}

/// The dossier's cut list leaves nothing out: bars that are alike, pieces longer than a bar, parts of no length yet.
#[test]
fn the_dossier_says_how_to_cut_and_what_does_not_fit() {
    let part = |name: &str, stock: &str| {
        format!("---\nkind: part\nname: {name}\ndisposition: make\nstock: {{{stock}}}\n---\n")
    };
    let dir = project(&[
        (
            "dossier.yaml",
            "title: A crane\nunits: metric\nstock_lengths: {flat 40 x 8: {length: 6 m, cut: 3 mm}}\n",
        ),
        ("hook.md", &part("Hook", "section: square 30, length: 200 mm, in_all: 3")),
        ("stays.md", &part("Stays", "section: flat 40 x 8, length: 1400 mm, quantity: 9")),
        ("rail.md", &part("Long rail", "section: flat 40 x 8, length: 7000 mm, quantity: 2")),
        ("peg.md", &part("Peg", "section: round 16")),
    ]);
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let Some(text) = pdf_text(&dir.path().join("crane/out/dossier.pdf")) else { return };
    for words in [
        "square 30",
        "3 of 200 mm for Hook (in all)",
        "Where no number of bars is given, dossier.yaml does not say how long the bars of that section are.",
        "flat 40 x 8: 3 lengths of 6000 mm, 3 mm a cut, of which 2 × 388 mm, 4597 mm are left over",
        "3 bars; fewer can't be enough.",
        "Longer than a bar: 2 of 7000 mm for Long rail.",
        "Cut from stock, but of no length yet: Peg",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
}

/// A weighed assembly that is reworked stands among what is reworked, with its pieces and without counting them twice.
#[test]
fn an_assembly_with_its_own_disposition_is_a_line_and_is_counted_once() {
    let dir = project(&[
        ("dossier.yaml", "title: A crane\nunits: metric\nmoney: GBP\n"),
        ("post.md", "---\nkind: part\nname: Post\ndisposition: rework\nmass: 800 kg\ncost: 40 GBP\n---\n"),
        ("sleeve.md", "---\nkind: part\nname: Sleeve\nwithin: post\ndisposition: rework\nmass: 30 kg\n---\n"),
        ("cap.md", "---\nkind: part\nname: Cap\ndisposition: rework\nmass: 5 kg\n---\n"),
        ("pin.md", "---\nkind: part\nname: Pin\ndisposition: rework\n---\n"),
        ("bush.md", "---\nkind: part\nname: Bush\nwithin: post\ndisposition: scrap\nmass: 230 kg\n---\n"),
        ("shim.md", "---\nkind: part\nname: Shim\nwithin: bush\ndisposition: scrap\nmass: 1 kg\n---\n"),
        (
            "bush-new.md",
            "---\nkind: part\nname: New bush\nwithin: post\ndisposition: make\nmass: 120 kg\n---\n",
        ),
    ]);
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let pdf = dir.path().join("crane/out/dossier.pdf");
    let (Some(rows), Some(text)) = (table_rows(&pdf), pdf_text(&pdf)) else { return };
    let has =
        |cells: &[&str]| assert!(rows.iter().any(|row| row == cells), "{cells:?} is missing from {rows:#?}");
    let as_weighed = "mass as weighed, with all that was within it; as it will stand 690 kg";
    has(&["Post", as_weighed, "1", "800", "40", "40", "40"]);
    has(&["Sleeve", "mass counted with post", "1", "30", "–", "–", "–"]);
    has(&["together", "", "", "805", "40", "40", "40"]);
    has(&["Bush", "mass with all that is within it", "1", "230"]);
    has(&["Shim", "mass counted with bush", "1", "1"]);
    has(&["New bush", "–", "1", "120"]);
    let sums: Vec<&str> = rows
        .iter()
        .filter(|row| row[0] == "together")
        .filter_map(|row| row.last())
        .map(String::as_str)
        .collect();
    assert!(sums.contains(&"230") && !sums.contains(&"231"), "the shim is in the bush: {sums:?}");
    assert!(sums.contains(&"120"), "what is new was not weighed with the post: {sums:?}");
    assert!(text.contains("The mass leaves out 1 line of unknown mass."), "{text}");
}

/// Who is paid, from the dossier's pages: shops for their work, sellers for parts, and one line for what no note names; the
/// keeper's own place is nobody's account. Together that is the bill's own sum.
#[test]
fn the_bill_says_who_is_paid_and_that_comes_to_its_sum() {
    let notes = [
        ("dossier.yaml", "title: A crane\nhome: shed\nunits: metric\nmoney: GBP\n"),
        ("shed.md", "---\nkind: shop\nname: The shed\nhas: {lift: 1 kN}\n---\n"),
        ("yard.md", "---\nkind: shop\nname: The yard\nrate: 40 GBP/h\nhas: {lift: 90 kN}\n---\n"),
        (
            "bolt.md",
            "---\nkind: part\nname: Bolt\ndisposition: buy\ncost: 3 GBP .. 5 GBP\nquantity: 2\nfrom: any stockist\n---\n",
        ),
        ("pin.md", "---\nkind: part\nname: Pin\ndisposition: make\ncost: 7 GBP\nfrom: The yard\n---\n"),
        ("lift.md", "---\nkind: step\ndoes: Lift it\nat: yard\ntakes: 2 h .. 3 h\n---\n"),
        ("oil.md", "---\nkind: step\ndoes: Oil it\nat: shed\ncost: 11 GBP\n---\n"),
    ];
    let Some(lines) = lines(&notes) else { return };
    let from = lines.iter().position(|line| line == "Who is paid").unwrap();
    let rows: Vec<&str> =
        lines[from + 1..].iter().map(String::as_str).filter(|line| !line.is_empty()).take(5).collect();
    assert_eq!(
        rows,
        [
            "Parts GBP Work least likely most",
            "The yard 7 100 87 107 127",
            "any stockist 8 – 6 8 10",
            "payee not named – 11 11 11 11",
            "together 15 111 104 126 148",
        ]
    );
    assert!(lines.iter().any(|line| line == "together 104 126 148"), "the sum of the bill: {lines:#?}");
    let shed = lines.iter().rposition(|line| line.starts_with("The shed")).unwrap();
    assert!(lines[shed..].iter().take(6).all(|line| !line.contains("for all of it")), "{lines:#?}");
}

/// The same for other programs: each payee with parts, work and both.
#[test]
fn the_json_of_the_bill_says_who_is_paid() {
    let dir = project(&[
        ("dossier.yaml", "title: A crane\nmoney: GBP\n"),
        ("yard.md", "---\nkind: shop\nname: The yard\nrate: 40 GBP/h\nhas: {lift: 90 kN}\n---\n"),
        (
            "bolt.md",
            "---\nkind: part\nname: Bolt\ndisposition: buy\ncost: 3 GBP .. 5 GBP\nfrom: any stockist\n---\n",
        ),
        ("lift.md", "---\nkind: step\ndoes: Lift it\nat: yard\ntakes: 2 h\n---\n"),
    ]);
    let bill = json(asfound(dir.path()).args(["bill", "crane", "--format", "json"]));
    let (none, work) =
        (json!({"low": 0.0, "likely": 0.0, "high": 0.0}), json!({"low": 80.0, "likely": 80.0, "high": 80.0}));
    let bolt = json!({"low": 3.0, "likely": 4.0, "high": 5.0});
    assert_eq!(
        bill["payees"],
        json!([
            {"kind": "shop", "id": "yard", "name": "The yard", "parts": none, "work": work, "together": work},
            {"kind": "seller", "id": null, "name": "any stockist", "parts": bolt, "work": none, "together": bolt},
        ])
    );
}

/// What it costs to get a part in place: the work, the part itself and what else has to be bought, each by who is paid.
#[test]
fn what_a_part_in_place_costs_includes_the_part_and_is_split_by_who_is_paid() {
    let Some(text) = pages(&[
        ("dossier.yaml", "title: A crane\nhome: shed\nunits: metric\nmoney: GBP\n"),
        ("shed.md", "---\nkind: shop\nname: The shed\nrate: 0 GBP/h\n---\n"),
        ("works.md", "---\nkind: shop\nname: The works\nrate: 50 GBP/h\n---\n"),
        (
            "bush.md",
            "---\nkind: part\nname: Bush\ndisposition: buy\ncost: 24 GBP .. 40 GBP\nfrom: any foundry\n---\n",
        ),
        ("bore.md", "---\nkind: step\ndoes: Bore the seat\nat: works\ntakes: 4 h .. 6 h\n---\n"),
        (
            "fit.md",
            "---\nkind: step\ndoes: Fit the bush\nat: shed\ntakes: 1 h\nuses: [bush]\nneeds: [bore]\n---\n",
        ),
    ]) else {
        return;
    };
    let sum = "2 steps, 5 to 7 h of work; 224 to 340 GBP to pay: any foundry 24 to 40, the works 200 to 300.";
    assert!(text.contains(sum), "{text}");
}

/// Halves are printed, so that the rows add up to the sum; a mass has its ends, and what is left out is counted.
#[test]
fn the_pages_add_up_and_say_what_they_leave_out() {
    let notes = [
        ("dossier.yaml", "title: A crane\nhome: shed\nunits: metric\nmoney: GBP\nstart: 2027-03-01\n"),
        ("shed.md", "---\nkind: shop\nname: The shed\nrate: 20.50 GBP/h\n---\n"),
        ("base.md", "---\nkind: part\nname: Base\n---\n"),
        (
            "ring.md",
            "---\nkind: part\nname: Ring\nwithin: base\nmass: 560 kg .. 700 kg\ndisposition: reuse\n---\n",
        ),
        ("plug.md", "---\nkind: part\nname: Plug\nwithin: base\ndisposition: reuse\n---\n"),
        ("shim.md", "---\nkind: part\nname: Shim\nwithin: base\nmass: 1 kg\ndisposition: scrap\n---\n"),
        (
            "pin.md",
            "---\nkind: part\nname: Pin\nwithin: base\nmass: 2 kg\ndisposition: make\ncost: 640.50 GBP\n---\n",
        ),
        ("turn.md", "---\nkind: step\ndoes: Turn the pin\nmakes: [pin]\ntakes: 1 h\n---\n"),
        ("fit.md", "---\nkind: step\ndoes: Fit the pin\nrefits: [pin]\nneeds: [turn]\n---\n"),
        ("rig.md", "---\nkind: step\ndoes: Rig it\nuses: [pin]\nparts: [base]\nprocesses: [slinging]\n---\n"),
    ];
    let dir = project(&notes);
    let text = printed(asfound(dir.path()).args(["bill", "crane"]));
    assert!(text.contains("The machine as it will stand: 562 .. 702 kg, without one part"), "{text}");
    assert!(text.contains("560 .. 700") && text.contains("so far, estimated"), "{text}");
    assert!(text.contains("The cost of one step that no known shop can do is not known"), "{text}");
    let Some(text) = pages(&notes) else { return };
    let Some(lines) = lines(&notes) else { return };
    for row in ["parts to make 640.50 640.50 640.50", "work 20.50 20.50 20.50", "together 661 661 661"] {
        assert!(lines.iter().any(|line| line == row), "{row}: {lines:?}");
    }
    let says = "The machine as it will stand: 562 to 702 kg, without 1 part of unknown mass.";
    assert!(text.contains("Spent so far, estimated: 0 GBP.") && text.contains(says), "{text}");
    assert!(text.contains("sum of 2 of 4 as it will stand, without 1 part of unknown mass"), "{text}");
    // What a later step makes is paid for too.
    assert!(text.contains("661 GBP to pay"), "{text}");
}

/// Nothing is free for want of a note that says what it costs.
#[test]
fn without_any_cost_the_cost_is_not_known() {
    let notes = [
        ("dossier.yaml", "title: A crane\nhome: shed\nstart: 2027-03-01\n"),
        ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
        ("base.md", "---\nkind: part\nname: Base\ndisposition: reuse\n---\n"),
        ("look.md", "---\nkind: step\ndoes: Look\ntakes: 1 h\n---\n"),
    ];
    let dir = project(&notes);
    let text = printed(asfound(dir.path()).args(["bill", "crane"]));
    assert!(text.contains("The cost is not known: no note names one."), "{text}");
    let Some(text) = pages(&notes) else { return };
    assert!(text.contains("not known") && text.contains("cost: no note names one"), "{text}");
    assert!(!text.contains("likely cost") && !text.contains("Spent so far"), "{text}");
}
