//! Where problems point: at the key at fault, with every other place that belongs to it; none hidden by another.

use asfound::Project;
use asfound::diagnostic::{Format, show};
use asfound::source::Sources;
use serde_json::{Value, json};

const HOME_PAGE: (&str, &str) = ("dossier.yaml", "title: A crane\nton: long\n");

fn read(notes: &[(&str, &str)]) -> Project {
    let texts = std::iter::once(&HOME_PAGE).chain(notes);
    let texts = texts.map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
    Project::from_sources(Sources::in_memory(texts), Vec::new())
}

fn short(notes: &[(&str, &str)]) -> Vec<String> {
    let project = read(notes);
    let text = show(project.problems(), &project.sources, Format::Short);
    text.lines().map(|line| line.split(": ").take(2).collect::<Vec<_>>().join(": ")).collect()
}

fn problems(notes: &[(&str, &str)]) -> Vec<Value> {
    let project = read(notes);
    let told = show(project.problems(), &project.sources, Format::Json);
    let told: Value = serde_json::from_str(&told).expect("JSON is JSON");
    told["problems"].as_array().expect("a list").clone()
}

#[test]
fn json_has_every_place_with_its_end() {
    let told = problems(&[
        ("a.md", "---\nkind: step\ndoes: Bore\nneeds: [b]\n---\n"),
        ("b.md", "---\nkind: step\ndoes: Turn\nneeds:\n  - a\n---\n"),
    ]);
    assert_eq!(told.len(), 1);
    assert_eq!(
        (&told[0]["code"], &told[0]["file"], &told[0]["line"], &told[0]["column"]),
        (&json!("step-circle"), &json!("b.md"), &json!(5), &json!(5))
    );
    assert_eq!(
        told[0]["places"],
        json!([
            {"file": "b.md", "line": 5, "column": 5, "end_line": 5, "end_column": 6, "says": null},
            {"file": "a.md", "line": 4, "column": 9, "end_line": 4, "end_column": 10, "says": "a needs b"},
        ])
    );
}

/// A settled question without an answer is reported beside a wrong id in the same note; a misspelt `answer` is its reason.
#[test]
fn an_error_hides_only_what_it_brought_about() {
    assert_eq!(
        short(&[("q.md", "---\nkind: question\nasks: Why?\nabout: [bash]\nstate: settled\n---\n")]),
        ["q.md:4:9: error[id-unknown]", "q.md:5:8: error[answer-missing]"]
    );
    assert_eq!(
        short(&[("q.md", "---\nkind: question\nasks: Why?\nanswr: Rust\nstate: settled\n---\n")]),
        ["q.md:4:1: error[key-unknown]"]
    );
    assert_eq!(
        short(&[("p.md", "---\nkind: part\nname: Bush\ndisposition: buy\ncost: 12\nwithin: crabb\n---\n")]),
        ["p.md:5:7: error[unit-missing]", "p.md:6:9: error[id-unknown]"]
    );
}

/// A note that lacks a needed key is not part of the dossier, but what it names is checked all the same.
#[test]
fn a_note_that_lacks_a_key_has_its_ids_checked() {
    assert_eq!(
        short(&[
            ("s.md", "---\nkind: step\nparts: [bash]\nneeds: [t, bush]\nat: nowhere\n---\n"),
            ("t.md", "---\nkind: step\ndoes: Turn\n---\n"),
            ("bush.md", "---\nkind: part\nname: Bush\ndisposition: reuse\n---\n"),
        ]),
        [
            "s.md:2:1: error[key-missing]",
            "s.md:3:9: error[id-unknown]",
            "s.md:4:12: error[id-kind]",
            "s.md:5:5: error[id-unknown]",
        ]
    );
}
