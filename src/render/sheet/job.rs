//! One job of a sheet: the piece, what is asked, the sizes, what was found.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::drawn::Drawn;
use super::scope::Scope;
use super::sizes::{Size, is_one_dimension, sizes};
use crate::dossier::{FindingId, MeasurementId, NoteId, PartId, StepId};
use crate::note::body::{Block, InlineShape, each_inline};
use crate::plan::readiness::{Cause, Obstacle, State};
use crate::record::{Hands, Photo, PictureMark, Severity};
use crate::render::amounts::Amounts;
use crate::render::bill::without_unknown;
use crate::render::body;
use crate::render::cautions::{self, Warning};
use crate::render::machine;
use crate::render::measurement;
use crate::render::prose::said;
use crate::render::shapes::{Fact, Picture};
use crate::render::working;
use crate::text::Span;

#[derive(Serialize)]
pub(super) struct JobShape {
    pub(super) number: usize,
    label: Option<String>,
    does: String,
    irreversible: bool,
    if_wrong: Option<String>,
    hazards: Vec<Warning>,
    /// Typst markup.
    body: String,
    facts: Vec<Fact>,
    /// All that it calls for, for who might have it.
    calls_for: Vec<String>,
    /// What keeps it from being made, a sentence each.
    missing: Vec<String>,
    found: Vec<String>,
    pub(super) sizes: Vec<Size>,
    /// Typst markup.
    working: String,
    pictures: Vec<Picture>,
    readings: Vec<Readings>,
}

/// A table of readings.
#[derive(Serialize)]
struct Readings {
    of: String,
    with: Option<String>,
    data: String,
}

/// What the sheet has shown already: it stands under the first job that needs it.
#[derive(Default)]
pub(super) struct Shown {
    notes: BTreeSet<NoteId>,
    blocks: BTreeSet<Span>,
    /// By virtual path.
    pictures: BTreeSet<String>,
    cautions: BTreeMap<String, usize>,
}

pub(super) fn shape(
    scope: &Scope,
    numbers: &BTreeMap<StepId, usize>,
    drawn: &[Drawn],
    shown: &mut Shown,
) -> JobShape {
    let edition = scope.edition;
    let keys = &edition.dossier()[scope.step];
    let number = numbers[&scope.step];
    let say = |text: &String| scope.redaction.text(scope.step, text);
    let findings: Vec<FindingId> = scope.findings().filter(|id| shown.notes.insert((*id).into())).collect();
    let readings: Vec<MeasurementId> =
        scope.measurements.iter().copied().filter(|id| shown.notes.insert((*id).into())).collect();
    let working: Vec<(PartId, Span)> =
        scope.blocks().filter(|(_, block)| shown.blocks.insert(*block)).collect();
    JobShape {
        number,
        label: edition.names.label(scope.step.into()),
        does: say(&keys.does).unwrap_or_else(|| unnamed(scope)),
        irreversible: keys.irreversible,
        if_wrong: keys.if_wrong.as_ref().and_then(say),
        hazards: hazards(scope, &working, number, shown),
        body: body::markup_of(edition, scope.step.into(), |block| scope.own_blocks.contains(&block.span)),
        facts: facts(scope, numbers, drawn),
        missing: missing(number, drawn),
        calls_for: calls_for(scope),
        found: findings.iter().filter_map(|id| found(scope, *id)).collect(),
        sizes: sizes(scope),
        working: working
            .iter()
            .map(|(part, block)| working::block(edition, (*part).into(), *block))
            .collect(),
        pictures: pictures(scope, &findings, shown),
        readings: readings.iter().filter_map(|id| table(scope, *id)).collect(),
    }
}

/// What its drawings leave open.
fn missing(number: usize, drawn: &[Drawn]) -> Vec<String> {
    let of_job = drawn.iter().filter(|one| one.job == number).flat_map(Drawn::missing);
    of_job.map(|missing| missing.says()).collect()
}

/// What a job is called whose own words may not be said.
fn unnamed(scope: &Scope) -> String {
    let part = scope.parts.first().map(|part| scope.edition.dossier()[*part].name.clone());
    part.map_or_else(|| "work to be talked over".to_owned(), |name| format!("work on: {name}"))
}

// What stands in the margin

fn facts(scope: &Scope, numbers: &BTreeMap<StepId, usize>, drawn: &[Drawn]) -> Vec<Fact> {
    let edition = scope.edition;
    let keys = &edition.dossier()[scope.step];
    let uses = keys.uses.iter().filter(|part| !scope.parts.contains(part) && scope.redaction.is_open(**part));
    let of_step = [
        Some(Fact::new("when", when(scope, numbers))),
        place(scope).map(|place| Fact::new("where", place.to_owned())),
        keys.takes.as_ref().map(|takes| Fact::new("takes", edition.amounts.estimate(takes))),
        keys.waits.as_ref().map(|waits| Fact::new("waits", edition.amounts.estimate(waits))),
        said(keys.not_before).map(|day| Fact::new("not before", day)),
        said(keys.not_after).map(|day| Fact::new("done by", day)),
    ];
    let brought = uses.map(|part| Fact::new("we bring", edition.dossier()[*part].name.clone()));
    let of_parts = scope.parts.iter().flat_map(|part| part_facts(scope, *part));
    let drawings = drawn.iter().filter(|one| scope.shaped.contains(&one.part));
    let drawings = drawings.map(|one| Fact::new("drawing", format!("{}, on a page at the end", one.name)));
    of_step.into_iter().flatten().chain(brought).chain(of_parts).chain(drawings).collect()
}

/// Whether they come for it or we bring it; of a place where the keeper works, nothing.
fn place(scope: &Scope) -> Option<&'static str> {
    let dossier = scope.edition.dossier();
    let placement = scope.edition.project.plan.placement(scope.step);
    match placement.place {
        _ if placement.in_place => Some("here, with the machine"),
        Some(shop) if dossier[shop].hands == Hands::Own && dossier.home != Some(shop) => Some("with you"),
        _ => None,
    }
}

fn part_facts(scope: &Scope, part: PartId) -> Vec<Fact> {
    let edition = scope.edition;
    let keys = &edition.dossier()[part];
    let say = |text: &String| scope.redaction.text(part, text);
    let step = &edition.dossier()[scope.step];
    let is_moved = step.removes.contains(&part) || step.refits.contains(&part);
    let count = if keys.quantity > 1 { format!("{} of ", keys.quantity) } else { String::new() };
    let mass = mass(scope, part);
    let facts = [
        Some(Fact::new(
            "piece",
            format!("{count}{}", say(&keys.name).unwrap_or_else(|| keys.id().to_owned())),
        )),
        keys.designation.as_ref().and_then(say).map(|designation| Fact::new("designation", designation)),
        keys.material.as_ref().and_then(say).map(|material| Fact::new("material", material)),
        machine::stock(edition, part).filter(|_| step.makes.contains(&part)),
        mass.as_ref()
            .map(|(says, _)| Fact::new(if keys.quantity > 1 { "mass, each" } else { "mass" }, says.clone())),
        machine::size(edition, part),
        mass.filter(|_| is_moved || !edition.project.plan.placement(scope.step).in_place)
            .and_then(|(_, kilograms)| carried(kilograms))
            .map(|help| Fact::new("to move it", help)),
        say(&keys.marks.join("; "))
            .filter(|marks| is_moved && !marks.is_empty())
            .map(|marks| Fact::new("how it sat", marks)),
    ];
    facts.into_iter().flatten().collect()
}

/// "job 2", "jobs 1, 2 and 4".
fn jobs(numbers: &[String]) -> String {
    match numbers {
        [first @ .., last] if !first.is_empty() => format!("jobs {} and {last}", first.join(", ")),
        _ => format!("job {}", numbers.concat()),
    }
}

/// The mass of one piece, as typed or as the sum of what is within it; in words and in kilograms at its upper end.
fn mass(scope: &Scope, part: PartId) -> Option<(String, f64)> {
    let edition = scope.edition;
    if let Some(mass) = &edition.dossier()[part].mass {
        return Some((edition.amounts.typed(mass), mass.high));
    }
    let line = edition.outlook.bill.lines.iter().find(|line| line.part == part)?;
    line.weight.each_ends_kg.map(|ends| (said_mass(&edition.amounts, ends, line.weight.unknown), ends.1))
}

fn said_mass(amounts: &Amounts, ends: (f64, f64), unknown: usize) -> String {
    format!("about {}{}", amounts.masses(ends), without_unknown(unknown))
}

/// What a piece wants that one person does not carry. Common practice, no source; the lifting itself is for who does it
/// to judge.
fn carried(kilograms: f64) -> Option<&'static str> {
    const ONE_PERSON: f64 = 20.0;
    const TWO_PEOPLE: f64 = 40.0;
    match kilograms {
        light if light <= ONE_PERSON => None,
        middling if middling <= TWO_PEOPLE => Some("two people"),
        _ => Some("lifting gear at both ends"),
    }
}

fn calls_for(scope: &Scope) -> Vec<String> {
    let keys = &scope.edition.dossier()[scope.step];
    let measures = keys
        .calls_for
        .iter()
        .map(|want| format!("{} {}", want.what, scope.edition.amounts.typed(&want.amount)));
    measures.chain(keys.processes.iter().map(|process| process.replace(['-', '_'], " "))).collect()
}

/// Whether it can begin, told without what goes on elsewhere.
fn when(scope: &Scope, numbers: &BTreeMap<StepId, usize>) -> String {
    let standing = scope.edition.project.plan.standing(scope.step);
    let step = &scope.edition.dossier()[scope.step];
    let (mut here, mut elsewhere) = (BTreeSet::new(), false);
    // A day that is still to come stands beside it.
    let is_told = |cause: &&Cause| !matches!(cause.obstacle, Obstacle::Capability | Obstacle::Day);
    for cause in standing.causes.iter().filter(is_told) {
        match cause.note {
            NoteId::Step(step) if numbers.contains_key(&step) && step != scope.step => {
                here.insert(numbers[&step]);
            }
            _ => elsewhere = true,
        }
    }
    let after: Vec<String> = here.iter().map(ToString::to_string).collect();
    let jobs = || jobs(&after);
    match (standing.state, after.is_empty(), elsewhere) {
        (State::Doing, ..) => "in hand".to_owned(),
        (_, true, false) if step.not_before.or(step.not_after).is_some() => "on the days below".to_owned(),
        (_, true, false) => "at any time".to_owned(),
        (_, true, true) => "once we say so".to_owned(),
        (_, false, false) => format!("after {}", jobs()),
        (_, false, true) => format!("after {}, once we say so", jobs()),
    }
}

// What can hurt, what was found

/// In full at the first job that calls for it; at a later one a word that it holds there too.
fn hazards(scope: &Scope, working: &[(PartId, Span)], number: usize, shown: &mut Shown) -> Vec<Warning> {
    let blocks = working.iter().map(|(_, block)| *block).chain(scope.own_blocks.iter().copied());
    let may_be_said = |text: &String| scope.redaction.text(scope.step, text);
    let mut once = |warning: Warning| match shown.cautions.get(&warning.says) {
        Some(first) => Warning { says: format!("As under job {first}."), ..warning },
        None => {
            shown.cautions.insert(warning.says.clone(), number);
            warning
        }
    };
    cautions::in_full(scope.edition.project, scope.step, blocks, may_be_said)
        .into_iter()
        .map(&mut once)
        .collect()
}

fn found(scope: &Scope, id: FindingId) -> Option<String> {
    let keys = &scope.edition.dossier()[id];
    let condition = scope.redaction.text(id, &keys.condition.join(", "))?;
    let part = keys.about.iter().find(|part| scope.is_ours(**part))?;
    let mended = (!scope.edition.dossier().mended_by(id).is_empty()).then_some("mended since");
    let severity = keys.severity.filter(|severity| *severity >= Severity::Serious).map(Severity::word);
    let severity = mended.or(severity);
    let notes: Vec<&str> =
        severity.into_iter().chain((!is_above_all(scope, id)).then_some("not only here")).collect();
    let notes = if notes.is_empty() { String::new() } else { format!(" ({})", notes.join(", ")) };
    Some(scope.of_part(*part, &format!("{condition}{notes}")))
}

/// Whether a finding is first of all about a part of this job.
fn is_above_all(scope: &Scope, id: FindingId) -> bool {
    scope.edition.dossier()[id].about.first().is_some_and(|part| scope.is_ours(*part))
}

/// Of the parts' own notes and of what was found on them above all, each once.
fn pictures(scope: &Scope, findings: &[FindingId], shown: &mut Shown) -> Vec<Picture> {
    let edition = scope.edition;
    let mut pictures = Vec::new();
    for part in scope.parts.iter().filter(|part| shown.notes.insert((**part).into())) {
        let body = &edition.dossier()[*part].head.body;
        let illustrated = body.iter().filter(|block| holds_picture(block) && scope.redaction.allows(block));
        illustrated.for_each(|block| pictures.extend(body::pictures_in(edition, (*part).into(), block)));
    }
    for id in findings.iter().filter(|id| is_above_all(scope, **id)) {
        let keys = &edition.dossier()[*id];
        pictures.extend(keys.photos.iter().filter_map(|photo| photograph(scope, *id, photo)));
    }
    pictures.retain(|picture| shown.pictures.insert(picture.path.clone()));
    pictures
}

fn holds_picture(block: &Block) -> bool {
    let mut found = false;
    each_inline(std::slice::from_ref(block), &mut |inline| {
        found |= matches!(inline.shape, InlineShape::Picture { .. });
    });
    found
}

fn photograph(scope: &Scope, id: FindingId, photo: &Photo) -> Option<Picture> {
    let keys = &scope.edition.dossier()[id];
    let caption = photo.shows.clone().unwrap_or_else(|| keys.condition.join(", "));
    let caption = scope.redaction.text(id, &caption)?;
    let sayable = |mark: &PictureMark| scope.redaction.text(id, &mark.says).is_some();
    if !photo.marks.iter().all(sayable) || !scope.redaction.allows_picture(id, &photo.file.text) {
        return None;
    }
    scope.edition.assets.picture(
        keys.head.file,
        &photo.file.text,
        Some(&caption),
        &photo.marks,
        crate::render::assets::COLUMN,
    )
}

fn table(scope: &Scope, id: MeasurementId) -> Option<Readings> {
    let dossier = scope.edition.dossier();
    let keys = &dossier[id];
    if is_one_dimension(keys) {
        return None;
    }
    let feature = scope.redaction.text(id, &keys.feature)?;
    let with = keys.instrument.map(|instrument| {
        let instrument = &dossier[instrument];
        instrument.what.clone().unwrap_or_else(|| instrument.key.clone())
    });
    Some(Readings {
        of: scope.of_part(keys.of, &format!("{feature}, {}", keys.state.word().replace('-', " "))),
        with: with.and_then(|with| scope.redaction.text(id, &with)),
        data: measurement::readings(scope.edition, id)?,
    })
}
