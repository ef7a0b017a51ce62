//! One job of a sheet, in the order in which it is read: what is wanted, how the piece was found, what can hurt, what to
//! send back.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::drawn::{Drawn, Lacking, Missing};
use super::form::{ToMeasure, send_back};
use super::found::{Found, found, is_one_dimension};
use super::piece;
use super::redaction::GAP;
use super::scope::Scope;
use super::sizes::{Size, sizes};
use crate::calc::dimension::Dimension;
use crate::dossier::{FindingId, MeasurementId, NoteId, PartId, StepId};
use crate::note::body::{Block, BlockShape, InlineShape, each_inline};
use crate::photo;
use crate::record::{Photo, Severity};
use crate::render::assets::COLUMN;
use crate::render::body::{self, Part};
use crate::render::cautions::{self, Warning};
use crate::render::escape::{Markup, escape};
use crate::render::measurement;
use crate::render::part_drawing::Laid;
use crate::render::prose::day;
use crate::render::shapes::{Fact, Picture};
use crate::text::Span;

#[derive(Serialize)]
pub(super) struct JobShape {
    pub(super) number: usize,
    label: Option<String>,
    does: String,
    facts: Vec<Fact>,
    /// What keeps it from being made, a sentence each.
    missing: Vec<String>,
    body: Markup,
    /// Everything it requires, for a shop that might have it.
    calls_for: Vec<String>,
    pub(super) sizes: Vec<Size>,
    /// The names of the parts whose drawings follow.
    drawn: Vec<String>,
    found: Vec<String>,
    /// What findings and the log tell of it.
    told: Vec<Markup>,
    worn: Vec<Found>,
    readings: Vec<Readings>,
    pictures: Vec<Shown>,
    irreversible: bool,
    if_wrong: Option<String>,
    hazards: Vec<Warning>,
    send_back: Vec<ToMeasure>,
    /// Whether anything is to be measured.
    asks_back: bool,
    /// A page each.
    drawings: Vec<Laid>,
}

/// A table of readings.
#[derive(Serialize)]
struct Readings {
    of: String,
    with: Option<String>,
    data: String,
}

/// A picture, and how wide it has to be for its lettering to be read.
#[derive(Serialize)]
struct Shown {
    #[serde(flatten)]
    picture: Picture,
    /// Millimetres; 0 without lettering.
    least_width: f64,
}

/// What the sheet has shown already: it stands under the first job that needs it.
#[derive(Default)]
pub(super) struct ShownBefore {
    notes: BTreeSet<NoteId>,
    /// By virtual path.
    pictures: BTreeSet<String>,
    cautions: BTreeMap<String, usize>,
}

/// What the jobs of a sheet share.
pub(super) struct Shared<'a> {
    pub(super) numbers: &'a BTreeMap<StepId, usize>,
    pub(super) drawn: &'a [Drawn],
    /// Parts that can't be drawn.
    pub(super) undrawn: &'a [Missing],
}

pub(super) fn shape(scope: &Scope, shared: &Shared, shown: &mut ShownBefore) -> (JobShape, Vec<Missing>) {
    let edition = scope.edition;
    let keys = &edition.dossier()[scope.step];
    let number = shared.numbers[&scope.step];
    let say = |text: &String| scope.redaction.text(scope.step, text);
    let findings: Vec<FindingId> = scope.findings().filter(|id| shown.notes.insert((*id).into())).collect();
    let readings: Vec<MeasurementId> =
        scope.measurements.iter().copied().filter(|id| shown.notes.insert((*id).into())).collect();
    let sizes = sizes(scope);
    let missing = missing(scope, shared, &sizes);
    let drawn: Vec<&Drawn> = shared.drawn.iter().filter(|one| one.job == number).collect();
    let send_back = send_back(scope, &sizes, &drawn);
    let job = JobShape {
        number,
        label: edition.names.label(scope.step.into()),
        does: does(scope),
        facts: piece::facts(scope, shared.numbers),
        missing: missing.iter().map(Missing::says).collect(),
        body: text(scope),
        calls_for: calls_for(scope),
        asks_back: send_back.iter().any(|line| line.feature.is_some()),
        send_back,
        sizes,
        drawn: drawn.iter().map(|one| one.name.clone()).collect(),
        found: findings.iter().filter_map(|id| condition(scope, *id)).collect(),
        told: told(scope, &findings, shown),
        worn: found(scope),
        pictures: pictures(scope, &findings, shown),
        readings: readings.iter().filter_map(|id| table(scope, *id)).collect(),
        irreversible: keys.irreversible,
        if_wrong: keys.if_wrong.as_ref().map(say),
        hazards: hazards(scope, number, shown),
        drawings: drawn.iter().map(|one| one.lay(scope)).collect(),
    };
    (job, missing)
}

/// What is asked; where its own words may not be said, of which part.
fn does(scope: &Scope) -> String {
    let says = scope.redaction.text(scope.step, &scope.edition.dossier()[scope.step].does);
    let part = scope.parts.first().filter(|_| says == GAP);
    part.map_or(says, |part| format!("{GAP} Work on: {}", scope.name(*part)))
}

fn calls_for(scope: &Scope) -> Vec<String> {
    let keys = &scope.edition.dossier()[scope.step];
    let say = |text: &String| scope.redaction.text(scope.step, text);
    let measures = keys.calls_for.iter();
    let measures =
        measures.map(|want| format!("{} {}", say(&want.what), scope.edition.amounts.typed(&want.amount)));
    measures.chain(keys.processes.iter().map(|process| say(&process.replace(['-', '_'], " ")))).collect()
}

// What is missing

/// What its drawings leave open; and of a job that works to sizes the parts that have none.
fn missing(scope: &Scope, shared: &Shared, sizes: &[Size]) -> Vec<Missing> {
    let number = shared.numbers[&scope.step];
    let of_job = shared.drawn.iter().filter(|one| one.job == number).flat_map(Drawn::missing);
    let undrawn = shared.undrawn.iter().filter(|missing| missing.job == number).cloned();
    let is_shown = !sizes.is_empty() || shared.drawn.iter().any(|one| one.job == number);
    let without = without_sizes(scope, sizes);
    let is_made = |part: PartId| scope.edition.dossier()[scope.step].makes.contains(&part);
    let lacks = |part: PartId| {
        let what = if is_made(part) { Lacking::Sizes } else { Lacking::Limits };
        Missing { job: number, part: scope.name(part), what }
    };
    let load = scope.parts.first().filter(|_| lacks_load(scope));
    let load = load.map(|part| Missing { job: number, part: scope.name(*part), what: Lacking::Load });
    let all: Vec<Missing> = of_job.chain(undrawn).chain(without.into_iter().map(lacks)).chain(load).collect();
    all.into_iter().chain(undescribed(scope, number, is_shown)).collect()
}

/// A job of which nothing is told: neither in words nor by a drawing or a size.
fn undescribed(scope: &Scope, job: usize, is_shown: bool) -> Option<Missing> {
    let is_told = is_shown || !text(scope).is_blank();
    (!is_told).then(|| Missing { job, part: String::new(), what: Lacking::Description })
}

/// The text of its note, as far as it goes.
fn text(scope: &Scope) -> Markup {
    let part = |at: usize, _: &Block| scope.redaction.part(scope.step, at);
    Markup::of(body::markup_of(scope.edition, scope.step.into(), part))
}

/// A test under load, whose text quotes neither a force nor a mass that was worked out, nor calls for one.
fn lacks_load(scope: &Scope) -> bool {
    let keys = &scope.edition.dossier()[scope.step];
    let is_test = |process: &String| {
        let words = process.to_lowercase().replace(['-', '_'], " ");
        LOAD_TESTS.iter().any(|test| words.contains(test))
    };
    let is_load = |dimension: Dimension| [Dimension::FORCE, Dimension::MASS].contains(&dimension);
    let mut is_told = keys.calls_for.iter().any(|want| is_load(want.amount.dimension()));
    let allowed = keys.head.body.iter().enumerate();
    let allowed = allowed.filter(|(at, _)| matches!(scope.redaction.part(scope.step, *at), Part::Whole));
    for (_, block) in allowed {
        each_inline(std::slice::from_ref(block), &mut |inline| {
            let value =
                scope.edition.project.worked.quote(inline.span).and_then(|quote| quote.value.as_ref());
            is_told |=
                value.and_then(|value| value.quantity()).is_some_and(|quantity| is_load(quantity.dimension));
        });
    }
    keys.processes.iter().any(is_test) && !is_told
}

/// What a test under load is called. Common practice, no source.
const LOAD_TESTS: [&str; 4] = ["load test", "load testing", "proof load", "overload"];

/// Every part that is made without any size; of those that are only worked on one, where none has any.
fn without_sizes(scope: &Scope, sizes: &[Size]) -> Vec<PartId> {
    let dossier = scope.edition.dossier();
    let has_sizes =
        |part: &PartId| dossier[*part].shape.is_some() || sizes.iter().any(|size| size.of == Some(*part));
    let (made, worked): (Vec<PartId>, Vec<PartId>) =
        scope.shaped.iter().partition(|part| dossier[scope.step].makes.contains(part));
    let made = made.into_iter().filter(|part| !has_sizes(part));
    let worked_on = worked.first().filter(|_| scope.shapes() && !worked.iter().any(has_sizes));
    made.chain(worked_on.copied()).collect()
}

// How it was found

fn condition(scope: &Scope, id: FindingId) -> Option<String> {
    let keys = &scope.edition.dossier()[id];
    let condition = scope.redaction.text(id, &keys.condition.join(", "));
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

/// The text of the findings and the pages of the log that go, without their calculations.
fn told(scope: &Scope, findings: &[FindingId], shown: &mut ShownBefore) -> Vec<Markup> {
    let text = |note: NoteId| {
        body::markup_of(scope.edition, note, |at, block| match &block.shape {
            BlockShape::Code(code) if code.language == "calc" => Part::Nothing,
            _ => scope.redaction.part(note, at),
        })
    };
    let entries = scope.entries().filter(|id| shown.notes.insert((*id).into()));
    let entries = entries.map(|id| {
        let date = day(scope.edition.dossier()[id].date.date).says;
        format!("#emph[{}.] {}", escape(&date), text(id.into()))
    });
    let findings = findings.iter().map(|id| text((*id).into()));
    findings.chain(entries).map(Markup::of).filter(|text| !text.is_blank()).collect()
}

/// Of the parts' own notes and of what was found on them above all, each once.
fn pictures(scope: &Scope, findings: &[FindingId], shown: &mut ShownBefore) -> Vec<Shown> {
    let edition = scope.edition;
    let mut pictures: Vec<(Picture, Option<f64>)> = Vec::new();
    for part in scope.parts.iter().filter(|part| shown.notes.insert((**part).into())) {
        let head = &edition.dossier()[*part].head;
        let illustrated = head.body.iter().filter(|block| holds_picture(block));
        for block in illustrated.filter(|block| scope.redaction.allows(*part, block)) {
            each_inline(std::slice::from_ref(block), &mut |inline| {
                if let InlineShape::Picture { target, text } = &inline.shape {
                    let picture = edition.assets.picture(head.file, target, Some(text), &[], COLUMN);
                    pictures.extend(picture.map(|picture| (picture, lettering(scope, *part, target))));
                }
            });
        }
    }
    for id in findings.iter().filter(|id| is_above_all(scope, **id)) {
        let photos = &edition.dossier()[*id].photos;
        let laid =
            |photo: &Photo| Some((photograph(scope, *id, photo)?, lettering(scope, *id, &photo.file.text)));
        pictures.extend(photos.iter().filter_map(laid));
    }
    pictures.retain(|(picture, _)| shown.pictures.insert(picture.path.clone()));
    pictures
        .into_iter()
        .map(|(picture, lettering)| Shown { picture, least_width: least_width(lettering) })
        .collect()
}

fn holds_picture(block: &Block) -> bool {
    let mut found = false;
    each_inline(std::slice::from_ref(block), &mut |inline| {
        found |= matches!(inline.shape, InlineShape::Picture { .. });
    });
    found
}

/// The smallest lettering of a drawing, as a part of its width.
fn lettering(scope: &Scope, note: impl Into<NoteId>, target: &str) -> Option<f64> {
    let sources = &scope.edition.project.sources;
    let file = scope.edition.dossier().head(note.into()).file;
    let path = sources.relative(file, &crate::dossier::decoded(target))?;
    photo::smallest_lettering(&sources.bytes(&path).ok()?)
}

/// Lettering is read from 7 points on. Common practice, no source.
fn least_width(lettering: Option<f64>) -> f64 {
    const SMALLEST: f64 = 7.0 * 25.4 / 72.0;
    lettering.map_or(0.0, |share| SMALLEST / share)
}

fn photograph(scope: &Scope, id: FindingId, photo: &Photo) -> Option<Picture> {
    let keys = &scope.edition.dossier()[id];
    let caption = photo.shows.clone().unwrap_or_else(|| keys.condition.join(", "));
    let caption = scope.redaction.text(id, &caption);
    if !scope.redaction.allows_picture(id, &photo.file.text) {
        return None;
    }
    let say = |text: &String| scope.redaction.text(id, text);
    let mut picture = scope.edition.assets.picture(
        keys.head.file,
        &photo.file.text,
        Some(&caption),
        &photo.marks,
        COLUMN,
    )?;
    picture.marks.iter_mut().for_each(|mark| mark.says = say(&mark.says));
    Some(picture)
}

fn table(scope: &Scope, id: MeasurementId) -> Option<Readings> {
    let dossier = scope.edition.dossier();
    let keys = &dossier[id];
    if is_one_dimension(keys) {
        return None;
    }
    let feature = scope.redaction.text(id, &keys.feature);
    let with = keys.instrument.map(|instrument| {
        let instrument = &dossier[instrument];
        instrument.what.clone().unwrap_or_else(|| instrument.key.clone())
    });
    Some(Readings {
        of: scope.of_part(keys.of, &format!("{feature}, {}", keys.state.word().replace('-', " "))),
        with: with.map(|with| scope.redaction.joined(&with)),
        data: measurement::readings(scope.edition, id)?,
    })
}

// What can hurt

/// In full at the first job that calls for it; at a later one that names the same parts, a word that it holds there too.
fn hazards(scope: &Scope, number: usize, shown: &mut ShownBefore) -> Vec<Warning> {
    let may_be_said = |text: &String| Some(scope.redaction.text(scope.step, text));
    let once = |warning: Warning| match shown.cautions.get(&warning.says) {
        Some(first) => Warning { says: format!("As under job {first}."), ..warning },
        None => {
            shown.cautions.insert(warning.says.clone(), number);
            warning
        }
    };
    let body = scope.edition.dossier().head(scope.step.into()).body.iter();
    let blocks = body.map(|block| block.span).collect::<Vec<Span>>();
    let all = cautions::in_full(scope.edition.project, scope.step, blocks.into_iter(), may_be_said);
    all.into_iter().map(|warning| placed(scope, warning)).map(once).collect()
}

/// With the parts that hold the hazard: those of the job, or that they are within, and those that come with them.
fn placed(scope: &Scope, warning: Warning) -> Warning {
    let in_hand = scope.edition.project.plan.in_hand(scope.step);
    let parts = warning.hazard.and_then(|hazard| in_hand.get(&hazard)).into_iter().flatten().copied();
    let open = parts.filter(|part| scope.redaction.is_open(*part));
    let (own, others): (Vec<PartId>, Vec<PartId>) = open.partition(|part| scope.has_in_hand(*part));
    let named = |lead: &str, parts: &[PartId]| match parts {
        [] => String::new(),
        _ => format!(" {lead}: {}.", scope.names(parts).join(", ")),
    };
    let here = named("At this job", &own) + &named("Comes with it", &others);
    Warning { says: warning.says + &here, ..warning }
}
