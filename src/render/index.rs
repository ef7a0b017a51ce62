//! The index: names, ids, tags and designations.

use std::collections::BTreeMap;

use serde::Serialize;

use super::edition::Edition;
use crate::dossier::Dossier;
use crate::dossier::NoteId;

#[derive(Serialize)]
pub(super) struct Index {
    entries: Vec<Term>,
}

#[derive(Serialize)]
struct Term {
    term: String,
    /// What kind of note an id stands for; none of a word.
    kind: Option<&'static str>,
    labels: Vec<String>,
    see: Option<String>,
}

/// In order of the alphabet, whatever the case and a leading article.
pub(super) fn chapter(edition: &Edition) -> Index {
    let dossier = edition.dossier();
    let mut terms: BTreeMap<(String, String), Term> = BTreeMap::new();
    for note in dossier.notes() {
        let Some(label) = edition.names.label(note) else { continue };
        for (term, kind) in words_for(edition.dossier(), note) {
            let entry = terms.entry((sorted_under(&term), term.clone())).or_insert_with(|| Term {
                term,
                kind,
                labels: Vec::new(),
                see: None,
            });
            if !entry.labels.contains(&label) {
                entry.labels.push(label.clone());
            }
        }
    }
    Index { entries: terms.into_values().collect() }
}

fn sorted_under(term: &str) -> String {
    let term = term.to_lowercase();
    term.strip_prefix("the ").map(str::to_owned).unwrap_or(term)
}

/// A question is no word to look up: only its id and tags stand in the index, and a log entry is found
/// by its date. An id that says no more than the name is left out.
fn words_for(dossier: &Dossier, note: NoteId) -> Vec<(String, Option<&'static str>)> {
    let head = dossier.head(note);
    let mut words: Vec<String> = head.tags.clone();
    match note {
        NoteId::Part(id) => {
            words.push(dossier[id].name.clone());
            words.extend(dossier[id].designation.clone());
            words.extend(dossier[id].material.clone());
        }
        NoteId::Finding(id) => words.extend(dossier[id].condition.iter().cloned()),
        NoteId::Measurement(id) => words.push(dossier[id].feature.clone()),
        NoteId::Shop(id) => words.push(dossier[id].name.clone()),
        NoteId::Paper(id) => words.push(dossier[id].title.clone()),
        NoteId::Step(id) => words.push(dossier[id].does.clone()),
        NoteId::Question(_) => {}
        NoteId::Entry(_) => return words.into_iter().map(|word| (word, None)).collect(),
    }
    let in_words = sorted_under(&head.id.replace('-', " "));
    let says_more = words.iter().all(|word| sorted_under(word).replace(['-', ','], " ") != in_words);
    let id = says_more.then(|| (head.id.clone(), Some(note.kind().word())));
    words.into_iter().map(|word| (word, None)).chain(id).collect()
}
