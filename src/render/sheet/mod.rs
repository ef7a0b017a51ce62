//! A job sheet: a letter to one helper, or to whoever can.
//!
//! Takes: an edition, and whom the sheet is for. Gives: a folder of virtual files with the open jobs in order of work,
//! and what was kept back. Never: tells of money, contacts, private notes, other helpers or the rest of the machine;
//! every text of the notes goes through [`redaction`] first.

mod drawn;
mod enclosed;
mod form;
mod found;
mod gaps;
mod job;
mod piece;
mod redaction;
mod scope;
mod sizes;

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use serde_json::Value;

use super::attached::{self, Attached};
use super::dossier::MAIN;
use super::edition::Edition;
use super::shapes::{Doc, Fact};
use super::templates::{RenderFault, Templates};
use super::{jobs, sequence};
use crate::dossier::{Dossier, NoteId, PaperId, ShopId, StepId};
use crate::record::KeeperContact;
use crate::typeset::Folder;
pub use drawn::{Lacking, Missing};
use enclosed::Enclosed;
use job::{JobShape, Shared, ShownBefore};
pub use redaction::KeptBack;
use redaction::Redaction;
use scope::Scope;
pub(super) use scope::is_shaping;

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
    /// What the notes say of these jobs and this reader does not get.
    pub kept_back: Vec<KeptBack>,
    /// What keeps parts from being made from it.
    pub missing: Vec<Missing>,
    /// Findings, questions and papers about its jobs that are not in it, since their notes don't let them.
    pub stays: Vec<NoteId>,
    /// Findings about its parts that no job of it needs.
    pub unneeded: Vec<NoteId>,
}

/// With a gap for every text that is not for this reader.
#[derive(Serialize)]
struct Filled {
    doc: Value,
    /// Whether the reader comes upon one.
    has_gaps: bool,
    #[serde(flatten)]
    letter: Value,
}

#[derive(Serialize)]
struct Letter {
    title: String,
    shop: Option<String>,
    from: String,
    /// How to reach the keeper.
    contact: Vec<Fact>,
    machine: String,
    asks: String,
    /// When the reader is to ask first.
    ask_first: &'static str,
    unknown: Vec<Unknown>,
    jobs: Vec<JobShape>,
    /// Only what was asked for, and the papers that go.
    attached: Vec<Attached>,
    enclosed: Vec<Enclosed>,
}

/// An open question, and the jobs that it touches.
#[derive(Serialize)]
struct Unknown {
    asks: String,
    theories: Vec<String>,
    jobs: Vec<usize>,
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
    // A destination inside the file is named by the number of the job: the id of a step may tell what its text does not.
    let labels = steps.iter().enumerate().map(|(at, step)| (NoteId::Step(*step), format!("job-{}", at + 1)));
    let edition = edition.printing_only(labels.collect());
    let redaction = Redaction::new(&edition, whom);
    let (doc, mut folder) = (Doc::of(&edition), Folder::new());
    let scopes: Vec<Scope> = steps.iter().map(|step| Scope::of(&edition, &redaction, *step)).collect();
    let papers = enclosed::which(&edition, papers, &scopes);
    let attached = attached::papers(edition.project, &papers, &mut folder)?;
    let enclosed = enclosed::enclosed(&edition, &redaction, &papers);
    let (mut letter, missing) = letter(&edition, whom, &scopes);
    letter.attached.extend(attached);
    enclosed::name(&redaction, &mut letter.attached);
    let (stays, unneeded) = (stays(&scopes), unneeded(&scopes));
    let mut letter = serde_json::to_value(Letter { enclosed, ..letter }).unwrap_or_default();
    gaps::leave(&redaction, &mut letter);
    edition.assets.lay_files(&mut folder)?;
    gaps::leave_in_data(&redaction, &mut folder);
    let has_gaps = gaps::has_one(&letter) || gaps::data(&folder).any(|(_, data)| gaps::has_one(&data));
    let filled = Filled { doc: gaps::left(&redaction, &doc), has_gaps, letter };
    let text = templates.fill("sheet.typ", &filled)?;
    folder.insert(MAIN.to_owned(), text.into_bytes());
    templates.lay_look(&mut folder);
    let kept_back = redaction.into_kept_back();
    Ok(Some(Sheet { folder, jobs: steps.len(), kept_back, missing, stays, unneeded }))
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

fn letter(edition: &Edition, whom: Addressee, scopes: &[Scope]) -> (Letter, Vec<Missing>) {
    let about = &edition.dossier().about;
    let numbers: BTreeMap<StepId, usize> =
        scopes.iter().enumerate().map(|(at, scope)| (scope.step, at + 1)).collect();
    let (drawn, undrawn) = drawn::all(scopes, &numbers);
    let shared = Shared { numbers: &numbers, drawn: &drawn, undrawn: &undrawn };
    let mut shown = ShownBefore::default();
    let jobs = scopes.iter().map(|scope| job::shape(scope, &shared, &mut shown));
    let (jobs, missing): (Vec<JobShape>, Vec<Vec<Missing>>) = jobs.unzip();
    let shop = match whom {
        Addressee::Shop(shop) => Some(edition.dossier()[shop].name.clone()),
        Addressee::Anyone => None,
    };
    let letter = Letter {
        title: format!("{}: work asked of {}", about.title, shop.as_deref().unwrap_or("whoever can do it")),
        asks: asks(whom, scopes.len()),
        ask_first: ask_first(scopes),
        shop,
        from: about.keeper.clone().unwrap_or_else(|| about.title.clone()),
        contact: contact(&about.keeper_contact),
        machine: machine(edition.dossier()),
        unknown: unknown(scopes, &numbers),
        jobs,
        attached: drawn.iter().flat_map(|one| one.files(edition)).collect(),
        enclosed: Vec::new(),
    };
    (letter, missing.concat())
}

fn contact(keeper: &KeeperContact) -> Vec<Fact> {
    let fact = |name, text: &Option<String>| text.clone().map(|text| Fact::new(name, text));
    let all = [
        fact("ask", &keeper.ask_for),
        fact("telephone", &keeper.telephone),
        fact("mail", &keeper.mail),
        fact("", &keeper.address),
    ];
    all.into_iter().flatten().collect()
}

/// Nobody asks an inspector before anything is cut.
fn ask_first(scopes: &[Scope]) -> &'static str {
    if scopes.iter().any(Scope::shapes) {
        "Please ask before anything is cut where a size, a limit and a word here differ or make no sense."
    } else if scopes.iter().all(Scope::lifts) {
        "Please ask before anything is lifted or moved where a mass, a size and a word here differ or make no sense."
    } else {
        "Please ask before you begin where something here makes no sense, or is not as you find it."
    }
}

/// The findings, questions and papers about these jobs that stay in for want of a word in their notes.
fn stays(scopes: &[Scope]) -> Vec<NoteId> {
    let all: BTreeSet<NoteId> = scopes.iter().flat_map(Scope::stays).collect();
    all.into_iter().collect()
}

/// The findings about its parts that no job of the sheet needs.
fn unneeded(scopes: &[Scope]) -> Vec<NoteId> {
    let needed: BTreeSet<NoteId> = scopes.iter().flat_map(Scope::findings).map(NoteId::Finding).collect();
    let all: BTreeSet<NoteId> = scopes.iter().flat_map(Scope::unneeded).map(NoteId::Finding).collect();
    all.difference(&needed).copied().collect()
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
        let theories = keys.theories.iter().map(|theory| say(&theory.claim)).collect();
        Some(Unknown { asks: say(&keys.asks), theories, jobs })
    };
    touched.into_iter().filter_map(told).collect()
}
