//! What `lookup` and `identify` share: lengths read as typed, figures set out in columns, what is to be said with them.

use std::collections::BTreeSet;

use comfy_table::Table as Terminal;
use serde::{Serialize, Serializer};

use super::table::{Side, Table};
use super::{AnswerForm, Ended, Outcome, Trouble, output};
use crate::calc::dimension::Dimension;
use crate::calc::function::Refusal;
use crate::calc::literal::{Literal, LiteralFault};
use crate::calc::units::{Settings, Units};
use crate::hazard::Hazard;

/// No size and no designation is longer than this, in characters.
const LONGEST: usize = 120;

/// What is said with the figures, whatever the form.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Said {
    pub remarks: Vec<String>,
    pub source: String,
    #[serde(serialize_with = "in_words")]
    pub caution: Option<Hazard>,
}

// By reference, as serde hands the field over.
#[allow(clippy::ref_option)]
fn in_words<S: Serializer>(caution: &Option<Hazard>, out: S) -> Result<S::Ok, S::Error> {
    caution.map(Hazard::caution).serialize(out)
}

/// An answer for people: a line on what was asked, tables, and what is to be said with them.
pub(super) struct Page(String);

impl Page {
    pub(super) fn headed(title: &str) -> Self {
        Self(format!("{}\n", wrapped(title, Terminal::new().width())))
    }

    /// Adds a table; its columns are of one length.
    pub(super) fn table(mut self, columns: &[Column]) -> Self {
        let heads: Vec<(&str, Side)> =
            columns.iter().map(|column| (column.head.as_str(), column.side)).collect();
        let mut table = Table::new(&heads);
        for row in 0..columns.first().map_or(0, |column| column.cells.len()) {
            table.row(columns.iter().map(|column| column.cells.get(row).cloned().unwrap_or_default()));
        }
        self.0.push_str(&format!("\n{table}").replace(FIRM, " "));
        self
    }

    pub(super) fn said(mut self, said: &Said) -> Self {
        let source = format!("Source: {}.", said.source.trim_end_matches('.'));
        let caution = said.caution.map(|caution| format!("Caution: {}", caution.caution()));
        let lines = said.remarks.iter().map(|remark| sentence(remark)).chain([source]).chain(caution);
        self.0.push('\n');
        for line in lines {
            self.0.push_str(&wrapped(&line, Terminal::new().width()));
            self.0.push('\n');
        }
        self
    }
}

/// Prints the answer in the form asked for.
pub(super) fn give(form: &AnswerForm, page: &Page, json: &impl Serialize) -> Ended {
    if form.json() {
        output::print_json(json)?;
    } else {
        output::print(&page.0)?;
    }
    Ok(Outcome::Clean)
}

/// A column of a table.
pub(super) struct Column {
    head: String,
    side: Side,
    cells: Vec<String>,
}

impl Column {
    pub(super) fn words<T: Into<String>>(head: &str, cells: impl IntoIterator<Item = T>) -> Self {
        Self { head: head.to_owned(), side: Side::Left, cells: cells.into_iter().map(Into::into).collect() }
    }

    /// Figures, their decimal points one under the other.
    pub(super) fn figures<T: Into<String>>(head: &str, cells: impl IntoIterator<Item = T>) -> Self {
        let cells: Vec<String> = cells.into_iter().map(Into::into).collect();
        Self { head: head.to_owned(), side: Side::Right, cells: at_the_point(&cells) }
    }

    /// Standard sizes, each with what was measured less that size, both in millimetres.
    pub(super) fn sizes(head: &str, cells: impl IntoIterator<Item = (f64, Option<f64>)>) -> Self {
        let (sizes, deviations): (Vec<f64>, Vec<Option<f64>>) = cells.into_iter().unzip();
        let sizes = flush(&sizes.into_iter().map(|size| figure(size, 3)).collect::<Vec<_>>());
        if deviations.iter().all(Option::is_none) {
            return Self { head: head.to_owned(), side: Side::Right, cells: sizes };
        }
        let signs: Vec<String> =
            deviations.into_iter().map(|off| off.map(|off| signed(off, 3)).unwrap_or_default()).collect();
        let cells =
            sizes.iter().zip(flush(&signs)).map(|(size, sign)| format!("{size}{FIRM}{FIRM}{sign}")).collect();
        Self { head: head.to_owned(), side: Side::Right, cells }
    }
}

/// A blank at which a cell is not cut.
const FIRM: &str = "\u{a0}";

/// Blanks behind each cell, so that the decimal points meet when the column stands on the right.
fn at_the_point(cells: &[String]) -> Vec<String> {
    let behind = |cell: &String| cell.find('.').map_or(0, |point| cell[point..].chars().count());
    let most = cells.iter().map(behind).max().unwrap_or(0);
    cells.iter().map(|cell| format!("{cell}{}", FIRM.repeat(most - behind(cell)))).collect()
}

/// The same with blanks before, so that all are of one width.
fn flush(cells: &[String]) -> Vec<String> {
    let cells = at_the_point(cells);
    let widest = cells.iter().map(|cell| cell.chars().count()).max().unwrap_or(0);
    cells.iter().map(|cell| format!("{}{cell}", FIRM.repeat(widest - cell.chars().count()))).collect()
}

/// A number to so many decimals, without zeros at its end.
pub(super) fn figure(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// The same with its sign, `+` as well.
pub(super) fn signed(number: f64, decimals: usize) -> String {
    let text = figure(number, decimals);
    if text == "0" || text.starts_with('-') { text } else { format!("+{text}") }
}

/// To a billionth, so that 50.1 less 50 is 0.1.
pub(super) fn tidy(number: f64) -> f64 {
    (number * 1e9).round() / 1e9
}

/// A capital at the front and a full stop at the end.
fn sentence(text: &str) -> String {
    let text = text.trim_end_matches('.');
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| format!("{}{}.", first.to_uppercase(), letters.as_str()))
}

/// The text in lines of at most `width` characters, cut at blanks; as it is where there is no width.
fn wrapped(text: &str, width: Option<u16>) -> String {
    let Some(width) = width.map(usize::from) else { return text.to_owned() };
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.join("\n")
}

/// What was wrong, and what to do about it.
pub(super) fn trouble(message: &str, help: &str) -> Trouble {
    let width = Terminal::new().use_stderr().width();
    Trouble(format!("{message}\n{}", wrapped(help, width)))
}

/// A refusal of the workshop tables, printed on the terminal.
impl From<Refusal> for Trouble {
    fn from(refusal: Refusal) -> Self {
        trouble(&refusal.message, &refusal.help)
    }
}

/// What was typed as one text, whether it came as one word or as several; empty only if nothing came.
pub(super) fn together(words: &[String]) -> Result<String, Trouble> {
    let text = words.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    if text.is_empty() && !words.is_empty() {
        return Err(trouble("there is nothing to look up", "Write it between the quotes."));
    }
    if text.chars().count() > LONGEST {
        return Err(trouble(
            "this is too long for a size or a name",
            "Write it as a drawing or a label has it.",
        ));
    }
    Ok(text)
}

/// A quantity in the units that everyone knows.
pub(super) fn quantity(text: &str) -> Result<Literal, LiteralFault> {
    Literal::parse(text, &Units::new(&Settings::default()))
}

/// A length as it was typed; `name` is what it is the length of.
pub(super) fn length(name: &str, text: &str) -> Result<Literal, Trouble> {
    if !text.contains(|letter: char| letter.is_numeric()) {
        return Err(trouble(
            &format!("the {name} `{text}` is no length"),
            "Write it like 50.1mm or \"2 5/16 in\".",
        ));
    }
    let told = |fault: LiteralFault| trouble(&format!("the {name} `{text}`: {}", fault.message), &fault.help);
    let literal = quantity(text).map_err(told)?;
    if literal.dimension() == Dimension::LENGTH {
        return Ok(literal);
    }
    let (message, help) = if literal.unit.is_none() {
        (format!("the {name} `{text}` has no unit"), format!("Write {text} mm or {text} in."))
    } else {
        let dimension = literal.dimension();
        (format!("the {name} `{text}` is a {dimension}, not a length"), "Write it in mm or in.".to_owned())
    };
    Err(trouble(&message, &help))
}

/// A dimension that may have been measured.
pub(super) struct Reading {
    name: &'static str,
    /// As typed, and in millimetres: the middle of what was typed with bounds.
    typed: Option<(String, f64)>,
}

impl Reading {
    pub(super) fn of(name: &'static str, text: Option<&String>) -> Result<Self, Trouble> {
        let read = |text: &String| length(name, text.trim());
        let typed = text.map(read).transpose()?;
        Ok(Self { name, typed: typed.map(|typed| (in_millimetres(&typed), tidy(typed.middle() * 1e3))) })
    }

    /// A dimension that follows from what was typed.
    pub(super) fn known(name: &'static str, typed: String, mm: f64) -> Self {
        Self { name, typed: Some((typed, mm)) }
    }

    pub(super) fn mm(&self) -> Option<f64> {
        self.typed.as_ref().map(|(_, mm)| *mm)
    }

    /// The head of its column.
    pub(super) fn head(&self) -> String {
        format!("{} mm", self.name)
    }

    fn told(&self) -> Option<String> {
        self.typed.as_ref().map(|(typed, _)| format!("{} {typed}", self.name))
    }
}

/// "Measured: bore 50.1 mm, outside 70 mm".
pub(super) fn measured(readings: &[&Reading]) -> String {
    let told: Vec<String> = readings.iter().filter_map(|reading| reading.told()).collect();
    format!("Measured: {}", told.join(", "))
}

/// Each once, in the order of the alphabet, without the series behind a stroke.
pub(super) fn standards<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let plan = |name: &'a str| name.split_once(" / ").map_or(name, |(plan, _)| plan);
    names.map(plan).collect::<BTreeSet<_>>().into_iter().collect::<Vec<_>>().join(", ")
}

/// What would narrow the answer; nothing if all was measured.
pub(super) fn not_measured(readings: &[&Reading]) -> Option<String> {
    let missing: Vec<&str> =
        readings.iter().filter(|reading| reading.typed.is_none()).map(|reading| reading.name).collect();
    (!missing.is_empty())
        .then(|| format!("not measured: {}; with it the answer is surer", missing.join(", ")))
}

/// The length as typed, and in millimetres where that is another unit.
pub(super) fn in_millimetres(length: &Literal) -> String {
    if length.unit.to_string() == "mm" {
        return length.to_string();
    }
    format!("{length} ({} mm)", figure(length.middle() * 1e3, 4))
}
