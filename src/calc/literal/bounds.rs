//! The bounds behind a typed number: `± 0.001 in`, `+0.021/-0`, `.. 6 h`.

use super::magnitude::{Magnitude, limit, sign};
use super::read::{Place, Typed, fault, finite, no_number, typed, unit_after};
use super::{Form, Literal, LiteralFault, Piece};
use crate::calc::scan::Scan;
use crate::calc::units::{Unit, Units};

/// A limit: its sign, a blank for a zero without one, and its number.
pub(super) type End = (char, Magnitude);

/// What stands behind a nominal value.
pub(super) enum Bounds {
    PlusMinus(Typed),
    Limits { ends: [End; 2], unit: Option<Unit> },
    To(Typed),
}

pub(super) fn bounds(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Bounds>, LiteralFault> {
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

/// `+0.021/-0`, `-0.020/-0.041`, `+1/64/0`, `0/-0.021`, with the unit before, between or behind.
pub(super) fn limits(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<Bounds>, LiteralFault> {
    let start = scan.at;
    let Some((first, unit_of_first)) = end(units, scan, place)? else { return Ok(None) };
    scan.blanks();
    let stroke = scan.eat("/");
    scan.blanks();
    let second = if stroke { end(units, scan, place)? } else { None };
    let Some((second, unit_of_second)) = second.filter(|(second, _)| first.0 != ' ' || second.0 != ' ')
    else {
        scan.at = start;
        return Ok(None);
    };
    if unit_of_first.is_some_and(|first| unit_of_second.is_some_and(|second| first != second)) {
        let help = "Write one unit for both: `25 mm +0.021/-0`.";
        return Err(fault(start..scan.at, "the two limits are in different units", help));
    }
    Ok(Some(Bounds::Limits { ends: [first, second], unit: unit_of_second.or(unit_of_first) }))
}

/// A number with its sign, which only zero can do without, and the unit behind it.
fn end(units: &Units, scan: &mut Scan, place: Place) -> Result<Option<(End, Option<Unit>)>, LiteralFault> {
    let start = scan.at;
    let sign = sign(scan);
    if !scan.peek().is_some_and(|next| matches!(next, '+' | '-' | '−'))
        && let Some(number) = limit(scan, place)?
        && (sign != ' ' || number.value() == 0.0)
    {
        return Ok(Some(((sign, number), unit_after(units, scan, place)?)));
    }
    scan.at = start;
    Ok(None)
}

pub(super) fn bounded(
    first: Typed,
    bounds: Bounds,
    range: std::ops::Range<usize>,
) -> Result<Literal, LiteralFault> {
    let literal = match bounds {
        Bounds::PlusMinus(tolerance) => plus_minus(first, tolerance, &range)?,
        Bounds::Limits { ends, unit } => with_limits(first, &ends, unit, &range)?,
        Bounds::To(end) => to(first, end, &range)?,
    };
    finite(literal, range)
}

/// Whether bounds in per cent are a share of the value: of anything but a per cent or a temperature on its scale.
fn is_share(unit: Option<Unit>, of_bounds: Option<Unit>) -> bool {
    of_bounds.is_some_and(|unit| unit.is_percent())
        && !unit.is_some_and(|unit| unit.is_percent() || unit.is_point())
}

fn plus_minus(
    first: Typed,
    tolerance: Typed,
    range: &std::ops::Range<usize>,
) -> Result<Literal, LiteralFault> {
    let is_share = is_share(first.unit, tolerance.unit);
    let unit = if is_share { first.unit } else { first.unit.or(tolerance.unit) }.unwrap_or_default();
    let of_tolerance = tolerance.unit.unwrap_or(unit);
    if !is_share && !are_alike(of_tolerance, unit) {
        return Err(unlike(range, unit, of_tolerance));
    }
    let nominal = first.in_si(unit);
    let half = of_tolerance.interval_to_si(tolerance.value()) * if is_share { nominal.abs() } else { 1.0 };
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
    ends: &[End; 2],
    limit_unit: Option<Unit>,
    range: &std::ops::Range<usize>,
) -> Result<Literal, LiteralFault> {
    let is_share = is_share(first.unit, limit_unit);
    let unit = if is_share { first.unit } else { first.unit.or(limit_unit) }.unwrap_or_default();
    let of_limits = limit_unit.unwrap_or(unit);
    if !is_share && !are_alike(of_limits, unit) {
        return Err(unlike(range, unit, of_limits));
    }
    let nominal = first.in_si(unit);
    let signed = |(sign, number): &End| if *sign == '-' { -number.value() } else { number.value() };
    let share = if is_share { nominal.abs() } else { 1.0 };
    let shift = |end| of_limits.interval_to_si(signed(end)) * share;
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
    let text = |(sign, number): &End| format!("{sign}{}", number.text).trim_start().to_owned();
    let mut pieces = first.pieces;
    pieces.push(Piece::Limits(text(upper), text(lower)));
    pieces.extend(limit_unit.map(Piece::Unit));
    Ok(Literal { low, nominal, high, form: Form::Limits, unit, step, pieces })
}

fn to(first: Typed, end: Typed, range: &std::ops::Range<usize>) -> Result<Literal, LiteralFault> {
    let unit = end.unit.or(first.unit).unwrap_or_default();
    let of_first = first.unit.unwrap_or(unit);
    if !are_alike(of_first, unit) {
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

/// Of one kind, turns and radians distinguished from what does not count them.
fn are_alike(one: Unit, other: Unit) -> bool {
    one.dimension() == other.dimension() && one.angle() == other.angle()
}

fn unlike(range: &std::ops::Range<usize>, one: Unit, other: Unit) -> LiteralFault {
    if one.dimension() == other.dimension() {
        let help = "Write both in one unit: `10 rpm .. 20 rpm`.";
        return fault(range.clone(), "only one of the value and its bound counts turns or radians", help);
    }
    LiteralFault {
        range: range.clone(),
        message: format!("the value is a {}, its bound a {}", one.dimension(), other.dimension()),
        help: "Write both in units of one kind.".to_owned(),
    }
}
