//! Metric and inch on the pages: the dossier's choice, the other system in brackets.

use super::scratch::project;
use super::{asfound, closing::heard};

const NOTES: &[(&str, &str)] = &[
    (
        "shed.md",
        "---\nkind: shop\nname: The shed\nprocesses: [turning]\n\
         has: {swing: 20 in, heat: 300 degF, press: 40 psi, oil: 5 L}\n---\n",
    ),
    (
        "post.md",
        "---\nkind: part\nname: Post\ndisposition: rework\nmass: 900 lb\nenvelope: 11 ft x 9 in x 9 in\n\
         fit: {with: bush, at: 2 5/16 in, class: RC4}\n---\n\n\
         ```calc\nworn = 2.0000 in - 1.9950 in\nlift = 2 * 450 lb\n```\n\nIt is down by `calc worn to thou`.\n",
    ),
    (
        "bush.md",
        "---\nkind: part\nname: Bush\ndisposition: reuse\nstock: {section: tube, length: 58.74 mm}\n---\n",
    ),
    (
        "journal.md",
        "---\nkind: measurement\nof: post\nfeature: journal\nlimits: 1.9980 in .. 2.0000 in\nvalue: 1.9990 in\n---\n",
    ),
    (
        "turn.md",
        "---\nkind: step\ndoes: Turn it\nparts: [post]\nat: shed\nprocesses: [turning]\n\
         calls_for: {swing: 18 in, heat: 200 degF, press: 30 psi, oil: 4.5 L}\n---\n",
    ),
];

fn pages(about: &str) -> Option<String> {
    let dossier = ("dossier.yaml", format!("title: A crane\nhome: shed\nton: long\n{about}"));
    heard(project(&[&[(dossier.0, dossier.1.as_str())], NOTES].concat()).path())
}

fn holds(text: &str, needed: &[&str]) {
    for word in needed {
        assert!(text.contains(word), "`{word}` is missing from:\n{text}");
    }
}

#[test]
fn both_systems_stand_side_by_side() {
    let Some(text) = pages("units: inch\nboth: true\n") else { return };
    holds(
        &text,
        &[
            "mass 900 lb (408 kg)",
            "11 ft × 9 in × 9 in (3.35 m × 229 mm × 229 mm)",
            "2 5/16 in (58.7 mm) RC4",
            "tube, 2.3126 in (58.74 mm)",
            "1.9980 in to 2.0000 in (50.749 to 50.800 mm)",
            "swing 18 in (457 mm)",
            "heat 200 °F (93 °C)",
            "press 30 psi (207 kPa)",
            "oil 0.990 imperial gal (4.5 L)",
            "5.0 thou (0.127 mm)",
            // The working: twice 450 lb is worked out, not typed.
            "408.2 kg",
            "inches, with the metric size in brackets",
        ],
    );
}

#[test]
fn a_metric_dossier_keeps_what_was_typed_in_brackets() {
    let Some(text) = pages("units: metric\n") else { return };
    holds(
        &text,
        &[
            "mass 408 kg (900 lb)",
            "3.35 m × 229 mm × 229 mm (11 ft × 9 in × 9 in)",
            "58.738 mm (2 5/16 in) RC4",
            "tube, 58.74 mm",
            "50.749 to 50.800 mm (1.9980 in to 2.0000 in)",
        ],
    );
    assert!(!text.contains("58.74 mm ("), "{text}");
}

#[test]
fn an_inch_dossier_without_both_has_no_brackets_for_its_own() {
    let Some(text) = pages("units: inch\n") else { return };
    holds(&text, &["11 ft × 9 in × 9 in", "2 5/16 in RC4", "2.3126 in (58.74 mm)", "swing 18 in"]);
    assert!(!text.contains("(457 mm)") && !text.contains("(408"), "{text}");
}

/// ANSI B4.1-1967, RC4 over 1.97 to 3.15 in (`reference/ansi_b41_fits.csv` names the printings): hole +1.8/0 thou over
/// 2 5/16 in, so 2.3125 to 2.3143 in; 58.738 and 58.783 mm by 25.4 mm an inch.
#[test]
fn a_sheet_has_its_sizes_in_both() {
    let about = ("dossier.yaml", "title: A crane\nkeeper: Nobody\nhome: shed\nunits: inch\nboth: true\n");
    let dir = project(&[&[about], NOTES].concat());
    asfound(dir.path()).args(["sheet", "shed", "crane"]).assert().success();
    let Some(text) = super::closing::text_of(&dir.path().join("crane/out/sheet-shed.pdf")) else { return };
    holds(&text, &["2.3125", "2.3143", "58.738", "58.783", "the same", "900 lb (408 kg)"]);
}
