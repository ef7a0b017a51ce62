//! Shops, papers and the log.

use super::fields::{Fields, Word};
use super::step::{Want, wants};
use super::{AsTyped, Dated, Links, Typed};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::record::problems as problem;
use crate::text::Span;

/// Who has what: one's own shop, a helper, a firm.
#[derive(Clone, Debug)]
pub struct Shop {
    pub name: String,
    /// The same words as a step's `calls_for`.
    pub has: Vec<Want>,
    pub processes: Vec<String>,
    /// Metres away.
    pub distance: Option<f64>,
    /// Money a second, zero or more.
    pub rate: Option<Literal>,
    /// Who works there.
    pub hands: Hands,
    /// They work where the machine is: a lorry with a crane, an inspector.
    pub comes: bool,
    /// If not the keeper's.
    pub hours_per_week: Option<Pace>,
    /// Always private.
    pub contact: Option<String>,
}

impl Shop {
    /// The name as it follows the word "at": "the hatch itself" of "At the hatch itself".
    pub fn name_after_at(&self) -> &str {
        let bare = ["At ", "In ", "On "].iter().find_map(|first| self.name.strip_prefix(first));
        bare.unwrap_or(&self.name)
    }
}

/// How much of a week is worked.
#[derive(Clone, Copy, Debug)]
pub struct Pace {
    /// Hands-on, above zero.
    pub hours: f64,
    pub span: Span,
}

/// Whose hands work at a place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hands {
    /// The shop's own, beside the keeper's.
    #[default]
    Own,
    /// The keeper goes there.
    Keeper,
}

impl Word for Hands {
    const WORDS: &'static [(&'static str, Self)] = &[("own", Self::Own), ("keeper", Self::Keeper)];
}

/// A document that belongs to the machine.
#[derive(Clone, Debug)]
pub struct Paper<L: Links> {
    pub title: String,
    pub what: Option<String>,
    pub about: Vec<L::Any>,
    pub date: Option<Dated>,
    pub valid_from: Option<Dated>,
    pub valid_until: Option<Dated>,
    /// Relative to the note.
    pub file: Option<Typed>,
}

/// A dated page of the log.
#[derive(Clone, Debug)]
pub struct Entry<L: Links> {
    pub date: Dated,
    pub about: Vec<L::Any>,
    /// Hours worked, in seconds, by step.
    pub hours: Vec<(L::Step, Literal)>,
}

pub(super) const SHOP_KEYS: &[&str] =
    &["name", "has", "processes", "miles", "rate", "hands", "comes", "hours_per_week", "contact"];
pub(super) const PAPER_KEYS: &[&str] =
    &["title", "what", "about", "date", "valid_from", "valid_until", "file"];
pub(super) const ENTRY_KEYS: &[&str] = &["date", "about", "hours"];

/// The international mile, exact, in metres.
pub const MILE: f64 = 1609.344;

pub(super) fn shop(fields: &mut Fields) -> Option<Shop> {
    Some(Shop {
        has: wants(fields, "has"),
        processes: fields.texts("processes"),
        distance: miles(fields),
        rate: fields.not_negative("rate", Dimension::MONEY_RATE),
        hands: fields.word("hands").unwrap_or_default(),
        comes: fields.truth("comes").unwrap_or(false),
        hours_per_week: pace(fields),
        contact: fields.text("contact"),
        name: fields.required("name", "say whose shop it is")?,
    })
}

fn pace(fields: &mut Fields) -> Option<Pace> {
    let span = fields.node("hours_per_week")?.span;
    Some(Pace { hours: fields.number("hours_per_week")?, span })
}

/// The key names the unit, so a bare number will do; another unit may be written.
fn miles(fields: &mut Fields) -> Option<f64> {
    let typed = fields.typed("miles")?;
    let distance = match typed.text.parse::<f64>() {
        Ok(miles) => miles * MILE,
        Err(_) => fields.quantity("miles", Dimension::LENGTH)?.low,
    };
    if distance.is_finite() && distance >= 0.0 {
        return Some(distance);
    }
    fields.reader.problems.push(problem::no_distance(typed.span, &typed.text));
    None
}

pub(super) fn paper(fields: &mut Fields) -> Option<Paper<AsTyped>> {
    Some(Paper {
        what: fields.text("what"),
        about: fields.list("about"),
        date: fields.date("date"),
        valid_from: fields.date("valid_from"),
        valid_until: fields.day_after("valid_until", "valid_from"),
        file: fields.typed("file"),
        title: fields.required("title", "say what the document is called")?,
    })
}

pub(super) fn entry(fields: &mut Fields) -> Option<Entry<AsTyped>> {
    if fields.node("date").is_none() {
        fields.missing("date", "say which day it is of");
    }
    let hours = hours(fields);
    Some(Entry { about: fields.list("about"), hours, date: fields.date("date")? })
}

fn hours(fields: &mut Fields) -> Vec<(Typed, Literal)> {
    let mut hours = Vec::new();
    for entry in fields.entries("hours") {
        let Some(typed) = fields.typed_at(&entry.value) else { continue };
        if let Some(time) = fields.literal(&typed, Some(Dimension::TIME)) {
            hours.push((Typed { text: entry.key.clone(), span: entry.key_span }, time));
        }
    }
    hours
}
