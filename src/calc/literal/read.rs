//! Reading a quantity with its bounds.

use super::magnitude::{Magnitude, magnitude, sign};
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
struct Typed {
    /// In units of `unit`, as a fraction, so that a decimal number stays exact.
    numerator: f64,
    denominator: f64,
    unit: Option<Unit>,
    step: f64,
    pieces: Vec<Piece>,
}

impl Typed {
    fn value(&self) -> f64 {
        self.numerator / self.denominator
    }

    fn of(number: Magnitude, unit: Option<Unit>) -> Self {
        let Magnitude { numerator, denominator, text, step, .. } = number;
        let mut pieces = vec![Piece::Figures(text)];
        pieces.extend(unit.map(Piece::Unit));
        Self { numerator, denominator, unit, step, pieces }
    }

    fn in_si(&self, unit: Unit) -> f64 {
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

/// What stands behind a nominal value.
enum Bounds {
    PlusMinus(Typed),
    Limits { ends: [(char, Magnitude); 2], unit: Option<Unit> },
    To(Typed),
}

fn bounds(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Bounds>, LiteralFault> {
    let start = scan.at;
    if scan.eat("±") || scan.eat("+/-") || scan.eat("+-") {
        scan.blanks();
        let Some(tolerance) = typed(units, scan, place)? else { return no_end(scan, start, place) };
        if tolerance.value() < 0.0 {
            return Err(fault(start..scan.at, "a ± bound has no sign of its own", "Write `± 0.001 in`."));
        }
        return Ok(Some(Bounds::PlusMinus(tolerance)));
    }
    if place != Place::BeforeRange && (scan.eat("..") || scan.eat("…")) {
        scan.eat(".");
        scan.blanks();
        return match typed(units, scan, place)? {
            Some(end) => Ok(Some(Bounds::To(end))),
            None => no_end(scan, start, place),
        };
    }
    limits(units, scan, place)
}

/// No number follows the sign of a bound: in a formula a name or a bracket may, which is not the literal's business.
fn no_end(scan: &mut Scan, start: usize, place: Place) -> Result<Option<Bounds>, LiteralFault> {
    if place == Place::FrontMatter {
        return Err(no_number(scan));
    }
    scan.at = start;
    Ok(None)
}

/// `+0.021/-0`, `-0.020/-0.041`, with the unit before, between or behind.
fn limits(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Bounds>, LiteralFault> {
    let start = scan.at;
    let Some(first) = signed(scan, place)? else { return Ok(None) };
    let mut unit = unit_after(units, scan, place)?;
    scan.blanks();
    let stroke = scan.eat("/");
    scan.blanks();
    let second = if stroke { signed(scan, place)? } else { None };
    let Some(second) = second else {
        scan.at = start;
        return Ok(None);
    };
    unit = unit_after(units, scan, place)?.or(unit);
    Ok(Some(Bounds::Limits { ends: [first, second], unit }))
}

/// A number with a sign that must be there.
fn signed(scan: &mut Scan, place: Place) -> Result<Option<(char, Magnitude)>, LiteralFault> {
    let start = scan.at;
    let sign = sign(scan);
    if sign == ' ' || scan.peek().is_some_and(|next| next == '+' || next == '-') {
        scan.at = start;
        return Ok(None);
    }
    // The stroke belongs to the pair of limits, so a fraction is not looked for.
    let number = plain(scan, place)?;
    if number.is_none() {
        scan.at = start;
    }
    Ok(number.map(|number| (sign, number)))
}

/// A number that is no bare fraction.
fn plain(scan: &mut Scan, place: Place) -> Result<Option<Magnitude>, LiteralFault> {
    let start = scan.at;
    match magnitude(scan, place)? {
        Some(number) if number.is_bare_fraction && scan.text[start..scan.at].contains('/') => {
            // `1/-0` never gets here; `1/2` does only as `+1/2/-0`, which is not written.
            scan.at = start;
            Ok(None)
        }
        number => Ok(number),
    }
}

/// A number, its unit, and the smaller unit's number behind it.
fn typed(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Typed>, LiteralFault> {
    let start = scan.at;
    let Some(number) = magnitude(scan, place)? else { return Ok(None) };
    let unit = unit_after(units, scan, place)?;
    if unit.is_none() && number.is_bare_fraction && place != Place::FrontMatter {
        return whole_only(scan, start, place);
    }
    smaller(units, scan, place, Typed::of(number, unit)).map(Some)
}

/// In a formula `1/2` without a unit is a division: only the one is taken.
fn whole_only(scan: &mut Scan, start: usize, place: Place) -> Result<Option<Typed>, LiteralFault> {
    let stroke = scan.text[start..].find('/').map_or(scan.at, |offset| start + offset);
    let mut short = Scan { text: &scan.text[..stroke], at: start };
    let number = magnitude(&mut short, place)?;
    scan.at = stroke;
    Ok(number.map(|number| Typed::of(number, None)))
}

/// The unit behind a number; the scan stays at the number's end when there is none.
///
/// An inch or foot mark in a formula is glued to its number, so that a remark in quotes may follow after a blank.
fn unit_after(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Unit>, LiteralFault> {
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
    scan.blanks();
    if !scan
        .peek()
        .is_some_and(|next| next.is_ascii_digit() || next == '½' || next == '¼' || next == '¾' || next == '.')
    {
        scan.at = before;
        return Ok(large);
    }
    let (start, negative) = (scan.at, large.value() < 0.0);
    if scan.rest().starts_with("..") {
        scan.at = before;
        return Ok(large);
    }
    let next = typed(units, scan, place)?;
    let unit = large.unit.unwrap_or_default();
    let pairs = |small: Unit| {
        let name = unit.to_string();
        PAIRS.iter().any(|(big, little)| name == *big && small.to_string() == *little)
    };
    match next {
        Some(next) if next.unit.is_some_and(pairs) => {
            let small = next.unit.unwrap_or(unit);
            let larger = small.from_si(large.in_si(unit)) * next.denominator;
            let numerator = if negative { larger - next.numerator } else { larger + next.numerator };
            let pieces = [large.pieces, next.pieces].concat();
            Ok(Typed { numerator, unit: Some(small), pieces, ..next })
        }
        _ => Err(side_by_side(before..scan.at.max(start), place)),
    }
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

fn bounded(first: Typed, bounds: Bounds, range: std::ops::Range<usize>) -> Result<Literal, LiteralFault> {
    let literal = match bounds {
        Bounds::PlusMinus(tolerance) => plus_minus(first, tolerance, &range)?,
        Bounds::Limits { ends, unit } => with_limits(first, &ends, unit, &range)?,
        Bounds::To(end) => to(first, end, &range)?,
    };
    finite(literal, range)
}

fn plus_minus(
    first: Typed,
    tolerance: Typed,
    range: &std::ops::Range<usize>,
) -> Result<Literal, LiteralFault> {
    let unit = first.unit.or(tolerance.unit).unwrap_or_default();
    let of_tolerance = tolerance.unit.unwrap_or(unit);
    let same = of_tolerance.dimension() == unit.dimension();
    if !same {
        return Err(unlike(range, unit, of_tolerance));
    }
    let nominal = first.in_si(unit);
    let half = of_tolerance.interval_to_si(tolerance.value());
    let step = unit.interval_to_si(first.step);
    let pieces = [first.pieces, vec![Piece::PlusMinus], tolerance.pieces].concat();
    Ok(Literal {
        low: nominal - half,
        nominal,
        high: nominal + half,
        form: Form::PlusMinus,
        unit,
        step,
        pieces,
    })
}

fn with_limits(
    first: Typed,
    ends: &[(char, Magnitude); 2],
    limit_unit: Option<Unit>,
    range: &std::ops::Range<usize>,
) -> Result<Literal, LiteralFault> {
    let unit = first.unit.or(limit_unit).unwrap_or_default();
    let of_limits = limit_unit.unwrap_or(unit);
    if of_limits.dimension() != unit.dimension() {
        return Err(unlike(range, unit, of_limits));
    }
    let nominal = first.in_si(unit);
    let signed =
        |(sign, number): &(char, Magnitude)| if *sign == '-' { -number.value() } else { number.value() };
    let shift = |end| of_limits.interval_to_si(signed(end));
    let [upper, lower] = ends;
    let (high, low) = (nominal + shift(upper), nominal + shift(lower));
    if low > high {
        return Err(fault(
            range.clone(),
            "the upper limit stands second",
            "Write the upper limit first: `+0.021/-0`.",
        ));
    }
    let step = unit.interval_to_si(first.step);
    let text = |(sign, number): &(char, Magnitude)| format!("{sign}{}", number.text);
    let mut pieces = first.pieces;
    pieces.push(Piece::Limits(text(upper), text(lower)));
    pieces.extend(limit_unit.map(Piece::Unit));
    Ok(Literal { low, nominal, high, form: Form::Limits, unit, step, pieces })
}

fn to(first: Typed, end: Typed, range: &std::ops::Range<usize>) -> Result<Literal, LiteralFault> {
    let unit = end.unit.or(first.unit).unwrap_or_default();
    let of_first = first.unit.unwrap_or(unit);
    if of_first.dimension() != unit.dimension() {
        return Err(unlike(range, of_first, unit));
    }
    let (low, high) = (first.in_si(of_first), end.in_si(unit));
    if low > high {
        return Err(fault(
            range.clone(),
            "this range runs backwards",
            "Write the smaller value first: `3 h .. 6 h`.",
        ));
    }
    let nominal = low + (high - low) / 2.0;
    let step = of_first.interval_to_si(first.step).min(unit.interval_to_si(end.step));
    let pieces = [first.pieces, vec![Piece::To], end.pieces].concat();
    Ok(Literal { low, nominal, high, form: Form::Range, unit: of_first, step, pieces })
}

fn finite(literal: Literal, range: std::ops::Range<usize>) -> Result<Literal, LiteralFault> {
    if literal.low.is_finite() && literal.high.is_finite() && literal.nominal.is_finite() {
        return Ok(literal);
    }
    Err(fault(range, "this value is too large to reckon with", "In SI units values reach to about 1e308."))
}

fn unlike(range: &std::ops::Range<usize>, one: Unit, other: Unit) -> LiteralFault {
    LiteralFault {
        range: range.clone(),
        message: format!("the value is a {}, its bound a {}", one.dimension(), other.dimension()),
        help: "Write both in units of one kind.".to_owned(),
    }
}

fn fault(range: std::ops::Range<usize>, message: &str, help: &str) -> LiteralFault {
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
