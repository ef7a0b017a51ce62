//! Where the machine stands, and whether a step that names no place is done there: what it touches is still on it.

use std::collections::BTreeMap;

use super::graph::counts;
use super::network::{Edge, Reason};
use super::written::Written;
use crate::dossier::{Dossier, PartId, StepId};
use crate::record::Disposition;

/// What the notes say of taking parts off, ready to be asked.
pub(super) struct Whereabouts<'a> {
    dossier: &'a Dossier,
    removers: BTreeMap<PartId, Vec<StepId>>,
    written: Written,
}

impl<'a> Whereabouts<'a> {
    pub(super) fn of(dossier: &'a Dossier) -> Self {
        let mut removers: BTreeMap<PartId, Vec<StepId>> = BTreeMap::new();
        let mut refitters: BTreeMap<PartId, Vec<StepId>> = BTreeMap::new();
        let mut pairs: Vec<(StepId, StepId)> = Vec::new();
        for step in dossier.steps.ids().filter(|&step| counts(dossier, step)) {
            for &part in &dossier[step].removes {
                removers.entry(part).or_default().push(step);
            }
            for &part in &dossier[step].refits {
                refitters.entry(part).or_default().push(step);
            }
            pairs.extend(dossier[step].needs.iter().map(|need| (*need, step)));
        }
        // What comes off once and goes back once, goes back after it came off.
        for (part, off) in &removers {
            if let ([off], Some([on])) = (&off[..], refitters.get(part).map(Vec::as_slice)) {
                pairs.push((*off, *on));
            }
        }
        let edge = |(before, after): (StepId, StepId)| Edge {
            before: before.index(),
            after: after.index(),
            reason: Reason::Needs,
        };
        let edges: Vec<Edge> =
            pairs.into_iter().filter(|(before, after)| before != after).map(edge).collect();
        Self { dossier, removers, written: Written::new(dossier.steps.len(), &edges) }
    }

    /// Whether a step touches something that is on the machine when it is done. Always `false` where the machine stands
    /// in the keeper's own shop: there it makes no difference.
    pub(super) fn is_at_the_machine(&mut self, id: StepId) -> bool {
        if self.dossier.site == self.dossier.home {
            return false;
        }
        let step = &self.dossier[id];
        let is_old = |part: &&PartId| {
            !matches!(self.dossier[**part].disposition, Disposition::Buy | Disposition::Make)
        };
        let worked_on = step.parts.iter().filter(is_old);
        let touched: Vec<PartId> =
            step.removes.iter().chain(&step.refits).chain(worked_on).copied().collect();
        touched.into_iter().any(|part| self.is_on(id, part))
    }

    /// Whether nothing takes a part off before a step; for what the step itself takes off or puts back, nothing takes off
    /// the assembly around it.
    fn is_on(&mut self, id: StepId, part: PartId) -> bool {
        let step = &self.dossier[id];
        let moved = step.removes.contains(&part) || step.refits.contains(&part);
        let up = std::iter::successors(Some(part), |part| self.dossier[*part].within);
        let carriers = up.skip(usize::from(moved));
        let removers = carriers.filter_map(|carrier| self.removers.get(&carrier)).flatten();
        let mut others = removers.filter(|remover| **remover != id);
        !others.any(|&remover| !self.written.before(id, remover))
    }
}
