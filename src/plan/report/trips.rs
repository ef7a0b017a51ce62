//! Where: the stays at all shops, and how the parts get there.

use serde::Serialize;

use super::id;
use crate::calc::rounding::to_a_millionth;
use crate::dossier::{Dossier, PartId, StepId};
use crate::plan::loads::{Loads, Run, loads};
use crate::plan::travel::{Itinerary, Trip};

/// A stay at one shop.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct TripLine {
    /// The shop; `null` where no shop is home, or none is known that can.
    pub shop: Option<String>,
    /// No known shop can do what is to be done there.
    pub unplaced: bool,
    /// What is done there, in order.
    pub steps: Vec<String>,
    /// Those of them that the shop comes for.
    pub in_place: Vec<String>,
    /// The parts that have to be there.
    pub parts: Vec<String>,
    /// Those of them that are still on the machine, where it stands.
    pub there_already: Vec<String>,
    /// The mass together of the others, as far as it is known.
    pub mass_kg: Option<f64>,
    /// Those of the others whose mass is unknown.
    pub unweighed: Vec<String>,
    /// The largest envelope among them, length x width x height.
    pub largest_m: Option<[f64; 3]>,
    /// The runs of the keeper's own transport; `null` if it is not known or nothing is carried there.
    pub runs: Option<Vec<RunLine>>,
    /// The parts that no run can take.
    pub no_run: Vec<NoRun>,
    /// The parts in the runs whose size is not known: they were held against the payload alone.
    pub of_unknown_size: Vec<String>,
}

/// One run of the keeper's own transport.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RunLine {
    /// What goes in it.
    pub parts: Vec<Carried>,
    /// The most that it weighs together.
    pub mass_kg: f64,
}

/// Pieces of a part in a run.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Carried {
    /// The part.
    pub id: String,
    /// How many pieces of it.
    pub pieces: u32,
}

/// A part that no run can take.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NoRun {
    /// The part.
    pub id: String,
    /// Why, in words.
    pub why: &'static str,
}

/// The stays at all shops.
pub fn trips(dossier: &Dossier, itinerary: &Itinerary) -> Vec<TripLine> {
    let steps = |steps: &[StepId]| steps.iter().map(|&step| dossier[step].id().to_owned()).collect();
    let parts = |parts: &[PartId]| parts.iter().map(|&part| dossier[part].id().to_owned()).collect();
    let line = |trip: &Trip| TripLine {
        shop: trip.shop.map(|shop| dossier[shop].id().to_owned()),
        unplaced: trip.unplaced,
        steps: steps(&trip.steps),
        in_place: steps(&trip.in_place),
        parts: parts(&trip.parts),
        there_already: parts(&trip.there_already),
        mass_kg: trip.mass_kg.map(to_a_millionth),
        unweighed: parts(&trip.unweighed),
        largest_m: trip.largest.and_then(|part| dossier[part].envelope.as_ref()).map(|envelope| {
            [&envelope.length, &envelope.width, &envelope.height].map(|side| to_a_millionth(side.high))
        }),
        ..carried(dossier, loads(dossier, trip))
    };
    itinerary.trips.iter().map(line).collect()
}

/// How the parts of a trip are carried; the other keys are left empty.
fn carried(dossier: &Dossier, loads: Option<Loads>) -> TripLine {
    let run = |run: &Run| RunLine {
        parts: run
            .parts
            .iter()
            .map(|(part, pieces)| Carried { id: id(dossier, (*part).into()), pieces: *pieces })
            .collect(),
        mass_kg: to_a_millionth(run.mass_kg),
    };
    let Some(loads) = loads else { return TripLine::default() };
    TripLine {
        runs: Some(loads.runs.iter().map(run).collect()),
        no_run: loads
            .refused
            .iter()
            .map(|(part, refusal)| NoRun { id: id(dossier, (*part).into()), why: refusal.word() })
            .collect(),
        of_unknown_size: loads.of_unknown_size.iter().map(|part| id(dossier, (*part).into())).collect(),
        ..TripLine::default()
    }
}
