//! What traps a part comes off before it.

use std::collections::{BTreeSet, VecDeque};

use super::choice::Choice;
use super::{LONGEST_CHAIN, LooseTrap, Ties};
use crate::dossier::{PartId, StepId};
use crate::plan::network::Reason;

impl Ties<'_> {
    /// What traps a part comes off before it. Where nothing takes off the trap, what traps *that* comes first all the
    /// same, and the trap is reported.
    pub(super) fn freed_first(&mut self, step: StepId, part: PartId) {
        let around: BTreeSet<PartId> = self.upwards(part).collect();
        let mut seen = BTreeSet::from([part]);
        let mut queue = VecDeque::from([part]);
        while let Some(trapped) = queue.pop_front() {
            for trap in self.present_traps(step, trapped) {
                if seen.len() <= LONGEST_CHAIN
                    && seen.insert(trap)
                    && !self.frees(step, trapped, trap, &around)
                    && self.is_there_by_then(trapped, trap)
                {
                    self.loose.push(LooseTrap { step, trapped, trap });
                    queue.push_back(trap);
                }
            }
        }
    }

    /// What traps a part when a step takes it off: as written; once a trap has been replaced, what took its place, but for a
    /// step that is done, which met what is written; and for a part that took another's place, what takes the place of the
    /// other's traps.
    fn present_traps(&self, step: StepId, part: PartId) -> Vec<PartId> {
        let written = &self.dossier[part].trapped_by;
        let is_record = self.is_done(step);
        let is_present = |trap: &PartId| {
            let is_fitted = |new: &PartId| self.times_done(&self.refitters, *new) > 0;
            let later = self.slots.later(*trap);
            if self.slots.earlier(part).is_empty() {
                let stands_in = is_fitted(trap) && !written.contains(trap);
                (written.contains(trap) && (is_record || !later.iter().any(is_fitted))) || stands_in
            } else {
                written.contains(trap) || later.is_empty()
            }
        };
        self.slots.trapped_by(part).iter().copied().filter(is_present).collect()
    }

    /// Of a part that took another's place, only a trap of its own note is certain to be there when it comes off.
    fn is_there_by_then(&self, trapped: PartId, trap: PartId) -> bool {
        self.slots.earlier(trapped).is_empty() || self.dossier[trapped].trapped_by.contains(&trap)
    }

    /// Ties `step` to what takes off `trap`, alone or with an assembly around it that is not around the trapped part
    /// too; `false` if nothing does.
    fn frees(&mut self, step: StepId, trapped: PartId, trap: PartId, around: &BTreeSet<PartId>) -> bool {
        let carriers: Vec<PartId> = self.upwards(trap).take_while(|part| !around.contains(part)).collect();
        if carriers.iter().any(|carrier| self.dossier[step].removes.contains(carrier)) {
            return true;
        }
        let all = carriers.iter().filter_map(|carrier| self.removers.get(carrier)).flatten().copied();
        let (done, open): (Vec<StepId>, Vec<StepId>) = all.partition(|remover| self.is_done(*remover));
        let settled = self.is_done(step) || carriers.iter().any(|&carrier| self.is_off(carrier));
        let chosen =
            if settled { self.not_after(step, &done) } else { self.next_time(step, &open, &carriers) };
        let reason = Reason::Trapped { part: self.name(trapped), by: self.name(trap) };
        let ways = self.by_carrier(&carriers, &chosen);
        if ways.len() > 1 {
            self.choices.push(Choice { step, reason, ways });
        } else {
            self.add(&chosen, step, &reason);
        }
        settled || !chosen.is_empty()
    }

    /// The steps that take off each of the parts, without the parts that none takes off.
    pub(super) fn by_carrier(&self, carriers: &[PartId], steps: &[StepId]) -> Vec<Vec<StepId>> {
        let of = |carrier: &PartId| -> Vec<StepId> {
            let removers = self.removers.get(carrier).into_iter().flatten();
            removers.copied().filter(|remover| steps.contains(remover)).collect()
        };
        carriers.iter().map(of).filter(|way| !way.is_empty()).collect()
    }

    /// The steps that take something off before `step`, without those that take it off again after it was put back.
    /// If what is written puts all of them after `step`, that is a circle, and is reported as one.
    fn next_time(&mut self, step: StepId, removers: &[StepId], carriers: &[PartId]) -> Vec<StepId> {
        let possible = self.not_after(step, removers);
        let refits: Vec<StepId> =
            carriers.iter().filter_map(|carrier| self.refitters.get(carrier)).flatten().copied().collect();
        let refits = self.not_before(step, &refits);
        let again = |ties: &mut Self, remover: StepId| {
            refits.iter().any(|&refit| ties.written.before(refit, remover))
        };
        let candidates = if possible.is_empty() { removers } else { &possible };
        let first: Vec<StepId> =
            candidates.iter().copied().filter(|&remover| !again(self, remover)).collect();
        if first.is_empty() { possible } else { first }
    }
}
