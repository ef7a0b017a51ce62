//! Care that comes round again.

use super::fields::Fields;
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::note::yaml::Node;

/// Care that a part asks for again and again: `{does: grease it, every: 3 months, with: calcium grease}`.
#[derive(Clone, Debug)]
pub struct Upkeep {
    pub does: String,
    pub every: Every,
    /// What it is done with: a grease, a gauge.
    pub with: Option<String>,
}

/// When it comes round.
#[derive(Clone, Debug)]
pub enum Every {
    /// A time, above zero.
    Time(Literal),
    /// In words: `before every lift`.
    Occasion(String),
}

pub(super) fn read(fields: &mut Fields) -> Vec<Upkeep> {
    fields.nodes("upkeep").into_iter().filter_map(|node| one(fields, node)).collect()
}

fn one(fields: &mut Fields, node: &Node) -> Option<Upkeep> {
    let mut upkeep =
        Fields::of(node, "the upkeep of a part", &["does", "every", "with"], &mut *fields.reader)?;
    let does = upkeep.required("does", "say what is done");
    let every = every(&mut upkeep);
    Some(Upkeep { with: upkeep.text("with"), does: does?, every: every? })
}

/// What begins with a figure is a time, and so is a unit of time alone: `year`. Anything else is an occasion.
fn every(fields: &mut Fields) -> Option<Every> {
    let text = fields.required("every", "say how often: `3 months`, or in words `before every lift`")?;
    if text.starts_with(|first: char| first.is_ascii_digit()) {
        return fields.positive("every", Dimension::TIME).map(Every::Time);
    }
    let one = Literal::parse(&format!("1 {text}"), fields.reader.units).ok();
    let one = one.filter(|one| one.dimension() == Dimension::TIME);
    Some(one.map_or(Every::Occasion(text), Every::Time))
}
