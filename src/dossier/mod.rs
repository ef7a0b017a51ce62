//! The whole set of notes with every id resolved: who belongs where, who refers to whom.
//!
//! Takes: the records. Gives: a [`Dossier`] in which a link is the note itself, and the problems that only show when
//! notes are laid side by side. Never: computes, plans or prints.

mod files;
mod ids;
mod pairs;
pub mod problems;
mod readings;
mod references;
mod resolve;
mod rules;
mod table;
mod tree;
mod words;

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Index;

use jiff::civil::Date;

use crate::calc::literal::Literal;
use crate::calc::units::Units;
use crate::diagnostic::Problem;
use crate::note::body::Block;
use crate::record::{
    About, Entry, Finding, Head, Links, Measurement, MeasurementState, Paper, Part, Question, Read, Shop,
    Step,
};
use crate::source::Sources;
use crate::text::FileId;

pub use files::{decoded, is_address};
pub use ids::{
    EntryId, FindingId, InstrumentId, MeasurementId, NoteId, PaperId, PartId, QuestionId, ShopId, StepId,
};
pub use references::{KeyReference, Named};
pub use rules::{Lack, lacks};
pub use table::Table;

/// Links that have found their note.
#[derive(Clone, Debug)]
pub struct Resolved;

impl Links for Resolved {
    type Part = PartId;
    type Finding = FindingId;
    type Step = StepId;
    type Question = QuestionId;
    type Shop = ShopId;
    type Paper = PaperId;
    type Instrument = InstrumentId;
    type Any = NoteId;
}

/// A note: what every note has, and the keys of its kind. The keys are reached without naming them.
#[derive(Clone, Debug)]
pub struct Noted<K> {
    pub head: Head,
    pub keys: K,
}

impl<K> std::ops::Deref for Noted<K> {
    type Target = K;
    fn deref(&self) -> &K {
        &self.keys
    }
}

impl<K> Noted<K> {
    pub fn id(&self) -> &str {
        &self.head.id
    }
}

/// Every note of a project, each kind in path order.
#[derive(Debug)]
pub struct Dossier {
    pub about: About,
    pub units: Units,
    /// The keeper's own shop.
    pub home: Option<ShopId>,
    /// Where the machine stands: the keeper's own shop unless dossier.yaml says another.
    pub site: Option<ShopId>,
    pub parts: Table<PartId, Noted<Part<Resolved>>>,
    pub findings: Table<FindingId, Noted<Finding<Resolved>>>,
    pub measurements: Table<MeasurementId, Noted<Measurement<Resolved>>>,
    pub questions: Table<QuestionId, Noted<Question<Resolved>>>,
    pub steps: Table<StepId, Noted<Step<Resolved>>>,
    pub shops: Table<ShopId, Noted<Shop>>,
    pub papers: Table<PaperId, Noted<Paper<Resolved>>>,
    pub entries: Table<EntryId, Noted<Entry<Resolved>>>,
    by_id: BTreeMap<String, NoteId>,
    by_file: BTreeMap<FileId, NoteId>,
    named_in: BTreeMap<NoteId, BTreeSet<NoteId>>,
    children: BTreeMap<PartId, Vec<PartId>>,
    pairs: BTreeMap<MeasurementId, MeasurementId>,
    /// As found, where the same feature was measured as left.
    superseded: BTreeSet<MeasurementId>,
    /// The steps that are done and mend a finding, by their days.
    mended: BTreeMap<FindingId, Vec<StepId>>,
    /// Parts that have a record as found.
    recorded: BTreeSet<PartId>,
}

impl Dossier {
    /// Lays the records side by side.
    pub fn assemble(
        about: &About,
        units: Units,
        records: Vec<Read>,
        sources: &Sources,
        problems: &mut Vec<Problem>,
    ) -> Self {
        let dossier = resolve::resolve(about, units, records, sources, problems);
        files::check(&dossier, sources, problems);
        rules::check(&dossier, problems);
        dossier
    }

    /// The latest of `start` and the last date in the notes: never today's clock.
    pub fn day_zero(&self) -> Option<Date> {
        let seen = self.findings.iter().filter_map(|each| each.seen);
        let measured = self.measurements.iter().filter_map(|each| each.date);
        let done = self.steps.iter().flat_map(|each| [each.begun_on, each.done_on]).flatten();
        let ordered = self.parts.iter().filter_map(|each| each.ordered_on);
        let logged = self.entries.iter().map(|each| each.date);
        let dates = seen.chain(measured).chain(done).chain(ordered).chain(logged).map(|dated| dated.date);
        dates.chain(self.about.start).max()
    }

    pub fn find(&self, id: &str) -> Option<NoteId> {
        self.by_id.get(id).copied()
    }

    /// Every id, in order of the alphabet.
    pub fn ids(&self) -> impl Iterator<Item = (&str, NoteId)> {
        self.by_id.iter().map(|(id, note)| (id.as_str(), *note))
    }

    /// The notes that name this one in a key or link to it, in order of kind and path; [`crate::Project::named_in`] adds
    /// those whose calculations refer to it.
    pub fn named_in(&self, note: NoteId) -> impl Iterator<Item = NoteId> {
        self.named_in.get(&note).into_iter().flatten().copied()
    }

    /// The parts directly within this one, in path order.
    pub fn children(&self, part: PartId) -> &[PartId] {
        self.children.get(&part).map_or(&[], Vec::as_slice)
    }

    /// The parts that are within no other, in path order.
    pub fn tops(&self) -> impl DoubleEndedIterator<Item = PartId> {
        self.parts.ids().filter(|part| self[*part].within.is_none())
    }

    /// Every part with its depth, each followed by all that is within it.
    pub fn tree(&self) -> Vec<(PartId, usize)> {
        let mut open: Vec<(PartId, usize)> = self.tops().rev().map(|part| (part, 0)).collect();
        let mut order = Vec::with_capacity(self.parts.len());
        while let Some((part, depth)) = open.pop() {
            order.push((part, depth));
            open.extend(self.children(part).iter().rev().map(|child| (*child, depth + 1)));
        }
        order
    }

    /// The measurement of the same feature of the same part in the other state, as found or as left; `None` unless there
    /// is just one of each.
    pub fn other_state(&self, measurement: MeasurementId) -> Option<MeasurementId> {
        self.pairs.get(&measurement).copied()
    }

    /// All hours in the log, in seconds.
    pub fn seconds_logged(&self) -> f64 {
        self.entries.iter().flat_map(|entry| &entry.hours).map(|(_, time)| time.nominal).sum()
    }

    /// Whether it says how its feature is now: as found no longer does once the feature was measured as left.
    pub fn is_latest(&self, measurement: MeasurementId) -> bool {
        !self.superseded.contains(&measurement)
    }

    /// The steps that are done and mend the finding, by their days.
    pub fn mended_by(&self, finding: FindingId) -> &[StepId] {
        self.mended.get(&finding).map_or(&[], Vec::as_slice)
    }

    /// The limits that a measurement is held against; where a note as left has none, those it was found against.
    pub fn limits(&self, measurement: MeasurementId) -> Option<&Literal> {
        let keys = &self[measurement];
        let found = self.other_state(measurement).filter(|_| keys.state == MeasurementState::AsLeft);
        keys.limits.as_ref().or_else(|| self[found?].limits.as_ref())
    }

    /// What every note has.
    pub fn head(&self, note: NoteId) -> &Head {
        match note {
            NoteId::Part(id) => &self[id].head,
            NoteId::Finding(id) => &self[id].head,
            NoteId::Measurement(id) => &self[id].head,
            NoteId::Question(id) => &self[id].head,
            NoteId::Step(id) => &self[id].head,
            NoteId::Shop(id) => &self[id].head,
            NoteId::Paper(id) => &self[id].head,
            NoteId::Entry(id) => &self[id].head,
        }
    }

    /// What a reader calls the note: a part's name, a step's work, a question's sentence.
    pub fn title(&self, note: NoteId) -> String {
        match note {
            NoteId::Part(id) => self[id].name.clone(),
            NoteId::Finding(id) => self[id].condition.join(", "),
            NoteId::Measurement(id) => self[id].feature.clone(),
            NoteId::Question(id) => self[id].asks.clone(),
            NoteId::Step(id) => self[id].does.clone(),
            NoteId::Shop(id) => self[id].name.clone(),
            NoteId::Paper(id) => self[id].title.clone(),
            NoteId::Entry(id) => self[id].date.date.to_string(),
        }
    }

    /// The note that a link in the body of `from` leads to: by id, or by the path of its file.
    pub fn link(&self, from: FileId, target: &str, by_id: bool, sources: &Sources) -> Option<NoteId> {
        if by_id {
            return self.find(target.trim());
        }
        let path = target.split(['#', '?']).next().unwrap_or_default();
        let path = sources.relative(from, &files::decoded(path))?;
        self.by_file.get(&sources.find(&path)?).copied()
    }

    /// Every note with its body, in order of kind and path.
    pub fn bodies(&self) -> impl Iterator<Item = (NoteId, &[Block])> {
        self.notes().map(|note| (note, self.head(note).body.as_slice()))
    }

    /// Every note, in order of kind and path.
    pub fn notes(&self) -> impl Iterator<Item = NoteId> {
        let all: [Vec<NoteId>; 8] = [
            self.parts.ids().map(NoteId::Part).collect(),
            self.findings.ids().map(NoteId::Finding).collect(),
            self.measurements.ids().map(NoteId::Measurement).collect(),
            self.questions.ids().map(NoteId::Question).collect(),
            self.steps.ids().map(NoteId::Step).collect(),
            self.shops.ids().map(NoteId::Shop).collect(),
            self.papers.ids().map(NoteId::Paper).collect(),
            self.entries.ids().map(NoteId::Entry).collect(),
        ];
        all.into_iter().flatten()
    }
}

macro_rules! reached_by {
    ($($id:ident $list:ident $keys:ty;)*) => {$(
        impl Index<$id> for Dossier {
            type Output = Noted<$keys>;
            fn index(&self, id: $id) -> &Noted<$keys> {
                &self.$list[id.index()]
            }
        }
    )*};
}

reached_by! {
    PartId parts Part<Resolved>;
    FindingId findings Finding<Resolved>;
    MeasurementId measurements Measurement<Resolved>;
    QuestionId questions Question<Resolved>;
    StepId steps Step<Resolved>;
    ShopId shops Shop;
    PaperId papers Paper<Resolved>;
    EntryId entries Entry<Resolved>;
}

impl Index<InstrumentId> for Dossier {
    type Output = crate::record::Instrument;
    fn index(&self, id: InstrumentId) -> &crate::record::Instrument {
        &self.about.instruments[id.index()]
    }
}
