//! Calculations as a letter to a helper has them: what they come to, each figure with its name, without the working.

use super::edition::Edition;
use super::escape::{escape, quoted};
use super::mathematics::plain;
use super::sheet;
use super::working::{number, unit};
use crate::calc::dimension::Dimension;
use crate::calc::print;
use crate::calc::sheet::{LineKind, LineOutcome};
use crate::calc::value::{Quantity, Value};
use crate::dossier::NoteId;
use crate::hazard::Hazard;
use crate::text::Span;

/// The figures of a block; empty where it has none for the reader. Whoever works to sizes gets none but those with their
/// limits, which stand in the table of sizes: another figure could be taken for one.
pub(super) fn block(edition: &Edition, note: NoteId, at: Span) -> String {
    let is_shaping = matches!(note, NoteId::Step(step) if sheet::is_shaping(edition.dossier(), step));
    let Some(block) = edition.project.worked.block(at).filter(|_| !is_shaping) else { return String::new() };
    let lines = block.lines.iter().filter(|line| goes(edition, note, line));
    let said: String = lines.flat_map(|line| figures(edition, note, line)).collect();
    if said.is_empty() { said } else { format!("#working((kind: \"fields\", them: ({said})))\n") }
}

/// What is only typed is the beginning of a calculation; what it comes to is a figure of the job.
fn goes(edition: &Edition, note: NoteId, line: &LineOutcome) -> bool {
    line.kind == LineKind::Definition
        && line.literal.is_none()
        && !edition.privacy().rests(&edition.dossier().head(note).id, &line.references)
}

/// A length and every field of a record that nothing goes on from; where other lines go on from what bears on a lift,
/// the lengths that they read: where it balances.
fn figures(edition: &Edition, note: NoteId, line: &LineOutcome) -> Vec<String> {
    let (Some(name), Some(value)) = (&line.name, &line.value) else { return Vec::new() };
    let read = edition.names.named().fields(note, name);
    let lifts = line.functions.iter().any(|function| function.hazard == Some(Hazard::Lifting));
    match (value, read) {
        (Value::Quantity(quantity), None) if is_length(value) => {
            vec![figure(edition, &plain(name), quantity)]
        }
        (Value::Record(record), read) => {
            let is_told = |field: &str, value: &Value| match &read {
                None => true,
                Some(read) => lifts && is_length(value) && read.contains(field),
            };
            let told = record.fields.iter().filter(|(field, value)| is_told(field, value));
            let told = told.filter_map(|(field, value)| Some((field, value.quantity()?)));
            told.filter(|(_, quantity)| quantity.dimension != Dimension::MONEY)
                .map(|(field, quantity)| {
                    figure(edition, &format!("{}, {}", plain(name), plain(field)), quantity)
                })
                .collect()
        }
        _ => Vec::new(),
    }
}

fn is_length(value: &Value) -> bool {
    value.quantity().is_some_and(|quantity| quantity.dimension == Dimension::LENGTH)
}

/// No finer than it is known; how well it is known would be read as a tolerance.
fn figure(edition: &Edition, name: &str, quantity: &Quantity) -> String {
    let printed = print::quantity(quantity, &edition.dossier().units).plain();
    let other = edition.amounts.other(quantity).map_or("none".to_owned(), |other| quoted(&other));
    format!(
        "(name: [{}], number: {}, unit: {}, uncertainty: none, worst: none, other: {other}), ",
        escape(name),
        quoted(&number(&printed)),
        unit(&printed),
    )
}
