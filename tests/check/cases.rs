//! The case files: `cases/CODE.md` holds a project and the exact text that `check` prints for it.
//!
//! `SNAPSHOTS=overwrite` writes what is printed now into the files; read the difference before you keep it.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use asfound::diagnostic::codes;
use snapbox::{Assert, Data};

use super::folder::{blocks, check, printed, project, write};
use super::{files, pages};

fn case_files() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/check/cases");
    let entries = fs::read_dir(folder).expect("the folder of cases is there");
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry can be read").path()).collect();
    paths.sort();
    assert!(!paths.is_empty());
    paths
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).expect("a case is a text")
}

fn name(path: &Path) -> String {
    path.file_stem().expect("a case has a name").to_string_lossy().into_owned()
}

/// The case file as it would be if its expected text were what is printed now.
fn as_printed(case: &str) -> String {
    let blocks = blocks(case);
    let expected =
        blocks.iter().find(|block| block.label == "expected").expect("a case says what it expects");
    let dir = project(&blocks);
    let text = printed(&check(dir.path()), dir.path());
    format!("{}{text}{}", &case[..expected.range.start], &case[expected.range.end..])
}

/// The codes that a case's expected text shows.
fn codes_shown(case: &str) -> Vec<String> {
    let blocks = blocks(case);
    let expected = blocks.iter().filter(|block| block.label == "expected");
    let titles = expected.flat_map(|block| block.text.lines());
    let titles = titles.filter(|line| line.starts_with("error[") || line.starts_with("caution["));
    titles.filter_map(|line| Some(line.split_once('[')?.1.split_once(']')?.0.to_owned())).collect()
}

#[test]
fn every_case_gives_the_text_it_expects() {
    let assert = Assert::new().action_env(snapbox::assert::DEFAULT_ACTION_ENV);
    let wrong: Vec<String> = case_files()
        .iter()
        .filter_map(|path| {
            let expected = Data::read_from(path, None).raw();
            assert.try_eq(Some(&name(path)), as_printed(&read(path)).into(), expected).err()
        })
        .map(|error| error.to_string())
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_case_shows_the_code_that_it_is_named_for() {
    for path in case_files() {
        let name = name(&path);
        let word = name.trim_end_matches(|end: char| end == '-' || end.is_ascii_digit());
        if codes::find(word).is_some() {
            assert!(
                codes_shown(&read(&path)).iter().any(|shown| shown == word),
                "{name} does not show {word}"
            );
        } else {
            assert!(["several", "clean"].contains(&word), "{name} is named for no code");
        }
    }
}

#[test]
fn every_code_has_a_page_and_a_case() {
    let in_cases: BTreeSet<String> = case_files().iter().flat_map(|path| codes_shown(&read(path))).collect();
    for code in codes::ALL {
        let title = code.page.lines().next().unwrap_or_default();
        assert!(
            title.starts_with(&format!("# {}: ", code.word)),
            "the page of {} begins `{title}`",
            code.word
        );
        assert!(code.page.contains("To mend it: "), "the page of {} does not say how to mend it", code.word);
        let accepted = code.page.contains("To accept it: ");
        assert_eq!(
            accepted,
            code.severity == codes::Severity::Caution,
            "{}: only a caution is accepted",
            code.word
        );
        let elsewhere = || {
            files::SHOWN
                .iter()
                .chain(pages::SHOWN)
                .chain(crate::cli::issued::SHOWN)
                .any(|shown| *shown == code.word)
        };
        let shown = in_cases.contains(code.word) || elsewhere();
        assert!(shown, "no case shows {}", code.word);
    }
}

#[test]
fn no_page_is_left_over() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("book/src/problems");
    for entry in fs::read_dir(folder).expect("the folder of pages is there") {
        let word = name(&entry.expect("an entry can be read").path());
        assert!(codes::find(&word).is_some(), "there is a page {word}, but no code");
    }
}

#[test]
fn ten_different_problems_are_reported_in_one_run() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/check/cases/several.md");
    let blocks_of = read(&path);
    let dir = project(&blocks(&blocks_of));
    let project = check(dir.path());
    let found: BTreeSet<&str> = project.problems().iter().map(|problem| problem.code.word).collect();
    assert!(found.len() >= 10, "{found:?}");
}

/// Beside every case's notes a further one is laid, last in the order of the files, and its own trouble must be found;
/// but where there is no dossier, no note is read.
#[test]
fn a_wrong_note_never_stops_the_others() {
    for path in case_files().into_iter().filter(|path| !name(path).starts_with("no-dossier")) {
        let case = read(&path);
        let dir = project(&blocks(&case));
        write(dir.path(), "zz/last-of-all.md", "---\nkind: part\nname: Last of all\nquantity: none\n---\n");
        let project = check(dir.path());
        let found = project.problems().iter().any(|problem| {
            let place = problem.place.map(|span| project.sources.file(span.file).path.as_str());
            problem.code.word == "value-shape" && place == Some("zz/last-of-all.md")
        });
        assert!(found, "in {} the last note was not checked", name(&path));
    }
}

#[test]
fn problems_come_in_the_order_of_the_files() {
    for path in case_files() {
        let case = read(&path);
        let dir = project(&blocks(&case));
        let project = check(dir.path());
        let places: Vec<_> = project.problems().iter().map(|problem| problem.place).collect();
        let paths: Vec<PathBuf> = places
            .iter()
            .flatten()
            .map(|span| PathBuf::from(&project.sources.file(span.file).path))
            .collect();
        assert!(places.is_sorted() && paths.is_sorted(), "{}: {paths:?}", name(&path));
    }
}
