//! What every function's documentation has: formula, symbols, validity, source, caution.

use asfound::calc::function::{Function, Source};
use asfound::hazard::Hazard;
use asfound::trade::{FAMILIES, functions};

/// A source has something to find it by: a number of a standard, an edition, a page or a chapter.
fn is_findable(source: &Source) -> bool {
    match source {
        Source::Work { work, edition, at, .. } => {
            work.len() > 4
                && (work.contains(|letter: char| letter.is_ascii_digit())
                    || !edition.is_empty()
                    || !at.is_empty())
        }
        Source::Practice(_) => true,
        Source::Derived(from) => from.len() > 4,
    }
}

/// What the documentation of a function lacks.
fn lacks(function: &Function) -> Vec<String> {
    let texts = [
        ("does", function.does),
        ("formula", function.formula.how().or(function.formula.texts().next()).unwrap_or_default()),
        ("validity", function.validity),
        ("example", function.example),
    ];
    let mut lacks: Vec<String> = texts
        .iter()
        .filter(|(_, text)| text.trim().len() < 8)
        .map(|(what, text)| format!("{what}: `{text}`"))
        .collect();
    let meanings = function
        .parameters
        .iter()
        .map(|each| (each.name, each.meaning))
        .chain(function.outputs.iter().map(|each| (each.name, each.meaning)));
    lacks.extend(
        meanings.filter(|(_, meaning)| meaning.trim().len() < 3).map(|(name, _)| format!("symbol `{name}`")),
    );
    if function.source.is_empty() {
        lacks.push("a source".to_owned());
    }
    let lost = function.source.iter().filter(|source| !is_findable(source));
    lacks.extend(lost.map(|source| format!("a source that can be found: `{source}`")));
    lacks.iter().map(|lack| format!("{} lacks {lack}", function.name)).collect()
}

#[test]
fn every_function_has_formula_symbols_validity_and_source() {
    let lacks: Vec<String> = functions().flat_map(lacks).collect();
    println!("{} functions in {} families", functions().count(), FAMILIES.len());
    assert_eq!(lacks, Vec::<String>::new());
}

/// The caution that a function must have by what it is about.
fn due(family: &str, name: &str) -> Option<Hazard> {
    match family {
        "lifting" => Some(Hazard::Lifting),
        "press" => Some(Hazard::Pressing),
        "strength" if name.starts_with("weld") || name.contains("_weld") => Some(Hazard::LoadCarryingWeld),
        _ => None,
    }
}

/// A lift that comes of moving on the road, a press that works by heat: each has the caution that is nearer.
fn would_do(due: Hazard, has: Option<Hazard>) -> bool {
    match due {
        Hazard::Lifting => {
            matches!(has, Some(Hazard::Lifting | Hazard::RoadTransport | Hazard::Pressing))
        }
        Hazard::Pressing => matches!(has, Some(Hazard::Pressing | Hazard::HotWork)),
        _ => has == Some(due),
    }
}

#[test]
fn what_can_hurt_has_its_caution() {
    let mut count = 0;
    for family in &FAMILIES {
        for function in family.functions {
            let Some(due) = due(family.key, function.name) else { continue };
            assert!(would_do(due, function.hazard), "{}: {:?}", function.name, function.hazard);
            count += 1;
        }
    }
    println!("{count} functions with a caution due by their subject");
    assert!(count > 40, "{count}");
}
