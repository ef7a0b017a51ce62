//! What workshop functions say about a line: what they warn of, and what they say of a material, which stands in full at
//! one place of the dossier.

use std::collections::BTreeMap;

use super::edition::Edition;
use super::engine_words::with_code;
use super::escape::quoted;
use super::prose::capital;
use crate::calc::evaluate::Note;
use crate::calc::function::Said;
use crate::calc::sheet::LineOutcome;
use crate::dossier::NoteId;

/// What is said of a thing, as its subject and its text.
type Told = (String, String);

/// Where each remark on a thing stands in full: the label of its line.
#[derive(Debug, Default)]
pub(super) struct Places(BTreeMap<Told, String>);

impl Places {
    /// The first line that has the remark, in the order of the chapters: parts, questions, steps.
    pub(super) fn of(edition: &Edition) -> Self {
        let worked = &edition.project.worked;
        let mut scopes: Vec<_> =
            worked.scopes().filter(|(note, _)| edition.names.label(*note).is_some()).collect();
        scopes.sort_by_key(|(note, _)| chapter(*note));
        let mut places = BTreeMap::new();
        for (note, outcome) in scopes {
            for line in outcome.blocks.iter().flat_map(|block| &block.lines) {
                for told in line.notes.iter().filter_map(told) {
                    places.entry(told).or_insert_with(|| edition.names.line_label(note, line));
                }
            }
        }
        Self(places)
    }
}

fn chapter(note: NoteId) -> usize {
    match note {
        NoteId::Part(_) | NoteId::Finding(_) | NoteId::Measurement(_) => 0,
        NoteId::Question(_) => 1,
        _ => 2,
    }
}

/// A remark on a thing that is no warning.
fn told(note: &Note) -> Option<Told> {
    let subject = note.said.subject.clone().filter(|_| !note.is_warning)?;
    Some((subject, note.said.text.clone()))
}

/// What is said about a line, in small paragraphs: what it warns of, then what else.
pub(super) fn of_line(edition: &Edition, note: NoteId, line: &LineOutcome) -> Vec<String> {
    let (warnings, others): (Vec<&Note>, Vec<&Note>) = line.notes.iter().partition(|note| note.is_warning);
    let warned =
        warnings.into_iter().map(|note| format!("#strong[Caution:] {}.", with_code(&note.said.to_string())));
    let here = edition.names.line_label(note, line);
    let place =
        |note: &&Note| told(note).and_then(|told| edition.remarks().0.get(&told)).filter(|at| **at != here);
    let (again, new): (Vec<&Note>, Vec<&Note>) = others.into_iter().partition(|note| place(note).is_some());
    let said = by_subject(new.into_iter().map(|note| &note.said));
    let said = said.iter().map(|text| format!("{}.", with_code(&capital(text))));
    let mut elsewhere: Vec<(String, &String)> = Vec::new();
    for note in &again {
        if let (Some(at), Some(subject)) = (place(note), &note.said.subject)
            && !elsewhere.contains(&(capital(subject), at))
        {
            elsewhere.push((capital(subject), at));
        }
    }
    let elsewhere = elsewhere
        .iter()
        .map(|(subject, at)| format!("{}: see #page-of({}).", with_code(subject), quoted(at)));
    let paragraphs = [warned.collect::<Vec<_>>(), said.chain(elsewhere).collect()];
    let paragraphs = paragraphs.into_iter().filter(|said| !said.is_empty());
    paragraphs.map(|said| format!("(kind: \"note\", says: [{}])", said.join(" "))).collect()
}

/// Remarks on one thing as one: `Wrought iron: along the grain; figures partly from memory`.
fn by_subject<'a>(remarks: impl Iterator<Item = &'a Said>) -> Vec<String> {
    let mut joined: Vec<(Option<&str>, String)> = Vec::new();
    for remark in remarks {
        let (subject, rest) = (remark.subject.as_deref(), remark.text.trim_end_matches('.'));
        match joined.iter_mut().find(|(known, _)| subject.is_some() && *known == subject) {
            Some((_, text)) => {
                text.push_str("; ");
                text.push_str(rest);
            }
            None => joined.push((subject, remark.to_string().trim_end_matches('.').to_owned())),
        }
    }
    joined.into_iter().map(|(_, text)| text).collect()
}
