//! The computed state of the whole dossier as JSON; book/src/json.md says what every key means.

use std::collections::BTreeMap;

use serde::Serialize;

use super::amounts::Amounts;
use super::cautions;
use super::edition::Edition;
use super::upkeep::how_often;
use crate::Project;
use crate::bill::mass::{Weight, weigh};
use crate::bill::report::{BillReport, CutListReport};
use crate::calc::evaluate::verdict::Verdict;
use crate::calc::one::Report;
use crate::calc::rounding::to_a_millionth;
use crate::calc::sheet::{LineOutcome, Place};
use crate::calc::value::Value;
use crate::closing::{Closing, Feature};
use crate::dossier::{Dossier, MeasurementId, NoteId, PartId, QuestionId, StepId};
use crate::fitness::FitnessReport;
use crate::hazard::Hazard;
use crate::issued::SinceReport;
use crate::plan::report::{LeftLine, Next, Schedule, TripLine, left, trips};
use crate::record::{Disposition, Every, QuestionState, Upkeep};
use crate::trade::limits::iso286::Member;
use crate::worked::{Fitted, Judged};

#[derive(Serialize)]
struct State {
    title: String,
    revision: Option<String>,
    date: Option<String>,
    since_issued: Option<SinceReport>,
    fitness: FitnessReport,
    next: Next,
    steps: Vec<StepState>,
    questions: Vec<QuestionLine>,
    schedule: Schedule,
    trips: Vec<TripLine>,
    left_elsewhere: Vec<LeftLine>,
    parts: Vec<PartLine>,
    bill: BillReport,
    cut_list: CutListReport,
    measurements: Vec<MeasurementLine>,
    values: Vec<LineReport>,
    assumptions: Vec<LineReport>,
    checks: Vec<CheckReport>,
    fits: Vec<FitReport>,
    closing: Option<ClosingReport>,
}

#[derive(Serialize)]
struct StepState {
    id: String,
    state: &'static str,
    at: Option<String>,
    able: Vec<String>,
    irreversible: bool,
    hazards: Vec<&'static str>,
    mends: Vec<String>,
    done_on: Option<String>,
    done_by: Option<String>,
}

#[derive(Serialize)]
struct QuestionLine {
    id: String,
    state: &'static str,
    settled_by: Vec<String>,
    holds: Vec<String>,
}

#[derive(Serialize)]
struct PartLine {
    id: String,
    name: String,
    within: Option<String>,
    quantity: u32,
    disposition: &'static str,
    supply: Option<&'static str>,
    trapped_by: Vec<String>,
    each_kg: Option<f64>,
    each_low_kg: Option<f64>,
    each_high_kg: Option<f64>,
    given: bool,
    sum_of_parts_kg: Option<f64>,
    sum_of_parts_low_kg: Option<f64>,
    sum_of_parts_high_kg: Option<f64>,
    stands_kg: Option<f64>,
    stands_low_kg: Option<f64>,
    stands_high_kg: Option<f64>,
    unweighed: usize,
    upkeep: Vec<UpkeepReport>,
}

#[derive(Serialize)]
struct UpkeepReport {
    does: String,
    every: String,
    every_days: Option<f64>,
    with: Option<String>,
}

/// The end of the work.
#[derive(Serialize)]
struct ClosingReport {
    done: Vec<DoneReport>,
    mended: Vec<MendedReport>,
    features: Vec<FeatureReport>,
    watch: Vec<WatchReport>,
}

#[derive(Serialize)]
struct DoneReport {
    id: String,
    done_by: Option<String>,
    at: Option<String>,
    done_on: Option<String>,
    hours_h: f64,
}

#[derive(Serialize)]
struct MendedReport {
    id: String,
    by: Vec<String>,
}

#[derive(Serialize)]
struct FeatureReport {
    of: String,
    feature: String,
    found: Option<String>,
    left: Option<String>,
    verdict: Option<&'static str>,
}

#[derive(Serialize)]
struct WatchReport {
    id: String,
    why: &'static str,
}

#[derive(Serialize)]
struct MeasurementLine {
    id: String,
    of: String,
    feature: String,
    state: &'static str,
    date: Option<String>,
    instrument: Option<String>,
    results: BTreeMap<String, Report>,
    held: Option<Report>,
}

/// A line of a calculation that has a name.
#[derive(Serialize)]
struct LineReport {
    id: String,
    name: String,
    #[serde(rename = "remark")]
    comment: Option<String>,
    #[serde(flatten)]
    told: Report,
}

#[derive(Serialize)]
struct CheckReport {
    id: String,
    says: String,
    #[serde(rename = "remark")]
    comment: Option<String>,
    #[serde(flatten)]
    told: Report,
}

#[derive(Serialize)]
struct FitReport {
    id: String,
    with: String,
    class: String,
    size_mm: f64,
    hole: Option<MemberReport>,
    shaft: Option<MemberReport>,
    measured: Vec<JudgedReport>,
}

#[derive(Serialize)]
struct MemberReport {
    least_mm: f64,
    most_mm: f64,
}

#[derive(Serialize)]
struct JudgedReport {
    id: String,
    member: &'static str,
    latest: bool,
    #[serde(flatten)]
    told: Report,
}

/// The computed state as JSON.
pub fn state_json(edition: &Edition) -> String {
    let (project, outlook) = (edition.project, edition.outlook);
    let dossier = &project.dossier;
    let state = State {
        title: dossier.about.title.clone(),
        revision: dossier.about.revision.clone(),
        date: edition.date.map(|date| date.to_string()),
        since_issued: project.since_issued().map(|since| SinceReport::of(&since, dossier)),
        fitness: FitnessReport::of(&project.fitness, dossier, &project.worked),
        next: Next::of(dossier, &project.plan),
        steps: dossier.steps.ids().map(|step| step_state(edition.project, step)).collect(),
        questions: dossier.questions.ids().map(|id| question(dossier, id)).collect(),
        schedule: Schedule::of(dossier, &project.plan, &outlook.timetable),
        trips: trips(dossier, &project.plan, &outlook.itinerary),
        left_elsewhere: left(dossier, &outlook.itinerary),
        parts: parts(edition),
        bill: outlook.bill_report(project),
        cut_list: CutListReport::of(dossier, &outlook.stock),
        measurements: dossier.measurements.ids().map(|id| measurement(edition.project, id)).collect(),
        values: values(edition.project),
        assumptions: assumptions(edition.project),
        checks: checks(edition.project),
        fits: edition.project.worked.fits.iter().filter_map(|one| fit(edition.dossier(), one)).collect(),
        closing: closing(edition.project),
    };
    let text = serde_json::to_string_pretty(&state).expect("plain shapes always serialise");
    format!("{text}\n")
}

fn id(dossier: &Dossier, note: impl Into<NoteId>) -> String {
    dossier.head(note.into()).id.clone()
}

fn ids<N: Into<NoteId>>(dossier: &Dossier, notes: impl IntoIterator<Item = N>) -> Vec<String> {
    notes.into_iter().map(|note| id(dossier, note)).collect()
}

fn step_state(project: &Project, step: StepId) -> StepState {
    let dossier = &project.dossier;
    let placement = project.plan.placement(step);
    StepState {
        id: id(dossier, step),
        state: project.state(step),
        at: placement.place.map(|shop| id(dossier, shop)),
        able: placement.verdict.able.iter().map(|shop| dossier.shops[*shop].id().to_owned()).collect(),
        irreversible: dossier[step].irreversible,
        hazards: cautions::hazards(project, step).into_iter().map(Hazard::word).collect(),
        mends: ids(dossier, dossier[step].mends.iter().copied()),
        done_on: dossier[step].done_on.map(|done| done.date.to_string()),
        done_by: dossier[step].done_by.as_ref().map(|by| by.text.clone()),
    }
}

fn question(dossier: &Dossier, question: QuestionId) -> QuestionLine {
    let keys = &dossier[question];
    let is_open = keys.state == QuestionState::Open;
    let held = dossier.steps.ids().filter(|step| is_open && dossier[*step].hangs_on.contains(&question));
    QuestionLine {
        id: id(dossier, question),
        state: keys.state.word(),
        settled_by: ids(dossier, keys.settled_by.iter().copied()),
        holds: ids(dossier, held),
    }
}

fn parts(edition: &Edition) -> Vec<PartLine> {
    let dossier = edition.dossier();
    let weights = weigh(dossier);
    dossier.parts.ids().zip(&weights).map(|(part, weight)| part_line(edition, part, weight)).collect()
}

fn upkeep(amounts: &Amounts, upkeep: &Upkeep) -> UpkeepReport {
    const DAY: f64 = 86_400.0;
    UpkeepReport {
        does: upkeep.does.clone(),
        every: how_often(amounts, &upkeep.every),
        every_days: match &upkeep.every {
            Every::Time(time) => Some(to_a_millionth(time.low / DAY)),
            Every::Occasion(_) => None,
        },
        with: upkeep.with.clone(),
    }
}

fn closing(project: &Project) -> Option<ClosingReport> {
    let dossier = &project.dossier;
    let closing = Closing::of(project)?;
    let done = closing.done.iter().map(|done| DoneReport {
        id: id(dossier, done.step),
        done_by: dossier[done.step].done_by.as_ref().map(|by| by.text.clone()),
        at: dossier[done.step].at.map(|shop| id(dossier, shop)),
        done_on: dossier[done.step].done_on.map(|day| day.date.to_string()),
        hours_h: to_a_millionth(done.hours / 3600.0),
    });
    let mended = closing.mended.iter().map(|mended| MendedReport {
        id: id(dossier, mended.finding),
        by: ids(dossier, mended.by.iter().copied()),
    });
    let watch =
        closing.watch.iter().map(|watch| WatchReport { id: id(dossier, watch.note), why: watch.why.word() });
    Some(ClosingReport {
        done: done.collect(),
        mended: mended.collect(),
        features: closing.features.iter().filter_map(|one| feature(project, one)).collect(),
        watch: watch.collect(),
    })
}

fn feature(project: &Project, feature: &Feature) -> Option<FeatureReport> {
    let dossier = &project.dossier;
    let now = feature.any()?;
    Some(FeatureReport {
        of: id(dossier, dossier[now].of),
        feature: dossier[now].feature.clone(),
        found: feature.found.map(|found| id(dossier, found)),
        left: feature.left.map(|left| id(dossier, left)),
        verdict: project.worked.measured(now).within_limits.as_ref().map(Verdict::word),
    })
}

fn part_line(edition: &Edition, part: PartId, weight: &Weight) -> PartLine {
    let dossier = edition.dossier();
    let keys = &dossier[part];
    PartLine {
        id: id(dossier, part),
        name: keys.name.clone(),
        within: keys.within.map(|within| id(dossier, within)),
        quantity: keys.quantity,
        disposition: keys.disposition.word(),
        supply: (keys.disposition == Disposition::Buy).then(|| keys.supply.word()),
        trapped_by: ids(dossier, keys.trapped_by.iter().copied()),
        each_kg: weight.each_kg.map(to_a_millionth),
        each_low_kg: low(weight.each_ends_kg),
        each_high_kg: high(weight.each_ends_kg),
        given: weight.given,
        sum_of_parts_kg: weight.sum_kg.map(to_a_millionth),
        sum_of_parts_low_kg: low(weight.sum_ends_kg),
        sum_of_parts_high_kg: high(weight.sum_ends_kg),
        stands_kg: weight.stands_kg.map(to_a_millionth),
        stands_low_kg: low(weight.stands_ends_kg),
        stands_high_kg: high(weight.stands_ends_kg),
        unweighed: weight.unknown,
        upkeep: keys.upkeep.iter().map(|one| upkeep(&edition.amounts, one)).collect(),
    }
}

fn low(ends: Option<(f64, f64)>) -> Option<f64> {
    ends.map(|(low, _)| to_a_millionth(low))
}

fn high(ends: Option<(f64, f64)>) -> Option<f64> {
    ends.map(|(_, high)| to_a_millionth(high))
}

fn measurement(project: &Project, measurement: MeasurementId) -> MeasurementLine {
    let dossier = &project.dossier;
    let keys = &dossier[measurement];
    let fields = project.worked.measured(measurement).fields.iter();
    let figures = fields.filter(|(_, value)| matches!(value, Value::Quantity(_)));
    MeasurementLine {
        id: id(dossier, measurement),
        of: id(dossier, keys.of),
        feature: keys.feature.clone(),
        state: keys.state.word(),
        date: keys.date.map(|dated| dated.date.to_string()),
        instrument: keys.instrument.map(|instrument| dossier[instrument].key.clone()),
        held: project
            .worked
            .measured(measurement)
            .within_limits
            .as_ref()
            .map(|held| Report::verdict(held, &dossier.units)),
        results: figures.map(|(name, value)| (name.clone(), Report::value(value, &dossier.units))).collect(),
    }
}

/// Every named value of the calculations, note by note.
fn values(project: &Project) -> Vec<LineReport> {
    let worked = &project.worked;
    let mut values = Vec::new();
    for (note, outcome) in worked.scopes() {
        let lines = outcome.blocks.iter().flat_map(|block| &block.lines);
        values.extend(lines.filter_map(|line| line_told(&project.dossier, note, line)));
    }
    values
}

fn assumptions(project: &Project) -> Vec<LineReport> {
    let worked = &project.worked;
    let line =
        |place: &Place| line_told(&project.dossier, worked.note(*place), worked.evaluation.line(*place)?);
    worked.evaluation.assumptions.iter().filter_map(line).collect()
}

fn line_told(dossier: &Dossier, note: NoteId, line: &LineOutcome) -> Option<LineReport> {
    line.value.as_ref().filter(|value| !matches!(value, Value::Record(_)))?;
    Some(LineReport {
        id: id(dossier, note),
        name: line.name.clone()?,
        comment: line.comment.clone(),
        told: Report::of(line, &dossier.units),
    })
}

fn checks(project: &Project) -> Vec<CheckReport> {
    let (worked, dossier) = (&project.worked, &project.dossier);
    let check = |place: &Place| {
        let line = worked.evaluation.line(*place)?;
        let (_, asked) = (line.verdict.as_ref()?, line.asked.as_ref()?);
        Some(CheckReport {
            id: id(dossier, worked.note(*place)),
            says: asked.text.clone(),
            comment: line.comment.clone(),
            told: Report::of(line, &dossier.units),
        })
    };
    worked.evaluation.checks.iter().filter_map(check).collect()
}

/// `None` for a fit without limits, which `check` tells of.
fn fit(dossier: &Dossier, fitted: &Fitted) -> Option<FitReport> {
    const MM: f64 = 1e3;
    let keys = dossier[fitted.part].fit.as_ref()?;
    let limits = fitted.limits.as_ref().ok()?;
    let member = |member: Member| {
        let (least, most) = limits.sizes(member)?;
        Some(MemberReport { least_mm: to_a_millionth(least * MM), most_mm: to_a_millionth(most * MM) })
    };
    let judged = |judged: &Judged| JudgedReport {
        id: id(dossier, judged.measurement),
        member: judged.member.word(),
        latest: judged.is_latest(dossier),
        told: Report::verdict(&judged.verdict, &dossier.units),
    };
    Some(FitReport {
        id: id(dossier, fitted.part),
        with: id(dossier, keys.with),
        class: keys.class.text.clone(),
        size_mm: to_a_millionth(keys.at.nominal * MM),
        hole: member(Member::Hole),
        shaft: member(Member::Shaft),
        measured: fitted.judged.iter().map(judged).collect(),
    })
}
