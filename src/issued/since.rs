//! The difference between what was reported and what is so today.

use serde::Serialize;

use super::{Snapshot, Today, Told, ToldNote};
use crate::dossier::{Dossier, NoteId};

/// What is different since the dossier was last issued. Each note stands in one list only.
#[derive(Clone, Debug, PartialEq)]
pub struct Since<'a> {
    /// What was reported then.
    pub told: &'a Snapshot,
    /// Steps that were done.
    pub done: Vec<NoteId>,
    /// Questions that were settled.
    pub settled: Vec<NoteId>,
    /// Steps that can be done now and could not be then.
    pub ready: Vec<NoteId>,
    /// Every other step, question or part whose state is another, by what it was and what it is.
    pub moved: Vec<Moved>,
    /// Notes that were not there.
    pub new: Vec<NoteId>,
    /// Notes in the same state whose text is another.
    pub changed: Vec<NoteId>,
    /// Notes that are no longer there.
    pub gone: Vec<Gone<'a>>,
}

/// Notes that went from one state to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    /// The state as it was reported; of a note without one, nothing.
    pub was: Option<Told>,
    /// The state today.
    pub now: Told,
    /// The notes.
    pub notes: Vec<NoteId>,
}

impl Moved {
    /// The state as it was reported.
    pub fn was_in_words(&self) -> String {
        in_words(self.was)
    }
}

/// A note that is no longer there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gone<'a> {
    /// Its id.
    pub id: &'a str,
    /// What was reported of it.
    pub note: &'a ToldNote,
}

impl<'a> Since<'a> {
    /// Lays what was reported beside the notes of today.
    pub fn of(told: &'a Snapshot, today: Today) -> Self {
        let mut since = Self {
            told,
            done: Vec::new(),
            settled: Vec::new(),
            ready: Vec::new(),
            moved: Vec::new(),
            new: Vec::new(),
            changed: Vec::new(),
            gone: gone(told, today.dossier),
        };
        for note in today.dossier.notes() {
            let is = today.note(note);
            let was = told.notes.get(&today.dossier.head(note).id).filter(|was| was.kind == is.kind);
            let other_state = was.is_none_or(|was| was.state != is.state);
            match (was, is.state) {
                (_, Some(now)) if other_state && now.is_done() => since.done.push(note),
                (_, Some(now)) if other_state && now.is_settled() => since.settled.push(note),
                (None, _) => since.new.push(note),
                (Some(_), Some(now)) if other_state && now.is_ready() => since.ready.push(note),
                (Some(was), Some(now)) if other_state => since.moved(was.state, now, note),
                (Some(was), _) if was.content != is.content || was.name != is.name => {
                    since.changed.push(note);
                }
                (Some(_), _) => {}
            }
        }
        since.moved.sort_by_cached_key(|moved| (moved.was_in_words(), moved.now.to_string()));
        since
    }

    fn moved(&mut self, was: Option<Told>, now: Told, note: NoteId) {
        match self.moved.iter_mut().find(|moved| moved.was == was && moved.now == now) {
            Some(moved) => moved.notes.push(note),
            None => self.moved.push(Moved { was, now, notes: vec![note] }),
        }
    }

    /// Whether no note is different.
    pub fn is_nothing(&self) -> bool {
        let lists = [&self.done, &self.settled, &self.ready, &self.new, &self.changed];
        lists.into_iter().all(Vec::is_empty) && self.moved.is_empty() && self.gone.is_empty()
    }
}

fn in_words(state: Option<Told>) -> String {
    state.map_or_else(String::new, String::from)
}

/// What was there and is not, or is of another kind today.
fn gone<'a>(told: &'a Snapshot, dossier: &Dossier) -> Vec<Gone<'a>> {
    let is_gone =
        |(id, note): &(&String, &ToldNote)| dossier.find(id).is_none_or(|now| now.kind() != note.kind);
    told.notes.iter().filter(is_gone).map(|(id, note)| Gone { id, note }).collect()
}

/// The difference as ids.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SinceReport {
    /// The day that the issued dossier bore.
    pub date: Option<String>,
    /// For whom it was issued, in the issuer's words.
    pub words: String,
    /// Steps that were done.
    pub done: Vec<String>,
    /// Questions that were settled.
    pub settled: Vec<String>,
    /// Steps that can be done now and could not be then.
    pub ready: Vec<String>,
    /// Every other step, question or part whose state is another.
    pub moved: Vec<MovedNote>,
    /// Notes that were not there.
    pub new: Vec<String>,
    /// Notes in the same state whose text is another.
    pub changed: Vec<String>,
    /// Notes that are no longer there.
    pub gone: Vec<String>,
}

/// A note that went from one state to another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct MovedNote {
    /// The note.
    pub id: String,
    /// The state as it was reported.
    pub was: String,
    /// The state today.
    pub now: String,
}

impl SinceReport {
    /// The difference as ids, for other programs.
    pub fn of(since: &Since, dossier: &Dossier) -> Self {
        let id = |note: &NoteId| dossier.head(*note).id.clone();
        let ids = |notes: &[NoteId]| notes.iter().map(id).collect();
        let moved = since.moved.iter().flat_map(|moved| {
            let Moved { was, now, notes } = moved;
            notes.iter().map(move |note| MovedNote {
                id: id(note),
                was: in_words(*was),
                now: now.to_string(),
            })
        });
        Self {
            date: since.told.date.clone(),
            words: since.told.words.clone(),
            done: ids(&since.done),
            settled: ids(&since.settled),
            ready: ids(&since.ready),
            moved: moved.collect(),
            new: ids(&since.new),
            changed: ids(&since.changed),
            gone: since.gone.iter().map(|gone| gone.id.to_owned()).collect(),
        }
    }
}
