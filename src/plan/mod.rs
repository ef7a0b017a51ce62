//! What blocks what: the network of the work, readiness, who can do it, when, and with how few moves.
//!
//! Takes: a dossier (ids resolved) and its day 0. Gives: a [`Plan`] (the network with a reason for each edge, what each
//! step stands at, who can do it), and from it the causes of a delay, times, trips.
//! Never: reads files or today's clock, prints, or judges whether a note is well written.
//!
//! Layers: plain algorithms over indices ([`precedence`], [`schedule`], [`trips`], [`capability`]), the network with its
//! reasons ([`network`], [`forecast`]), and the readers of the dossier ([`graph`], [`readiness`], [`why`], [`report`]).

pub mod capability;
pub mod forecast;
pub mod graph;
pub mod handling;
pub mod in_hand;
pub mod left;
pub mod loads;
mod locations;
pub mod network;
pub mod past;
pub mod placement;
pub mod precedence;
mod problems;
pub mod progress;
pub mod readiness;
mod removal;
pub mod report;
pub mod schedule;
mod slots;
pub mod timetable;
pub mod travel;
pub mod trips;
mod whereabouts;
pub mod why;
pub mod window;
pub mod words;
mod written;

use jiff::civil::Date;

use crate::diagnostic::Problem;
use crate::dossier::{Dossier, NoteId, StepId, Table};
use graph::Graph;
pub use handling::Makings;
use in_hand::InHand;
use placement::Placement;
use readiness::Standing;
pub use removal::{LooseTrap, StillOn};
use timetable::Timetable;
use why::Why;
use window::Window;

/// The sequence of a dossier: what comes before what, who can do it, and what each step stands at.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// The day that times count from, if the notes hold any date.
    pub day_zero: Option<Date>,
    /// Steps, parts to buy and open questions, with the reason of each edge.
    pub graph: Graph,
    /// By step: who can do it and where it is done.
    pub placements: Table<StepId, Placement>,
    /// By step: the days within which it may be done.
    pub windows: Vec<Window>,
    /// By step: its state and causes.
    pub standings: Vec<Standing>,
    /// By step: what can hurt in what it has in hand.
    pub in_hand: Vec<InHand>,
}

impl Plan {
    /// Reads the sequence off the notes, and what making the parts asks for off their shapes.
    pub fn of(dossier: &Dossier, makings: &Makings) -> Self {
        let placements = placement::placements(dossier, makings);
        let windows = window::windows(dossier);
        let graph = Graph::of(dossier, &placements, &windows);
        let standings = readiness::standings(dossier, &graph, &placements, &windows);
        let in_hand = in_hand::of_steps(dossier);
        Self { day_zero: dossier.day_zero(), graph, placements, windows, standings, in_hand }
    }

    /// The state of a step and what keeps it back.
    pub fn standing(&self, step: StepId) -> &Standing {
        &self.standings[step.index()]
    }

    /// Who can do a step and where it is done.
    pub fn placement(&self, step: StepId) -> &Placement {
        &self.placements[step.index()]
    }

    /// The days within which a step may be done.
    pub fn window(&self, step: StepId) -> &Window {
        &self.windows[step.index()]
    }

    /// The hazards of the parts that come with a step, each with the parts that hold it.
    pub fn in_hand(&self, step: StepId) -> &InHand {
        &self.in_hand[step.index()]
    }

    /// The open steps that no known shop can do, in the order of the notes.
    pub fn unplaced(&self) -> impl Iterator<Item = StepId> + '_ {
        self.placements
            .ids()
            .filter(|&step| self.standing(step).state.is_open() && self.placement(step).nobody_can())
    }

    /// Early and late times and the forecast of all that is open.
    pub fn timetable(&self) -> Timetable {
        Timetable::of(self)
    }

    /// The tree of causes of a step, part or question.
    pub fn why(&self, dossier: &Dossier, note: NoteId) -> Why {
        why::why(dossier, self, note)
    }

    /// Circles, traps that nothing frees, steps meant for a shop that can't do them, steps that miss their last day.
    pub fn problems(&self, dossier: &Dossier) -> Vec<Problem> {
        problems::problems(dossier, self)
    }
}
