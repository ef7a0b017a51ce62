//! The pages of the parts: working as by hand, readings in a line, the list of parts, the index.

use std::path::Path;

use super::{build, outside};
use crate::check::folder::write;

/// A crane of a post and a brake lining; `more`: further notes, each a path with its text.
fn pages(post: &str, more: &[(&str, &str)]) -> Option<String> {
    let dir = tempfile::tempdir().unwrap();
    let head = "title: The crane\nunits: metric\ninstruments:\n  gauge: {what: a gauge, resolution: 0.01 mm, within: 0.01 mm}\n";
    write(dir.path(), "dossier.yaml", head);
    let part =
        |name: &str, body: &str| format!("---\nkind: part\nname: {name}\ndisposition: reuse\n---\n{body}");
    write(dir.path(), "parts/post.md", part("Post", post));
    write(dir.path(), "parts/lining.md", part("Brake lining", ""));
    for (path, text) in more {
        write(dir.path(), path, text);
    }
    build(dir.path());
    text_of(&dir.path().join("out/dossier.pdf"))
}

fn text_of(pdf: &Path) -> Option<String> {
    let text = outside("pdftotext", &[pdf.to_str()?, "-"])?;
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

fn journal(limits: &str, rows: &str) -> String {
    let head = "kind: measurement\nof: post\nfeature: diameter of the neck journal\nstate: as-found\ninstrument: gauge\nunit: mm\nnominal: 60 mm";
    format!("---\n{head}\n{limits}---\n| above the collar | 0° | 90° |\n|---|---|---|\n{rows}")
}

const TAPERED: &str = "| 20 mm | 59.80 | 59.80 |\n| 60 mm | 59.90 | 59.90 |\n| 100 mm | 59.95 | 59.95 |\n";
const EVEN: &str = "| 20 mm | 59.99 | 59.99 |\n| 60 mm | 59.99 | 59.99 |\n| 100 mm | 59.99 | 59.99 |\n";

/// By hand: effort = load · load arm / (effort arm · η) or the like, and what each letter is.
#[test]
fn a_function_is_printed_as_its_formula_with_its_figures() {
    let body = "```calc\npull = lever(load: 1200 N, load_arm: 100 mm, effort_arm: 1500 mm).effort\n```\n";
    let Some(text) = pages(body, &[]) else { return };
    assert!(text.contains("where load = 1200"), "{text}");
    assert!(text.contains("by lever p."), "{text}");
    assert!(!text.contains("effort of lever"), "the call gives way to its formula: {text}");
}

#[test]
fn what_another_note_gives_has_that_notes_name() {
    let body = "```calc\nleast = @neck.min - 1 mm\n```\n";
    let Some(text) = pages(body, &[("measurements/neck.md", &journal("", TAPERED))]) else { return };
    assert!(text.contains("least diameter of the neck journal"), "{text}");
    assert!(!text.contains("(neck)"), "{text}");
}

/// 300 lbf are 300 · 4.448 221 615 260 5 N = 1334 N (the pound-force by its definition).
#[test]
fn a_check_has_its_figures_in_one_unit() {
    let body = "```calc\nload = 1200 N\ncheck load * 1 <= 300 lbf\n```\n";
    let Some(text) = pages(body, &[]) else { return };
    assert!(text.contains("1200 N ≤ 1334 N") || text.contains("269.8 lbf ≤ 300"), "{text}");
}

/// From 59.80 to 59.95 mm over the 80 mm from 20 to 100 mm: a taper of 0.15 mm.
#[test]
fn readings_come_to_one_line() {
    let Some(text) = pages("", &[("measurements/neck.md", &journal("", TAPERED))]) else { return };
    assert!(text.contains("Least 59.80, greatest 59.95, mean 59.88 mm, each known to ±"), "{text}");
    assert!(text.contains("taper 0.15 mm over 80 mm"), "{text}");
    assert!(!text.contains("Worked out"), "no table of statistics: {text}");
}

#[test]
fn only_a_trend_is_drawn() {
    let figures = |rows: &str| {
        let text = pages("", &[("measurements/neck.md", &journal("", rows))])?;
        Some(text.matches("fig. ").count())
    };
    let (Some(tapered), Some(even)) = (figures(TAPERED), figures(EVEN)) else { return };
    assert_eq!((tapered, even), (1, 0));
}

/// Three stations and two readings at each are lower as two rows of three.
#[test]
fn a_table_of_readings_reads_the_way_that_is_lower() {
    let Some(text) = pages("", &[("measurements/neck.md", &journal("", TAPERED))]) else { return };
    assert!(text.contains("20 mm 60 mm 100 mm"), "the stations are the head: {text}");
    let one = journal("", "| 20 mm | 59.80 | 59.81 |\n");
    let Some(text) = pages("", &[("measurements/neck.md", &one)]) else { return };
    assert!(text.contains("0° 59.80, 90° 59.81 mm"), "one station is a line: {text}");
}

/// Limits 59.90 to 60.00 mm are a zone of 0.10 mm; 59.80 mm is one such width past them.
#[test]
fn wear_is_counted_in_tolerances_and_only_wear_has_a_bar() {
    let limits = "limits: 59.90 mm .. 60.00 mm\n";
    let Some(text) = pages("", &[("measurements/neck.md", &journal(limits, TAPERED))]) else { return };
    assert!(text.contains("1.0 tolerances, 0.10 mm"), "{text}");
    let Some(text) = pages("", &[("measurements/neck.md", &journal(limits, EVEN))]) else { return };
    assert!(!text.contains("tolerances,"), "{text}");
    assert!(text.contains("Post: diameter of the neck journal"), "what holds is named: {text}");
}

const ASBESTOS: (&str, &str) = (
    "findings/lining-fibre.md",
    "---\nkind: finding\nabout: [lining]\ncondition: [may be asbestos, cracked]\nseverity: dangerous\n---\n",
);

#[test]
fn the_list_of_parts_says_what_is_wrong_with_them() {
    let Some(text) = pages("", &[ASBESTOS]) else { return };
    let list = text.split_once("Part Condition").expect("a list of parts").1;
    assert!(
        list[..200].contains("Brake lining") && list[..200].contains("may be asbestos, cracked"),
        "{list}"
    );
}

#[test]
fn the_index_has_subjects_and_no_ids_and_no_verbs() {
    let step = "---\nkind: step\ndoes: Unbolt the lining wet\nparts: [lining]\ntakes: 1 h\nhazards: [asbestos]\n---\n";
    let Some(text) = pages("", &[ASBESTOS, ("steps/lining-off.md", step)]) else { return };
    let index = text.rsplit_once(" Index ").expect("an index").1;
    for entry in
        ["asbestos", "cost ", "inspector ", "crack: may be asbestos, cracked, brake lining", "Brake lining"]
    {
        assert!(index.contains(entry), "{entry} in {index}");
    }
    assert!(!index.contains("may be asbestos: Brake lining"), "a sentence is no subject: {index}");
    assert!(!index.contains("lining-fibre"), "an id is no word to look up: {index}");
    assert!(!index.contains("Unbolt the lining wet"), "a step is not under its verb: {index}");
}

/// What is done to a bolt stands under the bolt; a tear that was found in the text of a note is looked up too.
#[test]
fn the_index_has_things_by_name_and_what_the_text_says_of_cracks() {
    let part =
        |name: &str, body: &str| format!("---\nkind: part\nname: {name}\ndisposition: reuse\n---\n{body}\n");
    let bolt = part("Long bolt", "Sounds dull: it may be *cracked* below the head.");
    let step = "---\nkind: step\ndoes: Draw the bolt\nparts: [long-bolt]\ntakes: 1 h\n---\n";
    let finding = "---\nkind: finding\nabout: [post]\ncondition: loose\n---\n";
    let notes =
        [("parts/long-bolt.md", bolt.as_str()), ("steps/draw.md", step), ("findings/post-loose.md", finding)];
    let Some(text) = pages("", &notes) else { return };
    let index = text.rsplit_once(" Index ").expect("an index").1;
    assert!(index.contains("bolt: Long bolt"), "no bare page of a step before it: {index}");
    assert!(index.contains("crack: Long bolt"), "{index}");
    assert!(index.contains("Post ") && !index.contains("loose: Post"), "{index}");
}

#[test]
fn an_answer_ends_before_what_settled_it() {
    let asked = "---\nkind: question\nasks: Is it asbestos?\nabout: [lining]\nstate: settled\nanswer: The fibre agrees\nsettled_by: [lining-fibre]\n---\n";
    let Some(text) = pages("", &[ASBESTOS, ("questions/fibre.md", asked)]) else { return };
    assert!(text.contains("The fibre agrees. Settled by"), "{text}");
}

#[test]
fn nothing_in_the_index_refers_to_itself() {
    let part = |name: &str, more: &str| {
        format!(
            "---\nkind: part\nname: {name}\ndisposition: reuse\n{more}---\n```calc\ne = lever(load: 100 N, load_arm: 1 m, effort_arm: 2 m)\n```\n"
        )
    };
    let pawl = part("Pawl", "material: wrought iron, forged in one\n");
    let new = part("Pawl, new", "material: not known, grey\ndesignation: a pawl of some kind\n");
    let Some(text) = pages("", &[("parts/pawl.md", &pawl), ("parts/pawl-new.md", &new)]) else { return };
    let index = text.rsplit_once(" Index ").expect("an index").1;
    let pawls =
        index.split_once(" P Pawl ").and_then(|(_, rest)| rest.split_once(" payees ")).expect("the pawls").0;
    let words: String = pawls.chars().filter(|letter| !letter.is_ascii_digit()).collect();
    assert_eq!(
        words, "; Pawl, new  Pawl, new ",
        "the pawl, what shares its name, and no pawl below the pawl: {index}"
    );
    assert!(index.contains("formulas: lever"), "a function stands at its formula: {index}");
    assert!(index.contains("wrought iron: Pawl") && !index.contains("forged in one"), "{index}");
    assert!(!index.contains("not known") && !index.contains("of some kind"), "{index}");
}
