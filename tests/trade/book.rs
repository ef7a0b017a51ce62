//! The book's chapters on the workshop functions are written from the functions' own tables.
//!
//! `SNAPSHOTS=overwrite` writes them anew. The examples in them are run by the module `examples` of these tests.

use std::fmt::Write;
use std::path::Path;

use asfound::calc::dimension::Dimension;
use asfound::calc::function::{Absent, Function, Gives, Parameter, Sign, Takes};
use asfound::trade::{FAMILIES, Family};
use snapbox::{Assert, Data};

const MARK: &str = "<!-- What follows is written by the tests from the tables of the functions. -->\n";

#[test]
fn every_family_has_its_chapter() {
    let summary =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("book/src/SUMMARY.md")).unwrap();
    for family in &FAMILIES {
        let path =
            Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("book/src/functions/{}.md", family.key));
        let text = std::fs::read_to_string(&path).unwrap();
        let (head, _) = text.split_once(MARK).unwrap_or_else(|| panic!("{} has no mark", path.display()));
        assert!(head.lines().count() > 2, "{} says nothing before its functions", path.display());
        assert!(
            summary.contains(&format!("functions/{}.md", family.key)),
            "{} is not in the summary",
            family.key
        );
        let written = format!("{head}{MARK}{}", functions(family));
        Assert::new().action_env("SNAPSHOTS").eq(written, Data::read_from(&path, None).raw());
    }
}

fn functions(family: &Family) -> String {
    family.functions.iter().map(|function| entry(function)).collect()
}

fn entry(function: &Function) -> String {
    let mut text = format!("\n## {}\n\n{}.\n\n", function.name, capital(function.does));
    text.push_str("| takes | what | if absent |\n|---|---|---|\n");
    for parameter in function.parameters {
        let _ = writeln!(
            text,
            "| `{}` | {}; {} | {} |",
            parameter.name,
            cell(parameter.meaning),
            takes(parameter),
            absent(parameter)
        );
    }
    text.push_str("\n| gives | what | in |\n|---|---|---|\n");
    for output in function.outputs {
        let _ = writeln!(text, "| `{}` | {} | {} |", output.name, cell(output.meaning), gives(&output.gives));
    }
    let _ = write!(
        text,
        "{}\nHolds for: {}.\n\nSource: {}.\n",
        formula(function),
        plain(function.validity),
        asfound::calc::provenance::source_words(function.source)
    );
    if let Some(hazard) = function.hazard {
        let _ = write!(text, "\nCaution: {}\n", hazard.caution());
    }
    let _ = write!(text, "\n```calc\n{}\n```\n", function.example.trim());
    text
}

/// What is looked up in words, and the lines as they are run.
fn formula(function: &Function) -> String {
    let mut text = String::new();
    if let Some(how) = function.formula.how() {
        let _ = writeln!(text, "\nFound by: {}.", plain(how));
    }
    let lines: Vec<&str> = function.formula.texts().collect();
    if !lines.is_empty() {
        let _ = write!(text, "\nFormula:\n\n```text\n{}\n```\n", lines.join("\n"));
    }
    text
}

fn plain(text: &str) -> &str {
    text.trim().trim_end_matches('.')
}

/// A bar would end the cell.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

fn capital(text: &str) -> String {
    let mut letters = plain(text).chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn takes(parameter: &Parameter) -> String {
    match parameter.takes {
        Takes::Positive(dimension) => format!("{} above zero", a(dimension)),
        Takes::NotNegative(dimension) => format!("{} of zero or more", a(dimension)),
        Takes::Signed(dimension) => format!("{} of either sign", a(dimension)),
        Takes::Turning(sign) => format!("a rotational speed{}", range(sign)),
        Takes::Turnings => "a list, each a rotational speed".to_owned(),
        Takes::Angle(sign) => format!("an angle{}", range(sign)),
        Takes::PerTurn => "a length above zero, also as `mm/rev`".to_owned(),
        Takes::TemperaturePoint => "a temperature".to_owned(),
        Takes::Count => "a whole number".to_owned(),
        Takes::Text => "a text".to_owned(),
        Takes::Truth => "true or false".to_owned(),
        Takes::List(dimension) => format!("a list, each {}", a(dimension)),
        Takes::Material => "a material".to_owned(),
    }
}

fn range(sign: Sign) -> &'static str {
    match sign {
        Sign::Positive => " above zero",
        Sign::NotNegative => " of zero or more",
        Sign::Either => " of either sign",
    }
}

/// "a length", "an area".
fn a(dimension: Dimension) -> String {
    let name = dimension.to_string();
    let article = if name.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    format!("{article} {name}")
}

fn absent(parameter: &Parameter) -> String {
    match parameter.absent {
        Absent::Refused => "must be given".to_owned(),
        Absent::Without => "done without".to_owned(),
        Absent::From(expression) => format!("`{expression}`"),
        Absent::Number(number) => format!("{number} in SI units"),
        Absent::Words(words) => format!("\"{words}\""),
        Absent::Truth(truth) => truth.to_string(),
    }
}

fn gives(gives: &Gives) -> String {
    let units = |metric: &str, inch: &str| {
        if metric == inch { metric.to_owned() } else { format!("{metric} or {inch}") }
    };
    match gives {
        Gives::Quantity { metric, inch, .. } => units(metric, inch),
        Gives::List { metric, inch, .. } => format!("a list in {}", units(metric, inch)),
        Gives::Count => "a whole number".to_owned(),
        Gives::Text => "words".to_owned(),
        Gives::Truth => "true or false".to_owned(),
    }
}
