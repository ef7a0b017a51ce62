//! What carries load: the tagged parts with all that is within them, and the checks that concern them.

use std::collections::{BTreeMap, BTreeSet};

use super::{Asks, Check, LOAD_TAG, LoadPart, checks, problem};
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::sheet::{LineOutcome, Place};
use crate::diagnostic::{Problem, nearest};
use crate::dossier::{Dossier, NoteId, PartId, StepId};
use crate::hazard::Hazard;
use crate::record::{Disposition, StepState, Supply};
use crate::worked::Worked;

/// What people also write for the tag.
const OTHER_WORDS: &[&str] =
    &["load-carrying", "load-bearing", "carrying-load", "bears-load", "load-path", "structural"];

pub(super) struct Load<'a> {
    dossier: &'a Dossier,
    worked: &'a Worked,
    tagged: BTreeSet<PartId>,
    /// The parts that are no longer in the machine.
    gone: BTreeSet<PartId>,
    /// The lines that have a name, by the note and the name.
    named: BTreeMap<(&'a str, &'a str), &'a LineOutcome>,
}

impl<'a> Load<'a> {
    pub(super) fn of(dossier: &'a Dossier, worked: &'a Worked) -> Self {
        let tagged =
            dossier.parts.ids().filter(|part| dossier[*part].head.tags.iter().any(|tag| is_tag(tag)));
        let named = worked.scopes().flat_map(|(note, outcome)| {
            let id = dossier.head(note).id.as_str();
            let lines = outcome.blocks.iter().flat_map(|block| &block.lines);
            lines.filter_map(move |line| Some(((id, line.name.as_deref()?), line)))
        });
        Self { dossier, worked, tagged: tagged.collect(), gone: gone(dossier), named: named.collect() }
    }

    /// The tagged part that this one is, or is within; the nearest of several.
    fn carrier(&self, part: PartId) -> Option<PartId> {
        let mut upwards = std::iter::successors(Some(part), |part| self.dossier[*part].within);
        upwards.find(|part| self.tagged.contains(part))
    }

    /// Whether a part is still in the machine.
    pub(super) fn is_there(&self, part: PartId) -> bool {
        !self.gone.contains(&part)
    }

    /// The parts that a note is about.
    fn parts_of(&self, note: NoteId) -> Vec<PartId> {
        let dossier = self.dossier;
        match note {
            NoteId::Part(id) => vec![id],
            NoteId::Measurement(id) => vec![dossier[id].of],
            NoteId::Finding(id) => dossier[id].about.clone(),
            NoteId::Paper(id) => {
                let named = dossier[id].about.iter().filter(|note| !matches!(note, NoteId::Paper(_)));
                named.flat_map(|note| self.parts_of(*note)).collect()
            }
            NoteId::Question(_) | NoteId::Step(_) | NoteId::Shop(_) | NoteId::Entry(_) => Vec::new(),
        }
    }

    /// The tagged parts that a note concerns and that are still there, each once.
    fn carriers(&self, note: NoteId) -> BTreeSet<PartId> {
        let parts = self.parts_of(note).into_iter().filter(|part| self.is_there(*part));
        parts.filter_map(|part| self.carrier(part)).collect()
    }

    /// Every tagged part with what was found on it, in the order of the tree.
    pub(super) fn parts(&self) -> Vec<LoadPart> {
        let dossier = self.dossier;
        let mut findings = self.by_carrier(dossier.findings.ids());
        for of_one in findings.values_mut() {
            of_one.sort_by_key(|id| std::cmp::Reverse(dossier[*id].severity));
        }
        let mut papers = self.by_carrier(dossier.papers.ids());
        let tree = dossier.tree().into_iter().map(|(part, _)| part);
        tree.filter(|part| self.tagged.contains(part) && self.is_there(*part))
            .map(|part| LoadPart {
                part,
                findings: findings.remove(&part).unwrap_or_default(),
                papers: papers.remove(&part).unwrap_or_default(),
            })
            .collect()
    }

    /// Notes of one kind by the tagged parts that they concern.
    fn by_carrier<Id: Copy + Into<NoteId>>(
        &self,
        ids: impl Iterator<Item = Id>,
    ) -> BTreeMap<PartId, Vec<Id>> {
        let mut found: BTreeMap<PartId, Vec<Id>> = BTreeMap::new();
        for id in ids {
            for part in self.carriers(id.into()) {
                found.entry(part).or_default().push(id);
            }
        }
        found
    }

    /// The checks of what carries load, and all others; the worst first.
    pub(super) fn checks(&self) -> (Vec<Check>, Vec<Check>) {
        let all = checks::all(self.dossier, self.worked).into_iter();
        let mut all: Vec<Check> = all.filter_map(|check| self.of_what_is_there(check)).collect();
        all.sort_by_key(|check| match check.outcome {
            Outcome::Fails => 0,
            Outcome::NotSettled => 1,
            Outcome::Holds => 2,
        });
        all.into_iter().partition(|check| self.concerns_load(check))
    }

    /// The check with the tagged part that it concerns; `None` for a feature of a part that is gone.
    fn of_what_is_there(&self, check: Check) -> Option<Check> {
        let measured = match check.asks {
            Asks::Line(_) => None,
            Asks::Limits(measurement) | Asks::Fit(_, measurement) => Some(self.dossier[measurement].of),
        };
        let is_there = measured.is_none_or(|part| self.is_there(part));
        is_there.then(|| Check { part: self.carriers(check.note).first().copied(), ..check })
    }

    fn concerns_load(&self, check: &Check) -> bool {
        check.part.is_some()
            || match check.asks {
                Asks::Line(place) => self.may_carry(check.note) && self.rests_on_load(check.note, place),
                Asks::Limits(_) | Asks::Fit(..) => false,
            }
    }

    /// Whether a formula for what carries load in this note concerns the machine as it stands: neither a step that is over nor
    /// a part that is gone.
    fn may_carry(&self, note: NoteId) -> bool {
        let is_over = |id: StepId| matches!(self.dossier[id].state, StepState::Done | StepState::Dropped);
        match note {
            NoteId::Step(id) => !is_over(id),
            note => {
                let parts = self.parts_of(note);
                parts.is_empty() || parts.into_iter().any(|part| self.is_there(part))
            }
        }
    }

    /// Whether a workshop function for what carries load stands behind a line, by way of whatever other lines.
    fn rests_on_load(&self, note: NoteId, place: Place) -> bool {
        let Some(line) = self.worked.evaluation.line(place) else { return false };
        let carries = |hazard| matches!(hazard, Some(Hazard::LoadCarryingPart | Hazard::LoadCarryingWeld));
        let mut open = vec![(self.dossier.head(note).id.as_str(), line)];
        let mut seen = BTreeSet::new();
        while let Some((id, line)) = open.pop() {
            if line.functions.iter().any(|function| carries(function.hazard)) {
                return true;
            }
            for reference in &line.references {
                let target = (reference.note.as_deref().unwrap_or(id), reference.name.as_str());
                if let Some((key, line)) = self.named.get_key_value(&target)
                    && seen.insert(*key)
                {
                    open.push((key.0, line));
                }
            }
        }
        false
    }
}

/// The parts that are off for good: replaced by one that is fitted; or scrapped, taken off, and without a successor.
fn gone(dossier: &Dossier) -> BTreeSet<PartId> {
    let done = || dossier.steps.iter().filter(|step| step.state == StepState::Done);
    let off: BTreeSet<PartId> = done().flat_map(|step| step.removes.iter().copied()).collect();
    let put_in: BTreeSet<PartId> = done().flat_map(|step| step.uses.iter().copied()).collect();
    let old: BTreeSet<PartId> = dossier.parts.iter().flat_map(|newer| &newer.replaces).copied().collect();
    let is_fitted = |newer: &PartId| dossier[*newer].supply == Supply::Fitted || put_in.contains(newer);
    let replaced =
        dossier.parts.ids().filter(is_fitted).flat_map(|newer| dossier[newer].replaces.iter().copied());
    let is_scrap = |part: &PartId| dossier[*part].disposition == Disposition::Scrap && off.contains(part);
    dossier.parts.ids().filter(|part| is_scrap(part) && !old.contains(part)).chain(replaced).collect()
}

/// One spelling for capitals, spaces and underscores.
fn spelled(tag: &str) -> String {
    tag.trim().to_lowercase().replace([' ', '_'], "-")
}

fn is_tag(tag: &str) -> bool {
    spelled(tag) == spelled(LOAD_TAG)
}

/// Tags of parts that were probably meant for the one that counts.
pub(super) fn near_tags(dossier: &Dossier) -> Vec<Problem> {
    let is_near = |tag: &&String| {
        let spelled = spelled(tag);
        !is_tag(tag)
            && (nearest(&spelled, ["carries-load"]).is_some() || OTHER_WORDS.contains(&spelled.as_str()))
    };
    let of = |part: PartId| {
        let head = &dossier[part].head;
        head.tags.iter().filter(is_near).map(move |tag| problem::near_tag(head, tag))
    };
    dossier.parts.ids().flat_map(of).collect()
}

/// Parts that carry load and are turned to a sharp corner: at most one caution a part.
pub(super) fn sharp_shoulders(dossier: &Dossier, worked: &Worked) -> Vec<Problem> {
    let is_cut = |part: PartId| matches!(dossier[part].disposition, Disposition::Make | Disposition::Rework);
    let tagged = dossier.parts.ids().filter(|part| dossier[*part].head.tags.iter().any(|tag| is_tag(tag)));
    let one = |part: PartId| {
        let sharp = worked.shape(part)?.sharp_shoulder()?;
        let place = dossier[part].shape.as_ref()?.place(sharp.feature);
        Some(problem::sharp_shoulder(&dossier[part].head, place, &sharp.between))
    };
    tagged.filter(|part| is_cut(*part)).filter_map(one).collect()
}
