//! Which names the calculations of the notes refer to, and which fields of them.

use std::collections::{BTreeMap, BTreeSet};

use crate::Project;
use crate::dossier::NoteId;

/// By note and by name in it: the fields that are read somewhere; empty text where the name stands alone.
#[derive(Debug, Default)]
pub(super) struct Named(BTreeMap<(NoteId, String), BTreeSet<String>>);

impl Named {
    pub(super) fn of(project: &Project) -> Self {
        let mut named = Self::default();
        for (_, note, reference) in project.worked.references(&project.dossier) {
            let field = reference.field.clone().unwrap_or_default();
            named.0.entry((note, reference.name.clone())).or_default().insert(field);
        }
        named
    }

    /// The fields of a name that are read somewhere; `None` where nothing refers to it at all.
    pub(super) fn fields(&self, note: NoteId, name: &str) -> Option<BTreeSet<&str>> {
        let fields = self.0.get(&(note, name.to_owned()))?;
        Some(fields.iter().map(String::as_str).filter(|field| !field.is_empty()).collect())
    }
}
