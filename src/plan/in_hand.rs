//! What can hurt in what a step has in hand: the hazards of the parts that come with the work, by what was found on them.
//!
//! A part holds a hazard where a finding about it, or about what it is within, or one of its tags names it, or where its
//! material is asbestos. A step has in hand the parts that it names with all that is still within them; of what is off the
//! machine all that comes with it, as the brake comes with the winch whose shaft is worked on. What a step before it mends
//! is gone. Common practice, no source.

use std::collections::{BTreeMap, BTreeSet};

use super::past::{Moment, Past};
use crate::dossier::{Dossier, FindingId, PartId, StepId};
use crate::hazard::Hazard;
use crate::record::{Disposition, StepState, Supply};
use crate::trade::hazard::named;

/// The parts by which a step has a hazard in hand.
pub type InHand = BTreeMap<Hazard, BTreeSet<PartId>>;

/// What a part itself can hold, unlike the hazards of the work on it.
const HELD: [Hazard; 6] = [
    Hazard::StoredEnergy,
    Hazard::Asbestos,
    Hazard::LeadPaint,
    Hazard::FlammableVapour,
    Hazard::Pressure,
    Hazard::MouldAndDroppings,
];

/// By step.
pub(super) fn of_steps(dossier: &Dossier) -> Vec<InHand> {
    let (sources, past) = (sources(dossier), Past::of(dossier));
    let of_step = |id: StepId| match &sources[..] {
        [] => InHand::new(),
        _ if dossier[id].state == StepState::Dropped => InHand::new(),
        _ => of_step(dossier, id, &sources, past.at(id)),
    };
    dossier.steps.ids().map(of_step).collect()
}

/// A hazard that a part holds, and the finding that says so.
struct Source {
    hazard: Hazard,
    part: PartId,
    finding: Option<FindingId>,
    /// The steps that are to mend the finding.
    mended_by: Vec<StepId>,
}

fn sources(dossier: &Dossier) -> Vec<Source> {
    let mut mended_by: BTreeMap<FindingId, Vec<StepId>> = BTreeMap::new();
    for step in dossier.steps.ids() {
        dossier[step].mends.iter().for_each(|finding| mended_by.entry(*finding).or_default().push(step));
    }
    let found = dossier.findings.ids().flat_map(|id| {
        let keys = &dossier[id];
        let hazards = held(keys.condition.iter().chain(&keys.head.tags));
        let about = |hazard| {
            let mended_by = mended_by.get(&id).cloned().unwrap_or_default();
            keys.about.iter().map(move |part| Source {
                hazard,
                part: *part,
                finding: Some(id),
                mended_by: mended_by.clone(),
            })
        };
        hazards.into_iter().flat_map(about).collect::<Vec<_>>()
    });
    let noted = dossier.parts.ids().flat_map(|part| {
        let keys = &dossier[part];
        let material = held(keys.material.iter()).into_iter().filter(|hazard| *hazard == Hazard::Asbestos);
        let hazards: BTreeSet<Hazard> = held(keys.head.tags.iter()).into_iter().chain(material).collect();
        hazards.into_iter().map(move |hazard| Source { hazard, part, finding: None, mended_by: Vec::new() })
    });
    found.chain(noted).collect()
}

/// Whether a finding is of something that can hurt whoever has the part in hand.
pub fn warns(dossier: &Dossier, finding: FindingId) -> bool {
    let keys = &dossier[finding];
    !held(keys.condition.iter().chain(&keys.head.tags)).is_empty()
}

fn held<'a>(texts: impl Iterator<Item = &'a String>) -> BTreeSet<Hazard> {
    texts.flat_map(|text| named(text).hazards).filter(|hazard| HELD.contains(hazard)).collect()
}

fn of_step(dossier: &Dossier, id: StepId, sources: &[Source], then: Moment) -> InHand {
    let in_hand = in_hand(dossier, id, then);
    let mut all = InHand::new();
    for source in sources.iter().filter(|source| !is_mended(dossier, source, then)) {
        if in_hand.contains(&source.part) || named_within(dossier, id, source.part) {
            all.entry(source.hazard).or_default().insert(source.part);
        }
    }
    all
}

/// The parts of a step, and what comes with each.
fn in_hand(dossier: &Dossier, id: StepId, then: Moment) -> BTreeSet<PartId> {
    let is_off = |part| then.is_off(part);
    let mut all = BTreeSet::new();
    let mut open: Vec<PartId> = parts(dossier, id).map(|part| comes_as(dossier, part, &is_off)).collect();
    while let Some(part) = open.pop() {
        if all.insert(part) {
            open.extend(
                dossier.children(part).iter().filter(|child| !is_off(**child) && !is_new(dossier, **child)),
            );
        }
    }
    all
}

fn parts(dossier: &Dossier, id: StepId) -> impl Iterator<Item = PartId> {
    let keys = &dossier[id];
    [&keys.parts, &keys.removes, &keys.refits, &keys.uses, &keys.makes].into_iter().flatten().copied()
}

/// What a part comes in: the assembly that is off the machine, as long as it is in it; else itself.
pub(super) fn comes_as(dossier: &Dossier, part: PartId, is_off: &impl Fn(PartId) -> bool) -> PartId {
    around(dossier, part).find(|part| is_off(*part) || is_new(dossier, *part)).unwrap_or(part)
}

/// Made or bought, and not fitted yet.
pub(super) fn is_new(dossier: &Dossier, part: PartId) -> bool {
    let keys = &dossier[part];
    matches!(keys.disposition, Disposition::Buy | Disposition::Make) && keys.supply != Supply::Fitted
}

/// Whether the step names an old part within this one: what was found on an assembly may be anywhere in it.
fn named_within(dossier: &Dossier, id: StepId, whole: PartId) -> bool {
    parts(dossier, id).any(|part| !is_new(dossier, part) && around(dossier, part).any(|part| part == whole))
}

/// A part, then what it is within, from the inside out.
fn around(dossier: &Dossier, part: PartId) -> impl Iterator<Item = PartId> {
    std::iter::successors(Some(part), |part| dossier[*part].within)
}

/// Whether a step before mends it on that part, or on something in it; one that names no part of the finding mends all of it.
fn is_mended(dossier: &Dossier, source: &Source, then: Moment) -> bool {
    let Some(finding) = source.finding else { return false };
    let about = &dossier[finding].about;
    let mends = |step: &StepId| {
        let theirs: Vec<PartId> = parts(dossier, *step).filter(|part| about.contains(part)).collect();
        theirs.is_empty()
            || theirs.iter().any(|part| around(dossier, *part).any(|whole| whole == source.part))
    };
    source.mended_by.iter().filter(|step| then.is_after(**step)).any(mends)
}
