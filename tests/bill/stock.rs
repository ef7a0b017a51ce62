//! The stock of the parts that are made, laid out on bars.

use asfound::bill::report::cut_lists;
use asfound::bill::roll_up;
use asfound::bill::stock::{StockList, stock_list};
use serde_json::json;

use crate::plan::notes::planned;

/// The notes beside a page of the whole with these bars.
fn list(notes: &[(&str, &str)], bars: &str) -> (asfound::Project, StockList) {
    let page = format!("title: A crane\nton: long\n{bars}");
    let notes: Vec<(&str, &str)> = notes.iter().copied().chain([("dossier.yaml", page.as_str())]).collect();
    let (project, _) = planned(&notes);
    let found = stock_list(&project.dossier, &roll_up(&project.dossier, |_| None));
    (project, found)
}

const NOTES: &[(&str, &str)] = &[
    ("crab", "kind: part\nname: Crab\nquantity: 2"),
    (
        "pin",
        "kind: part\nname: Pin\nwithin: crab\ndisposition: make\nstock: {section: Round 1 in, length: 100 mm, quantity: 2}",
    ),
    ("rod", "kind: part\nname: Rod\ndisposition: make\nstock: {section: round  1 IN, length: 500 mm}"),
    ("beam", "kind: part\nname: Beam\ndisposition: make\nstock: {section: flat, length: 1200 mm}"),
    ("key", "kind: part\nname: Key\ndisposition: make\nstock: {section: key steel}"),
    ("old", "kind: part\nname: Old\ndisposition: scrap\nstock: {section: flat, length: 100 mm}"),
    (
        "got",
        "kind: part\nname: Got\ndisposition: make\nsupply: received\nstock: {section: flat, length: 100 mm}",
    ),
];

#[test]
fn pieces_by_section_on_bars_with_their_offcuts() {
    let (project, found) = list(
        NOTES,
        "stock_lengths:\n  flat: {length: 1 m, cut: 3 mm}\n  ROUND 1 in: {length: 1 m, cut: 3 mm}\n",
    );
    let missing: Vec<&str> = found.without_length.iter().map(|&part| project.dossier[part].id()).collect();
    assert_eq!(missing, ["key"]);
    assert_eq!(
        serde_json::to_value(cut_lists(&project.dossier, &found)).unwrap(),
        json!([
            {"section": "flat", "bar_mm": 1000.0, "kerf_mm": 3.0,
             "pieces": [{"id": "beam", "length_mm": 1200.0, "quantity": 1, "for_each": 1}],
             "bars": [], "bars_at_least": 0, "proven": true, "too_long": ["beam"]},
            {"section": "Round 1 in", "bar_mm": 1000.0, "kerf_mm": 3.0,
             "pieces": [{"id": "pin", "length_mm": 100.0, "quantity": 4, "for_each": 2}, {"id": "rod", "length_mm": 500.0, "quantity": 1, "for_each": 1}],
             "bars": [{"cuts": [
                {"id": "rod", "length_mm": 500.0}, {"id": "pin", "length_mm": 100.0}, {"id": "pin", "length_mm": 100.0},
                {"id": "pin", "length_mm": 100.0}, {"id": "pin", "length_mm": 100.0}], "offcut_mm": 85.0}],
             "bars_at_least": 1, "proven": true, "too_long": []},
        ])
    );
}

/// 1/64 in is 396 875 nm exactly: eight pieces of 2 1/64 in and seven saw cuts of 1/8 in make 17 in.
#[test]
fn fractions_of_an_inch_add_up_exactly() {
    let notes = [(
        "pin",
        "kind: part\nname: Pin\nquantity: 8\ndisposition: make\nstock: {section: round, length: 2 1/64 in}",
    )];
    let count = |length: &str| {
        let (project, found) =
            list(&notes, &format!("stock_lengths:\n  round: {{length: {length}, cut: 1/8 in}}\n"));
        cut_lists(&project.dossier, &found)[0].bars.len()
    };
    assert_eq!((count("17 in"), count("16.9999999 in")), (1, 2));
}

/// Nothing is claimed about bars that no note knows of: the pieces stand there alone.
#[test]
fn without_stock_lengths_pieces_are_listed_and_no_bars() {
    let (project, found) = list(NOTES, "");
    let found = serde_json::to_value(cut_lists(&project.dossier, &found)).unwrap();
    assert_eq!(
        found[0],
        json!({"section": "flat", "bar_mm": null, "kerf_mm": null,
               "pieces": [{"id": "beam", "length_mm": 1200.0, "quantity": 1, "for_each": 1}],
               "bars": [], "bars_at_least": null, "proven": false, "too_long": []})
    );
}

/// `quantity` is for one part of six, `in_all` for all six.
#[test]
fn pieces_are_for_each_part_or_in_all() {
    let part = |pieces: &str| {
        format!(
            "kind: part\nname: Pin\nquantity: 6\ndisposition: make\nstock: {{section: round, length: 2 in, {pieces}}}"
        )
    };
    let (each, in_all) = (part("quantity: 2"), part("in_all: 2"));
    let (project, found) = list(&[("each", &each), ("in-all", &in_all)], "");
    let pieces = &cut_lists(&project.dossier, &found)[0].pieces;
    let told: Vec<_> =
        pieces.iter().map(|piece| (piece.id.as_str(), piece.quantity, piece.for_each)).collect();
    assert_eq!(told, [("each", 12, Some(2)), ("in-all", 2, None)]);
}
