//! Names that a body asks for or answers with stand in its table: a name that does not would be no number, or nothing.

use std::collections::BTreeSet;
use std::path::Path;

use asfound::calc::dimension::Dimension;
use asfound::calc::function::{
    Absent, Answer, Call, Formula, Function, Gives, Output, Parameter, Refusal, Takes,
};
use asfound::calc::real::Real;
use asfound::trade::FAMILIES;

/// The text in quotes that follows each of the openings.
fn quoted(source: &str, openings: &[&str]) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for opening in openings {
        for (at, _) in source.match_indices(opening) {
            let rest = source[at + opening.len()..].trim_start();
            let Some(rest) = rest.strip_prefix('"') else { continue };
            names.extend(rest.split('"').next().map(str::to_owned));
        }
    }
    names
}

/// The lists of names that a body asks for in one go: `["d", "wall"].map(|name| call.real(name))`.
fn listed(source: &str) -> BTreeSet<String> {
    let closing = ".map(|name| call.";
    let mut names = BTreeSet::new();
    for (at, _) in source.match_indices(closing) {
        let Some(open) = source[..at].rfind('[') else { continue };
        names.extend(quoted(&format!("[{}", &source[open + 1..at].replace(',', ",[")), &["["]));
    }
    names
}

/// What of a source is its code, without its tests.
fn code(path: &Path) -> String {
    let text = std::fs::read_to_string(path).expect("a source");
    text.split("#[cfg(test)]").next().unwrap_or_default().to_owned()
}

fn sources(of: &Path) -> Vec<std::path::PathBuf> {
    if of.is_file() {
        return vec![of.to_owned()];
    }
    let entries = std::fs::read_dir(of).expect("a folder");
    entries.flat_map(|entry| sources(&entry.expect("an entry").path())).collect()
}

const ASKS: &[&str] = &[
    "call.real(",
    "call.optional(",
    "call.count(",
    "call.text(",
    "call.truth(",
    "call.list(",
    "call.is_given(",
    "call.given(",
    "call.system_of(",
    "call.field_of(",
    "call.text_of(",
    "Refusal::of(",
    "chosen(call, ",
    "load(",
    "figure_or_material(call, ",
    "property(call, ",
    "stated(call, ",
    "pairs(call, ",
    "within(",
    "Elastic::of(call, ",
];
const ANSWERS: &[&str] = &[".number(", ".text(", ".field("];

/// In every branch, reached by a test or not: a family's code names only what one of its tables declares.
#[test]
fn bodies_name_what_their_family_declares() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/trade");
    let mut unknown = Vec::new();
    for family in &FAMILIES {
        let folder = root.join(family.key);
        let path = if folder.is_dir() { folder } else { root.join(format!("{}.rs", family.key)) };
        let parameters: BTreeSet<&str> =
            family.functions.iter().flat_map(|each| each.parameters.iter().map(|each| each.name)).collect();
        let outputs: BTreeSet<&str> =
            family.functions.iter().flat_map(|each| each.outputs.iter().map(|each| each.name)).collect();
        for source in sources(&path) {
            let code = code(&source);
            let asked = quoted(&code, ASKS).into_iter().chain(listed(&code));
            let asked = asked.filter(|name| !parameters.contains(name.as_str()));
            // Columns of a table are read in the same words, from a row.
            let answered = quoted(
                &code.replace("row.text(", "").replace("row.number(", "").replace("call.text(", ""),
                ANSWERS,
            );
            let answered = answered.into_iter().filter(|name| !outputs.contains(name.as_str()));
            unknown.extend(asked.map(|name| format!("{}: asks for `{name}`", source.display())));
            unknown.extend(answered.map(|name| format!("{}: answers with `{name}`", source.display())));
        }
    }
    assert!(unknown.is_empty(), "{}", unknown.join("\n"));
}

type Body = fn(&Call) -> Result<Answer, Refusal>;

const fn made_up(body: Body) -> Function {
    Function {
        name: "made_up",
        does: "nothing",
        parameters: &[Parameter {
            name: "d",
            takes: Takes::Positive(Dimension::LENGTH),
            absent: Absent::Without,
            meaning: "diameter",
        }],
        outputs: &[Output { name: "area", gives: Gives::Count, meaning: "area" }],
        formula: Formula::Lines(""),
        validity: "",
        source: &[],
        hazard: None,
        example: "",
        body,
    }
}

/// At run time such a name is refused in words, in whichever branch it stands.
#[test]
fn an_undeclared_name_is_refused() {
    let bodies: [(Body, &str); 4] = [
        (|call| Ok(Answer::new().number("area", call.real("D"))), "asks for `D`"),
        (|_| Ok(Answer::new().number("aera", Real::exact(1.0))), "answers with `aera`"),
        (|call| Ok(Answer::new().number("area", call.real("d"))), "asks for `d`"),
        (|call| Ok(Answer::new().text("area", call.text("d"))), ""),
    ];
    for (body, refused) in bodies {
        let function = made_up(body);
        let answer = function.answer(&Call::new(&function, vec![None]));
        match answer {
            Ok(_) => assert_eq!(refused, ""),
            Err(refusal) => assert!(!refused.is_empty() && refusal.message.contains(refused), "{refusal:?}"),
        }
    }
}
