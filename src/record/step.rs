//! A piece of work.

use std::collections::BTreeSet;

use super::declare::record;
use super::fields::Word;
use super::form::{
    Field, Reads, date, day_after, estimate, link, links, one, text, texts, truth, typed, word,
};
use super::key::Form;
use super::links::{TypedFinding, TypedPaper, TypedPart, TypedQuestion, TypedShop, TypedStep, without_links};
use super::{Dated, Estimate, Links, Typed};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::hazard::Hazard;
use crate::text::Span;
use crate::trade::hazard;

record! {
    /// A piece of work.
    pub struct Step<L> of "a step" {
        /// What is done.
        does: String = text().needed("say what is done");
        /// The parts worked on.
        parts: Vec<L::Part> = links::<TypedPart>();
        /// Steps that come first.
        needs: Vec<L::Step> = links::<TypedStep>();
        /// Questions that must be settled.
        hangs_on: Vec<L::Question> = links::<TypedQuestion>();
        /// Parts that must be there.
        uses: Vec<L::Part> = links::<TypedPart>();
        /// Parts that it makes.
        makes: Vec<L::Part> = links::<TypedPart>();
        /// Parts taken off.
        removes: Vec<L::Part> = links::<TypedPart>();
        /// Parts put back.
        refits: Vec<L::Part> = links::<TypedPart>();
        /// Findings that are settled once it is done.
        mends: Vec<L::Finding> = links::<TypedFinding>();
        /// It can't be undone.
        irreversible: bool = truth().or(false);
        /// How to recover when it goes wrong.
        if_wrong: Option<String> = text();
        /// Hands-on time.
        takes: Option<Estimate> = estimate(Dimension::TIME);
        /// Time that passes by itself.
        waits: Option<Estimate> = estimate(Dimension::TIME);
        /// It does not begin before this day.
        not_before: Option<Dated> = date();
        /// It is finished by the end of this day.
        not_after: Option<Dated> = day_after("not_before");
        /// The papers that allow it: it is done while they are valid.
        under: Vec<L::Paper> = links::<TypedPaper>();
        /// The papers that it renews.
        renews: Vec<L::Paper> = links::<TypedPaper>();
        /// Where it is meant to be done.
        at: Option<L::Shop> = link::<TypedShop>();
        /// The shop comes for it: it is done where the part is.
        in_place: bool = truth().or(false);
        /// What it needs of a shop.
        calls_for: Vec<Want> = wants();
        /// The processes that it needs of a shop.
        processes: Vec<String> = texts();
        /// Names of hazards, and sentences.
        hazards: Vec<HazardItem> = hazards();
        /// What whoever does it measures and sends back, a line each.
        reports: Vec<String> = texts();
        /// What it costs; left out, its time at the shop's rate.
        cost: Option<Estimate> = estimate(Dimension::MONEY);
        /// How far it has come; left out, it is to do.
        state: StepState = word().or(StepState::Todo);
        /// The day it was begun, of a step in hand: what passes by itself counts from it.
        begun_on: Option<Dated> = date();
        /// The day it was done.
        done_on: Option<Dated> = date();
        /// Who did it, in the keeper's words.
        done_by: Option<Typed> = typed(Form::Text);
    }
}

without_links!(Want, HazardItem, StepState);

/// An item of `hazards`.
#[derive(Clone, Debug)]
pub struct HazardItem {
    /// The hazards that its words name.
    pub named: BTreeSet<Hazard>,
    /// As typed, to be printed as it is; `None` where it says no more than the names of hazards.
    pub sentence: Option<String>,
    pub span: Span,
}

/// A measure that a step calls for or a shop has: `lift: 900 lb`.
#[derive(Clone, Debug)]
pub struct Want {
    pub what: String,
    /// Where the word stands.
    pub word: Span,
    pub amount: Literal,
    /// Where the amount stands.
    pub place: Typed,
}

/// How far a step has come, as its note says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepState {
    Todo,
    Doing,
    Done,
    Dropped,
}

impl Word for StepState {
    const WORDS: &'static [(&'static str, Self)] =
        &[("todo", Self::Todo), ("doing", Self::Doing), ("done", Self::Done), ("dropped", Self::Dropped)];
}

impl StepState {
    /// The word as a person types it.
    pub fn word(self) -> &'static str {
        super::fields::word_of(self)
    }
}

impl<L: Links> Step<L> {
    /// Every hazard that the note names: in `hazards`, by its processes, by what it calls for.
    pub fn named_hazards(&self) -> BTreeSet<Hazard> {
        let by_work = self.processes.iter().chain(self.calls_for.iter().map(|want| &want.what));
        let by_work = by_work.flat_map(|words| hazard::named(words).hazards);
        self.hazards.iter().flat_map(|item| item.named.iter().copied()).chain(by_work).collect()
    }
}

fn hazards() -> Field<1, impl Reads<1, Vec<HazardItem>>> {
    let item = |typed: Typed| {
        let named = hazard::named(&typed.text);
        let sentence = (!named.is_whole).then_some(typed.text);
        HazardItem { named: named.hazards, sentence, span: typed.span }
    };
    one(Form::Texts, move |fields, key| fields.list(key).into_iter().map(item).collect())
}

/// Measures by name, of any dimension.
pub(super) fn wants() -> Field<1, impl Reads<1, Vec<Want>>> {
    one(Form::Measures, |fields, key| {
        let mut wants = Vec::new();
        for entry in fields.entries(key) {
            let Some(place) = fields.typed_at(&entry.value) else { continue };
            if let Some(amount) = fields.measure(&place) {
                wants.push(Want { what: entry.key.clone(), word: entry.key_span, amount, place });
            }
        }
        wants
    })
}
