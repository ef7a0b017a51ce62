//! The last chapter, once every step is over: what was done, what is held, what has to be watched.

use serde::Serialize;

use super::edition::Edition;
use super::fit;
use super::held;
use super::log::hours;
use super::measurement::spread;
use super::names::Names;
use super::prose::{day, decapital, said};
use super::shapes::Mention;
use super::upkeep::{self, UpkeepLine};
use super::working::verdict_code;
use crate::Project;
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::sheet::Place;
use crate::closing::{By, Closing, Done, Feature, Mended, Watch, Why};
use crate::dossier::Dossier;
use crate::dossier::{FindingId, MeasurementId, NoteId, StepId};

#[derive(Serialize)]
pub(super) struct ClosingShape {
    done: Vec<DoneLine>,
    /// Of all steps; `None` when the log tells of none.
    hours: Option<String>,
    mended: Vec<MendedLine>,
    features: Vec<FeatureLine>,
    watch: Vec<WatchLine>,
    upkeep: Vec<UpkeepLine>,
}

#[derive(Serialize)]
struct DoneLine {
    label: Option<String>,
    does: String,
    by: Option<String>,
    on: Option<String>,
    hours: Option<String>,
}

#[derive(Serialize)]
struct MendedLine {
    at: Mention,
    of: String,
    by: Vec<Mention>,
    on: Option<String>,
}

#[derive(Serialize)]
struct FeatureLine {
    part: Mention,
    feature: Mention,
    found: Option<String>,
    left: Option<String>,
    verdict: Option<&'static str>,
}

#[derive(Serialize)]
struct WatchLine {
    at: Mention,
    /// The part or note that it belongs to.
    of: Option<String>,
    why: String,
}

/// `None` while there is anything left to do.
pub(super) fn chapter(edition: &Edition) -> Option<ClosingShape> {
    let closing = Closing::of(edition.project)?;
    let total = closing.seconds();
    Some(ClosingShape {
        hours: (total > 0.0).then(|| hours(total)),
        done: closing.done.iter().map(|done| done_line(edition, done)).collect(),
        mended: closing.mended.iter().map(|mended| mended_line(edition, mended)).collect(),
        features: closing.features.iter().filter_map(|feature| feature_line(edition, feature)).collect(),
        watch: closing.watch.iter().map(|watch| watch_line(edition, watch)).collect(),
        upkeep: upkeep::of_machine(edition),
    })
}

fn done_line(edition: &Edition, done: &Done) -> DoneLine {
    let dossier = edition.dossier();
    let keys = &dossier[done.step];
    DoneLine {
        label: edition.names.label(done.step.into()),
        does: keys.does.clone(),
        by: match done.by {
            By::Named => keys.done_by.as_ref().map(|by| by.text.clone()),
            By::Shop(shop) => Some(dossier[shop].name.clone()),
            By::Place(shop) => Some(format!("at: {}", dossier[shop].name)),
            By::NotSaid => None,
        },
        on: said(keys.done_on),
        hours: (done.hours > 0.0).then(|| hours(done.hours)),
    }
}

fn mended_line(edition: &Edition, mended: &Mended) -> MendedLine {
    let dossier = edition.dossier();
    let last = mended.by.iter().filter_map(|step| dossier[*step].done_on).max_by_key(|day| day.date);
    MendedLine {
        at: edition.names.mention(mended.finding.into()),
        of: parts_of(edition.dossier(), mended.finding),
        by: edition.names.mentions(mended.by.iter().copied()),
        on: said(last),
    }
}

fn parts_of(dossier: &Dossier, finding: FindingId) -> String {
    let about = dossier[finding].about.iter().map(|part| dossier[*part].name.clone());
    about.collect::<Vec<_>>().join(", ")
}

fn feature_line(edition: &Edition, feature: &Feature) -> Option<FeatureLine> {
    let dossier = edition.dossier();
    let now = feature.any()?;
    let held = edition.project.worked.measured(now).within_limits.as_ref();
    let figures = |id: Option<MeasurementId>| id.map(|id| spread(edition.project, id));
    Some(FeatureLine {
        part: edition.names.mention(dossier[now].of.into()),
        feature: Mention { name: dossier[now].feature.clone(), ..edition.names.mention(now.into()) },
        found: figures(feature.found),
        left: figures(feature.left),
        verdict: held.map(|verdict| verdict_code(verdict.outcome)),
    })
}

fn watch_line(edition: &Edition, watch: &Watch) -> WatchLine {
    let dossier = edition.dossier();
    let of = match watch.note {
        NoteId::Finding(id) => Some(parts_of(edition.dossier(), id)),
        NoteId::Measurement(id) => Some(dossier[dossier[id].of].name.clone()),
        _ => None,
    };
    WatchLine { at: edition.names.mention(watch.note), of, why: why(edition, watch) }
}

fn why(edition: &Edition, watch: &Watch) -> String {
    let against = |watch: &Watch| match watch.note {
        NoteId::Measurement(id) => held::against(edition, id).map(|against| decapital(&against.says)),
        _ => None,
    };
    match &watch.why {
        Why::Kept => "left as it was found".to_owned(),
        Why::WorkedOn(steps) => worked_on(&edition.names, steps, "it"),
        Why::WorkedNear(steps) => {
            worked_on(&edition.names, steps, "what it is within, or on what is within it,")
        }
        Why::NotLookedAt => {
            "no finding, no measurement and no work on it says what condition it is in".to_owned()
        }
        Why::NotHeld(_) => against(watch).unwrap_or_default(),
        Why::NotMeasured => {
            format!("not measured since; as found {}", against(watch).unwrap_or_default())
        }
        Why::Check(place, outcome) => check(edition.project, *place, *outcome),
        Why::Fit(measurement, outcome) => fit(edition, watch.note, *measurement, *outcome),
        Why::Open => "the work ended without an answer".to_owned(),
        Why::Dropped => "planned, and dropped".to_owned(),
        Why::RunsOut(date) => format!("valid until {}", day(*date).says),
    }
}

/// "no step says that it mends this; steps 3 and 12 worked on it since".
fn worked_on(names: &Names, steps: &[StepId], on: &str) -> String {
    let numbers: Vec<String> = steps.iter().map(|step| names.numbers()[step].to_string()).collect();
    let steps = match numbers.as_slice() {
        [one] => format!("step {one}"),
        [some @ .., last] => format!("steps {} and {last}", some.join(", ")),
        [] => String::new(),
    };
    format!("no step says that it mends this; {steps} worked on {on} since")
}

/// "`spare >= 5` fails by 0.4: hand hoist, or give it up".
fn check(project: &Project, place: Place, outcome: Outcome) -> String {
    let Some(line) = project.worked.evaluation.line(place) else { return String::new() };
    let reason = line.verdict.as_ref().map(|verdict| verdict.reason(&project.dossier.units));
    let word = if outcome == Outcome::Fails { " fails " } else { " is not settled: " };
    let because = line.comment.as_ref().map(|comment| format!(" ({comment})")).unwrap_or_default();
    let asked = line.asked.as_ref().map_or("", |asked| &asked.text);
    format!("the check `{asked}`{word}{}{because}", reason.unwrap_or_default())
}

/// "the journal, as left, fails in RC4 at 2 in: worn 1.2 thou past, known to ± 0.2 thou".
fn fit(edition: &Edition, note: NoteId, measurement: MeasurementId, outcome: Outcome) -> String {
    let says = || {
        let NoteId::Part(part) = note else { return None };
        let fitted = edition.project.worked.fit(part)?;
        let keys = edition.dossier()[part].fit.as_ref()?;
        let judged = fitted.judged.iter().find(|judged| judged.measurement == measurement)?;
        let standing = fit::standing(edition.dossier(), judged, fitted.limits.as_ref().ok()?);
        let (class, at) = (&keys.class.text, edition.amounts.typed(&keys.at));
        let word = if outcome == Outcome::Fails { "fails" } else { "is not settled" };
        Some(format!(
            "{}, {word} in {class} at {at}: {standing}",
            edition.names.mention(measurement.into()).name
        ))
    };
    says().unwrap_or_default()
}
