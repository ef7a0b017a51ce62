//! The trips: what goes to which shop, and how it is carried.

use crate::hazard::Hazard;
use serde::Serialize;

use crate::calc::literal::Literal;
use crate::calc::print::counted;
use crate::dossier::{PartId, StepId};
use crate::plan::loads::{Loads, Run};
use crate::plan::travel::Trip;
use crate::render::edition::Edition;
use crate::render::shapes::Mention;

#[derive(Serialize)]
pub(super) struct TripShape {
    /// `None` where nobody can do it yet.
    shop: Option<Mention>,
    /// The shop comes for all of it.
    comes: bool,
    steps: Vec<TripStep>,
    parts: Vec<Mention>,
    /// In the unit of mass.
    mass: Option<String>,
    /// How the keeper's own transport carries it.
    carried: Option<String>,
}

#[derive(Serialize)]
struct TripStep {
    #[serde(flatten)]
    mention: Mention,
    /// The shop comes for it, but not for all that it does.
    in_place: bool,
}

pub(super) fn trips(edition: &Edition) -> Vec<TripShape> {
    let trip = |(trip, loads): (&Trip, &Option<Loads>)| {
        let shop = if trip.unplaced { None } else { Some(trip.shop.or(edition.dossier().home)?) };
        let comes = trip.in_place.len() == trip.steps.len();
        let step = |&step: &StepId| TripStep {
            mention: edition.names.mention(step.into()),
            in_place: !comes && trip.in_place.contains(&step),
        };
        Some(TripShape {
            shop: shop.map(|shop| edition.names.mention(shop.into())),
            comes,
            steps: trip.steps.iter().map(step).collect(),
            parts: edition.names.mentions(trip.parts.iter().copied()),
            mass: trip.mass_ends_kg.map(|ends| edition.amounts.mass_numbers(ends)),
            carried: carried(edition, trip, loads.as_ref()),
        })
    };
    let outlook = edition.outlook;
    outlook.itinerary.trips.iter().zip(&outlook.loads).filter_map(trip).collect()
}

/// What the mass of a trip leaves out, then: "2 runs: 1. 2 × Side frame, at most 640 kg; 2. Post, at most 700 kg. No run takes Jib: longer than the bed."
fn carried(edition: &Edition, trip: &Trip, loads: Option<&Loads>) -> Option<String> {
    let name = |part: &PartId| edition.dossier().title((*part).into());
    let unknown: Vec<String> = trip.unweighed.iter().map(name).collect();
    let unknown = (!unknown.is_empty() && trip.mass_kg.is_some())
        .then(|| format!("The mass is without {}, of unknown mass.", unknown.join(", ")));
    let runs = loads.map(|loads| runs(edition, loads));
    let said: Vec<String> = unknown.into_iter().chain(runs).collect();
    (!said.is_empty()).then(|| said.join(" "))
}

fn runs(edition: &Edition, loads: &Loads) -> String {
    let name = |part: PartId| edition.dossier().title(part.into());
    let piece = |(part, pieces): &(PartId, u32)| match pieces {
        1 => name(*part),
        many => format!("{many} × {}", name(*part)),
    };
    let run = |(index, run): (usize, &Run)| {
        let pieces: Vec<String> = run.parts.iter().map(piece).collect();
        let number = if loads.runs.len() > 1 { format!("{}. ", index + 1) } else { String::new() };
        format!("{number}{}, at most {}", pieces.join(", "), edition.amounts.mass(run.mass_kg))
    };
    let runs: Vec<String> = loads.runs.iter().enumerate().map(run).collect();
    let refused: Vec<String> =
        loads.refused.iter().map(|(part, refusal)| format!("{} ({})", name(*part), refusal.word())).collect();
    let unknown: Vec<String> = loads.of_unknown_size.iter().map(|part| name(*part)).collect();
    let sentences = [
        (!runs.is_empty()).then(|| format!("{} there: {}.", counted(runs.len(), "run"), runs.join("; "))),
        (!refused.is_empty()).then(|| format!("No run of the keeper's takes: {}.", refused.join(", "))),
        (!unknown.is_empty())
            .then(|| format!("Size not known, held against the payload alone: {}.", unknown.join(", "))),
    ];
    sentences.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

pub(super) fn transport(edition: &Edition) -> Option<String> {
    let transport = edition.dossier().about.transport.as_ref()?;
    edition.outlook.loads.iter().flatten().next()?;
    let bed: Vec<&Literal> = transport.bed.iter().collect();
    Some(format!(
        "The keeper's transport bears {} on a bed of {}. Every piece counts with the most that it may weigh and measure, \
         lying flat, none on another. {}",
        edition.amounts.typed(&transport.payload),
        edition.amounts.typed_together(&bed, " × "),
        Hazard::RoadTransport.caution(),
    ))
}
