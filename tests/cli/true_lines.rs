//! Lines that someone acts on: what the end waits for, what a trip carries, what a shop is paid.

use super::asfound;
use super::scratch::{pdf_text, project};

fn pages(notes: &[(&str, &str)]) -> Option<String> {
    let dir = project(notes);
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let text = pdf_text(&dir.path().join("crane/out/dossier.pdf"))?;
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

const HOME: (&str, &str) =
    ("dossier.yaml", "title: A crane\nhome: shed\nstart: 2027-03-01\nhours_per_week: 7\nmoney: GBP\n");
const SHED: (&str, &str) = ("shed.md", "---\nkind: shop\nname: The shed\nhas: {lift: 1 kN}\n---\n");
const YARD: (&str, &str) = (
    "yard.md",
    "---\nkind: shop\nname: The yard\nrate: 10 GBP/h\nprocesses: [turning, stripping]\nmiles: 3\n---\n",
);

/// A step with a last day that nothing waits for can't wait, and the end does not wait for it.
#[test]
fn a_last_day_is_not_what_the_end_waits_for() {
    let notes = [
        HOME,
        SHED,
        YARD,
        ("long.md", "---\nkind: step\ndoes: Turn it all\nat: yard\ntakes: 90 h\n---\n"),
        ("pump.md", "---\nkind: step\ndoes: Pump it dry\nat: shed\ntakes: 1 h\nnot_after: 2027-03-02\n---\n"),
    ];
    let Some(text) = pages(&notes) else { return };
    assert!(text.contains("The shed, 1 h, may not wait"), "{text}");
    assert!(text.contains("The yard, 90 h, the end waits for it"), "{text}");
    assert!(text.contains("due by 2 March 2027") && !text.contains("done by 2 March 2027;"), "{text}");
    assert!(text.contains("works on any day of the week"), "{text}");
}

/// What an earlier trip takes off does not come with what it was in.
#[test]
fn a_trip_has_no_caution_for_what_was_taken_off_before() {
    let notes = [
        HOME,
        SHED,
        YARD,
        ("far.md", "---\nkind: shop\nname: The mill\nprocesses: [milling]\nmiles: 9\n---\n"),
        ("winch.md", "---\nkind: part\nname: Winch\ndisposition: rework\n---\n"),
        (
            "lining.md",
            "---\nkind: part\nname: Lining\nwithin: winch\ndisposition: scrap\nmaterial: asbestos\n---\n",
        ),
        (
            "off.md",
            "---\nkind: step\ndoes: Take the winch off\nremoves: [winch]\nat: shed\ntakes: 1 h\n---\n",
        ),
        (
            "strip.md",
            "---\nkind: step\ndoes: Strip it\nparts: [winch]\nremoves: [lining]\nneeds: [off]\nat: yard\ntakes: 1 h\n---\n",
        ),
        // It comes after only because of where it is done: nothing written says that the lining is off by then.
        ("hold.md", "---\nkind: step\ndoes: Mark it\nneeds: [strip]\nat: far\ntakes: 1 h\n---\n"),
        (
            "mill.md",
            "---\nkind: step\ndoes: Mill it\nparts: [winch]\nneeds: [off]\nat: far\nprocesses: [milling]\ntakes: 1 h\n---\n",
        ),
    ];
    let Some(text) = pages(&notes) else { return };
    let trips = &text[text.find("what is brought there").unwrap()..];
    assert_eq!(trips.matches("it holds asbestos").count(), 1, "{trips}");
}

/// A shop whose work is over says what that came to by the estimates.
#[test]
fn a_shop_says_what_it_is_paid_for_what_is_done() {
    let notes = [
        HOME,
        SHED,
        YARD,
        (
            "turn.md",
            "---\nkind: step\ndoes: Turn it\nat: yard\ntakes: 3 h\nstate: done\ndone_on: 2027-02-01\n---\n",
        ),
    ];
    let Some(text) = pages(&notes) else { return };
    assert!(text.contains("for what is done, by the esti"), "{text}");
    assert!(text.contains("30 GBP"), "{text}");
}
