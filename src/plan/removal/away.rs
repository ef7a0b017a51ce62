//! Work away from the machine: the part came off before, and goes back after.

use super::{StillOn, Ties};
use crate::dossier::{PartId, StepId};
use crate::plan::network::Reason;

impl Ties<'_> {
    /// Ties a step that is done elsewhere to what takes off the parts it works on, and to what puts them back.
    pub(super) fn off_to_work(&mut self, step: StepId) {
        for &part in &self.dossier[step].parts {
            if !self.is_new(part) {
                self.off_first_to_work(step, part);
            }
        }
    }

    fn off_first_to_work(&mut self, step: StepId, part: PartId) {
        let keys = &self.dossier[step];
        // A step that itself takes the part off, does so from an assembly that is off.
        let takes_off = keys.removes.contains(&part);
        let carriers: Vec<PartId> = self.upwards(part).skip(usize::from(takes_off)).collect();
        if carriers.iter().any(|carrier| keys.removes.contains(carrier)) {
            return;
        }
        if let Some(&off) = carriers.iter().find(|carrier| self.is_off(**carrier)) {
            return self.back_after_work(step, part, off);
        }
        let removers = carriers.iter().filter_map(|carrier| self.removers.get(carrier)).flatten();
        let open: Vec<StepId> = removers.copied().filter(|remover| !self.is_done(*remover)).collect();
        let possible = self.not_after(step, &open);
        let chosen = self.coming_off(step, &possible, &carriers);
        if chosen.is_empty() && !takes_off && self.sits_on_the_machine(part) {
            self.still_on.push(StillOn { step, part });
        }
        for carrier in carriers {
            let removers = self.removers.get(&carrier).cloned().unwrap_or_default();
            let chosen: Vec<StepId> = chosen.iter().copied().filter(|one| removers.contains(one)).collect();
            if !chosen.is_empty() {
                let with = (carrier != part).then(|| self.name(carrier));
                self.add(&chosen, step, &Reason::OffToWork { part: self.name(part), with });
                return self.back_after_work(step, part, carrier);
            }
        }
    }

    /// The removals that a step elsewhere waits for: those that are known to come before it; else the first way.
    fn coming_off(&mut self, step: StepId, possible: &[StepId], carriers: &[PartId]) -> Vec<StepId> {
        let unknown = self.not_before(step, possible);
        let known: Vec<StepId> = possible.iter().copied().filter(|one| !unknown.contains(one)).collect();
        let ways = self.by_carrier(carriers, if known.is_empty() { possible } else { &known });
        if ways.is_empty() { Vec::new() } else { self.first_way(step, &ways) }
    }

    /// What is worked on elsewhere goes back after that, if nothing says so already; of a part that comes off more than
    /// once, only what is written tells which time the work belongs to.
    fn back_after_work(&mut self, step: StepId, part: PartId, carrier: PartId) {
        let times = self.removers.get(&carrier).map_or(0, Vec::len);
        if times > 1 {
            return;
        }
        let refits = self.refitters.get(&carrier).cloned().unwrap_or_default();
        let with = (carrier != part).then(|| self.name(carrier));
        let reason = Reason::Worked { part: self.name(part), with };
        for refit in self.not_before(step, &refits) {
            if !self.written.before(step, refit) {
                self.add(&[step], refit, &reason);
            }
        }
    }

    /// Whether something in the notes says that a part belongs on the machine.
    fn sits_on_the_machine(&self, part: PartId) -> bool {
        self.dossier[part].within.is_some()
            || !self.slots.trapped_by(part).is_empty()
            || !self.slots.traps(part).is_empty()
    }
}
