//! `calc`: a calculation worked out, lines from standard input, or a prompt.

use std::io::{IsTerminal, Read};

use rustyline::DefaultEditor;
use rustyline::error::ReadlineError;
use serde::Serialize;

use super::table::{Side, Table};
use super::{AnswerForm, Ended, Outcome, Trouble, output, workshop, wrap};
use crate::calc::fault::{Code, Fault, Severity};
use crate::calc::function::Function;
use crate::calc::one::{Report, Session, evaluate_line};
use crate::calc::print;
use crate::calc::sheet::{self, Block, Budget, Evaluation, LineOutcome, Scope, SourceLine};
use crate::calc::uncertainty::Sources as Uncertainties;
use crate::calc::units::{Settings, System, Ton, Units};
use crate::calc::value::Value;
use crate::diagnostic::Problem;
use crate::hazard::Hazard;
use crate::source::{LARGEST_NOTE, Sources};
use crate::trade;
use crate::worked::problems as problem;

/// Work out a calculation, with units and how far the result may be off
///
/// It is written as in a `calc` block of a note: `2 3/4 in + 12 mm to thou`, `bore = 50.02 mm ± 0.01 mm`,
/// `check bore <= 50.03 mm`, `press_fit(d: 2 in, ...).force`. Without one, lines are read from standard input; at a
/// terminal they are asked for one by one, and Ctrl-D ends. The exit code is 1 when a line could not be worked out.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The calculation, in quotes
    #[arg(value_name = "EXPR", allow_hyphen_values = true)]
    expression: Option<String>,
    #[command(flatten)]
    form: AnswerForm,
    /// The units in which a result prints that has none of its own
    #[arg(long, value_enum, default_value_t = Prints::Metric)]
    units: Prints,
    /// The currency of the calculation, an ISO 4217 code
    #[arg(long, value_name = "CODE", default_value = "EUR")]
    money: String,
    /// Which ton a bare `ton`, `tonf` or `cwt` is [short if not said]
    #[arg(long, value_enum)]
    ton: Option<Which>,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Prints {
    Metric,
    Inch,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Which {
    /// 2000 lb
    Short,
    /// 2240 lb
    Long,
    /// 1000 kg
    Metric,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let desk = Desk {
        units: Units::new(&settings(arguments)?),
        functions: trade::functions().collect(),
        json: arguments.form.json(),
    };
    match &arguments.expression {
        Some(expression) => desk.expression(expression),
        None if std::io::stdin().is_terminal() => desk.prompt(),
        None => desk.lines(&standard_input()?),
    }
}

fn settings(arguments: &Arguments) -> Result<Settings, Trouble> {
    let currency = arguments.money.to_uppercase();
    if !Units::is_currency(&currency) {
        let help = "Write the three letters of ISO 4217: EUR, GBP, USD.";
        return Err(workshop::trouble(&format!("`{}` is no money", arguments.money), help));
    }
    let ton = arguments.ton.map(|ton| match ton {
        Which::Short => Ton::Short,
        Which::Long => Ton::Long,
        Which::Metric => Ton::Metric,
    });
    let system = match arguments.units {
        Prints::Metric => System::Metric,
        Prints::Inch => System::Inch,
    };
    Ok(Settings { ton: ton.unwrap_or_default(), ton_assumed: ton.is_none(), currency, system })
}

fn standard_input() -> Result<String, Trouble> {
    let mut text = String::new();
    std::io::stdin().lock().take(LARGEST_NOTE + 1).read_to_string(&mut text)?;
    if text.len() as u64 > LARGEST_NOTE {
        let help = "Split it into several runs.";
        return Err(workshop::trouble("there is more on standard input than a calculation may have", help));
    }
    Ok(text)
}

/// What every line is worked out with, and how it is printed.
struct Desk {
    units: Units,
    functions: Vec<&'static Function>,
    json: bool,
}

/// A line of several, for scripts.
#[derive(Serialize)]
struct Line<'a> {
    /// From 1, of its beginning.
    line: usize,
    name: Option<&'a str>,
    #[serde(flatten)]
    told: Report,
}

impl Desk {
    fn expression(&self, text: &str) -> Ended {
        let evaluation = self.worked(text);
        if self.json {
            for line in told(&evaluation) {
                output::print_json(&Report::of(line, &self.units))?;
            }
        } else {
            self.print(&evaluation)?;
        }
        say_ton(&evaluation);
        self.faults(&evaluation.faults, "calculation", text)
    }

    fn lines(&self, text: &str) -> Ended {
        let evaluation = self.worked(text);
        if self.json {
            for line in told(&evaluation) {
                let number = text[..line.range.start].matches('\n').count() + 1;
                self.print_line(number, line)?;
            }
        } else {
            self.print(&evaluation)?;
        }
        say_ton(&evaluation);
        self.faults(&evaluation.faults, "standard input", text)
    }

    fn print_line(&self, line: usize, outcome: &LineOutcome) -> Result<(), Trouble> {
        let told = Line { line, name: outcome.name.as_deref(), told: Report::of(outcome, &self.units) };
        output::print(&format!("{}\n", serde_json::to_string(&told)?))
    }

    fn worked(&self, text: &str) -> Evaluation {
        let mut offset = 0;
        let lines = text.split('\n').map(|line| {
            let start = offset;
            offset += line.len() + 1;
            SourceLine { text: line.trim_end_matches('\r').to_owned(), offset: start }
        });
        let scope = Scope { blocks: vec![Block { lines: lines.collect() }], ..Scope::default() };
        sheet::evaluate(&[scope], &self.units, &self.functions, Uncertainties::new())
    }

    fn print(&self, evaluation: &Evaluation) -> Result<(), Trouble> {
        let mut text: String = told(evaluation).map(|line| self.said(line)).collect();
        let mut cautions: Vec<Hazard> = evaluation.used.iter().filter_map(|used| used.hazard).collect();
        cautions.sort_unstable();
        cautions.dedup();
        text.extend(cautions.into_iter().map(said_of));
        output::print(&text)
    }

    /// What a line comes to, and what its functions say about it.
    fn said(&self, line: &LineOutcome) -> String {
        let mut text = match &line.budget {
            Some(budget) => table(budget),
            None => self.come_to(line),
        };
        let remarks = line.notes.iter().filter(|note| !note.is_warning);
        text.extend(remarks.map(|note| wrap::hung("  ", &note.said.to_string(), wrap::width())));
        text
    }

    /// A record field by field, each under the name that it can be called by.
    fn come_to(&self, line: &LineOutcome) -> String {
        let Some(Value::Record(record)) = &line.value else { return format!("{}\n", line.text(&self.units)) };
        let of = line.name.as_ref().map_or_else(String::new, |name| format!("{name}."));
        let field =
            |(name, value): &(String, Value)| format!("{of}{name} = {}\n", print::value(value, &self.units));
        record.fields.iter().map(field).collect()
    }

    /// Says what was wrong on standard error, with the line shown; verdicts are reported already.
    fn faults(&self, faults: &[Fault], from: &str, text: &str) -> Ended {
        let sources = Sources::in_memory([(from.to_owned(), text.to_owned())]);
        let is_new = |fault: &&Fault| !matches!(fault.code, Code::CheckFails | Code::CheckNotSettled);
        let problems: Vec<Problem> = match sources.ids().next() {
            Some(file) => faults.iter().filter(is_new).map(|fault| problem::fault(fault, |_| file)).collect(),
            None => Vec::new(),
        };
        output::show_problems(&problems, &sources);
        let is_bad = faults.iter().any(|fault| fault.severity() == Severity::Error);
        Ok(if is_bad { Outcome::ProblemsInNotes } else { Outcome::Clean })
    }

    /// Asks for one line after the other; what is wrong with one is reported, and the next is asked for.
    fn prompt(&self) -> Ended {
        let mut session = Session::new(&self.functions);
        let mut editor = DefaultEditor::new()?;
        loop {
            match asked(&mut editor) {
                Ok(text) => self.answer(&text, &mut session)?,
                Err(ReadlineError::Interrupted) => {}
                Err(ReadlineError::Eof) => return Ok(Outcome::Clean),
                Err(error) => return Err(error.into()),
            }
        }
    }

    fn answer(&self, text: &str, session: &mut Session) -> Result<(), Trouble> {
        let number = session.typed().lines().count() + 1;
        let faults = match evaluate_line(text, &self.units, session) {
            Ok(answer) if self.json => {
                self.print_line(number, &answer.outcome)?;
                answer.cautions
            }
            Ok(answer) => {
                let cautions = answer.outcome.functions.iter().filter_map(|function| function.hazard);
                output::print(&(self.said(&answer.outcome) + &cautions.map(said_of).collect::<String>()))?;
                answer.cautions
            }
            Err(faults) => faults,
        };
        self.faults(&faults, "line", session.typed()).map(|_| ())
    }
}

fn say_ton(evaluation: &Evaluation) {
    if evaluation.assumed_ton.is_some() {
        output::say("caution: the ton is taken for the short one of 2000 lb; `--ton` says which is meant");
    }
}

/// Lines that come to something.
fn told(evaluation: &Evaluation) -> impl Iterator<Item = &LineOutcome> {
    let lines = evaluation.scopes.iter().flat_map(|scope| &scope.blocks).flat_map(|block| &block.lines);
    lines.filter(|line| line.value.is_some() || line.verdict.is_some())
}

/// The next line; one that ends inside an open bracket goes on.
fn asked(editor: &mut DefaultEditor) -> Result<String, ReadlineError> {
    let mut text = editor.readline("> ")?;
    while sheet::goes_on(&text) {
        text.push('\n');
        text.push_str(&editor.readline("  ")?);
    }
    if !text.trim().is_empty() {
        editor.add_history_entry(text.replace('\n', " "))?;
    }
    Ok(text)
}

fn table(budget: &Budget) -> String {
    let unit = &budget.total.unit;
    let heads = [("source of uncertainty", Side::Left), ("standard", Side::Right), ("at worst", Side::Right)];
    let mut table = Table::new(&[&heads[..], &[("share", Side::Right)]].concat());
    for row in &budget.rows {
        let share = format!("{:.0} %", row.share);
        table.row([row.source.clone(), row.standard.clone(), row.worst.clone(), share]);
    }
    let total = &budget.total;
    table.row(["all together".to_owned(), total.standard.clone(), total.worst.clone(), "100 %".to_owned()]);
    let foot = match &total.expanded {
        Some(expanded) => {
            format!("± {} at 95 %, k = {:.2}", format!("{expanded} {unit}").trim(), budget.factor)
        }
        None => "no figure at 95 %: nonlinearity outweighs the other sources".to_owned(),
    };
    format!("budget of {}\n{table}{foot}\n", budget.subject())
}

fn said_of(hazard: Hazard) -> String {
    wrap::hung("", &format!("Caution: {}", hazard.caution()), wrap::width())
}
