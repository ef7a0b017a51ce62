//! `build --issue`: what the next dossier says has changed.

use std::path::Path;

use asfound::issued::STORE;
use asfound::render::{Edition, state_json};
use asfound::{Outlook, Project};
use serde_json::{Value, json};

use super::asfound;
use super::scratch::{pdf_text, project, write};

/// The codes that the tests here show.
pub(crate) const SHOWN: &[&str] = &["issued-unreadable"];

const NOTES: &[(&str, &str)] = &[
    ("dossier.yaml", "title: A crane\nhome: shed\nmoney: GBP\nstart: 2027-03-01\n"),
    ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
    ("hook.md", "---\nkind: part\nname: Hook\ndisposition: buy\ncost: 40 GBP\n---\n"),
    ("hook-old.md", "---\nkind: part\nname: Old hook\ndisposition: scrap\n---\nUnmarked.\n"),
    ("safe.md", "---\nkind: question\nasks: Is it safe?\n---\n"),
    ("look.md", "---\nkind: step\ndoes: Look\ntakes: 2 h\n---\n"),
    ("lift.md", "---\nkind: step\ndoes: Lift\nneeds: [look]\n---\n"),
    ("test.md", "---\nkind: step\ndoes: Test\nneeds: [lift]\n---\n"),
];

/// The same project some weeks later.
fn later(dir: &Path) {
    write(dir, "look.md", "---\nkind: step\ndoes: Look\ntakes: 2 h\nstate: done\ndone_on: 2027-03-08\n---\n");
    write(dir, "safe.md", "---\nkind: question\nasks: Is it safe?\nstate: settled\nanswer: yes\n---\n");
    write(
        dir,
        "hook.md",
        "---\nkind: part\nname: Hook\ndisposition: buy\ncost: 55 GBP\nsupply: ordered\n---\n",
    );
    write(dir, "hook-old.md", "---\nkind: part\nname: Old hook\ndisposition: scrap\n---\nMarked 2 t.\n");
    write(dir, "jib.md", "---\nkind: part\nname: Jib\ndisposition: reuse\n---\n");
    write(dir, "shed.md", "---\nkind:   shop\nname:   The shed\n---\n\n");
    std::fs::remove_file(dir.join("crane/test.md")).unwrap();
}

fn issue(dir: &Path) {
    asfound(dir).args(["build", "crane", "--issue", "for the boatyard"]).assert().success();
}

fn since(dir: &Path) -> Value {
    let project = Project::open(&dir.join("crane")).unwrap();
    let outlook = Outlook::of(&project);
    let text = state_json(&Edition::new(&project, &outlook, None, false));
    serde_json::from_str::<Value>(&text).unwrap()["since_issued"].clone()
}

/// Where nobody can do a step any more, the end that was reported is no longer known.
#[test]
fn an_end_that_was_told_and_is_not_known_now() {
    let dir = project(NOTES);
    issue(dir.path());
    write(dir.path(), "lift.md", "---\nkind: step\ndoes: Lift\nneeds: [look]\ncalls_for: {lift: 9 t}\n---\n");
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let Some(text) = pdf_text(&dir.path().join("crane/out/dossier.pdf")) else { return };
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("When the work ends is not known now; it was "), "{text}");
}

#[test]
fn what_is_done_settled_new_changed_and_gone_is_told_each_note_once() {
    let dir = project(NOTES);
    assert_eq!(since(dir.path()), Value::Null);
    issue(dir.path());
    let nothing = since(dir.path());
    assert_eq!(
        (&nothing["done"], &nothing["changed"], &nothing["moved"]),
        (&json!([]), &json!([]), &json!([]))
    );
    later(dir.path());
    assert_eq!(
        since(dir.path()),
        json!({
            "date": "2027-03-01",
            "words": "for the boatyard",
            "done": ["look"],
            "settled": ["safe"],
            "ready": ["lift"],
            "moved": [{"id": "hook", "was": "buy, needed", "now": "buy, ordered"}],
            "new": ["jib"],
            "changed": ["hook-old"],
            "gone": ["test"],
        })
    );
}

#[test]
fn a_build_that_is_not_issued_keeps_what_was_told() {
    let dir = project(NOTES);
    issue(dir.path());
    let store = dir.path().join("crane").join(STORE);
    let told = std::fs::read(&store).unwrap();
    later(dir.path());
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    assert_eq!(std::fs::read(&store).unwrap(), told);
    issue(dir.path());
    assert_ne!(std::fs::read(&store).unwrap(), told);
    assert_eq!(since(dir.path())["done"], json!([]));
}

#[test]
fn nothing_is_kept_of_a_build_that_fails() {
    let dir = project(NOTES);
    write(dir.path(), "bad.md", "---\nkind: step\ndoes: Cut\nneeds: [nothing]\n---\n");
    asfound(dir.path()).args(["build", "crane", "--issue", "for the boatyard"]).assert().code(1);
    assert!(!dir.path().join("crane").join(STORE).exists());
    assert!(!dir.path().join("crane/out").exists());
}

#[test]
fn a_damaged_store_is_a_caution_and_the_dossier_is_built_without_it() {
    let dir = project(NOTES);
    let form = "{\"form\": 1, \"date\": null, \"words\": \"\", \"likely_end\": null, \"forecast_days\": {\"low\": 0, \
                \"likely\": 0, \"high\": 0}, \"cost\": {\"low\": 0, \"likely\": 0, \"high\": 0}, \"money\": \"GBP\", \
                \"notes\": {}}";
    let date = form.replace("\"form\": 1", "\"form\": 2").replacen("null", "\"tomorrow\"", 1);
    for (text, why) in
        [("{\"form\": 1", "EOF"), ("\0\u{1}", "expected value"), (form, "form 1"), (&date, "no date")]
    {
        write(dir.path(), STORE, text);
        let project = Project::open(&dir.path().join("crane")).unwrap();
        let problems: Vec<_> =
            project.problems().iter().map(|problem| (problem.code.word, problem.is_error())).collect();
        assert_eq!(problems, [("issued-unreadable", false)], "{text}");
        assert!(project.problems()[0].message.contains(why), "{}", project.problems()[0].message);
        assert_eq!(since(dir.path()), Value::Null);
    }
    issue(dir.path());
    assert!(Project::open(&dir.path().join("crane")).unwrap().problems().is_empty());
}

#[test]
fn the_words_must_say_something_on_one_line_and_a_draft_is_not_issued() {
    let dir = project(NOTES);
    for words in ["", "  ", "for\nthe boatyard"] {
        asfound(dir.path()).args(["build", "crane", "--issue", words]).assert().code(2);
    }
    asfound(dir.path()).args(["build", "crane", "--draft", "--issue", "for them"]).assert().code(2);
}
