//! The trips: what goes to which shop, and how it is carried.

use std::collections::BTreeSet;

use serde::Serialize;

use super::forecast::date_of;
use crate::calc::literal::Literal;
use crate::calc::print::counted;
use crate::dossier::{PartId, StepId};
use crate::hazard::Hazard;
use crate::plan::loads::{Loads, Run};
use crate::plan::travel::{Cargo, Leg, Stop, Trip};
use crate::render::cautions;
use crate::render::edition::Edition;
use crate::render::shapes::Mention;

#[derive(Serialize)]
pub(super) struct TripShape {
    /// `None` where nobody can do it yet.
    shop: Option<Mention>,
    /// The shop comes for all of it.
    comes: bool,
    /// The steps that the shop comes for, if it does not come for all.
    partly: Option<Vec<Mention>>,
    steps: Vec<Mention>,
    legs: Vec<LegShape>,
}

/// What is brought for a stay, from one place.
#[derive(Serialize)]
struct LegShape {
    /// "from The shed to The wharf, 0.2 miles".
    way: String,
    /// What goes, and how the keeper's own transport carries it.
    cargo: String,
    /// The day of the forecast; in brackets if it hangs on shops that are not found.
    by: Option<String>,
    /// In the unit of mass.
    mass: Option<String>,
}

pub(super) fn trips(edition: &Edition) -> Vec<TripShape> {
    let all = &edition.outlook.itinerary.trips;
    let trip = |(index, (trip, loads)): (usize, (&Trip, &Vec<Option<Loads>>))| {
        let off = off_after(edition, all[..index].iter().flat_map(|trip| trip.steps.iter().copied()));
        let shop = if trip.unplaced { None } else { Some(trip.shop.or(edition.dossier().home)?) };
        let comes = trip.in_place.len() == trip.steps.len();
        let legs = trip.legs.iter().zip(loads);
        Some(TripShape {
            shop: shop.map(|shop| edition.names.mention(shop.into())),
            comes,
            partly: (!comes && !trip.in_place.is_empty())
                .then(|| edition.names.mentions(trip.in_place.iter().copied())),
            steps: edition.names.mentions(trip.steps.iter().copied()),
            legs: legs.map(|(leg, loads)| leg_shape(edition, trip, leg, loads.as_ref(), &off)).collect(),
        })
    };
    let outlook = edition.outlook;
    all.iter().zip(&outlook.loads).enumerate().filter_map(trip).collect()
}

/// What these steps of the trips before have taken off, and none has put back.
fn off_after(edition: &Edition, steps: impl Iterator<Item = StepId>) -> BTreeSet<PartId> {
    let mut off = BTreeSet::new();
    for step in steps.map(|step| &edition.dossier()[step]) {
        off.extend(step.removes.iter().copied());
        step.refits.iter().for_each(|part| {
            off.remove(part);
        });
    }
    off
}

/// What no step brings back, in a sentence.
pub(super) fn left(edition: &Edition) -> Option<String> {
    let at = |(at, parts): &(Stop, Vec<PartId>)| {
        let parts: Vec<String> = parts.iter().map(|part| name(edition, *part)).collect();
        format!("{} ({})", parts.join(", "), stop(edition, *at))
    };
    let left: Vec<String> = edition.outlook.itinerary.left.iter().map(at).collect();
    (!left.is_empty()).then(|| {
        format!("No way back is planned yet of what still lies elsewhere at the end: {}.", left.join("; "))
    })
}

fn name(edition: &Edition, part: PartId) -> String {
    edition.dossier().title(part.into())
}

fn stop(edition: &Edition, stop: Stop) -> String {
    match stop {
        Stop::Shop(shop) => edition.dossier()[shop].name_after_at().to_owned(),
        Stop::Keeper => "the keeper's own place".to_owned(),
        Stop::Unfound(step) => {
            format!("the shop still to be found for job {}", edition.names.numbers()[&step])
        }
    }
}

fn leg_shape(
    edition: &Edition,
    trip: &Trip,
    leg: &Leg,
    loads: Option<&Loads>,
    off: &BTreeSet<PartId>,
) -> LegShape {
    let by = leg.day.map(|day| date_of(edition.project, day));
    LegShape {
        way: way(edition, trip, leg),
        cargo: with_cautions(cargo(edition, leg, loads), &held(edition, trip, leg, off)),
        by: by.map(|date| if leg.if_shops_found { format!("({date})") } else { date }),
        mass: leg.ends_kg().map(|ends| match off_unweighed(leg).next() {
            Some(_) => format!("at most {}", edition.amounts.mass_numbers((ends.1, ends.1))),
            None => edition.amounts.mass_numbers(ends),
        }),
    }
}

/// What can hurt whoever carries it: what a part of the cargo holds at the work that it is carried to. What is `off` lies
/// where it was taken off, and does not come with what it was in.
fn held(edition: &Edition, trip: &Trip, leg: &Leg, off: &BTreeSet<PartId>) -> String {
    let dossier = edition.dossier();
    let is_cargo = |part: PartId| leg.cargo.iter().any(|one| one.part == part);
    let goes_in = |part: &PartId| dossier[*part].within.filter(|_| !off.contains(part));
    let mut is_carried = |part: &PartId| std::iter::successors(Some(*part), goes_in).any(is_cargo);
    let held = trip.steps.iter().flat_map(|step| edition.project.plan.in_hand(*step));
    let carried = held.filter(|(_, parts)| parts.iter().any(&mut is_carried));
    let topics: BTreeSet<String> = carried.map(|(hazard, _)| cautions::topic(*hazard)).collect();
    topics.into_iter().collect::<Vec<_>>().join(" and ")
}

fn with_cautions(cargo: String, held: &str) -> String {
    if held.is_empty() { cargo } else { format!("{}. Caution, it holds {held}", cargo.trim_end_matches('.')) }
}

/// The parts that were weighed with something in them that is off by then and was never weighed by itself.
fn off_unweighed(leg: &Leg) -> impl Iterator<Item = PartId> + '_ {
    leg.cargo.iter().filter(|one| one.each.unknown_out > 0).map(|one| one.part)
}

/// Where it comes from and goes to, unless it goes to the shop of the stay, and how far that is.
fn way(edition: &Edition, trip: &Trip, leg: &Leg) -> String {
    let is_unfound = |at: Stop| matches!(at, Stop::Unfound(_));
    let is_its_own = trip.unplaced && is_unfound(leg.to) || trip.shop.map(Stop::Shop) == Some(leg.to);
    let to = if is_its_own { String::new() } else { format!(" to {}", stop(edition, leg.to)) };
    let over = if leg.by_way_of_home { " by way of home" } else { "" };
    let far = match leg.distance {
        Some(metres) => format!("{}{over}", edition.amounts.away(metres)),
        None => "distance not known".to_owned(),
    };
    let may_come = match [leg.from, leg.to].map(is_unfound) {
        [_, true] => ", unless they come for it",
        [true, false] => ", unless they came for it",
        _ => "",
    };
    format!("from {}{to}, {far}{may_come}", stop(edition, leg.from))
}

/// "6 × Roller pins, Crab. 2 runs: … The mass is without Lever, of unknown mass."
fn cargo(edition: &Edition, leg: &Leg, loads: Option<&Loads>) -> String {
    let piece = |one: &Cargo| pieces(edition, one.part, one.pieces);
    let all: Vec<String> = leg.cargo.iter().map(piece).collect();
    let unknown: Vec<String> = leg.unweighed().map(|part| name(edition, part)).collect();
    let unknown = (!unknown.is_empty()).then(|| match leg.ends_kg() {
        Some(_) => format!("The mass leaves out what is not known of {}.", unknown.join(", ")),
        None => "The mass is not known.".to_owned(),
    });
    let off: Vec<String> = off_unweighed(leg).map(|part| name(edition, part)).collect();
    let off = (!off.is_empty()).then(|| format!("What is off {} was not all weighed.", off.join(", ")));
    let runs = loads.map(|loads| runs(edition, loads));
    let said = std::iter::once(format!("{}.", all.join(", "))).chain(unknown).chain(off).chain(runs);
    said.collect::<Vec<_>>().join(" ")
}

fn pieces(edition: &Edition, part: PartId, pieces: u32) -> String {
    match pieces {
        1 => name(edition, part),
        many => format!("{many} × {}", name(edition, part)),
    }
}

fn runs(edition: &Edition, loads: &Loads) -> String {
    let name = |part: PartId| name(edition, part);
    let piece = |(part, count): &(PartId, u32)| pieces(edition, *part, *count);
    let run = |(index, run): (usize, &Run)| {
        let pieces: Vec<String> = run.parts.iter().map(piece).collect();
        let number = if loads.runs.len() > 1 { format!("{}. ", index + 1) } else { String::new() };
        format!("{number}{}, at most {}", pieces.join(", "), edition.amounts.at_most(run.mass_kg))
    };
    // One run that takes all needs no list of what is in it, and its mass is that of the leg.
    let runs: Vec<String> = match (&loads.runs[..], &loads.refused[..]) {
        ([_], []) => Vec::new(),
        (runs, _) => runs.iter().enumerate().map(run).collect(),
    };
    let refused: Vec<String> =
        loads.refused.iter().map(|(part, refusal)| format!("{} ({})", name(*part), refusal.word())).collect();
    let count = counted(loads.runs.len(), "run");
    let runs = if runs.is_empty() { format!("{count}.") } else { format!("{count}: {}.", runs.join("; ")) };
    let sentences = [
        (!loads.runs.is_empty()).then_some(runs),
        (!refused.is_empty()).then(|| format!("No run of the keeper's takes: {}.", refused.join(", "))),
    ];
    sentences.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// The parts that are held against the payload alone, each once.
pub(super) fn of_unknown_size(edition: &Edition) -> Option<String> {
    let all = edition.outlook.loads.iter().flatten().flatten();
    let parts: BTreeSet<PartId> = all.flat_map(|loads| loads.of_unknown_size.iter().copied()).collect();
    let names: Vec<String> = parts.into_iter().map(|part| name(edition, part)).collect();
    (!names.is_empty())
        .then(|| format!("Of unknown size, held against the payload alone: {}.", names.join(", ")))
}

pub(super) fn transport(edition: &Edition) -> Option<String> {
    let transport = edition.dossier().about.transport.as_ref()?;
    edition.outlook.loads.iter().flatten().flatten().next()?;
    let bed: Vec<&Literal> = transport.bed.iter().collect();
    Some(format!(
        "The keeper's transport bears {} on a bed of {}. Every piece counts with the most that it may weigh and measure, \
         lying flat, none on another. {}",
        edition.amounts.typed(&transport.payload),
        edition.amounts.typed_together(&bed, " × "),
        Hazard::RoadTransport.caution(),
    ))
}
