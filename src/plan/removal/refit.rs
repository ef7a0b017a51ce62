//! What goes back: after it came off, after what it replaces came off, and before what traps it.

use std::collections::{BTreeSet, VecDeque};

use super::{LONGEST_CHAIN, Ties};
use crate::dossier::{PartId, StepId};
use crate::plan::network::Reason;

impl Ties<'_> {
    /// What is put back was taken off before, and so was what it replaces.
    pub(super) fn off_first(&mut self, step: StepId, part: PartId) {
        self.after_removal(step, part, &Reason::Refit { part: self.name(part) });
        for old in self.slots.earlier(part).to_vec() {
            let reason = Reason::Replaces { part: self.name(part), old: self.name(old) };
            self.after_removal(step, old, &reason);
        }
    }

    fn after_removal(&mut self, step: StepId, part: PartId, reason: &Reason) {
        let removers = self.removers.get(&part).cloned().unwrap_or_default();
        let before = self.not_after(step, &removers);
        self.add(&before, step, reason);
    }

    /// What a part would trap goes back before it.
    pub(super) fn inner_first(&mut self, step: StepId, part: PartId) {
        let own = self.fits(step);
        let mut seen = BTreeSet::from([part]);
        let mut queue = VecDeque::from([part]);
        while let Some(trap) = queue.pop_front() {
            for inner in self.slots.traps(trap).to_vec() {
                if seen.len() > LONGEST_CHAIN || !seen.insert(inner) || own.contains(&inner) {
                    continue;
                }
                let Some(steps) = self.refitters.get(&inner).cloned() else {
                    if !self.is_replaced(inner) {
                        queue.push_back(inner);
                    }
                    continue;
                };
                let before = self.not_after(step, &steps);
                let reason = Reason::PutBack { part: self.name(inner), by: self.name(trap) };
                self.add(&before, step, &reason);
            }
        }
    }

    /// Whether a step puts something else in the place of a part.
    fn is_replaced(&self, part: PartId) -> bool {
        self.slots.later(part).iter().any(|new| self.refitters.contains_key(new))
    }
}
