//! Which names the calculations of the notes name, and which fields of them.

use std::collections::{BTreeMap, BTreeSet};

use crate::Project;
use crate::calc::sheet::{LineOutcome, Place};
use crate::dossier::NoteId;

/// By note and by name in it: the fields that are named somewhere; empty text where the name stands alone.
#[derive(Debug, Default)]
pub(super) struct Named(BTreeMap<(NoteId, String), BTreeSet<String>>);

impl Named {
    pub(super) fn of(project: &Project) -> Self {
        let worked = &project.worked;
        let mut named = Self::default();
        for (scope, outcome) in worked.evaluation.scopes.iter().enumerate() {
            let note = worked.note(Place { scope, block: 0, line: 0 });
            for line in outcome.blocks.iter().flat_map(|block| &block.lines) {
                named.read(project, note, right_side(line));
            }
        }
        for note in project.dossier.notes() {
            crate::note::body::each_inline(&project.dossier.head(note).body, &mut |inline| {
                if let crate::note::body::InlineShape::Code(text) = &inline.shape {
                    named.read(project, note, text);
                }
            });
        }
        named
    }

    /// The fields of a name that are named somewhere; `None` where nothing names it at all.
    pub(super) fn fields(&self, note: NoteId, name: &str) -> Option<BTreeSet<&str>> {
        let fields = self.0.get(&(note, name.to_owned()))?;
        Some(fields.iter().map(String::as_str).filter(|field| !field.is_empty()).collect())
    }

    /// Notes the names of a calculation outside its quoted texts: `name`, `name.field`, `note.name.field`.
    fn read(&mut self, project: &Project, note: NoteId, typed: &str) {
        for text in typed.split('"').step_by(2) {
            for chain in text.split(|letter: char| !is_of_a_chain(letter)) {
                self.chain(project, note, chain);
            }
        }
    }

    fn chain(&mut self, project: &Project, note: NoteId, chain: &str) {
        let pieces: Vec<&str> = chain.split('.').collect();
        let other = pieces.first().filter(|_| pieces.len() > 1).and_then(|id| project.dossier.find(id));
        let (note, names) = match other {
            Some(other) => (other, &pieces[1..]),
            None => (note, &pieces[..]),
        };
        let Some(first) = names.first() else { return };
        // A minus without blanks reads like a hyphen: the last of the names before the point has the field.
        let name = first.rsplit('-').next().unwrap_or(first);
        let field = names.get(1).copied().unwrap_or_default();
        let field = field.split('-').next().unwrap_or_default();
        self.0.entry((note, name.to_owned())).or_default().insert(field.to_owned());
    }
}

fn is_of_a_chain(letter: char) -> bool {
    letter.is_alphanumeric() || matches!(letter, '_' | '-' | '.')
}

/// What a line works out, without the name that it defines.
fn right_side(line: &LineOutcome) -> &str {
    match (&line.name, line.typed.split_once('=')) {
        (Some(_), Some((_, right))) => right,
        _ => &line.typed,
    }
}
