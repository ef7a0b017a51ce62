//! Shops, papers and the log.

use super::declare::record;
use super::fields::Word;
use super::form::{Field, Reads, date, day_after, links, not_negative, one, text, texts, truth, typed, word};
use super::key::Form;
use super::links::{LinkText, TypedAny, TypedStep};
use super::step::{Want, wants};
use super::{Dated, Typed};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::record::problems as problem;
use crate::text::Span;

record! {
    /// Who has what: one's own shop, a helper, a firm. Its distance is in metres, its rate in money a second.
    pub struct Shop of "a shop" {
        /// What it is called.
        name: String = text().needed("say whose shop it is");
        /// The same words as a step's `calls_for`.
        has: Vec<Want> = wants();
        /// The same words as a step's `processes`.
        processes: Vec<String> = texts();
        /// How far away it is, in miles where no unit is said.
        distance ("miles"): Option<f64> = miles();
        /// What an hour costs, zero or more.
        rate: Option<Literal> = not_negative(Dimension::MONEY_RATE);
        /// Who works there; left out, others do, beside the keeper.
        hands: Hands = word().or(Hands::Own);
        /// They work where the machine is: a lorry with a crane, an inspector.
        comes: bool = truth().or(false);
        /// The hours that are worked there, if not the keeper's.
        hours_per_week: Option<Pace> = pace();
        /// How to reach them: always private.
        contact: Option<String> = text();
    }
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

record! {
    /// A document that belongs to the machine.
    pub struct Paper<L> of "a paper" {
        /// What the document is called.
        title: String = text().needed("say what the document is called");
        /// What sort of document it is.
        what: Option<String> = text();
        /// The notes it is about.
        about: Vec<L::Any> = links::<TypedAny>();
        /// Its day.
        date: Option<Dated> = date();
        /// The first day on which it is valid.
        valid_from: Option<Dated> = date();
        /// The last day on which it is valid.
        valid_until: Option<Dated> = day_after("valid_from");
        /// The document itself.
        file: Option<Typed> = typed(Form::File);
    }
}

record! {
    /// A dated page of the log.
    pub struct Entry<L> of "a log entry" {
        /// The day it is of.
        date: Dated = date().needed("say which day it is of");
        /// The notes it is about.
        about: Vec<L::Any> = links::<TypedAny>();
        /// The hours worked, by step.
        hours: Vec<(L::Step, Literal)> = hours();
    }
}

/// The international mile, exact, in metres.
pub const MILE: f64 = 1609.344;

fn pace() -> Field<1, impl Reads<1, Option<Pace>>> {
    one(Form::Number, |fields, key| {
        let span = fields.node(key)?.span;
        Some(Pace { hours: fields.number(key)?, span })
    })
}

/// The key names the unit, so a bare number will do; another unit may be written.
fn miles() -> Field<1, impl Reads<1, Option<f64>>> {
    one(Form::Quantity(Some(Dimension::LENGTH)), |fields, key| {
        let typed = fields.typed(key)?;
        let distance = match typed.text.parse::<f64>() {
            Ok(miles) => miles * MILE,
            Err(_) => fields.quantity(key, Dimension::LENGTH)?.low,
        };
        if distance.is_finite() && distance >= 0.0 {
            return Some(distance);
        }
        fields.reader.problems.push(problem::no_distance(typed.span, &typed.text));
        None
    })
}

fn hours() -> Field<1, impl Reads<1, Vec<(TypedStep, Literal)>>> {
    one(Form::ByLink(TypedStep::TO, Dimension::TIME), |fields, key| {
        let mut hours = Vec::new();
        for entry in fields.entries(key) {
            let Some(typed) = fields.typed_at(&entry.value) else { continue };
            if let Some(time) = fields.literal(&typed, Some(Dimension::TIME)) {
                let step = Typed { text: entry.key.clone(), span: entry.key_span };
                hours.push((step.into(), time));
            }
        }
        hours
    })
}
