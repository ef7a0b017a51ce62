//! Calculation blocks and quoted values, set out.

use std::collections::BTreeSet;

use super::amounts::Amounts;
use super::breadth::{LINE, is_tall, letters};
use super::by_hand::{self, ByHand};
use super::call::{Report, rules};
use super::edition::Edition;
use super::escape::{escape, quoted};
use super::fields::fields;
use super::in_words;
use super::letter;
use super::mathematics::{equation, plain, unbroken};
use super::prose::joined;
use super::remarks;
use crate::calc::evaluate::verdict::{Outcome, Verdict};
use crate::calc::expression::{Setting, comparison_sign};
use crate::calc::function::Function;
use crate::calc::print::{self, Printed};
use crate::calc::sheet::{Budget, LineKind, LineOutcome};
use crate::calc::syntax::Comparison;
use crate::calc::units::Units;
use crate::calc::value::{Quantity, Value};
use crate::dossier::NoteId;
use crate::text::Span;

/// A block of working while it is set out.
pub(super) struct Page<'a> {
    pub(super) edition: &'a Edition<'a>,
    pub(super) note: NoteId,
    /// Letters of the widest symbol left of the equals signs.
    symbols: usize,
    /// The functions that were named in the block already.
    shown: BTreeSet<&'static str>,
}

/// A wider symbol is squeezed.
const WIDEST_SYMBOL: usize = 24;

/// A calculation block, line by line.
pub(super) fn block(edition: &Edition, note: NoteId, at: Span) -> String {
    let Some(block) = edition.project.worked.block(at) else { return String::new() };
    if edition.names.is_letter() {
        return letter::block(edition, note, at);
    }
    let symbols = block.lines.iter().filter_map(|line| line.working.as_ref()?.symbol.as_ref());
    let symbols = symbols.map(letters).max().unwrap_or(0).min(WIDEST_SYMBOL);
    let mut page = Page { edition, note, symbols, shown: BTreeSet::new() };
    let mut text = String::new();
    let mut lines: Vec<String> = Vec::new();
    for line in &block.lines {
        lines.extend(page.set_out(line));
        if let Some(budget) = &line.budget {
            text.push_str(&working(&mut lines));
            text.push_str(&budget_of(edition, budget));
        }
    }
    text.push_str(&working(&mut lines));
    text
}

impl Page<'_> {
    /// A line in full.
    fn set_out(&mut self, line: &LineOutcome) -> Vec<String> {
        let comment = content(line.comment.as_deref());
        let main = match line.kind {
            LineKind::Comment => Some(said(line.comment.as_deref().unwrap_or_default())),
            LineKind::Check => check(self.edition, line, &comment),
            LineKind::Assumption => assumption(line, &comment),
            LineKind::Budget | LineKind::Faulty => None,
            _ => result(self, line, &comment),
        };
        let main = main.map(|main| self.placed(line, main));
        main.into_iter()
            .chain(fields(self, line))
            .chain(remarks::of_line(self.edition, self.note, line))
            .collect()
    }

    /// With its place, where other pages point at it: a check, an assumption, a workshop function.
    fn placed(&self, line: &LineOutcome, main: String) -> String {
        let is_sought = line.verdict.is_some()
            || !line.functions.is_empty()
            || !line.notes.is_empty()
            || line.kind == LineKind::Assumption;
        if is_sought {
            format!("(..{main}, place: {})", quoted(&self.edition.names.line_label(self.note, line)))
        } else {
            main
        }
    }

    /// Symbol, formula and figures, what of them fits in one line, and where how well the result is known has room.
    pub(super) fn equated(
        &self,
        symbol: Option<&Setting>,
        formula: &Setting,
        numbers: Option<&Setting>,
        result: Room,
    ) -> String {
        let is_tall = is_tall(formula) || numbers.is_some_and(is_tall);
        let written = |setting: Option<&Setting>| setting.map_or(0, |setting| letters(setting) + 3);
        let takes = self.symbols + written(Some(formula)) + written(numbers);
        let is_joined = takes + result.figure <= LINE;
        let known = match (is_joined || numbers.is_none(), is_tall) {
            (true, false) if takes + result.figure + result.known <= LINE => "beside",
            (true, true) if takes + result.figure.max(result.known) <= LINE => "under",
            _ => "below",
        };
        format!(
            "(kind: \"line\", symbol: {}, formula: {}, numbers: {}, joined: {is_joined}, known: \"{known}\", tall: {is_tall}, unbroken: {}",
            symbol.map_or("[]".to_owned(), equation),
            equation(formula),
            optional(numbers),
            unbroken([Some(formula), numbers].into_iter().flatten()),
        )
    }
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
pub(super) fn in_prose(printed: &Printed, other: Option<String>) -> String {
    let beside: Vec<String> = known(printed).into_iter().chain(other).collect();
    let beside = if beside.is_empty() { String::new() } else { escape(&format!(" ({})", beside.join("; "))) };
    format!("#value({}, {}){beside}", quoted(&number(printed)), unit(printed))
}

/// Number, unit and uncertainties of a result, and the result in the other system.
pub(super) fn figures(edition: &Edition, value: &Value) -> String {
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

/// A line that defines something.
fn result(page: &mut Page, line: &LineOutcome, comment: &str) -> Option<String> {
    let (edition, working) = (page.edition, line.working.as_ref()?);
    let formula = in_words::with_names(edition, &working.formula);
    let (short, told) = Report::of(&formula, &line.functions);
    let with_numbers = working.numbers.as_ref().map(|numbers| in_words::with_names(edition, numbers));
    let with_numbers = with_numbers.as_ref().map(|numbers| Report::of(numbers, &line.functions));
    let (numbers, numbers_told) = with_numbers.unzip();
    let by_hand = by_hand_of(&formula, &line.functions, numbers_told.as_ref().unwrap_or(&told));
    let new = line.functions.iter().copied();
    let new = new.filter(|function| !told.is_empty() && page.shown.insert(function.name));
    let rules = match &by_hand {
        Some(by_hand) => before(by_hand, new),
        None if matches!(line.value, Some(Value::Record(_))) => rules_by_name(new),
        None => rules(new, numbers_told.as_ref().unwrap_or(&told)),
    };
    let given = told.markup(numbers_told.as_ref(), by_hand.as_ref().map(ByHand::names).as_ref());
    let (formula, numbers) = match by_hand {
        Some(by_hand) => (by_hand.formula, by_hand.figures),
        None => (worded(short), numbers),
    };
    let numbers = numbers.filter(|numbers| *numbers != formula);
    let (numbers, figures) = match &working.result {
        Some(Setting::Value(_)) => (numbers, figures(edition, line.value.as_ref()?)),
        // A list or a truth: the result is mathematics, not a figure in the last column.
        Some(other) if !matches!(line.value, Some(Value::Record(_))) => {
            (Some(other.clone()), NO_FIGURES.to_owned())
        }
        Some(_) => (None, NO_FIGURES.to_owned()),
        None => (numbers, NO_FIGURES.to_owned()),
    };
    let symbol = working.symbol.as_ref();
    Some(format!(
        "{}, given: {given}, rules: {rules}, {figures}, comment: {comment})",
        page.equated(symbol, &formula, numbers.as_ref(), Room::of(edition, line.value.as_ref())),
    ))
}

/// A line that is nothing but a call, or a field of one, by the function's own formula.
fn by_hand_of(formula: &Setting, functions: &[&'static Function], told: &Report) -> Option<ByHand> {
    let (call, field) = match formula {
        Setting::Field(call, field) => (&**call, Some(field.as_str())),
        call => (call, None),
    };
    let Setting::Call { name, .. } = call else { return None };
    let function = functions.iter().find(|function| function.name == name)?;
    let output = match (field, function.outputs) {
        (Some(field), _) => field,
        (None, [only]) => only.name,
        (None, _) => return None,
    };
    by_hand::of(function, output, told.given_to(name)?, &|_| None)
}

/// What a formula is worked out from, and the function's place in its chapter if it was not named before.
pub(super) fn before(by_hand: &ByHand, mut new: impl Iterator<Item = &'static Function>) -> String {
    let line = |(line, figures): &(Setting, Option<Setting>)| {
        let figures = figures.as_ref().map(|figures| format!(" = #{}", equation(figures)));
        format!("#{}{}", equation(line), figures.unwrap_or_default())
    };
    let lines: Vec<String> = by_hand.before.iter().map(line).collect();
    let name = new.next().map(|function| (quoted(function.name), quoted(&plain(function.name))));
    let (name, called) = name.unwrap_or_else(|| ("none".to_owned(), "none".to_owned()));
    format!("((name: {name}, called: {called}, says: [{}]), )", lines.join("; "))
}

/// The functions alone: the results of a call are set out one by one below it.
fn rules_by_name(new: impl Iterator<Item = &'static Function>) -> String {
    let rule = |function: &Function| {
        format!("(name: {}, called: {}, says: []), ", quoted(function.name), quoted(&plain(function.name)))
    };
    format!("({})", new.map(rule).collect::<String>())
}

/// About how many letters a result takes, and what is said behind it.
#[derive(Clone, Copy, Default)]
pub(super) struct Room {
    figure: usize,
    known: usize,
}

impl Room {
    pub(super) fn of(edition: &Edition, value: Option<&Value>) -> Self {
        let Some(quantity) = value.and_then(Value::quantity) else { return Self::default() };
        let printed = print::quantity(quantity, &edition.dossier().units);
        let other = edition.amounts.other(quantity);
        let said = [uncertainty(&printed), printed.shown_worst(), other];
        let count = |text: &String| text.chars().count() + 3;
        Self {
            figure: number(&printed).chars().count() + printed.unit.chars().count() + 3,
            known: said.iter().flatten().map(count).sum::<usize>() * 7 / 8,
        }
    }
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
    let units = &edition.dossier().units;
    let formula = in_words::with_names(edition, &working.formula);
    let numbers = in_one_unit(verdict, units).filter(|numbers| *numbers != formula);
    let by = quoted(&verdict.distance(units));
    Some(format!(
        "(kind: \"check\", says: {}, numbers: {}, tall: {}, unbroken: {}, verdict: {}, by: {by}, comment: {comment})",
        equation(&formula),
        optional(numbers.as_ref()),
        is_tall(&formula),
        unbroken([&formula].into_iter()),
        quoted(verdict_code(verdict.outcome)),
    ))
}

/// What a check holds against what, all in the unit that its verdict is given in.
pub(super) fn in_one_unit(verdict: &Verdict, units: &Units) -> Option<Setting> {
    let unit = verdict.margin.printed_unit(units);
    let set = |quantity: &Quantity| Box::new(Setting::Value(print::in_unit(quantity, unit).plain()));
    let value = set(&verdict.value);
    Some(match (&verdict.low, &verdict.high) {
        (Some(low), Some(high)) if verdict.comparison == Comparison::Within => {
            let ends = Setting::Relation(set(low), "..", set(high));
            Setting::Relation(value, "within", Box::new(ends))
        }
        (Some(limit), _) | (None, Some(limit)) => {
            Setting::Relation(value, comparison_sign(verdict.comparison), set(limit))
        }
        (None, None) => return None,
    })
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
fn budget_of(edition: &Edition, budget: &Budget) -> String {
    let rows = budget.rows.iter().map(|row| BudgetLine {
        name: in_words::source(edition.dossier(), &row.source),
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
            plain(&budget.subject()),
            budget.total.worst
        ),
        alt: format!("Budget of the uncertainty of {}.", budget.of),
    };
    let path = edition.assets.lay_data(&shape);
    format!("#plot(json({}))\n", quoted(&path))
}
