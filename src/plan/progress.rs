//! How far the work has come: steps by their state, and the hours that are left.

use super::Plan;
use super::left::hours_left;
use super::readiness::State;
use crate::dossier::Dossier;

/// How far the work has come. Steps that were dropped count nowhere.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Progress {
    pub steps: usize,
    pub done: usize,
    /// Held at a point of no return.
    pub held: usize,
    /// Likely hands-on hours of the open steps that say how long they take.
    pub hours_left: f64,
}

impl Plan {
    /// How far the work has come.
    pub fn progress(&self, dossier: &Dossier) -> Progress {
        let mut progress = Progress::default();
        for step in dossier.steps.ids() {
            let state = self.standing(step).state;
            progress.steps += usize::from(state != State::Dropped);
            progress.done += usize::from(state == State::Done);
            progress.held += usize::from(state == State::Held);
            let left = hours_left(dossier, step).filter(|_| state.is_open());
            progress.hours_left += left.map_or(0.0, |left| left.likely);
        }
        progress
    }
}
