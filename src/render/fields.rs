//! The results of a call that has several: each with its formula, or in a list.

use super::by_hand::{self, ByHand};
use super::call::Report;
use super::edition::Edition;
use super::escape::{escape, quoted};
use super::mathematics::plain;
use super::working::{Page, Room, before, figures, in_prose};
use crate::calc::expression::{Setting, Symbol};
use crate::calc::print::{self, Printed};
use crate::calc::sheet::LineOutcome;
use crate::calc::units::Units;
use crate::calc::value::{Quantity, Value};

/// At most so many fields stand one below the other; more are running text.
const MOST_FIELDS: usize = 4;

/// The fields of a record that other lines name; all of them where nothing names the record. Each with its formula, if
/// that is short.
pub(super) fn fields(page: &Page, line: &LineOutcome) -> Vec<String> {
    let Some(Value::Record(record)) = &line.value else { return Vec::new() };
    let edition = page.edition;
    let named = line.name.as_deref().and_then(|name| edition.names.named().fields(page.note, name));
    let is_shown = |field: &str| named.as_ref().is_none_or(|named| named.contains(field));
    let shown: Vec<&(String, Value)> = record.fields.iter().filter(|(name, _)| is_shown(name)).collect();
    let (by_formula, others): (Vec<_>, Vec<_>) = shown
        .into_iter()
        .map(|(name, value)| (name, value, field_by_hand(page, line, name)))
        .partition(|(_, _, by_hand)| by_hand.is_some());
    let worked = by_formula
        .into_iter()
        .filter_map(|(name, value, hand)| worked_field(page, line, name, value, &hand?));
    let others: Vec<(&String, &Value)> = others.into_iter().map(|(name, value, _)| (name, value)).collect();
    worked.chain(listed(edition, &others)).collect()
}

/// Fields without a formula: a few at the right edge, more as running text.
fn listed(edition: &Edition, them: &[(&String, &Value)]) -> Option<String> {
    if them.is_empty() {
        return None;
    }
    if them.len() <= MOST_FIELDS {
        let set: String = them.iter().map(|(name, value)| field(edition, name, value)).collect();
        return Some(format!("(kind: \"fields\", them: ({set}))"));
    }
    let told: Vec<String> = them.iter().map(|(name, value)| told(edition, name, value)).collect();
    Some(format!("(kind: \"record\", says: [{}])", told.join("#text(\"; \")")))
}

/// A field of a line that is one call, by the function's formula; what its other results come to is put in.
fn field_by_hand(page: &Page, line: &LineOutcome, field: &str) -> Option<ByHand> {
    let working = line.working.as_ref()?;
    let formula = working.numbers.as_ref().unwrap_or(&working.formula);
    let Setting::Call { name, .. } = formula else { return None };
    let function = line.functions.iter().find(|function| function.name == name)?;
    let (_, told) = Report::of(formula, &line.functions);
    let Some(Value::Record(record)) = &line.value else { return None };
    let units = &page.edition.dossier().units;
    let given = told.given_to(name)?;
    let known = |name: &str| Some(Setting::Value(alike(record.field(name)?.quantity()?, given, units)));
    by_hand::of(function, field, given, &known)
}

/// A result in the unit of what is given, where that has a quantity of its kind: one formula has the units of one system.
fn alike(quantity: &Quantity, given: &[(String, Setting)], units: &Units) -> Printed {
    let unit_of = |setting: &Setting| match setting {
        Setting::Value(printed) => units.parse(&printed.unit).ok(),
        Setting::Number { unit, .. } => units.parse(unit).ok(),
        _ => None,
    };
    let mut given = given.iter().filter_map(|(_, setting)| unit_of(setting));
    match given.find(|unit| unit.dimension() == quantity.dimension) {
        Some(unit) => print::in_unit(quantity, unit).plain(),
        None => print::without_uncertainty(quantity, units),
    }
}

/// A field as a line of working: `pressure of the press = force/area = …`.
fn worked_field(
    page: &Page,
    line: &LineOutcome,
    name: &str,
    value: &Value,
    by_hand: &ByHand,
) -> Option<String> {
    value.quantity()?;
    let symbol = Symbol::field(line.name.as_deref()?, name);
    let figures = figures(page.edition, value);
    let equated = page.equated(
        Some(&Setting::Symbol(symbol)),
        &by_hand.formula,
        by_hand.figures.as_ref(),
        Room::of(page.edition, Some(value)),
    );
    let rules = if by_hand.before.is_empty() { "()".to_owned() } else { before(by_hand, std::iter::empty()) };
    Some(format!("{equated}, given: (), rules: {rules}, {figures}, comment: none)"))
}

/// A field with its value at the right edge.
fn field(edition: &Edition, name: &str, value: &Value) -> String {
    let name = escape(&plain(name));
    let figures = match value {
        Value::Quantity(_) => figures(edition, value),
        other => {
            let text = quoted(&print::value(other, &edition.dossier().units));
            format!("number: {text}, unit: none, uncertainty: none, worst: none, other: none")
        }
    };
    format!("(name: [{name}], {figures}), ")
}

/// A field with its value in running text.
fn told(edition: &Edition, name: &str, value: &Value) -> String {
    let name = escape(&plain(name));
    match value {
        Value::Quantity(quantity) => {
            let printed = print::quantity(quantity, &edition.dossier().units);
            format!("{name} {}", in_prose(&printed, edition.amounts.other(quantity)))
        }
        other => format!("{name} {}", escape(&print::value(other, &edition.dossier().units))),
    }
}
