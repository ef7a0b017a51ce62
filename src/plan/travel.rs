//! Which shop after which, and what has to be there each time.

use super::network::Kind;
use super::placement::{Placement, keeper, unknown_place};
use super::timetable::Timetable;
use super::trips::fewest_moves;
use crate::dossier::{Dossier, NoteId, PartId, ShopId, StepId};

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
    /// Their mass together, kg, as far as it is known.
    pub mass_kg: Option<f64>,
    /// The parts of unknown mass.
    pub unweighed: Vec<PartId>,
    /// The part with the largest envelope by volume.
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
/// `masses_kg`: the mass of all pieces of each part, in the dossier's order, where it is known.
pub fn itinerary(
    dossier: &Dossier,
    placements: &[Placement],
    timetable: &Timetable,
    masses_kg: &[Option<f64>],
) -> Itinerary {
    let activities = timetable.network.activities();
    let place = |node: usize| if activities[node].kind == Kind::Step { activities[node].place } else { None };
    let places: Vec<Option<usize>> = (0..activities.len()).map(place).collect();
    let found = fewest_moves(timetable.network.precedence(), &places, Some(keeper(dossier)));
    let trip = |visit: super::trips::Visit| {
        let steps = visit.steps.iter().filter_map(|&node| match timetable.notes[node] {
            NoteId::Step(step) => Some(step),
            _ => None,
        });
        trip(dossier, placements, visit.place, steps.collect(), masses_kg)
    };
    Itinerary { trips: found.visits.into_iter().map(trip).collect(), proven: found.proven }
}

fn trip(
    dossier: &Dossier,
    placements: &[Placement],
    place: usize,
    steps: Vec<StepId>,
    masses_kg: &[Option<f64>],
) -> Trip {
    let (in_place, there): (Vec<StepId>, Vec<StepId>) =
        steps.iter().partition(|step| placements[step.index()].in_place);
    let parts = parts_of(dossier, if there.is_empty() { &in_place } else { &there });
    let mass = |part: &PartId| masses_kg.get(part.index()).copied().flatten();
    let known: Vec<f64> = parts.iter().filter_map(mass).collect();
    Trip {
        shop: ShopId::all(dossier.shops.len()).nth(place),
        unplaced: place == unknown_place(dossier),
        mass_kg: (!known.is_empty()).then(|| known.iter().sum()),
        unweighed: parts.iter().copied().filter(|part| mass(part).is_none()).collect(),
        largest: parts
            .iter()
            .copied()
            .filter(|&part| volume(dossier, part) > 0.0)
            .max_by(|&one, &two| volume(dossier, one).total_cmp(&volume(dossier, two)).then(two.cmp(&one))),
        steps,
        in_place,
        parts,
    }
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
