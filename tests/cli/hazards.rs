//! Hazards: every one that applies reaches the pages, the sheets and other programs, and no other.

use super::asfound;
use super::closing::text_of;
use super::scratch::{pages, project, write};

const NOTES: &[(&str, &str)] = &[
    ("dossier.yaml", "title: The winch at Heron Staithe\nhome: barn\n"),
    ("barn.md", "---\nkind: shop\nname: The barn\n---\n"),
    ("yard.md", "---\nkind: shop\nname: The Gull Yard\nhas: {press: 30 tonf}\nprocesses: [tig]\n---\n"),
    ("spindle.md", "---\nkind: part\nname: Spindle\ndisposition: rework\n---\n"),
    (
        "weld.md",
        "---\nkind: step\ndoes: Weld it\nparts: [spindle]\nat: yard\nprocesses: [tig]\ncalls_for: {press: 3 tonf}\n\
         hazards: [compressed-air, the lead screw may run back, load-carrying-weld]\n---\n",
    ),
    (
        "sweep.md",
        "---\nkind: step\ndoes: Sweep it\nparts: [spindle]\nat: yard\nstate: done\ndone_on: 2027-03-01\ndone_by: Robin\n---\n",
    ),
];

#[test]
fn every_hazard_that_applies_is_printed() {
    let dir = project(NOTES);
    asfound(dir.path()).args(["build", "crane", "--draft"]).assert().success();
    let state = std::fs::read_to_string(dir.path().join("crane/out/dossier.json")).unwrap();
    let state: serde_json::Value = serde_json::from_str(&state).unwrap();
    let weld = state["steps"].as_array().unwrap().iter().find(|step| step["id"] == "weld").unwrap();
    let all = ["pressing", "hot-work", "load-carrying-weld", "stored-energy", "pressure"];
    assert_eq!(weld["hazards"], serde_json::json!(all));
    let Some(text) = text_of(&dir.path().join("crane/out/dossier.pdf")) else { return };
    for says in [
        "Caution, pressing, hot work, load-carrying weld, stored energy and pressure. See the cautions",
        "Caution, at this step. The lead screw may run back.",
        "Caution, pressure. Air, steam, gas and hy",
        "done by Robin",
    ] {
        assert!(text.contains(says), "`{says}` is missing from:\n{text}");
    }
    assert!(!text.contains("Old paint is taken to hold lead"), "{text}");
}

#[test]
fn a_sheet_says_what_to_do_and_names_nobody_who_did_other_work() {
    let dir = project(NOTES);
    asfound(dir.path()).args(["sheet", "yard", "crane"]).assert().success();
    let Some(text) = text_of(&dir.path().join("crane/out/sheet-yard.pdf")) else { return };
    for says in [
        "Caution, hot work. Paint, grease and linings give off poison",
        "Caution, load-carrying weld. A weld that carries a load",
        "Caution, stored energy. Chock, lash",
        "Caution, at this job. The lead screw may run back.",
    ] {
        assert!(text.contains(says), "`{says}` is missing from:\n{text}");
    }
    assert!(!text.contains("Robin") && !text.contains("Old paint"), "{text}");
}

#[test]
fn a_sentence_of_ones_own_needs_no_name() {
    let dir = project(NOTES);
    let note = "---\nkind: step\ndoes: Draw it up\nparts: [spindle]\nhazards: [suction of the mud, \"600 lb over water, nobody under it\"]\n---\n";
    write(dir.path(), "weld.md", note);
    asfound(dir.path()).args(["build", "crane", "--draft"]).assert().success();
    let Some(text) = text_of(&dir.path().join("crane/out/dossier.pdf")) else { return };
    for says in [
        "Caution, lifting and work over water. See the cautions",
        "Caution, at this step. Suction of the mud.",
        "Caution, at this step. 600 lb over water, nobody under it.",
    ] {
        assert!(text.contains(says), "`{says}` is missing from:\n{text}");
    }
}

/// Whoever carries the crab has its lining in the van, though no step works on the lining.
#[test]
fn a_trip_and_the_cover_warn_of_what_is_within_what_is_carried() {
    let notes = [
        ("dossier.yaml", "title: A crane\nhome: shed\n"),
        ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
        ("works.md", "---\nkind: shop\nname: The works\nmiles: 17\nhas: {swing: 9 in}\n---\n"),
        ("crab.md", "---\nkind: part\nname: Crab\ndisposition: rework\n---\n"),
        ("lining.md", "---\nkind: part\nname: Lining\nwithin: crab\ndisposition: scrap\n---\n"),
        ("fibre.md", "---\nkind: finding\nabout: lining\ncondition: may be asbestos\n---\n"),
        ("off.md", "---\nkind: step\ndoes: Take it off\nremoves: [crab]\nat: shed\nstate: done\n---\n"),
        ("turn.md", "---\nkind: step\ndoes: Turn it\nparts: [crab]\nat: works\ntakes: 3 h\n---\n"),
    ];
    let Some(text) = pages(&notes) else { return };
    let trips = text.split("From place to place").nth(1).unwrap();
    assert!(trips.contains("Crab. The mass is not known. Caution, it holds asbestos"), "{trips}");
    let cover = text.split("every step in its order").next().unwrap();
    assert!(cover.contains("mind asbestos"), "{cover}");
}
