//! The dossier as a network: steps, parts to buy and open questions, with the reason of each edge.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::left::{days_left, hours_left};
use super::network::{Activity, ActivityKind, Edge, Network, Reason};
use super::placement::{Hands, Placement, is_away, place_of};
use super::removal::{self, LooseTrap, StillOn, Untied};
use super::window::{Window, days_between};
use super::written::Written;
use crate::dossier::{Dossier, NoteId, PaperId, PartId, QuestionId, Resolved, StepId};
use crate::estimate::Estimate;
use crate::record::{self, Disposition, Part, QuestionState, Step, StepState};

/// The network of a dossier, and which note each activity comes from.
#[derive(Clone, Debug, Default)]
pub struct Graph {
    /// Every step (also those done or dropped, which then have no edges in or out), then the parts on order or to be
    /// ordered, then the open questions.
    pub network: Network,
    /// By activity: its note.
    pub notes: Vec<NoteId>,
    /// Parts that trap another and that nothing takes off.
    pub loose_traps: Vec<LooseTrap>,
    /// Parts that are worked on elsewhere and that nothing takes off.
    pub still_on: Vec<StillOn>,
}

impl Graph {
    /// Reads the network off the notes.
    pub fn of(dossier: &Dossier, placements: &[Placement], windows: &[Window]) -> Self {
        let mut builder = Builder::new(dossier);
        let hands = Hands::of(dossier, placements);
        builder.steps(placements, &hands, windows);
        builder.orders();
        builder.questions();
        for step in dossier.steps.ids().filter(|&step| counts(dossier, step)) {
            builder.written_edges(step);
        }
        builder.renewed_before_work(windows);
        builder.made_before_work();
        let away: Vec<bool> = placements.iter().map(|placement| is_away(dossier, placement)).collect();
        let Untied { loose, still_on } = removal::tie(dossier, &away, &mut builder.edges);
        builder.edges.sort();
        builder.edges.dedup();
        Self {
            network: Network::new(builder.activities, hands.places, builder.edges),
            notes: builder.notes,
            loose_traps: loose,
            still_on,
        }
    }

    /// The activity of a step.
    pub fn step(step: StepId) -> usize {
        step.index()
    }
}

/// Whether a step takes part in the sequence: all but those that were dropped.
pub(super) fn counts(dossier: &Dossier, step: StepId) -> bool {
    dossier[step].state != StepState::Dropped
}

/// Whether a bought part still has to come.
pub(super) fn to_come(part: &Part<Resolved>) -> bool {
    part.disposition == Disposition::Buy && !part.supply.is_here()
}

struct Builder<'a> {
    dossier: &'a Dossier,
    activities: Vec<Activity>,
    notes: Vec<NoteId>,
    orders: BTreeMap<PartId, usize>,
    questions: BTreeMap<QuestionId, usize>,
    makers: BTreeMap<PartId, Vec<StepId>>,
    edges: Vec<Edge>,
}

impl<'a> Builder<'a> {
    fn new(dossier: &'a Dossier) -> Self {
        Self {
            dossier,
            activities: Vec::new(),
            notes: Vec::new(),
            orders: BTreeMap::new(),
            questions: BTreeMap::new(),
            makers: makers(dossier),
            edges: Vec::new(),
        }
    }

    fn steps(&mut self, placements: &[Placement], hands: &Hands, windows: &[Window]) {
        let day_zero = self.dossier.day_zero();
        for ((id, placement), window) in self.dossier.steps.ids().zip(placements).zip(windows) {
            let step = &self.dossier[id];
            self.activities.push(Activity {
                id: step.id().to_owned(),
                kind: ActivityKind::Step,
                begun: step.state == StepState::Doing,
                hands_on: hours_left(self.dossier, id).unwrap_or(Estimate::ZERO),
                passes: days_left(self.dossier, id, day_zero),
                // What is under way has begun.
                release: if step.state == StepState::Todo { window.release(day_zero) } else { 0.0 },
                due: window.due(day_zero),
                hands: Some(hands.by_step[id.index()]),
                place: Some(place_of(self.dossier, placement)),
            });
            self.notes.push(NoteId::Step(id));
        }
    }

    fn orders(&mut self) {
        let day_zero = self.dossier.day_zero();
        for id in self.dossier.parts.ids().filter(|&part| to_come(&self.dossier[part])) {
            self.orders.insert(id, self.activities.len());
            let part = &self.dossier[id];
            self.activities.push(by_itself(
                part.id(),
                ActivityKind::Order,
                days_to_come(part, day_zero).unwrap_or(Estimate::ZERO),
            ));
            self.notes.push(NoteId::Part(id));
        }
    }

    fn questions(&mut self) {
        for id in self.dossier.questions.ids() {
            let question = &self.dossier[id];
            if question.state == QuestionState::Settled {
                continue;
            }
            let node = self.activities.len();
            self.questions.insert(id, node);
            self.activities.push(by_itself(question.id(), ActivityKind::Question, Estimate::ZERO));
            self.notes.push(NoteId::Question(id));
            let steps = question.settled_by.iter().filter_map(|note| match note {
                NoteId::Step(step) if counts(self.dossier, *step) => Some(step.index()),
                _ => None,
            });
            self.edges.extend(steps.map(|before| Edge { before, after: node, reason: Reason::Settles }));
        }
    }

    /// The edges that a step's own keys ask for.
    fn written_edges(&mut self, id: StepId) {
        let step = &self.dossier[id];
        let after = id.index();
        let needs = step.needs.iter().filter(|&&need| counts(self.dossier, need));
        self.edges.extend(needs.map(|need| Edge { before: need.index(), after, reason: Reason::Needs }));
        let questions = step.hangs_on.iter().filter_map(|question| self.questions.get(question));
        self.edges.extend(questions.map(|&before| Edge { before, after, reason: Reason::HangsOn }));
        for part in wanted(step) {
            self.wanted(id, part);
        }
        for part in step.makes.iter().filter(|part| !self.dossier[**part].supply.is_here()) {
            self.sized(id, *part);
        }
    }

    /// What gives the sizes on hold of a part comes before the step that makes it.
    fn sized(&mut self, step: StepId, id: PartId) {
        let part = &self.dossier[id];
        for note in part.holds().iter().flat_map(|hold| &hold.settled_by) {
            let before = match note {
                NoteId::Step(other) if *other != step && counts(self.dossier, *other) => Some(other.index()),
                NoteId::Question(question) => self.questions.get(question).copied(),
                _ => None,
            };
            let reason = || Reason::Sizes { part: part.id().to_owned() };
            self.edges.extend(before.map(|before| Edge { before, after: step.index(), reason: reason() }));
        }
    }

    /// What is done under a paper that has run out comes after the steps that renew it.
    fn renewed_before_work(&mut self, windows: &[Window]) {
        for (step, window) in self.dossier.steps.ids().zip(windows) {
            for &paper in &window.expired {
                let reason = || Reason::Renewed { paper: self.dossier[paper].id().to_owned() };
                let renewals = open_renewals(self.dossier, paper).filter(|renewal| *renewal != step);
                self.edges.extend(renewals.map(|renewal| Edge {
                    before: renewal.index(),
                    after: step.index(),
                    reason: reason(),
                }));
            }
        }
    }

    /// What a step works on is made before, unless what is written puts the step before its making.
    fn made_before_work(&mut self) {
        let mut written = Written::new(self.dossier.steps.len(), &self.edges);
        let mut edges = Vec::new();
        for step in self.dossier.steps.ids().filter(|&step| counts(self.dossier, step)) {
            for part in self.made_to_work_on(step) {
                let makers = self.makers.get(&part).into_iter().flatten();
                let earlier = makers.filter(|&&maker| maker != step && !written.before(step, maker));
                let reason = || Reason::MadeToWorkOn { part: self.dossier[part].id().to_owned() };
                edges.extend(earlier.map(|maker| Edge {
                    before: maker.index(),
                    after: step.index(),
                    reason: reason(),
                }));
            }
        }
        self.edges.extend(edges);
    }

    /// The parts not there yet that a step works on, and neither makes nor wants for another reason.
    fn made_to_work_on(&self, step: StepId) -> impl Iterator<Item = PartId> {
        let keys = &self.dossier[step];
        let is_other =
            move |part: &PartId| keys.makes.contains(part) || wanted(keys).any(|other| other == *part);
        let parts = keys.parts.iter().copied().filter(move |part| !is_other(part));
        parts.filter(|part| !self.dossier[*part].supply.is_here())
    }

    /// The edges of a part that must be there: from its order and from the steps that make it.
    fn wanted(&mut self, step: StepId, id: PartId) {
        let part = || self.dossier[id].id().to_owned();
        let after = step.index();
        if let Some(&before) = self.orders.get(&id) {
            self.edges.push(Edge { before, after, reason: Reason::Bought { part: part() } });
        }
        if self.dossier[id].supply.is_here() {
            return;
        }
        for maker in self.makers.get(&id).into_iter().flatten().filter(|&&maker| maker != step) {
            self.edges.push(Edge { before: maker.index(), after, reason: Reason::Made { part: part() } });
        }
    }
}

/// The open steps that renew a paper.
pub(super) fn open_renewals(dossier: &Dossier, paper: PaperId) -> impl Iterator<Item = StepId> {
    let is_open = |step: &Step<Resolved>| matches!(step.state, StepState::Todo | StepState::Doing);
    dossier.steps.ids().filter(move |&step| is_open(&dossier[step]) && dossier[step].renews.contains(&paper))
}

/// The parts that must be there for a step: those it uses and those it puts back.
pub(super) fn wanted(step: &Step<Resolved>) -> impl Iterator<Item = PartId> {
    step.uses.iter().chain(&step.refits).copied()
}

/// The steps that make each part.
pub(super) fn makers(dossier: &Dossier) -> BTreeMap<PartId, Vec<StepId>> {
    let mut makers: BTreeMap<PartId, Vec<StepId>> = BTreeMap::new();
    for step in dossier.steps.ids().filter(|&step| counts(dossier, step)) {
        for &part in &dossier[step].makes {
            makers.entry(part).or_default().push(step);
        }
    }
    makers
}

fn by_itself(id: &str, kind: ActivityKind, passes: Estimate) -> Activity {
    Activity {
        id: id.to_owned(),
        kind,
        begun: false,
        hands_on: Estimate::ZERO,
        passes,
        release: 0.0,
        due: None,
        hands: None,
        place: None,
    }
}

/// Days until a bought part is there, if its delivery time is known: less what has passed since it was ordered.
pub(super) fn days_to_come(part: &Part<Resolved>, day_zero: Option<Date>) -> Option<Estimate> {
    let passed =
        part.ordered_on.zip(day_zero).map_or(0.0, |(ordered, today)| days_between(ordered.date, today));
    Some(in_units(part.lead.as_ref()?, DAY).map(|days| (days - passed).max(0.0)))
}

pub(super) const HOUR: f64 = 3_600.0;
pub(super) const DAY: f64 = 86_400.0;

/// A time of the notes in hours or days. A time past thirty thousand years counts as that.
pub(super) fn in_units(time: &record::Estimate, unit: f64) -> Estimate {
    const LONGEST: f64 = 1e12;
    let units = |seconds: f64| (seconds / unit).clamp(0.0, LONGEST / unit);
    Estimate::new(units(time.low), units(time.likely), units(time.high))
}
