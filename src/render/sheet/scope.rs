//! What belongs to one job: its parts, the readings that matter to it and the working that fixes its sizes.

use std::collections::{BTreeMap, BTreeSet};

use super::redaction::Redaction;
use crate::calc::dimension::Dimension;
use crate::calc::sheet::BlockOutcome;
use crate::dossier::{FindingId, MeasurementId, NoteId, PartId, QuestionId, StepId};
use crate::note::body::Block;
use crate::record::QuestionState;
use crate::render::edition::Edition;
use crate::text::Span;

/// What belongs to one job, private notes left out.
pub(super) struct Scope<'a> {
    pub(super) edition: &'a Edition<'a>,
    pub(super) redaction: &'a Redaction<'a>,
    pub(super) step: StepId,
    /// The parts that the job names, each once.
    pub(super) parts: Vec<PartId>,
    /// Those of them whose sizes matter: all that are not only taken off.
    pub(super) sized: Vec<PartId>,
    /// Those of them that are shaped, not only taken off, put back or used.
    pub(super) shaped: Vec<PartId>,
    /// Those that the job's parts take the place of.
    pub(super) replaced: Vec<PartId>,
    pub(super) measurements: Vec<MeasurementId>,
    /// The calculations that fix a size, by the part whose note they stand in.
    working: BTreeMap<PartId, Vec<Span>>,
    /// What the text of the job itself may say.
    pub(super) own_blocks: Vec<Span>,
}

impl<'a> Scope<'a> {
    pub(super) fn of(edition: &'a Edition<'a>, redaction: &'a Redaction<'a>, step: StepId) -> Self {
        let dossier = edition.dossier();
        let keys = &dossier[step];
        let open = |part: &PartId| redaction.is_open(*part);
        let named = [&keys.parts, &keys.makes, &keys.removes, &keys.refits].into_iter().flatten().copied();
        let parts = once_each(named.filter(open));
        let is_sized = |part: &PartId| !keys.removes.contains(part) || keys.makes.contains(part);
        let sized: Vec<PartId> = parts.iter().copied().filter(is_sized).collect();
        let only_fitted = |part: &PartId| keys.refits.contains(part) || keys.uses.contains(part);
        let is_shaped = |part: &PartId| !only_fitted(part) || keys.makes.contains(part);
        let shaped: Vec<PartId> = sized.iter().copied().filter(is_shaped).collect();
        let replaced =
            once_each(shaped.iter().flat_map(|part| &dossier[*part].replaces).copied().filter(open));
        let own_blocks = redaction.blocks(step);
        let mut scope = Self {
            edition,
            redaction,
            step,
            parts,
            sized,
            shaped,
            replaced,
            measurements: Vec::new(),
            working: BTreeMap::new(),
            own_blocks,
        };
        scope.working = scope.working();
        scope.measurements = scope.measurements();
        scope
    }

    /// The calculations of a part's note that fix a size of this job.
    pub(super) fn blocks_of(&self, part: PartId) -> &[Span] {
        self.working.get(&part).map_or(&[], Vec::as_slice)
    }

    /// All of them, part by part.
    pub(super) fn blocks(&self) -> impl Iterator<Item = (PartId, Span)> {
        self.working.iter().flat_map(|(part, blocks)| blocks.iter().map(|block| (*part, *block)))
    }

    /// What was found on the job's parts and on what they replace.
    pub(super) fn findings(&self) -> impl Iterator<Item = FindingId> {
        let dossier = self.edition.dossier();
        let is_about = |id: &FindingId| dossier[*id].about.iter().any(|part| self.is_ours(*part));
        dossier.findings.ids().filter(move |id| self.redaction.is_open(*id) && is_about(id))
    }

    /// Open questions that the job hangs on, or that are about its parts.
    pub(super) fn questions(&self) -> impl Iterator<Item = QuestionId> {
        let dossier = self.edition.dossier();
        let ours = |note: &NoteId| matches!(note, NoteId::Part(part) if self.is_ours(*part));
        let matters = move |id: &QuestionId| {
            dossier[self.step].hangs_on.contains(id) || dossier[*id].about.iter().any(ours)
        };
        dossier.questions.ids().filter(move |id| {
            dossier[*id].state == QuestionState::Open && self.redaction.is_open(*id) && matters(id)
        })
    }

    /// What is said of a part, after its name unless it is the job's only one.
    pub(super) fn of_part(&self, part: PartId, says: &str) -> String {
        if self.parts == [part] {
            says.to_owned()
        } else {
            format!("{}: {says}", self.edition.dossier()[part].name)
        }
    }

    /// A part of the job, or one that it replaces.
    pub(super) fn is_ours(&self, part: PartId) -> bool {
        self.parts.contains(&part) || self.replaced.contains(&part)
    }

    fn working(&self) -> BTreeMap<PartId, Vec<Span>> {
        let of_part = |part: &PartId| {
            let body = &self.edition.dossier()[*part].head.body;
            let wanted = body.iter().filter(|block| self.fixes_a_size(block) && self.redaction.allows(block));
            (*part, wanted.map(|block| block.span).collect())
        };
        self.shaped.iter().chain(&self.replaced).map(of_part).collect()
    }

    /// A calculation that comes to a length, from the job's own parts, their mates and what was measured on them.
    fn fixes_a_size(&self, block: &Block) -> bool {
        let comes_to_length = |outcome: &BlockOutcome| {
            let values = outcome.lines.iter().filter_map(|line| line.value.as_ref()?.quantity());
            values.into_iter().any(|quantity| quantity.dimension == Dimension::LENGTH)
        };
        let worked = &self.edition.project.worked;
        worked.block(block.span).is_some_and(comes_to_length)
            && worked.notes_in(self.edition.dossier(), block.span).all(|note| self.is_near(note))
    }

    fn is_near(&self, note: NoteId) -> bool {
        match note {
            NoteId::Part(part) => self.is_ours(part) || self.is_mate(part),
            NoteId::Measurement(id) => self.is_near(self.edition.dossier()[id].of.into()),
            _ => false,
        }
    }

    fn is_mate(&self, other: PartId) -> bool {
        let fits = self.sized.iter().filter_map(|part| self.edition.dossier()[*part].fit.as_ref());
        fits.into_iter().any(|fit| fit.with == other)
    }

    /// Of the job's own parts; and of what they replace and their mates what the working draws on.
    fn measurements(&self) -> Vec<MeasurementId> {
        let dossier = self.edition.dossier();
        let own = dossier.measurements.ids().filter(|id| self.parts.contains(&dossier[*id].of));
        let shown = self.blocks().map(|(_, block)| block).chain(self.own_blocks.iter().copied());
        let worked = &self.edition.project.worked;
        let drawn_on = shown.flat_map(|span| worked.notes_in(dossier, span));
        let drawn_on = drawn_on.filter_map(|note| match note {
            NoteId::Measurement(id) => Some(id),
            _ => None,
        });
        once_each(own.chain(drawn_on).filter(|id| self.redaction.is_open(*id)))
    }
}

fn once_each<T: Copy + Ord>(items: impl Iterator<Item = T>) -> Vec<T> {
    let mut seen = BTreeSet::new();
    items.filter(|item| seen.insert(*item)).collect()
}
