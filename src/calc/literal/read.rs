//! Reading a quantity with its bounds.

use super::bounds::{bounded, bounds, limits};
use super::magnitude::{Magnitude, magnitude};
use super::{Form, Literal, LiteralFault, Piece};
use crate::calc::scan::{Scan, is_letter};
use crate::calc::units::{self, Unit, Units};

/// Where a literal stands, which decides what a dash, a comma, a stroke and `..` may mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::calc) enum Place {
    /// A value in front matter or a table cell: the whole text.
    FrontMatter,
    /// In a formula: `-` subtracts, a comma parts arguments.
    Formula,
    /// In a formula, at a place where `..` belongs to the line: the low end after `within`.
    BeforeRange,
}

impl Place {
    pub(super) fn dash_joins(self) -> bool {
        self == Self::FrontMatter
    }

    pub(super) fn comma_is_a_fault(self) -> bool {
        self == Self::FrontMatter
    }
}

/// One number with its unit, or feet and inches together.
pub(super) struct Typed {
    /// In units of `unit`, as a fraction, so that a decimal number stays exact.
    numerator: f64,
    denominator: f64,
    pub(super) unit: Option<Unit>,
    pub(super) step: f64,
    pub(super) pieces: Vec<Piece>,
    /// A stroke follows that divides.
    is_cut_short: bool,
}

impl Typed {
    pub(super) fn value(&self) -> f64 {
        self.numerator / self.denominator
    }

    fn of(number: Magnitude, unit: Option<Unit>) -> Self {
        let Magnitude { numerator, denominator, text, step, .. } = number;
        let mut pieces = vec![Piece::Figures(text)];
        pieces.extend(unit.map(Piece::Unit));
        Self { numerator, denominator, unit, step, pieces, is_cut_short: false }
    }

    pub(super) fn in_si(&self, unit: Unit) -> f64 {
        unit.ratio_to_si(self.numerator, self.denominator)
    }
}

/// Larger and smaller units that are typed side by side.
const PAIRS: &[(&str, &str)] = &[
    ("ft", "in"),
    ("yd", "ft"),
    ("lb", "oz"),
    ("stone", "lb"),
    ("day", "h"),
    ("h", "min"),
    ("min", "s"),
    ("deg", "arcmin"),
    ("arcmin", "arcsec"),
    ("long ton", "long cwt"),
    ("long cwt", "lb"),
];

pub(super) fn literal(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Literal>, LiteralFault> {
    let start = scan.at;
    let Some(first) = typed(units, scan, place)? else { return Ok(None) };
    let before = scan.at;
    scan.blanks();
    let literal = match bounds(units, scan, place)? {
        Some(bounds) => bounded(first, bounds, start..scan.at)?,
        None => {
            scan.at = before;
            exact(first, start..scan.at)?
        }
    };
    Ok(Some(literal))
}

/// A number, its unit, and the smaller unit's number behind it.
pub(super) fn typed(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Typed>, LiteralFault> {
    let Some(single) = single(units, scan, place)? else { return Ok(None) };
    if single.is_cut_short {
        return Ok(Some(single));
    }
    smaller(units, scan, place, single).map(Some)
}

/// A number and its unit.
fn single(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Typed>, LiteralFault> {
    let start = scan.at;
    let Some(number) = number(units, scan, place)? else { return Ok(None) };
    let unit = unit_after(units, scan, place)?;
    if let Some(unit) = unit.filter(|_| number.is_bare_fraction && number.denominator == 1.0) {
        return Err(over_one(start..scan.at, &number.text, unit));
    }
    if unit.is_none() && number.is_bare_fraction && place != Place::FrontMatter {
        return whole_only(scan, start, place);
    }
    Ok(Some(Typed::of(number, unit)))
}

/// A number; in a formula a dash joins `2-5/16` where inches follow, since nothing else can be meant.
fn number(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Magnitude>, LiteralFault> {
    let start = scan.at;
    let has_dash = scan.rest().trim_start_matches(['-', '−']).trim_start_matches(is_digit).starts_with('-');
    if place.dash_joins() || !has_dash {
        return magnitude(scan, place);
    }
    let mut joined = scan.clone();
    if let Some(number) = magnitude(&mut joined, Place::FrontMatter).ok().flatten()
        && is_joined(&scan.text[start..joined.at])
    {
        let end = joined.at;
        let unit = unit_after(units, &mut joined, place)?;
        if unit.is_some_and(|unit| unit.to_string() == "in") {
            scan.at = end;
            return match scan.text[..start].trim_end().ends_with(OPERATORS) {
                false => Ok(Some(number)),
                true => Err(joined_or_less(start..end)),
            };
        }
    }
    magnitude(scan, place)
}

fn is_digit(character: char) -> bool {
    character.is_ascii_digit()
}

/// Signs before a number that a dash behind it makes doubtful: `d/2-5/16 in`.
const OPERATORS: [char; 7] = ['*', '·', '×', '⋅', '/', '÷', '^'];

/// `2-5/16`, not `-2 5/16`.
fn is_joined(text: &str) -> bool {
    text.contains('/') && text.get(1..).is_some_and(|rest| rest.contains('-'))
}

fn joined_or_less(range: std::ops::Range<usize>) -> LiteralFault {
    let help = "Write a mixed number with a blank, `2 5/16 in`; to subtract, put blanks round the minus.";
    fault(range, "this may be a mixed number or a difference", help)
}

/// `8/1 in`, which is eight inches or eight to the inch.
fn over_one(range: std::ops::Range<usize>, text: &str, unit: Unit) -> LiteralFault {
    let whole = text.split('/').next().unwrap_or_default();
    let below = if unit.is_single() { unit.to_string() } else { format!("({unit})") };
    let help = format!("Write `{whole} 1/{below}` for so many to one of the unit, or `{whole} {unit}`.");
    LiteralFault { range, message: "this is no fraction: which is meant?".to_owned(), help }
}

/// In a formula `1/2` without a unit is a division: only the one is taken.
fn whole_only(scan: &mut Scan, start: usize, place: Place) -> Result<Option<Typed>, LiteralFault> {
    let stroke = scan.text[start..].find('/').map_or(scan.at, |offset| start + offset);
    let mut short = Scan { text: &scan.text[..stroke], at: start };
    let number = magnitude(&mut short, place)?;
    scan.at = stroke;
    Ok(number.map(|number| Typed { is_cut_short: true, ..Typed::of(number, None) }))
}

/// The unit behind a number; the scan stays at the number's end when there is none.
///
/// An inch or foot mark in a formula is glued to its number, so that a remark in quotes may follow after a blank.
pub(super) fn unit_after(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Unit>, LiteralFault> {
    let before = scan.at;
    let parted = scan.blanks();
    if (!parted || place == Place::FrontMatter)
        && let Some(mark) = units::mark_here(units, scan)
    {
        return Ok(Some(mark));
    }
    let unit = units::unit_here(units, scan)?;
    if unit.is_none() {
        scan.at = before;
    }
    Ok(unit)
}

/// `3 1/2 in` behind `5 ft`.
fn smaller(units: &Units, scan: &mut Scan, place: Place, large: Typed) -> Result<Typed, LiteralFault> {
    let before = scan.at;
    if large.unit.is_some_and(|unit| unit.to_string() == "ft") {
        dash(units, scan, place)?;
    }
    scan.blanks();
    if !scan
        .peek()
        .is_some_and(|next| next.is_ascii_digit() || next == '½' || next == '¼' || next == '¾' || next == '.')
    {
        scan.at = before;
        return Ok(large);
    }
    let (start, negative) = (scan.at, large.value() < 0.0);
    if scan.rest().starts_with("..") || limits(units, &mut scan.clone(), place)?.is_some() {
        scan.at = before;
        return Ok(large);
    }
    let next = single(units, scan, place)?;
    let unit = large.unit.unwrap_or_default();
    let pairs = |small: Unit| {
        let name = unit.to_string();
        PAIRS.iter().any(|(big, little)| name == *big && small.to_string() == *little)
    };
    match next {
        Some(next) if next.unit.is_some_and(pairs) => {
            let next = smaller(units, scan, place, next)?;
            let small = next.unit.unwrap_or(unit);
            let larger = small.from_si(large.in_si(unit)) * next.denominator;
            let numerator = if negative { larger - next.numerator } else { larger + next.numerator };
            let pieces = [large.pieces, next.pieces].concat();
            Ok(Typed { numerator, unit: Some(small), pieces, ..next })
        }
        _ => Err(side_by_side(before..scan.at.max(start), place)),
    }
}

/// Over the dash of `5'-3 1/2"`, which joins feet and inches in marks; one that may be a minus as well is refused.
fn dash(units: &Units, scan: &mut Scan, place: Place) -> Result<(), LiteralFault> {
    let before = scan.at;
    let has_mark = scan.text[..before].ends_with(units::FOOT_MARKS);
    let parted = scan.blanks();
    let dash = scan.at;
    if !(scan.eat("-") || scan.eat("–")) {
        scan.at = before;
        return Ok(());
    }
    let is_glued = !parted && !scan.blanks();
    let inches = scan.at;
    scan.blanks();
    let is_inches = inches_follow(units, &mut scan.clone(), place)?;
    match (is_inches, has_mark, is_glued) {
        (Some(true), true, true) => scan.at = inches,
        (Some(has_inch_mark), _, _) if has_mark && has_inch_mark || is_glued => {
            let help = "Write `5 ft 3 in` for feet and inches; to subtract, `5 ft - 3 in` with blanks.";
            return Err(fault(dash..inches, "this dash may join feet and inches, or subtract", help));
        }
        _ => scan.at = before,
    }
    Ok(())
}

/// Whether inches follow, and with a mark.
fn inches_follow(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<bool>, LiteralFault> {
    if !scan.peek().is_some_and(|next| next.is_ascii_digit()) {
        return Ok(None);
    }
    if number(units, scan, place)?.is_none() {
        return Ok(None);
    }
    let is_inches = unit_after(units, scan, place)?.is_some_and(|unit| unit.to_string() == "in");
    Ok(is_inches.then(|| scan.text[..scan.at].ends_with(units::INCH_MARKS)))
}

fn side_by_side(range: std::ops::Range<usize>, place: Place) -> LiteralFault {
    let help = match place {
        Place::FrontMatter => "Write one value: a mixed number is `2 5/16 in`, feet and inches `5 ft 3 in`.",
        _ => "Put an operator between them; a mixed number is `2 5/16 in`, feet and inches `5 ft 3 in`.",
    };
    fault(range, "two numbers stand side by side", help)
}

fn exact(typed: Typed, range: std::ops::Range<usize>) -> Result<Literal, LiteralFault> {
    let unit = typed.unit.unwrap_or_default();
    let nominal = typed.in_si(unit);
    let step = unit.interval_to_si(typed.step);
    finite(
        Literal { low: nominal, nominal, high: nominal, form: Form::Exact, unit, step, pieces: typed.pieces },
        range,
    )
}

pub(super) fn finite(literal: Literal, range: std::ops::Range<usize>) -> Result<Literal, LiteralFault> {
    if literal.low.is_finite() && literal.high.is_finite() && literal.nominal.is_finite() {
        return Ok(literal);
    }
    Err(fault(range, "this value is too large to calculate with", "In SI units values reach to about 1e308."))
}

pub(super) fn fault(range: std::ops::Range<usize>, message: &str, help: &str) -> LiteralFault {
    LiteralFault { range, message: message.to_owned(), help: help.to_owned() }
}

pub(super) fn no_number(scan: &Scan) -> LiteralFault {
    let end = scan.text.trim_end().len().max(scan.at);
    fault(
        scan.at..end,
        "a number is missing here",
        "Write a value such as `2 5/16 in`, `58.74 mm` or `3 h .. 6 h`.",
    )
}

/// More stands behind a quantity that is complete.
pub(super) fn left_over(units: &Units, scan: &Scan) -> LiteralFault {
    let end = scan.text.trim_end().len();
    if scan.peek().is_some_and(|next| is_letter(next) || next == '°') {
        return units::unknown_here(units, scan).into();
    }
    fault(
        scan.at..end,
        &format!("`{}` does not belong to a quantity", shortened(&scan.text[scan.at..end])),
        "Write a value such as `2 5/16 in`, `2.000 in ± 0.001 in`, `25 mm +0.021/-0` or `3 h .. 6 h`.",
    )
}

fn shortened(text: &str) -> &str {
    text.char_indices().nth(30).map_or(text, |(end, _)| &text[..end])
}
