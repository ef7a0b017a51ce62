//! Where every part lies, step after step, and what has to be moved before a step.
//!
//! A part lies on the machine until a step takes it off, then where that was done, then where the last step on it was
//! done; a new one lies at home, or where it is made, until it is put in. What is within an assembly goes with it. What was
//! moved without a step, no note says. Common practice, no source.

use crate::bill::mass::{Lifted, as_it_is};
use crate::dossier::{Dossier, PartId, ShopId, StepId};
use crate::record::{Disposition, Supply};

use super::placement::{Placement, keeper, place_of, unknown_place};

/// A place: a shop by its index, the keeper's own, or, from [`unknown_place`] on, the one not yet found for each step that
/// nobody can do.
pub(super) type At = usize;

/// Where a part is by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Spot {
    /// In its assembly; if it is in none, on the machine.
    In,
    At(At),
    /// Not made yet.
    ToCome,
    /// Another took its place.
    Out,
}

/// Where a part is with what is around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lies {
    OnTheMachine,
    /// It goes with this part, which may be itself.
    With(PartId, At),
    Nowhere,
}

/// A part that has to be moved, with all that is in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Move {
    pub(super) part: PartId,
    pub(super) from: At,
    pub(super) to: At,
    /// One piece, as it is then.
    pub(super) each: Lifted,
}

/// Where all parts are at some time.
#[derive(Clone)]
pub(super) struct Locations<'a> {
    dossier: &'a Dossier,
    placements: &'a [Placement],
    spots: Vec<Spot>,
    site: At,
    home: At,
}

impl<'a> Locations<'a> {
    /// By what is done, given in order, and what is in hand.
    pub(super) fn by_now(
        dossier: &'a Dossier,
        placements: &'a [Placement],
        done: &[StepId],
        in_hand: &[StepId],
    ) -> Self {
        let home = keeper(dossier);
        let site = dossier.site.map_or(home, ShopId::index);
        let spots = dossier.parts.ids().map(|part| as_noted(dossier, part, home)).collect();
        let mut now = Self { dossier, placements, spots, site, home };
        for &step in done {
            now.begin(step);
            now.end(step);
        }
        in_hand.iter().for_each(|&step| {
            now.begin(step);
        });
        now
    }

    /// The place of a step; each that nobody can do has one of its own.
    pub(super) fn place(&self, step: StepId) -> At {
        let place = place_of(self.dossier, &self.placements[step.index()]);
        if place == unknown_place(self.dossier) { place + step.index() } else { place }
    }

    /// Moves what a step needs to where it needs it.
    pub(super) fn begin(&mut self, id: StepId) -> Vec<Move> {
        let step = &self.dossier[id];
        let mut moves = Vec::new();
        let worked_on = step.parts.iter().chain(&step.removes).copied();
        let mut worked_on: Vec<PartId> = worked_on.filter(|part| !step.makes.contains(part)).collect();
        // What goes with an assembly that is moved, is moved with it.
        worked_on.sort_by_key(|part| self.depth(*part));
        for part in worked_on {
            match self.in_place(id) {
                // What is worked on where it is stays there; what is new comes to where it belongs.
                true if is_new(self.dossier, part) => self.bring(part, self.place_to_fit(part), &mut moves),
                true => {}
                false => self.bring(part, self.place(id), &mut moves),
            }
        }
        for &part in step.refits.iter().chain(&step.uses) {
            let to = if self.in_place(id) { self.place_to_fit(part) } else { self.place(id) };
            if self.lies(part) != Lies::OnTheMachine {
                self.bring(part, to, &mut moves);
            }
            // What it goes into has to be there too.
            let around = self.dossier[part].within.filter(|_| step.refits.contains(&part));
            if let Some(around) = around.filter(|around| self.lies(*around) != Lies::OnTheMachine) {
                self.bring(around, to, &mut moves);
            }
        }
        moves
    }

    /// What a step makes, takes off and puts in.
    pub(super) fn end(&mut self, id: StepId) {
        let step = &self.dossier[id];
        let made = if self.in_place(id) { self.site } else { self.place(id) };
        for &part in &step.makes {
            if self.spots[part.index()] == Spot::ToCome {
                self.spots[part.index()] = Spot::At(made);
            }
        }
        for &part in &step.removes {
            let there = self.location(part).unwrap_or(self.site);
            self.spots[part.index()] = Spot::At(there);
        }
        for &part in step.refits.iter().chain(&step.uses) {
            self.put_in(part);
        }
    }

    /// The parts that lie neither at the machine nor at home, though none of them is scrapped, with their places.
    pub(super) fn elsewhere(&self) -> Vec<(At, PartId)> {
        let ids = self.dossier.parts.ids();
        let kept = ids.filter(|part| self.dossier[*part].disposition != Disposition::Scrap);
        let found = kept.filter_map(|part| match self.spots[part.index()] {
            Spot::At(at) if at != self.site && at != self.home => Some((at, part)),
            _ => None,
        });
        found.collect()
    }

    /// Where a part lies, with what is around it; `None` if it is not made yet, or replaced.
    pub(super) fn location(&self, part: PartId) -> Option<At> {
        match self.lies(part) {
            Lies::OnTheMachine => Some(self.site),
            Lies::With(_, at) => Some(at),
            Lies::Nowhere => None,
        }
    }

    fn in_place(&self, step: StepId) -> bool {
        self.placements[step.index()].in_place
    }

    /// A part is moved by what it goes with; what is on the machine has come off, though no step says so.
    fn bring(&mut self, part: PartId, to: At, moves: &mut Vec<Move>) {
        let (carrier, from) = match self.lies(part) {
            Lies::OnTheMachine => (part, self.site),
            Lies::With(carrier, at) => (carrier, at),
            Lies::Nowhere => return,
        };
        if from != to {
            let each = as_it_is(self.dossier, carrier, |part| self.spots[part.index()] == Spot::In);
            moves.push(Move { part: carrier, from, to, each });
            self.spots[carrier.index()] = Spot::At(to);
        }
    }

    /// A part is in its assembly once it is put in where that lies; what it replaces is out.
    fn put_in(&mut self, part: PartId) {
        let Some(there) = self.location(part) else { return };
        let keys = &self.dossier[part];
        let is_fitted = keys.within.map_or(there == self.site, |around| self.location(around) == Some(there));
        if is_fitted {
            self.spots[part.index()] = Spot::In;
            for old in &keys.replaces {
                if self.spots[old.index()] == Spot::In {
                    self.spots[old.index()] = Spot::Out;
                }
            }
        }
    }

    /// Where a part is put in: where the assembly around it lies.
    fn place_to_fit(&self, part: PartId) -> At {
        self.dossier[part].within.and_then(|around| self.location(around)).unwrap_or(self.site)
    }

    /// How many assemblies are around a part.
    fn depth(&self, part: PartId) -> usize {
        std::iter::successors(self.dossier[part].within, |part| self.dossier[*part].within).count()
    }

    fn lies(&self, part: PartId) -> Lies {
        let mut up = std::iter::successors(Some(part), |part| self.dossier[*part].within);
        up.find_map(|part| match self.spots[part.index()] {
            Spot::In => None,
            Spot::At(at) => Some(Lies::With(part, at)),
            Spot::ToCome | Spot::Out => Some(Lies::Nowhere),
        })
        .unwrap_or(Lies::OnTheMachine)
    }
}

/// Where a part is by its own note.
fn as_noted(dossier: &Dossier, part: PartId, home: At) -> Spot {
    let keys = &dossier[part];
    let is_made = || dossier.steps.iter().any(|step| step.makes.contains(&part));
    match (keys.disposition, keys.supply) {
        (Disposition::Buy | Disposition::Make, Supply::Fitted) => Spot::In,
        (Disposition::Make, supply) if !supply.is_here() && is_made() => Spot::ToCome,
        (Disposition::Buy | Disposition::Make, _) => Spot::At(home),
        _ => Spot::In,
    }
}

fn is_new(dossier: &Dossier, part: PartId) -> bool {
    matches!(dossier[part].disposition, Disposition::Buy | Disposition::Make)
}
