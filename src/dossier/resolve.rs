//! Finds the note behind every id, and remembers who named whom.

use std::collections::{BTreeMap, BTreeSet};

use super::ids::{EntryId, FindingId, InstrumentId, MeasurementId, PaperId, QuestionId};
use super::links::{Link, Wanted, links};
use super::{Dossier, NoteId, Noted, PartId, Resolved, ShopId, StepId, Table, files, pairs, rules, tree};
use crate::calc::units::Units;
use crate::diagnostic::Problem;
use crate::dossier::problems as problem;
use crate::record::{
    About, AsTyped, Entry, Finding, Fit, Kind, Measurement, Paper, Part, Question, Read, Record, Step,
    StepState, Theory, Typed,
};
use crate::source::Sources;
use crate::text::Span;

type Targets = BTreeMap<String, Target>;

/// What an id stands for.
#[derive(Clone, Copy)]
enum Target {
    Note(NoteId),
    /// A note that could not be read whole, with its kind as far as it is known: a problem tells of it already.
    Broken(Option<&'static str>),
}

impl Target {
    fn kind(self) -> Option<&'static str> {
        match self {
            Self::Note(note) => Some(note.kind()),
            Self::Broken(kind) => kind,
        }
    }
}

pub(super) fn resolve(
    about: &About,
    units: Units,
    records: Vec<Read>,
    sources: &Sources,
    problems: &mut Vec<Problem>,
) -> Dossier {
    let (records, targets, unread) = register(records, problems);
    let files = records.iter().map(|(note, record)| (record.head.file, *note)).collect();
    let instruments: Vec<&str> = about.instruments.iter().map(|instrument| instrument.key.as_str()).collect();
    let seen = BTreeSet::new();
    let mut resolver =
        Resolver { instruments, targets: &targets, from: None, named_in: BTreeMap::new(), seen, problems };
    resolver.rest(&unread);
    let home = about.home.as_ref().and_then(|typed| resolver.shop(typed));
    let site = about.site.as_ref().and_then(|typed| resolver.shop(typed)).or(home);
    let mut dossier = Dossier {
        units,
        home,
        site,
        parts: Table::default(),
        findings: Table::default(),
        measurements: Table::default(),
        questions: Table::default(),
        steps: Table::default(),
        shops: Table::default(),
        papers: Table::default(),
        entries: Table::default(),
        by_id: notes_only(&targets),
        by_file: files,
        named_in: BTreeMap::new(),
        children: BTreeMap::new(),
        pairs: BTreeMap::new(),
        superseded: BTreeSet::new(),
        mended: BTreeMap::new(),
        recorded: BTreeSet::new(),
        about: about.clone(),
    };
    for (note, record) in records {
        resolver.from = Some(note);
        let links = links(&record.head, record.kind.word());
        resolver.record(record, &mut dossier);
        resolver.rest(&links);
    }
    dossier.named_in = resolver.named_in;
    let links = files::body_links(&dossier, sources, problems);
    for (from, to) in links {
        dossier.named_in.entry(to).or_default().insert(from);
    }
    dossier.pairs = pairs::pairs(&dossier.measurements);
    dossier.superseded = pairs::superseded(&dossier.measurements);
    dossier.mended = mended(&dossier.steps);
    dossier.recorded = rules::recorded(&dossier);
    tree::take_over_places(&mut dossier.parts);
    dossier.children = tree::children(&mut dossier.parts, problems);
    dossier
}

/// The steps that are done and mend something, by what they mend, in the order of their days.
fn mended(steps: &Table<StepId, Noted<Step<Resolved>>>) -> BTreeMap<FindingId, Vec<StepId>> {
    let mut done: Vec<StepId> =
        steps.ids().filter(|step| steps[step.index()].state == StepState::Done).collect();
    done.sort_by_key(|step| steps[step.index()].done_on.map(|day| day.date));
    let mut mended: BTreeMap<FindingId, Vec<StepId>> = BTreeMap::new();
    for step in done {
        for finding in &steps[step.index()].mends {
            mended.entry(*finding).or_default().push(step);
        }
    }
    mended
}

fn notes_only(targets: &Targets) -> BTreeMap<String, NoteId> {
    let note = |(id, target): (&String, &Target)| match target {
        Target::Note(note) => Some((id.clone(), *note)),
        Target::Broken(_) => None,
    };
    targets.iter().filter_map(note).collect()
}

/// Gives every record its number; a measurement of nothing known is set aside, since it can't stand without its part. The
/// last are the links of the notes that are set aside or can't be read whole.
fn register(reads: Vec<Read>, problems: &mut Vec<Problem>) -> (Vec<(NoteId, Record)>, Targets, Vec<Link>) {
    let is_measurement = |read: &Read| matches!(read, Read::Whole(Record { kind: Kind::Measurement(_), .. }));
    let (measurements, others): (Vec<Read>, Vec<Read>) =
        first_of_each_id(reads, problems).into_iter().partition(is_measurement);
    let mut targets = Targets::new();
    let mut counts = [0_usize; 8];
    let mut records = Vec::new();
    let mut unread = Vec::new();
    for read in others.into_iter().chain(measurements) {
        match read {
            Read::Whole(record) if part_is_known(&record, &targets, problems) => {
                let note = number(&record.kind, &mut counts);
                targets.insert(record.head.id.clone(), Target::Note(note));
                records.push((note, record));
            }
            Read::Whole(Record { head, kind }) => {
                let part = head.at("of");
                unread.extend(links(&head, kind.word()).into_iter().filter(|(typed, _)| typed.span != part));
                targets.insert(head.id, Target::Broken(Some(kind.word())));
            }
            Read::Broken { head, kind } => {
                targets.insert(head.id.clone(), Target::Broken(kind));
                unread.extend(kind.into_iter().flat_map(|kind| links(&head, kind)));
            }
        }
    }
    (records, targets, unread)
}

fn part_is_known(record: &Record, targets: &Targets, problems: &mut Vec<Problem>) -> bool {
    let Kind::Measurement(measurement) = &record.kind else { return true };
    match find(targets, &measurement.of, Some("part"), problems) {
        Some(NoteId::Part(_)) => true,
        Some(other) => {
            problems.push(problem::id_kind(&measurement.of, "part", other.kind()));
            false
        }
        None => false,
    }
}

/// Of two notes with one id the first in path order is kept.
fn first_of_each_id(reads: Vec<Read>, problems: &mut Vec<Problem>) -> Vec<Read> {
    let mut places: BTreeMap<String, usize> = BTreeMap::new();
    let mut kept: Vec<Read> = Vec::new();
    for read in reads {
        let head = read.head();
        match places.get(&head.id) {
            Some(&first) => problems.push(problem::id_twice(head, kept[first].head())),
            None => {
                places.insert(head.id.clone(), kept.len());
                kept.push(read);
            }
        }
    }
    kept
}

/// Once there are so many problems, no more names that may have been meant are looked for: nobody reads on, and it would
/// take the number of slips times the number of notes.
pub(super) const MOST_HINTS: usize = 50;

/// The note of this id; the nearest name is looked for among those of the kind `wanted`.
fn find(
    targets: &Targets,
    typed: &Typed,
    wanted: Option<&'static str>,
    problems: &mut Vec<Problem>,
) -> Option<NoteId> {
    match targets.get(&typed.text) {
        Some(Target::Note(note)) => Some(*note),
        Some(Target::Broken(kind)) => {
            if let Some((wanted, kind)) = wanted.zip(*kind).filter(|(wanted, kind)| wanted != kind) {
                problems.push(problem::id_kind(typed, wanted, kind));
            }
            None
        }
        None => {
            let known =
                targets.iter().filter(|(_, target)| wanted.is_none_or(|kind| target.kind() == Some(kind)));
            let known = known.take(if problems.len() < MOST_HINTS { usize::MAX } else { 0 });
            let names: Vec<&str> = known.map(|(id, _)| id.as_str()).collect();
            problems.push(problem::id_unknown(typed, wanted.unwrap_or("note"), &names));
            None
        }
    }
}

fn number(kind: &Kind<AsTyped>, counts: &mut [usize; 8]) -> NoteId {
    let mut next = |slot: usize| {
        counts[slot] += 1;
        counts[slot] - 1
    };
    match kind {
        Kind::Part(_) => NoteId::Part(PartId::new(next(0))),
        Kind::Finding(_) => NoteId::Finding(FindingId::new(next(1))),
        Kind::Measurement(_) => NoteId::Measurement(MeasurementId::new(next(2))),
        Kind::Question(_) => NoteId::Question(QuestionId::new(next(3))),
        Kind::Step(_) => NoteId::Step(StepId::new(next(4))),
        Kind::Shop(_) => NoteId::Shop(ShopId::new(next(5))),
        Kind::Paper(_) => NoteId::Paper(PaperId::new(next(6))),
        Kind::Entry(_) => NoteId::Entry(EntryId::new(next(7))),
    }
}

struct Resolver<'a> {
    /// The keys of dossier.yaml's instruments, in order.
    instruments: Vec<&'a str>,
    targets: &'a Targets,
    /// The note that is being read.
    from: Option<NoteId>,
    named_in: BTreeMap<NoteId, BTreeSet<NoteId>>,
    /// Where the links stand that were followed.
    seen: BTreeSet<Span>,
    problems: &'a mut Vec<Problem>,
}

macro_rules! by_kind {
    ($($one:ident $many:ident $variant:ident $id:ty;)*) => {$(
        fn $one(&mut self, typed: &Typed) -> Option<$id> {
            match self.of_kind(typed, stringify!($one))? {
                NoteId::$variant(id) => Some(id),
                _ => None,
            }
        }

        fn $many(&mut self, typed: &[Typed]) -> Vec<$id> {
            typed.iter().filter_map(|each| self.$one(each)).collect()
        }
    )*};
}

impl Resolver<'_> {
    by_kind! {
        part parts Part PartId;
        finding findings Finding FindingId;
        step steps Step StepId;
        question questions Question QuestionId;
        paper papers Paper PaperId;
    }

    fn any(&mut self, typed: &[Typed]) -> Vec<NoteId> {
        typed.iter().filter_map(|each| self.target(each, None)).collect()
    }

    /// The links of a note that were not followed, since what they belong to can't be read whole: they lead somewhere all
    /// the same, or it is told with the rest.
    fn rest(&mut self, links: &[Link]) {
        for (typed, wanted) in links {
            if self.seen.contains(&typed.span) {
                continue;
            }
            match *wanted {
                Wanted::Any => self.target(typed, None).map(drop),
                Wanted::Kind(kind) => self.of_kind(typed, kind).map(drop),
                Wanted::Instrument => self.instrument(typed).map(drop),
            };
        }
    }

    /// The note of this id, if it is of this kind.
    fn of_kind(&mut self, typed: &Typed, kind: &'static str) -> Option<NoteId> {
        let note = self.target(typed, Some(kind))?;
        if note.kind() != kind {
            self.problems.push(problem::id_kind(typed, kind, note.kind()));
            return None;
        }
        Some(note)
    }

    fn target(&mut self, typed: &Typed, wanted: Option<&'static str>) -> Option<NoteId> {
        self.seen.insert(typed.span);
        let note = find(self.targets, typed, wanted, self.problems)?;
        self.remember(note);
        Some(note)
    }

    fn remember(&mut self, note: NoteId) {
        if let Some(from) = self.from.filter(|from| *from != note) {
            self.named_in.entry(note).or_default().insert(from);
        }
    }

    fn instrument(&mut self, typed: &Typed) -> Option<InstrumentId> {
        self.seen.insert(typed.span);
        let found = self.instruments.iter().position(|key| *key == typed.text);
        if found.is_none() {
            self.problems.push(problem::instrument_unknown(typed, &self.instruments));
        }
        found.map(InstrumentId::new)
    }

    fn record(&mut self, record: Record, dossier: &mut Dossier) {
        let Record { head, kind } = record;
        match kind {
            Kind::Part(part) => dossier.parts.push(Noted { head, keys: self.of_part(part) }),
            Kind::Finding(finding) => dossier.findings.push(Noted { head, keys: self.of_finding(finding) }),
            Kind::Measurement(measurement) => {
                if let Some(keys) = self.of_measurement(measurement) {
                    dossier.measurements.push(Noted { head, keys });
                }
            }
            Kind::Question(question) => {
                dossier.questions.push(Noted { head, keys: self.of_question(question) });
            }
            Kind::Step(step) => dossier.steps.push(Noted { head, keys: self.of_step(step) }),
            Kind::Shop(shop) => dossier.shops.push(Noted { head, keys: shop }),
            Kind::Paper(paper) => dossier.papers.push(Noted { head, keys: self.of_paper(paper) }),
            Kind::Entry(entry) => dossier.entries.push(Noted { head, keys: self.of_entry(entry) }),
        }
    }
}

impl Resolver<'_> {
    fn shop(&mut self, typed: &Typed) -> Option<ShopId> {
        match self.of_kind(typed, "shop")? {
            NoteId::Shop(id) => Some(id),
            _ => None,
        }
    }

    fn of_part(&mut self, part: Part<AsTyped>) -> Part<Resolved> {
        Part {
            within: part.within.and_then(|typed| self.part(&typed)),
            replaces: self.parts(&part.replaces),
            sits_as_before: part.sits_as_before,
            fit: part.fit.and_then(|fit| self.of_fit(fit)),
            trapped_by: self.parts(&part.trapped_by),
            name: part.name,
            quantity: part.quantity,
            material: part.material,
            mass: part.mass,
            envelope: part.envelope,
            disposition: part.disposition,
            designation: part.designation,
            cost: part.cost,
            lead: part.lead,
            from: part.from,
            stock: part.stock,
            supply: part.supply,
            ordered_on: part.ordered_on,
            marks: part.marks,
            upkeep: part.upkeep,
            shape: part.shape,
        }
    }

    fn of_fit(&mut self, fit: Fit<AsTyped>) -> Option<Fit<Resolved>> {
        Some(Fit { with: self.part(&fit.with)?, at: fit.at, at_place: fit.at_place, class: fit.class })
    }

    fn of_finding(&mut self, finding: Finding<AsTyped>) -> Finding<Resolved> {
        Finding {
            about: self.parts(&finding.about),
            seen: finding.seen,
            condition: finding.condition,
            severity: finding.severity,
            photos: finding.photos,
        }
    }

    fn of_measurement(&mut self, measurement: Measurement<AsTyped>) -> Option<Measurement<Resolved>> {
        Some(Measurement {
            of: self.part(&measurement.of)?,
            instrument: measurement.instrument.and_then(|typed| self.instrument(&typed)),
            feature: measurement.feature,
            feature_span: measurement.feature_span,
            state: measurement.state,
            date: measurement.date,
            unit: measurement.unit,
            nominal: measurement.nominal,
            limits: measurement.limits,
            surface: measurement.surface,
            readings: measurement.readings,
        })
    }

    fn of_question(&mut self, question: Question<AsTyped>) -> Question<Resolved> {
        Question {
            about: self.any(&question.about),
            theories: question.theories.into_iter().map(|theory| self.of_theory(theory)).collect(),
            settled_by: self.any(&question.settled_by),
            asks: question.asks,
            state: question.state,
            answer: question.answer,
        }
    }

    fn of_theory(&mut self, theory: Theory<AsTyped>) -> Theory<Resolved> {
        Theory {
            supports: self.any(&theory.supports),
            against: self.any(&theory.against),
            claim: theory.claim,
        }
    }

    fn of_step(&mut self, step: Step<AsTyped>) -> Step<Resolved> {
        Step {
            parts: self.parts(&step.parts),
            needs: self.steps(&step.needs),
            hangs_on: self.questions(&step.hangs_on),
            uses: self.parts(&step.uses),
            makes: self.parts(&step.makes),
            removes: self.parts(&step.removes),
            refits: self.parts(&step.refits),
            mends: self.findings(&step.mends),
            at: step.at.and_then(|typed| self.shop(&typed)),
            does: step.does,
            irreversible: step.irreversible,
            in_place: step.in_place,
            if_wrong: step.if_wrong,
            takes: step.takes,
            waits: step.waits,
            not_before: step.not_before,
            not_after: step.not_after,
            under: self.papers(&step.under),
            renews: self.papers(&step.renews),
            calls_for: step.calls_for,
            processes: step.processes,
            hazards: step.hazards,
            cost: step.cost,
            state: step.state,
            done_on: step.done_on,
            done_by: step.done_by,
        }
    }

    fn of_paper(&mut self, paper: Paper<AsTyped>) -> Paper<Resolved> {
        Paper {
            about: self.any(&paper.about),
            title: paper.title,
            what: paper.what,
            date: paper.date,
            valid_from: paper.valid_from,
            valid_until: paper.valid_until,
            file: paper.file,
        }
    }

    fn of_entry(&mut self, entry: Entry<AsTyped>) -> Entry<Resolved> {
        let hours = entry.hours.into_iter();
        Entry {
            hours: hours.filter_map(|(step, time)| Some((self.step(&step)?, time))).collect(),
            about: self.any(&entry.about),
            date: entry.date,
        }
    }
}
