//! Which of several steps frees a part: its trap may come off alone, or with an assembly around it.

use super::Ties;
use crate::dossier::StepId;
use crate::plan::network::{Edge, Reason};

/// A step that waits for whichever of several ways comes first.
pub(super) struct Choice {
    pub(super) step: StepId,
    pub(super) reason: Reason,
    /// The steps that take off the trap itself, then those of each assembly around it; none of them empty.
    pub(super) ways: Vec<Vec<StepId>>,
}

impl Ties<'_> {
    /// Ties every step that has a choice, now that the edges without one are known.
    pub(super) fn settle_choices(&mut self, written: &[Edge]) {
        if self.choices.is_empty() {
            return;
        }
        self.learn(written);
        for Choice { step, reason, ways } in std::mem::take(&mut self.choices) {
            let first = self.first_way(step, &ways);
            self.add(&first, step, &reason);
        }
    }

    /// The steps of the way that comes first: none that comes after the step itself, nor after another of them; of those
    /// whose order is not known, the ones that take off the innermost part. If all of them come after `step`, that is a
    /// circle, and is reported as one.
    pub(super) fn first_way(&mut self, step: StepId, ways: &[Vec<StepId>]) -> Vec<StepId> {
        let all: Vec<StepId> = ways.iter().flatten().copied().collect();
        let possible = self.not_after(step, &all);
        let possible = if possible.is_empty() { all } else { possible };
        let first: Vec<StepId> = possible
            .iter()
            .copied()
            .filter(|&one| !possible.iter().any(|&other| self.written.before(other, one)))
            .collect();
        let of_way = |way: &Vec<StepId>| -> Vec<StepId> {
            way.iter().copied().filter(|step| first.contains(step)).collect()
        };
        ways.iter().map(of_way).find(|way| !way.is_empty()).unwrap_or(possible)
    }
}
