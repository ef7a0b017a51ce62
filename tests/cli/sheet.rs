//! `sheet`: what a helper gets, and what no helper gets.

use std::path::Path;
use std::process::Command;

use asfound::dossier::NoteId;
use asfound::render::{Addressee, Edition, Templates, sheet};
use asfound::{Outlook, Project};

use super::asfound;

/// A project with everything in it that must not go into a sheet for the Gull Yard.
const NOTES: &[(&str, &str)] = &[
    (
        "dossier.yaml",
        "title: The winch at Heron Staithe\nmachine: {kind: hand winch, built: about 1890}\nkeeper: Heron Trust\n\
         units: inch\nmoney: GBP\nhours_per_week: 8\nstart: 2027-03-01\nhome: barn\n\
         instruments:\n  mic: {what: outside micrometer, resolution: 0.0001 in, within: 0.0002 in}\n",
    ),
    ("shops/barn.md", "kind: shop\nname: The barn\nprocesses: [fitting]\n"),
    (
        "shops/gull-yard.md",
        "kind: shop\nname: The Gull Yard\nhas: {swing: 12 in, length: 4 ft}\nprocesses: [turning]\nrate: 4719 GBP/h\n\
         contact: Ask for Nell on 01234 567890\n",
    ),
    (
        "shops/tern-works.md",
        "kind: shop\nname: Tern Works, foundry\nprocesses: [casting]\ncontact: bill@ternworks.example\n",
    ),
    ("shops/idle.md", "kind: shop\nname: The idle shop\nprocesses: [plating]\n"),
    ("parts/winch.md", "kind: part\nname: The whole winch\nmass: 9007 lb\n"),
    (
        "parts/spindle.md",
        "kind: part\nname: Spindle\nwithin: winch\nmaterial: EN 8 steel\nmass: 62 lb\nenvelope: 30 x 2 x 2 in\n\
         disposition: rework\ncost: 7771 GBP\nfrom: Plover Supplies\nfit: {with: bush, at: 2 in, class: RC4}\n---\n\
         A memory of the spindle that is nobody's business.\n\n```calc\nclean = @journal.min - 2 thou to in\n```\n\n\
         ```calc\npay = 3 h * (41 GBP / 1 h)\nreach = 2 in + 1 in\n```\n",
    ),
    ("parts/bush.md", "kind: part\nname: Bush\nwithin: winch\ndisposition: reuse\n"),
    ("parts/drum.md", "kind: part\nname: Drum\nwithin: winch\ndisposition: reuse\ncost: 3331 GBP\n"),
    ("parts/ratchet.md", "kind: part\nname: Ratchet\nwithin: winch\ndisposition: reuse\n"),
    (
        "findings/scored.md",
        "kind: finding\nabout: [spindle]\ncondition: scored\nseverity: serious\nphotos:\n  - file: ../spindle.svg\n    \
         shows: The scored journal\n    marks: [{at: [0.5, 0.5], says: deepest groove}]\n  \
         - {file: ../plan.jpg, shows: The plan}\n",
    ),
    (
        "findings/theft.md",
        "kind: finding\nabout: [spindle]\ncondition: taken from the museum\nprivate: true\nphotos: [../secret.svg]\n",
    ),
    ("findings/drum-crack.md", "kind: finding\nabout: [drum]\ncondition: fissured\n"),
    (
        "measurements/journal.md",
        "kind: measurement\nof: spindle\nfeature: diameter of the journal\ninstrument: mic\nunit: in\nnominal: 2.000 in\n\
         limits: 1.998 in .. 2.000 in\n---\n| from the end | 0° | 90° |\n|---|---|---|\n| 1 in | 1.9964 | 1.9971 |\n\
         | 2 in | 1.9966 | 1.9975 |\n",
    ),
    (
        "measurements/hidden.md",
        "kind: measurement\nof: spindle\nfeature: hidden length\nprivate: true\ninstrument: mic\nvalue: 7.654 in\n",
    ),
    ("questions/bent.md", "kind: question\nasks: Is the spindle bent?\nabout: [spindle]\n"),
    ("questions/wobble.md", "kind: question\nasks: Why does the drum wobble?\nabout: [drum]\n"),
    ("questions/whose.md", "kind: question\nasks: Whose spindle is it?\nabout: [spindle]\nprivate: true\n"),
    (
        "steps/turn-spindle.md",
        "kind: step\ndoes: Turn the journal until clean\nparts: [spindle]\nat: gull-yard\n\
         calls_for: {swing: 6 in, length: 3 ft}\nprocesses: [turning]\ntakes: 4 h\ncost: 5551 GBP\nirreversible: true\n\
         if_wrong: A sleeve, shrunk on.\nhazards: [lifting, spring under the cover]\n---\n\
         Between the old centres, and [measured](../measurements/journal.md) before a tool touches it.\n\n\
         Tern Works once looked at it.\n\n\
         Worth 8642 GBP at the most.\n\n\
         See [[theft]] for how it came here.\n\n\
         Ring 01234 567-890 when it is done.\n\n\
         Then oil it.\n",
    ),
    (
        "steps/cast-drum.md",
        "kind: step\ndoes: Cast a new drum\nparts: [drum]\nat: tern-works\nprocesses: [casting]\n---\nOstrich pattern.\n",
    ),
    (
        "steps/cut-ratchet.md",
        "kind: step\ndoes: Cut the teeth of the ratchet anew\nparts: [ratchet]\nprocesses: [gear-cutting]\n\
         calls_for: {swing: 40 in}\n---\nSixteen teeth.\n",
    ),
    (
        "log/2027-02-01.md",
        "kind: entry\ndate: 2027-02-01\nabout: [spindle]\n---\nRobin came by with the spindle.\n",
    ),
];

const DRAWING: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="80" height="40"><path d="M0 20h80" stroke="black"/><text x="2" y="12">WORDS</text></svg>"#;

/// What the helper must find.
const NEEDED: &[&str] = &[
    "Gull Yard",
    "Heron Trust",
    "hand winch",
    "Turn the journal until clean",
    "swing 6 in",
    "turning",
    "Spindle",
    "EN 8 steel",
    "62 lb",
    "30 in × 2 in × 2 in",
    "two people",
    "Between the old centres",
    "Then oil it",
    "A sleeve, shrunk on",
    "Nobody under a load",
    "Spring under the cover.",
    "scored",
    "The scored journal",
    "deepest groove",
    "1.998",
    "1.9964",
    "1.9975",
    "outside micrometer",
    "Is the spindle bent?",
];

/// What the look adds.
const LETTER: [&str; 6] =
    ["work asked for", "This can't be undone", "Caution, lifting", "as left", "signed", "page 1 of"];

/// What nobody outside must find: money, contacts, private notes, other helpers, the rest of the machine.
const KEPT_BACK: &[&str] = &[
    "GBP",
    "7771",
    "5551",
    "3331",
    "8642",
    "4719",
    "Nell",
    "01234",
    "567",
    "Tern",
    "ternworks",
    "Plover",
    "museum",
    "theft",
    "at last",
    "hidden",
    "7.654",
    "Whose",
    "Drum",
    "drum",
    "wobble",
    "fissured",
    "Ostrich",
    "Ratchet",
    "ratchet",
    "Robin",
    "whole winch",
    "9007",
    "nobody's business",
    "named in",
    "reach",
    "The plan",
    "drawn at",
];

fn project() -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    for (path, text) in NOTES {
        let path = dir.path().join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        let text = match text.split_once("---\n") {
            _ if path.ends_with("dossier.yaml") => (*text).to_owned(),
            Some((keys, body)) => format!("---\n{keys}---\n{body}"),
            None => format!("---\n{text}---\n"),
        };
        std::fs::write(path, text).unwrap();
    }
    // A drawing is known by what is in it, whatever its name says.
    for (name, words) in
        [("spindle.svg", "the spindle"), ("secret.svg", "at last"), ("plan.jpg", "drawn at Tern Works")]
    {
        std::fs::write(dir.path().join(name), DRAWING.replace("WORDS", words)).unwrap();
    }
    dir
}

/// Everything that the page setter is given but the look, with the escapes undone.
fn made_text(dir: &Path, shop: Option<&str>) -> String {
    let notes = Project::open(dir).unwrap();
    assert!(!notes.has_errors(), "{:?}", notes.problems());
    let outlook = Outlook::of(&notes);
    let whom = match shop.map(|shop| notes.dossier.find(shop)) {
        Some(Some(NoteId::Shop(shop))) => Addressee::Shop(shop),
        _ => Addressee::Anyone,
    };
    let edition = Edition::new(&notes, &outlook, None, false);
    let sheet = sheet(edition, whom, &[], &Templates::load(None).unwrap()).unwrap().unwrap();
    assert!(sheet.folder.keys().all(|path| !path.starts_with("/attached")), "{:?}", sheet.folder.keys());
    let texts = sheet.folder.iter().filter(|(path, _)| !path.starts_with("/look/"));
    let text: String =
        texts.map(|(path, bytes)| format!("{path}\n{}\n", String::from_utf8_lossy(bytes))).collect();
    // A line that says which note the text comes from is a remark, and is in no PDF.
    let printed = text.lines().filter(|line| !line.starts_with("// note: "));
    printed.map(|line| unescaped(line) + "\n").collect()
}

/// `\u{2c}` is a comma.
pub(super) fn unescaped(text: &str) -> String {
    let mut pieces = text.split("\\u{");
    let mut plain = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let (code, rest) = piece.split_once('}').unwrap();
        plain.push(char::from_u32(u32::from_str_radix(code, 16).unwrap()).unwrap());
        plain.push_str(rest);
    }
    plain
}

/// The text of a PDF as a reader hears it, lines joined; `None` where poppler is not installed.
fn heard(pdf: &Path) -> Option<String> {
    let out = Command::new("pdftotext").args(["-enc", "UTF-8"]).arg(pdf).arg("-").output().ok()?;
    assert!(out.status.success(), "{out:?}");
    let text = String::from_utf8(out.stdout).unwrap();
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

fn holds(text: &str, needed: &[&str], kept_back: &[&str]) {
    for word in needed {
        assert!(text.contains(word), "`{word}` is missing from:\n{text}");
    }
    for word in kept_back {
        assert!(!text.contains(word), "`{word}` got into:\n{text}");
    }
}

#[test]
fn a_sheet_holds_what_the_helper_needs_and_nothing_else() {
    let dir = project();
    holds(&made_text(dir.path(), Some("gull-yard")), NEEDED, KEPT_BACK);
    asfound(dir.path()).args(["sheet", "gull-yard"]).assert().success().stdout_eq("").stderr_eq(
        "kept back: findings/scored.md:2: it names `tern-works`\n\
         kept back: parts/spindle.md:19: it tells of money\n\
             kept back: steps/turn-spindle.md:16: it names `tern-works`\n\
             kept back: steps/turn-spindle.md:18: it tells of money\n\
             kept back: steps/turn-spindle.md:20: it links to the private note `theft`\n\
             kept back: steps/turn-spindle.md:22: it holds a contact\n\
             ./out/sheet-gull-yard.pdf: 1 job on [..]\n",
    );
    if let Some(text) = heard(&dir.path().join("out/sheet-gull-yard.pdf")) {
        holds(&text, NEEDED, KEPT_BACK);
        holds(&text.to_lowercase(), &LETTER.map(str::to_lowercase).each_ref().map(String::as_str), &[]);
    }
}

/// ANSI B4.1-1967, running and sliding fits, RC4 over 1.97 to 3.15 in: hole +1.8/0, shaft −1.2/−2.4 thou (its row in
/// `reference/ansi_b41_fits.csv` names the printings).
#[test]
fn limits_of_a_fit_stand_in_figures() {
    let dir = project();
    let text = made_text(dir.path(), Some("gull-yard"));
    holds(&text, &["2.0000", "2.0018", "1.9988", "1.9976"], &[]);
}

/// What the yard comes for stays where it is: nobody needs to be told how to move it.
#[test]
fn a_sheet_says_where_the_work_is() {
    let dir = project();
    holds(&made_text(dir.path(), Some("gull-yard")), &["with you", "to move it"], &["with the machine"]);
    let step = dir.path().join("steps/turn-spindle.md");
    let text = std::fs::read_to_string(&step).unwrap();
    std::fs::write(&step, text.replace("at: gull-yard\n", "at: gull-yard\nin_place: true\n")).unwrap();
    let text = made_text(dir.path(), Some("gull-yard"));
    holds(&text, &["here, with the machine"], &["with you", "to move it"]);
}

#[test]
fn a_sheet_for_whoever_can_says_what_a_job_calls_for() {
    let dir = project();
    let needed = ["Cut the teeth of the ratchet anew", "swing 40 in", "gear cutting", "Sixteen teeth"];
    let kept_back = ["Gull", "Tern", "barn", "GBP", "Spindle", "spindle", "Drum", "museum", "Nell", "01234"];
    holds(&made_text(dir.path(), None), &needed, &kept_back);
    asfound(dir.path()).args(["sheet", "--unplaced", "."]).assert().success();
    if let Some(text) = heard(&dir.path().join("out/sheet-unplaced.pdf")) {
        holds(&text, &needed, &kept_back);
        holds(&text, &["Your answer"], &[]);
    }
}

/// PDF/A-3a and PDF/UA-1 as the XMP of a file claims them (ISO 19005-3, 6.6.4; ISO 14289-1, 5).
#[test]
fn a_sheet_is_archival_and_carries_no_files() {
    let dir = project();
    asfound(dir.path()).args(["sheet", "gull-yard"]).assert().success();
    asfound(dir.path()).args(["build"]).assert().success();
    let read =
        |name: &str| String::from_utf8_lossy(&std::fs::read(dir.path().join(name)).unwrap()).into_owned();
    let (sheet, dossier) = (read("out/sheet-gull-yard.pdf"), read("out/dossier.pdf"));
    holds(&sheet, &["<pdfaid:part>3<", "<pdfaid:conformance>A<", "<pdfuaid:part>1<"], &["/EmbeddedFile"]);
    assert!(dossier.contains("/EmbeddedFile"), "the dossier carries its notes");
}

#[test]
fn a_paper_goes_with_a_sheet_only_when_it_is_asked_for_and_is_not_private() {
    let dir = project();
    let paper = |name: &str, more: &str| {
        let text = format!("---\nkind: paper\ntitle: Drawing of the {name}\n{more}---\n");
        std::fs::write(dir.path().join(format!("{name}.md")), text).unwrap();
    };
    paper("spindle-drawing", "file: spindle.svg\n");
    paper("deed", "file: secret.svg\nprivate: true\n");
    paper("letter", "");
    let attach = |id: &str| asfound(dir.path()).args(["sheet", "gull-yard", "--attach", id]).assert();
    attach("spindle-drawing").success();
    let sheet = std::fs::read(dir.path().join("out/sheet-gull-yard.pdf")).unwrap();
    holds(&String::from_utf8_lossy(&sheet), &["/EmbeddedFile", "<pdfaid:part>3<"], &[]);
    if let Some(text) = heard(&dir.path().join("out/sheet-gull-yard.pdf")) {
        holds(&text, &["Inside this PDF", "Drawing of the spindle-drawing"], &["Drawing of the deed"]);
    }
    attach("deed").code(2).stderr_eq("asfound: `deed` is private and stays in your own dossier\n");
    attach("letter").code(2).stderr_eq("asfound: the paper `letter` names no `file:` to attach\n");
    attach("deeds")
        .code(2)
        .stderr_eq("asfound: there is no paper with the id `deeds`; did you mean `deed`?\n");
}

#[test]
fn a_sheet_bears_the_day_and_is_the_same_twice() {
    let dir = project();
    let build = || {
        asfound(dir.path()).args(["sheet", "gull-yard", "--date", "2027-04-05"]).assert().success();
        std::fs::read(dir.path().join("out/sheet-gull-yard.pdf")).unwrap()
    };
    assert_eq!(build(), build());
    if let Some(text) = heard(&dir.path().join("out/sheet-gull-yard.pdf")) {
        holds(&text, &["5 April 2027"], &[]);
    }
}

#[test]
fn a_shop_without_open_jobs_gets_no_sheet() {
    let dir = project();
    asfound(dir.path())
        .args(["sheet", "idle"])
        .assert()
        .success()
        .stdout_eq("")
        .stderr_eq("no open job is to be done at The idle shop; nothing was written.\n");
    assert!(!dir.path().join("out").exists());
}

#[test]
fn an_unknown_shop_is_told_its_nearest() {
    let dir = project();
    asfound(dir.path())
        .args(["sheet", "gul-yard"])
        .assert()
        .code(2)
        .stderr_eq("asfound: there is no shop with the id `gul-yard`; did you mean `gull-yard`?\n");
}

#[test]
fn a_template_that_breaks_leaves_the_old_sheet() {
    let dir = project();
    asfound(dir.path()).args(["sheet", "gull-yard", "--draft"]).assert().success();
    let old = std::fs::read(dir.path().join("out/sheet-gull-yard.pdf")).unwrap();
    std::fs::create_dir(dir.path().join("own")).unwrap();
    std::fs::write(dir.path().join("own/job.typ"), "{{ job.nothing_of_the_kind.at_all }}").unwrap();
    asfound(dir.path()).args(["sheet", "gull-yard", "--templates", "own"]).assert().code(1);
    assert_eq!(std::fs::read(dir.path().join("out/sheet-gull-yard.pdf")).unwrap(), old);
}
