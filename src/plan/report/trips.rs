//! Where: the stays at all shops, and how the parts get there and back.

use jiff::civil::Date;
use serde::Serialize;

use super::id;
use crate::bill::mass::added_ends;
use crate::calc::rounding::to_a_millionth;
use crate::dossier::{Dossier, PartId, StepId};
use crate::plan::Plan;
use crate::plan::loads::{Loads, Run, loads};
use crate::plan::travel::{Cargo, Itinerary, Leg, Stop, Trip};
use crate::plan::window::day_after;

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
    /// Those of them that nobody brings: still on the machine, where it stands, or left there by an earlier step.
    pub there_already: Vec<String>,
    /// What is brought, by where it comes from and goes to.
    pub legs: Vec<LegLine>,
    /// The middle of the mass of all that is brought, as it is then, as far as it is known.
    pub mass_kg: Option<f64>,
    /// The lower end of it: ends added to ends.
    pub mass_low_kg: Option<f64>,
    /// The upper end.
    pub mass_high_kg: Option<f64>,
    /// What is brought of unknown mass.
    pub unweighed: Vec<String>,
    /// The largest envelope of what is brought, length x width x height.
    pub largest_m: Option<[f64; 3]>,
    /// The runs of the keeper's own transport, those of all legs; `null` if it is not known or nothing is brought.
    pub runs: Option<Vec<RunLine>>,
    /// The parts that no run can take.
    pub no_run: Vec<NoRun>,
    /// The parts in the runs whose size is not known: they were held against the payload alone.
    pub of_unknown_size: Vec<String>,
}

/// What is brought from one place to another.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LegLine {
    /// The shop; `null` for one that is not found yet, or the keeper's own place where no shop is home.
    pub from: Option<String>,
    /// The shop; `null` as above.
    pub to: Option<String>,
    /// What is brought, each with all that is in it then.
    pub parts: Vec<CargoLine>,
    /// The middle of the mass together, as far as it is known.
    pub mass_kg: Option<f64>,
    /// The lower end of it.
    pub mass_low_kg: Option<f64>,
    /// The upper end.
    pub mass_high_kg: Option<f64>,
    /// How far; `null` where that is not known.
    pub distance_m: Option<f64>,
    /// By way of home, since neither end is home.
    pub by_way_of_home: bool,
    /// The day from day 0 by which the forecast has it there; `null` where the forecast has the steps in another order.
    pub by_day: Option<f64>,
    /// The same as a date.
    pub by: Option<String>,
    /// The day holds only if shops are found for the steps without one.
    pub if_shops_found: bool,
    /// The runs of the keeper's own transport; `null` if it is not known.
    pub runs: Option<Vec<RunLine>>,
}

/// A part that is brought.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CargoLine {
    /// The part.
    pub id: String,
    /// How many pieces of it.
    pub pieces: u32,
    /// The middle of the mass of all of them as they are then, as far as it is known.
    pub mass_kg: Option<f64>,
    /// The lower end of it.
    pub mass_low_kg: Option<f64>,
    /// The upper end.
    pub mass_high_kg: Option<f64>,
}

/// Parts that no step brings back.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeftLine {
    /// The shop; `null` for one that is not found yet.
    pub at: Option<String>,
    /// The parts.
    pub parts: Vec<String>,
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
pub fn trips(dossier: &Dossier, plan: &Plan, itinerary: &Itinerary) -> Vec<TripLine> {
    itinerary.trips.iter().map(|trip| trip_line(dossier, plan, trip)).collect()
}

/// What lies elsewhere at the end.
pub fn left(dossier: &Dossier, itinerary: &Itinerary) -> Vec<LeftLine> {
    let line = |(at, parts): &(Stop, Vec<PartId>)| LeftLine {
        at: stop(dossier, *at),
        parts: parts_of(dossier, parts.iter().copied()),
    };
    itinerary.left.iter().map(line).collect()
}

fn parts_of(dossier: &Dossier, parts: impl IntoIterator<Item = PartId>) -> Vec<String> {
    parts.into_iter().map(|part| id(dossier, part.into())).collect()
}

fn stop(dossier: &Dossier, stop: Stop) -> Option<String> {
    match stop {
        Stop::Shop(shop) => Some(id(dossier, shop.into())),
        Stop::Keeper | Stop::Unfound(_) => None,
    }
}

fn trip_line(dossier: &Dossier, plan: &Plan, trip: &Trip) -> TripLine {
    let steps = |steps: &[StepId]| steps.iter().map(|&step| id(dossier, step.into())).collect();
    let parts = |parts: &[PartId]| parts_of(dossier, parts.iter().copied());
    let [mass_kg, mass_low_kg, mass_high_kg] = masses(trip.legs.iter().flat_map(|leg| &leg.cargo));
    TripLine {
        shop: trip.shop.map(|shop| id(dossier, shop.into())),
        unplaced: trip.unplaced,
        steps: steps(&trip.steps),
        in_place: steps(&trip.in_place),
        parts: parts(&trip.parts),
        there_already: parts(&trip.there_already),
        legs: trip.legs.iter().map(|leg| leg_line(dossier, plan.day_zero, leg)).collect(),
        mass_kg,
        mass_low_kg,
        mass_high_kg,
        unweighed: parts_of(dossier, trip.legs.iter().flat_map(Leg::unweighed)),
        largest_m: largest(dossier, trip),
        ..carried(dossier, trip)
    }
}

fn leg_line(dossier: &Dossier, day_zero: Option<Date>, leg: &Leg) -> LegLine {
    let cargo = |one: &Cargo| {
        let [mass_kg, mass_low_kg, mass_high_kg] = masses([one]);
        CargoLine { id: id(dossier, one.part.into()), pieces: one.pieces, mass_kg, mass_low_kg, mass_high_kg }
    };
    let [mass_kg, mass_low_kg, mass_high_kg] = masses(&leg.cargo);
    let by = leg.day.zip(day_zero).and_then(|(day, zero)| day_after(zero, day));
    LegLine {
        from: stop(dossier, leg.from),
        to: stop(dossier, leg.to),
        parts: leg.cargo.iter().map(cargo).collect(),
        mass_kg,
        mass_low_kg,
        mass_high_kg,
        distance_m: leg.distance.map(to_a_millionth),
        by_way_of_home: leg.by_way_of_home,
        by_day: leg.day.map(to_a_millionth),
        by: by.map(|date| date.to_string()),
        if_shops_found: leg.if_shops_found,
        runs: loads(dossier, leg).map(|loads| runs(dossier, &loads)),
    }
}

/// The middle, the lower and the upper end. There is no middle where something that is off was never weighed by itself: the
/// lower end is then no more than what is known to be left.
fn masses<'a>(cargo: impl IntoIterator<Item = &'a Cargo> + Clone) -> [Option<f64>; 3] {
    let ends = cargo.clone().into_iter().map(Cargo::ends_kg).fold(None, added_ends);
    let is_open = cargo.into_iter().any(|one| one.each.unknown_out > 0);
    let middle = ends.filter(|_| !is_open).map(|(low, high)| low.midpoint(high));
    [middle, ends.map(|(low, _)| low), ends.map(|(_, high)| high)].map(|mass| mass.map(to_a_millionth))
}

/// The largest envelope by volume.
fn largest(dossier: &Dossier, trip: &Trip) -> Option<[f64; 3]> {
    let envelopes = trip.legs.iter().flat_map(|leg| &leg.cargo).filter_map(|one| {
        let envelope = dossier[one.part].envelope.as_ref()?;
        Some([&envelope.length, &envelope.width, &envelope.height].map(|side| side.high))
    });
    let volume = |sides: &[f64; 3]| sides.iter().product::<f64>();
    let largest = envelopes.max_by(|one, two| volume(one).total_cmp(&volume(two)));
    largest.map(|sides| sides.map(to_a_millionth))
}

fn runs(dossier: &Dossier, loads: &Loads) -> Vec<RunLine> {
    let run = |run: &Run| RunLine {
        parts: run
            .parts
            .iter()
            .map(|(part, pieces)| Carried { id: id(dossier, (*part).into()), pieces: *pieces })
            .collect(),
        mass_kg: to_a_millionth(run.mass_kg),
    };
    loads.runs.iter().map(run).collect()
}

/// How the parts of a trip are carried; the other keys are left empty.
fn carried(dossier: &Dossier, trip: &Trip) -> TripLine {
    let all: Vec<Loads> = trip.legs.iter().filter_map(|leg| loads(dossier, leg)).collect();
    let refused = all.iter().flat_map(|loads| &loads.refused);
    let unknown = all.iter().flat_map(|loads| &loads.of_unknown_size);
    TripLine {
        runs: (!all.is_empty()).then(|| all.iter().flat_map(|loads| runs(dossier, loads)).collect()),
        no_run: refused
            .map(|(part, refusal)| NoRun { id: id(dossier, (*part).into()), why: refusal.word() })
            .collect(),
        of_unknown_size: parts_of(dossier, unknown.copied()),
        ..TripLine::default()
    }
}
