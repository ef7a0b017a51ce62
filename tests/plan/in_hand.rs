//! What can hurt in what a step has in hand, whether its note names it or not.

use super::notes::{planned, step};

const WINCH: &[(&str, &str)] = &[
    ("winch", "kind: part\nname: Winch\ndisposition: rework"),
    ("shaft", "kind: part\nname: Shaft\nwithin: winch\ndisposition: rework"),
    ("brake", "kind: part\nname: Brake\nwithin: winch\ndisposition: rework"),
    ("lining", "kind: part\nname: Lining\nwithin: brake\ndisposition: scrap"),
    ("base", "kind: part\nname: Base\ndisposition: reuse"),
    ("fibre", "kind: finding\nabout: [lining, brake]\ncondition: may be asbestos"),
    ("off", "kind: step\ndoes: Lift it off\nremoves: [winch]"),
    ("turn", "kind: step\ndoes: Turn it\nparts: [shaft]\nneeds: [off]"),
    ("early", "kind: step\ndoes: Oil it\nparts: [shaft]"),
    ("strip", "kind: step\ndoes: Strip it\nparts: [lining]\nremoves: [lining]\nneeds: [off]\nmends: [fibre]"),
    ("late", "kind: step\ndoes: Turn it again\nparts: [shaft]\nneeds: [strip]"),
    ("back", "kind: step\ndoes: Put it back\nrefits: [winch]\nneeds: [late]"),
    ("wash", "kind: step\ndoes: Wash it\nparts: [base]"),
];

fn in_hand(more: &[(&str, &str)], id: &str) -> Vec<String> {
    let is_given = |id: &str| more.iter().any(|(given, _)| *given == id);
    let kept = WINCH.iter().filter(|(id, _)| !is_given(id));
    let notes: Vec<(&str, &str)> = kept.chain(more).copied().collect();
    let (project, plan) = planned(&notes);
    let dossier = &project.dossier;
    let held = plan.in_hand(step(dossier, id)).iter();
    held.flat_map(|(hazard, parts)| {
        parts.iter().map(|part| format!("{} {}", hazard.word(), dossier[*part].id()))
    })
    .collect()
}

#[test]
fn a_hazard_goes_with_the_part_that_holds_it_wherever_that_is_within() {
    let both = ["asbestos brake", "asbestos lining"];
    for id in ["off", "turn", "strip"] {
        assert_eq!(in_hand(&[], id), both, "{id}");
    }
    // On the machine only what is worked on is in hand; a step before has mended it.
    for id in ["early", "wash", "late", "back"] {
        assert!(in_hand(&[], id).is_empty(), "{id}");
    }
}

#[test]
fn tags_and_findings_on_the_whole_warn_too_and_what_was_ruled_out_does_not() {
    let base = ("base", "kind: part\nname: Base\ndisposition: reuse\ntags: [stored-energy]");
    assert_eq!(in_hand(&[base], "wash"), ["stored-energy base"]);
    let paint = ("paint", "kind: finding\nabout: [winch]\ncondition: lead paint");
    assert_eq!(in_hand(&[paint], "early"), ["lead-paint winch"]);
    let tested = ("tested", "kind: finding\nabout: [base]\ncondition: [no asbestos, lead-free paint]");
    assert!(in_hand(&[tested], "wash").is_empty());
}
