//! Which part stands in the place of which: a new part takes over what trapped the old one, and what the old one trapped.

use std::collections::BTreeMap;

use crate::dossier::{Dossier, PartId};

/// Who traps whom, with what new parts take over from those they replace.
pub(super) struct Slots {
    /// By part: the parts whose place it takes, and those whose place they took.
    earlier: Vec<Vec<PartId>>,
    /// By part: the parts that take its place, and those that take theirs.
    later: Vec<Vec<PartId>>,
    /// By part: what traps it, by its own note or by that of a part whose place it takes.
    trapped_by: Vec<Vec<PartId>>,
    /// By part: what it traps.
    traps: BTreeMap<PartId, Vec<PartId>>,
}

impl Slots {
    pub(super) fn of(dossier: &Dossier) -> Self {
        let earlier: Vec<Vec<PartId>> = dossier.parts.ids().map(|part| replaced_by(dossier, part)).collect();
        let mut later = vec![Vec::new(); dossier.parts.len()];
        for part in dossier.parts.ids() {
            for &old in &earlier[part.index()] {
                later[old.index()].push(part);
            }
        }
        let mut slots = Self { earlier, later, trapped_by: Vec::new(), traps: BTreeMap::new() };
        slots.trapped_by = dossier.parts.ids().map(|part| slots.all_traps(dossier, part)).collect();
        for part in dossier.parts.ids() {
            for &trap in &slots.trapped_by[part.index()] {
                slots.traps.entry(trap).or_default().push(part);
            }
        }
        slots
    }

    /// The parts whose place this one takes, however long ago they were replaced.
    pub(super) fn earlier(&self, part: PartId) -> &[PartId] {
        &self.earlier[part.index()]
    }

    /// The parts that take this one's place.
    pub(super) fn later(&self, part: PartId) -> &[PartId] {
        &self.later[part.index()]
    }

    /// What traps a part, now or once something is replaced.
    pub(super) fn trapped_by(&self, part: PartId) -> &[PartId] {
        &self.trapped_by[part.index()]
    }

    /// What a part traps, now or once something is replaced.
    pub(super) fn traps(&self, part: PartId) -> &[PartId] {
        self.traps.get(&part).map_or(&[], Vec::as_slice)
    }

    fn all_traps(&self, dossier: &Dossier, part: PartId) -> Vec<PartId> {
        let places = std::iter::once(&part).chain(self.earlier(part));
        let written = places.flat_map(|place| &dossier[*place].trapped_by).copied();
        let mut all: Vec<PartId> =
            written.flat_map(|trap| std::iter::once(trap).chain(self.later(trap).iter().copied())).collect();
        all.sort_unstable();
        all.dedup();
        let is_itself = |trap: &PartId| {
            *trap == part || self.earlier(part).contains(trap) || self.later(part).contains(trap)
        };
        all.retain(|trap| !is_itself(trap));
        all
    }
}

/// The parts that a part stands in for, followed back; each once, however they replace each other.
fn replaced_by(dossier: &Dossier, part: PartId) -> Vec<PartId> {
    let mut found = Vec::new();
    let mut open = vec![part];
    while let Some(new) = open.pop() {
        for &old in dossier[new].replaces.iter().filter(|_| dossier[new].sits_as_before) {
            if old != part && !found.contains(&old) {
                found.push(old);
                open.push(old);
            }
        }
    }
    found
}
