//! One rule for every verdict: of a fit, of limits and of the chart of wear, which never contradict each other.

use std::path::Path;

use asfound::render::{self, Edition, Templates};
use asfound::{Outlook, Project};
use serde_json::{Value, json};

use super::asfound;
use super::closing::text_of;
use super::scratch::{project, write};

/// A pivot of three journals in three bushes, 60 H7/f7: by ISO 286-1:2010, over 50 up to 65 mm, H7 is 0/+30 µm and f7
/// -60/-30 µm, so a hole is 60.000 to 60.030 mm and a shaft 59.940 to 59.970 mm.
const NOTES: &[(&str, &str)] = &[
    (
        "dossier.yaml",
        "title: The sluice at Heron Staithe\nunits: metric\nton: metric\ninstruments:\n  \
         fine: {what: a gauge, resolution: 0.001 mm, within: 0.001 mm}\n",
    ),
    ("pin.md", "---\nkind: part\nname: Pin\ndisposition: rework\n---\n"),
    (
        "bush.md",
        "---\nkind: part\nname: Bush\ndisposition: reuse\nfit: {with: pin, at: 60 mm, class: H7/f7}\n---\n",
    ),
];

fn measured(id: &str, keys: &str) -> (String, String) {
    (
        format!("{id}.md"),
        format!("---\nkind: measurement\nfeature: {id}\ninstrument: fine\nunit: mm\n{keys}\n---\n"),
    )
}

fn built(notes: &[(String, String)]) -> (tempfile::TempDir, Value) {
    let dir = project(NOTES);
    for (path, text) in notes {
        write(dir.path(), path, text);
    }
    asfound(dir.path()).args(["build", "crane", "--draft"]).assert().success();
    let state = std::fs::read_to_string(dir.path().join("crane/out/dossier.json")).unwrap();
    (dir, serde_json::from_str(&state).unwrap())
}

fn judged<'a>(state: &'a Value, id: &str) -> &'a Value {
    let judged = state["fits"][0]["measured"].as_array().unwrap().iter();
    judged.clone().find(|each| each["id"] == id).unwrap_or_else(|| panic!("{id} is not judged"))
}

fn held<'a>(state: &'a Value, id: &str) -> &'a Value {
    let all = state["measurements"].as_array().unwrap().iter();
    &all.clone().find(|each| each["id"] == id).unwrap_or_else(|| panic!("{id} is not there"))["held"]
}

/// The figures by hand: half a step of 0.5 µm and the gauge's 1 µm, both rectangular, give 2 · √(0.5² + 1²)/√3 = 1.29 µm
/// (JCGM 100:2008, 4.3.7 and 5.1.2). A journal of 59.935 mm is 5 µm past its limit and fails, one of 59.941 mm is 1 µm
/// inside and not settled, a bore of 60.010 mm is 10 µm inside and holds (ISO 14253-1:2017, clause 5).
#[test]
fn a_fit_holds_fails_or_is_not_settled() {
    let (dir, state) = built(&[
        measured("bore", "of: bush\nsurface: inside\nvalue: 60.010"),
        measured("worn", "of: pin\nvalue: 59.935"),
        measured("near", "of: pin\nvalue: 59.941"),
        // No size, though its figure in base units is that of the fit.
        (
            "heavy.md".to_owned(),
            "---\nkind: measurement\nof: pin\nfeature: mass\nvalue: 0.0600 kg\n---\n".to_owned(),
        ),
    ]);
    let fit = &state["fits"][0];
    assert_eq!(fit["measured"].as_array().unwrap().len(), 3);
    assert_eq!(
        [&fit["id"], &fit["with"], &fit["class"], &fit["size_mm"]],
        [&json!("bush"), &json!("pin"), &json!("H7/f7"), &json!(60.0)]
    );
    assert_eq!(fit["hole"], json!({"least_mm": 60.0, "most_mm": 60.03}));
    assert_eq!(fit["shaft"], json!({"least_mm": 59.94, "most_mm": 59.97}));
    for (id, member, verdict, margin) in [
        ("bore", "hole", "holds", 0.010),
        ("worn", "shaft", "fails", -0.005),
        ("near", "shaft", "not settled", 0.001),
    ] {
        let judged = judged(&state, id);
        assert_eq!([&judged["member"], &judged["verdict"]], [member, verdict], "{id}");
        assert!((judged["margin"].as_f64().unwrap() - margin).abs() < 1e-9, "{judged}");
        assert!((judged["expanded_uncertainty"].as_f64().unwrap() - 0.001_291).abs() < 1e-6, "{judged}");
    }
    let Some(text) = text_of(&dir.path().join("crane/out/dossier.pdf")) else { return };
    let chapter = text.rsplit("Checks that fail or are not settled").next().unwrap();
    for says in [
        "Worn, as found: the shaft of H7/f7 at 60 mm",
        "worn 5 µm past, known to ± 2 µm",
        "Near, as found: the shaft of H7/f7 at 60 mm",
        "1 µm inside, known to ± 2 µm; knowing it to ± 1 µm would settle it",
        "the fit of Bush with Pin",
        "One check holds.",
    ] {
        assert!(chapter.contains(says), "`{says}` is missing from:\n{chapter}");
    }
    assert!(!chapter.contains("Bore, as found: the hole"), "what holds is only counted: {chapter}");
}

/// As found is not as it stays: every open step that has the part in hand is named, not the first of them alone.
#[test]
fn every_open_step_on_the_measured_part_is_named() {
    let step = |id: &str, keys: &str| {
        (format!("{id}.md"), format!("---\nkind: step\ndoes: Do {id}\nparts: [pin]\n{keys}---\n"))
    };
    let worn = measured("worn", "of: pin\nstate: as-found\nvalue: 59.935");
    let (dir, _) = built(&[
        worn,
        step("sample", ""),
        step("turn", "needs: [sample]\n"),
        step("look", "state: dropped\n"),
    ]);
    let Some(text) = text_of(&dir.path().join("crane/out/dossier.pdf")) else { return };
    assert!(text.contains("steps 1 and 2 still have it in hand"), "{text}");
}

/// A fit is judged as limits are: the same readings against the same limits, typed in a note, come to the same verdict;
/// of repeats the mean decides.
#[test]
fn a_fit_is_judged_as_its_limits_would_be() {
    let readings = [
        "value: 59.940",
        "value: 59.939",
        "value: 59.9415",
        "values: [59.938, 59.944, 59.946, 59.945]",
        "values: [59.9405, 59.9415, 59.9410]",
        "value: 59.972",
    ];
    let notes = readings.iter().enumerate().map(|(at, reading)| {
        measured(&format!("journal-{at}"), &format!("of: pin\nlimits: 59.940 .. 59.970\n{reading}"))
    });
    let (_dir, state) = built(&notes.collect::<Vec<_>>());
    for (at, reading) in readings.iter().enumerate() {
        let id = format!("journal-{at}");
        let (fit, limits) = (judged(&state, &id), held(&state, &id));
        assert_eq!(fit["verdict"], limits["verdict"], "{reading}");
        for figure in ["margin", "expanded_uncertainty"] {
            let [one, other] = [fit, limits].map(|each| each[figure].as_f64().unwrap());
            assert!((one - other).abs() < 1e-9, "{reading}: {one} and {other}");
        }
    }
}

/// As left takes the place of as found: only what is so now stands among the checks.
#[test]
fn a_journal_that_was_turned_true_is_judged_as_left() {
    let pair = |journal: &str| {
        [
            (format!("{journal}-found.md"), "state: as-found\nvalue: 59.900"),
            (format!("{journal}-left.md"), "state: as-left\nvalue: 59.955"),
        ]
        .map(|(path, keys)| {
            let (_, text) = measured(journal, &format!("of: pin\n{keys}"));
            (path, text)
        })
    };
    let (dir, state) = built(&pair("journal"));
    let told = ["journal-found", "journal-left"].map(|id| {
        let judged = judged(&state, id);
        (judged["verdict"].clone(), judged["latest"].clone())
    });
    assert_eq!(told, [(json!("fails"), json!(false)), (json!("holds"), json!(true))]);
    let Some(text) = text_of(&dir.path().join("crane/out/dossier.pdf")) else { return };
    assert!(text.contains("None. One check holds."), "{text}");
}

/// When all is done, a fit that is not held has to be watched.
#[test]
fn a_fit_that_is_not_held_is_watched_at_the_end() {
    let done = "---\nkind: step\ndoes: Ream the bush\nparts: [bush]\nstate: done\ndone_on: 2027-03-09\n---\n";
    let (dir, state) = built(&[
        measured("journal", "of: pin\nvalue: 59.935"),
        measured("bore", "of: bush\nsurface: inside\nvalue: 60.010"),
        ("ream.md".to_owned(), done.to_owned()),
    ]);
    assert_eq!(state["closing"]["watch"], json!([{"id": "bush", "why": "fit not held"}]));
    let Some(text) = text_of(&dir.path().join("crane/out/dossier.pdf")) else { return };
    let says = "journal, as found, fails in H7/f7 at 60 mm: worn 5 µm past, known to ± 2 µm";
    assert!(text.contains(says), "{text}");
}

/// What the chart of wear says beside a feature, against the sentence under its readings. A journal is worn when it is too
/// small, a bore when it is too large; the other side of the limits is no wear, and no reason to say that they are held. Of repeats the mean
/// decides, whatever one of them read.
#[test]
fn the_chart_of_wear_says_what_the_limits_say() {
    let journal = "of: pin\nlimits: 40.000 .. 40.020\n";
    let cases = [
        ("sound", format!("{journal}value: 40.010"), "within", "holds"),
        ("thin", format!("{journal}value: 39.990"), "0.50 tolerances, 0.010 mm", "fails"),
        ("thick", format!("{journal}value: 40.030"), "0.010 mm too large", "fails"),
        ("edge", format!("{journal}value: 40.0195"), "not settled", "not settled"),
        ("brink", format!("{journal}value: 39.9995"), "0.03 tolerances, 0.0005 mm", "not settled"),
        ("bore", format!("surface: inside\n{journal}value: 39.990"), "0.010 mm too small", "fails"),
        ("often", format!("{journal}values: [39.999{}]", ", 40.009".repeat(9)), "within", "holds"),
    ];
    let notes: Vec<_> = cases.iter().map(|(id, keys, ..)| measured(id, keys)).collect();
    let (dir, state) = built(&notes);
    let ranked = wear(&dir.path().join("crane"));
    for (id, _, says, verdict) in &cases {
        let line =
            ranked.iter().find(|line| line["label"] == *id).expect("every feature with limits is ranked");
        assert_eq!(line["says"], *says, "{id}");
        assert_eq!(line["verdict"], verdict.replace("not ", "un"), "{id}");
        assert_eq!(held(&state, id)["verdict"], *verdict, "{id}");
    }
    let order: Vec<&str> = ranked.iter().filter_map(|line| line["verdict"].as_str()).collect();
    let first = |verdict: &str| order.iter().position(|each| *each == verdict);
    let last = |verdict: &str| order.iter().rposition(|each| *each == verdict);
    assert!(last("fails") < first("unsettled") && last("unsettled") < first("holds"), "{order:?}");
}

/// What no wear is shown of is as far off as its furthest reading, on whichever side.
#[test]
fn how_far_off_nominal_counts_both_sides() {
    let keys = "of: pin\nnominal: 40.000\nstate: as-found";
    let table = "| place | size |\n|---|---|\n| top | 39.999 |\n| foot | 40.003 |\n";
    let (path, text) = measured("journal", keys);
    let note = (path, format!("{text}{table}"));
    let Some(text) = text_of(&built(&[note]).0.path().join("crane/out/dossier.pdf")) else { return };
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("from nominal 0.003"), "{text}");
}

/// The lines of the chart of wear.
fn wear(dir: &Path) -> Vec<Value> {
    let project = Project::open(dir).unwrap();
    let outlook = Outlook::of(&project);
    let edition = Edition::new(&project, &outlook, None, false);
    let folder = render::dossier(&edition, &Templates::load(None).unwrap()).unwrap();
    let tables = folder.iter().filter(|(path, _)| path.starts_with("/data/"));
    let mut tables = tables.map(|(_, bytes)| serde_json::from_slice::<Value>(bytes).unwrap());
    let chart = tables.find(|table| table["plot"] == "wear").expect("the chart is laid out");
    chart["lines"].as_array().unwrap().clone()
}
