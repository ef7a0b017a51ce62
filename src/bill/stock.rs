//! What stock to buy for the parts that are made: pieces by section, laid out on bars.

use std::collections::BTreeMap;

use super::cut_list::{CutList, Length, Piece, cut};
use super::roll_up::Bill;
use crate::dossier::{Dossier, PartId};
use crate::record::Disposition;
use crate::shape::Blank;

/// The bars of a section and the saw that cuts them, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bars {
    /// Length of a new bar.
    pub length_m: f64,
    /// Width of a cut.
    pub kerf_m: f64,
}

impl Bars {
    /// What dossier.yaml says of the bars of a section: none longer than is certain, no cut narrower than it may be.
    fn of(dossier: &Dossier, section: &str) -> Option<Self> {
        let known = dossier.about.stock_lengths.iter().find(|known| key(&known.section) == key(section))?;
        Some(Self { length_m: known.length.low, kerf_m: known.cut.high })
    }
}

/// The bars of one section.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionPlan {
    /// The section as first typed.
    pub section: String,
    /// What it comes in; `None` if dossier.yaml does not say.
    pub bars: Option<Bars>,
    /// The pieces, each part once.
    pub pieces: Vec<(PartId, Piece)>,
    /// How they are cut; `None` if nothing is known of the bars, or there are more pieces than can be laid out.
    pub plan: Option<CutList>,
}

/// The cut list of a dossier.
#[derive(Clone, Debug, PartialEq)]
pub struct StockList {
    /// By section, in the order of the alphabet.
    pub sections: Vec<SectionPlan>,
    /// Parts that are cut from stock but do not say how long the piece is, nor have a shape that does.
    pub without_length: Vec<PartId>,
    /// Parts whose piece is as long as their shape asks for with facing.
    pub by_shape: Vec<PartId>,
    /// Parts that are made, with a shape, and do not say from what: the least piece that will do.
    pub without_stock: Vec<(PartId, Blank)>,
}

/// Lays out the stock of every part that still has to be cut: not what is scrapped, bought, or there already. `blanks` are
/// the least pieces by the parts' shapes.
pub fn stock_list(dossier: &Dossier, bill: &Bill, blanks: &BTreeMap<PartId, Blank>) -> StockList {
    let mut by_section: BTreeMap<String, SectionPlan> = BTreeMap::new();
    let (mut without_length, mut by_shape, mut without_stock) = (Vec::new(), Vec::new(), Vec::new());
    for line in bill.lines.iter().filter(|line| is_cut(dossier, line.part)) {
        let blank = blanks.get(&line.part).copied();
        let Some(stock) = &dossier[line.part].stock else {
            let is_made = dossier[line.part].disposition == Disposition::Make;
            without_stock.extend(blank.filter(|_| is_made).map(|blank| (line.part, blank)));
            continue;
        };
        if stock.length.is_none() && blank.is_some() {
            by_shape.push(line.part);
        }
        let Some(length) = stock.length.as_ref().map(|length| length.high).or(blank.map(Blank::long)) else {
            without_length.push(line.part);
            continue;
        };
        let piece = Piece {
            id: dossier[line.part].id().to_owned(),
            length: nanometres(length),
            quantity: stock.pieces.of(line.quantity),
        };
        let plan = by_section.entry(key(&stock.section)).or_insert_with(|| SectionPlan {
            section: stock.section.clone(),
            bars: Bars::of(dossier, &stock.section),
            pieces: Vec::new(),
            plan: None,
        });
        plan.pieces.push((line.part, piece));
    }
    let mut sections: Vec<SectionPlan> = by_section.into_values().collect();
    for section in &mut sections {
        let pieces: Vec<Piece> = section.pieces.iter().map(|(_, piece)| piece.clone()).collect();
        let laid_out = |bars: Bars| cut(&pieces, nanometres(bars.length_m), nanometres(bars.kerf_m));
        section.plan = section.bars.and_then(laid_out);
    }
    StockList { sections, without_length, by_shape, without_stock }
}

fn is_cut(dossier: &Dossier, part: PartId) -> bool {
    let part = &dossier[part];
    !part.supply.is_here() && !matches!(part.disposition, Disposition::Scrap | Disposition::Buy)
}

/// Sections that differ only in case or blanks are one.
fn key(section: &str) -> String {
    section.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// Whole nanometres; a length past a thousand kilometres counts as that.
#[expect(clippy::cast_possible_truncation, reason = "clamped to a range that fits")]
pub fn nanometres(metres: f64) -> Length {
    (metres * 1e9).round().clamp(0.0, 1e15) as Length
}
