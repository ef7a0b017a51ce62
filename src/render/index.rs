//! The index: names, ids, tags and designations.

use std::collections::BTreeMap;

use serde::Serialize;

use super::edition::Edition;
use crate::dossier::NoteId;

#[derive(Serialize)]
pub(super) struct Index {
    entries: Vec<Term>,
}

#[derive(Serialize)]
struct Term {
    term: String,
    kind: Option<&'static str>,
    labels: Vec<String>,
    see: Option<String>,
}

/// In order of the alphabet, whatever the case.
pub(super) fn chapter(edition: &Edition) -> Index {
    let dossier = edition.dossier();
    let mut terms: BTreeMap<(String, String), Term> = BTreeMap::new();
    for note in dossier.notes() {
        let Some(label) = edition.label(note) else { continue };
        for (term, kind) in words_for(edition, note) {
            let entry = terms
                .entry((term.to_lowercase(), term.clone()))
                .or_insert_with(|| Term { term, kind, labels: Vec::new(), see: None });
            if !entry.labels.contains(&label) {
                entry.labels.push(label.clone());
            }
        }
    }
    Index { entries: terms.into_values().collect() }
}

/// A sentence is no word to look up: of a step, question or log entry only id and tags stand in the index.
fn words_for(edition: &Edition, note: NoteId) -> Vec<(String, Option<&'static str>)> {
    let dossier = edition.dossier();
    let head = dossier.head(note);
    let mut words = vec![(head.id.clone(), Some(note.kind()))];
    words.extend(head.tags.iter().map(|tag| (tag.clone(), None)));
    match note {
        NoteId::Part(id) => {
            words.push((dossier[id].name.clone(), None));
            words.extend(dossier[id].designation.clone().map(|term| (term, None)));
            words.extend(dossier[id].material.clone().map(|term| (term, None)));
        }
        NoteId::Finding(id) => words.extend(dossier[id].condition.iter().map(|term| (term.clone(), None))),
        NoteId::Measurement(id) => words.push((dossier[id].feature.clone(), None)),
        NoteId::Shop(id) => words.push((dossier[id].name.clone(), None)),
        NoteId::Paper(id) => words.push((dossier[id].title.clone(), None)),
        NoteId::Question(_) | NoteId::Step(_) | NoteId::Entry(_) => {}
    }
    words
}
