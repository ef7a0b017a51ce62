//! The keys of the JSON stand in the book, and the book names no key that is not there.

use std::collections::BTreeSet;
use std::path::Path;

use asfound::render::{Edition, state_json};
use asfound::{Outlook, Project};
use serde_json::Value;

use super::asfound;
use super::scratch::{json, project, write};

/// Tables whose keys depend on the notes.
const OPEN: [&str; 2] = ["bill.totals.by_disposition", "measurements[].results"];

/// What the example has none of: a stay of known size, a text, a truth, a list, pieces that can't be cut, an issue.
const NOTES: &[(&str, &str)] = &[
    ("dossier.yaml", "title: A crane\nhome: shed\nmoney: GBP\nstart: 2027-03-01\n"),
    ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
    (
        "post.md",
        "---\nkind: part\nname: Post\ndisposition: make\nenvelope: 2 x 1 x 1 m\n\
         stock: {section: tube, length: 9 m}\n---\n\n\
         ```calc\nassume load = 2 kN \"a guess\"\nlengths = [1 m, 2 m]\nword = \"oak\"\nis = 2 m > 1 m\n\
         check load <= 3 kN\n```\n",
    ),
    (
        "foot.md",
        "---\nkind: part\nname: Foot\ndisposition: make\ntrapped_by: [post]\nstock: {section: flat}\n---\n",
    ),
    ("lift.md", "---\nkind: step\ndoes: Lift\nparts: [post, foot]\nremoves: [post]\ntakes: 1 h\n---\n"),
    ("safe.md", "---\nkind: question\nasks: Safe?\n---\n"),
];

fn state(dir: &Path) -> Value {
    let project = Project::open(dir).unwrap();
    let outlook = Outlook::of(&project);
    serde_json::from_str(&state_json(&Edition::new(&project, &outlook, None, false))).unwrap()
}

/// Every path of keys in a value: `trips[].steps[]`.
fn paths(at: &str, value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(keys) => {
            for (key, value) in keys {
                let key = if OPEN.contains(&at) { "*" } else { key };
                let path = if at.is_empty() { key.to_owned() } else { format!("{at}.{key}") };
                if !value.is_array() {
                    found.insert(path.clone());
                }
                paths(&path, value, found);
            }
        }
        Value::Array(items) => {
            let path = format!("{at}[]");
            found.insert(path.clone());
            for item in items {
                paths(&path, item, found);
            }
        }
        _ => {}
    }
}

/// The paths that a chapter of the page names; one that begins with a dot is a neighbour of the one before it.
fn documented(chapter: &str) -> BTreeSet<String> {
    let page = include_str!("../../book/src/json.md");
    let chapter = page.split("\n## ").find(|text| text.lines().next() == Some(chapter)).unwrap();
    let mut found = BTreeSet::new();
    for row in chapter.lines().filter(|line| line.starts_with("| `")) {
        let mut last = String::new();
        for name in row.split('|').nth(1).unwrap().split('`').skip(1).step_by(2) {
            last = match name.strip_prefix('.') {
                Some(neighbour) => format!("{}.{neighbour}", last.rsplit_once('.').unwrap().0),
                None => name.to_owned(),
            };
            assert!(found.insert(last.clone()), "{last} stands twice in the page");
        }
    }
    found
}

#[test]
fn the_page_and_the_computed_state_name_the_same_keys() {
    let dir = project(NOTES);
    write(dir.path(), "old.md", "---\nkind: step\ndoes: Old\n---\n");
    write(dir.path(), "other.md", "---\nkind: part\nname: Other\ndisposition: reuse\n---\n");
    asfound(dir.path()).args(["build", "crane", "--issue", "for the boatyard"]).assert().success();
    std::fs::remove_file(dir.path().join("crane/old.md")).unwrap();
    write(dir.path(), "other.md", "---\nkind: part\nname: Other\ndisposition: scrap\n---\n");
    let mut found = BTreeSet::new();
    paths("", &state(&dir.path().join("crane")), &mut found);
    paths("", &state(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/notes-example"))), &mut found);
    paths("", &state(&project(super::closing::NOTES).path().join("crane")), &mut found);
    // A size is a list where it is known, and `null` where it is not.
    let said = documented("dossier.json");
    let missing: Vec<_> = found.difference(&said).collect();
    let left_over: Vec<_> = said.difference(&found).collect();
    assert!(
        missing.is_empty() && left_over.is_empty(),
        "not in the page: {missing:?}; only there: {left_over:?}"
    );
}

#[test]
fn the_page_names_the_keys_of_why() {
    let dir =
        project(&[NOTES, &[("draw.md", "---\nkind: step\ndoes: Draw\nremoves: [foot]\n---\n")]].concat());
    let mut found = BTreeSet::new();
    let why = json(asfound(dir.path()).args(["why", "foot", "crane", "--format", "json"]));
    paths("", &why, &mut found);
    // A cause's own causes are in the same shape.
    let folded: BTreeSet<String> =
        found.iter().map(|path| path.replace("causes[].causes[].", "causes[].")).collect();
    assert_eq!(folded, documented("asfound why"));
}

#[test]
fn the_page_names_the_keys_of_check() {
    let dir = project(&[("dossier.yaml", "titel: A crane\n")]);
    let output = asfound(dir.path()).args(["check", "crane", "--format", "json"]).output().unwrap();
    let mut found = BTreeSet::new();
    paths("", &serde_json::from_slice(&output.stdout).unwrap(), &mut found);
    assert_eq!(found, documented("asfound check"));
}
