//! What the notes are called where one names another, and what keeps a step back in these names.

use std::cell::OnceCell;
use std::collections::BTreeMap;

use super::named::Named;
use super::prose::{day, process};
use super::sequence::work_order;
use super::shapes::Mention;
use crate::calc::sheet::LineOutcome;
use crate::dossier::{NoteId, StepId};
use crate::plan::capability::Verdict;
use crate::plan::readiness::{Cause, Obstacle};
use crate::plan::timetable::Timetable;
use crate::plan::words;
use crate::record::{Chapter, Severity};
use crate::{Outlook, Project};

/// The names, numbers and links of the notes in one edition.
pub(super) struct Names<'a> {
    project: &'a Project,
    timetable: &'a Timetable,
    /// The notes that are printed, each with its label; `None` is all of them under their ids.
    printed: Option<BTreeMap<NoteId, String>>,
    /// The chapters of the edition.
    chapters: &'a [Chapter],
    named: OnceCell<Named>,
    numbers: OnceCell<BTreeMap<StepId, usize>>,
}

impl<'a> Names<'a> {
    pub(super) fn new(project: &'a Project, outlook: &'a Outlook) -> Self {
        Self {
            project,
            timetable: &outlook.timetable,
            printed: None,
            chapters: &project.dossier.about.chapters,
            named: OnceCell::new(),
            numbers: OnceCell::new(),
        }
    }

    /// The same with only these notes printed: every mention of another is its bare name.
    pub(super) fn of_only(self, printed: BTreeMap<NoteId, String>) -> Self {
        Self { printed: Some(printed), ..self }
    }

    /// What the calculations of all notes name.
    pub(super) fn named(&self) -> &Named {
        self.named.get_or_init(|| Named::of(self.project))
    }

    /// The number of every step in the order of the work, from 1.
    pub(super) fn numbers(&self) -> &BTreeMap<StepId, usize> {
        let numbered = || {
            work_order(&self.project.dossier, self.timetable)
                .into_iter()
                .enumerate()
                .map(|(at, step)| (step, at + 1))
                .collect()
        };
        self.numbers.get_or_init(numbered)
    }

    /// The label of a note; `None` if it is not printed in this edition.
    pub(super) fn label(&self, note: NoteId) -> Option<String> {
        match &self.printed {
            Some(printed) => printed.get(&note).cloned(),
            None => self.has(Chapter::of(note.kind())).then(|| self.project.dossier.head(note).id.clone()),
        }
    }

    /// Whether this edition has a chapter.
    pub(super) fn has(&self, chapter: Chapter) -> bool {
        self.chapters.contains(&chapter)
    }

    pub(super) fn mention(&self, note: NoteId) -> Mention {
        let dossier = &self.project.dossier;
        let state = match note {
            NoteId::Step(id) => Some(self.project.state(id)),
            NoteId::Question(id) => Some(dossier[id].state.word()),
            NoteId::Finding(id) if !dossier.mended_by(id).is_empty() => Some("mended"),
            NoteId::Finding(id) => dossier[id].severity.map(Severity::word),
            _ => None,
        };
        let head = dossier.head(note);
        Mention {
            label: self.label(note),
            place: None,
            left_out: !self.is_letter() && !self.has(Chapter::of(note.kind())),
            id: head.id.clone(),
            name: self.name(note),
            kind: note.kind().word(),
            state,
            number: self.number(note),
        }
    }

    /// A letter numbers its jobs itself.
    fn number(&self, note: NoteId) -> Option<usize> {
        match note {
            NoteId::Step(step) if !self.is_letter() => self.numbers().get(&step).copied(),
            _ => None,
        }
    }

    /// What a mention calls a note: a measurement also has its state and date.
    fn name(&self, note: NoteId) -> String {
        let dossier = &self.project.dossier;
        match note {
            NoteId::Measurement(id) => {
                format!("{}, {}", dossier[id].feature, dossier[id].state.word().replace('-', " "))
            }
            NoteId::Entry(id) => day(dossier[id].date.date).says,
            _ => dossier.title(note),
        }
    }

    /// A note by the place of a line of its calculations.
    pub(super) fn mention_of_line(&self, note: NoteId, line: &LineOutcome) -> Mention {
        Mention { place: Some(self.line_label(note, line)), ..self.mention(note) }
    }

    /// What a line of a calculation is found by: numbers, since an id is the label of its record.
    pub(super) fn line_label(&self, note: NoteId, line: &LineOutcome) -> String {
        format!("line:{}-{}", self.project.dossier.head(note).file.index(), line.range.start)
    }

    pub(super) fn mentions<I: Into<NoteId>>(&self, notes: impl IntoIterator<Item = I>) -> Vec<Mention> {
        notes.into_iter().map(|note| self.mention(note.into())).collect()
    }

    /// Steps in the order of the work.
    pub(super) fn steps_in_order(&self, steps: impl IntoIterator<Item = StepId>) -> Vec<Mention> {
        let mut steps: Vec<Mention> = self.mentions(steps);
        steps.sort_by_key(|step| step.number);
        steps
    }

    /// The notes that name this one, in order of id, without those that the record lists elsewhere.
    pub(super) fn named_in(&self, note: NoteId, listed: &[NoteId]) -> Vec<Mention> {
        let others = self.project.named_in(note).into_iter().filter(|other| !listed.contains(other));
        let mut named_in: Vec<Mention> = self.mentions(others);
        named_in.sort_by(|one, two| one.id.cmp(&two.id));
        named_in
    }

    /// What keeps a step back, stated with names instead of ids.
    pub(super) fn because(&self, cause: &Cause) -> String {
        let name = self.project.dossier.title(cause.note);
        match cause.obstacle {
            Obstacle::Step => format!("first: {name}"),
            Obstacle::Question => format!("open question: {name}"),
            Obstacle::Part => format!("waits for the part: {name}"),
            Obstacle::Size => format!("{name}: {}", self.clause(cause)),
            Obstacle::Record => format!("no record as found: {name}"),
            Obstacle::Recovery => "nothing says how to recover if it goes wrong".to_owned(),
            Obstacle::Capability | Obstacle::Day => self.clause(cause),
            Obstacle::Paper => format!("{name}: {}", self.clause(cause)),
        }
    }

    /// A shop by its place in the dossier, as a reader calls it.
    pub(super) fn shop(&self, place: usize) -> String {
        self.project.dossier.shops[place].name.clone()
    }

    /// What a cause has to do with what it keeps back, stated with names instead of ids.
    pub(super) fn clause(&self, cause: &Cause) -> String {
        self.with_processes(cause.clause(&self.project.dossier, |shop| self.shop(shop)))
    }

    /// What no shop has enough of, as a reader calls it.
    pub(super) fn misses(&self, verdict: &Verdict) -> String {
        self.with_processes(words::misses(verdict, |shop| self.shop(shop)))
    }

    /// A text in which the processes that the notes name stand in words.
    fn with_processes(&self, text: String) -> String {
        let dossier = &self.project.dossier;
        let of_steps = dossier.steps.iter().flat_map(|step| &step.processes);
        let names = of_steps.chain(dossier.shops.iter().flat_map(|shop| &shop.processes));
        names.fold(text, |text, name| text.replace(name.as_str(), &process(name)))
    }

    /// Whether it is a letter about a few notes, which sets its calculations out in short.
    pub(super) fn is_letter(&self) -> bool {
        self.printed.is_some()
    }
}
