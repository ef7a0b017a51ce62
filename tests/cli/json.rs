//! The keys of the JSON stand in the book, and the book names no key that is not there.

use std::collections::BTreeSet;
use std::path::Path;

use asfound::render::{Edition, state_json};
use asfound::{Outlook, Project};
use serde_json::Value;

use super::asfound;
use super::scratch::{json, project, write};

/// Tables whose keys depend on the notes.
const OPEN: [&str; 3] = ["bill.totals.by_disposition", "measurements[].results", "fields"];

/// What the example has none of: a stay of known size, a text, a truth, one that is not settled, a list, pieces that can't be cut, an issue.
const NOTES: &[(&str, &str)] = &[
    (
        "dossier.yaml",
        "title: A crane\nhome: shed\nmoney: GBP\nstart: 2027-03-01\n\
         fit_for_use: {words: for show, date: 2027-02-01, valid_until: 2027-12-31}\n",
    ),
    (
        "crack.md",
        "---\nkind: finding\nabout: post\ncondition: cracked\nseverity: dangerous\nseen: 2027-02-20\n---\n",
    ),
    ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
    (
        "post.md",
        "---\nkind: part\nname: Post\ndisposition: make\nenvelope: 2 x 1 x 1 m\n\
         stock: {section: tube, length: 9 m}\n---\n\n\
         ```calc\nassume load = 2 kN \"a guess\"\nlengths = [1 m, 2 m]\nword = \"oak\"\nis = 2 m > 1 m\n\
         may = 2 m ± 1 m > 2 m\nwood = if may then word else \"ash\"\n\
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

/// Paths of all the answers to these commands; what stands beside every answer of `lookup` and `identify` is left out.
fn answered(commands: &[&[&str]]) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for words in commands {
        let answer = asfound(Path::new(".")).args(*words).args(["--format", "json"]).assert().success();
        paths("", &serde_json::from_slice(&answer.get_output().stdout).unwrap(), &mut found);
    }
    if commands[0][0] != "calc" {
        let beside = documented("asfound lookup and identify");
        assert!(found.is_superset(&beside), "{found:?}");
        found.retain(|path| !beside.contains(path));
    }
    found
}

#[track_caller]
fn names_the_keys_of(chapter: &str, commands: &[&[&str]]) {
    assert_eq!(answered(commands), documented(chapter), "{chapter}");
}

#[test]
fn the_page_names_the_keys_of_calc() {
    let mut found = answered(&[
        &["calc", "2 5/16 in to mm"],
        &["calc", "check 1 mm < 2 mm"],
        &["calc", "1 < 2"],
        &["calc", "\"a text\""],
        &["calc", "[1 mm, 2 mm]"],
        &["calc", "fit(\"H7/k6\", at: 50 mm)"],
        &["calc", "1 mm ± 0.5 mm < 1.2 mm"],
        &["calc", "if 1 mm ± 0.5 mm < 1.2 mm then \"oak\" else \"ash\""],
    ]);
    let lines =
        asfound(Path::new(".")).args(["calc", "--format", "json"]).stdin("a = 1 mm").assert().success();
    paths("", &serde_json::from_slice(&lines.get_output().stdout).unwrap(), &mut found);
    assert_eq!(found, documented("asfound calc"));
}

#[test]
fn the_page_names_the_keys_of_lookup() {
    names_the_keys_of(
        "asfound lookup fit",
        &[
            &["lookup", "fit", "50 mm H7/k6"],
            &["lookup", "fit", "50 mm H7"],
            &["lookup", "fit", "2 in RC4"],
            &["lookup", "fit", "50 mm"],
            &["lookup", "fit", "2 in"],
        ],
    );
    names_the_keys_of(
        "asfound lookup thread",
        &[&["lookup", "thread", "M12"], &["lookup", "thread", "G 1/2"]],
    );
    names_the_keys_of(
        "asfound lookup bearing",
        &[&["lookup", "bearing", "6205-2RS"], &["lookup", "bearing", "51110"]],
    );
    let mut of_materials = answered(&[&["lookup", "material", "GJL-150"], &["lookup", "material", "EN 8"]]);
    let all = answered(&[&["lookup", "material"]]);
    let each: BTreeSet<String> =
        all.iter().filter_map(|path| path.strip_prefix("materials[].")).map(str::to_owned).collect();
    assert!(of_materials.iter().all(|path| each.contains(path)), "{each:?}");
    of_materials.insert("materials[]".to_owned());
    assert_eq!(of_materials, documented("asfound lookup material"));
}

#[test]
fn the_page_names_the_keys_of_identify() {
    let bearing = ["identify", "bearing", "--bore", "50.1mm", "--outside", "70mm"];
    names_the_keys_of(
        "asfound identify bearing",
        &[
            &[&bearing[..], &["--width", "14mm"]].concat(),
            &[&bearing[..], &["--height", "14mm"]].concat(),
            &["identify", "bearing", "--bore", "25mm", "--outside", "52mm"],
        ],
    );
    names_the_keys_of(
        "asfound identify thread",
        &[&["identify", "thread", "--major", "12.7mm", "--tpi", "13"]],
    );
    names_the_keys_of(
        "asfound identify gear",
        &[&["identify", "gear", "--outside", "62mm", "--teeth", "60"]],
    );
    names_the_keys_of("asfound identify chain", &[&["identify", "chain", "--pitch", "12.7mm"]]);
}

/// What a script was promised of a call, with the figures of ISO 286-1:2010, ANSI B4.1-1967 and ISO 724.
#[test]
fn the_keys_that_a_script_relies_on_hold_their_figures() {
    let told = |words: &[&str]| json(asfound(Path::new(".")).args(words).args(["--format", "json"]));
    let pair = told(&["lookup", "fit", "50 mm H7/k6"]);
    assert_eq!(pair["size_mm"], 50.0);
    assert_eq!(pair["hole"], serde_json::json!({"class": "H7", "lower_um": 0.0, "upper_um": 25.0}));
    assert_eq!(pair["shaft"], serde_json::json!({"class": "k6", "lower_um": 2.0, "upper_um": 18.0}));
    assert_eq!(pair["clearance_um"], serde_json::json!({"min": -18.0, "max": 23.0}));
    assert_eq!(pair["kind"], "transition");
    assert_eq!(told(&["lookup", "fit", "Ø50 mm H7/k6"]), pair);
    let alone = told(&["lookup", "fit", "120 mm H7"]);
    assert!(alone.get("shaft").is_none() && alone.get("clearance_um").is_none(), "{alone}");
    assert_eq!(alone["hole"]["upper_um"], 35.0);
    let inch = told(&["lookup", "fit", "2 in RC4"]);
    assert_eq!((&inch["size_in"], &inch["fit"]), (&serde_json::json!(2.0), &serde_json::json!("RC4")));
    assert_eq!(inch["shaft"], serde_json::json!({"lower_thou": -2.4, "upper_thou": -1.2}));
    let thread = told(&["lookup", "thread", "M12 x 1.25"]);
    assert_eq!(
        [&thread["major_mm"], &thread["pitch_mm"]],
        [&serde_json::json!(12.0), &serde_json::json!(1.25)]
    );
    let bearing = told(&["identify", "bearing", "--bore", "50.1mm", "--outside", "70mm", "--height", "14mm"]);
    let first = &bearing["candidates"][0];
    assert_eq!((&first["designation"], &first["standard"]), (&"51110".into(), &"ISO 104".into()));
    assert_eq!(first["deviation_mm"]["bore"], 0.1);
    let value = told(&["calc", "2 5/16 in to mm"]);
    assert_eq!((&value["value"], &value["unit"]), (&serde_json::json!(58.7375), &"mm".into()));
}
