//! Care that comes round again.

use super::declare::record;
use super::fields::Fields;
use super::form::{Field, Reads, one, text};
use super::key::Form;
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;

record! {
    /// Care that a part asks for again and again: `{does: grease it, every: 3 months, with: calcium grease}`.
    pub struct Upkeep of "the upkeep of a part" {
        /// What is done.
        does: String = text().needed("say what is done");
        /// A time, or an occasion in your own words.
        every: Every = every().needed("say how often: `3 months`, or in words `before every lift`");
        /// What it is done with: a grease, a gauge.
        with: Option<String> = text();
    }
}

/// When it comes round.
#[derive(Clone, Debug)]
pub enum Every {
    /// A time, above zero.
    Time(Literal),
    /// In words: `before every lift`.
    Occasion(String),
}

fn every() -> Field<1, impl Reads<1, Option<Every>>> {
    one(Form::Text, |fields, key| {
        let text = fields.text(key)?;
        if text.starts_with(|first: char| first.is_ascii_digit()) {
            return fields.positive(key, Dimension::TIME).map(Every::Time);
        }
        Some(one_unit(fields, &text).map_or(Every::Occasion(text), Every::Time))
    })
}

/// A unit of time alone, `year`, is one of it.
fn one_unit(fields: &Fields, unit: &str) -> Option<Literal> {
    let one = Literal::parse(&format!("1 {unit}"), fields.reader.units).ok()?;
    (one.dimension() == Dimension::TIME).then_some(one)
}
