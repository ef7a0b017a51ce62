//! The book: the notes that a chapter shows make a project without errors, no key is left out, tables tell the truth.
//!
//! `SNAPSHOTS=overwrite` writes the lists of problems and the tables of keys anew.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use asfound::Project;
use asfound::calc::literal::Literal;
use asfound::calc::units::{Settings, Units};
use asfound::diagnostic::codes::{self, Code, Severity};
use asfound::record::{About, Key, Kind, Mapping, common_keys};
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

/// Every mapping that a key leads to, from those of the notes and of dossier.yaml on, each once.
fn mappings() -> Vec<Mapping> {
    let of_kinds = Kind::ALL.iter().map(|kind| kind.own_keys());
    let mut all: Vec<Mapping> = [common_keys(), About::mapping()].into_iter().chain(of_kinds).collect();
    let mut at = 0;
    while at < all.len() {
        for inner in all[at].keys.iter().filter_map(|key| key.form.mapping()) {
            if !all.iter().any(|known| known.owner == inner.owner) {
                all.push(inner);
            }
        }
        at += 1;
    }
    all
}

fn head_of_keys(owner: &str) -> String {
    format!("| key of {owner} | what it says | how it is written |\n|---|---|---|\n")
}

fn table_of_keys(mapping: &Mapping) -> String {
    let row = |key: &Key| {
        let needed = if key.needed.is_some() { " *Needed.*" } else { "" };
        format!("| `{}` | {}{needed} | {} |\n", key.name, key.meaning, key.form)
    };
    head_of_keys(mapping.owner) + &mapping.keys.iter().map(row).collect::<String>()
}

/// The tables of keys in a text, each from its head to the line after it that begins no row.
fn tables_of_keys(text: &str) -> Vec<&str> {
    let starts = text.match_indices("| key of ").map(|(at, _)| at);
    let end = |at: usize| text[at..].find("\n\n").map_or(text.len(), |end| at + end + 1);
    starts.map(|at| &text[at..end(at)]).collect()
}

#[test]
fn the_tables_of_keys_are_those_that_are_declared() {
    let declared: Vec<String> = mappings().iter().map(table_of_keys).collect();
    let mut missing: BTreeSet<&str> = declared.iter().map(|table| head(table)).collect();
    for name in ["notes.md", "shape.md"] {
        let text = chapter(name);
        let mut expected = text.clone();
        for table in tables_of_keys(&text) {
            assert!(missing.remove(head(table)), "{name}: no such keys, or a second table: {}", head(table));
            let now = declared.iter().find(|each| head(each) == head(table)).expect("it was among them");
            expected = expected.replace(table, now);
        }
        Assert::new().action_env("SNAPSHOTS").eq(expected, Data::read_from(&source(name), None).raw());
    }
    assert!(missing.is_empty(), "no chapter has a table with the head {missing:?}");
}

fn head(table: &str) -> &str {
    table.lines().next().unwrap_or_default()
}

#[test]
fn the_chapter_on_notes_shows_every_key_of_its_tables() {
    let text = chapter("notes.md");
    let tables = tables_of_keys(&text);
    let is_there =
        |mapping: &Mapping| tables.iter().any(|table| table.starts_with(&head_of_keys(mapping.owner)));
    for mapping in mappings().into_iter().filter(is_there) {
        for key in mapping.keys {
            assert!(
                text.contains(&format!("{}:", key.name)),
                "no note shows `{}` of {}",
                key.name,
                mapping.owner
            );
        }
    }
}

/// A list within a list is the value of no key: whatever reads the key says so at its line.
#[test]
fn every_key_of_a_kind_is_read() {
    for kind in Kind::ALL {
        for key in kind.mapping().keys.iter().filter(|key| key.name != "kind") {
            let dir = tempfile::tempdir().expect("a temporary folder can be made");
            write(dir.path(), "dossier.yaml", "title: Post\n");
            let (kind, key) = (kind.word(), key.name);
            write(dir.path(), "note.md", format!("---\nkind: {kind}\n{key}: [[x]]\n---\n"));
            let project: Project = check(dir.path());
            let found: Vec<String> = project.problems().iter().map(|each| short(each, &project)).collect();
            assert!(found.iter().any(|each| each.ends_with(" note.md:3")), "{kind}: {key}: {found:?}");
        }
    }
}

/// The notes of the example lie where its kinds say.
#[test]
fn every_kind_has_a_folder() {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("notes-example");
    let project = Project::open(&example).expect("the example can be read");
    for note in project.dossier.notes() {
        let path = &project.sources.file(project.dossier.head(note).file).path;
        assert_eq!(path.split('/').next(), Some(note.kind().folder()), "{path}");
    }
    for kind in Kind::ALL {
        assert!(
            project.dossier.notes().any(|note| note.kind() == *kind),
            "the example has no {}",
            kind.word()
        );
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

/// The engine's kinds of fault and the problem codes are one list: word, severity and page.
#[test]
fn every_fault_of_the_engine_is_a_problem_code() {
    use asfound::calc::fault::{Code, Severity};
    for fault in Code::ALL {
        let code = codes::of_fault(*fault);
        assert!(codes::find(fault.word()).is_some_and(|found| std::ptr::eq(found, code)), "{fault}");
        let is_error = code.severity == codes::Severity::Error;
        assert_eq!(fault.severity() == Severity::Error, is_error, "{fault}");
    }
}
