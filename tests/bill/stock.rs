//! The stock of the parts that are made, laid out on bars.

use asfound::bill::report::cut_lists;
use asfound::bill::roll_up;
use asfound::bill::stock::{Bars, StockList, stock_list};
use serde_json::json;

use crate::plan::notes::planned;

fn list(notes: &[(&str, &str)], bars: Bars) -> (asfound::Project, StockList) {
    let (project, _) = planned(notes);
    let found = stock_list(&project.dossier, &roll_up(&project.dossier, |_| None), bars);
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
    let (project, found) = list(NOTES, Bars { length_m: 1.0, kerf_m: 0.003 });
    let missing: Vec<&str> = found.without_length.iter().map(|&part| project.dossier[part].id()).collect();
    assert_eq!(missing, ["key"]);
    assert_eq!(
        serde_json::to_value(cut_lists(&found)).unwrap(),
        json!([
            {"section": "flat", "bar_mm": 1000.0, "kerf_mm": 3.0,
             "pieces": [{"id": "beam", "length_mm": 1200.0, "quantity": 1}],
             "bars": [], "bars_at_least": 0, "proven": true, "too_long": ["beam"]},
            {"section": "Round 1 in", "bar_mm": 1000.0, "kerf_mm": 3.0,
             "pieces": [{"id": "pin", "length_mm": 100.0, "quantity": 4}, {"id": "rod", "length_mm": 500.0, "quantity": 1}],
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
    let exact = Bars { length_m: 17.0 * 0.0254, kerf_m: 0.003_175 };
    let (_, found) = list(&notes, exact);
    assert_eq!(cut_lists(&found)[0].bars.len(), 1);
    let (_, found) = list(&notes, Bars { length_m: exact.length_m - 1e-9, ..exact });
    assert_eq!(cut_lists(&found)[0].bars.len(), 2);
}
