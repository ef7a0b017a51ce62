//! The book: the notes that a chapter shows make a project without errors, no key is left out, tables tell the truth.
//!
//! `SNAPSHOTS=overwrite` writes the lists of problems anew.

use std::fs;
use std::path::{Path, PathBuf};

use asfound::Project;
use asfound::calc::literal::Literal;
use asfound::calc::units::{Settings, Units};
use asfound::diagnostic::codes::{self, Code, Severity};
use asfound::record::kinds;
use snapbox::{Assert, Data};

use super::folder::{blocks, check, printed, project, short, write};

fn source(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("book/src").join(name)
}

fn chapter(name: &str) -> String {
    fs::read_to_string(source(name)).expect("the chapter is there")
}

#[test]
fn the_notes_of_a_chapter_make_a_project_without_errors() {
    let mut checked = 0;
    for entry in fs::read_dir(source("")).expect("the book is there") {
        let path = entry.expect("an entry can be read").path();
        if path.is_dir() {
            continue;
        }
        let text = fs::read_to_string(&path).expect("a chapter is a text");
        let blocks = blocks(&text);
        if blocks.is_empty() {
            continue;
        }
        let dir = project(&blocks);
        let project = check(dir.path());
        assert!(!project.has_errors(), "{}:\n{}", path.display(), printed(&project, dir.path()));
        checked += 1;
    }
    assert!(checked >= 4, "only {checked} chapters show notes");
}

/// The keys that may stand where `front` writes `zzz: 1`, as the complaint about it lists them.
fn keys_beside(front: &str) -> Vec<String> {
    let dir = tempfile::tempdir().expect("a temporary folder can be made");
    let (path, text) = match front.strip_prefix("dossier:") {
        Some(text) => ("dossier.yaml", text.trim_start().to_owned()),
        None => {
            write(dir.path(), "dossier.yaml", "title: Post\n");
            ("note.md", format!("---\n{front}\n---\n"))
        }
    };
    write(dir.path(), path, text);
    let project: Project = check(dir.path());
    let problem = project.problems().iter().find(|problem| problem.code.word == "key-unknown");
    let help = &problem.unwrap_or_else(|| panic!("`{front}` has no unknown key")).help;
    let (_, listed) = help.split_once(" are ").unwrap_or_else(|| panic!("no keys are listed: {help}"));
    listed.trim_end_matches('.').split(", ").map(str::to_owned).collect()
}

#[test]
fn the_chapter_on_notes_shows_every_key() {
    let nested = [
        "dossier: zzz: 1",
        "dossier: instruments: {mic: {zzz: 1}}",
        "dossier: allow: [{zzz: 1}]",
        "kind: part\nstock: {zzz: 1}",
        "kind: part\nfit: {zzz: 1}",
        "kind: part\ncost: {zzz: 1}",
        "kind: finding\nphotos: [{zzz: 1}]",
        "kind: finding\nphotos: [{file: a.png, marks: [{zzz: 1}]}]",
        "kind: question\ntheories: [{zzz: 1}]",
    ];
    let text = chapter("notes.md");
    let of_kinds = kinds().into_iter().map(|kind| format!("kind: {kind}\nzzz: 1"));
    for front in of_kinds.chain(nested.map(str::to_owned)) {
        for key in keys_beside(&front) {
            assert!(text.contains(&format!("{key}:")), "the chapter does not show `{key}` of\n{front}");
        }
    }
}

/// A list within a list is the value of no key: whatever reads the key says so at its line.
#[test]
fn every_key_of_a_kind_is_read() {
    for kind in kinds() {
        let keys = keys_beside(&format!("kind: {kind}\nzzz: 1"));
        for key in keys.iter().filter(|key| *key != "kind") {
            let dir = tempfile::tempdir().expect("a temporary folder can be made");
            write(dir.path(), "dossier.yaml", "title: Post\n");
            write(dir.path(), "note.md", format!("---\nkind: {kind}\n{key}: [[x]]\n---\n"));
            let project: Project = check(dir.path());
            let found: Vec<String> = project.problems().iter().map(|each| short(each, &project)).collect();
            assert!(found.iter().any(|each| each.ends_with(" note.md:3")), "{kind}: {key}: {found:?}");
        }
    }
}

/// The texts in backquotes of every row of the table whose head begins with `head`.
fn rows(text: &str, head: &str) -> Vec<Vec<String>> {
    let lines = text.lines().skip_while(|line| !line.starts_with(head)).skip(2);
    let rows = lines.take_while(|line| line.starts_with('|'));
    rows.map(|row| row.trim_matches('|').split('|').map(|cell| cell.trim().to_owned()).collect()).collect()
}

#[test]
fn the_table_of_quantities_tells_the_truth() {
    let units = Units::new(&Settings::default());
    let si = |text: &str| {
        Literal::parse(text, &units).unwrap_or_else(|fault| panic!("`{text}`: {}", fault.message))
    };
    let rows = rows(&chapter("quantities.md"), "| you type");
    assert!(rows.len() > 10);
    for row in rows {
        let [typed, least, most] = row.as_slice() else { panic!("{row:?}") };
        let literal = si(typed.trim_matches('`'));
        for (end, told) in [(literal.low, least), (literal.high, most)] {
            let told = si(told).nominal;
            assert!((end - told).abs() <= 1e-12 * told.abs(), "{typed} reaches to {end}, not {told}");
        }
    }
}

#[test]
fn every_unit_that_is_listed_is_known() {
    let units = Units::new(&Settings::default());
    let rows = rows(&chapter("quantities.md"), "| of  ");
    assert!(rows.len() > 10);
    for row in rows {
        for unit in row[1].split('`').map(str::trim).filter(|unit| !unit.is_empty()) {
            let read = Literal::parse(&format!("1 {unit}"), &units);
            assert!(read.is_ok_and(|one| !one.unit.is_none()), "`{unit}` is listed under {}", row[0]);
        }
    }
}

fn listed(code: &Code) -> String {
    let title = code.page.lines().next().unwrap_or_default();
    let title = title.split_once(": ").map_or(title, |(_, rest)| rest);
    format!("[`{word}`](problems/{word}.md): {title}\n", word = code.word)
}

fn of_severity(severity: Severity) -> impl Iterator<Item = &'static Code> {
    codes::ALL.iter().copied().filter(move |code| code.severity == severity)
}

#[test]
fn the_chapter_on_problems_lists_every_code() {
    let text = chapter("problems.md");
    let (intro, _) = text.split_once("## Errors").unwrap_or((&text, ""));
    let list = |severity| {
        of_severity(severity).map(|code| format!("- {}", listed(code))).collect::<Vec<_>>().concat()
    };
    let whole =
        format!("{intro}## Errors\n\n{}\n## Cautions\n\n{}", list(Severity::Error), list(Severity::Caution));
    overwritable("problems.md", whole);
}

#[test]
fn the_contents_lead_to_every_code() {
    let text = chapter("SUMMARY.md");
    let (before, _) =
        text.split_once("(problems.md)\n").expect("the contents lead to the chapter on problems");
    let pages = codes::ALL.iter().map(|code| format!("  - [{word}](problems/{word}.md)\n", word = code.word));
    overwritable("SUMMARY.md", format!("{before}(problems.md)\n{}", pages.collect::<Vec<_>>().concat()));
}

fn overwritable(name: &str, whole: String) {
    let assert = Assert::new().action_env(snapbox::assert::DEFAULT_ACTION_ENV);
    assert.eq(whole, Data::read_from(&source(name), None).raw());
}
