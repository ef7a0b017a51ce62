//! Decimal commas in a list of readings: YAML parts `[1.6252, 1,6256]` at every comma, and says nothing of it.

use super::Typed;
use super::measurement::Reading;
use crate::text::Span;

/// Where one figure with a decimal comma can stand as two: its span and the two halves.
pub(super) fn decimal_comma(items: &[Typed]) -> Option<(Span, &str, &str)> {
    let is_loose = |pair: &[Typed]| !is_tight(pair);
    let has_loose = items.windows(2).any(is_loose);
    let found = items.windows(2).find(|pair| is_tight(pair) && is_one_figure(pair, has_loose))?;
    let span = Span { end: found[1].span.end, ..found[0].span };
    Some((span, &found[0].text, &found[1].text))
}

/// Whether nothing but the comma stands between the two.
fn is_tight(pair: &[Typed]) -> bool {
    pair[1].span.start == pair[0].span.end + 1
}

/// Whether two whole numbers are more likely one figure: other readings are parted by a blank as well, the second begins
/// with a zero, or one is twice the other.
fn is_one_figure(pair: &[Typed], has_loose: bool) -> bool {
    let (Some(whole), Some(places)) = (digits(&pair[0].text, true), digits(&pair[1].text, false)) else {
        return false;
    };
    let (Ok(one), Ok(other)) = (whole.parse::<f64>(), places.parse::<f64>()) else { return false };
    let apart = one.max(other) >= 2.0 * one.min(other);
    has_loose || apart || (places.len() > 1 && places.starts_with('0'))
}

/// The digits of a whole number, `alone` or before a unit.
fn digits(text: &str, alone: bool) -> Option<&str> {
    let text = text.trim_start_matches('-');
    let end = text.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    let goes_on = rest.starts_with(['.', '/', '-']) || (alone && !rest.is_empty());
    (!digits.is_empty() && !goes_on).then_some(digits)
}

/// The first repeat that is ten times all others, or a tenth of them, where those agree within a factor of two: a point
/// that is missing or in the wrong place.
pub(super) fn misplaced_point(readings: &[Reading]) -> Option<&Reading> {
    readings
        .iter()
        .enumerate()
        .find(|(at, reading)| {
            let others = readings.iter().enumerate().filter(|(other, _)| other != at);
            let others = others.map(|(_, other)| other.value);
            let (least, most) = others
                .fold((f64::INFINITY, 0.0_f64), |(least, most), value| (least.min(value), most.max(value)));
            let agree = least > 0.0 && least.is_finite() && most < 2.0 * least;
            agree && reading.value > 0.0 && (reading.value >= 10.0 * most || reading.value <= least / 10.0)
        })
        .map(|(_, reading)| reading)
}
