//! A piece of work.

use std::collections::BTreeSet;

use super::fields::{Fields, Word};
use super::{AsTyped, Dated, Estimate, Links, Typed};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::hazard::Hazard;
use crate::text::Span;
use crate::trade::hazard;

/// A piece of work.
#[derive(Clone, Debug)]
pub struct Step<L: Links> {
    pub does: String,
    /// Worked on.
    pub parts: Vec<L::Part>,
    /// Steps that come first.
    pub needs: Vec<L::Step>,
    /// Questions that must be settled.
    pub hangs_on: Vec<L::Question>,
    /// Parts that must be there.
    pub uses: Vec<L::Part>,
    pub makes: Vec<L::Part>,
    /// Parts taken off.
    pub removes: Vec<L::Part>,
    /// Parts put back.
    pub refits: Vec<L::Part>,
    /// Findings that are settled once it is done.
    pub mends: Vec<L::Finding>,
    /// Can't be undone.
    pub irreversible: bool,
    /// How to recover when it goes wrong.
    pub if_wrong: Option<String>,
    /// Hands-on time, in seconds.
    pub takes: Option<Estimate>,
    /// Time that passes by itself, in seconds.
    pub waits: Option<Estimate>,
    /// It does not begin before this day.
    pub not_before: Option<Dated>,
    /// It is finished by the end of this day.
    pub not_after: Option<Dated>,
    /// The papers that allow it: it is done while they are valid.
    pub under: Vec<L::Paper>,
    /// The papers that it renews.
    pub renews: Vec<L::Paper>,
    /// Where it is meant to be done.
    pub at: Option<L::Shop>,
    /// The shop comes for it: it is done where the part is.
    pub in_place: bool,
    /// What it needs of a shop.
    pub calls_for: Vec<Want>,
    pub processes: Vec<String>,
    pub hazards: Vec<HazardItem>,
    pub cost: Option<Estimate>,
    pub state: StepState,
    pub done_on: Option<Dated>,
    /// Who did it, in the keeper's words.
    pub done_by: Option<Typed>,
}

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

pub(super) const KEYS: &[&str] = &[
    "does",
    "parts",
    "needs",
    "hangs_on",
    "uses",
    "makes",
    "removes",
    "refits",
    "mends",
    "irreversible",
    "if_wrong",
    "takes",
    "waits",
    "not_before",
    "not_after",
    "under",
    "renews",
    "at",
    "in_place",
    "calls_for",
    "processes",
    "hazards",
    "cost",
    "state",
    "done_on",
    "done_by",
];

pub(super) fn read(fields: &mut Fields) -> Option<Step<AsTyped>> {
    Some(Step {
        parts: fields.list("parts"),
        needs: fields.list("needs"),
        hangs_on: fields.list("hangs_on"),
        uses: fields.list("uses"),
        makes: fields.list("makes"),
        removes: fields.list("removes"),
        refits: fields.list("refits"),
        mends: fields.list("mends"),
        irreversible: fields.truth("irreversible").unwrap_or(false),
        if_wrong: fields.text("if_wrong"),
        takes: fields.estimate("takes", Dimension::TIME),
        waits: fields.estimate("waits", Dimension::TIME),
        not_before: fields.date("not_before"),
        not_after: fields.day_after("not_after", "not_before"),
        under: fields.list("under"),
        renews: fields.list("renews"),
        at: fields.typed("at"),
        in_place: fields.truth("in_place").unwrap_or(false),
        calls_for: wants(fields, "calls_for"),
        processes: fields.texts("processes"),
        hazards: hazards(fields),
        cost: fields.estimate("cost", Dimension::MONEY),
        state: fields.word("state").unwrap_or(StepState::Todo),
        done_on: fields.date("done_on"),
        done_by: fields.typed("done_by"),
        does: fields.required("does", "say what is done")?,
    })
}

fn hazards(fields: &mut Fields) -> Vec<HazardItem> {
    let item = |typed: Typed| {
        let named = hazard::named(&typed.text);
        let sentence = (!named.is_whole).then_some(typed.text);
        HazardItem { named: named.hazards, sentence, span: typed.span }
    };
    fields.list("hazards").into_iter().map(item).collect()
}

/// Measures by name, of any dimension.
pub(super) fn wants(fields: &mut Fields, key: &str) -> Vec<Want> {
    let mut wants = Vec::new();
    for entry in fields.entries(key) {
        let Some(place) = fields.typed_at(&entry.value) else { continue };
        if let Some(amount) = fields.measure(&place) {
            wants.push(Want { what: entry.key.clone(), word: entry.key_span, amount, place });
        }
    }
    wants
}
