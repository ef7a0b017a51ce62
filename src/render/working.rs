//! Calculation blocks and quoted values, set out.

use std::collections::BTreeSet;

use super::amounts::Amounts;
use super::assets::Assets;
use super::call::{Report, rules};
use super::edition::Edition;
use super::escape::{escape, quoted};
use super::letter;
use super::mathematics::{equation, plain, unbroken};
use super::prose::{capital, joined};
use crate::calc::evaluate::Note;
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::expression::{Setting, Working};
use crate::calc::function::Said;
use crate::calc::print::{self, Printed};
use crate::calc::sheet::{Budget, LineKind, LineOutcome};
use crate::calc::value::Value;
use crate::dossier::NoteId;
use crate::text::Span;

/// A calculation block, line by line.
pub(super) fn block(edition: &Edition, note: NoteId, at: Span) -> String {
    let Some(block) = edition.project.worked.block(at) else { return String::new() };
    if edition.names.is_letter() {
        return letter::block(edition, note, at);
    }
    let mut text = String::new();
    let mut lines: Vec<String> = Vec::new();
    let mut shown = BTreeSet::new();
    for line in &block.lines {
        lines.extend(set_out(edition, note, line, &mut shown));
        if let Some(budget) = &line.budget {
            text.push_str(&working(&mut lines));
            text.push_str(&budget_of(&edition.assets, budget));
        }
    }
    text.push_str(&working(&mut lines));
    text
}

fn working(lines: &mut Vec<String>) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let text: String = lines.drain(..).map(|line| format!("  {line},\n")).collect();
    format!("#working(\n{text})\n")
}

/// A value quoted in prose.
pub(super) fn quote(edition: &Edition, _: NoteId, at: Span) -> String {
    let Some(quote) = edition.project.worked.quote(at) else { return String::new() };
    match &quote.printed {
        Some(printed) => {
            let other = quote.value.as_ref().and_then(|value| other(&edition.amounts, value));
            in_prose(printed, other)
        }
        None => escape(&quote.text),
    }
}

/// A value in the other system, where the dossier asks for both.
fn other(amounts: &Amounts, value: &Value) -> Option<String> {
    amounts.other(value.quantity()?)
}

/// A value in running text; in brackets how well it is known, and the same in the other system.
fn in_prose(printed: &Printed, other: Option<String>) -> String {
    let beside: Vec<String> = known(printed).into_iter().chain(other).collect();
    let beside = if beside.is_empty() { String::new() } else { escape(&format!(" ({})", beside.join("; "))) };
    format!("#value({}, {}){beside}", quoted(&number(printed)), unit(printed))
}

/// A line in full. `shown`: the functions whose formulas stand in the block already.
fn set_out(
    edition: &Edition,
    note: NoteId,
    line: &LineOutcome,
    shown: &mut BTreeSet<&'static str>,
) -> Vec<String> {
    let comment = content(line.comment.as_deref());
    let main = match line.kind {
        LineKind::Comment => Some(said(line.comment.as_deref().unwrap_or_default())),
        LineKind::Check => check(edition, line, &comment),
        LineKind::Assumption => assumption(line, &comment),
        LineKind::Budget | LineKind::Faulty => None,
        _ => result(edition, line, &comment, shown),
    };
    main.into_iter().chain(fields(edition, note, line)).chain(notes(&line.notes)).collect()
}

/// What workshop functions say about a line, in small paragraphs: what they warn of, then what else.
fn notes(notes: &[Note]) -> impl Iterator<Item = String> {
    let (warnings, others): (Vec<&Note>, Vec<&Note>) = notes.iter().partition(|note| note.is_warning);
    let warned =
        warnings.into_iter().map(|note| format!("#strong[Caution:] {}.", with_code(&note.said.to_string())));
    let said = by_subject(others.into_iter().map(|note| &note.said));
    let said = said.iter().map(|text| format!("{}.", with_code(&capital(text))));
    let paragraphs = [warned.collect::<Vec<_>>(), said.collect()];
    paragraphs
        .into_iter()
        .filter(|said| !said.is_empty())
        .map(|said| format!("(kind: \"note\", says: [{}])", said.join(" ")))
}

/// Comments on one thing as one: `Wrought iron: along the grain; figures partly from memory`.
fn by_subject<'a>(remarks: impl Iterator<Item = &'a Said>) -> Vec<String> {
    let mut joined: Vec<(Option<&str>, String)> = Vec::new();
    for remark in remarks {
        let (subject, rest) = (remark.subject.as_deref(), remark.text.trim_end_matches('.'));
        match joined.iter_mut().find(|(known, _)| subject.is_some() && *known == subject) {
            Some((_, text)) => {
                text.push_str("; ");
                text.push_str(rest);
            }
            None => joined.push((subject, remark.to_string().trim_end_matches('.').to_owned())),
        }
    }
    joined.into_iter().map(|(_, text)| text).collect()
}

/// A text in which backquotes stand around what is typed.
pub(super) fn with_code(text: &str) -> String {
    let pieces = text.trim_end_matches('.').split('`').enumerate();
    pieces
        .map(|(index, piece)| if index % 2 == 1 { format!("#raw({})", quoted(piece)) } else { escape(piece) })
        .collect()
}

/// At most so many fields stand one below the other; more are running text.
const MOST_FIELDS: usize = 4;

/// The fields of a record that other lines name; all of them where nothing names the record.
fn fields(edition: &Edition, note: NoteId, line: &LineOutcome) -> Vec<String> {
    let Some(Value::Record(record)) = &line.value else { return Vec::new() };
    let named = line.name.as_deref().and_then(|name| edition.names.named().fields(note, name));
    let is_shown = |field: &str| named.as_ref().is_none_or(|named| named.contains(field));
    let shown: Vec<&(String, Value)> = record.fields.iter().filter(|(name, _)| is_shown(name)).collect();
    if shown.len() <= MOST_FIELDS {
        let set: String = shown.into_iter().map(|(name, value)| field(edition, name, value)).collect();
        return if set.is_empty() { Vec::new() } else { vec![format!("(kind: \"fields\", them: ({set}))")] };
    }
    let told: Vec<String> = shown.into_iter().map(|(name, value)| told(edition, name, value)).collect();
    vec![format!("(kind: \"record\", says: [{}])", told.join("#text(\"; \")"))]
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

/// Number, unit and uncertainties of a result, and the result in the other system.
fn figures(edition: &Edition, value: &Value) -> String {
    let Some(quantity) = value.quantity() else { return NO_FIGURES.to_owned() };
    let printed = print::quantity(quantity, &edition.dossier().units);
    format!(
        "number: {}, unit: {}, uncertainty: {}, worst: {}, other: {}",
        quoted(&number(&printed)),
        unit(&printed),
        text_or_none(uncertainty(&printed).as_ref()),
        text_or_none(printed.shown_worst().map(|text| signs(&text)).as_ref()),
        text_or_none(edition.amounts.other(quantity).as_ref()),
    )
}

/// `known to ± 0.0012`, below a result with its unit; with the signs of print.
fn uncertainty(printed: &Printed) -> Option<String> {
    Printed { unit: String::new(), ..printed.clone() }.known_to().map(|text| signs(&text))
}

/// A typed value whose bound is worded like any other uncertainty: `34 in (known to ± 1/4 in)`.
fn worded(setting: Setting) -> Setting {
    let Some((value, bound)) = parted(&setting) else { return setting };
    let known = Setting::Row(vec![Setting::Text("known to ±".to_owned()), bound]);
    Setting::Row(vec![value, Setting::Bracket(Box::new(known))])
}

/// A typed value and the bound behind its sign.
fn parted(setting: &Setting) -> Option<(Setting, Setting)> {
    let Setting::Row(pieces) = setting else { return None };
    let sign = pieces.iter().position(|piece| *piece == Setting::Text("±".to_owned()))?;
    let row = |pieces: &[Setting]| Setting::Row(pieces.to_vec());
    Some((row(&pieces[..sign]), row(&pieces[sign + 1..])))
}

fn signs(text: &str) -> String {
    text.replace('-', "−")
}

fn text_or_none(text: Option<&String>) -> String {
    text.map_or("none".to_owned(), |text| quoted(text))
}

fn said(text: &str) -> String {
    format!("(kind: \"comment\", says: [{}])", escape(text))
}

fn content(text: Option<&str>) -> String {
    text.filter(|text| !text.is_empty()).map_or("none".to_owned(), |text| format!("[{}]", escape(text)))
}

fn optional(setting: Option<&Setting>) -> String {
    setting.map_or("none".to_owned(), equation)
}

/// What stands left of the equals sign; empty where the line defines nothing.
fn symbol(working: &Working) -> String {
    working.symbol.as_ref().map_or("[]".to_owned(), equation)
}

fn result(
    edition: &Edition,
    line: &LineOutcome,
    comment: &str,
    shown: &mut BTreeSet<&'static str>,
) -> Option<String> {
    let working = line.working.as_ref()?;
    let Working { formula, numbers, result, .. } = working;
    let (formula, told) = Report::of(formula, &line.functions);
    let formula = worded(formula);
    let with_numbers = numbers.as_ref().map(|numbers| Report::of(numbers, &line.functions));
    let (numbers, numbers_told) = with_numbers.unzip();
    let numbers = numbers.filter(|numbers| *numbers != formula);
    let (numbers, figures) = match result {
        Some(Setting::Value(_)) => (numbers, figures(edition, line.value.as_ref()?)),
        // A list or a truth: the result is mathematics, not a figure in the last column.
        Some(other) if !matches!(line.value, Some(Value::Record(_))) => {
            (Some(other.clone()), NO_FIGURES.to_owned())
        }
        Some(_) => (None, NO_FIGURES.to_owned()),
        None => (numbers, NO_FIGURES.to_owned()),
    };
    let new =
        line.functions.iter().copied().filter(|function| !told.is_empty() && shown.insert(function.name));
    let rules = rules(new, numbers_told.as_ref().unwrap_or(&told));
    Some(format!(
        "(kind: \"line\", symbol: {}, formula: {}, numbers: {}, unbroken: {}, given: {}, rules: {rules}, {figures}, comment: {comment})",
        symbol(working),
        equation(&formula),
        optional(numbers.as_ref()),
        unbroken([Some(&formula), numbers.as_ref()].into_iter().flatten()),
        told.markup(numbers_told.as_ref()),
    ))
}

const NO_FIGURES: &str = "number: none, unit: none, uncertainty: none, worst: none, other: none";

fn assumption(line: &LineOutcome, comment: &str) -> Option<String> {
    let working = line.working.as_ref()?;
    let symbol = optional(working.symbol.as_ref());
    let (number, unit, known) = match working.result.as_ref().unwrap_or(&working.formula) {
        Setting::Value(printed) => (quoted(&number(printed)), unit(printed), known(printed)),
        typed => {
            let (value, bound) = parted(typed).unzip();
            let known = bound.map(|bound| joined(&print::known_to(&bound.words())));
            (quoted(&value.as_ref().unwrap_or(typed).words()), "none".to_owned(), known)
        }
    };
    let known = text_or_none(known.as_ref());
    Some(format!(
        "(kind: \"assume\", symbol: {symbol}, number: {number}, unit: {unit}, known: {known}, comment: {comment})"
    ))
}

fn check(edition: &Edition, line: &LineOutcome, comment: &str) -> Option<String> {
    let (working, verdict) = (line.working.as_ref()?, line.verdict.as_ref()?);
    let says = equation(&working.formula);
    let by = quoted(&verdict.distance(&edition.dossier().units));
    let verdict = quoted(verdict_code(verdict.outcome));
    let unbroken = unbroken([&working.formula].into_iter());
    let numbers = optional(working.numbers.as_ref());
    Some(format!(
        "(kind: \"check\", says: {says}, numbers: {numbers}, unbroken: {unbroken}, verdict: {verdict}, by: {by}, comment: {comment})"
    ))
}

pub(super) fn verdict_code(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Holds => "holds",
        Outcome::Fails => "fails",
        Outcome::NotSettled => "unsettled",
    }
}

/// The number alone, its power of ten with it.
pub(super) fn number(printed: &Printed) -> String {
    let plain = Printed { unit: String::new(), remainder: None, ..printed.clone() };
    plain.value()
}

/// `known to ± 0.0012 in`, with the signs of print and unbroken.
pub(super) fn known(printed: &Printed) -> Option<String> {
    printed.known_to().map(|known| signs(&joined(&known)))
}

/// The unit, and what a nearest fraction leaves over.
pub(super) fn unit(printed: &Printed) -> String {
    let parts: Vec<&str> = [Some(printed.unit.as_str()), printed.remainder.as_deref()]
        .into_iter()
        .flatten()
        .filter(|part| !part.is_empty())
        .collect();
    if parts.is_empty() { "none".to_owned() } else { quoted(&parts.join(" ")) }
}

#[derive(serde::Serialize)]
struct BudgetShape {
    plot: &'static str,
    unit: String,
    lines: Vec<BudgetLine>,
    total: String,
    caption: String,
    alt: String,
}

#[derive(serde::Serialize)]
struct BudgetLine {
    name: String,
    value: f64,
    says: String,
}

/// The shares of the uncertainty, largest first.
fn budget_of(assets: &Assets, budget: &Budget) -> String {
    let rows = budget.rows.iter().map(|row| BudgetLine {
        name: row.source.clone(),
        value: row.standard.parse().unwrap_or(row.share),
        says: format!("{} ({:.0} %)", row.standard, row.share),
    });
    let expanded = match &budget.total.expanded {
        Some(expanded) => format!("Expanded at 95 %: ± {expanded}"),
        None => "No figure at 95 %, since nonlinearity outweighs the other sources".to_owned(),
    };
    let shape = BudgetShape {
        plot: "budget",
        unit: budget.total.unit.clone(),
        lines: rows.collect(),
        total: budget.total.standard.clone(),
        caption: format!(
            "Uncertainty of {} by source: standard uncertainties. {expanded}; at worst ± {}.",
            budget.subject(),
            budget.total.worst
        ),
        alt: format!("Budget of the uncertainty of {}.", budget.of),
    };
    let path = assets.lay_data(&shape);
    format!("#plot(json({}))\n", quoted(&path))
}
