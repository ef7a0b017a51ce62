//! Which shop after which, what has to be there each time, and what has to be moved for it, there and back.

use std::collections::BTreeMap;

use super::Plan;
use super::graph::{Graph, counts};
use super::locations::{At, Locations, Move};
use super::network::ActivityKind;
use super::placement::{keeper, unknown_place};
use super::timetable::Timetable;
use super::trips::{Visit, fewest_moves};
use crate::bill::mass::{Lifted, added_ends};
use crate::dossier::{Dossier, NoteId, PartId, ShopId, StepId};
use crate::record::StepState;

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
    /// Those of them that nobody brings: they are on the machine, which stands there, or an earlier step left them there.
    pub there_already: Vec<PartId>,
    /// What is brought for it.
    pub legs: Vec<Leg>,
}

/// What is moved from one place to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    pub from: Stop,
    pub to: Stop,
    /// Each with all that is in it then.
    pub cargo: Vec<Cargo>,
    /// How far, m: the way of each shop from home, added. `None` where one of them is not known.
    pub distance: Option<f64>,
    /// Neither end is home, so that the way leads over it.
    pub by_way_of_home: bool,
    /// The day, from day 0, by which the forecast has it there; `None` where the forecast has the steps in another order.
    pub day: Option<f64>,
    /// The day holds only if shops are found for the steps without one.
    pub if_shops_found: bool,
}

/// An end of a leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stop {
    Shop(ShopId),
    /// The keeper's own place, where no shop is home.
    Keeper,
    /// The shop that is not yet found for this step.
    Unfound(StepId),
}

/// A part that is moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cargo {
    pub part: PartId,
    /// In the whole machine.
    pub pieces: u32,
    /// The mass of one piece as it is then: without what is off it, with what is new in it.
    pub each: Lifted,
}

/// The stays at all shops in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Itinerary {
    /// Each at another shop than the one before.
    pub trips: Vec<Trip>,
    /// What no step brings back: at the end it lies neither where the machine stands nor at home.
    pub left: Vec<(Stop, Vec<PartId>)>,
    /// Whether fewer moves are proven to be impossible.
    pub proven: bool,
}

impl Cargo {
    /// The ends of the mass of all pieces, kg, as far as it is known.
    pub fn ends_kg(&self) -> Option<(f64, f64)> {
        self.each.times(self.pieces).ends_kg
    }
}

impl Leg {
    /// The ends of the mass of all that is moved, kg, as far as it is known: ends added to ends.
    pub fn ends_kg(&self) -> Option<(f64, f64)> {
        self.cargo.iter().map(Cargo::ends_kg).fold(None, added_ends)
    }

    /// The parts whose mass is not known, or not that of all that is in them.
    pub fn unweighed(&self) -> impl Iterator<Item = PartId> + '_ {
        self.cargo.iter().filter(|cargo| cargo.each.unknown > 0).map(|cargo| cargo.part)
    }
}

/// Orders the open steps so that the work moves between shops as rarely as can be, and follows the parts along it.
pub fn itinerary(dossier: &Dossier, plan: &Plan, timetable: &Timetable) -> Itinerary {
    let (done, in_hand) = (in_order(dossier, plan), in_hand(dossier));
    let mut traveller = Traveller {
        dossier,
        plan,
        timetable,
        now: Locations::by_now(dossier, &plan.placements, &done, &in_hand),
        last: BTreeMap::new(),
    };
    let activities = timetable.network.activities();
    let place = |node: usize| match timetable.notes[node] {
        NoteId::Step(step) if activities[node].kind == ActivityKind::Step => Some(traveller.now.place(step)),
        _ => None,
    };
    let places: Vec<Option<At>> = (0..activities.len()).map(place).collect();
    let start = dossier.site.map_or(keeper(dossier), ShopId::index);
    let found = fewest_moves(timetable.network.precedence(), &places, Some(start));
    let trips: Vec<Trip> = found.visits.iter().map(|visit| traveller.trip(visit)).collect();
    Itinerary { trips, left: left(dossier, &traveller.now), proven: found.proven }
}

/// What is done, by its days; a step without one is done once all that comes before it is.
fn in_order(dossier: &Dossier, plan: &Plan) -> Vec<StepId> {
    let mut days = vec![None; plan.graph.notes.len()];
    let mut done = Vec::new();
    let precedence = plan.graph.network.precedence();
    for &node in precedence.order() {
        let before = precedence.before(node).iter().filter_map(|before| days[*before]).max();
        let NoteId::Step(step) = plan.graph.notes[node] else { continue };
        days[node] = dossier[step].done_on.map(|day| day.date).or(before);
        if dossier[step].state == StepState::Done {
            done.push(step);
        }
    }
    done.sort_by_key(|step| days[Graph::step(*step)]);
    done
}

fn in_hand(dossier: &Dossier) -> Vec<StepId> {
    let is_in_hand = |step: &StepId| counts(dossier, *step) && dossier[*step].state == StepState::Doing;
    dossier.steps.ids().filter(is_in_hand).collect()
}

fn left(dossier: &Dossier, now: &Locations) -> Vec<(Stop, Vec<PartId>)> {
    let mut left: BTreeMap<Stop, Vec<PartId>> = BTreeMap::new();
    for (at, part) in now.elsewhere() {
        left.entry(stop(dossier, at)).or_default().push(part);
    }
    left.into_iter().collect()
}

fn stop(dossier: &Dossier, at: At) -> Stop {
    let of_step = at.checked_sub(unknown_place(dossier)).and_then(|step| dossier.steps.ids().nth(step));
    match (dossier.shops.ids().nth(at), of_step) {
        (Some(shop), _) => Stop::Shop(shop),
        (None, Some(step)) => Stop::Unfound(step),
        (None, None) => Stop::Keeper,
    }
}

struct Traveller<'a> {
    dossier: &'a Dossier,
    plan: &'a Plan,
    timetable: &'a Timetable,
    now: Locations<'a>,
    /// By part that was moved or worked on: the last open step on it so far.
    last: BTreeMap<PartId, StepId>,
}

/// A leg that more may be put on.
struct Loading {
    leg: Leg,
    /// The day from which all that is on it can go.
    free: f64,
}

/// Days; two times that differ by no more are one.
const SECOND: f64 = 1.0 / 86_400.0;

impl Traveller<'_> {
    fn trip(&mut self, visit: &Visit) -> Trip {
        let steps = visit.steps.iter().filter_map(|&node| match self.timetable.notes[node] {
            NoteId::Step(step) => Some(step),
            _ => None,
        });
        let steps: Vec<StepId> = steps.collect();
        let (in_place, there): (Vec<StepId>, Vec<StepId>) =
            steps.iter().partition(|step| self.plan.placement(**step).in_place);
        let parts = parts_of(self.dossier, if there.is_empty() { &in_place } else { &there });
        let lay: Vec<Option<At>> = parts.iter().map(|part| self.now.location(*part)).collect();
        let mut legs: Vec<Loading> = Vec::new();
        for &step in &steps {
            let moves = self.now.begin(step);
            moves.into_iter().for_each(|one| self.load(&mut legs, step, one));
            self.now.end(step);
            self.last.extend(handled(self.dossier, step).map(|part| (part, step)));
        }
        let stayed =
            parts.iter().zip(lay).filter(|(part, at)| at.is_some() && self.now.location(**part) == *at);
        let there_already = stayed.map(|(part, _)| *part).collect();
        let stop = stop(self.dossier, visit.place);
        Trip {
            shop: if let Stop::Shop(shop) = stop { Some(shop) } else { None },
            unplaced: matches!(stop, Stop::Unfound(_)),
            steps,
            in_place,
            parts,
            there_already,
            legs: legs.into_iter().map(|loading| loading.leg).collect(),
        }
    }

    /// Puts a part on a leg between its places that goes by the day on which a step first needs something of it, and once
    /// all of it is free; else on a leg of its own.
    fn load(&self, legs: &mut Vec<Loading>, step: StepId, one: Move) {
        let (from, to) = (stop(self.dossier, one.from), stop(self.dossier, one.to));
        let (needed, if_shops_found) = self.needed(step);
        let free = self.free(one.part);
        let day = needed.filter(|needed| free <= needed + SECOND);
        let cargo = Cargo { part: one.part, pieces: pieces(self.dossier, one.part), each: one.each };
        let takes = |loading: &&mut Loading| {
            let leg = &loading.leg;
            let goes = match (leg.day, day) {
                (Some(leg), Some(day)) => loading.free.max(free) <= leg.min(day) + SECOND,
                (None, None) => true,
                _ => false,
            };
            (leg.from, leg.to) == (from, to) && goes
        };
        if let Some(Loading { leg, free: all_free }) = legs.iter_mut().find(takes) {
            leg.cargo.push(cargo);
            leg.day = leg.day.zip(day).map(|(one, other)| one.min(other));
            leg.if_shops_found |= if_shops_found;
            *all_free = all_free.max(free);
            return;
        }
        let ways = [one.from, one.to].map(|at| self.how_far(at));
        let leg = Leg {
            from,
            to,
            cargo: vec![cargo],
            distance: ways[0].zip(ways[1]).map(|(one, other)| one + other),
            by_way_of_home: [one.from, one.to].iter().all(|at| *at != keeper(self.dossier)),
            day,
            if_shops_found,
        };
        legs.push(Loading { leg, free });
    }

    /// The start of a step by the forecast, and whether it hangs on shops that are not found.
    fn needed(&self, step: StepId) -> (Option<f64>, bool) {
        let Some(own) = self.node(step) else { return (None, false) };
        (Some(self.timetable.forecast.slots[own].start), self.timetable.conditional[own])
    }

    /// When the last of what was done with a part, or with something in it, is done by the forecast.
    fn free(&self, part: PartId) -> f64 {
        let is_inside = |other: PartId| around(self.dossier, other).any(|assembly| assembly == part);
        let before = self.last.iter().filter(|(other, _)| is_inside(**other));
        let busy = before.filter_map(|(_, step)| self.node(*step));
        busy.map(|node| self.timetable.forecast.slots[node].hands_off).fold(0.0, f64::max)
    }

    fn node(&self, step: StepId) -> Option<usize> {
        self.timetable.notes.iter().position(|note| *note == NoteId::Step(step))
    }

    /// How far a place is from home, m.
    fn how_far(&self, at: At) -> Option<f64> {
        if at == keeper(self.dossier) {
            return Some(0.0);
        }
        self.dossier[self.dossier.shops.ids().nth(at)?].distance
    }
}

/// All pieces of a part, in all the assemblies around it.
fn pieces(dossier: &Dossier, part: PartId) -> u32 {
    around(dossier, part).fold(1_u32, |pieces, part| pieces.saturating_mul(dossier[part].quantity))
}

/// A part and the assemblies it is in.
fn around(dossier: &Dossier, part: PartId) -> impl Iterator<Item = PartId> {
    std::iter::successors(Some(part), |part| dossier[*part].within)
}

/// What a step works on, uses, takes off or puts back.
fn handled(dossier: &Dossier, step: StepId) -> impl Iterator<Item = PartId> {
    let step = &dossier[step];
    [&step.parts, &step.uses, &step.removes, &step.refits].into_iter().flatten().copied()
}

/// What the steps handle, without what is inside another of those.
fn parts_of(dossier: &Dossier, steps: &[StepId]) -> Vec<PartId> {
    let mut parts: Vec<PartId> = steps.iter().flat_map(|step| handled(dossier, *step)).collect();
    parts.sort_unstable();
    parts.dedup();
    let inside_another =
        |part: PartId| around(dossier, part).skip(1).any(|assembly| parts.binary_search(&assembly).is_ok());
    parts.iter().copied().filter(|&part| !inside_another(part)).collect()
}
