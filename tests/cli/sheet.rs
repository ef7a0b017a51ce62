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
        "kind: finding\nfor_helpers: true\nabout: [spindle]\ncondition: scored\nseverity: serious\nphotos:\n  - file: ../spindle.svg\n    \
         shows: The scored journal\n    marks: [{at: [0.5, 0.5], says: deepest groove}]\n  \
         - {file: ../plan.jpg, shows: The plan}\n",
    ),
    (
        "findings/theft.md",
        "kind: finding\nabout: [spindle]\ncondition: taken from the museum\nprivate: true\nphotos: [../secret.svg]\n",
    ),
    (
        "findings/rusty.md",
        "kind: finding\nabout: [spindle]\ncondition: rusty all over\nphotos:\n  - {file: ../rust.svg, shows: Rust}\n---\nTold to nobody.\n",
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
    (
        "questions/bent.md",
        "kind: question\nfor_helpers: true\nasks: Is the spindle bent?\nabout: [spindle]\n",
    ),
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
    "1.9964",
    "1.9975",
    "outside micrometer",
    "Is the spindle bent?",
];

/// What the look adds.
const LETTER: [&str; 6] =
    ["work asked for", "This can't be undone", "Caution, lifting", "to send back", "signed", "page 1 of"];

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
    "rusty",
    "Rust",
    "Told to",
    "1.998 ",
    "turn-spindle",
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
    for (name, words) in [
        ("spindle.svg", "the spindle"),
        ("secret.svg", "at last"),
        ("plan.jpg", "drawn at Tern Works"),
        ("rust.svg", "rust"),
    ] {
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
    let texts = sheet.folder.iter().filter(|(path, _)| !path.starts_with("/look/"));
    let text: String =
        texts.map(|(path, bytes)| format!("{path}\n{}\n", String::from_utf8_lossy(bytes))).collect();
    text.lines().map(|line| unescaped(line) + "\n").collect()
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
        "kept back: findings/scored.md:11: it names `tern-works`: \"../plan.jpg\"\n\
         kept back: steps/turn-spindle.md:16: it names `tern-works`: \"Tern Works once looked at it.\"\n\
         kept back: steps/turn-spindle.md:18: it tells of money: \"Worth 8642 GBP at the most.\"\n\
         kept back: steps/turn-spindle.md:20: it links to the private note `theft`: \"See taken from the museum theft for how it came here.\"\n\
         kept back: steps/turn-spindle.md:22: it holds a contact: \"Ring 01234 567-890 when it is done.\"\n\
         To let a passage through, put its words in the note: `for_helpers: [the words]`; for every note, in dossier.yaml.\n\
         not in it, for want of `for_helpers: true` in their notes: rusty\n\
         it does not say how to reach you: `keeper_contact:` in dossier.yaml does\n\
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
    holds(&text, &["2.0018", "1.9988", "1.9976", "\"is_mate\": true", "\"is_mate\": false"], &[]);
    // A nominal stands as it was typed.
    holds(&text, &["\"nominal\": \"2\""], &["\"nominal\": \"2.0"]);
}

/// What the yard comes for stays where it is: nobody needs to be reported how to move it.
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

// What goes and what stays

const HOSTILE: &[(&str, &str)] = &[
    ("dossier.yaml", "title: T\nunits: metric\nmoney: GBP\nstart: 2027-03-01\nhome: shed\n"),
    (
        "shops/gull-yard.md",
        "kind: shop\nname: The Gull Yard\nrate: 42 GBP/h\ncontact: Nell Harker, 01632 960123, nell@example.org\n",
    ),
    ("shops/shed.md", "kind: shop\nname: The shed\n"),
    ("shops/works.md", "kind: shop\nname: The works\nmiles: 3\nhas: {lift: 2000 kg}\nprocesses: [turning]\n"),
    ("parts/post.md", "kind: part\nname: Post\ndisposition: rework\n"),
];

/// A job for the works beside a yard that it does not know of, with these further notes.
fn with(notes: &[(&str, &str)]) -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    for (path, text) in HOSTILE.iter().chain(notes) {
        let path = dir.path().join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        let is_note = path.extension().is_some_and(|ending| ending == "md");
        let text = match text.split_once("---\n") {
            _ if !is_note => (*text).to_owned(),
            Some((keys, body)) => format!("---\n{keys}---\n{body}"),
            None => format!("---\n{text}---\n"),
        };
        std::fs::write(path, text).unwrap();
    }
    dir
}

const TURN: &str = "kind: step\ndoes: Turn the post\nparts: [post]\nat: works\ntakes: 2 h\n";

const TELLING: [&str; 9] = ["Gull", "gull", "GBP", "gbp", "Nell", "nell@", "960123", "quid", "dollars"];

#[test]
fn a_passage_is_kept_back_however_it_is_spelt() {
    for passage in [
        "The other place charges 40 an hour.",
        "He wants forty quid.",
        "It is 42GBP, or 42 gbp.",
        "At 40 pounds a piece.",
        "For 150 dollars.",
        "Ask Nell Harker.",
        "Ring 07700 900123.",
        "Ring +44 1632 960123 or 01632.960.123.",
        "nell (at) example.org",
        "The Gull  Yard and the Gullyard and Gull<br>Yard.",
        "The Gu\u{200b}ll Y\u{430}rd.",
        "The G\u{fc}ll Yard.",
        "The **Gull** _Yard_.",
        "[They](../shops/gull-yard.md) know.",
        "With care[^1].\n\n[^1]: The Gull Yard does it for 42 GBP.",
        "| who | what |\n|---|---|\n| Gull | Yard |",
    ] {
        let dir = with(&[("steps/turn.md", &format!("{TURN}---\nFirst.\n\n{passage}\n\nLast.\n"))]);
        let text = made_text(dir.path(), Some("works"));
        holds(&text, &["First.", "Last.", "#kept-back"], &TELLING);
        holds(&text, &[], &["40 an", "forty", "40 pounds", "150", "07700", "They", "With care"]);
    }
}

#[test]
fn sizes_are_no_contacts_and_no_money() {
    let passage =
        "Bore 3.9730 in +0.0022/-0, or 0.0009 in to 0.0022 in under; 2027-03-01, try 3 times, pay out 2 ft.";
    let dir = with(&[("steps/turn.md", &format!("{TURN}---\n{passage}\n"))]);
    holds(&made_text(dir.path(), Some("works")), &["3.9730", "pay out 2 ft"], &["kept-back"]);
}

#[test]
fn an_idiom_of_money_is_no_amount() {
    let step = format!(
        "{TURN}irreversible: true\nif_wrong: A new one; that is more money than the post is worth.\n"
    );
    let dir = with(&[("steps/turn.md", &step)]);
    holds(&made_text(dir.path(), Some("works")), &["more money than"], &["if-wrong: \"[kept back]"]);
}

#[test]
fn a_sentence_that_leads_to_a_calculation_at_home_stays_with_it() {
    let body = "Turn it clean. It is pressed in\ncold. Whether _to warm_ the boss,\nor not:\n\n```calc\nwarm = 20 mm\n```\n\n\
                Below is the sum:\n\n```calc\nroom = 30 mm\n```\n\nDone.";
    let dir = with(&[("steps/turn.md", &format!("{TURN}---\n{body}\n"))]);
    let text = made_text(dir.path(), Some("works"));
    holds(&text, &["Turn it clean", "cold", "Done"], &["Whether", "to warm", "or not", "Below is"]);
}

/// A size is never lost with its sentence, and what the text goes on to quote keeps its subject.
#[test]
fn a_leading_sentence_with_a_figure_or_an_answer_stays() {
    let body = "Turn it clean. Seat turned to 9 in:\n\n```calc\nring = 20 mm\n```\n\nThen stop.\n\n\
                What the dial may show:\n\n```calc\nshows = 2 mm\n```\n\nUp to `calc shows`, no more.";
    let dir = with(&[("steps/turn.md", &format!("{TURN}---\n{body}\n"))]);
    let text = made_text(dir.path(), Some("works"));
    // What the text goes on to answer leads up to the answer, and half a sentence ends with no stop.
    holds(&text, &["Seat turned to 9 in.", "What the dial may show:", "no more"], &["9 in:", "may show."]);
    let body = "Turn it. Where it lies, 9 in up:\n\n```calc\nring = 20 mm\n```\n\nThen stop.";
    let dir = with(&[("steps/turn.md", &format!("{TURN}---\n{body}\n"))]);
    holds(&made_text(dir.path(), Some("works")), &["Turn it.", "Then stop."], &["Where it lies"]);
}

#[test]
fn every_field_is_looked_at() {
    let dir = with(&[
        (
            "dossier.yaml",
            "title: T\nunits: metric\nmoney: GBP\nstart: 2027-03-01\nhome: shed\nmachine: {kind: crane, bought: for 4000 GBP}\nkeeper: Trust, 01632 960123\n",
        ),
        (
            "shops/works.md",
            "kind: shop\nname: The works\nhas: {press like The Gull Yard's: 2 m}\nprocesses: [ring 01632 960123]\n",
        ),
        (
            "parts/bolt.md",
            "kind: part\nname: Bolt from The Gull Yard at 3 GBP\nwithin: post\ndisposition: reuse\n",
        ),
        (
            "parts/bush.md",
            "kind: part\nname: Bush\nwithin: post\ndisposition: make\nstock: {section: bar that The Gull Yard sells at 9 GBP, length: 1 m, quantity: 1}\n",
        ),
        (
            "measurements/dia.md",
            "kind: measurement\nof: post\nfeature: journal\nstate: as-found\nunit: mm\n---\n| at | 0\u{b0} | 90\u{b0} |\n|---|---|---|\n| The Gull Yard's mark, 42 GBP | 20.5 | 20 |\n| b | 20 | 20 |\n",
        ),
        (
            "steps/turn.md",
            "kind: step\ndoes: Turn\nparts: [post]\nmakes: [bush]\nuses: [bolt]\nat: works\ncalls_for: {press like The Gull Yard's: 1 m}\nprocesses: [ring 01632 960123]\n",
        ),
    ]);
    let text = made_text(dir.path(), Some("works"));
    holds(&text, &["[kept back]", "20.5", "Bush"], &[]);
    holds(&text, &[], &TELLING);
}

#[test]
fn a_drawing_is_read_before_it_goes() {
    let drawing = |words: &str| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 200 40\"><text x=\"2\" y=\"20\">{words}</text></svg>"
        )
    };
    let nested = drawing("<image href=\"data:image/svg+xml;base64,AAAA\"/>");
    let dir =
        with(&[("parts/post.md", "kind: part\nname: Post\n---\n![Seen](d.svg)\n"), ("parts/d.svg", &nested)]);
    assert!(Project::open(dir.path()).unwrap().has_errors(), "a picture within a picture that can't be read");
    for words in
        ["The Gull Yard", "The G&#117;ll Yard 4&#50; G&#66;P", "<tspan>Gu</tspan><tspan>ll Yard</tspan>"]
    {
        let dir = with(&[
            (
                "parts/post.md",
                "kind: part\nname: Post\ndisposition: rework\n---\n![Seen from the side](d.svg)\n",
            ),
            ("parts/d.svg", &drawing(words)),
            ("steps/turn.md", TURN),
        ]);
        holds(&made_text(dir.path(), Some("works")), &["Turn the post"], &["Seen from the side", "<text"]);
    }
}

#[test]
fn a_value_is_as_private_as_what_it_rests_on() {
    let dir = with(&[
        (
            "parts/post.md",
            "kind: part\nname: Post\ndisposition: rework\n---\n```calc\nhid = @sec.mean\n```\n",
        ),
        (
            "parts/hidden.md",
            "kind: part\nname: SECRETPART\nwithin: post\ndisposition: reuse\nprivate: true\n",
        ),
        (
            "measurements/sec.md",
            "kind: measurement\nof: post\nfeature: bore\nvalue: 21.77 mm\nprivate: true\n",
        ),
        ("measurements/eye.md", "kind: measurement\nof: hidden\nfeature: eye\nvalue: 31.77 mm\n"),
        ("measurements/open.md", "kind: measurement\nof: post\nfeature: length\nvalue: 41.77 mm\n"),
        (
            "steps/turn.md",
            "kind: step\ndoes: Look at the post\nparts: [post]\nat: works\n---\n```calc\ndeep = @post.hid + 2 mm\nwide = @eye.mean + 2 mm\nlong = @open.mean + 2 mm\n```\n\nIt is `calc deep` deep.\n\nIt is `calc long` long.\n",
        ),
    ]);
    let text = made_text(dir.path(), Some("works"));
    holds(&text, &["43.77", "#kept-back"], &["21.77", "23.77", "31.77", "33.77", "SECRETPART"]);
}

/// ISO 32000-1, 12.3.2.3: a named destination is in the file by its name.
#[test]
fn a_destination_is_not_named_by_an_id() {
    let dir = with(&[("steps/gull-yard-wants-42-gbp.md", TURN)]);
    holds(&made_text(dir.path(), Some("works")), &["job-1"], &["gull-yard-wants"]);
}

#[test]
fn words_that_the_note_lets_through_go() {
    let step = |words: &str| format!("{TURN}{words}---\nTo the mark of the Gull Yard.\n");
    let text = |step: String| made_text(with(&[("steps/turn.md", &step)]).path(), Some("works"));
    holds(&text(step("")), &["#kept-back"], &["Gull"]);
    holds(
        &text(step("for_helpers: [the mark of the Gull Yard]\n")),
        &["the mark of the Gull Yard"],
        &["#kept-back"],
    );
    holds(&text(step("for_helpers: [the Gull Yard's price]\n")), &["#kept-back"], &["Gull"]);
}

#[test]
fn a_page_of_the_log_and_a_shop_go_where_their_note_says_so() {
    let entry = |keys: &str| {
        format!("kind: entry\ndate: 2027-02-01\nabout: [post]\n{keys}---\nTurned by the Gull Yard in 1950.\n")
    };
    let yard = |keys: &str| format!("kind: shop\nname: The Gull Yard\ncontact: Nell\n{keys}");
    let text = |log: &str, shop: &str| {
        let dir = with(&[
            ("log/one.md", &entry(log)),
            ("shops/gull-yard.md", &yard(shop)),
            ("steps/turn.md", TURN),
        ]);
        made_text(dir.path(), Some("works"))
    };
    let goes = "for_helpers: true\n";
    holds(&text("", goes), &[], &["Turned by", "1950"]);
    holds(&text(goes, ""), &["1 February 2027", "#kept-back"], &["Gull"]);
    holds(&text(goes, goes), &["Turned by the Gull Yard in 1950"], &["#kept-back"]);
}

// One job, one place

#[test]
fn a_part_without_sizes_can_not_be_made() {
    let pin = |keys: &str| format!("kind: part\nname: Pin\nwithin: post\ndisposition: make\n{keys}");
    let step = "kind: step\ndoes: Make a pin\nmakes: [pin]\nat: works\n";
    let lacks = "Pin can't be made from this sheet: a drawing, or sizes with their limits, are missing";
    let dir = with(&[("parts/pin.md", &pin("")), ("steps/make.md", step)]);
    holds(&made_text(dir.path(), Some("works")), &[lacks], &[]);
    asfound(dir.path()).args(["sheet", "works"]).assert().success().stderr_eq(format!(
        "it does not say[..]\njob 1: {lacks}\njob 1: No description: ask before you start\n\
             ./out/sheet-works.pdf: 1 job on 1 page\n"
    ));
    let dir =
        with(&[("parts/pin.md", &pin("---\n```calc\nlong = 40 mm +0.1/-0\n```\n")), ("steps/make.md", step)]);
    holds(&made_text(dir.path(), Some("works")), &["40.1", "\"nominal\": \"40\""], &["can't be made"]);
    let held = "shape: {turned: [{d: 'hold: measure the eye', long: 40 mm}]}\n";
    let dir = with(&[("parts/pin.md", &pin(held)), ("steps/make.md", step)]);
    holds(
        &made_text(dir.path(), Some("works")),
        &["Pin can't be made from this sheet: a size is missing: measure the eye"],
        &[],
    );
    // Who only carries it needs no sizes.
    let carry = "kind: step\ndoes: Carry the pin\nparts: [pin]\nat: works\ncalls_for: {lift: 20 kg}\n";
    let dir = with(&[("parts/pin.md", &pin("")), ("steps/carry.md", carry)]);
    holds(
        &made_text(dir.path(), Some("works")),
        &["before anything is lifted"],
        &["can't be made", "anything is cut"],
    );
}

#[test]
fn found_and_make_to_do_not_share_a_column() {
    let measured = |state: &str, value: &str| {
        format!(
            "kind: measurement\nof: post\nfeature: journal\nstate: {state}\nnominal: 50 mm\nlimits: 49.9 mm .. 50.1 mm\nvalue: {value}\n"
        )
    };
    let dir = with(&[
        ("measurements/found.md", &measured("as-found", "49.713 mm")),
        ("measurements/left.md", &measured("as-left", "49.914 mm")),
        ("steps/turn.md", &format!("{TURN}processes: [turning]\n")),
    ]);
    let text = made_text(dir.path(), Some("works"));
    let found = text.lines().find(|line| line.contains("#found-table")).unwrap();
    holds(found, &["49.713", "49.914"], &["\"49.9\"", "50.1"]);
    let wanted = text.lines().find(|line| line.contains("#size-table")).unwrap();
    holds(wanted, &[], &["49"]);
}

#[test]
fn how_well_a_value_is_known_is_no_tolerance() {
    let dir = with(&[(
        "steps/turn.md",
        &format!(
            "{TURN}---\n```calc\nlong = (3.25 m \u{b1} 0.02 m) * 2\n```\n\nAll of `calc long`, and no \u{b1} beside it.\n"
        ),
    )]);
    let text = made_text(dir.path(), Some("works"));
    holds(&text, &["6.5", "known to ±\u{a0}0.040"], &["uncertainty: \""]);
}

#[test]
fn a_result_of_several_fields_prints_them() {
    let dir = with(&[(
        "steps/lift.md",
        "kind: step\ndoes: Lift the post\nparts: [post]\nat: works\ncalls_for: {lift: 900 kg}\n---\nWhere it balances:\n\n```calc\nbalance = centre_of_gravity(masses: [100 kg, 300 kg], at: [1 m, 2 m])\n```\n\nWhat it needs:\n\n```calc\nassume mu = 0.2\n```\n",
    )]);
    let text = made_text(dir.path(), Some("works"));
    holds(&text, &["Where it balances:", "balance, centre", "1750"], &["What it needs"]);
}

#[test]
fn the_sender_says_what_the_keeper_wants_said() {
    let contact = "keeper_contact: {ask_for: the smith, telephone: 01632 960555, address: 1 Dock Street, machine_at: the old quay}\n";
    let dossier = format!(
        "title: T\nunits: metric\nmoney: GBP\nstart: 2027-03-01\nhome: shed\nkeeper: Trust\n{contact}"
    );
    let dir = with(&[
        ("dossier.yaml", &dossier),
        ("steps/turn.md", &format!("{TURN}in_place: true\n---\nRing 01632 960555 first.\n")),
    ]);
    let text = made_text(dir.path(), Some("works"));
    holds(
        &text,
        &[
            "the smith",
            "01632 960555",
            "1 Dock Street",
            "the old quay",
            "Ring 01632 960555 first",
            "wanted by",
        ],
        &["kept-back"],
    );
    let dir = with(&[("dossier.yaml", &dossier), ("steps/turn.md", TURN)]);
    holds(&made_text(dir.path(), Some("works")), &["with you"], &["the old quay"]);
}

/// The lettering of a drawing is 2 units of 200: 7 points (25.4/72 mm each) want it 247 mm wide.
#[test]
fn a_drawing_is_as_wide_as_its_lettering_needs() {
    let drawing = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 200 40\"><text font-size=\"2\" y=\"20\">words</text></svg>";
    let dir = with(&[
        ("parts/post.md", "kind: part\nname: Post\ndisposition: rework\n---\n![Seen from the side](d.svg)\n"),
        ("parts/d.svg", drawing),
        ("steps/turn.md", TURN),
    ]);
    holds(&made_text(dir.path(), Some("works")), &["\"least_width\": 246.9"], &[]);
}

#[test]
fn a_paper_stands_on_paper_with_its_first_page() {
    let dir = with(&[
        (
            "papers/plate.md",
            "kind: paper\nfor_helpers: true\ntitle: Rating plate\nabout: [post]\nfile: plan-of-gull-yard.pdf\n",
        ),
        ("papers/bill.md", "kind: paper\ntitle: The bill\nabout: [post]\nfile: plan-of-gull-yard.pdf\n"),
        ("steps/turn.md", TURN),
    ]);
    asfound(dir.path()).args(["sheet", "works", "--draft"]).assert().failure();
    std::fs::copy(one_page(), dir.path().join("papers/plan-of-gull-yard.pdf")).unwrap();
    let text = made_text(dir.path(), Some("works"));
    holds(&text, &["#enclosed", "Rating plate", "/pages/", "file-1.pdf"], &["The bill", "gull-yard"]);
    asfound(dir.path()).args(["sheet", "works"]).assert().success();
}

/// A PDF of one page, made here: the sheet of another project.
fn one_page() -> std::path::PathBuf {
    let dir = with(&[("steps/turn.md", TURN)]).keep();
    asfound(&dir).args(["sheet", "works"]).assert().success();
    dir.join("out/sheet-works.pdf")
}

// What a job needs, what it waits for, what comes back

/// A sentence that tells of another shop leaves a gap, not the paragraph around it.
#[test]
fn a_sentence_is_kept_back_and_its_neighbours_stay() {
    let body = "Turn it clean. The Gull Yard has the trailer. Sweep up, then ring.";
    let dir = with(&[("steps/turn.md", &format!("{TURN}---\n{body}\n"))]);
    holds(
        &made_text(dir.path(), Some("works")),
        &["Turn it clean.", "Sweep up", "[kept back]"],
        &["trailer"],
    );
    // What only the sentences together tell takes the paragraph.
    let body = "Clean it. Ask the Gull. Yard it goes to.";
    let dir = with(&[("steps/turn.md", &format!("{TURN}---\n{body}\n"))]);
    holds(&made_text(dir.path(), Some("works")), &["kept-back"], &["Gull", "Clean it"]);
}

#[test]
fn what_comes_first_elsewhere_is_said_beside_that_we_confirm() {
    let dir = with(&[
        ("steps/draw.md", "kind: step\ndoes: Draw the post\nparts: [post]\n"),
        ("steps/turn.md", &format!("{TURN}needs: [draw]\n")),
    ]);
    holds(&made_text(dir.path(), Some("works")), &["when we confirm", "draw the post"], &[]);
}

/// A size that the step states of a part it only fits, a line for each place measured as found, and what is asked.
#[test]
fn the_form_has_a_line_for_every_size_each_time_it_occurs() {
    let rods = ("parts/rods.md", "kind: part\nname: Rods\nquantity: 2\ndisposition: rework\n");
    let eyes = (
        "measurements/eyes.md",
        "kind: measurement\nof: rods\nfeature: bore of the eyes\nstate: as-found\nunit: mm\n---\n\
         | eye | along | across |\n|---|---|---|\n| left, foot | 30.1 | 30 |\n| left, head | 30.2 | 30 |\n| right, foot | 30.1 | 30 |\n",
    );
    let step = "kind: step\ndoes: Ream the eyes\nparts: [rods]\nat: works\nprocesses: [reaming]\nreports: [what the reamer left on the floor]\n";
    let step = ("steps/ream.md", format!("{step}---\n```calc\neye = 31 mm +0.1/-0\n```\n"));
    let works = ("shops/works.md", "kind: shop\nname: The works\nmiles: 3\nprocesses: [reaming, turning]\n");
    let dir = with(&[rods, eyes, works, (step.0, &step.1)]);
    let needed = ["Eye, left, foot", "Eye, left, head", "Eye, right, foot", "on the floor"];
    let text = made_text(dir.path(), Some("works")).replace("\"eye, ", "\"Eye, ");
    holds(&text, &needed, &["piece 1"]);
    // Without readings, a line for each piece; and one for what is only fitted here.
    let dir = with(&[rods, works, (step.0, &step.1.replace("parts: [rods]", "parts: [rods]\nuses: [rods]"))]);
    holds(&made_text(dir.path(), Some("works")), &["eye, piece 1", "eye, piece 2"], &[]);
}

#[test]
fn who_moves_a_part_gets_no_text_of_its_wear() {
    let found = |severity: &str, says: &str| {
        format!(
            "kind: finding\nfor_helpers: true\nabout: [post]\ncondition: {says}\nseverity: {severity}\n---\nText on {says}.\n"
        )
    };
    let (flat, crack) = (found("serious", "flat"), found("dangerous", "a crack"));
    let (paint, mended) = (found("minor", "lead paint"), found("serious", "scored"));
    let notes = [
        ("findings/flat.md", flat.as_str()),
        ("findings/crack.md", &crack),
        ("findings/paint.md", &paint),
        ("findings/scored.md", &mended),
        ("steps/polish.md", "kind: step\ndoes: Polish it\nparts: [post]\nmends: [scored]\n"),
    ];
    let lift = ("steps/turn.md", "kind: step\ndoes: Lift it out\nremoves: [post]\nat: works\n");
    let dir = with(&[&notes[..], &[lift]].concat());
    holds(
        &made_text(dir.path(), Some("works")),
        &["Text on a crack", "Text on lead paint", "Old paint is taken to hold lead", "At this job: Post"],
        &["Text on flat", "Text on scored"],
    );
    asfound(dir.path()).args(["sheet", "works", "--draft"]).assert().success().stderr_eq(
        "not in it, since no job of it needs them: flat, scored\n\
         it does not say how to reach you: `keeper_contact:` in dossier.yaml does\n\
         job 1: No description: ask before you start\n\
         ./out/sheet-works.pdf: 1 job on [..]\n",
    );
    let dir = with(&[&notes[..], &[("steps/turn.md", TURN)]].concat());
    holds(&made_text(dir.path(), Some("works")), &["Text on flat"], &["Text on scored"]);
}

#[test]
fn a_test_under_load_without_its_load_says_so() {
    let works = ("shops/works.md", "kind: shop\nname: The works\nmiles: 3\nprocesses: [load-test]\n");
    let step = |body: &str| {
        format!("kind: step\ndoes: Test it\nparts: [post]\nat: works\nprocesses: [load-test]\n---\n{body}\n")
    };
    let missing = "Post can't be tested from this sheet: the test load is missing";
    let dir = with(&[works, ("steps/turn.md", &step("Hang something on it."))]);
    holds(&made_text(dir.path(), Some("works")), &[missing], &[]);
    let dir = with(&[works, ("steps/turn.md", &step("Hang `calc 1.25 * 20 kN` on it."))]);
    holds(&made_text(dir.path(), Some("works")), &["#value(\"25\", \"kN\")"], &[missing]);
}

/// A gap is explained where the reader comes upon one.
#[test]
fn the_mark_of_a_gap_is_explained_only_where_one_stands() {
    let explained = "Where it says";
    let dir = with(&[("steps/turn.md", &format!("{TURN}---\nTurn it clean.\n"))]);
    holds(&made_text(dir.path(), Some("works")), &["Turn it clean."], &[explained]);
    let dir = with(&[("steps/turn.md", &format!("{TURN}---\nTurn it clean.\n\nAsk the Gull Yard.\n"))]);
    holds(&made_text(dir.path(), Some("works")), &["Turn it clean.", explained], &[]);
}

#[test]
fn a_job_of_which_nothing_is_told_says_so() {
    let says = "No description: ask before you start";
    let clean = TURN.replace("Turn the post", "Clean the post");
    let dir = with(&[("steps/turn.md", &clean)]);
    holds(&made_text(dir.path(), Some("works")), &[says], &[]);
    let dir = with(&[("steps/turn.md", &format!("{clean}---\nWith a rag.\n"))]);
    holds(&made_text(dir.path(), Some("works")), &["With a rag."], &[says]);
    let dir = with(&[("steps/turn.md", &format!("{clean}---\n```calc\nend = 31 mm +0.1/-0\n```\n"))]);
    holds(&made_text(dir.path(), Some("works")), &["31"], &[says]);
}

#[test]
fn every_condition_of_the_start_is_named() {
    let names = ["Draw", "Wash", "Sort", "Weigh", "Chalk"];
    let steps = names.map(|name| {
        let path = format!("steps/{}.md", name.to_lowercase());
        (path, format!("kind: step\ndoes: {name} the post\nparts: [post]\n"))
    });
    let mut notes: Vec<(&str, &str)> =
        steps.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    let turn = format!("{TURN}needs: [draw, wash, sort, weigh, chalk]\n");
    notes.push(("steps/turn.md", &turn));
    let text = made_text(with(&notes).path(), Some("works"));
    let says = ["draw the post", "wash the post", "sort the post", "weigh the post", "chalk the post"];
    holds(&text, &says, &[" more"]);
}

/// A caution that names other parts is said again; what only comes along is not said to be worked on.
#[test]
fn a_caution_refers_back_only_where_it_names_the_same_parts() {
    let part = |name: &str, within: &str| format!("kind: part\nname: {name}\n{within}disposition: rework\n");
    let notes = [
        ("parts/crab.md", part("Crab", "")),
        ("parts/shaft.md", part("Shaft", "within: crab\n")),
        ("parts/frame.md", part("Frame", "within: crab\n")),
        (
            "findings/paint.md",
            "kind: finding\nabout: [frame, post]\ncondition: lead paint\n---\nGrey.\n".to_owned(),
        ),
        ("steps/lift.md", "kind: step\ndoes: Lift it off\nremoves: [crab]\nstate: done\n".to_owned()),
        ("steps/a.md", "kind: step\ndoes: Clean it\nparts: [post]\nat: works\n---\nWith a rag.\n".to_owned()),
        (
            "steps/b.md",
            "kind: step\ndoes: Dry it\nparts: [post]\nneeds: [a]\nat: works\n---\nWith a rag.\n".to_owned(),
        ),
        (
            "steps/c.md",
            "kind: step\ndoes: Oil it\nparts: [shaft]\nneeds: [b]\nat: works\n---\nWith a can.\n".to_owned(),
        ),
    ];
    let notes: Vec<(&str, &str)> = notes.iter().map(|(path, text)| (*path, text.as_str())).collect();
    let text = made_text(with(&notes).path(), Some("works"));
    holds(
        &text,
        &["At this job: Post.", "As under job 1.", "Comes with it: Frame."],
        &["At this job: Frame"],
    );
    assert_eq!(text.matches("Old paint is taken to hold lead").count(), 2, "for the post and for the frame");
}

/// Columns for limits stand where a line has any.
#[test]
fn a_form_without_limits_has_no_columns_for_them() {
    let step = format!("{TURN}reports: [colour of the chips]\n---\nTurn it clean.\n");
    let heads = |step: &str| {
        let dir = with(&[("steps/turn.md", step)]);
        asfound(dir.path()).args(["sheet", "works"]).assert().success();
        heard(&dir.path().join("out/sheet-works.pdf"))
    };
    let Some(text) = heads(&step) else { return };
    assert!(text.contains("Colour of the chips") && !text.contains("least"), "{text}");
    let text = heads(&format!("{step}\n```calc\nend = 31 mm +0.1/-0\n```\n")).unwrap();
    assert!(text.contains("Colour of the chips") && text.contains("least"), "{text}");
}

/// What has been taken off is not looked for at the machine.
#[test]
fn a_part_that_is_off_does_not_stand_with_the_machine() {
    let lift = ("steps/lift.md", "kind: step\ndoes: Lift it out\nremoves: [post]\nstate: done\n");
    let turn = format!("{TURN}in_place: true\n---\nTurn it clean.\n");
    let dir = with(&[("steps/turn.md", turn.as_str())]);
    holds(&made_text(dir.path(), Some("works")), &["here, with the machine"], &["off the machine"]);
    let dir = with(&[lift, ("steps/turn.md", turn.as_str())]);
    holds(&made_text(dir.path(), Some("works")), &["here, off the machine"], &["with the machine"]);
    let back = turn.replace("parts: [post]", "refits: [post]");
    let dir = with(&[lift, ("steps/turn.md", back.as_str())]);
    holds(&made_text(dir.path(), Some("works")), &["here, with the machine"], &["off the machine"]);
}
