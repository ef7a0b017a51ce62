//! The first page, and how to read the rest.

use serde::Serialize;

use super::amounts::money;
use super::cautions::{self, Warning};
use super::edition::Edition;
use super::fitness::{self, FitnessShape};
use super::log::hours;
use super::machine;
use super::next::{self, Due, Job, OneWay, job, most_urgent, place_of};
use super::sequence::work_order;
use super::shapes::{Doc, Fact, Mention, Picture};
use super::since::{self, SinceShape};
use crate::calc::print::counted;
use crate::calc::units::{System, Ton};
use crate::dossier::StepId;
use crate::note::body::{InlineShape, each_inline};
use crate::outlook::paid;
use crate::plan::readiness::State;
use crate::record::{Chapter, QuestionState};

#[derive(Serialize)]
pub(super) struct Cover {
    machine: Vec<String>,
    fitness: FitnessShape,
    picture: Option<Picture>,
    figures: [Figure; 5],
    /// The steps, in hand or ready, that the end of the work can least wait for.
    next: Vec<NextStep>,
    /// How many can be done now or are in hand.
    ready: usize,
    due: Vec<Due>,
    one_way: Vec<OneWay>,
    steps: Vec<StepMark>,
    /// The parts that something is wrong with.
    wrong: Vec<Mention>,
    has_next: bool,
    has_sequence: bool,
    has_inspector: bool,
}

#[derive(Serialize)]
struct Figure {
    value: String,
    unit: Option<String>,
    says: String,
    /// The label of what has more of it.
    at: Option<&'static str>,
}

#[derive(Serialize)]
struct NextStep {
    #[serde(flatten)]
    job: Job,
    at: Option<String>,
}

#[derive(Serialize)]
struct StepMark {
    state: &'static str,
}

/// So many steps stand on the first page; the chapter behind it has all of them.
const FIRST: usize = 3;

pub(super) fn chapter(edition: &Edition) -> Cover {
    let order = work_order(edition.dossier(), &edition.outlook.timetable);
    let next = most_urgent(edition, &[State::Doing, State::Ready]);
    let about = &edition.dossier().about;
    let mark = |step: &StepId| StepMark { state: edition.project.state(*step) };
    let one = |step: &StepId| NextStep { job: job(edition, *step), at: place_of(edition, *step) };
    Cover {
        machine: about.machine.iter().map(|(key, value)| machine_line(key, value)).collect(),
        fitness: fitness::shape(edition),
        picture: frontispiece(edition),
        figures: figures(edition),
        next: next.iter().take(FIRST).map(one).collect(),
        ready: next.len(),
        due: next::due(edition),
        one_way: next::one_way(edition),
        steps: order.iter().map(mark).collect(),
        wrong: edition.names.mentions(machine::with_faults(edition)),
        has_next: edition.names.has(Chapter::Next),
        has_sequence: edition.names.has(Chapter::Sequence),
        has_inspector: edition.names.has(Chapter::Inspector),
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
    let one_way = next::one_way(edition);
    let there = |chapter, key: &'static str| edition.names.has(chapter).then_some(key);
    let (sequence, questions) =
        (there(Chapter::Sequence, "chapter:sequence"), there(Chapter::Questions, "chapter:questions"));
    let is_paid = !paid(edition.project, edition.outlook).is_empty();
    let bill = there(Chapter::Bill, if is_paid { "section:payees" } else { "chapter:bill" });
    let next = there(Chapter::Next, "section:one-way");
    let figure = |value: String, says: &str, at| Figure { value, unit: None, says: says.to_owned(), at };
    let spent = money(totals.so_far.likely);
    [
        figure(format!("{} of {}", progress.done, progress.steps), "steps done", sequence),
        figure(open.to_string(), if open == 1 { "open question" } else { "open questions" }, questions),
        figure(
            one_way.len().to_string(),
            if one_way.len() == 1 { "step can't be undone" } else { "steps can't be undone" },
            next.filter(|_| !one_way.is_empty()),
        ),
        if edition.outlook.bill.names_a_cost() {
            Figure {
                value: money(totals.together.likely),
                unit: Some(dossier.about.settings.currency.clone()),
                says: format!("likely cost, an estimated {spent} of it spent"),
                at: bill,
            }
        } else {
            figure("not known".to_owned(), "cost: no note names one", bill)
        },
        Figure {
            value: hours(progress.hours_left * 3_600.0).trim_end_matches(" h").to_owned(),
            unit: Some("h".to_owned()),
            says: "of work left".to_owned(),
            at: sequence,
        },
    ]
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
    edition.assets.frontispiece(whole.head.file, target, text)
}
