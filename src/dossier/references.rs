//! What the keys of a note name, and where that is defined.

use super::{Dossier, InstrumentId, NoteId};
use crate::record::{Link, Target};
use crate::text::Span;

/// What an id stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Named {
    Note(NoteId),
    Instrument(InstrumentId),
}

/// An id in the keys of a note that names something of the project.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KeyReference {
    /// Where the id stands.
    pub place: Span,
    pub to: Named,
}

impl Dossier {
    /// What the keys of a note name, in their order.
    pub fn references(&self, note: NoteId) -> impl Iterator<Item = KeyReference> {
        self.head(note).links.iter().filter_map(|link| self.reference(link))
    }

    /// Where it is defined: the id of a note, or the very start of the file whose name it is; the key of an instrument.
    pub fn definition(&self, named: Named) -> Span {
        match named {
            Named::Note(note) => self.head(note).id_place(),
            Named::Instrument(instrument) => self[instrument].key_span,
        }
    }

    fn reference(&self, link: &Link) -> Option<KeyReference> {
        let id = &link.typed.text;
        let to = match link.to {
            Target::Instrument => Named::Instrument(self.instrument(id)?),
            Target::Note(kind) => Named::Note(self.find(id).filter(|note| note.kind() == kind)?),
            Target::AnyNote => Named::Note(self.find(id)?),
        };
        Some(KeyReference { place: link.typed.span, to })
    }

    fn instrument(&self, key: &str) -> Option<InstrumentId> {
        self.about.instruments.iter().position(|instrument| instrument.key == key).map(InstrumentId::new)
    }
}
