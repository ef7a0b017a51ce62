//! What rests on a private note: a value is as private as what it was worked out from.

use std::collections::BTreeSet;

use super::Worked;
use crate::calc::sheet::Reference;
use crate::dossier::{Dossier, NoteId, PartId};
use crate::shape::features;
use crate::text::Span;

/// Which notes and which values stay with the keeper.
#[derive(Debug, Default)]
pub struct Privacy {
    notes: BTreeSet<NoteId>,
    /// Their ids.
    ids: BTreeSet<String>,
    /// The values that rest on a private note by way of whatever others, by the id of their note and their name.
    values: BTreeSet<(String, String)>,
    /// The values quoted in prose that do.
    quotes: BTreeSet<Span>,
    /// The parts whose shape has a size that does.
    shapes: BTreeSet<PartId>,
}

impl Privacy {
    /// Follows every reference of the calculations.
    pub fn of(dossier: &Dossier, worked: &Worked) -> Self {
        let notes: BTreeSet<NoteId> = dossier.notes().filter(|note| is_private(dossier, *note)).collect();
        let ids = notes.iter().map(|note| dossier.head(*note).id.clone()).collect();
        let mut privacy = Self { notes, ids, ..Self::default() };
        while !privacy.ids.is_empty() && privacy.grow(dossier, worked) {}
        privacy
    }

    /// Whether a note stays with the keeper: a private one, and what was read or found on a private part.
    pub fn is_private(&self, note: NoteId) -> bool {
        self.notes.contains(&note)
    }

    /// Whether what a line of the note `id` refers to is private, or rests on what is.
    pub fn rests(&self, id: &str, references: &[Reference]) -> bool {
        references.iter().any(|reference| {
            let target = reference.note.as_deref().unwrap_or(id);
            self.ids.contains(target) || self.values.contains(&(target.to_owned(), reference.name.clone()))
        })
    }

    /// Whether a value that is quoted in prose rests on a private one.
    pub fn quote(&self, at: Span) -> bool {
        self.quotes.contains(&at)
    }

    /// Whether a part's shape has a size that rests on a private note.
    pub fn shape(&self, part: PartId) -> bool {
        self.shapes.contains(&part)
    }

    /// One round; whether anything was found.
    fn grow(&mut self, dossier: &Dossier, worked: &Worked) -> bool {
        let before = (self.values.len(), self.quotes.len());
        for (scope, note) in worked.evaluation.scopes.iter().zip(&worked.notes) {
            let id = &dossier.head(*note).id;
            for line in scope.blocks.iter().flat_map(|block| &block.lines) {
                if let Some(name) = &line.name
                    && self.rests(id, &line.references)
                {
                    self.values.insert((id.clone(), name.clone()));
                }
            }
        }
        for (span, (scope, quote)) in &worked.quotes {
            let (note, quotes) = (worked.notes[*scope], &worked.evaluation.scopes[*scope].quotes);
            if quotes.get(*quote).is_some_and(|quote| self.rests(&dossier.head(note).id, &quote.references)) {
                self.quotes.insert(*span);
            }
        }
        self.shapes(dossier, worked);
        before != (self.values.len(), self.quotes.len())
    }

    /// The named features of a shape are values of its part.
    fn shapes(&mut self, dossier: &Dossier, worked: &Worked) {
        for formed in &worked.shapes {
            let part = &dossier[formed.part];
            let formulas = part.shape.iter().flat_map(|shaped| &shaped.formulas);
            if formulas.into_iter().any(|formula| self.quotes.contains(&formula.span)) {
                let named = features(&formed.shape).into_iter();
                let named = named.map(|(name, _)| (part.id().to_owned(), name.replace([' ', '-'], "_")));
                self.values.extend(named);
                self.shapes.insert(formed.part);
            }
        }
    }
}

fn is_private(dossier: &Dossier, note: NoteId) -> bool {
    let is_hidden = |part: &PartId| dossier[*part].head.private;
    dossier.head(note).private
        || match note {
            NoteId::Measurement(id) => is_hidden(&dossier[id].of),
            NoteId::Finding(id) => dossier[id].about.iter().any(is_hidden),
            _ => false,
        }
}
