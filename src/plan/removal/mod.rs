//! Taking apart and putting back: the edges that nobody wrote because the machine itself asks for them.
//!
//! A part comes off after the parts that trap it; it goes back after it came off; what traps it goes back after it. It is
//! worked on elsewhere while it is off. Where a part comes off or goes back more than once, what is written (`needs`)
//! tells which time is meant; where more than one step may have taken a trap away, the first of them frees the part.

mod away;
mod choice;
mod refit;
mod traps;

use std::collections::BTreeMap;

use super::graph::counts;
use super::network::{Edge, Reason};
use super::slots::Slots;
use super::written::Written;
use crate::dossier::{Dossier, PartId, StepId};
use crate::record::{Disposition, StepState};
use choice::Choice;

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

/// A part that is worked on away from the machine, though no step takes it off before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct StillOn {
    /// The step that works on it.
    pub step: StepId,
    /// The part.
    pub part: PartId,
}

/// What the machine asks for and no step gives.
#[derive(Clone, Debug, Default)]
pub(super) struct Untied {
    /// The traps that nothing frees, by step.
    pub(super) loose: Vec<LooseTrap>,
    /// The parts that are worked on elsewhere and never come off.
    pub(super) still_on: Vec<StillOn>,
}

/// Adds the edges of removal, work elsewhere and putting back to those that are written.
/// `away`: by step, whether it is done somewhere else than where the machine stands.
pub(super) fn tie(dossier: &Dossier, away: &[bool], edges: &mut Vec<Edge>) -> Untied {
    let mut ties = Ties::new(dossier, edges);
    let steps = || dossier.steps.ids().filter(|&step| counts(dossier, step));
    for step in steps() {
        for &part in &dossier[step].removes {
            ties.freed_first(step, part);
        }
        for part in ties.fits(step) {
            ties.off_first(step, part);
            ties.inner_first(step, part);
        }
    }
    ties.settle_choices(edges);
    ties.learn(edges);
    for step in steps().filter(|step| away[step.index()] && dossier[*step].state != StepState::Done) {
        ties.off_to_work(step);
    }
    let Ties { edges: added, mut loose, still_on, .. } = ties;
    edges.extend(added);
    loose.sort();
    loose.dedup();
    Untied { loose, still_on }
}

/// Parts looked at from one removal or putting back; chains of traps longer than this are not followed.
const LONGEST_CHAIN: usize = 1_000;
/// Steps that take off, or put back, one part and that another step is tied to.
const MOST_TIMES: usize = 64;

struct Ties<'a> {
    dossier: &'a Dossier,
    slots: Slots,
    /// Steps that take each part off and leave it off.
    removers: BTreeMap<PartId, Vec<StepId>>,
    /// Steps that put each part in.
    refitters: BTreeMap<PartId, Vec<StepId>>,
    /// By step: the new parts that it puts in, though it only says that it uses them.
    fitted_by_use: BTreeMap<StepId, Vec<PartId>>,
    /// What is known of the order of the steps so far.
    written: Written,
    edges: Vec<Edge>,
    choices: Vec<Choice>,
    loose: Vec<LooseTrap>,
    still_on: Vec<StillOn>,
}

impl<'a> Ties<'a> {
    fn new(dossier: &'a Dossier, written: &[Edge]) -> Self {
        let mut ties = Self {
            dossier,
            slots: Slots::of(dossier),
            removers: BTreeMap::new(),
            refitters: BTreeMap::new(),
            fitted_by_use: BTreeMap::new(),
            written: Written::new(dossier.steps.len(), written),
            edges: Vec::new(),
            choices: Vec::new(),
            loose: Vec::new(),
            still_on: Vec::new(),
        };
        for step in dossier.steps.ids().filter(|&step| counts(dossier, step)) {
            ties.note_parts(step);
        }
        ties.note_uses();
        ties
    }

    fn note_parts(&mut self, id: StepId) {
        let step = &self.dossier[id];
        for &part in step.removes.iter().filter(|part| !step.refits.contains(part)) {
            self.removers.entry(part).or_default().push(id);
        }
        for &part in &step.refits {
            self.refitters.entry(part).or_default().push(id);
        }
    }

    /// A new part that no step puts in by name is put in by the one step that uses it.
    fn note_uses(&mut self) {
        let mut uses: BTreeMap<PartId, Vec<StepId>> = BTreeMap::new();
        for step in self.dossier.steps.ids().filter(|&step| counts(self.dossier, step)) {
            for &part in &self.dossier[step].uses {
                uses.entry(part).or_default().push(step);
            }
        }
        for (part, steps) in uses {
            if let ([step], false) = (&steps[..], self.refitters.contains_key(&part))
                && !self.slots.earlier(part).is_empty()
            {
                self.refitters.insert(part, steps.clone());
                self.fitted_by_use.entry(*step).or_default().push(part);
            }
        }
    }

    /// The parts that a step puts in.
    fn fits(&self, step: StepId) -> Vec<PartId> {
        let by_use = self.fitted_by_use.get(&step).into_iter().flatten();
        self.dossier[step].refits.iter().chain(by_use).copied().collect()
    }

    /// Lets the edges made so far count beside those that are written.
    fn learn(&mut self, written: &[Edge]) {
        let all: Vec<Edge> = written.iter().chain(&self.edges).cloned().collect();
        self.written = Written::new(self.dossier.steps.len(), &all);
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

    /// Those of the steps that are not known to come after this one.
    fn not_after(&mut self, step: StepId, steps: &[StepId]) -> Vec<StepId> {
        let written = &mut self.written;
        steps.iter().copied().filter(|other| !written.before(step, *other)).take(MOST_TIMES).collect()
    }

    /// Those of the steps that are not known to come before this one.
    fn not_before(&mut self, step: StepId, steps: &[StepId]) -> Vec<StepId> {
        let written = &mut self.written;
        steps.iter().copied().filter(|other| !written.before(*other, step)).take(MOST_TIMES).collect()
    }

    /// Whether a part is off the machine by what is done so far.
    fn is_off(&self, part: PartId) -> bool {
        self.times_done(&self.removers, part) > self.times_done(&self.refitters, part)
    }

    fn times_done(&self, steps: &BTreeMap<PartId, Vec<StepId>>, part: PartId) -> usize {
        steps.get(&part).into_iter().flatten().filter(|step| self.is_done(**step)).count()
    }

    fn is_done(&self, step: StepId) -> bool {
        self.dossier[step].state == StepState::Done
    }

    /// Whether a part comes to the machine from elsewhere.
    fn is_new(&self, part: PartId) -> bool {
        matches!(self.dossier[part].disposition, Disposition::Buy | Disposition::Make)
    }

    fn name(&self, part: PartId) -> String {
        self.dossier[part].id().to_owned()
    }

    /// A part and the assemblies it is in.
    fn upwards(&self, part: PartId) -> impl Iterator<Item = PartId> {
        std::iter::successors(Some(part), |part| self.dossier[*part].within)
    }
}
