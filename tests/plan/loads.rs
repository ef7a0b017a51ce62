//! What goes in which run of the keeper's own transport.

use asfound::plan::loads::{Refusal, loads};
use asfound::plan::report::trips;
use asfound::plan::travel::itinerary;
use proptest::prelude::*;
use serde_json::json;

use super::notes::planned;

const PAGE: &str = "title: A crane\nhome: shed\nstart: 2027-03-01\nton: long\n\
    transport: {payload: 750 kg, bed: 8 ft x 4 ft}\n";

/// The trips of a project with one step at the works that works on all its parts.
fn carried(parts: &[(&str, &str)]) -> serde_json::Value {
    let step = format!(
        "kind: step\ndoes: Turn\nat: works\nparts: [{}]",
        parts.iter().map(|(id, _)| *id).collect::<Vec<_>>().join(", ")
    );
    let texts: Vec<(&str, String)> = parts
        .iter()
        .map(|(id, keys)| (*id, format!("kind: part\nname: {id}\ndisposition: rework\n{keys}")))
        .collect();
    let mut notes = vec![
        ("dossier.yaml", PAGE),
        ("shed", "kind: shop\nname: Shed"),
        ("works", "kind: shop\nname: Works"),
        ("turn", step.as_str()),
    ];
    notes.extend(texts.iter().map(|(id, text)| (*id, text.as_str())));
    let (project, plan) = planned(&notes);
    let dossier = &project.dossier;
    let found = trips(dossier, &plan, &itinerary(dossier, &plan, &plan.timetable()));
    let trip = found.iter().find(|trip| trip.shop.as_deref() == Some("works")).unwrap();
    serde_json::to_value(trip).unwrap()
}

#[test]
fn runs_keep_to_the_payload_and_the_bed_with_uncertainty_against_them() {
    let trip = carried(&[
        ("frame", "quantity: 2\nmass: 320 kg ± 20 kg\nenvelope: 7 ft x 2 ft x 6 in"),
        ("drum", "mass: 300 kg\nenvelope: 4 ft x 3 ft x 3 ft"),
        ("shaft", "mass: 700 kg ± 60 kg\nenvelope: 6 ft x 6 in x 6 in"),
        ("jib", "mass: 200 kg\nenvelope: 20 ft x 1 ft x 1 ft"),
        ("table", "mass: 200 kg\nenvelope: 5 ft x 5 ft x 1 ft"),
        ("box", "mass: 20 kg"),
        ("lump", "envelope: 1 ft x 1 ft x 1 ft"),
    ]);
    assert_eq!(
        trip["runs"],
        json!([
            {"parts": [{"id": "frame", "pieces": 2}, {"id": "box", "pieces": 1}], "mass_kg": 700.0},
            {"parts": [{"id": "drum", "pieces": 1}], "mass_kg": 300.0},
        ])
    );
    let refused = |refusal: Refusal| refusal.word();
    assert_eq!(
        trip["no_run"],
        json!([
            {"id": "jib", "why": refused(Refusal::Long)},
            {"id": "lump", "why": refused(Refusal::Unweighed)},
            {"id": "shaft", "why": refused(Refusal::Heavy)},
            {"id": "table", "why": refused(Refusal::Wide)},
        ])
    );
    assert_eq!(trip["of_unknown_size"], json!(["box"]));
}

/// An assembly that was not weighed counts with all that is within it, at the most it may weigh.
#[test]
fn an_assembly_of_doubtful_masses_has_a_uncertainty() {
    let trip = carried(&[
        ("crab", "envelope: 3 ft x 3 ft x 3 ft"),
        ("gear", "within: crab\nquantity: 2\nmass: 300 kg ± 30 kg"),
        ("cap", "within: crab\nmass: 100 kg"),
    ]);
    assert_eq!(trip["no_run"][0]["id"], "crab");
    assert_eq!(trip["no_run"][0]["why"], Refusal::Heavy.word());
}

#[test]
fn without_transport_or_at_home_nothing_is_said() {
    let (project, plan) = planned(&[
        ("drum", "kind: part\nname: Drum\nmass: 100 kg\ndisposition: rework"),
        ("works", "kind: shop\nname: Works"),
        ("turn", "kind: step\ndoes: Turn\nat: works\nparts: [drum]"),
    ]);
    let found = itinerary(&project.dossier, &plan, &plan.timetable());
    assert!(found.trips.iter().flat_map(|trip| &trip.legs).all(|leg| loads(&project.dossier, leg).is_none()));
}

proptest! {
    /// Every piece is in one run or refused; no run weighs more than the payload, nor covers more than the bed.
    #[test]
    fn runs_take_what_they_can(pieces in prop::collection::vec((1..900_u32, 1..300_u32, 1..200_u32, 1..4_u32), 1..9)) {
        let texts: Vec<(String, String)> = pieces
            .iter()
            .enumerate()
            .map(|(index, (mass, length, width, quantity))| {
                let keys = format!("mass: {mass} kg\nenvelope: {length} cm x {width} cm x 1 cm\nquantity: {quantity}");
                (format!("p{index}"), keys)
            })
            .collect();
        let parts: Vec<(&str, &str)> = texts.iter().map(|(id, keys)| (id.as_str(), keys.as_str())).collect();
        let trip = carried(&parts);
        let mut seen = vec![0; pieces.len()];
        let number = |id: &serde_json::Value| id.as_str().unwrap()[1..].parse::<usize>().unwrap();
        for run in trip["runs"].as_array().unwrap() {
            let (mut mass, mut floor) = (0, 0);
            for part in run["parts"].as_array().unwrap() {
                let index = number(&part["id"]);
                let count = u32::try_from(part["pieces"].as_u64().unwrap()).unwrap();
                seen[index] += count;
                mass += count * pieces[index].0;
                floor += count * pieces[index].1 * pieces[index].2;
            }
            prop_assert!(mass <= 750 && f64::from(floor) <= 243.84 * 121.92);
        }
        for refused in trip["no_run"].as_array().unwrap() {
            seen[number(&refused["id"])] += pieces[number(&refused["id"])].3;
        }
        prop_assert!(seen.iter().zip(&pieces).all(|(seen, piece)| *seen == piece.3));
    }
}
