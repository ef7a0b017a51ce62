//! The bill of materials and the cut list.

use serde::Serialize;

use super::amounts::Amounts;
use super::amounts::money;
use super::edition::Edition;
use super::prose::decapital;
use super::shapes::Mention;
use crate::bill::cut_list::{Bar, CutList, Length, Piece, judged};
use crate::bill::report::{CutListReport, LeastPiece, METHOD};
use crate::bill::roll_up::PartLine;
use crate::bill::section::Covers;
use crate::bill::stock::SectionPlan;
use crate::calc::print::counted;
use crate::dossier::Dossier;
use crate::dossier::PartId;
use crate::estimate::Estimate;
use crate::outlook::{Paid, Payee, paid};
use crate::record::{Disposition, Pieces, Supply};
use crate::shape::Blank;

#[derive(Serialize)]
pub(super) struct Chapter {
    data: String,
}

#[derive(Serialize)]
struct Data {
    money: String,
    mass_unit: String,
    sections: Vec<Section>,
    totals: Sums,
    payees: Vec<PayeeRow>,
    cut: Vec<CutShape>,
    /// A sentence on the sections whose bars are of no known length.
    bars_unknown: Option<&'static str>,
    without_length: Vec<Mention>,
    by_shape: Vec<Mention>,
    /// In sentences.
    without_stock: Vec<String>,
    method: &'static str,
}

#[derive(Serialize)]
struct Section {
    disposition: &'static str,
    lines: Vec<LineShape>,
    subtotal: Option<Subtotal>,
    /// What the subtotal leaves out.
    left_out: Option<String>,
}

#[derive(Serialize)]
struct LineShape {
    label: Option<String>,
    id: String,
    name: String,
    what: Option<String>,
    covers: Option<String>,
    quantity: u32,
    mass: Option<String>,
    cost: Option<Cost>,
    lead: Option<String>,
    supply: Option<&'static str>,
    from: Option<String>,
}

#[derive(Serialize)]
struct Cost {
    low: String,
    likely: String,
    high: String,
}

#[derive(Serialize)]
struct Subtotal {
    mass: Option<String>,
    cost: Option<Cost>,
}

#[derive(Serialize)]
struct Sums {
    parts: Vec<CostRow>,
    bought: Cost,
    work: Cost,
    together: Cost,
    /// `None` where no note names a cost.
    so_far: Option<String>,
    /// A sentence.
    mass: Option<String>,
    /// A sentence on what the sums leave out.
    not_counted: Option<String>,
}

/// What somebody is paid.
#[derive(Serialize)]
struct PayeeRow {
    label: Option<String>,
    name: String,
    /// Likely; `None` for nothing.
    parts: Option<String>,
    work: Option<String>,
    cost: Cost,
}

#[derive(Serialize)]
struct CostRow {
    name: String,
    cost: Cost,
}

#[derive(Serialize)]
struct CutShape {
    stock: String,
    /// Of a bar, and the width of a cut; `None` if nothing is known of them.
    length: Option<String>,
    kerf: Option<String>,
    pieces: Vec<PieceShape>,
    too_long: Vec<PieceShape>,
    /// Whether so few bars are the fewest; `None` where the length of a bar is not known.
    judged: Option<String>,
    offcut: String,
    bars: Vec<BarShape>,
}

#[derive(Serialize)]
struct PieceShape {
    label: Option<String>,
    name: String,
    length: String,
    quantity: u32,
    /// How the number comes about.
    counted: Option<String>,
}

#[derive(Serialize)]
struct BarShape {
    /// How many bars are cut like this.
    times: usize,
    cuts: Vec<f64>,
    offcut: f64,
}

const ORDER: [Disposition; 6] = [
    Disposition::Buy,
    Disposition::Make,
    Disposition::Rework,
    Disposition::Reuse,
    Disposition::Undecided,
    Disposition::Scrap,
];

pub(super) fn chapter(edition: &Edition) -> Chapter {
    let totals = &edition.outlook.bill.totals;
    let data = Data {
        money: edition.dossier().about.settings.currency.clone(),
        mass_unit: edition.amounts.mass_unit().shown(),
        sections: ORDER.into_iter().filter_map(|disposition| section(edition, disposition)).collect(),
        totals: Sums {
            parts: parts(edition),
            bought: cost(totals.parts),
            work: cost(totals.work),
            together: cost(totals.together),
            so_far: edition.outlook.bill.names_a_cost().then(|| money(totals.so_far.likely)),
            mass: totals.mass_ends_kg.map(|ends| {
                let unknown = without_unknown(totals.unweighed);
                format!("The machine as it will stand: {}{unknown}.", edition.amounts.masses(ends))
            }),
            not_counted: (totals.work_without_cost > 0).then(|| {
                let steps = counted(totals.work_without_cost, "step");
                format!("The cost of {steps} that no known shop can do is not known: the sums are too low by that.")
            }),
        },
        payees: payees(edition),
        method: METHOD,
        cut: edition.outlook.stock.sections.iter().map(|section| cut(edition, section)).collect(),
        bars_unknown: bars_unknown(edition),
        without_length: edition.names.mentions(edition.outlook.stock.without_length.iter().copied()),
        by_shape: edition.names.mentions(edition.outlook.stock.by_shape.iter().copied()),
        without_stock: without_stock(edition),
    };
    Chapter { data: edition.assets.lay_data(&data) }
}

/// Said once of all sections without a length.
fn bars_unknown(edition: &Edition) -> Option<&'static str> {
    edition.outlook.stock.sections.iter().any(|section| section.bars.is_none()).then_some(
        "Where no number of bars is given, dossier.yaml does not say how long the bars of that section are.",
    )
}

/// Who is paid, the most first; what goes to nobody that the notes name stands last.
fn payees(edition: &Edition) -> Vec<PayeeRow> {
    let mut paid: Vec<(Payee, Paid)> = paid(edition.project, edition.outlook).into_iter().collect();
    paid.sort_by(|(one, first), (other, second)| {
        let is_last = |payee: &Payee| matches!(payee, Payee::ToBeFound | Payee::NotNamed);
        let more = second.together.likely.total_cmp(&first.together.likely);
        is_last(one).cmp(&is_last(other)).then(more)
    });
    paid.into_iter().map(|(payee, paid)| payee_row(edition, payee, &paid)).collect()
}

fn payee_row(edition: &Edition, payee: Payee, paid: &Paid) -> PayeeRow {
    let (label, name) = match payee {
        Payee::Shop(shop) => (edition.names.label(shop.into()), edition.dossier()[shop].name.clone()),
        Payee::Seller(name) => (None, name),
        Payee::ToBeFound => (None, "shop still to be found".to_owned()),
        Payee::NotNamed => (None, "payee not named".to_owned()),
    };
    let likely = |cost: Estimate| (cost.high > 0.0).then(|| money(cost.likely));
    PayeeRow { label, name, parts: likely(paid.parts), work: likely(paid.work), cost: cost(paid.together) }
}

/// What a part that names no stock needs at least, by its shape.
fn without_stock(edition: &Edition) -> Vec<String> {
    let stock = &edition.outlook.stock;
    let pieces = CutListReport::of(edition.dossier(), stock).without_stock;
    let says = |(piece, (part, _)): (LeastPiece, &(PartId, Blank))| {
        let least = piece.says(edition.dossier().about.settings.system);
        format!("{}: not said from what; by its shape at least {least}.", edition.dossier()[*part].name)
    };
    pieces.into_iter().zip(&stock.without_stock).map(says).collect()
}

fn section(edition: &Edition, disposition: Disposition) -> Option<Section> {
    let section = edition.outlook.bill.section(edition.dossier(), disposition);
    let subtotal = Subtotal {
        mass: section.mass_ends_kg.map(|ends| edition.amounts.mass_numbers(ends)),
        cost: section.cost.map(cost),
    };
    let mass = (section.unweighed > 0 && subtotal.mass.is_some())
        .then(|| format!("The mass leaves out {} of unknown mass.", counted(section.unweighed, "line")));
    let cost = (section.unpriced > 0 && subtotal.cost.is_some())
        .then(|| format!("The cost leaves out {} without a price.", counted(section.unpriced, "line")));
    let left_out: Vec<String> = mass.into_iter().chain(cost).collect();
    (!section.lines.is_empty()).then(|| Section {
        disposition: disposition.word(),
        lines: section.lines.iter().map(|line| shape(edition, line)).collect(),
        left_out: (!left_out.is_empty()).then(|| left_out.join(" ")),
        subtotal: (subtotal.mass.is_some() || subtotal.cost.is_some()).then_some(subtotal),
    })
}

/// What the mass of a line covers.
fn covers(edition: &Edition, line: &PartLine) -> Option<String> {
    match line.covers(edition.dossier()) {
        Covers::Part => None,
        Covers::WithinWeighed(assembly) => {
            Some(format!("mass counted with {}", decapital(&edition.dossier()[assembly].name)))
        }
        Covers::Assembly => Some(as_weighed(edition, line)),
        Covers::Pieces => Some("mass by its parts".to_owned()),
    }
}

/// What the mass of an assembly covers that was weighed whole, and what that becomes where something in it is replaced.
fn as_weighed(edition: &Edition, line: &PartLine) -> String {
    let weight = &line.weight;
    let each = if line.quantity > 1 { " each" } else { "" };
    match weight.stands_ends_kg.filter(|ends| Some(*ends) != weight.each_ends_kg) {
        Some(ends) => format!(
            "mass as weighed, with all that was within it; as it will stand {}{each}{}",
            edition.amounts.masses(ends),
            without_unknown(weight.stands_without)
        ),
        None => "mass with all that is within it".to_owned(),
    }
}

fn shape(edition: &Edition, line: &PartLine) -> LineShape {
    let part = &edition.dossier()[line.part];
    let stock = part.stock.as_ref().map(|stock| stock.section.clone());
    let is_bought = part.disposition == Disposition::Buy || part.supply != Supply::Needed;
    LineShape {
        label: edition.names.label(line.part.into()),
        id: part.id().to_owned(),
        name: part.name.clone(),
        what: part.designation.clone().or(stock).or_else(|| part.material.clone()),
        covers: covers(edition, line),
        quantity: line.quantity,
        mass: line
            .mass_ends_kg
            .filter(|_| line.has_own_mass(edition.dossier()))
            .map(|ends| edition.amounts.mass_numbers(ends)),
        cost: line.cost.map(cost),
        lead: part.lead.as_ref().map(|lead| edition.amounts.estimate(lead)),
        supply: is_bought.then(|| part.supply.word()),
        from: part.from.clone(),
    }
}

/// What a sum of masses leaves out, as the end of a sentence.
pub(super) fn without_unknown(parts: usize) -> String {
    if parts == 0 { String::new() } else { format!(", without {} of unknown mass", counted(parts, "part")) }
}

fn cost(estimate: Estimate) -> Cost {
    Cost { low: money(estimate.low), likely: money(estimate.likely), high: money(estimate.high) }
}

/// What the parts cost, by what becomes of them; those that cost nothing are left out.
fn parts(edition: &Edition) -> Vec<CostRow> {
    let row = |disposition: Disposition| {
        let section = edition.outlook.bill.section(edition.dossier(), disposition);
        let estimate = section.cost.filter(|cost| cost.high > 0.0)?;
        Some(CostRow { name: format!("parts to {}", disposition.word()), cost: cost(estimate) })
    };
    ORDER.into_iter().filter_map(row).collect()
}

const NANOMETRE: f64 = 1e-9;

fn cut(edition: &Edition, section: &SectionPlan) -> CutShape {
    let nothing_laid_out = CutList::default();
    let plan = section.plan.as_ref();
    let sure = plan.is_some_and(CutList::proven);
    let plan = plan.unwrap_or(&nothing_laid_out);
    let like: Vec<&[Bar]> = plan.bars.chunk_by(|one, next| one == next).collect();
    let piece = |(part, piece): &(PartId, Piece)| PieceShape {
        label: edition.names.label((*part).into()),
        name: name(edition.dossier(), *part),
        length: edition.amounts.length(length_metres(piece.length)),
        quantity: piece.quantity,
        counted: counted_how(edition.dossier(), *part, piece.quantity),
    };
    CutShape {
        stock: section.section.clone(),
        length: section.bars.map(|bars| edition.amounts.length(bars.length_m)),
        kerf: section.bars.map(|bars| edition.amounts.length(bars.kerf_m)),
        pieces: section.pieces.iter().map(piece).collect(),
        too_long: plan.too_long.iter().filter_map(|&index| section.pieces.get(index)).map(piece).collect(),
        judged: section.bars.map(|_| judged(plan.bars.len(), Some(plan.at_least), sure)),
        offcut: like.iter().map(|bars| offcut(&edition.amounts, bars)).collect::<Vec<_>>().join(", "),
        bars: like.iter().map(|bars| bar_shape(section, bars)).collect(),
    }
}

/// That the pieces are so many for each part, or so many in all.
fn counted_how(dossier: &Dossier, part: PartId, pieces: u32) -> Option<String> {
    match dossier[part].stock.as_ref()?.pieces {
        Pieces::Each(each) => (each != pieces).then(|| format!("{each} for each")),
        Pieces::InAll(_) => Some("in all".to_owned()),
    }
}

/// What is left of bars that are cut alike.
fn offcut(amounts: &Amounts, bars: &[Bar]) -> String {
    let left = amounts.length(length_metres(bars[0].offcut));
    if bars.len() == 1 { left } else { format!("{} × {left}", bars.len()) }
}

fn bar_shape(section: &SectionPlan, bars: &[Bar]) -> BarShape {
    let pieces = bars[0].cuts.iter().filter_map(|piece| section.pieces.get(*piece));
    BarShape {
        cuts: pieces.map(|(_, piece)| length_metres(piece.length)).collect(),
        offcut: length_metres(bars[0].offcut),
        times: bars.len(),
    }
}

#[expect(clippy::cast_precision_loss, reason = "a bar is far shorter than 2^53 nanometres")]
fn length_metres(length: Length) -> f64 {
    length as f64 * NANOMETRE
}

fn name(dossier: &Dossier, part: PartId) -> String {
    dossier[part].name.clone()
}
