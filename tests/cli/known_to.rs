//! How well a size is known, in sentences and on job sheets: worded so that no one at a lathe takes it for a tolerance.

use super::asfound;
use super::closing::text_of;
use super::scratch::project;

const NOTES: &[(&str, &str)] = &[
    (
        "dossier.yaml",
        "title: The winch\nunits: metric\nmoney: GBP\nstart: 2027-03-01\nhome: barn\ninstruments:\n  \
         mic: {what: micrometer, resolution: 0.001 mm, within: 0.002 mm}\n  \
         other: {what: borrowed micrometer, resolution: 0.001 mm, within: 0.002 mm}\n  \
         rule: {what: steel rule}\n",
    ),
    ("barn.md", "---\nkind: shop\nname: The barn\nprocesses: [fitting]\n---\n"),
    ("yard.md", "---\nkind: shop\nname: The yard\nprocesses: [turning]\n---\n"),
    (
        "spindle.md",
        "---\nkind: part\nname: Spindle\ndisposition: rework\n---\n\
         The journal cleans up at `calc clean`, from `calc found`.\n\n\
         ```calc\nfound = 25.212 mm ± 0.005 mm\nassume skim = 0.2 mm ± 0.05 mm \"by eye\"\nclean = found - skim\n\
         check clean >= 24.8 mm\n```\n",
    ),
    (
        "turn.md",
        "---\nkind: step\ndoes: Turn the journal\nparts: [spindle]\nat: yard\n---\nTo `calc @spindle.clean`.\n",
    ),
    (
        "a-found.md",
        "---\nkind: measurement\nof: spindle\nfeature: collar\ninstrument: mic\nvalue: 40.000 mm\n---\n",
    ),
    (
        "a-left.md",
        "---\nkind: measurement\nof: spindle\nfeature: collar\nstate: as-left\ninstrument: mic\nvalue: 39.990 mm\n---\n",
    ),
    (
        "b-found.md",
        "---\nkind: measurement\nof: spindle\nfeature: land\ninstrument: mic\nvalue: 60.000 mm\n---\n",
    ),
    (
        "b-left.md",
        "---\nkind: measurement\nof: spindle\nfeature: land\nstate: as-left\ninstrument: other\nvalue: 59.990 mm\n---\n",
    ),
    (
        "c-found.md",
        "---\nkind: measurement\nof: spindle\nfeature: spigot\ninstrument: rule\nvalue: 70.000 mm\n---\n",
    ),
    (
        "c-left.md",
        "---\nkind: measurement\nof: spindle\nfeature: spigot\nstate: as-left\ninstrument: mic\nvalue: 69.990 mm\n---\n",
    ),
];

/// The text of one PDF of the project; `None` where poppler is not installed and CI is not set.
fn pages(arguments: &[&str], pdf: &str) -> Option<String> {
    let dir = project(NOTES);
    asfound(dir.path()).args(arguments).assert().success();
    text_of(&dir.path().join("crane/out").join(pdf)).map(|text| text.replace('\u{a0}', " "))
}

#[test]
fn in_a_sentence_an_uncertainty_is_worded() {
    let Some(text) = pages(&["build", "crane", "--draft"], "dossier.pdf") else { return };
    for says in [
        "The journal cleans up at 25.012 mm (known to ± 0.055 mm), from 25.2120 mm (known to ± 0.0050 mm).",
        ", by 0.212 mm, known to ± 0.055 mm",
        "0.2 mm (known to ± 0.05 mm)",
    ] {
        assert!(text.contains(says), "`{says}` is missing from:\n{text}");
    }
}

/// Every ± of a sheet stands behind "known to".
#[test]
fn on_a_sheet_no_uncertainty_stands_where_a_tolerance_would() {
    let Some(text) = pages(&["sheet", "yard", "crane"], "sheet-yard.pdf") else { return };
    let signs: Vec<&str> = text.match_indices('±').map(|(at, _)| text[..at].trim_end()).collect();
    assert!(!signs.is_empty(), "{text}");
    for before in signs {
        assert!(before.ends_with("known to"), "…{} ±", before.chars().rev().take(60).collect::<String>());
    }
}

/// What one micrometer has wrong both times cancels, and half a step each time is left: 2 · √(2 · 0.0005²/3) = 0.0008 mm;
/// of two micrometers the 0.002 mm of each count: 2 · √(2 · (0.002² + 0.0005²)/3) = 0.0034 mm (JCGM 100:2008, 4.3.7, 5.1.2).
#[test]
fn only_one_instrument_cancels_its_own_error() {
    let Some(text) = pages(&["build", "crane", "--draft"], "dossier.pdf") else { return };
    for says in [
        "0.010 mm smaller, known to ± 0.001 mm. Read with one instrument both times, so its own error cancels.",
        "0.010 mm smaller, known to ± 0.004 mm. Read with two instruments, so the error of each counts.",
        "How far off an instrument reads is not known for both readings, and not counted where it is not.",
    ] {
        assert!(text.contains(says), "`{says}` is missing from:\n{text}");
    }
}
