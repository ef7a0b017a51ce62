//! What belongs to one job: its parts, the readings that matter to it, what goes of the findings and the log.

use std::collections::BTreeSet;

use super::redaction::Redaction;
use crate::dossier::{Dossier, EntryId, FindingId, MeasurementId, NoteId, PartId, QuestionId, StepId};
use crate::hazard::Hazard;
use crate::plan::in_hand;
use crate::record::{QuestionState, Severity, Want};
use crate::render::edition::Edition;

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
        let mut scope =
            Self { edition, redaction, step, parts, sized, shaped, replaced, measurements: Vec::new() };
        scope.measurements = scope.measurements();
        scope
    }

    /// What a part is called here.
    pub(super) fn name(&self, part: PartId) -> String {
        self.redaction.text(part, &self.edition.dossier()[part].name)
    }

    pub(super) fn names(&self, parts: &[PartId]) -> Vec<String> {
        parts.iter().map(|part| self.name(*part)).collect()
    }

    /// Whether it is a part of the job, or what one is within: what else comes along is not worked on.
    pub(super) fn has_in_hand(&self, part: PartId) -> bool {
        let dossier = self.edition.dossier();
        let around = |own: &PartId| std::iter::successors(Some(*own), |part| dossier[*part].within);
        self.parts.iter().flat_map(around).any(|one| one == part)
    }

    /// Whether who does the job works to sizes.
    pub(super) fn shapes(&self) -> bool {
        is_shaping(self.edition.dossier(), self.step)
    }

    /// Whether something heavy is lifted, pressed or carried.
    pub(super) fn lifts(&self) -> bool {
        let keys = &self.edition.dossier()[self.step];
        let is_lifting = |want: &Want| ["lift", "jack", "press", "reach"].contains(&want.what.as_str());
        keys.calls_for.iter().any(is_lifting) || keys.named_hazards().contains(&Hazard::Lifting)
    }

    /// Pages of the log that go, about the step or its parts.
    pub(super) fn entries(&self) -> impl Iterator<Item = EntryId> {
        let dossier = self.edition.dossier();
        let ours = |note: &NoteId| match note {
            NoteId::Part(part) => self.is_ours(*part),
            NoteId::Step(step) => *step == self.step,
            _ => false,
        };
        let is_about = move |id: &EntryId| dossier[*id].about.iter().any(ours);
        dossier.entries.ids().filter(move |id| self.redaction.goes(*id) && is_about(id))
    }

    /// What was found on the job's parts and on what they replace, as far as it goes and the job needs it.
    pub(super) fn findings(&self) -> impl Iterator<Item = FindingId> {
        self.found().filter(|id| self.needs(*id))
    }

    /// What was found on its parts, and is not needed for it.
    pub(super) fn unneeded(&self) -> impl Iterator<Item = FindingId> {
        self.found().filter(|id| !self.needs(*id))
    }

    fn found(&self) -> impl Iterator<Item = FindingId> {
        let dossier = self.edition.dossier();
        let is_about = |id: &FindingId| dossier[*id].about.iter().any(|part| self.is_ours(*part));
        dossier.findings.ids().filter(move |id| self.redaction.goes(*id) && is_about(id))
    }

    /// A job needs of its parts what can hurt, what it mends and what its note names. What another step mends is the
    /// business of that step; what is minor, of whoever works the part to size; and who only moves it needs no more.
    /// Common practice, no source.
    fn needs(&self, id: FindingId) -> bool {
        let dossier = self.edition.dossier();
        let severity = dossier[id].severity;
        let mends = |step: StepId| dossier[step].mends.contains(&id);
        let is_named = || dossier.named_in(id.into()).any(|note| note == NoteId::Step(self.step));
        let is_of_another = || dossier.steps.ids().any(|step| step != self.step && mends(step));
        let is_slight = || !self.shapes() && severity.is_some_and(|severity| severity < Severity::Serious);
        severity == Some(Severity::Dangerous)
            || in_hand::warns(dossier, id)
            || mends(self.step)
            || is_named()
            || !(self.only_moves() || is_slight() || is_of_another())
    }

    /// Whether its parts are only taken off, lifted or put back: by no process of its own, and not by force.
    fn only_moves(&self) -> bool {
        let keys = &self.edition.dossier()[self.step];
        let by_force = keys.named_hazards().contains(&Hazard::Pressing);
        let works = self.shapes() || by_force || !keys.processes.is_empty();
        let moves = !keys.removes.is_empty() || !keys.refits.is_empty();
        moves && !works
    }

    /// Open questions that the job hangs on or settles, that its note names, or that are about a part that it works to size.
    pub(super) fn questions(&self) -> impl Iterator<Item = QuestionId> {
        let dossier = self.edition.dossier();
        let ours = |note: &NoteId| matches!(note, NoteId::Part(part) if self.is_ours(*part));
        let step = NoteId::Step(self.step);
        let matters = move |id: &QuestionId| {
            dossier[self.step].hangs_on.contains(id)
                || dossier[*id].settled_by.contains(&step)
                || dossier.named_in((*id).into()).any(|note| note == step)
                || self.shapes() && dossier[*id].about.iter().any(ours)
        };
        dossier.questions.ids().filter(move |id| {
            dossier[*id].state == QuestionState::Open && self.redaction.goes(*id) && matters(id)
        })
    }

    /// Findings and questions about the job that its notes keep in.
    pub(super) fn stays(&self) -> Vec<NoteId> {
        let dossier = self.edition.dossier();
        let ours = |part: &PartId| self.is_ours(*part);
        let findings = dossier.findings.ids().filter(|id| dossier[*id].about.first().is_some_and(ours));
        let hangs_on = dossier[self.step].hangs_on.iter().copied().map(NoteId::Question);
        let all = findings.map(NoteId::Finding).chain(hangs_on);
        all.filter(|note| self.redaction.is_open(*note) && !self.redaction.goes(*note)).collect()
    }

    /// What is said of a part, after its name unless it is the job's only one.
    pub(super) fn of_part(&self, part: PartId, says: &str) -> String {
        if self.parts == [part] { says.to_owned() } else { format!("{}: {says}", self.name(part)) }
    }

    /// A part of the job, or one that it replaces.
    pub(super) fn is_ours(&self, part: PartId) -> bool {
        self.parts.contains(&part) || self.replaced.contains(&part)
    }

    /// Of the job's own parts, and what its calculations read of those that they replace and mate with.
    fn measurements(&self) -> Vec<MeasurementId> {
        let dossier = self.edition.dossier();
        // Who works nothing to size needs no sizes but those that the job's own note reads or names.
        let (step, is_shaped) = (NoteId::Step(self.step), self.shapes());
        let is_named = |id: MeasurementId| dossier.named_in(id.into()).any(|note| note == step);
        let own = dossier.measurements.ids().filter(|id| self.parts.contains(&dossier[*id].of));
        let own = own.filter(|id| is_shaped || is_named(*id));
        let parts = self.shaped.iter().filter(|_| is_shaped).map(|part| NoteId::Part(*part));
        let bodies = parts.chain([self.step.into()]);
        let blocks = bodies.flat_map(|note| &dossier.head(note).body);
        let worked = &self.edition.project.worked;
        let drawn_on = blocks.flat_map(|block| worked.notes_in(dossier, block.span));
        let drawn_on = drawn_on.filter_map(|note| match note {
            NoteId::Measurement(id) if self.is_near(dossier[id].of) => Some(id),
            _ => None,
        });
        once_each(own.chain(drawn_on).filter(|id| self.redaction.is_open(*id)))
    }

    fn is_near(&self, part: PartId) -> bool {
        let fits = self.sized.iter().filter_map(|own| self.edition.dossier()[*own].fit.as_ref());
        self.is_ours(part) || fits.into_iter().any(|fit| fit.with == part)
    }
}

/// Whether a step makes a part or takes metal off: who does it works to sizes.
pub(in crate::render) fn is_shaping(dossier: &Dossier, step: StepId) -> bool {
    let keys = &dossier[step];
    let takes_metal = |process: &String| {
        let words = process.to_lowercase();
        words.split([' ', '-', '_']).any(|word| SHAPING.contains(&word))
    };
    !keys.makes.is_empty() || keys.processes.iter().any(takes_metal)
}

/// Processes that take metal off or give it its form, by the last word of their names. Common practice, no source.
const SHAPING: [&str; 17] = [
    "turning",
    "boring",
    "milling",
    "grinding",
    "planing",
    "shaping",
    "slotting",
    "cutting",
    "reaming",
    "drilling",
    "broaching",
    "honing",
    "lapping",
    "threading",
    "casting",
    "forging",
    "machining",
];

fn once_each<T: Copy + Ord>(items: impl Iterator<Item = T>) -> Vec<T> {
    let mut seen = BTreeSet::new();
    items.filter(|item| seen.insert(*item)).collect()
}
