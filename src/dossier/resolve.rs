//! Finds the note behind every id, and remembers who named whom.

use std::collections::{BTreeMap, BTreeSet};

use super::ids::{FindingId, InstrumentId, PaperId, QuestionId};
use super::{Dossier, NoteId, Noted, PartId, Resolved, ShopId, StepId, Table, files, pairs, rules, tree};
use crate::calc::units::Units;
use crate::diagnostic::Problem;
use crate::dossier::problems as problem;
use crate::record::{
    About, Content, Kind, Link, Linker, Read, Record, Resolve, Step, StepState, Target as Wanted, Typed,
};
use crate::source::Sources;
use crate::text::Span;

type Targets = BTreeMap<String, Target>;

/// What an id stands for.
#[derive(Clone, Copy)]
enum Target {
    Note(NoteId),
    /// A note that could not be read whole, with its kind as far as it is known: a problem tells of it already.
    Broken(Option<Kind>),
}

impl Target {
    fn kind(self) -> Option<Kind> {
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
    let instruments: Vec<&str> = about.instruments.iter().map(|instrument| instrument.key.as_str()).collect();
    let (records, targets, unread) = register(records, problems);
    let files = records.iter().map(|(note, record)| (record.head.file, *note)).collect();
    let (named_in, seen) = (BTreeMap::new(), BTreeSet::new());
    let mut resolver =
        Resolver { instruments: &instruments, targets: &targets, from: None, named_in, seen, problems };
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
        let links = record.head.links.clone();
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
    let is_measurement =
        |read: &Read| matches!(read, Read::Whole(record) if record.content.kind() == Kind::Measurement);
    let (measurements, others): (Vec<Read>, Vec<Read>) =
        first_of_each_id(reads, problems).into_iter().partition(is_measurement);
    let mut targets = Targets::new();
    let mut counts: BTreeMap<Kind, usize> = BTreeMap::new();
    let mut records = Vec::new();
    let mut unread = Vec::new();
    for read in others.into_iter().chain(measurements) {
        match read {
            Read::Whole(record) if part_is_known(&record, &targets, problems) => {
                let kind = record.content.kind();
                let count = counts.entry(kind).or_default();
                let note = NoteId::new(kind, *count);
                *count += 1;
                targets.insert(record.head.id.clone(), Target::Note(note));
                records.push((note, record));
            }
            Read::Whole(Record { head, content }) => {
                let part = head.at("of");
                unread.extend(head.links.into_iter().filter(|link| link.typed.span != part));
                targets.insert(head.id, Target::Broken(Some(content.kind())));
            }
            Read::Broken { head, kind } => {
                targets.insert(head.id, Target::Broken(kind));
                unread.extend(head.links);
            }
        }
    }
    (records, targets, unread)
}

fn part_is_known(record: &Record, targets: &Targets, problems: &mut Vec<Problem>) -> bool {
    let Content::Measurement(measurement) = &record.content else { return true };
    match find(targets, &measurement.of, Some(Kind::Part), problems) {
        Some(NoteId::Part(_)) => true,
        Some(other) => {
            problems.push(problem::id_kind(&measurement.of, Kind::Part, other.kind()));
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

/// The note of this id, of whatever kind; the nearest name is looked for among those of the kind `wanted`.
fn find(
    targets: &Targets,
    typed: &Typed,
    wanted: Option<Kind>,
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
            problems.push(problem::id_unknown(typed, wanted.map_or("note", Kind::word), &names));
            None
        }
    }
}

struct Resolver<'a> {
    /// The keys of dossier.yaml's instruments, in order.
    instruments: &'a [&'a str],
    targets: &'a Targets,
    /// The note that is being read.
    from: Option<NoteId>,
    named_in: BTreeMap<NoteId, BTreeSet<NoteId>>,
    /// Where the links stand that were followed.
    seen: BTreeSet<Span>,
    problems: &'a mut Vec<Problem>,
}

macro_rules! by_kind {
    ($($find:ident $kind:ident $id:ty;)*) => {$(
        fn $find(&mut self, typed: &Typed) -> Option<$id> {
            match self.of_kind(typed, Kind::$kind)? {
                NoteId::$kind(id) => Some(id),
                _ => None,
            }
        }
    )*};
}

impl Linker for Resolver<'_> {
    type To = Resolved;

    by_kind! {
        part Part PartId;
        finding Finding FindingId;
        step Step StepId;
        question Question QuestionId;
        shop Shop ShopId;
        paper Paper PaperId;
    }

    fn instrument(&mut self, typed: &Typed) -> Option<InstrumentId> {
        self.seen.insert(typed.span);
        let found = self.instruments.iter().position(|key| *key == typed.text);
        if found.is_none() {
            self.problems.push(problem::instrument_unknown(typed, self.instruments));
        }
        found.map(InstrumentId::new)
    }

    fn any(&mut self, typed: &Typed) -> Option<NoteId> {
        self.target(typed, None)
    }
}

impl Resolver<'_> {
    /// The links of a note that were not followed, since what they belong to can't be read whole: they lead somewhere all
    /// the same, or it is reported with the rest.
    fn rest(&mut self, links: &[Link]) {
        for Link { typed, to } in links {
            if self.seen.contains(&typed.span) {
                continue;
            }
            match *to {
                Wanted::AnyNote => self.any(typed).map(drop),
                Wanted::Note(kind) => self.of_kind(typed, kind).map(drop),
                Wanted::Instrument => self.instrument(typed).map(drop),
            };
        }
    }

    /// The note of this id, if it is of this kind.
    fn of_kind(&mut self, typed: &Typed, kind: Kind) -> Option<NoteId> {
        let note = self.target(typed, Some(kind))?;
        if note.kind() != kind {
            self.problems.push(problem::id_kind(typed, kind, note.kind()));
            return None;
        }
        Some(note)
    }

    fn target(&mut self, typed: &Typed, wanted: Option<Kind>) -> Option<NoteId> {
        self.seen.insert(typed.span);
        let note = find(self.targets, typed, wanted, self.problems)?;
        self.remember(note);
        Some(note)
    }

    /// The note is named in the one that is being read.
    fn remember(&mut self, note: NoteId) {
        if let Some(from) = self.from.filter(|from| *from != note) {
            self.named_in.entry(note).or_default().insert(from);
        }
    }

    fn record(&mut self, record: Record, dossier: &mut Dossier) {
        let Record { head, content } = record;
        match content.resolve(self) {
            Some(Content::Part(keys)) => dossier.parts.push(Noted { head, keys }),
            Some(Content::Finding(keys)) => dossier.findings.push(Noted { head, keys }),
            Some(Content::Measurement(keys)) => dossier.measurements.push(Noted { head, keys }),
            Some(Content::Question(keys)) => dossier.questions.push(Noted { head, keys }),
            Some(Content::Step(keys)) => dossier.steps.push(Noted { head, keys }),
            Some(Content::Shop(keys)) => dossier.shops.push(Noted { head, keys }),
            Some(Content::Paper(keys)) => dossier.papers.push(Noted { head, keys }),
            Some(Content::Entry(keys)) => dossier.entries.push(Noted { head, keys }),
            None => {}
        }
    }
}
