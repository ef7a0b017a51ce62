//! What a calculation refers to decides what is printed of it: read by the engine, never from its text.

use std::collections::BTreeMap;

use asfound::dossier::NoteId;
use asfound::render::{self, Addressee, Edition, Templates, sheet, state_json};
use asfound::{Outlook, Project};
use serde_json::Value;

use super::scratch::project;
use super::sheet::unescaped;

type Folder = BTreeMap<String, String>;

fn texts<'a>(folder: impl IntoIterator<Item = (&'a String, &'a Vec<u8>)>) -> Folder {
    folder
        .into_iter()
        .map(|(path, text)| (path.clone(), String::from_utf8_lossy(text).into_owned()))
        .collect()
}

/// The virtual files of a dossier, and its state.
fn laid(notes: &[(&str, &str)]) -> (Folder, Value) {
    let dir = project(notes);
    let project = Project::open(&dir.path().join("crane")).unwrap();
    assert!(!project.has_errors(), "{:?}", project.problems());
    let outlook = Outlook::of(&project);
    let edition = Edition::new(&project, &outlook, None, false);
    let state = serde_json::from_str(&state_json(&edition)).unwrap();
    (texts(&render::dossier(&edition, &Templates::load(None).unwrap()).unwrap()), state)
}

/// All of the chapters' text, without the look.
fn pages(folder: &Folder) -> String {
    folder.iter().filter(|(path, _)| !path.starts_with("/look/")).map(|(_, text)| unescaped(text)).collect()
}

const REPAIR: &str =
    "undersize_repair(nominal: 70 mm, journal_min: 69.62 mm, bore_max: 70.81 mm, bore: 80 mm)";

/// A part whose note works out two repairs and this line.
fn repaired(line: &str) -> String {
    let text = format!("two = {REPAIR}\none = {REPAIR}\n{line}");
    let part = format!("---\nkind: part\nname: Post\ndisposition: reuse\n---\n\n```calc\n{text}\n```\n");
    let notes = [
        ("dossier.yaml", "title: A crane\nunits: metric\n"),
        ("post.md", part.as_str()),
        // A note that has the name of a value.
        ("one.md", "---\nkind: part\nname: One\ndisposition: reuse\n---\n"),
    ];
    pages(&laid(&notes).0)
}

/// A minus without blanks is no hyphen: both fields are read, and only they are printed.
#[test]
fn a_minus_between_fields_refers_to_both() {
    let pages = repaired("gap = one.bore-two.journal");
    assert!(!pages.contains("kind: \"record\""), "a record is printed whole:\n{pages}");
    for field in ["(name: [bore]", "(name: [journal]"] {
        assert_eq!(pages.matches(field).count(), 1, "{field}");
    }
}

/// A value of the name of a note is the value.
#[test]
fn a_name_is_not_taken_for_a_note() {
    let pages = repaired("thin = one.wall + two.wall");
    assert!(!pages.contains("kind: \"record\""), "a record is printed whole:\n{pages}");
    for of in ["one", "two"] {
        let wall = format!("symbol: eq(\"{of} sub wall\"");
        assert_eq!(pages.matches(&wall).count(), 1, "{wall} in\n{pages}");
    }
}

/// A name that holds a word of the page setter is printed as it is.
#[test]
fn a_name_with_none_in_it_stays_whole() {
    let pages = repaired("nonesuch = 3 mm + 1 mm");
    assert!(pages.contains("nonesuch") && !pages.contains("[]such"), "{pages}");
}

/// An inch mark does not end what a check asks.
#[test]
fn a_check_in_inch_marks_is_told_whole() {
    let part = "---\nkind: part\nname: Post\ndisposition: reuse\n---\n\n\
                ```calc\ncheck 2 1/2\" >= 2 5/16\" \"as drawn\"\ncheck 2 in >= 1 in # enough\n```\n";
    let (_, state) = laid(&[("dossier.yaml", "title: A crane\nunits: inch\n"), ("post.md", part)]);
    let checks = state["checks"].as_array().unwrap();
    assert_eq!(checks[0]["says"], "2 1/2\" >= 2 5/16\"");
    assert_eq!(checks[0]["remark"], "as drawn");
    assert_eq!(checks[1]["says"], "2 in >= 1 in");
}

/// A size in a fraction keeps it on a job sheet, in both systems; a note that only a remark names is not drawn on.
#[test]
fn a_sheet_keeps_fractions_of_an_inch() {
    let notes = [
        ("dossier.yaml", "title: A crane\nunits: inch\nboth: true\n"),
        ("yard.md", "---\nkind: shop\nname: The yard\nprocesses: [turning]\n---\n"),
        (
            "post.md",
            "---\nkind: part\nname: Post\ndisposition: rework\n---\n\n\
             ```calc\ncollar = 2 5/16 in +0.002/-0 \"not as @drum.bore\"\n```\n",
        ),
        ("drum.md", "---\nkind: part\nname: Drum\ndisposition: reuse\n---\n"),
        (
            "neck.md",
            "---\nkind: measurement\nof: post\nfeature: neck\nunit: in\nlimits: 2 5/16 in .. 2 3/8 in\nvalue: 2.301 in\n---\n",
        ),
        ("turn.md", "---\nkind: step\ndoes: Turn the post\nparts: [post]\nprocesses: [turning]\n---\n"),
    ];
    let dir = project(&notes);
    let project = Project::open(&dir.path().join("crane")).unwrap();
    let outlook = Outlook::of(&project);
    let edition = Edition::new(&project, &outlook, None, false);
    let Some(NoteId::Shop(yard)) = project.dossier.find("yard") else { panic!("the yard") };
    let sheet = sheet(edition, Addressee::Shop(yard), &[], &Templates::load(None).unwrap()).unwrap().unwrap();
    let pages = pages(&texts(&sheet.folder));
    for figure in ["2 5/16", "2.3125", "2.3145", "2.301", "58.7375", "58.45"] {
        assert!(pages.contains(figure), "`{figure}` is missing from:\n{pages}");
    }
    // The limits by which wear is judged are no sizes to work to.
    for figure in ["2.3750", "60.3"] {
        assert!(!pages.contains(figure), "`{figure}` got into:\n{pages}");
    }
}
