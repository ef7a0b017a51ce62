//! As left: what changed and whether limits are held; the closing chapter once every step is over.

use std::path::Path;

use super::asfound;
use super::scratch::{json, project, write};

/// A winch whose work is done: a journal turned true, a pawl left as it was, a bush made.
pub(super) const NOTES: &[(&str, &str)] = &[
    (
        "dossier.yaml",
        "title: The winch at Heron Staithe\nunits: inch\nstart: 2027-03-01\nhome: barn\ninstruments:\n  \
         mic: {what: outside micrometer, resolution: 0.0001 in, within: 0.0002 in}\n",
    ),
    ("barn.md", "---\nkind: shop\nname: The barn\n---\n"),
    ("yard.md", "---\nkind: shop\nname: The Gull Yard\nprocesses: [turning]\n---\n"),
    ("spindle.md", "---\nkind: part\nname: Spindle\ndisposition: rework\n---\n"),
    (
        "bush-new.md",
        "---\nkind: part\nname: New bush\ndisposition: make\nreplaces: bush\nupkeep:\n  \
         - {does: grease the bush, every: 3 months, with: calcium grease}\n  \
         - {does: look for cracks, every: before every lift}\n  - {does: take it apart, every: year}\n---\n",
    ),
    (
        "bush.md",
        "---\nkind: part\nname: Old bush\ndisposition: reuse\n---\n\n```calc\ncheck 3 mm >= 5 mm \"wall of the bush\"\n```\n",
    ),
    (
        "bush-wall.md",
        "---\nkind: measurement\nof: bush\nfeature: wall of the bush\nstate: as-left\ninstrument: mic\n\
         limits: 0.2000 in .. 0.2100 in\nvalue: 0.1200 in\n---\n",
    ),
    (
        "drum.md",
        "---\nkind: part\nname: Drum\ndisposition: reuse\n---\n\n```calc\ncheck 2 mm >= 3 mm \"flange\"\n```\n",
    ),
    ("pawl.md", "---\nkind: part\nname: Pawl\ndisposition: rework\n---\n"),
    (
        "hairline.md",
        "---\nkind: finding\nabout: [drum]\ncondition: hairline in the flange\nseverity: serious\n---\n",
    ),
    ("blunt.md", "---\nkind: finding\nabout: [pawl]\ncondition: blunt\nseverity: minor\n---\n"),
    ("oval.md", "---\nkind: finding\nabout: [spindle]\ncondition: oval by the collar\n---\n"),
    ("scratched.md", "---\nkind: finding\nabout: [spindle]\ncondition: scratched by the seal\n---\n"),
    ("key.md", "---\nkind: part\nname: Key of the drum\ndisposition: reuse\n---\n"),
    ("broken.md", "---\nkind: finding\nabout: [bush]\ncondition: broken across\n---\n"),
    (
        "journal-found.md",
        "---\nkind: measurement\nof: spindle\nfeature: journal\ninstrument: mic\nunit: in\n\
         limits: 1.9980 in .. 2.0000 in\n---\n\n| end | 0° | 90° |\n|---|---|---|\n| near | 1.9964 | 1.9971 |\n\
         | far | 1.9966 | 1.9975 |\n",
    ),
    (
        "journal-left.md",
        "---\nkind: measurement\nof: spindle\nfeature: journal\nstate: as-left\ninstrument: mic\nunit: in\n\
         limits: 1.9880 in .. 1.9900 in\n---\n\n| end | 0° | 90° |\n|---|---|---|\n| near | 1.9889 | 1.9890 |\n\
         | far | 1.9890 | 1.9891 |\n",
    ),
    (
        "collar-found.md",
        "---\nkind: measurement\nof: spindle\nfeature: collar\ninstrument: mic\nlimits: 2.4980 in .. 2.5000 in\n\
         value: 2.4990 in\n---\n",
    ),
    (
        "collar-left.md",
        "---\nkind: measurement\nof: spindle\nfeature: collar\nstate: as-left\ninstrument: mic\nvalue: 2.4981 in\n---\n",
    ),
    (
        "flange.md",
        "---\nkind: measurement\nof: drum\nfeature: flange\ninstrument: mic\nlimits: 0.7500 in .. 0.7600 in\n\
         value: 0.7402 in\n---\n",
    ),
    ("whose.md", "---\nkind: question\nasks: Whose mark is on the drum?\n---\n"),
    (
        "turn.md",
        "---\nkind: step\ndoes: Turn the journal true\nparts: [spindle]\nat: yard\nprocesses: [turning]\nmends: [oval]\n\
         state: done\ndone_on: 2027-03-09\n---\n",
    ),
    (
        "make.md",
        "---\nkind: step\ndoes: Make the bush\nmakes: [bush-new]\nstate: done\ndone_on: 2027-03-20\n---\n",
    ),
    (
        "fit.md",
        "---\nkind: step\ndoes: Fit the bush\nrefits: [bush-new]\nat: barn\nstate: done\ndone_on: 2027-03-21\n\
         done_by: my sister\n---\n",
    ),
    (
        "grease.md",
        "---\nkind: step\ndoes: Grease the bush\nparts: [bush-new]\nat: barn\nstate: done\ndone_on: 2027-03-22\n---\n",
    ),
    ("file-pawl.md", "---\nkind: step\ndoes: File the pawl\nparts: [pawl]\nstate: dropped\n---\n"),
    ("licence.md", "---\nkind: paper\ntitle: Licence of the quay\nvalid_until: 2028-05-01\n---\n"),
    ("log.md", "---\nkind: entry\ndate: 2027-03-20\nhours: {turn: 2.5 h, make: 4 h}\n---\nDone at last.\n"),
];

/// The text of the dossier as a reader hears it; `None` where poppler is not installed and CI is not set.
pub(super) fn heard(dir: &Path) -> Option<String> {
    asfound(dir).args(["build", "crane", "--draft"]).assert().success();
    text_of(&dir.join("crane/out/dossier.pdf"))
}

/// The text of a PDF, lines joined; `None` as above.
pub(super) fn text_of(pdf: &Path) -> Option<String> {
    let out = match std::process::Command::new("pdftotext").args(["-enc", "UTF-8"]).arg(pdf).arg("-").output()
    {
        Ok(out) => out,
        Err(error) => {
            assert!(std::env::var_os("CI").is_none(), "pdftotext must be installed where CI runs: {error}");
            return None;
        }
    };
    assert!(out.status.success(), "{out:?}");
    Some(String::from_utf8(out.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" "))
}

/// The figures by hand: the largest reading as left is 1.9891 in, 0.0009 in below its upper limit; half a step (0.00005 in)
/// and the micrometer's 0.0002 in, both rectangular, give √(0.00005² + 0.0002²)/√3 · 2 = 0.00024 in (JCGM 100:2008, 4.3.7
/// and 5.1.2), which prints as 0.0003 in, no finer than it was read. The mean of 1.9964, 1.9971, 1.9966 and 1.9975 is 1.9969, of the later ones 1.9890: 0.0079 in smaller, and
/// the micrometer's own error cancels: 2 · √(8 · (0.00005/4)²/3) = 0.000041 in.
#[test]
fn as_left_says_what_changed_and_whether_limits_are_held() {
    let Some(text) = heard(project(NOTES).path()) else { return };
    for says in [
        "Outside the limits 1.9980 in to 2.0000 in, by 0.0016 in, known to ± 0.0003 in.",
        "Within the limits 1.9880 in to 1.9900 in, by 0.0009 in, known to ± 0.0003 in.",
        "The mean went from 1.9969 in to 1.9890 in: 0.0079 in smaller, known to ± 0.0001 in.",
        "Out of round went from 0.0009 in to 0.0001 in. It was found",
        "It was found outside its limits, then 1.9980 in to 2.0000 in, and is left within its new ones.",
        // Without limits of its own it is held to those that it was found against.
        "Not settled against the limits 2.4980 in to 2.5000 in: 0.0001 in inside, known to ± 0.0003 in; \
         knowing it to ± 0.0001 in would settle it.",
        "The size went from 2.4990 in to 2.4981 in: 0.0009 in smaller, known to ± 0.0001 in.",
    ] {
        assert!(text.contains(says), "`{says}` is missing from:\n{text}");
    }
}

#[test]
fn the_closing_chapter_says_what_was_done_and_what_remains() {
    let dir = project(NOTES);
    let Some(text) = heard(dir.path()) else { return };
    let (_, chapter) = text.split_once("What was done and by whom").expect("there is a closing chapter");
    let chapter = chapter.split("What the calculations rest on").next().unwrap();
    for says in [
        "inspected by whoever is licensed to",
        // Done where others work, done by nobody who is named, named, and done where the keeper works.
        "Turn the journal true The Gull Yard 9 March 2027 2.5 h",
        "Make the bush not noted 20 March 2027 4",
        "Fit the bush my sister 21 March 2027",
        "Grease the bush at: The barn 22 March 2027",
        "6.5 h",
        "1.9964 to 1.9975 in",
        "1.9889 to 1.9891 in within",
        "2.4990 in 2.4981 in not settled",
        "Hairline in the flange",
        "left as it was found",
        "Blunt",
        "Scratched by the seal",
        "no step says that it mends this; step 1 worked on it since",
        "Key of the drum",
        "no finding, no measurement and no work on it says what condi",
        "not measured since; as found outside the limits 0.7500 in to 0.7600 in",
        "the check 2 mm >= 3 mm fails by 1 mm (flange)",
        "Whose mark is on the drum?",
        "the work ended without an answer",
        "planned, and dropped",
        "valid until 1 May 2028",
        "Grease the bush every 3 months calcium grease",
        "before every lift",
        "every year",
    ] {
        assert!(chapter.contains(says), "`{says}` is missing from:\n{chapter}");
    }
    // What was mended or replaced is no longer watched; the keeper is not named for what nobody signed.
    let (mended, watched) = chapter.split_once("To be watched").unwrap();
    assert!(mended.contains("Oval by the collar"), "{mended}");
    for gone in ["Oval by the collar", "Broken across", "the keeper", "3 mm >= 5 mm", "wall of the bush"] {
        assert!(!watched.contains(gone), "`{gone}` got into:\n{watched}");
    }
    assert_eq!(chapter.matches("left as it was found").count(), 2, "{chapter}");
    assert!(text.contains("No step is open: there is no end to forecast."), "{text}");
    assert!(!text.contains("the last step is done by"), "{text}");
    // The finding itself says what became of it.
    assert!(text.contains("Mended by: Turn the journal true (step 1,"), "{text}");
    assert!(text.contains("Mends: oval by the collar"), "{text}");
}

/// Two parts of one finding, both stripped of their paint; a bend measured as found and twice as left.
const STRIPPED: &[(&str, &str)] = &[
    (
        "dossier.yaml",
        "title: A screw\nkeeper: The Heron Trust\nhome: shed\ninstruments:\n  c: {what: calliper, within: 0.001 in}\n",
    ),
    ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
    ("screw.md", "---\nkind: part\nname: Screw\ndisposition: rework\n---\n"),
    ("other.md", "---\nkind: part\nname: Other\ndisposition: reuse\n---\n"),
    (
        "f.md",
        "---\nkind: finding\nabout: [screw, other]\nseen: 2027-01-03\ncondition: lead paint\nseverity: dangerous\n---\n",
    ),
    ("before.md", "---\nkind: step\ndoes: Sweep it\nparts: [other]\nstate: done\ndone_on: 2027-01-02\n---\n"),
    (
        "s.md",
        "---\nkind: step\ndoes: strip the paint\nparts: [screw, other]\nat: shed\nstate: done\ndone_on: 2027-02-05\n---\n",
    ),
    (
        "bend.md",
        "---\nkind: measurement\nof: screw\nfeature: bend\ninstrument: c\ndate: 2027-01-03\nvalue: 0.500 in\n\
         limits: 0 in .. 0.100 in\n---\n",
    ),
    (
        "bend-left.md",
        "---\nkind: measurement\nof: screw\nfeature: bend\nstate: as-left\ninstrument: c\ndate: 2027-02-03\n\
         value: 0.062 in\nlimits: 0 in .. 0.100 in\n---\n",
    ),
    (
        "bend-again.md",
        "---\nkind: measurement\nof: screw\nfeature: bend\nstate: as-left\ninstrument: c\ndate: 2027-02-09\n\
         value: 0.060 in\nlimits: 0 in .. 0.100 in\n---\n",
    ),
];

fn watched(dir: &Path) -> Vec<(String, String)> {
    asfound(dir).args(["build", "crane", "--draft"]).assert().success();
    let state = std::fs::read_to_string(dir.join("crane/out/dossier.json")).unwrap();
    let state: serde_json::Value = serde_json::from_str(&state).unwrap();
    let word = |watch: &serde_json::Value, key: &str| watch[key].as_str().unwrap().to_owned();
    let watch = state["closing"]["watch"].as_array().unwrap();
    watch.iter().map(|watch| (word(watch, "id"), word(watch, "why"))).collect()
}

#[test]
fn nothing_counts_as_found_that_was_worked_on_or_measured_since() {
    let dir = project(STRIPPED);
    assert_eq!(watched(dir.path()), [("f".to_owned(), "worked on since".to_owned())]);
    let Some(text) = heard(dir.path()) else { return };
    assert!(!text.contains("left as it was found") && !text.contains("not measured since"), "{text}");
    // The keeper is on the cover and at the foot of the page, and signs for nothing.
    let (_, chapter) = text.split_once("What was done and by whom").unwrap();
    assert!(chapter.contains("Strip the paint at: The shed 5 February 2027"), "{chapter}");
    let (table, _) = chapter.split_once("Mended").unwrap();
    assert!(!table.contains("Heron Trust"), "{table}");
    for figures in ["0.500 in 0.062 in within", "0.500 in 0.060 in within"] {
        assert!(chapter.contains(figures), "`{figures}` is missing from:\n{chapter}");
    }
}

#[test]
fn a_finding_is_closed_by_the_step_that_mends_it() {
    let dir = project(STRIPPED);
    let strip = "---\nkind: step\ndoes: strip the paint\nparts: [screw]\nmends: [f]\nstate: done\ndone_on: 2027-02-05\n---\n";
    write(dir.path(), "s.md", strip);
    assert_eq!(watched(dir.path()), []);
    write(dir.path(), "s.md", &strip.replace("done\ndone_on: 2027-02-05", "dropped"));
    assert_eq!(
        watched(dir.path()),
        [("f", "condition kept"), ("s", "dropped")].map(|(id, why)| (id.to_owned(), why.to_owned()))
    );
}

#[test]
fn there_is_no_closing_chapter_while_a_step_is_open() {
    let dir = project(NOTES);
    write(dir.path(), "oil.md", "---\nkind: step\ndoes: Oil it\nparts: [spindle]\n---\n");
    let Some(text) = heard(dir.path()) else { return };
    assert!(!text.contains("What was done and by whom"));
    let state = std::fs::read_to_string(dir.path().join("crane/out/dossier.json")).unwrap();
    let state: serde_json::Value = serde_json::from_str(&state).unwrap();
    assert!(state["closing"].is_null());
}

#[test]
fn other_programs_hear_of_it() {
    let dir = project(NOTES);
    asfound(dir.path()).args(["build", "crane", "--draft"]).assert().success();
    let state = std::fs::read_to_string(dir.path().join("crane/out/dossier.json")).unwrap();
    let state: serde_json::Value = serde_json::from_str(&state).unwrap();
    let watched: Vec<(&str, &str)> = state["closing"]["watch"]
        .as_array()
        .unwrap()
        .iter()
        .map(|watch| (watch["id"].as_str().unwrap(), watch["why"].as_str().unwrap()))
        .collect();
    assert_eq!(
        watched,
        [
            ("hairline", "condition kept"),
            ("blunt", "condition kept"),
            ("scratched", "worked on since"),
            ("key", "not looked at"),
            ("flange", "not measured since"),
            ("collar-left", "limits not held"),
            ("drum", "check fails"),
            ("whose", "open"),
            ("file-pawl", "dropped"),
            ("licence", "runs out"),
        ]
    );
    let done = state["closing"]["done"].as_array().unwrap().iter();
    let by: Vec<_> = done.map(|done| (done["at"].as_str(), done["done_by"].as_str())).collect();
    assert_eq!(
        by,
        [(Some("yard"), None), (None, None), (Some("barn"), Some("my sister")), (Some("barn"), None)]
    );
    assert_eq!(state["closing"]["mended"], serde_json::json!([{"id": "oval", "by": ["turn"]}]));
    let bush = state["parts"].as_array().unwrap().iter().find(|part| part["id"] == "bush-new").unwrap();
    assert_eq!(bush["upkeep"][0]["every"], "every 3 months");
    assert!((bush["upkeep"][0]["every_days"].as_f64().unwrap() - 91.3).abs() < 0.1);
    assert!(bush["upkeep"][1]["every_days"].is_null());
    let next = json(asfound(dir.path()).args(["next", "crane", "--format", "json"]));
    assert_eq!(next["ready"], serde_json::json!([]));
}
