//! What has changed when a step begins: by what is done, and by what it needs done first, over any number of steps.

use crate::dossier::{Dossier, PartId, StepId};
use crate::record::StepState;

/// Which steps come before which by what is written under `needs`, and which of them move a part.
///
/// Made once for all steps: a bit for each pair of steps.
pub struct Past {
    /// By step: the steps before it, as bits.
    before: Vec<Vec<u64>>,
    done: Vec<u64>,
    /// By part: the steps that take it off (1) and those that put it back (-1).
    moves: Vec<Vec<(StepId, isize)>>,
    /// By part: the steps that put it in its place.
    fitted: Vec<Vec<StepId>>,
    /// By part: those that go in its place.
    replacements: Vec<Vec<PartId>>,
}

/// The moment at which a step begins.
#[derive(Clone, Copy)]
pub struct Moment<'a> {
    past: &'a Past,
    step: StepId,
}

impl Past {
    /// Of every step.
    pub fn of(dossier: &Dossier) -> Self {
        let parts = dossier.parts.len();
        let (mut moves, mut fitted) = (vec![Vec::new(); parts], vec![Vec::new(); parts]);
        let mut done = vec![0; dossier.steps.len().div_ceil(WORD)];
        for id in dossier.steps.ids() {
            let step = &dossier[id];
            step.removes.iter().for_each(|part| moves[part.index()].push((id, 1)));
            step.refits.iter().for_each(|part| moves[part.index()].push((id, -1)));
            step.uses.iter().chain(&step.refits).for_each(|part| fitted[part.index()].push(id));
            if step.state == StepState::Done {
                set(&mut done, id);
            }
        }
        let mut replacements = vec![Vec::new(); parts];
        for new in dossier.parts.ids() {
            dossier[new].replaces.iter().for_each(|old| replacements[old.index()].push(new));
        }
        Self { before: before(dossier), done, moves, fitted, replacements }
    }

    /// When this step begins.
    pub fn at(&self, step: StepId) -> Moment<'_> {
        Moment { past: self, step }
    }
}

impl Moment<'_> {
    /// Whether a step is done by then.
    pub fn is_after(&self, step: StepId) -> bool {
        step != self.step && (has(&self.past.before[self.step.index()], step) || has(&self.past.done, step))
    }

    /// Whether a part was taken off and not put back.
    pub fn is_off(&self, part: PartId) -> bool {
        let moves = self.past.moves[part.index()].iter().filter(|(step, _)| self.is_after(*step));
        moves.map(|(_, times)| times).sum::<isize>() > 0
    }

    /// Whether a part was put in its place.
    pub fn is_fitted(&self, part: PartId) -> bool {
        self.past.fitted[part.index()].iter().any(|step| self.is_after(*step))
    }

    /// Whether another part was put in the place of this one.
    pub fn is_replaced(&self, part: PartId) -> bool {
        self.past.replacements[part.index()].iter().any(|new| self.is_fitted(*new))
    }
}

/// Bits of a word.
const WORD: usize = 64;

fn set(bits: &mut [u64], step: StepId) {
    bits[step.index() / WORD] |= 1 << (step.index() % WORD);
}

fn has(bits: &[u64], step: StepId) -> bool {
    bits[step.index() / WORD] >> (step.index() % WORD) & 1 == 1
}

/// By step, the steps before it. What is dropped is before none; steps that wait on each other, which is an error, are
/// not all before each other.
fn before(dossier: &Dossier) -> Vec<Vec<u64>> {
    let nothing = vec![0; dossier.steps.len().div_ceil(WORD)];
    let mut before = vec![nothing; dossier.steps.len()];
    for step in needed_first(dossier) {
        let mut row = std::mem::take(&mut before[step.index()]);
        for needed in needs(dossier, step) {
            set(&mut row, needed);
            row.iter_mut().zip(&before[needed.index()]).for_each(|(word, more)| *word |= more);
        }
        before[step.index()] = row;
    }
    before
}

fn needs(dossier: &Dossier, step: StepId) -> impl Iterator<Item = StepId> {
    dossier[step].needs.iter().copied().filter(|needed| dossier[*needed].state != StepState::Dropped)
}

/// Every step behind those that it needs.
fn needed_first(dossier: &Dossier) -> Vec<StepId> {
    let mut order = Vec::with_capacity(dossier.steps.len());
    let (mut is_seen, mut is_placed) = (vec![false; dossier.steps.len()], vec![false; dossier.steps.len()]);
    for first in dossier.steps.ids() {
        let mut open = vec![first];
        while let Some(&step) = open.last() {
            if !std::mem::replace(&mut is_seen[step.index()], true) {
                open.extend(needs(dossier, step).filter(|needed| !is_seen[needed.index()]));
                continue;
            }
            open.pop();
            if !std::mem::replace(&mut is_placed[step.index()], true) {
                order.push(step);
            }
        }
    }
    order
}
