//! Files of cases: calculations with what they come to, which read as a specification.
//!
//! A case begins at a heading. Its `calc` fences are notes (`calc post` is the note `post`), or blocks of one note when
//! they have one name. A `gives` fence holds the outcome of all before it in the case: every line, its verdict, and
//! every fault. `gives words` holds the working in words. `SNAPSHOTS=overwrite` writes the outcomes anew.

use std::fmt::Write as _;
use std::path::PathBuf;

use asfound::calc::fault::Severity;
use asfound::calc::print;
use asfound::calc::sheet::{Block, Evaluation, LineKind, LineOutcome, Scope, SourceLine, evaluate};
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, Ton, Units};

use super::functions;

#[test]
fn every_case() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/calc/cases");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the folder of cases")
        .map(|entry| entry.expect("a file").path())
        .collect();
    files.sort();
    assert!(!files.is_empty());
    let mut differing = Vec::new();
    for file in files {
        let text = std::fs::read_to_string(&file).expect("a case file").replace("\r\n", "\n");
        let now = worked(&text);
        if now == text {
            continue;
        }
        if std::env::var("SNAPSHOTS").is_ok_and(|value| value == "overwrite") {
            std::fs::write(&file, &now).expect("writing the case file");
        } else {
            differing.push(difference(&file.display().to_string(), &text, &now));
        }
    }
    assert!(
        differing.is_empty(),
        "{}\n(SNAPSHOTS=overwrite takes the new outcomes over)",
        differing.join("\n")
    );
}

fn difference(file: &str, before: &str, now: &str) -> String {
    let changed = before.lines().zip(now.lines()).find(|(before, now)| before != now);
    let (before, now) = changed.unwrap_or(("(end)", "(more lines)"));
    format!("{file}:\n  expected: {before}\n  now:      {now}")
}

/// The file with the outcomes as they are now.
fn worked(text: &str) -> String {
    let mut out = String::new();
    let mut scopes: Vec<Scope> = Vec::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        out.push_str(line);
        out.push('\n');
        if line.starts_with('#') {
            scopes.clear();
        }
        let Some(fence) = line.strip_prefix("```").filter(|fence| !fence.is_empty()) else { continue };
        let body: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
        match fence.split_once(' ').unwrap_or((fence, "")) {
            ("calc", id) => {
                add(&mut scopes, id, &body);
                for line in body {
                    let _ = writeln!(out, "{line}");
                }
            }
            ("gives", "words") => out.push_str(&words(&scopes)),
            _ => out.push_str(&outcome(&scopes)),
        }
        out.push_str("```\n");
    }
    out
}

/// A block more; offsets count through all lines of a note, so that places can be shown again.
fn add(scopes: &mut Vec<Scope>, id: &str, body: &[&str]) {
    if scopes.iter().all(|scope| scope.id != id) {
        scopes.push(Scope { id: id.to_owned(), ..Scope::default() });
    }
    let scope = scopes.iter_mut().find(|scope| scope.id == id).expect("added before");
    let mut offset = source(scope).len();
    let mut block = Block::default();
    for line in body {
        block.lines.push(SourceLine { text: (*line).to_owned(), offset });
        offset += line.len() + 1;
    }
    scope.blocks.push(block);
}

fn source(scope: &Scope) -> String {
    let lines = scope.blocks.iter().flat_map(|block| &block.lines);
    lines.map(|line| format!("{}\n", line.text)).collect()
}

fn units() -> Units {
    Units::new(&Settings {
        ton: Ton::Long,
        ton_assumed: false,
        currency: "GBP".to_owned(),
        ..Settings::default()
    })
}

fn run(scopes: &[Scope]) -> Evaluation {
    evaluate(scopes, &units(), functions::ALL, Sources::new())
}

fn outcome(scopes: &[Scope]) -> String {
    let evaluation = run(scopes);
    let mut out = String::new();
    for scope in &evaluation.scopes {
        for line in scope.blocks.iter().flat_map(|block| &block.lines) {
            told(line, &mut out);
        }
    }
    for fault in &evaluation.faults {
        let text = source(&scopes[fault.scope]);
        let severity = if fault.severity() == Severity::Error { "error" } else { "caution" };
        let _ =
            writeln!(out, "{severity}[{}] `{}`: {}", fault.code, &text[fault.range.clone()], fault.says());
        let _ = writeln!(out, "  help: {}", fault.help);
        for label in &fault.labels {
            let text = source(&scopes[label.scope]);
            let _ = writeln!(out, "  `{}`: {}", &text[label.range.clone()], label.text);
        }
    }
    out
}

fn told(line: &LineOutcome, out: &mut String) {
    let text = line.text(&units());
    if matches!(line.kind, LineKind::Check) {
        let _ = writeln!(out, "check {text}");
    } else if let Some(budget) = &line.budget {
        let _ = writeln!(out, "budget of {}", budget.of);
        for row in &budget.rows {
            let _ = writeln!(out, "  {} | {} | {} | {:.1} %", row.source, row.standard, row.worst, row.share);
        }
        let total = &budget.total;
        let expanded = total.expanded.as_deref().unwrap_or("no 95 %");
        let _ = writeln!(out, "  {} | {expanded} | {} {}", total.standard, total.worst, total.unit);
    } else if !text.is_empty() {
        let _ = writeln!(out, "{text}");
    }
    for note in &line.notes {
        let _ = writeln!(out, "  {}: {}", if note.is_warning { "warning" } else { "remark" }, note.said);
    }
}

fn words(scopes: &[Scope]) -> String {
    let evaluation = run(scopes);
    let lines = evaluation.scopes.iter().flat_map(|scope| scope.blocks.iter().flat_map(|block| &block.lines));
    let workings = lines.filter_map(|line| line.working.as_ref());
    workings.map(|working| format!("{}\n", working.words())).collect()
}

#[test]
fn a_quote_is_worked_out_in_its_note() {
    let mut scope = Scope { id: "post".to_owned(), ..Scope::default() };
    scope
        .blocks
        .push(Block { lines: vec![SourceLine { text: "clearance = 0.0031 in".to_owned(), offset: 10 }] });
    scope.quotes.push(asfound::calc::sheet::Quote {
        text: "clearance to thou".to_owned(),
        offset: 80,
        named: None,
    });
    scope.quotes.push(asfound::calc::sheet::Quote { text: "clearence".to_owned(), offset: 120, named: None });
    scope.quotes.push(asfound::calc::sheet::Quote { text: "a = 3".to_owned(), offset: 200, named: None });
    let evaluation = run(&[scope]);
    assert_eq!(evaluation.scopes[0].quotes[0].text, "3.1 thou");
    assert_eq!(evaluation.scopes[0].quotes[1].text, "");
    let faults: Vec<_> =
        evaluation.faults.iter().map(|fault| (fault.code.word(), fault.range.clone())).collect();
    assert_eq!(faults, [("calc-unknown-name", 120..129), ("calc-syntax", 200..205)]);
}

#[test]
fn a_printed_value_is_what_print_says() {
    let units = units();
    let literal = asfound::calc::literal::Literal::parse("2.7509 in ± 0.0009 in", &units).expect("a literal");
    let quantity = asfound::calc::value::Quantity::from_literal(&literal, "bore", &mut Sources::new());
    assert_eq!(print::quantity(&quantity, &units).text(), "2.75090 in ± 0.00090 in");
}
