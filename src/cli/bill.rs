//! `bill`: what has to be bought, made, reworked and kept, what it weighs and costs; how to cut the stock.

use std::fmt::Write;

use super::table::{Side, Table};
use super::wrap::{hung, width};
use super::{Ended, Outcome, Project, open, output};
use crate::Outlook;
use crate::bill::cut_list::judged;
use crate::bill::report::{self, BillReport, CutListReport, CutReport, WorkLine};
use crate::calc::print;
use crate::calc::units::{System, Unit};
use crate::dossier::Dossier;
use crate::estimate::Estimate;

/// Print the bill of materials: what is bought, made, reworked and kept, with mass, cost and lead time
///
/// Ends of costs are added to ends. Every part stands in it, as a tree; mass and cost are for its whole quantity.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    project: Project,
    /// How the answer is printed
    #[arg(long, value_enum, default_value_t = BillForm::Text)]
    format: BillForm,
    /// Print how to cut the parts that are made from stock: the fewest bars, and what is left of them
    #[arg(long)]
    cut_list: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
enum BillForm {
    /// For people
    Text,
    /// For scripts: stable keys, the unit in the key
    Json,
    /// For spreadsheets
    Csv,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let project = open::project(&arguments.project.dir)?;
    let (outlook, printer) = (Outlook::of(&project), Printer::of(&project.dossier));
    if arguments.cut_list {
        let list = CutListReport::of(&project.dossier, &outlook.stock);
        print_in(arguments.format, &list, CutListReport::csv, |list| printer.cut_list(list))?;
    } else {
        let bill = outlook.bill_report(&project);
        let depths: Vec<usize> = outlook.bill.lines.iter().map(|line| line.depth).collect();
        print_in(arguments.format, &bill, BillReport::csv, |bill| printer.bill(bill, &depths))?;
    }
    output::mention_errors(&project);
    Ok(Outcome::Clean)
}

fn print_in<T: serde::Serialize>(
    form: BillForm,
    report: &T,
    csv: impl Fn(&T) -> String,
    text: impl Fn(&T) -> String,
) -> Result<(), super::Trouble> {
    match form {
        BillForm::Json => output::print_json(report),
        BillForm::Csv => output::print(&csv(report)),
        BillForm::Text => output::print(&text(report)),
    }
}

/// Parts deeper in the tree than this are not set further in.
const DEEPEST: usize = 6;

/// Prints in the dossier's units.
struct Printer<'a> {
    dossier: &'a Dossier,
    mass: Unit,
    length: Unit,
}

impl<'a> Printer<'a> {
    fn of(dossier: &'a Dossier) -> Self {
        let (mass, length) = match dossier.about.settings.system {
            System::Inch => ("lb", "in"),
            System::Metric => ("kg", "mm"),
        };
        let unit = |name: &str| dossier.units.named(name).unwrap_or_default();
        Self { dossier, mass: unit(mass), length: unit(length) }
    }

    fn bill(&self, bill: &BillReport, depths: &[usize]) -> String {
        if bill.lines.is_empty() {
            return "The notes hold no part yet.\n".to_owned();
        }
        let mut text = self.parts(bill, depths);
        if !bill.work.is_empty() {
            let _ = write!(text, "\nWork\n{}", self.work(bill));
        }
        let _ = write!(text, "\nTogether\n{}", totals(bill));
        text.push('\n');
        text.extend(self.remarks(bill).into_iter().map(|line| hung("", &line, width())));
        text
    }

    fn parts(&self, bill: &BillReport, depths: &[usize]) -> String {
        let (mass, cost) = (format!("mass, {}", self.mass.shown()), format!("cost, {}", bill.money));
        let heads = [
            ("id", Side::Left),
            ("part", Side::Left),
            ("to", Side::Left),
            ("pieces", Side::Right),
            (&mass, Side::Right),
            (&cost, Side::Right),
            ("days", Side::Right),
        ];
        let mut table = Table::new(&heads).whole(0).whole(2).whole(5);
        for (line, depth) in bill.lines.iter().zip(depths) {
            let supply = line.supply.map(|supply| format!(", {supply}")).unwrap_or_default();
            table.row([
                format!("{}{}", "  ".repeat(*depth.min(&DEEPEST)), line.id),
                line.name.clone(),
                format!("{}{supply}", line.disposition),
                line.quantity.to_string(),
                line.mass_low_kg.zip(line.mass_high_kg).map(|ends| self.masses(ends)).unwrap_or_default(),
                line.cost.map(range).unwrap_or_default(),
                line.lead_days.map(|days| format!("{days:.0}")).unwrap_or_default(),
            ]);
        }
        table.to_string()
    }

    fn work(&self, bill: &BillReport) -> String {
        let cost = format!("cost, {}", bill.money);
        let mut table = Table::new(&[
            ("step", Side::Left),
            ("what", Side::Left),
            ("by", Side::Left),
            (&cost, Side::Right),
        ])
        .whole(0)
        .whole(3);
        for WorkLine { id, at_rate_of, cost } in &bill.work {
            let title = self.dossier.find(id).map(|note| self.dossier.title(note)).unwrap_or_default();
            let by = at_rate_of.as_ref().map_or("its note".to_owned(), |shop| format!("rate of {shop}"));
            table.row([id.clone(), title, by, range(*cost)]);
        }
        table.to_string()
    }

    fn remarks(&self, bill: &BillReport) -> Vec<String> {
        let totals = &bill.totals;
        let mass = totals.mass_low_kg.zip(totals.mass_high_kg).map(|ends| {
            let unknown = match totals.unweighed {
                0 => String::new(),
                1 => ", without one part of unknown mass".to_owned(),
                count => format!(", without {count} parts of unknown mass"),
            };
            format!("The machine as it will stand: {} {}{unknown}.", self.masses(ends), self.mass.shown())
        });
        let without = match totals.without_cost {
            0 => None,
            1 => Some("One part to buy has no cost: the sums are too low by that.".to_owned()),
            count => Some(format!("{count} parts to buy have no cost: the sums are too low by these.")),
        };
        let work = match totals.work_without_cost {
            0 => None,
            1 => Some(
                "The cost of one step that no known shop can do is not known: the sums are too low by it."
                    .to_owned(),
            ),
            count => Some(format!(
                "The cost of {count} steps that no known shop can do is not known: the sums are too low by these."
            )),
        };
        mass.into_iter().chain(without).chain(work).chain([report::METHOD.to_owned()]).collect()
    }

    fn cut_list(&self, list: &CutListReport) -> String {
        let mut text = String::new();
        for section in &list.sections {
            self.section(section, &mut text);
        }
        if !list.without_length.is_empty() {
            let parts = list.without_length.join(", ");
            text.push_str(&hung(
                "",
                &format!("Their notes do not say how long the piece is: {parts}."),
                width(),
            ));
        }
        if !list.by_shape.is_empty() {
            let says = format!("As long as their shapes ask for, with facing: {}.", list.by_shape.join(", "));
            text.push_str(&hung("", &says, width()));
        }
        for piece in &list.without_stock {
            let least = piece.says(self.dossier.about.settings.system);
            let says = format!("{} has no `stock`; by its shape it needs at least: {least}.", piece.id);
            text.push_str(&hung("", &says, width()));
        }
        if text.is_empty() {
            text.push_str("No part has to be cut from stock.\n");
        }
        text
    }

    fn section(&self, section: &CutReport, text: &mut String) {
        let _ = match section.bar_mm.zip(section.kerf_mm) {
            Some((bar, kerf)) => {
                let (bar, kerf) = (self.millimetres(bar), self.millimetres(kerf));
                writeln!(text, "{}: bars of {bar}, {kerf} a cut", section.section)
            }
            None => writeln!(text, "{}", section.section),
        };
        let _ = write!(text, "{}", self.pieces(section));
        if !section.bars.is_empty() {
            let _ = write!(text, "{}", self.bars(section));
        }
        text.push_str(&hung("", &judged(section.bars.len(), section.bars_at_least, section.proven), width()));
        if !section.too_long.is_empty() {
            let _ = writeln!(text, "Longer than a bar: {}.", section.too_long.join(", "));
        }
        text.push('\n');
    }

    /// Every piece that is cut from a section, and how its number comes about.
    fn pieces(&self, section: &CutReport) -> Table {
        let mut table = Table::new(&[
            ("part", Side::Left),
            ("length", Side::Right),
            ("pieces", Side::Right),
            ("", Side::Left),
        ]);
        for piece in &section.pieces {
            let counted = match piece.for_each {
                Some(each) if each == piece.quantity => String::new(),
                Some(each) => format!("{each} for each part"),
                None => "in all, by its note".to_owned(),
            };
            let length = self.millimetres(piece.length_mm);
            table.row([piece.id.clone(), length, piece.quantity.to_string(), counted]);
        }
        table
    }

    fn bars(&self, section: &CutReport) -> Table {
        let mut table =
            Table::new(&[("bar", Side::Right), ("cut, longest first", Side::Left), ("left", Side::Right)]);
        for (index, bar) in section.bars.iter().enumerate() {
            let cuts = bar.cuts.iter().map(|cut| format!("{} {}", cut.id, self.millimetres(cut.length_mm)));
            let cuts: Vec<String> = cuts.collect();
            table.row([(index + 1).to_string(), cuts.join(" + "), self.millimetres(bar.offcut_mm)]);
        }
        table
    }

    /// `560 .. 700` where the ends differ.
    fn masses(&self, (low, high): (f64, f64)) -> String {
        // Without the dust that a figure in kilograms leaves in another unit.
        let mass = |mass: f64| (self.mass.from_si(mass) * 1e5).round() / 1e5;
        let (low, high) = print::known_ends((mass(low), mass(high)), self.mass);
        high.map_or_else(|| low.figure(), |high| format!("{} .. {}", low.figure(), high.figure()))
    }

    fn millimetres(&self, length: f64) -> String {
        print::exact(self.length.from_si(length / 1e3), self.length).value()
    }
}

fn totals(bill: &BillReport) -> String {
    if bill.work.is_empty() && bill.lines.iter().all(|line| line.cost.is_none()) {
        return "The cost is not known: no note names one.\n".to_owned();
    }
    let money = &bill.money;
    let mut table = Table::new(&[("", Side::Left), (&format!("cost, {money}"), Side::Right)]);
    let sums = &bill.totals;
    let rows = [
        ("parts", sums.parts),
        ("work", sums.work),
        ("parts and work", sums.together),
        ("of that so far, estimated", sums.so_far),
        ("of that to come", sums.to_come),
    ];
    for (name, sum) in rows {
        table.row([name.to_owned(), range(sum)]);
    }
    table.to_string()
}

/// `120`; `80 .. 120 .. 150` where the ends differ.
fn range(cost: Estimate) -> String {
    let figure =
        |amount: f64| if amount.fract() == 0.0 { format!("{amount:.0}") } else { format!("{amount:.2}") };
    if cost.low < cost.high {
        format!("{} .. {} .. {}", figure(cost.low), figure(cost.likely), figure(cost.high))
    } else {
        figure(cost.likely)
    }
}
