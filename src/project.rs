//! The pipeline from a folder to a checked dossier.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use rayon::iter::{IntoParallelIterator, ParallelIterator};

use crate::calc::units::Units;
use crate::diagnostic::{Keys, Problem, Severity, codes, in_order, nearest};
use crate::dossier::problems as problem;
use crate::dossier::{Dossier, NoteId, StepId};
use crate::fitness::Fitness;
use crate::issued::{self, Since, Snapshot, Today};
use crate::note::Found;
use crate::plan::Plan;
use crate::record::{About, Head};
use crate::source::Sources;
use crate::text::{FileId, Span};
use crate::worked::Worked;
use crate::{note, record};

/// A project, read and checked.
#[derive(Debug)]
pub struct Project {
    pub sources: Sources,
    pub dossier: Dossier,
    /// The figures.
    pub worked: Worked,
    /// The sequence.
    pub plan: Plan,
    /// Whether the machine may be used.
    pub fitness: Fitness,
    /// What was reported when the dossier was last issued.
    pub issued: Option<Snapshot>,
    /// Markdown without front matter: no notes.
    pub left_alone: Vec<FileId>,
    problems: Vec<Problem>,
    accepted: Vec<Problem>,
}

impl Project {
    /// Reads the project in a folder. Whatever is wrong in the notes is a problem beside the result.
    ///
    /// # Errors
    /// Only when the folder itself can't be read.
    pub fn open(root: &Path) -> std::io::Result<Self> {
        let (sources, problems) = Sources::load(root)?;
        Ok(Self::from_sources(sources, problems))
    }

    /// The same from texts that are already in memory; `problems` are those of reading them.
    pub fn from_sources(sources: Sources, mut problems: Vec<Problem>) -> Self {
        let home_page =
            sources.find("dossier.yaml").and_then(|file| note::read_yaml(&sources, file, &mut problems));
        let (about, units) = match &home_page {
            Some(node) => About::read(node, &mut problems),
            None => About::unknown(),
        };
        let (records, left_alone) = read_all(&sources, &units, &mut problems);
        let unreadable: Vec<String> =
            records.iter().filter(|read| read.is_broken()).map(|read| read.head().id.clone()).collect();
        let dossier = Dossier::assemble(&about, units, records, &sources, &mut problems);
        let functions: Vec<_> = crate::trade::functions().collect();
        let worked = Worked::of(&dossier, &functions, &unreadable);
        problems.extend(worked.problems(&dossier));
        let plan = Plan::of(&dossier, &worked.makings(&dossier));
        problems.extend(plan.problems(&dossier));
        let fitness = Fitness::of(&dossier, &worked);
        problems.extend(fitness.problems(&dossier, &worked));
        let issued = issued::read(&sources, &mut problems);
        let problems = without_echoes(problems, &dossier, &sources);
        let (accepted, problems) = accept(problems, &dossier);
        let (problems, accepted) = (in_order(problems), in_order(accepted));
        Self { sources, dossier, worked, plan, fitness, issued, left_alone, problems, accepted }
    }

    /// What is wrong, in the order of the files, without what dossier.yaml accepts.
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// What was found and is accepted under `allow`.
    pub fn accepted(&self) -> &[Problem] {
        &self.accepted
    }

    /// The notes as they are today.
    pub fn today(&self) -> Today<'_> {
        Today { dossier: &self.dossier, plan: &self.plan, sources: &self.sources }
    }

    /// What is different since the dossier was last issued, if it ever was.
    pub fn since_issued(&self) -> Option<Since<'_>> {
        self.issued.as_ref().map(|told| Since::of(told, self.today()))
    }

    /// The notes that name this one, by key, link or calculation, in order of kind and path.
    pub fn named_in(&self, note: NoteId) -> BTreeSet<NoteId> {
        let referring = self.worked.references(&self.dossier);
        let referring = referring.filter(|(from, to, _)| *to == note && from != to).map(|(from, ..)| from);
        self.dossier.named_in(note).chain(referring).collect()
    }

    /// The state of a step, in the word for it.
    pub fn state(&self, step: StepId) -> &'static str {
        self.plan.standing(step).state.word()
    }

    /// Whether the notes contradict each other or can't be read.
    pub fn has_errors(&self) -> bool {
        self.problems.iter().any(Problem::is_error)
    }
}

/// Drops a problem that tells of something missing where another error of the same note may be the very reason: mending
/// that brings it back if it is not. Any other problem of the note stays.
fn without_echoes(problems: Vec<Problem>, dossier: &Dossier, sources: &Sources) -> Vec<Problem> {
    let mut errors: BTreeMap<FileId, Vec<(Span, Keys)>> = BTreeMap::new();
    for problem in problems.iter().filter(|problem| problem.is_error() && keys_missed(problem).is_empty()) {
        for place in problem.place.into_iter().chain(problem.also.iter().map(|(place, _)| *place)) {
            errors.entry(place.file).or_default().push((place, problem.keys));
        }
    }
    let is_echo = |problem: &Problem| {
        let keys = keys_missed(problem);
        let note = problem.about.as_ref().filter(|_| !keys.is_empty()).and_then(|id| dossier.find(id));
        note.is_some_and(|note| {
            let head = dossier.head(note);
            let own = errors.get(&head.file).into_iter().flatten();
            own.copied().any(|error| is_reason(head, keys, error, sources))
        })
    };
    let echoes: Vec<bool> = problems.iter().map(is_echo).collect();
    problems.into_iter().zip(echoes).filter(|(_, is_echo)| !is_echo).map(|(problem, _)| problem).collect()
}

fn keys_missed(problem: &Problem) -> &'static [&'static str] {
    match problem.keys {
        Keys::Misses(keys) => keys,
        Keys::AtPlace | Keys::Unknown => &[],
    }
}

/// Whether an error may be why one of the keys is missing: it stands there, or at a key that was probably meant to be it.
fn is_reason(head: &Head, keys: &[&str], (place, of): (Span, Keys), sources: &Sources) -> bool {
    if of == Keys::Unknown {
        return nearest(sources.slice(place), keys.iter().copied()).is_some();
    }
    keys.iter().filter(|key| head.has(key)).any(|key| {
        let own = head.at(key);
        own.start <= place.start && place.end <= own.end
    })
}

/// Parts what dossier.yaml accepts from the rest; what accepts nothing any more is a caution.
fn accept(problems: Vec<Problem>, dossier: &Dossier) -> (Vec<Problem>, Vec<Problem>) {
    let allow = &dossier.about.allow;
    let mut used = vec![false; allow.len()];
    let mut first: BTreeMap<(&str, Option<&str>), usize> = BTreeMap::new();
    for (index, allowed) in allow.iter().enumerate() {
        first.entry((&allowed.code, allowed.id.as_deref())).or_insert(index);
    }
    let (accepted, mut rest): (Vec<_>, Vec<_>) = problems.into_iter().partition(|problem| {
        let of = |id| first.get(&(problem.code.word, id)).copied();
        let whole = [of(None), problem.about.as_deref().and_then(|id| of(Some(id)))];
        let found = whole.into_iter().flatten().min().filter(|_| !problem.is_error());
        if let Some(index) = found {
            used[index] = true;
        }
        found.is_some()
    });
    let unused = allow.iter().zip(used).filter(|(_, used)| !used).map(|(allowed, _)| allowed);
    rest.extend(unused.map(|allowed| {
        let is_error = codes::find(&allowed.code).is_some_and(|code| code.severity == Severity::Error);
        let says = if is_error { problem::allow_error } else { problem::allow_unused };
        says(allowed.span, &allowed.code)
    }));
    (accepted, rest)
}

/// Every note read, the problems in the order of the files; and the texts that are no notes.
fn read_all(
    sources: &Sources,
    units: &Units,
    problems: &mut Vec<Problem>,
) -> (Vec<record::Read>, Vec<FileId>) {
    let files: Vec<FileId> =
        sources.ids().filter(|file| sources.file(*file).path != "dossier.yaml").collect();
    let read: Vec<_> = files.into_par_iter().map(|file| (file, read_one(sources, file, units))).collect();
    let (mut records, mut left_alone) = (Vec::new(), Vec::new());
    for (file, (record, found)) in read {
        problems.extend(found);
        match record {
            Some(record) => records.push(record),
            None => left_alone.push(file),
        }
    }
    (records, left_alone)
}

/// One note with its problems; `None` is no note.
fn read_one(sources: &Sources, file: FileId, units: &Units) -> (Option<record::Read>, Vec<Problem>) {
    let mut problems = Vec::new();
    let record = match note::read(sources, file, &mut problems) {
        Found::Note(note) => Some(record::read(note, units, &mut problems)),
        Found::Unreadable { stem, place } => Some(record::Read::unreadable(stem, place)),
        Found::NoNote => None,
    };
    (record, problems)
}
