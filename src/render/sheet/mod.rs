//! A job sheet: a letter to one helper, or to whoever can.
//!
//! Takes: an edition, and whom the sheet is for. Gives: a folder of virtual files with the open jobs in order of work,
//! and what was kept back. Never: tells of money, contacts, private notes, other helpers or the rest of the machine;
//! every text of the notes goes through [`redaction`] first.

mod drawn;
mod job;
mod redaction;
mod scope;
mod sizes;

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::attached::{self, Attached};
use super::dossier::{MAIN, WithDoc};
use super::edition::Edition;
use super::part_drawing::Laid;
use super::shapes::Doc;
use super::templates::{RenderFault, Templates};
use super::{jobs, sequence};
use crate::dossier::{Dossier, NoteId, PaperId, ShopId, StepId};
use crate::typeset::Folder;
use drawn::Drawn;
pub use drawn::Missing;
use job::{JobShape, Shown};
pub use redaction::KeptBack;
use redaction::Redaction;
use scope::Scope;

/// Whom a sheet is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Addressee {
    /// A shop, with the open jobs that are to be done there.
    Shop(ShopId),
    /// Whoever can do what no known shop can.
    Anyone,
}

/// A sheet, ready to be set.
#[derive(Debug)]
pub struct Sheet {
    /// The virtual files; the main one is [`MAIN`].
    pub folder: Folder,
    /// How many jobs it asks for.
    pub jobs: usize,
    /// What the notes say of these jobs and this reader is not told.
    pub kept_back: Vec<KeptBack>,
    /// What keeps parts from being made from it.
    pub missing: Vec<Missing>,
}

#[derive(Serialize)]
struct Letter {
    title: String,
    shop: Option<String>,
    from: String,
    machine: String,
    asks: String,
    unknown: Vec<Unknown>,
    jobs: Vec<JobShape>,
    readings: Vec<ToMeasure>,
    /// A page each.
    drawings: Vec<Laid>,
    #[serde(skip)]
    missing: Vec<Missing>,
    /// Only what was asked for.
    attached: Vec<Attached>,
}

/// An open question, and the jobs that it touches.
#[derive(Serialize)]
struct Unknown {
    asks: String,
    theories: Vec<String>,
    jobs: Vec<usize>,
}

/// A line of the box that is filled in.
#[derive(Serialize)]
struct ToMeasure {
    job: usize,
    feature: Option<String>,
    least: Option<String>,
    most: Option<String>,
    unit: Option<String>,
}

/// Fills in the sheet, with the files of `papers` inside; `None` when there is no open job for this reader.
///
/// # Errors
/// A template that can't be filled in, a picture that can't be printed, a paper that can't be read.
pub fn sheet(
    edition: Edition,
    whom: Addressee,
    papers: &[PaperId],
    templates: &Templates,
) -> Result<Option<Sheet>, RenderFault> {
    let steps = steps(&edition, whom);
    if steps.is_empty() {
        return Ok(None);
    }
    let edition = edition.printing_only(steps.iter().copied().map(NoteId::Step).collect());
    let redaction = Redaction::new(&edition, whom);
    let (doc, mut folder) = (Doc::of(&edition), Folder::new());
    let attached = attached::papers(edition.project, papers, &mut folder)?;
    let mut letter = Letter { attached, ..letter(&edition, whom, &steps, &redaction) };
    let missing = std::mem::take(&mut letter.missing);
    let text = templates.fill("sheet.typ", &WithDoc { doc: &doc, chapter: letter })?;
    folder.insert(MAIN.to_owned(), text.into_bytes());
    templates.lay_look(&mut folder);
    edition.assets.lay_files(&mut folder)?;
    Ok(Some(Sheet { folder, jobs: steps.len(), kept_back: redaction.into_kept_back(), missing }))
}

fn steps(edition: &Edition, whom: Addressee) -> Vec<StepId> {
    let is_public = |step: &StepId| !edition.dossier()[*step].head.private;
    let asked: Vec<StepId> = match whom {
        Addressee::Shop(shop) => jobs::steps_at(edition, shop),
        Addressee::Anyone => {
            let unplaced: BTreeSet<StepId> = edition.project.plan.unplaced().collect();
            sequence::work_order(edition.dossier(), &edition.outlook.timetable)
                .into_iter()
                .filter(|step| unplaced.contains(step))
                .collect()
        }
    };
    asked.into_iter().filter(is_public).collect()
}

fn letter(edition: &Edition, whom: Addressee, steps: &[StepId], redaction: &Redaction) -> Letter {
    let about = &edition.dossier().about;
    let numbers: BTreeMap<StepId, usize> =
        steps.iter().enumerate().map(|(at, step)| (*step, at + 1)).collect();
    let scopes: Vec<Scope> = steps.iter().map(|step| Scope::of(edition, redaction, *step)).collect();
    let mut shown = Shown::default();
    let drawn = drawn::all(&scopes, &numbers);
    let job = |scope: &Scope| job::shape(scope, &numbers, &drawn, &mut shown);
    let jobs: Vec<JobShape> = scopes.iter().map(job).collect();
    let shop = match whom {
        Addressee::Shop(shop) => Some(edition.dossier()[shop].name.clone()),
        Addressee::Anyone => None,
    };
    Letter {
        title: format!("{}: work asked of {}", about.title, shop.as_deref().unwrap_or("whoever can do it")),
        asks: asks(whom, steps.len()),
        shop,
        from: about.keeper.clone().unwrap_or_else(|| about.title.clone()),
        machine: machine(edition.dossier()),
        unknown: unknown(&scopes, &numbers),
        readings: jobs.iter().flat_map(|job| to_measure(job, &drawn)).collect(),
        drawings: scopes
            .first()
            .map_or_else(Vec::new, |scope| drawn.iter().map(|one| one.lay(scope)).collect()),
        missing: drawn.iter().flat_map(Drawn::missing).collect(),
        jobs,
        attached: Vec::new(),
    }
}

fn asks(whom: Addressee, count: usize) -> String {
    let jobs = match count {
        1 => "One job".to_owned(),
        _ => format!("{} jobs", in_words(count)),
    };
    match (whom, count) {
        (Addressee::Shop(_), 1) => "One job for you".to_owned(),
        (Addressee::Shop(_), _) => format!("{jobs}, in this order"),
        (Addressee::Anyone, 1) => "One job: who can do it?".to_owned(),
        (Addressee::Anyone, _) => format!("{jobs}: who can do them?"),
    }
}

fn in_words(count: usize) -> String {
    const WORDS: [&str; 11] =
        ["Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"];
    count
        .checked_sub(2)
        .and_then(|at| WORDS.get(at))
        .map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

/// "The hand crane: hand-operated slewing crane, built about 1912."
fn machine(dossier: &Dossier) -> String {
    let fact = |(key, value): &(String, String)| match key.as_str() {
        "kind" => value.clone(),
        _ => format!("{key} {value}"),
    };
    let (kind, rest): (Vec<_>, Vec<_>) = dossier.about.machine.iter().partition(|(key, _)| key == "kind");
    let facts: Vec<String> = kind.into_iter().chain(rest).map(fact).collect();
    if facts.is_empty() {
        format!("{}.", dossier.about.title)
    } else {
        format!("{}: {}.", dossier.about.title, facts.join(", "))
    }
}

/// Every open question once, with the jobs that it touches.
fn unknown(scopes: &[Scope], numbers: &BTreeMap<StepId, usize>) -> Vec<Unknown> {
    let mut touched: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for scope in scopes {
        for question in scope.questions() {
            touched.entry(question).or_default().push(numbers[&scope.step]);
        }
    }
    let told = |(question, jobs): (crate::dossier::QuestionId, Vec<usize>)| {
        let scope = scopes.first()?;
        let keys = &scope.edition.dossier()[question];
        let say = |text: &String| scope.redaction.text(question, text);
        let theories = keys.theories.iter().filter_map(|theory| say(&theory.claim)).collect();
        Some(Unknown { asks: say(&keys.asks)?, theories, jobs })
    };
    touched.into_iter().filter_map(told).collect()
}

/// The sizes of a job that are to be measured when it is done: the numbered ones of its drawings, else those that it is
/// told in words; a job without any has one free line.
fn to_measure(job: &JobShape, drawn: &[Drawn]) -> Vec<ToMeasure> {
    let numbered: Vec<ToMeasure> =
        drawn.iter().filter(|one| one.job == job.number).flat_map(Drawn::to_measure).collect();
    if !numbered.is_empty() {
        return numbered;
    }
    let line = |size: &sizes::Size| ToMeasure {
        job: job.number,
        feature: Some(size.feature.clone()),
        least: size.figures.least.clone(),
        most: size.figures.most.clone(),
        unit: Some(size.figures.unit.clone()),
    };
    let lines: Vec<ToMeasure> =
        job.sizes.iter().filter(|size| size.is_ours && size.is_wanted()).map(line).collect();
    let free = || vec![ToMeasure { job: job.number, feature: None, least: None, most: None, unit: None }];
    if lines.is_empty() { free() } else { lines }
}
