//! Which shop after which, and what has to be there each time.

use std::collections::BTreeSet;

use super::network::Kind;
use super::placement::{Placement, is_away, keeper, unknown_place};
use super::timetable::Timetable;
use super::trips::fewest_moves;
use crate::bill::mass::{Weight, added_ends};
use crate::dossier::{Dossier, NoteId, PartId, ShopId, StepId};
use crate::record::{Disposition, StepState};

/// A stay at one shop.
#[derive(Clone, Debug, PartialEq)]
pub struct Trip {
    /// Where; `None` is the keeper's own place, if no shop is home, or a place not yet known.
    pub shop: Option<ShopId>,
    /// No known shop can do what is to be done there.
    pub unplaced: bool,
    /// What is done there, in order.
    pub steps: Vec<StepId>,
    /// Those of them that the shop comes for.
    pub in_place: Vec<StepId>,
    /// The parts that have to be there, or that are worked on when the shop comes for all of it; not those that are
    /// inside another of them.
    pub parts: Vec<PartId>,
    /// Those of them that nobody brings: they are still on the machine, which stands there.
    pub there_already: Vec<PartId>,
    /// The mass together of those that are brought, kg, as far as it is known.
    pub mass_kg: Option<f64>,
    /// The ends of it, kg: ends added to ends.
    pub mass_ends_kg: Option<(f64, f64)>,
    /// The parts of unknown mass, of those that are brought.
    pub unweighed: Vec<PartId>,
    /// The part with the largest envelope by volume, of those that are brought.
    pub largest: Option<PartId>,
}

/// The stays at all shops in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Itinerary {
    /// Each at another shop than the one before.
    pub trips: Vec<Trip>,
    /// Whether fewer moves are proven to be impossible.
    pub proven: bool,
}

/// Orders the open steps so that the work moves between shops as rarely as can be.
/// `weights`: that of every part, in the dossier's order.
pub fn itinerary(
    dossier: &Dossier,
    placements: &[Placement],
    timetable: &Timetable,
    weights: &[Weight],
) -> Itinerary {
    let activities = timetable.network.activities();
    let place = |node: usize| if activities[node].kind == Kind::Step { activities[node].place } else { None };
    let places: Vec<Option<usize>> = (0..activities.len()).map(place).collect();
    let start = dossier.site.map_or(keeper(dossier), ShopId::index);
    let found = fewest_moves(timetable.network.precedence(), &places, Some(start));
    let mut off = off_by_now(dossier, placements);
    let trip = |visit: super::trips::Visit| {
        let steps = visit.steps.iter().filter_map(|&node| match timetable.notes[node] {
            NoteId::Step(step) => Some(step),
            _ => None,
        });
        let steps: Vec<StepId> = steps.collect();
        let trip = trip(dossier, placements, visit.place, steps.clone(), weights, &off);
        steps.iter().for_each(|&step| moved_by(dossier, placements, step, &mut off));
        trip
    };
    Itinerary { trips: found.visits.into_iter().map(trip).collect(), proven: found.proven }
}

fn trip(
    dossier: &Dossier,
    placements: &[Placement],
    place: usize,
    steps: Vec<StepId>,
    weights: &[Weight],
    off: &BTreeSet<PartId>,
) -> Trip {
    let (in_place, there): (Vec<StepId>, Vec<StepId>) =
        steps.iter().partition(|step| placements[step.index()].in_place);
    let parts = parts_of(dossier, if there.is_empty() { &in_place } else { &there });
    let shop = dossier.shops.ids().nth(place);
    let stays = |part: &PartId| shop == dossier.site && is_on(dossier, *part, off);
    let (there_already, brought): (Vec<PartId>, Vec<PartId>) = parts.iter().partition(|part| stays(part));
    let mass = |part: &PartId| weights.get(part.index())?.of(dossier[*part].quantity);
    let ends = |part: &PartId| weights.get(part.index())?.ends_of(dossier[*part].quantity);
    let known: Vec<f64> = brought.iter().filter_map(mass).collect();
    Trip {
        shop,
        unplaced: place == unknown_place(dossier),
        mass_kg: (!known.is_empty()).then(|| known.iter().sum()),
        mass_ends_kg: brought.iter().map(ends).fold(None, added_ends),
        unweighed: brought.iter().copied().filter(|part| mass(part).is_none()).collect(),
        largest: brought
            .iter()
            .copied()
            .filter(|&part| volume(dossier, part) > 0.0)
            .max_by(|&one, &two| volume(dossier, one).total_cmp(&volume(dossier, two)).then(two.cmp(&one))),
        steps,
        in_place,
        parts,
        there_already,
    }
}

/// The parts that are off the machine by what is done.
fn off_by_now(dossier: &Dossier, placements: &[Placement]) -> BTreeSet<PartId> {
    let done = |step: &StepId| dossier[*step].state == StepState::Done;
    let mut steps: Vec<StepId> = dossier.steps.ids().filter(done).collect();
    steps.sort_by_key(|step| dossier[*step].done_on.map(|day| day.date));
    let mut off = BTreeSet::new();
    steps.into_iter().for_each(|step| moved_by(dossier, placements, step, &mut off));
    off
}

/// What a step takes off, or works on elsewhere, is off after it; what it puts back is on.
fn moved_by(dossier: &Dossier, placements: &[Placement], step: StepId, off: &mut BTreeSet<PartId>) {
    off.extend(&dossier[step].removes);
    if is_away(dossier, &placements[step.index()]) {
        off.extend(&dossier[step].parts);
    }
    off.retain(|part| !dossier[step].refits.contains(part));
}

/// Whether a part is on the machine: neither new, nor taken off, nor in an assembly that was.
fn is_on(dossier: &Dossier, part: PartId, off: &BTreeSet<PartId>) -> bool {
    let is_new = matches!(dossier[part].disposition, Disposition::Buy | Disposition::Make);
    let mut up = std::iter::successors(Some(part), |part| dossier[*part].within);
    !is_new && !up.any(|part| off.contains(&part))
}

/// What the steps work on, use, take off or put back, without what is inside another of those.
fn parts_of(dossier: &Dossier, steps: &[StepId]) -> Vec<PartId> {
    let named = |&step: &StepId| {
        let step = &dossier[step];
        [&step.parts, &step.uses, &step.removes, &step.refits].into_iter().flatten().copied()
    };
    let mut parts: Vec<PartId> = steps.iter().flat_map(named).collect();
    parts.sort_unstable();
    parts.dedup();
    let around = |part: PartId| std::iter::successors(dossier[part].within, |part| dossier[*part].within);
    let inside_another = |part: PartId| around(part).any(|assembly| parts.binary_search(&assembly).is_ok());
    parts.iter().copied().filter(|&part| !inside_another(part)).collect()
}

fn volume(dossier: &Dossier, part: PartId) -> f64 {
    let envelope = dossier[part].envelope.as_ref();
    envelope.map_or(0.0, |envelope| envelope.length.high * envelope.width.high * envelope.height.high)
}
