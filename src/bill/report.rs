//! The bill as figures and words for JSON and CSV: documented keys, the unit in the key.

use std::collections::BTreeMap;

use serde::Serialize;

use super::cut_list::MOST_PIECES;
use super::roll_up::{Basis, Bill, PartLine};
use super::stock::StockList;
use crate::calc::rounding::{ends_to_a_millionth, to_a_millionth};
use crate::calc::units::System;
use crate::dossier::{Dossier, PartId};
use crate::estimate::Estimate;
use crate::record::Pieces;
use crate::shape::Blank;

/// The bill.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BillReport {
    /// The currency of every cost, as in ISO 4217.
    pub money: String,
    /// Every part, as a tree: each followed by what is within it.
    pub lines: Vec<BillLine>,
    /// The work that costs something.
    pub work: Vec<WorkLine>,
    /// Who is paid, the shops first; empty where the bill is made without a plan, which knows who does the work.
    pub payees: Vec<PayeeLine>,
    /// The sums.
    pub totals: BillTotals,
}

/// What somebody is paid over the whole of the work.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PayeeLine {
    /// `shop`, `seller`, `to be found` or `not named`.
    pub kind: &'static str,
    /// The shop; `null` for anybody else.
    pub id: Option<String>,
    /// The name of the shop or the seller.
    pub name: Option<String>,
    /// For the parts that they sell.
    pub parts: Estimate,
    /// For their work.
    pub work: Estimate,
    /// For both.
    pub together: Estimate,
}

/// One part; mass and cost are for its whole quantity.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BillLine {
    /// The part.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The assembly it is in.
    pub within: Option<String>,
    /// `reuse`, `rework`, `make`, `buy`, `scrap` or `undecided`.
    pub disposition: &'static str,
    /// Pieces in the whole machine.
    pub quantity: u32,
    /// A standard designation.
    pub designation: Option<String>,
    /// What it is made of.
    pub material: Option<String>,
    /// `needed`, `ordered`, `received` or `fitted`; of a part to buy.
    pub supply: Option<&'static str>,
    /// Who sells or makes it.
    pub from: Option<String>,
    /// Likely delivery time.
    pub lead_days: Option<f64>,
    /// Mass as its note gives it, else of all that is within it.
    pub mass_kg: Option<f64>,
    /// Its ends, ends added to ends.
    pub mass_low_kg: Option<f64>,
    pub mass_high_kg: Option<f64>,
    /// Mass of all that is within it, where the whole has a mass of its own too.
    pub sum_of_parts_kg: Option<f64>,
    /// Cost of the whole quantity.
    pub cost: Option<Estimate>,
}

/// The cost of one step.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WorkLine {
    /// The step.
    pub id: String,
    /// The shop whose rate it is; `null` where the note states the cost.
    pub at_rate_of: Option<String>,
    /// Its cost.
    pub cost: Estimate,
}

/// The sums; ends are added to ends.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BillTotals {
    /// All parts.
    pub parts: Estimate,
    /// All work.
    pub work: Estimate,
    /// Parts and work.
    pub together: Estimate,
    /// Of that, what is received, fitted, made or done, by the same estimates.
    pub so_far: Estimate,
    /// Of that, what is still to come.
    pub to_come: Estimate,
    /// Parts only, by disposition.
    pub by_disposition: BTreeMap<&'static str, Estimate>,
    /// The machine as it will stand, as far as it is known.
    pub mass_kg: Option<f64>,
    /// Its ends, ends added to ends.
    pub mass_low_kg: Option<f64>,
    pub mass_high_kg: Option<f64>,
    /// Parts of unknown mass in it.
    pub unweighed: usize,
    /// Parts to buy that have no cost.
    pub without_cost: usize,
    /// Steps without a cost that no known shop can do.
    pub work_without_cost: usize,
    /// What the figures mean.
    pub method: &'static str,
}

/// How the sums are made, for the reader.
pub const METHOD: &str = "Parts by their cost times quantity; work by its stated cost, else hands-on time at the shop's \
    rate; hours at a shop without a rate, such as the keeper's own, are not counted. What is spent so far is an estimate as well: \
    the cost of what is received, fitted, made or done, not what was paid. Low ends are added to low ends and high to high, so the range is wider than is likely. Mass: an assembly \
    whose note gives its mass counts in its own line with that, as found. The machine as it will stand counts without what \
    is scrapped or replaced, and with what is new.";

/// What stock to buy and how to cut it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutListReport {
    /// By section, in the order of the alphabet.
    pub sections: Vec<CutReport>,
    /// Parts that are cut from stock but do not say how long the piece is, nor have a shape that does.
    pub without_length: Vec<String>,
    /// Parts whose piece is as long as their shape asks for, with what facing takes.
    pub by_shape: Vec<String>,
    /// Parts that are made, with a shape, and do not say from what.
    pub without_stock: Vec<LeastPiece>,
}

/// The least piece that a part can be cut from, by its shape and with what cleaning up takes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeastPiece {
    /// The part.
    pub id: String,
    /// Diameter of a round bar; `null` for a plate.
    pub d_mm: Option<f64>,
    /// Thickness of a plate; `null` for a bar.
    pub thick_mm: Option<f64>,
    /// The shorter side of a plate; `null` for a bar.
    pub wide_mm: Option<f64>,
    /// The length of the piece.
    pub length_mm: f64,
}

/// Rounding that adds no millimetre.
const SLACK: f64 = 1e-6;

impl LeastPiece {
    fn of(id: &str, blank: Blank) -> Self {
        let mm = |metres: f64| to_a_millionth(metres * 1e3);
        let (d, thick, wide) = match blank {
            Blank::Bar { d, .. } => (Some(d), None, None),
            Blank::Plate { thick, wide, .. } => (None, Some(thick), Some(wide)),
        };
        let [d_mm, thick_mm, wide_mm] = [d, thick, wide].map(|size| size.map(mm));
        Self { id: id.to_owned(), d_mm, thick_mm, wide_mm, length_mm: mm(blank.long()) }
    }

    /// `round 42 mm, 53 mm long`, rounded up to a millimetre or a hundredth of an inch.
    pub fn says(&self, system: System) -> String {
        let millimetres = |mm: f64| match system {
            System::Inch => format!("{:.2} in", (mm / 25.4 * 100.0 - SLACK).ceil() / 100.0),
            System::Metric => format!("{:.0} mm", (mm - SLACK).ceil()),
        };
        let long = millimetres(self.length_mm);
        match (self.d_mm, self.thick_mm.zip(self.wide_mm)) {
            (Some(d), _) => format!("round {}, {long} long", millimetres(d)),
            (_, Some((thick, wide))) => {
                format!("plate {}, {long} x {}", millimetres(thick), millimetres(wide))
            }
            _ => format!("{long} long"),
        }
    }
}

/// The bars of one section.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutReport {
    /// The section.
    pub section: String,
    /// Length of a bar; `null` if dossier.yaml does not say.
    pub bar_mm: Option<f64>,
    /// Width of a cut; `null` if dossier.yaml does not say.
    pub kerf_mm: Option<f64>,
    /// The pieces.
    pub pieces: Vec<CutPiece>,
    /// How each bar is cut; empty if nothing is known of them, or there are too many pieces to lay out.
    pub bars: Vec<CutBar>,
    /// No way of cutting needs fewer bars; `null` if nothing is known of them.
    pub bars_at_least: Option<usize>,
    /// Whether `bars` is proven to be the fewest.
    pub proven: bool,
    /// Parts whose piece is longer than a bar.
    pub too_long: Vec<String>,
}

/// A piece to be cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutPiece {
    /// The part.
    pub id: String,
    /// Its length.
    pub length_mm: f64,
    /// How many in all.
    pub quantity: u32,
    /// How many of them are for one part; `null` where the note gives the pieces in all.
    pub for_each: Option<u32>,
}

/// One bar.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutBar {
    /// What is cut from it, longest first.
    pub cuts: Vec<Cut>,
    /// What is left in one piece.
    pub offcut_mm: f64,
}

/// One piece on a bar.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cut {
    /// The part.
    pub id: String,
    /// Its length.
    pub length_mm: f64,
}

impl BillReport {
    /// The bill in words and figures.
    pub fn of(dossier: &Dossier, bill: &Bill) -> Self {
        let work = bill.work.iter().map(|work| WorkLine {
            id: dossier[work.step].id().to_owned(),
            at_rate_of: match work.basis {
                Basis::Stated => None,
                Basis::Rate(shop) => Some(dossier[shop].id().to_owned()),
            },
            cost: work.cost.map(to_a_millionth),
        });
        Self {
            money: dossier.about.settings.currency.clone(),
            lines: bill.lines.iter().map(|line| bill_line(dossier, line)).collect(),
            work: work.collect(),
            payees: Vec::new(),
            totals: totals(dossier, bill),
        }
    }

    /// The lines as CSV (RFC 4180) with a head. Text that a spreadsheet would take for a formula is led by an apostrophe.
    pub fn csv(&self) -> String {
        csv_of(self.lines.iter().map(|line| Row::of(line, &self.money)))
    }
}

fn csv_of(rows: impl Iterator<Item = impl Serialize>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.serialize(row).expect("memory takes every row");
    }
    let bytes = writer.into_inner().expect("memory takes every row");
    String::from_utf8(bytes).expect("rows are made of text")
}

/// A row of the CSV; mass and cost are for the whole quantity.
#[derive(Serialize)]
struct Row<'a> {
    id: &'a str,
    name: String,
    within: &'a str,
    disposition: &'a str,
    quantity: u32,
    designation: String,
    material: String,
    supply: &'a str,
    from: String,
    lead_days: Option<f64>,
    mass_kg: Option<f64>,
    sum_of_parts_kg: Option<f64>,
    cost_low: Option<f64>,
    cost_likely: Option<f64>,
    cost_high: Option<f64>,
    money: &'a str,
}

impl<'a> Row<'a> {
    fn of(line: &'a BillLine, money: &'a str) -> Self {
        let text = |text: &Option<String>| text.as_deref().map(no_formula).unwrap_or_default();
        Self {
            id: &line.id,
            name: no_formula(&line.name),
            within: line.within.as_deref().unwrap_or_default(),
            disposition: line.disposition,
            quantity: line.quantity,
            designation: text(&line.designation),
            material: text(&line.material),
            supply: line.supply.unwrap_or_default(),
            from: text(&line.from),
            lead_days: line.lead_days,
            mass_kg: line.mass_kg,
            sum_of_parts_kg: line.sum_of_parts_kg,
            cost_low: line.cost.map(|cost| cost.low),
            cost_likely: line.cost.map(|cost| cost.likely),
            cost_high: line.cost.map(|cost| cost.high),
            money: if line.cost.is_some() { money } else { "" },
        }
    }
}

fn no_formula(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text.to_owned() }
}

fn bill_line(dossier: &Dossier, line: &PartLine) -> BillLine {
    let part = &dossier[line.part];
    let is_bought = part.disposition == crate::record::Disposition::Buy;
    let pieces = f64::from(line.quantity);
    BillLine {
        id: part.id().to_owned(),
        name: part.name.clone(),
        within: part.within.map(|within| dossier[within].id().to_owned()),
        disposition: part.disposition.word(),
        quantity: line.quantity,
        designation: part.designation.clone(),
        material: part.material.clone(),
        supply: is_bought.then(|| part.supply.word()),
        from: part.from.clone(),
        lead_days: line.lead_days.map(|lead| to_a_millionth(lead.likely)),
        mass_kg: line.mass_kg.map(to_a_millionth),
        mass_low_kg: line.mass_ends_kg.map(|ends| ends_to_a_millionth(ends).0),
        mass_high_kg: line.mass_ends_kg.map(|ends| ends_to_a_millionth(ends).1),
        sum_of_parts_kg: line
            .weight
            .sum_kg
            .filter(|_| line.weight.given)
            .map(|sum| to_a_millionth(sum * pieces)),
        cost: line.cost.map(|cost| cost.map(to_a_millionth)),
    }
}

fn totals(dossier: &Dossier, bill: &Bill) -> BillTotals {
    let sums = &bill.totals;
    let mut by_disposition: BTreeMap<&'static str, Estimate> = BTreeMap::new();
    for line in &bill.lines {
        if let Some(cost) = line.cost {
            let sum = by_disposition.entry(dossier[line.part].disposition.word()).or_default();
            *sum = *sum + cost;
        }
    }
    for sum in by_disposition.values_mut() {
        *sum = sum.map(to_a_millionth);
    }
    BillTotals {
        parts: sums.parts.map(to_a_millionth),
        work: sums.work.map(to_a_millionth),
        together: sums.together.map(to_a_millionth),
        so_far: sums.so_far.map(to_a_millionth),
        to_come: sums.to_come.map(to_a_millionth),
        by_disposition,
        mass_kg: sums.mass_kg.map(to_a_millionth),
        mass_low_kg: sums.mass_ends_kg.map(|ends| ends_to_a_millionth(ends).0),
        mass_high_kg: sums.mass_ends_kg.map(|ends| ends_to_a_millionth(ends).1),
        unweighed: sums.unweighed,
        without_cost: sums.without_cost,
        work_without_cost: sums.work_without_cost,
        method: METHOD,
    }
}

/// A row of the CSV: one piece on a bar, or what is left of the bar; a piece that no bar is long enough for is on none.
#[derive(Serialize)]
struct CutRow<'a> {
    section: String,
    bar_mm: Option<f64>,
    kerf_mm: Option<f64>,
    bar: Option<usize>,
    piece: &'static str,
    id: &'a str,
    length_mm: f64,
}

impl CutListReport {
    /// The cut list in words and figures.
    pub fn of(dossier: &Dossier, list: &StockList) -> Self {
        let ids = |parts: &[PartId]| parts.iter().map(|part| dossier[*part].id().to_owned()).collect();
        let least = |(part, blank): &(PartId, Blank)| LeastPiece::of(dossier[*part].id(), *blank);
        Self {
            sections: cut_lists(dossier, list),
            without_length: ids(&list.without_length),
            by_shape: ids(&list.by_shape),
            without_stock: list.without_stock.iter().map(least).collect(),
        }
    }

    /// Every piece on its bar as CSV (RFC 4180) with a head.
    pub fn csv(&self) -> String {
        csv_of(self.sections.iter().flat_map(cut_rows))
    }
}

fn cut_rows(section: &CutReport) -> Vec<CutRow<'_>> {
    let row = |bar: Option<usize>, piece, id, length_mm| CutRow {
        section: no_formula(&section.section),
        bar_mm: section.bar_mm,
        kerf_mm: section.kerf_mm,
        bar,
        piece,
        id,
        length_mm,
    };
    let mut rows = Vec::new();
    if section.bar_mm.is_none() {
        let singly = section.pieces.iter();
        let singly = singly.flat_map(|piece| std::iter::repeat_n(piece, piece.quantity as usize));
        let rows =
            singly.take(MOST_PIECES).map(|piece| row(None, "part", piece.id.as_str(), piece.length_mm));
        return rows.collect();
    }
    for (index, bar) in section.bars.iter().enumerate() {
        let number = Some(index + 1);
        rows.extend(bar.cuts.iter().map(|cut| row(number, "part", cut.id.as_str(), cut.length_mm)));
        rows.push(row(number, "offcut", "", bar.offcut_mm));
    }
    let too_long = section.pieces.iter().filter(|piece| section.too_long.contains(&piece.id));
    rows.extend(too_long.map(|piece| row(None, "too long", piece.id.as_str(), piece.length_mm)));
    rows
}

/// The cut list, section by section.
pub fn cut_lists(dossier: &Dossier, list: &StockList) -> Vec<CutReport> {
    list.sections
        .iter()
        .map(|section| {
            let name = |index: &usize| section.pieces[*index].1.id.clone();
            let length = |index: usize| millimetres(section.pieces[index].1.length);
            let plan = section.plan.clone().unwrap_or_default();
            let cuts = |cuts: &[usize]| {
                cuts.iter().map(|&at| Cut { id: name(&at), length_mm: length(at) }).collect()
            };
            CutReport {
                section: section.section.clone(),
                bar_mm: section.bars.map(|bars| to_a_millionth(bars.length_m * 1e3)),
                kerf_mm: section.bars.map(|bars| to_a_millionth(bars.kerf_m * 1e3)),
                pieces: (0..section.pieces.len())
                    .map(|at| CutPiece {
                        id: name(&at),
                        length_mm: length(at),
                        quantity: section.pieces[at].1.quantity,
                        for_each: for_each(dossier, section.pieces[at].0),
                    })
                    .collect(),
                bars: plan
                    .bars
                    .iter()
                    .map(|bar| CutBar { cuts: cuts(&bar.cuts), offcut_mm: millimetres(bar.offcut) })
                    .collect(),
                bars_at_least: section.bars.map(|_| plan.at_least),
                proven: section.plan.is_some() && plan.proven(),
                too_long: plan.too_long.iter().map(name).collect(),
            }
        })
        .collect()
}

/// The pieces of stock for one part, where its note counts them so.
fn for_each(dossier: &Dossier, part: PartId) -> Option<u32> {
    match dossier[part].stock.as_ref()?.pieces {
        Pieces::Each(pieces) => Some(pieces),
        Pieces::InAll(_) => None,
    }
}

#[expect(clippy::cast_precision_loss, reason = "lengths stay below a thousand kilometres")]
fn millimetres(nanometres: i64) -> f64 {
    to_a_millionth(nanometres as f64 / 1e6)
}
