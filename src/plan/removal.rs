//! Taking apart and putting back: the edges that nobody wrote because the machine itself asks for them.
//!
//! A part comes off after the parts that trap it; it goes back after it came off; what traps it goes back after it.
//! Where a part comes off or goes back more than once, what is written (`needs`) tells which time is meant.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::graph::counts;
use super::network::{Edge, Reason};
use super::written::Written;
use crate::dossier::{Dossier, PartId, StepId};
use crate::record::StepState;

/// A part that traps another, still on the machine, with no step that takes it off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LooseTrap {
    /// The step that would take off the trapped part, or something further in.
    pub step: StepId,
    /// The part that is trapped.
    pub trapped: PartId,
    /// The part that traps it.
    pub trap: PartId,
}

/// Adds the edges of removal and putting back to those that are written; gives the traps that nothing frees.
pub(super) fn tie(dossier: &Dossier, edges: &mut Vec<Edge>) -> Vec<LooseTrap> {
    let mut ties = Ties::new(dossier, edges);
    for step in StepId::all(dossier.steps.len()).filter(|&step| counts(dossier, step)) {
        for &part in &dossier[step].removes {
            ties.freed_first(step, part);
        }
        for &part in &dossier[step].refits {
            ties.off_first(step, part);
            ties.inner_first(step, part);
        }
    }
    let Ties { edges: added, mut loose, .. } = ties;
    edges.extend(added);
    loose.sort();
    loose.dedup();
    loose
}

/// Parts looked at from one removal or putting back; chains of traps longer than this are not followed.
const LONGEST_CHAIN: usize = 1_000;
/// Steps that take off, or put back, one part and that another step is tied to.
const MOST_TIMES: usize = 64;

struct Ties<'a> {
    dossier: &'a Dossier,
    /// Steps that take each part off and leave it off.
    removers: BTreeMap<PartId, Vec<StepId>>,
    /// Steps that put each part back, or what replaces it.
    refitters: BTreeMap<PartId, Vec<StepId>>,
    /// The parts that each part traps.
    traps: BTreeMap<PartId, Vec<PartId>>,
    written: Written,
    edges: Vec<Edge>,
    loose: Vec<LooseTrap>,
}

impl<'a> Ties<'a> {
    fn new(dossier: &'a Dossier, written: &[Edge]) -> Self {
        let mut ties = Self {
            dossier,
            removers: BTreeMap::new(),
            refitters: BTreeMap::new(),
            traps: traps(dossier),
            written: Written::new(dossier.steps.len(), written),
            edges: Vec::new(),
            loose: Vec::new(),
        };
        for step in StepId::all(dossier.steps.len()).filter(|&step| counts(dossier, step)) {
            ties.note_parts(step);
        }
        ties
    }

    fn note_parts(&mut self, id: StepId) {
        let step = &self.dossier[id];
        for &part in step.removes.iter().filter(|part| !step.refits.contains(part)) {
            self.removers.entry(part).or_default().push(id);
        }
        for &part in &step.refits {
            let replaced = self.dossier[part].replaces;
            for part in [Some(part), replaced].into_iter().flatten() {
                self.refitters.entry(part).or_default().push(id);
            }
        }
    }

    /// Ties `after` to the steps before it; what is done does not wait for what is to come.
    fn add(&mut self, before: &[StepId], after: StepId, reason: &Reason) {
        for &before in before {
            if before != after && (!self.is_done(after) || self.is_done(before)) {
                self.edges.push(Edge {
                    before: before.index(),
                    after: after.index(),
                    reason: reason.clone(),
                });
            }
        }
    }

    /// What is put back was taken off before.
    fn off_first(&mut self, step: StepId, part: PartId) {
        let removers = self.removers.get(&part).cloned().unwrap_or_default();
        let before = self.not_after(step, &removers);
        self.add(&before, step, &Reason::Refit { part: self.name(part) });
    }

    /// Those of the steps that what is written does not put after this one.
    fn not_after(&mut self, step: StepId, steps: &[StepId]) -> Vec<StepId> {
        let written = &mut self.written;
        steps.iter().copied().filter(|other| !written.before(step, *other)).take(MOST_TIMES).collect()
    }

    /// What traps a part comes off before it. Where nothing takes off the trap, what traps *that* comes first all the
    /// same, and the trap is reported.
    fn freed_first(&mut self, step: StepId, part: PartId) {
        let around: BTreeSet<PartId> = self.upwards(part).collect();
        let mut seen = BTreeSet::from([part]);
        let mut queue = VecDeque::from([part]);
        while let Some(trapped) = queue.pop_front() {
            for &trap in &self.dossier[trapped].trapped_by {
                if seen.len() <= LONGEST_CHAIN
                    && seen.insert(trap)
                    && !self.frees(step, trapped, trap, &around)
                {
                    self.loose.push(LooseTrap { step, trapped, trap });
                    queue.push_back(trap);
                }
            }
        }
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
        self.add(&chosen, step, &reason);
        settled || !chosen.is_empty()
    }

    /// The steps that take something off before `step`, without those that take it off again after it was put back.
    /// If what is written puts all of them after `step`, that is a circle, and is told as one.
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

    fn not_before(&mut self, step: StepId, steps: &[StepId]) -> Vec<StepId> {
        let written = &mut self.written;
        steps.iter().copied().filter(|other| !written.before(*other, step)).take(MOST_TIMES).collect()
    }

    /// Whether a part is off the machine by what is done so far.
    fn is_off(&self, part: PartId) -> bool {
        let done = |steps: Option<&Vec<StepId>>| {
            steps.into_iter().flatten().filter(|step| self.is_done(**step)).count()
        };
        done(self.removers.get(&part)) > done(self.refitters.get(&part))
    }

    /// What a part would trap goes back before it.
    fn inner_first(&mut self, step: StepId, part: PartId) {
        let mut seen = BTreeSet::from([part]);
        let mut queue = VecDeque::from([part]);
        while let Some(trap) = queue.pop_front() {
            for inner in self.traps.get(&trap).cloned().unwrap_or_default() {
                if seen.len() > LONGEST_CHAIN
                    || !seen.insert(inner)
                    || self.dossier[step].refits.contains(&inner)
                {
                    continue;
                }
                let Some(steps) = self.refitters.get(&inner).cloned() else {
                    queue.push_back(inner);
                    continue;
                };
                let before = self.not_after(step, &steps);
                let reason = Reason::PutBack { part: self.name(inner), by: self.name(trap) };
                self.add(&before, step, &reason);
            }
        }
    }

    fn is_done(&self, step: StepId) -> bool {
        self.dossier[step].state == StepState::Done
    }

    fn name(&self, part: PartId) -> String {
        self.dossier[part].id().to_owned()
    }

    /// A part and the assemblies it is in.
    fn upwards(&self, part: PartId) -> impl Iterator<Item = PartId> {
        std::iter::successors(Some(part), |part| self.dossier[*part].within)
    }
}

fn traps(dossier: &Dossier) -> BTreeMap<PartId, Vec<PartId>> {
    let mut traps: BTreeMap<PartId, Vec<PartId>> = BTreeMap::new();
    for part in PartId::all(dossier.parts.len()) {
        for &trap in &dossier[part].trapped_by {
            traps.entry(trap).or_default().push(part);
        }
    }
    traps
}
