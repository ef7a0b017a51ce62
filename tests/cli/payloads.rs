//! Hostile texts in every place that takes text, hostile names of every file: printed as text or refused with a place.
//!
//! By default a part of them; all with `HOSTILE=all cargo test payloads -- --nocapture`, which prints how many.

use asfound::Project;
use asfound::source::Sources;

use super::asfound;
use super::hostile::{ABOUT, Notes, in_yaml, made, part, runs};
use super::scratch::{project, write};

/// What would be code, a key, a link or a mark if it were not taken as text.
const PIECES: [&str; 36] = [
    "#evil()",
    "#{evil}",
    "#[#evil()]",
    "]#evil()[",
    "\"+evil()+\"",
    "\\\"+evil()+\\\"",
    "$evil$",
    "$ evil(x) $",
    "*/ #evil() /*",
    "//\n#evil()",
    "\n#evil()\n",
    "\r#evil()",
    "\u{2028}#evil()",
    "\u{85}#evil()",
    "<evil>",
    "@evil",
    "#import \"evil\": *",
    "#show: evil",
    "{{ evil }}",
    "{% include \"evil\" %}",
    "{# evil",
    "\\u{23}evil()",
    "`#evil()`",
    "```\n#evil()\n```",
    "~~~ #evil()",
    "<script>evil()</script>",
    "<!-- #evil() -->",
    "&#35;evil()",
    "[evil](javascript:evil)",
    "![evil](evil.png)",
    "[[evil]]",
    "[^evil]",
    "\u{1b}]0;evil\u{7}",
    "\u{202e}evil",
    "e\u{301}\u{301}vil #evil()",
    "\u{1f469}\u{200d}\u{1f527}#evil()",
];

/// What stands around it; `X` is the piece.
const AROUND: [&str; 12] =
    ["X", "a X b", "XX", "*X*", "_X", "**X", "\"X\"", "'X", "(X)", "# X", "- X", "| X |"];

fn texts() -> impl Iterator<Item = String> {
    PIECES.iter().flat_map(|piece| AROUND.iter().map(|around| around.replace('X', piece)))
}

/// All of them, or one of so many where nobody asks for all.
fn some<T>(all: impl Iterator<Item = T>, of: usize) -> Vec<T> {
    all.step_by(if std::env::var_os("HOSTILE").is_some() { 1 } else { of }).collect()
}

/// One text in every key of every kind of note that takes free text.
fn in_every_key(text: &str) -> Notes {
    let x = in_yaml(text);
    let note = |path: &str, keys: &str| (path.to_owned(), format!("---\n{}\n---\n", keys.replace("%", &x)));
    let about = ABOUT.replace("The hand crane", &x);
    vec![
        (
            "dossier.yaml".to_owned(),
            about
                + &"keeper: %\nrevision: %\nmachine: {kind: %, built: %}\nkeeper_contact: {ask_for: %, telephone: %, mail: %, \
                    address: %, machine_at: %}\nfor_helpers: [%]\ninstruments: {mic: {what: %}}\n\
                    fit_for_use: {words: %, date: 2027-01-01, signed_by: %}\n\
                    allow: [{code: instrument-missing, why: %}]\n"
                    .replace('%', &x),
        ),
        note("shops/shed.md", "kind: shop\nname: %\ncontact: %\nprocesses: [%]\ntags: [%]"),
        note("parts/b.md", "kind: part\nname: B\ndisposition: reuse"),
        note(
            "parts/a.md",
            "kind: part\nname: %\nmaterial: %\ndesignation: %\nfrom: %\nmarks: %\ntags: [%]\ndisposition: buy\n\
             stock: {section: %}\nfit: {with: b, at: 20 mm, class: %}\nupkeep: [{does: %, every: %, with: %}]",
        ),
        note("f/f.md", "kind: finding\nabout: [a]\ncondition: %\ntags: [%]"),
        note("f/photo.md", "kind: finding\nabout: [a]\ncondition: bent\nphotos: [%]"),
        note("m/m.md", "kind: measurement\nof: a\nfeature: %\nunit: mm\nvalue: 20"),
        note("m/unit.md", "kind: measurement\nof: a\nfeature: bore\nunit: %\nvalue: %"),
        note("q/q.md", "kind: question\nasks: %\nabout: [a]\nanswer: %\ntheories: [{claim: %}]"),
        note(
            "s/s.md",
            "kind: step\ndoes: %\nparts: [a]\nif_wrong: %\nprocesses: [%]\nhazards: [%]\nreports: [%]\ndone_by: %",
        ),
        note("s/t.md", "kind: step\ndoes: Turn it\nparts: [a]\ncalls_for: {%: 3 kg}\ntakes: %\nat: %"),
        note("p/p.md", "kind: paper\ntitle: %\nwhat: %"),
        note("p/file.md", "kind: paper\ntitle: P\nfile: %"),
        note("l/l.md", "kind: entry\ndate: 2027-01-02\ntitle: %\nby: %"),
        note("i/i.md", "kind: part\nid: %\nname: I\n%: %"),
    ]
}

/// One text in every place of a body.
fn in_every_place_of_a_body(text: &str) -> Notes {
    let line = text.replace(['\n', '\r'], " ");
    let cell = line.replace('|', " ");
    let table = |head: &str| format!("| {head} | {cell} |\n|---|---|\n| {cell} | 20 |\n");
    let body = format!(
        "{text}\n\n# {line}\n\n> {line}\n\n- {line}\n  1. {line}\n\n**{line}** *{line}* ~~{line}~~ `{line}`\n\n```\n{text}\n```\n\n    {line}\n\n\
         ```{line}\nx\n```\n\n[{line}](b.md \"{line}\") <{line}>\n\n![{line}](p.svg \"{line}\")\n\n{}\nx[^n]\n\n[^n]: {line}\n\n<div>{line}</div>\n\n\
         ```calc\na = 2 mm # {line}\n```\n\n```calc\n{line} = 2 mm\nb = {line}\ncheck {line}\n```\n\n`calc {line}`\n\n[r]: {line}\n",
        table("a")
    );
    let of = |keys: &str| format!("---\n{keys}\n---\n{body}");
    let note = |path: &str, keys: &str| (path.to_owned(), of(keys));
    vec![
        ("dossier.yaml".to_owned(), ABOUT.to_owned()),
        note("shops/shed.md", "kind: shop\nname: Shed"),
        note("parts/a.md", "kind: part\nname: A\ndisposition: reuse"),
        note("f/f.md", "kind: finding\nabout: [a]\ncondition: worn"),
        (
            "m/m.md".to_owned(),
            format!("---\nkind: measurement\nof: a\nfeature: bore\nunit: mm\n---\n{}\n{line}\n", table("at")),
        ),
        note("q/q.md", "kind: question\nasks: Why?\nabout: [a]"),
        note("s/s.md", "kind: step\ndoes: Turn it\nparts: [a]"),
        note("p/p.md", "kind: paper\ntitle: P"),
        note("l/l.md", "kind: entry\ndate: 2027-01-02"),
        ("wild.md".to_owned(), text.to_owned()),
        ("wild-front.md".to_owned(), format!("---\n{text}\n---\n{text}\n")),
    ]
}

/// Without what names a file: there is none, and no page is made of it.
fn without_missing_files(notes: Notes) -> Notes {
    let named = notes.into_iter().filter(|(path, _)| !["f/photo.md", "p/file.md"].contains(&path.as_str()));
    let elsewhere = |text: String| {
        ["(p.svg", "(evil.png"]
            .iter()
            .fold(text, |text, file| text.replace(file, "(https://example.org/p.svg"))
    };
    named.map(|(path, text)| (path, elsewhere(text))).collect()
}

#[test]
fn hostile_texts_are_text_or_refused_with_a_place() {
    let texts = some(texts(), 16);
    let mut refused = 0;
    for text in &texts {
        for notes in [in_every_key(text), in_every_place_of_a_body(text)] {
            let project = Project::from_sources(Sources::in_memory(notes.iter().cloned()), Vec::new());
            let errors = project.problems().iter().filter(|problem| problem.is_error());
            for problem in errors {
                refused += 1;
                assert!(problem.place.is_some(), "{text:?}: {}", problem.message);
            }
            let made = made(&without_missing_files(notes));
            assert_eq!(runs(&made), None, "{text:?}");
        }
    }
    println!("{} texts, {refused} places refused, none run", texts.len());
}

#[test]
fn there_are_four_hundred_texts() {
    assert!(texts().count() >= 400);
}

/// 200 names that file systems take.
fn names() -> impl Iterator<Item = String> {
    let pieces = texts().map(|text| text.replace(['/', '\0'], "-"));
    pieces.filter(|name| name.len() < 60 && !name.starts_with('.')).step_by(2).take(200)
}

#[test]
fn notes_folders_papers_and_pictures_of_hostile_names_are_built() {
    let names = some(names(), 10);
    let dir = project(&[("dossier.yaml", ABOUT), ("shops/shed.md", "---\nkind: shop\nname: Shed\n---\n")]);
    let dir = dir.path();
    let drawing = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"><rect width=\"9\" height=\"9\"/></svg>";
    for (at, name) in names.iter().enumerate() {
        let of = |kind: &str| part("Post", "A text.").replacen("name", &format!("id: {kind}-{at}\nname"), 1);
        write(dir, &format!("parts/{at} {name}.md"), &of("part"));
        write(dir, &format!("{at} {name}/part.md"), &of("within"));
        write(dir, &format!("papers/{at} {name}.txt"), "a paper");
        write(dir, &format!("pictures/{at} {name}.svg"), drawing);
        let paper = in_yaml(&format!("{at} {name}.txt"));
        write(
            dir,
            &format!("papers/p{at}.md"),
            &format!("---\nkind: paper\ntitle: A paper\nfile: {paper}\n---\n"),
        );
        let photo = in_yaml(&format!("../pictures/{at} {name}.svg"));
        let keys = format!("about: [part-{at}]\ncondition: worn\nphotos: [{{file: {photo}, shows: it}}]");
        write(dir, &format!("findings/f{at}.md"), &format!("---\nkind: finding\n{keys}\n---\n"));
    }
    asfound(dir).args(["check", "crane"]).assert().success();
    asfound(dir).args(["build", "--draft", "crane"]).assert().success();
    println!("{} names, each of a note, a folder, a paper and a picture", names.len());
}
