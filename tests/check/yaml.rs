//! Front matter against a general YAML reader (`yaml_serde`, on libyaml): the notes of the example with one slip of the pen
//! each. What that reader refuses is refused; what both read says the same.

use std::fs;
use std::path::Path;

use asfound::note::yaml::{Node, Shape};
use asfound::note::{self, Found};
use asfound::source::Sources;
use serde_yaml::Value;

/// The front matters of the example.
fn fronts() -> Vec<String> {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("notes-example");
    let files = walkdir::WalkDir::new(example).sort_by_file_name().into_iter().filter_map(Result::ok);
    let notes = files.filter(|file| file.path().extension().is_some_and(|ending| ending == "md"));
    let texts = notes.map(|file| fs::read_to_string(file.path()).expect("a text"));
    texts.filter_map(|text| Some(text.strip_prefix("---\n")?.split_once("\n---\n")?.0.to_owned())).collect()
}

/// A text with one character taken out, put in or put in the place of another.
fn with_slip(text: &str, random: &mut impl FnMut(usize) -> usize) -> String {
    const SIGNS: [char; 19] =
        [':', '#', '[', ']', '{', '}', '"', '\'', '-', ',', '\t', '\n', ' ', '&', '*', '!', '|', '@', 'a'];
    let mut letters: Vec<char> = text.chars().collect();
    let at = random(letters.len());
    match random(3) {
        0 => drop(letters.remove(at)),
        1 => letters.insert(at, SIGNS[random(SIGNS.len())]),
        _ => letters[at] = SIGNS[random(SIGNS.len())],
    }
    letters.into_iter().collect()
}

fn says_the_same(node: &Node, value: &Value) -> bool {
    match (&node.shape, value) {
        (Shape::Nothing, Value::Null) => true,
        (Shape::Scalar { truth, .. }, Value::Bool(other)) => *truth == Some(*other),
        (Shape::Scalar { text, truth: None }, Value::String(other)) => text == other,
        (Shape::Scalar { truth: None, .. }, Value::Number(_)) => true,
        (Shape::List(items), Value::Sequence(values)) => {
            items.len() == values.len()
                && items.iter().zip(values).all(|(item, value)| says_the_same(item, value))
        }
        (Shape::Map(entries), Value::Mapping(values)) => {
            entries.len() == values.len()
                && entries.iter().zip(values).all(|(entry, (_, value))| says_the_same(&entry.value, value))
        }
        _ => false,
    }
}

/// Whether a key stands there without a colon, or as `[key:]` in a list (YAML 1.2.2, 7.4.1, a single pair), which is
/// refused when the keys are read.
fn has_bare_key(node: &Node) -> bool {
    let is_single_pair = |item: &Node| match &item.shape {
        Shape::Map(entries) => matches!(&entries[..], [entry] if matches!(entry.value.shape, Shape::Nothing)),
        _ => false,
    };
    match &node.shape {
        Shape::Map(entries) => entries.iter().any(|entry| entry.bare || has_bare_key(&entry.value)),
        Shape::List(items) => items.iter().any(|item| is_single_pair(item) || has_bare_key(item)),
        _ => false,
    }
}

/// What is wrong with our reading of a front matter, beside that of the other reader.
fn difference(front: &str) -> Option<String> {
    let texts = [("note.md".to_owned(), format!("---\n{front}\n---\n"))];
    let sources = Sources::in_memory(texts);
    let file = sources.ids().next().expect("one file");
    let mut problems = Vec::new();
    let found = note::read(&sources, file, &mut problems);
    let is_refused = problems.iter().any(asfound::diagnostic::Problem::is_error);
    match (serde_yaml::from_str::<Value>(front), found) {
        (Err(_), Found::Note(note)) if has_bare_key(&note.front) => None,
        (Err(error), _) if !is_refused => Some(format!("read, but: {error}")),
        (Ok(value), Found::Note(note)) if !is_refused && !says_the_same(&note.front, &value) => {
            Some(format!("{:?}\n{value:?}", note.front.shape))
        }
        _ => None,
    }
}

#[test]
fn a_slip_is_read_as_a_general_reader_reads_it() {
    let mut seed: u64 = 20_260_314;
    let mut random = move |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(seed >> 33).expect("31 bits") % below.max(1)
    };
    let fronts = fronts();
    assert!(fronts.len() > 100);
    let mut differences = Vec::new();
    for front in fronts.iter().cycle().take(4000) {
        let typed = with_slip(front, &mut random);
        // A line of three hyphens ends the front matter.
        if !typed.lines().any(|line| matches!(line.trim_end(), "---" | "...")) {
            differences.extend(difference(&typed).map(|why| format!("{typed}\n=> {why}")));
        }
    }
    assert!(
        differences.is_empty(),
        "{}:\n{}",
        differences.len(),
        differences[..differences.len().min(12)].join("\n\n")
    );
}
