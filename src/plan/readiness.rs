//! What each step stands at, and what directly keeps it from being done.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;

use super::capability::Verdict;
use super::graph::{Graph, makers, open_renewals, wanted};
use super::network::{ActivityKind, Edge, Reason};
use super::placement::Placement;
use super::removal::LooseTrap;
use super::window::Window;
use crate::dossier::{Dossier, Lack, NoteId, PaperId, PartId, Resolved, StepId, lacks};
use crate::record::{Disposition, Kind as NoteKind, Part, QuestionState, StepState, Supply, Word, word_of};

/// How far a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// It can be done now.
    Ready,
    /// Something comes before it.
    Waiting,
    /// It can't be undone, and a question is open, or a record or the way to recover is missing.
    Held,
    /// No known shop has what it calls for.
    Unplaced,
    /// Under way.
    Doing,
    /// Done.
    Done,
    /// Given up.
    Dropped,
}

impl Word for State {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("ready", Self::Ready),
        ("waiting", Self::Waiting),
        ("held", Self::Held),
        ("unplaced", Self::Unplaced),
        ("doing", Self::Doing),
        ("done", Self::Done),
        ("dropped", Self::Dropped),
    ];
}

impl State {
    /// The word for it in tables and JSON.
    pub fn word(self) -> &'static str {
        word_of(self)
    }

    /// Whether it is neither done nor dropped.
    pub fn is_open(self) -> bool {
        !matches!(self, Self::Done | Self::Dropped)
    }
}

/// What sort of thing stands in the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Obstacle {
    /// A step that comes first.
    Step,
    /// A question that is open.
    Question,
    /// A part that is not there yet, or that traps another and nothing takes off.
    Part,
    /// A size of a part that is to be made is on hold.
    Size,
    /// A part without a record as found, before something that can't be undone.
    Record,
    /// A way to recover is not written down, before something that can't be undone.
    Recovery,
    /// No known shop has what is called for.
    Capability,
    /// Its first day is still to come, or its last is past.
    Day,
    /// A paper that it is done under is not valid yet, or no longer.
    Paper,
}

impl Obstacle {
    /// The word for it in tables and JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Step => NoteKind::Step.word(),
            Self::Question => NoteKind::Question.word(),
            Self::Part => NoteKind::Part.word(),
            Self::Size => "size",
            Self::Record => "record",
            Self::Recovery => "recovery",
            Self::Capability => "capability",
            Self::Day => "day",
            Self::Paper => NoteKind::Paper.word(),
        }
    }
}

/// One thing that directly keeps a step, part or question from being settled.
#[derive(Clone, Debug, PartialEq)]
pub struct Cause {
    /// What sort of thing it is.
    pub obstacle: Obstacle,
    /// The note to look at.
    pub note: NoteId,
    /// What it has to do with what it keeps back.
    pub because: Because,
    /// The note that says so.
    pub says: NoteId,
}

/// What a cause has to do with what it keeps back.
#[derive(Clone, Debug, PartialEq)]
pub enum Because {
    /// What the sequence has between the two.
    Tie(Reason),
    /// A part that is on order, or still to be ordered.
    ToCome {
        ordered: bool,
    },
    /// A part that traps this one, and no step takes it off.
    InTheWay {
        of: PartId,
    },
    /// A part to be made, and no step makes it.
    NoMaker,
    /// A part to be made, and a size of its shape waits for this.
    OnHold {
        why: String,
        /// The open steps and questions that give it.
        waits_for: Vec<NoteId>,
    },
    /// No record as found before something that can't be undone.
    NoRecord,
    /// No way to recover is written down before something that can't be undone.
    NoRecovery,
    /// What every shop lacks.
    NobodyCan(Verdict),
    NotBefore(Date),
    /// That day is past.
    NotAfter(Date),
    ValidFrom(Date),
    /// That day is past.
    ValidUntil(Date),
    /// A step that does this with what was asked about.
    Does(Does),
}

/// What a step does with a part or a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Does {
    Settles,
    TakesOff,
    PutsIn,
    PutsBack,
    Uses,
    Makes,
}

/// A step's state and its causes; a step that is ready, done or dropped has none.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// How far it is.
    pub state: State,
    /// What directly keeps it back.
    pub causes: Vec<Cause>,
}

/// The standing of every step, in the dossier's order.
pub fn standings(
    dossier: &Dossier,
    graph: &Graph,
    placements: &[Placement],
    windows: &[Window],
) -> Vec<Standing> {
    let judge = Judge::new(dossier, graph, placements, windows);
    dossier.steps.ids().map(|step| judge.standing(step)).collect()
}

struct Judge<'a> {
    dossier: &'a Dossier,
    graph: &'a Graph,
    placements: &'a [Placement],
    windows: &'a [Window],
    day_zero: Option<Date>,
    /// By step: the edges that lead into it.
    incoming: Vec<Vec<usize>>,
    makers: BTreeMap<PartId, Vec<StepId>>,
}

impl<'a> Judge<'a> {
    fn new(
        dossier: &'a Dossier,
        graph: &'a Graph,
        placements: &'a [Placement],
        windows: &'a [Window],
    ) -> Self {
        let mut incoming = vec![Vec::new(); dossier.steps.len()];
        for (index, edge) in graph.network.edges().iter().enumerate() {
            if let Some(edges) = incoming.get_mut(edge.after) {
                edges.push(index);
            }
        }
        let (makers, day_zero) = (makers(dossier), dossier.day_zero());
        Self { dossier, graph, placements, windows, day_zero, incoming, makers }
    }

    fn standing(&self, id: StepId) -> Standing {
        let step = &self.dossier[id];
        let causes = match step.state {
            StepState::Done | StepState::Dropped => Vec::new(),
            StepState::Todo | StepState::Doing => self.causes(id),
        };
        let at_no_return = |cause: &Cause| {
            matches!(cause.obstacle, Obstacle::Record | Obstacle::Recovery | Obstacle::Question)
        };
        let state = match step.state {
            StepState::Done => State::Done,
            StepState::Dropped => State::Dropped,
            StepState::Doing => State::Doing,
            StepState::Todo if self.placements[id.index()].nobody_can() => State::Unplaced,
            StepState::Todo if step.irreversible && causes.iter().any(at_no_return) => State::Held,
            StepState::Todo if causes.is_empty() => State::Ready,
            StepState::Todo => State::Waiting,
        };
        Standing { state, causes }
    }

    /// Everything that keeps an open step back: at the point of no return first, then sizes that are not known, then what
    /// comes before, then who can.
    fn causes(&self, id: StepId) -> Vec<Cause> {
        let edges = self.incoming_edges(id).filter_map(|edge| self.edge(edge));
        let first = self.no_return(id).chain(self.sizes_on_hold(id)).chain(self.traps(id));
        let mut causes: Vec<Cause> = first.chain(edges).collect();
        causes.extend(self.missing_parts(id));
        causes.extend(self.nobody_can(id));
        causes.extend(self.days(id));
        causes
    }

    /// The days and the papers that a step has to keep to.
    fn days(&self, id: StepId) -> impl Iterator<Item = Cause> {
        let window = &self.windows[id.index()];
        let begun = self.dossier[id].state == StepState::Doing;
        let cause = move |says: NoteId, because: Because| {
            let obstacle = if says == NoteId::Step(id) { Obstacle::Day } else { Obstacle::Paper };
            Cause { obstacle, note: says, because, says }
        };
        let opens = window.opens(self.day_zero).filter(|_| !begun).map(move |first| match first.says {
            NoteId::Step(_) => cause(first.says, Because::NotBefore(first.day.date)),
            paper => cause(paper, Because::ValidFrom(first.day.date)),
        });
        let closed =
            window.closed(self.day_zero).map(move |last| cause(last.says, Because::NotAfter(last.day.date)));
        // What a step renews is reported with that step.
        let renewed = move |paper: &PaperId| open_renewals(self.dossier, *paper).any(|step| step != id);
        let expired = window.expired.iter().filter(move |paper| !renewed(paper)).filter_map(move |&paper| {
            let until = self.dossier[paper].valid_until?;
            Some(cause(paper.into(), Because::ValidUntil(until.date)))
        });
        opens.into_iter().chain(closed).chain(expired)
    }

    /// The edges into a step, without a plain need where the same two are tied by something that tells more.
    fn incoming_edges(&self, id: StepId) -> impl Iterator<Item = usize> {
        let (edges, own) = (self.graph.network.edges(), &self.incoming[id.index()]);
        let tells_more =
            move |at: usize| own.get(at + 1).is_some_and(|&next| edges[next].before == edges[own[at]].before);
        let is_kept = move |at: &usize| edges[own[*at]].reason != Reason::Needs || !tells_more(*at);
        (0..own.len()).filter(is_kept).map(move |at| own[at])
    }

    fn no_return(&self, id: StepId) -> impl Iterator<Item = Cause> {
        let step = &self.dossier[id];
        lacks(self.dossier, step).into_iter().map(move |lack| match lack {
            Lack::Record(part) => Cause {
                obstacle: Obstacle::Record,
                note: part.into(),
                because: Because::NoRecord,
                says: id.into(),
            },
            Lack::Recovery => Cause {
                obstacle: Obstacle::Recovery,
                note: id.into(),
                because: Because::NoRecovery,
                says: id.into(),
            },
        })
    }

    /// Parts in the way that nothing takes off.
    fn traps(&self, id: StepId) -> impl Iterator<Item = Cause> {
        let loose = &self.graph.loose_traps;
        let own = loose.partition_point(|trap| trap.step < id)..loose.partition_point(|trap| trap.step <= id);
        let direct = move |trap: &&LooseTrap| self.dossier[id].removes.contains(&trap.trapped);
        loose[own].iter().filter(direct).map(|trap| trap_cause(trap.trapped, trap.trap))
    }

    /// What an edge into an open step says, unless what is before it is settled.
    fn edge(&self, index: usize) -> Option<Cause> {
        let edge = &self.graph.network.edges()[index];
        let note = self.graph.notes[edge.before];
        let stands_under_a_size = matches!(edge.reason, Reason::Sizes { .. });
        if stands_under_a_size || self.is_settled(note) || self.stands_under_a_trap(edge) {
            return None;
        }
        Some(Cause {
            obstacle: obstacle(self.graph, edge.before),
            note,
            because: match (&edge.reason, note) {
                (Reason::Bought { .. }, NoteId::Part(part)) => to_come_of(&self.dossier[part]),
                (reason, _) => Because::Tie(reason.clone()),
            },
            says: says(self.dossier, self.graph, edge),
        })
    }

    /// Whether the edge frees a part that is itself in the way: the tree shows it below that part.
    fn stands_under_a_trap(&self, edge: &Edge) -> bool {
        let Reason::Trapped { part, .. } = &edge.reason else { return false };
        let NoteId::Step(step) = self.graph.notes[edge.after] else { return false };
        !self.dossier[step].removes.iter().any(|&removed| self.name(removed) == part)
    }

    fn is_settled(&self, note: NoteId) -> bool {
        match note {
            NoteId::Step(step) => !matches!(self.dossier[step].state, StepState::Todo | StepState::Doing),
            NoteId::Question(question) => self.dossier[question].state == QuestionState::Settled,
            _ => false,
        }
    }

    /// Parts that are to be made, with no step that makes them.
    fn missing_parts(&self, id: StepId) -> impl Iterator<Item = Cause> {
        let unmade = move |part: &PartId| {
            let record = &self.dossier[*part];
            record.disposition == Disposition::Make
                && !record.supply.is_here()
                && !self.makers.contains_key(part)
        };
        wanted(&self.dossier[id]).filter(unmade).map(move |part| Cause {
            obstacle: Obstacle::Part,
            note: part.into(),
            because: Because::NoMaker,
            says: id.into(),
        })
    }

    /// Sizes that are not known yet, of parts that the step makes; each reason once.
    fn sizes_on_hold(&self, id: StepId) -> impl Iterator<Item = Cause> {
        let mut seen = BTreeSet::new();
        let made = self.dossier[id].makes.iter().filter(|part| !self.dossier[**part].supply.is_here());
        let holds = made.flat_map(|part| self.dossier[*part].holds().iter().map(move |hold| (*part, hold)));
        let holds = holds.filter(move |(part, hold)| seen.insert((*part, &hold.why)));
        holds.map(move |(part, hold)| Cause {
            obstacle: Obstacle::Size,
            note: part.into(),
            because: Because::OnHold { why: hold.why.clone(), waits_for: self.still_open(&hold.settled_by) },
            says: part.into(),
        })
    }

    fn still_open(&self, notes: &[NoteId]) -> Vec<NoteId> {
        let is_one = |note: &&NoteId| matches!(note, NoteId::Step(_) | NoteId::Question(_));
        notes.iter().filter(is_one).filter(|note| !self.is_settled(**note)).copied().collect()
    }

    fn nobody_can(&self, id: StepId) -> Option<Cause> {
        let placement = &self.placements[id.index()];
        placement.nobody_can().then(|| Cause {
            obstacle: Obstacle::Capability,
            note: id.into(),
            because: Because::NobodyCan(placement.verdict.clone()),
            says: id.into(),
        })
    }

    fn name(&self, part: PartId) -> &str {
        self.dossier[part].id()
    }
}

/// That a part stays where it is and traps another.
pub(super) fn trap_cause(trapped: PartId, trap: PartId) -> Cause {
    let because = Because::InTheWay { of: trapped };
    Cause { obstacle: Obstacle::Part, note: trap.into(), because, says: trapped.into() }
}

/// What a bought part that is to come waits for.
pub(super) fn to_come_of(part: &Part<Resolved>) -> Because {
    Because::ToCome { ordered: part.supply == Supply::Ordered }
}

pub(super) fn obstacle(graph: &Graph, node: usize) -> Obstacle {
    match graph.network.activities()[node].kind {
        ActivityKind::Step => Obstacle::Step,
        ActivityKind::Order => Obstacle::Part,
        ActivityKind::Question => Obstacle::Question,
    }
}

/// The note that says why an edge is there.
pub(super) fn says(dossier: &Dossier, graph: &Graph, edge: &Edge) -> NoteId {
    let part = |id: &str| dossier.find(id).unwrap_or(graph.notes[edge.after]);
    match &edge.reason {
        Reason::Needs
        | Reason::HangsOn
        | Reason::Settles
        | Reason::Refit { .. }
        | Reason::OffToWork { .. } => graph.notes[edge.after],
        Reason::Renewed { .. }
        | Reason::Made { .. }
        | Reason::MadeToWorkOn { .. }
        | Reason::Worked { .. } => graph.notes[edge.before],
        Reason::Bought { part: id }
        | Reason::Trapped { part: id, .. }
        | Reason::PutBack { part: id, .. }
        | Reason::Sizes { part: id }
        | Reason::Replaces { part: id, .. } => part(id),
    }
}
