//! The index: parts and subjects, each with what belongs to it.
//!
//! A part stands under its name and, where several parts share the last word of theirs, under that word too. Subjects are
//! tags, hazards, and the materials and designations that the notes give by type, each by what it is called without what is
//! said of it; and the words of [`subjects`](super::subjects) where the title of a note has one, or its text. Some stand for
//! a whole chapter. The workshop functions stand under "formulas", each with its page in their chapter, which says where it is used.
//! Nothing refers to itself.

use std::collections::BTreeMap;

use serde::Serialize;

use super::cautions;
use super::edition::Edition;
use super::mathematics::plain;
use super::prose::decapital;
use super::subjects;
use crate::dossier::{Dossier, NoteId, PartId, StepId};
use crate::note::body::{InlineShape, each_inline};
use crate::record::Chapter;

#[derive(Serialize)]
pub(super) struct Index {
    entries: Vec<Term>,
}

/// A term with the records that it leads to, and what stands below it.
#[derive(Default, Serialize)]
struct Term {
    term: String,
    labels: Vec<String>,
    below: Vec<Below>,
}

#[derive(Serialize)]
struct Below {
    term: String,
    labels: Vec<String>,
}

/// The index while it grows: by what a term is sorted under.
struct Terms<'a> {
    edition: &'a Edition<'a>,
    terms: BTreeMap<String, Term>,
}

/// In order of the alphabet, whatever the case and a leading article.
pub(super) fn chapter(edition: &Edition) -> Index {
    let mut terms = Terms { edition, terms: BTreeMap::new() };
    for part in edition.dossier().parts.ids() {
        terms.part(part);
    }
    for note in edition.dossier().notes() {
        terms.note(note);
    }
    terms.shared_words();
    terms.functions();
    terms.chapters();
    let mut entries: Vec<Term> = terms.terms.into_values().collect();
    for entry in &mut entries {
        entry.below.sort_by_key(|below| sorted_under(&below.term));
    }
    Index { entries }
}

fn sorted_under(term: &str) -> String {
    let term = term.to_lowercase();
    term.strip_prefix("the ").map(str::to_owned).unwrap_or(term)
}

impl Terms<'_> {
    fn entry(&mut self, term: &str) -> &mut Term {
        let entry = self.terms.entry(sorted_under(term)).or_default();
        if entry.term.is_empty() {
            term.clone_into(&mut entry.term);
        }
        entry
    }

    /// A record under a term itself.
    fn at(&mut self, term: &str, note: NoteId) {
        if let Some(label) = self.edition.names.label(note) {
            self.at_label(term, label);
        }
    }

    fn at_label(&mut self, term: &str, label: String) {
        let labels = &mut self.entry(term).labels;
        if !labels.contains(&label) {
            labels.push(label);
        }
    }

    /// A record below a term.
    fn below(&mut self, term: &str, what: &str, note: NoteId) {
        if let Some(label) = self.edition.names.label(note) {
            self.below_label(term, what, label);
        }
    }

    fn below_label(&mut self, term: &str, what: &str, label: String) {
        if sorted_under(term) == sorted_under(what) {
            return self.at_label(term, label);
        }
        let below = &mut self.entry(term).below;
        match below.iter_mut().find(|below| below.term == what) {
            Some(below) if below.labels.contains(&label) => {}
            Some(below) => below.labels.push(label),
            None => below.push(Below { term: what.to_owned(), labels: vec![label] }),
        }
    }

    /// A part with what was found on it, measured, asked and done.
    fn part(&mut self, part: PartId) {
        let dossier = self.edition.dossier();
        let keys = &dossier[part];
        let name = &keys.name;
        self.at(name, part.into());
        for id in dossier.findings.ids().filter(|id| dossier[*id].about.contains(&part)) {
            self.below(name, &dossier[id].condition.join(", "), id.into());
        }
        for id in dossier.measurements.ids().filter(|id| dossier[*id].of == part) {
            self.below(name, &dossier[id].feature, id.into());
        }
        for id in dossier.questions.ids().filter(|id| dossier[*id].about.contains(&part.into())) {
            self.below(name, "questions", id.into());
        }
        for id in dossier.steps.ids().filter(|id| works_on(dossier, *id, part)) {
            self.below(name, "work", id.into());
        }
        for id in dossier.papers.ids().filter(|id| dossier[*id].about.contains(&part.into())) {
            self.below(name, "papers", id.into());
        }
        for term in keys
            .designation
            .iter()
            .filter_map(|said| designation(said))
            .chain(keys.material.iter().filter_map(|said| material(said)))
        {
            self.below(term, name, part.into());
        }
    }

    /// A note under its subjects.
    fn note(&mut self, note: NoteId) {
        let dossier = self.edition.dossier();
        for tag in &dossier.head(note).tags {
            self.under(tag, note);
        }
        for subject in subjects::of(&dossier.title(note)) {
            if !subjects::is_thing(subject) || self.said(note).is_some() {
                self.under(subject, note);
            }
        }
        each_inline(&dossier.head(note).body, &mut |inline| {
            if let InlineShape::Text(text) = &inline.shape {
                subjects::in_text(text).for_each(|subject| self.under(subject, note));
            }
        });
        match note {
            NoteId::Step(id) => {
                for hazard in cautions::hazards(self.edition.project, id) {
                    self.under(&hazard.word().replace('-', " "), note);
                }
            }
            NoteId::Shop(_) | NoteId::Paper(_) => self.at(&dossier.title(note), note),
            _ => {}
        }
    }

    /// A note under a subject: by its name, but steps, questions and log entries by their pages alone.
    fn under(&mut self, subject: &str, note: NoteId) {
        match self.said(note) {
            Some(name) => self.below(subject, &name, note),
            None => self.at(subject, note),
        }
    }

    /// What a note is called below a subject; none for what is called by a sentence.
    fn said(&self, note: NoteId) -> Option<String> {
        let dossier = self.edition.dossier();
        match note {
            NoteId::Step(_) | NoteId::Question(_) | NoteId::Entry(_) => None,
            NoteId::Finding(id) => {
                let of = dossier[id].about.first().map(|part| decapital(&dossier[*part].name));
                Some(format!("{}, {}", dossier[id].condition.join(", "), of.unwrap_or_default()))
            }
            _ => Some(dossier.title(note)),
        }
    }

    /// "pin: roller pins, tie pins": the last word of a name that several parts share.
    fn shared_words(&mut self) {
        let dossier = self.edition.dossier();
        let mut by_word: BTreeMap<String, Vec<PartId>> = BTreeMap::new();
        for part in dossier.parts.ids() {
            by_word.entry(last_word(&dossier[part].name)).or_default().push(part);
        }
        for (word, parts) in by_word.into_iter().filter(|(_, parts)| parts.len() > 1) {
            for part in parts {
                let name = dossier[part].name.clone();
                self.below(&word, &name, part.into());
            }
        }
    }

    /// What a whole chapter is about, where it begins.
    fn chapters(&mut self) {
        for (term, chapter, label) in CHAPTERS {
            if self.edition.names.has(*chapter) {
                self.at_label(term, format!("chapter:{label}"));
            }
        }
    }

    /// The functions of the workshop that the notes use, by their names, where their formulas stand.
    fn functions(&mut self) {
        if !self.edition.names.has(Chapter::Sources) {
            return;
        }
        for function in &self.edition.project.worked.evaluation.used {
            self.below_label("formulas", &plain(function.name), format!("formula:{}", function.name));
        }
    }
}

/// Words that are looked up, each with the chapter that is about it and what that is found by.
const CHAPTERS: &[(&str, Chapter, &str)] = &[
    ("cost", Chapter::Bill, "bill"),
    ("inspector", Chapter::Inspector, "inspector"),
    ("mass", Chapter::Bill, "bill"),
    ("payees", Chapter::Jobs, "jobs"),
    ("removal of parts", Chapter::Sequence, "sequence"),
];

/// A designation without what is said of it: "51110"; none where it is a description.
fn designation(said: &str) -> Option<&str> {
    let head = head(said);
    (head.chars().count() <= LONGEST_DESIGNATION).then_some(head)
}

/// What a part is of, without what is said of it: "wrought iron" of "wrought iron, forge-welded eyes"; none where that is not
/// known.
fn material(said: &str) -> Option<&str> {
    let head = head(said);
    let is_known = !["not known", "unknown", "?", " or "].iter().any(|doubt| head.contains(doubt));
    (is_known && !head.is_empty()).then_some(head)
}

fn head(said: &str) -> &str {
    said.split([',', ';', '(']).next().unwrap_or_default().trim()
}

const LONGEST_DESIGNATION: usize = 12;

/// The last word of a name before a comma, a bracket or "of", in the singular: "pin" of "Tie pins, new".
fn last_word(name: &str) -> String {
    let name = name.to_lowercase();
    let head = name.split([',', '(']).next().unwrap_or_default();
    let head = [" of ", " on ", " in ", " for ", " round ", " to "]
        .iter()
        .fold(head, |head, word| head.split(word).next().unwrap_or_default());
    let word = head.split_whitespace().next_back().unwrap_or_default();
    subjects::singular(word)
}

fn works_on(dossier: &Dossier, step: StepId, part: PartId) -> bool {
    let step = &dossier[step];
    [&step.parts, &step.removes, &step.refits, &step.makes, &step.uses]
        .iter()
        .any(|parts| parts.contains(&part))
}
