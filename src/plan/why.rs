//! Why something can't be done yet: the tree of causes, down to what can be done today.

use std::collections::{BTreeSet, VecDeque};

use super::Plan;
use super::graph::{Graph, makers, to_come, wanted};
use super::network::Reason;
use super::readiness::{Because, Cause, Does, Obstacle, State, to_come_of, trap_cause};
use crate::dossier::{Dossier, NoteId, PaperId, PartId, QuestionId, StepId};
use crate::record::{Disposition, QuestionState, Supply};

/// One line of the tree.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainLine {
    /// 0 for the direct causes of what was asked about.
    pub depth: usize,
    /// The cause.
    pub cause: Cause,
    /// How far the step is, when the cause is one.
    pub state: Option<State>,
    /// What is below it stands at an earlier line.
    pub told_above: bool,
}

/// Something that can be done today towards what was asked about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Doable {
    /// The step, question or part.
    pub note: NoteId,
    /// What to do, as an imperative clause.
    pub what: String,
    /// Only a line in the notes is missing; nothing is done at the machine.
    pub in_the_notes: bool,
}

/// The tree of causes, depth first.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// What was asked about.
    pub note: NoteId,
    /// Its causes, each followed by its own; a cause that is shared stands in full once.
    pub lines: Vec<ChainLine>,
    /// What can be done today, nearest to the question first; each once.
    pub doable: Vec<Doable>,
}

/// The tree for a step (until it can be done), a part (until it is off, or in place) or a question (until it is settled).
pub fn why(dossier: &Dossier, plan: &Plan, note: NoteId) -> Why {
    // A part may be its own cause: it has to be bought.
    let seen = if let NoteId::Part(_) = note { BTreeSet::new() } else { BTreeSet::from([note]) };
    let mut teller = Teller { dossier, plan, seen, doable: Vec::new() };
    let first = teller.causes(note);
    teller.doable_at_root(note);
    let mut lines = Vec::new();
    let mut open: Vec<(usize, Cause, Option<StepId>)> = stacked(first, 0, note);
    while let Some((depth, cause, of)) = open.pop() {
        let told_above = is_expanded(&cause) && !teller.seen.insert(cause.note);
        let below = if told_above { Vec::new() } else { teller.below(&cause, of) };
        if !told_above {
            teller.doable_at(&cause, below.is_empty());
        }
        let note = cause.note;
        lines.push(ChainLine { depth, state: teller.state(&cause), cause, told_above });
        let of = if let NoteId::Step(_) = note { note } else { of.map_or(note, NoteId::Step) };
        open.extend(stacked(below, depth + 1, of));
    }
    let mut once = BTreeSet::new();
    teller.doable.retain(|doable| once.insert(doable.clone()));
    Why { note, lines, doable: teller.doable }
}

/// Causes of one note, last first, with the step they hold back.
fn stacked(causes: Vec<Cause>, depth: usize, note: NoteId) -> Vec<(usize, Cause, Option<StepId>)> {
    let of = match note {
        NoteId::Step(step) => Some(step),
        _ => None,
    };
    causes.into_iter().rev().map(|cause| (depth, cause, of)).collect()
}

/// Whether a cause has causes of its own that would be reported more than once.
fn is_expanded(cause: &Cause) -> bool {
    matches!(cause.obstacle, Obstacle::Step | Obstacle::Question | Obstacle::Part)
}

fn step_cause(step: StepId, does: Does, says: NoteId) -> Cause {
    Cause { obstacle: Obstacle::Step, note: step.into(), because: Because::Does(does), says }
}

struct Teller<'a> {
    dossier: &'a Dossier,
    plan: &'a Plan,
    seen: BTreeSet<NoteId>,
    doable: Vec<Doable>,
}

impl Teller<'_> {
    /// The direct causes of a note.
    fn causes(&self, note: NoteId) -> Vec<Cause> {
        match note {
            NoteId::Step(step) => self.plan.standing(step).causes.clone(),
            NoteId::Question(question) => self.of_question(question),
            NoteId::Part(part) => self.of_part(part),
            _ => Vec::new(),
        }
    }

    fn below(&self, cause: &Cause, of: Option<StepId>) -> Vec<Cause> {
        match (cause.obstacle, cause.note, of) {
            (Obstacle::Step, NoteId::Step(step), _) => self.plan.standing(step).causes.clone(),
            (Obstacle::Question, NoteId::Question(question), _) => self.of_question(question),
            (Obstacle::Part, NoteId::Part(part), Some(step)) => self.of_trap(step, part),
            (Obstacle::Size, NoteId::Part(part), _) => Self::of_hold(part, cause),
            _ => Vec::new(),
        }
    }

    fn state(&self, cause: &Cause) -> Option<State> {
        match (cause.obstacle, cause.note) {
            (Obstacle::Step, NoteId::Step(step)) => Some(self.plan.standing(step).state),
            _ => None,
        }
    }

    /// The open steps that settle an open question.
    fn of_question(&self, id: QuestionId) -> Vec<Cause> {
        let question = &self.dossier[id];
        let open = question.settled_by.iter().filter_map(|note| match note {
            NoteId::Step(step) if self.is_open(*step) => Some(*step),
            _ => None,
        });
        open.map(|step| step_cause(step, Does::Settles, id.into())).collect()
    }

    /// The open steps and questions that give a size on hold.
    fn of_hold(part: PartId, cause: &Cause) -> Vec<Cause> {
        let Because::OnHold { waits_for, .. } = &cause.because else { return Vec::new() };
        let settles = |note: &NoteId| {
            let obstacle =
                if matches!(note, NoteId::Question(_)) { Obstacle::Question } else { Obstacle::Step };
            Cause { obstacle, note: *note, because: Because::Does(Does::Settles), says: part.into() }
        };
        waits_for.iter().map(settles).collect()
    }

    /// What frees a part that itself stays on while `step` waits for it: the traps around it.
    fn of_trap(&self, step: StepId, trap: PartId) -> Vec<Cause> {
        let graph = &self.plan.graph;
        let own = graph.loose_traps.iter().filter(|loose| loose.step == step && loose.trapped == trap);
        let loose = own.map(|loose| trap_cause(loose.trapped, loose.trap));
        let name = self.dossier[trap].id();
        let edges = graph.network.edges().iter().filter(|edge| {
            let frees = matches!(&edge.reason, Reason::Trapped { part, .. } if part == name);
            frees && edge.after == Graph::step(step)
        });
        let freed = edges.filter_map(|edge| match graph.notes[edge.before] {
            NoteId::Step(before) if self.is_open(before) => Some(Cause {
                obstacle: Obstacle::Step,
                note: before.into(),
                because: Because::Tie(edge.reason.clone()),
                says: trap.into(),
            }),
            _ => None,
        });
        loose.chain(freed).collect()
    }

    /// Until it is off, if a step takes it off and is not done; else until it is in place.
    fn of_part(&self, id: PartId) -> Vec<Cause> {
        let off = self.taking_off(id);
        if !off.is_empty() {
            return off;
        }
        let part = &self.dossier[id];
        let is_new = matches!(part.disposition, Disposition::Buy | Disposition::Make);
        let does = if is_new { Does::PutsIn } else { Does::PutsBack };
        let refit = self.steps_that(does, |step| self.dossier[step].refits.contains(&id));
        let put_in = match refit {
            refit if !refit.is_empty() || !is_new || part.supply == Supply::Fitted => refit,
            _ => self.steps_that(Does::Uses, |step| wanted(&self.dossier[step]).any(|part| part == id)),
        };
        if put_in.is_empty() { self.coming(id) } else { put_in }
    }

    /// The open steps that take a part off, without those that take it off again after it was put back.
    fn taking_off(&self, id: PartId) -> Vec<Cause> {
        let leaves_off = |step: StepId| {
            self.dossier[step].removes.contains(&id) && !self.dossier[step].refits.contains(&id)
        };
        let off = self.steps_that(Does::TakesOff, leaves_off);
        let after_refit =
            self.after_all(|step| self.is_open(step) && self.dossier[step].refits.contains(&id));
        let first: Vec<Cause> =
            off.iter().filter(|cause| !after_refit.contains(&cause.note)).cloned().collect();
        if first.is_empty() { off } else { first }
    }

    /// Everything that comes after the steps of this kind.
    fn after_all(&self, of_kind: impl Fn(StepId) -> bool) -> BTreeSet<NoteId> {
        let graph = &self.plan.graph;
        let mut queue: VecDeque<usize> =
            self.dossier.steps.ids().filter(|&step| of_kind(step)).map(Graph::step).collect();
        let mut after = BTreeSet::new();
        while let Some(node) = queue.pop_front() {
            for &next in graph.network.precedence().after(node) {
                if after.insert(graph.notes[next]) {
                    queue.push_back(next);
                }
            }
        }
        after
    }

    /// A new part on its way: its order, the steps that make it.
    fn coming(&self, id: PartId) -> Vec<Cause> {
        let part = &self.dossier[id];
        let order = to_come(part).then(|| Cause {
            obstacle: Obstacle::Part,
            note: id.into(),
            because: to_come_of(part),
            says: id.into(),
        });
        let makers = makers(self.dossier).remove(&id).unwrap_or_default();
        let made = makers.into_iter().filter(|&step| self.is_open(step) && !part.supply.is_here());
        order.into_iter().chain(made.map(|step| step_cause(step, Does::Makes, step.into()))).collect()
    }

    fn steps_that(&self, does: Does, which: impl Fn(StepId) -> bool) -> Vec<Cause> {
        let steps = self.dossier.steps.ids().filter(|&step| self.is_open(step) && which(step));
        steps.map(|step| step_cause(step, does, step.into())).collect()
    }

    fn is_open(&self, step: StepId) -> bool {
        self.plan.standing(step).state.is_open()
    }

    fn can_do(&mut self, note: NoteId, what: impl Into<String>, in_the_notes: bool) {
        self.doable.push(Doable { note, what: what.into(), in_the_notes });
    }

    fn doable_at_root(&mut self, note: NoteId) {
        match note {
            NoteId::Step(step) => self.doable_step(step),
            NoteId::Question(question) if self.of_question(question).is_empty() => {
                self.doable_question(question);
            }
            _ => {}
        }
    }

    fn doable_step(&mut self, step: StepId) {
        match self.plan.standing(step).state {
            State::Ready => self.can_do(step.into(), "do it", false),
            State::Doing => self.can_do(step.into(), "finish it", false),
            _ => {}
        }
    }

    fn doable_question(&mut self, id: QuestionId) {
        if self.dossier[id].state == QuestionState::Open {
            self.can_do(id.into(), "settle it and write down the answer", false);
        }
    }

    fn doable_at(&mut self, cause: &Cause, is_last: bool) {
        match (cause.obstacle, cause.note) {
            (Obstacle::Step, NoteId::Step(step)) => self.doable_step(step),
            (Obstacle::Question, NoteId::Question(question)) if is_last => self.doable_question(question),
            (Obstacle::Part, NoteId::Part(part)) if is_last => self.doable_part(part),
            (Obstacle::Size, note) if is_last => {
                self.can_do(
                    note,
                    "measure what its size on hold waits for, and write it into `shape`",
                    false,
                );
            }
            (Obstacle::Record, note) => self.can_do(note, "photograph or measure it as found", false),
            (Obstacle::Recovery, note) => self.can_do(note, "write under `if_wrong` how to recover", true),
            (Obstacle::Capability, note) => {
                self.can_do(note, "find a shop that can, and write a note of it", true);
            }
            (Obstacle::Paper, note @ NoteId::Paper(paper)) if self.has_run_out(paper) => {
                self.can_do(note, "have it renewed", false);
            }
            _ => {}
        }
    }

    fn has_run_out(&self, paper: PaperId) -> bool {
        let until = self.dossier[paper].valid_until;
        until.zip(self.plan.day_zero).is_some_and(|(until, today)| until.date < today)
    }

    fn doable_part(&mut self, id: PartId) {
        let part = &self.dossier[id];
        match (to_come(part), part.supply, part.disposition) {
            (true, Supply::Needed, _) => self.can_do(id.into(), "order it", false),
            (true, ..) => {}
            (false, _, Disposition::Make) => self.can_do(id.into(), "write a step that makes it", true),
            (false, ..) => self.can_do(id.into(), "write a step that takes it off", true),
        }
    }
}
