//! The machine: the tree of parts, and every part with what was found, measured and decided.

use std::collections::BTreeSet;

use serde::Serialize;

use super::assets::width_of_each;
use super::bill::without_unknown;
use super::edition::Edition;
use super::fit::{self, FitShape};
use super::measurement::{self, MeasurementShape};
use super::part_drawing;
use super::prerequisites::{self, Prerequisites};
use super::prose::said;
use super::shapes::{Fact, Mention, Picture, RecordShape};
use super::upkeep::{self, UpkeepLine};
use super::wear;
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::print::counted;
use crate::dossier::Dossier;
use crate::dossier::{FindingId, MeasurementId, NoteId, PartId, StepId};
use crate::record::{Disposition, MeasurementState, Pieces, Severity, Supply};

#[derive(Serialize)]
pub(super) struct Machine {
    tree: String,
    wear: Option<String>,
    parts: Vec<PartShape>,
}

#[derive(Serialize)]
struct PartShape {
    #[serde(flatten)]
    record: RecordShape,
    name: String,
    disposition: &'static str,
    why: Option<String>,
    supply: Option<&'static str>,
    facts: Vec<Fact>,
    trapped_by: Vec<Mention>,
    prerequisites: Option<Prerequisites>,
    keep: Option<String>,
    upkeep: Vec<UpkeepLine>,
    fit: Option<FitShape>,
    drawing: Option<part_drawing::Laid>,
    findings: Vec<FindingShape>,
    measurements: Vec<MeasurementShape>,
    /// Everything that was found on it, here or elsewhere.
    found: Vec<Mention>,
    questions: Vec<Mention>,
    steps: Vec<Mention>,
    papers: Vec<Mention>,
    own_page: bool,
}

#[derive(Serialize)]
struct FindingShape {
    #[serde(flatten)]
    record: RecordShape,
    condition: String,
    about: Vec<Mention>,
    severity: Option<&'static str>,
    photos: Vec<Picture>,
    facts: Vec<Fact>,
    /// The steps that are done and mend it.
    mended: Vec<Mention>,
}

#[derive(Serialize)]
struct Tree {
    mass_unit: String,
    nodes: Vec<Branch>,
}

#[derive(Serialize)]
struct Branch {
    label: Option<String>,
    id: String,
    name: String,
    parent: Option<String>,
    depth: usize,
    mass: Option<String>,
    disposition: &'static str,
    condition: Condition,
}

/// What is wrong with a part, in a line: the worst of what was found on it and is not mended.
#[derive(Serialize)]
struct Condition {
    severity: Option<&'static str>,
    says: String,
}

pub(super) fn chapter(edition: &Edition) -> Machine {
    let order = edition.dossier().tree();
    let tree: Vec<Branch> = order.iter().map(|(part, depth)| branch(edition, *part, *depth)).collect();
    let mut told = BTreeSet::new();
    Machine {
        tree: edition.assets.lay_data(&Tree { mass_unit: edition.amounts.mass_unit().shown(), nodes: tree }),
        wear: wear::chart(edition),
        parts: order.into_iter().map(|(part, depth)| shape(edition, part, depth, &mut told)).collect(),
    }
}

fn branch(edition: &Edition, part: PartId, depth: usize) -> Branch {
    let keys = &edition.dossier()[part];
    let mass = mass(edition, part).map(|(ends, _)| ends);
    Branch {
        label: edition.names.label(part.into()),
        id: keys.id().to_owned(),
        name: keys.name.clone(),
        parent: keys.within.and_then(|parent| edition.names.label(parent.into())),
        depth,
        mass: mass.map(|ends| edition.amounts.mass_numbers(ends)),
        disposition: keys.disposition.word(),
        condition: condition(edition, part),
    }
}

fn condition(edition: &Edition, part: PartId) -> Condition {
    let dossier = edition.dossier();
    let is_open = |id: &FindingId| dossier[*id].about.contains(&part) && dossier.mended_by(*id).is_empty();
    let mut found: Vec<FindingId> = dossier.findings.ids().filter(is_open).collect();
    found.sort_by_key(|id| std::cmp::Reverse(dossier[*id].severity));
    let worst = found.first().map(|id| dossier[*id].condition.join(", "));
    let more = (found.len() > 1).then(|| format!("{} more found", found.len() - 1));
    let said: Vec<String> = worst.into_iter().chain(more).chain(outside(edition, part)).collect();
    Condition {
        severity: found.first().and_then(|id| dossier[*id].severity).map(Severity::word),
        says: said.join("; "),
    }
}

/// The parts that something is wrong with: a finding that is open and more than cosmetic, or a feature outside its limits;
/// in the order of the tree.
pub(super) fn with_faults(edition: &Edition) -> Vec<PartId> {
    let dossier = edition.dossier();
    let weighs = |id: &FindingId| {
        dossier[*id].severity.is_some_and(|severity| severity >= Severity::Minor)
            && dossier.mended_by(*id).is_empty()
    };
    let found: BTreeSet<PartId> =
        dossier.findings.ids().filter(weighs).flat_map(|id| dossier[id].about.iter().copied()).collect();
    let tree = dossier.tree().into_iter().map(|(part, _)| part);
    tree.filter(|part| found.contains(part) || outside(edition, *part).is_some()).collect()
}

/// How many of its features are outside their limits as they are now.
fn outside(edition: &Edition, part: PartId) -> Option<String> {
    let dossier = edition.dossier();
    let fails = |id: &MeasurementId| {
        let verdict = edition.project.worked.measured(*id).within_limits.as_ref();
        dossier[*id].of == part
            && dossier.is_latest(*id)
            && verdict.is_some_and(|verdict| verdict.outcome == Outcome::Fails)
    };
    match dossier.measurements.ids().filter(fails).count() {
        0 => None,
        1 => Some("outside its limits".to_owned()),
        several => Some(format!("{several} features outside their limits")),
    }
}

/// `told` are the steps whose chains were printed before.
fn shape(edition: &Edition, part: PartId, depth: usize, told: &mut BTreeSet<StepId>) -> PartShape {
    let dossier = edition.dossier();
    let keys = &dossier[part];
    let about_part = |notes: &[NoteId]| notes.contains(&part.into());
    let found = dossier.findings.ids().filter(|id| dossier[*id].about.contains(&part));
    let measurements = measurements(edition, part);
    let questions: Vec<NoteId> =
        dossier.questions.ids().filter(|id| about_part(&dossier[*id].about)).map(NoteId::Question).collect();
    let steps: Vec<NoteId> =
        dossier.steps.ids().filter(|id| works_on(edition.dossier(), *id, part)).map(NoteId::Step).collect();
    let papers: Vec<NoteId> =
        dossier.papers.ids().filter(|id| about_part(&dossier[*id].about)).map(NoteId::Paper).collect();
    let listed = listed(edition.dossier(), part, [&questions, &steps, &papers]);
    PartShape {
        record: RecordShape {
            named_in: edition.names.named_in(part.into(), &listed),
            ..RecordShape::of(edition, part.into())
        },
        name: keys.name.clone(),
        disposition: keys.disposition.word(),
        why: None,
        supply: (keys.disposition == Disposition::Buy || keys.supply != Supply::Needed)
            .then(|| keys.supply.word()),
        facts: facts(edition, part),
        trapped_by: edition.names.mentions(keys.trapped_by.iter().copied()),
        prerequisites: prerequisites::of_part(edition, part, told),
        keep: (!keys.marks.is_empty()).then(|| keys.marks.join("; ")),
        upkeep: upkeep::of_part(edition, part),
        fit: fit::shape(edition, part),
        drawing: part_drawing::figure(edition, part),
        own_page: depth <= 1,
        found: edition.names.mentions(found),
        findings: findings(edition, part),
        measurements,
        questions: edition.names.mentions(questions),
        steps: edition.names.mentions(steps),
        papers: edition.names.mentions(papers),
    }
}

/// What the part's record lists by itself.
fn listed(dossier: &Dossier, part: PartId, lists: [&Vec<NoteId>; 3]) -> Vec<NoteId> {
    let findings = dossier.findings.ids().filter(|id| dossier[*id].about.contains(&part));
    let measurements = dossier.measurements.ids().filter(|id| dossier[*id].of == part);
    let children = dossier.children(part).iter().copied().map(NoteId::Part);
    let own = findings.map(NoteId::Finding).chain(measurements.map(NoteId::Measurement)).chain(children);
    own.chain(lists.into_iter().flatten().copied()).collect()
}

fn works_on(dossier: &Dossier, step: StepId, part: PartId) -> bool {
    let step = &dossier[step];
    [&step.parts, &step.removes, &step.refits, &step.makes, &step.uses]
        .iter()
        .any(|parts| parts.contains(&part))
}

/// The ends of the mass of all pieces in kilograms, and how it is known.
fn mass(edition: &Edition, part: PartId) -> Option<((f64, f64), Option<String>)> {
    let dossier = edition.dossier();
    let line = edition.outlook.bill.lines.iter().find(|line| line.part == part)?;
    let (weight, inner) = (&line.weight, dossier.children(part).len());
    let without = without_unknown(weight.unknown);
    let note = match (&dossier[part].mass, weight.sum_ends_kg) {
        (Some(_), Some(sum)) if inner > 0 => {
            let stands = weight.stands_ends_kg.filter(|_| weight.stands_ends_kg != weight.each_ends_kg);
            let stands = stands
                .map(|ends| format!("as weighed; {} as it will stand; ", edition.amounts.mass_numbers(ends)));
            let sum = edition.amounts.mass_numbers(sum);
            Some(format!("{}parts within it as they will stand {sum}{without}", stands.unwrap_or_default()))
        }
        (None, Some(_)) => {
            let of = if weight.counted < inner { format!(" of {inner}") } else { String::new() };
            Some(format!("sum of {}{of} as it will stand{without}", weight.counted))
        }
        _ => None,
    };
    Some((weight.ends_of(dossier[part].quantity)?, note))
}

fn facts(edition: &Edition, part: PartId) -> Vec<Fact> {
    let keys = &edition.dossier()[part];
    let fit = keys.fit.as_ref().map(|fit| {
        let with = &edition.dossier()[fit.with];
        let value = format!("{}, {} {}", with.name, edition.amounts.typed_size(&fit.at), fit.class.text);
        Fact { label: edition.names.label(fit.with.into()), ..Fact::new("fits", value) }
    });
    let replaces = keys.replaces.iter().map(|&other| Fact {
        label: edition.names.label(other.into()),
        ..Fact::new("replaces", edition.dossier()[other].name.clone())
    });
    let before = [
        (keys.quantity > 1).then(|| Fact::new("quantity", keys.quantity.to_string())),
        keys.material.clone().map(|material| Fact::new("material", material)),
        keys.designation.clone().map(|designation| Fact::new("designation", designation)),
        mass(edition, part).map(|(ends, note)| {
            let note = note.map(|note| format!(" ({note})")).unwrap_or_default();
            let typed =
                keys.mass.as_ref().filter(|_| keys.quantity == 1).map(|mass| edition.amounts.typed(mass));
            let mass = typed.unwrap_or_else(|| edition.amounts.masses(ends));
            Fact::new("mass", format!("{mass}{note}"))
        }),
        size(edition, part),
        fit,
    ];
    let after = [
        stock(edition, part),
        keys.cost.as_ref().map(|cost| Fact::new("cost", edition.amounts.estimate(cost))),
        keys.lead.as_ref().map(|lead| Fact::new("delivery", edition.amounts.estimate(lead))),
        keys.from.clone().map(|from| Fact::new("from", from)),
        said(keys.ordered_on).map(|date| Fact::new("ordered", date)),
    ];
    before.into_iter().flatten().chain(replaces).chain(after.into_iter().flatten()).collect()
}

/// Length, width and height of the box it fits in.
pub(super) fn size(edition: &Edition, part: PartId) -> Option<Fact> {
    let envelope = edition.dossier()[part].envelope.as_ref()?;
    let sides = [&envelope.length, &envelope.width, &envelope.height];
    Some(Fact::new("size", edition.amounts.typed_together(&sides, " × ")))
}

/// The stock it is cut from.
pub(super) fn stock(edition: &Edition, part: PartId) -> Option<Fact> {
    let keys = &edition.dossier()[part];
    let stock = keys.stock.as_ref()?;
    let length = stock
        .length
        .as_ref()
        .map(|length| format!(", {}", edition.amounts.typed(length)))
        .unwrap_or_default();
    let pieces = match stock.pieces {
        Pieces::Each(1) => String::new(),
        Pieces::Each(pieces) if keys.quantity > 1 => format!("; {} for each", counted(pieces, "piece")),
        Pieces::Each(pieces) => format!("; {}", counted(pieces, "piece")),
        Pieces::InAll(pieces) => format!("; {} in all", counted(pieces, "piece")),
    };
    Some(Fact::new("cut from", format!("{}{length}{pieces}", stock.section)))
}

/// The findings printed here in full, and those about this part that are printed under another.
/// The findings that are set out at this part: those about it first of all.
fn findings(edition: &Edition, part: PartId) -> Vec<FindingShape> {
    let dossier = edition.dossier();
    let here = dossier.findings.ids().filter(|id| dossier[*id].about.first() == Some(&part));
    here.map(|id| finding(edition, id, part)).collect()
}

fn finding(edition: &Edition, id: FindingId, part: PartId) -> FindingShape {
    let keys = &edition.dossier()[id];
    let photo = |photo: &crate::record::Photo| {
        let caption = photo.shows.clone().unwrap_or_else(|| keys.condition.join(", "));
        edition.assets.picture(
            keys.head.file,
            &photo.file.text,
            Some(&caption),
            &photo.marks,
            width_of_each(keys.photos.len()),
        )
    };
    FindingShape {
        record: RecordShape::of(edition, id.into()),
        condition: keys.condition.join(", "),
        about: edition.names.mentions(keys.about.iter().copied().filter(|about| *about != part)),
        facts: said(keys.seen).map(|date| Fact::new("seen", date)).into_iter().collect(),
        mended: edition.names.mentions(edition.dossier().mended_by(id).iter().copied()),
        severity: keys.severity.map(crate::record::Severity::word),
        photos: keys.photos.iter().filter_map(photo).collect(),
    }
}

/// As-found before as-left of the same feature.
fn measurements(edition: &Edition, part: PartId) -> Vec<MeasurementShape> {
    let dossier = edition.dossier();
    let mut own: Vec<MeasurementId> =
        dossier.measurements.ids().filter(|id| dossier[*id].of == part).collect();
    own.sort_by_key(|id| (dossier[*id].feature.clone(), dossier[*id].state == MeasurementState::AsLeft));
    own.into_iter().map(|id| measurement::shape(edition, id)).collect()
}
