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
    let found = stock_list(
        &project.dossier,
        &roll_up(&project.dossier, |_| None),
        &project
            .worked
            .makings(&project.dossier)
            .into_iter()
            .map(|(part, making)| (part, making.blank))
            .collect(),
    );
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

/// A shape says how long a piece has to be, and what to saw from where nothing is said: 2 mm on the diameter, 3 mm for facing.
#[test]
fn shapes_give_the_length_of_a_piece_and_the_least_piece() {
    let shape = "shape: {turned: [{d: 40 mm, long: 57 mm}]}";
    let plate = "shape: {flat: {thick: 10 mm, rectangle: 80 mm x 50 mm}}";
    let stocked =
        format!("kind: part\nname: Pin\ndisposition: make\nstock: {{section: round 42 mm}}\n{shape}");
    let bare = format!("kind: part\nname: Bush\ndisposition: make\n{shape}");
    let lug = format!("kind: part\nname: Lug\ndisposition: make\n{plate}");
    let kept = format!("kind: part\nname: Old\ndisposition: reuse\n{shape}");
    let notes = [("pin", stocked.as_str()), ("bush", &bare), ("lug", &lug), ("old", &kept)];
    let (project, found) = list(&notes, "units: metric\n");
    let report = asfound::bill::report::CutListReport::of(&project.dossier, &found);
    assert_eq!(report.by_shape, ["pin"]);
    assert!(report.without_length.is_empty());
    assert!((report.sections[0].pieces[0].length_mm - 60.0).abs() < 1e-9);
    let metric = asfound::calc::units::System::Metric;
    let least: Vec<String> =
        report.without_stock.iter().map(|piece| format!("{}: {}", piece.id, piece.says(metric))).collect();
    assert_eq!(least, ["bush: round 42 mm, 60 mm long", "lug: plate 10 mm, 86 mm x 56 mm"]);
    assert_eq!(
        report.without_stock[0].says(asfound::calc::units::System::Inch),
        "round 1.66 in, 2.37 in long"
    );
}
