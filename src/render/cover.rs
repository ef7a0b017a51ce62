//! The first page, and how to read the rest.

use std::collections::BTreeMap;

use serde::Serialize;

use super::amounts::money;
use super::assets::COLUMN;
use super::cautions::{self, Warning};
use super::edition::Edition;
use super::log::hours;
use super::sequence::work_order;
use super::shapes::{Doc, Fact, Picture};
use super::since::{self, SinceShape};
use crate::Outlook;
use crate::calc::print::counted;
use crate::calc::units::{System, Ton};
use crate::dossier::{NoteId, StepId};
use crate::note::body::{InlineShape, each_inline};
use crate::plan::readiness::State;
use crate::record::QuestionState;

#[derive(Serialize)]
pub(super) struct Cover {
    machine: Vec<String>,
    picture: Option<Picture>,
    figures: [Figure; 5],
    next: Vec<NextStep>,
    held: Vec<HeldStep>,
    steps: Vec<StepMark>,
}

#[derive(Serialize)]
struct Figure {
    value: String,
    unit: Option<String>,
    says: String,
    chapter: Option<&'static str>,
}

#[derive(Serialize)]
struct NextStep {
    label: Option<String>,
    does: String,
    at: Option<String>,
    takes: Option<String>,
    state: &'static str,
}

#[derive(Serialize)]
struct HeldStep {
    label: Option<String>,
    does: String,
    why: String,
}

#[derive(Serialize)]
struct StepMark {
    label: Option<String>,
    state: &'static str,
}

pub(super) fn chapter(edition: &Edition) -> Cover {
    let order = work_order(edition.dossier(), &edition.outlook.timetable);
    let of_state = |state: State| {
        order.iter().copied().filter(move |step| edition.project.plan.standing(*step).state == state)
    };
    let about = &edition.dossier().about;
    Cover {
        machine: about.machine.iter().map(|(key, value)| machine_line(key, value)).collect(),
        picture: frontispiece(edition),
        figures: figures(edition),
        next: most_urgent(edition.outlook, of_state(State::Ready)).map(|step| next(edition, step)).collect(),
        held: of_state(State::Held).take(5).map(|step| held(edition, step)).collect(),
        steps: order
            .iter()
            .map(|step| StepMark {
                label: edition.names.label((*step).into()),
                state: edition.project.state(*step),
            })
            .collect(),
    }
}

/// "built about 1912"; what kind it is needs no word before it.
fn machine_line(key: &str, value: &str) -> String {
    if key == "kind" { value.to_owned() } else { format!("{key} {value}") }
}

fn figures(edition: &Edition) -> [Figure; 5] {
    let dossier = edition.dossier();
    let progress = edition.project.plan.progress(dossier);
    let open = dossier.questions.iter().filter(|question| question.state == QuestionState::Open).count();
    let totals = &edition.outlook.bill.totals;
    let figure =
        |value: String, says: &str, chapter| Figure { value, unit: None, says: says.to_owned(), chapter };
    let spent = money(totals.so_far.likely);
    [
        figure(format!("{} of {}", progress.done, progress.steps), "steps done", Some("sequence")),
        figure(
            open.to_string(),
            if open == 1 { "open question" } else { "open questions" },
            Some("questions"),
        ),
        figure(progress.held.to_string(), "held at a point of no return", Some("sequence")),
        if edition.outlook.bill.names_a_cost() {
            Figure {
                value: money(totals.together.likely),
                unit: Some(dossier.about.settings.currency.clone()),
                says: format!("likely cost, an estimated {spent} of it spent"),
                chapter: Some("bill"),
            }
        } else {
            figure("not known".to_owned(), "cost: no note names one", Some("bill"))
        },
        Figure {
            value: hours(progress.hours_left * 3_600.0).trim_end_matches(" h").to_owned(),
            unit: Some("h".to_owned()),
            says: "of work left".to_owned(),
            chapter: Some("sequence"),
        },
    ]
}

/// The three ready steps that the end of the work can least wait for; of equals, in the order of the work.
fn most_urgent(outlook: &Outlook, ready: impl Iterator<Item = StepId>) -> impl Iterator<Item = StepId> {
    let timetable = &outlook.timetable;
    let slack: BTreeMap<NoteId, f64> =
        timetable.notes.iter().copied().zip(timetable.forecast.slots.iter().map(|slot| slot.float)).collect();
    let slack_of = |step: &StepId| slack.get(&(*step).into()).map_or(f64::INFINITY, |days| days.floor());
    let mut ready: Vec<StepId> = ready.collect();
    ready.sort_by(|one, two| slack_of(one).total_cmp(&slack_of(two)));
    ready.into_iter().take(3)
}

fn next(edition: &Edition, step: StepId) -> NextStep {
    let dossier = edition.dossier();
    let place = edition.project.plan.placement(step).place;
    NextStep {
        label: edition.names.label(step.into()),
        does: dossier[step].does.clone(),
        at: place.map(|shop| dossier[shop].name.clone()),
        takes: dossier[step].takes.as_ref().map(|takes| hours(takes.likely)),
        state: edition.project.state(step),
    }
}

fn held(edition: &Edition, step: StepId) -> HeldStep {
    let causes = &edition.project.plan.standing(step).causes;
    let why = causes.first().map(|cause| edition.names.because(cause)).unwrap_or_default();
    HeldStep { label: edition.names.label(step.into()), does: edition.dossier()[step].does.clone(), why }
}

#[derive(Serialize)]
pub(super) struct Reading {
    since: Option<SinceShape>,
    conventions: Vec<Fact>,
    cautions: Vec<Warning>,
}

pub(super) fn reading(edition: &Edition) -> Reading {
    let about = &edition.dossier().about;
    let ton = match about.settings.ton {
        Ton::Short => "the short ton, 2000 lb",
        Ton::Long => "the long ton, 2240 lb",
        Ton::Metric => "the metric ton, 1000 kg",
    };
    let assumed = if about.settings.ton_assumed { " (assumed)" } else { "" };
    let conventions = [
        Fact::new(
            "lengths",
            match about.settings.system {
                System::Inch if edition.amounts.shows_both => "inches, with the metric size in brackets",
                System::Inch => "inches; what was typed in metric stands in brackets",
                System::Metric if edition.amounts.shows_both => "millimetres, with inches in brackets",
                System::Metric => "millimetres; what was typed in inches stands in brackets",
            },
        ),
        Fact::new("a bare ton", format!("{ton}{assumed}")),
        Fact::new("money", about.settings.currency.clone()),
        Fact::new("pace", format!("{} a week", counted(about.hours_per_week, "hands-on hour"))),
        Fact::new(
            "day 0",
            format!(
                "{}, from which the forecast counts: the start, or the last date in the notes",
                Doc::of(edition).date.says
            ),
        ),
        Fact::new(
            "uncertainty",
            "± is the expanded uncertainty at 95 % by the GUM (JCGM 100:2008); within a limit any value is as likely as another",
        ),
    ];
    Reading {
        since: since::shape(edition),
        conventions: conventions.into(),
        cautions: cautions::of_machine(edition.project),
    }
}

/// The first picture in the body of the first part without a parent: the machine as a whole.
fn frontispiece(edition: &Edition) -> Option<Picture> {
    let whole = edition.dossier().parts.iter().find(|part| part.within.is_none())?;
    let mut found = None;
    each_inline(&whole.head.body, &mut |inline| {
        if let InlineShape::Picture { target, text } = &inline.shape {
            found = found.take().or(Some((target, text)));
        }
    });
    let (target, text) = found?;
    edition.assets.picture(whole.head.file, target, Some(text), &[], COLUMN)
}
