//! Reading a unit: `kg/m^3`, `ft·lbf`, `um/(m K)`, `1/degF`, `long tons`.

use std::ops::Range;

use super::{Unit, Units};
use crate::calc::dimension::Exponent;
use crate::calc::scan::{Scan, is_letter};
use crate::calc::superscript;

/// What is wrong with a unit; the range is within the text it was read from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitFault {
    pub range: Range<usize>,
    pub message: String,
    pub help: String,
}

/// The largest power of a unit that is read.
const LARGEST_POWER: i32 = 99;

/// Words that only begin the name of a unit.
const QUALIFIERS: &[&str] = &[
    "long", "short", "metric", "US", "imperial", "fl", "fluid", "troy", "nautical", "standard", "degree",
    "degrees",
];

/// The whole of `text` as a unit.
pub(super) fn whole(units: &Units, text: &str) -> Result<Unit, UnitFault> {
    let mut scan = Scan::new(text);
    scan.blanks();
    let start = scan.at;
    let unit = unit(units, &mut scan)?;
    let end = scan.at;
    scan.blanks();
    match unit {
        Some(unit) if scan.at_end() => Ok(unit),
        Some(_) => Err(UnitFault {
            range: end..text.len(),
            message: format!("`{}` is more than a unit", text.trim()),
            help: "Write units with /, ·, ^ and brackets: kg/m^3, ft·lbf, W/(m·K).".to_owned(),
        }),
        None => Err(unknown(units, text, start)),
    }
}

/// The fault of a word that is no unit, from `start`.
pub(super) fn unknown(units: &Units, text: &str, start: usize) -> UnitFault {
    let mut scan = Scan { text, at: start };
    let word = scan.run(is_unit_letter);
    let range = start..scan.at.max(start);
    if word.is_empty() {
        let message = "a unit is missing here".to_owned();
        return UnitFault { range, message, help: "Write one such as mm, in, kg or N.".to_owned() };
    }
    UnitFault { range, message: format!("`{word}` is not a unit"), help: help(units, word) }
}

fn help(units: &Units, word: &str) -> String {
    if Units::is_currency(word) {
        return format!(
            "The dossier's money is {}; turn other money into it first.",
            units.settings().currency
        );
    }
    if let Some(both) = two_of_a_name(word) {
        return both.to_owned();
    }
    let stem = word.trim_end_matches(|character: char| character.is_ascii_digit());
    if stem.len() < word.len() && units.named(stem).is_some() {
        return format!("For a power write `{stem}^{}`.", &word[stem.len()..]);
    }
    match units.suggestion(word) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => "The book lists the units; products are written with `·` and `/`, as in `kg/m^3`.".to_owned(),
    }
}

/// Names that mean two units, and none without a word before them.
fn two_of_a_name(word: &str) -> Option<&'static str> {
    Some(match word {
        "gal" | "gallon" | "gallons" => "There are two: write `US gal` or `imperial gal`.",
        "qt" | "quart" | "quarts" => "There are two: write `US qt` or `imperial qt`.",
        "pt" | "pint" | "pints" => "There are two: write `US pt` or `imperial pt`.",
        "floz" | "fl" => "There are two: write `US fl oz` or `imperial fl oz`.",
        "cwt" | "hundredweight" => "There are two: write `long cwt` or `short cwt`.",
        "psia" | "psig" => {
            "A unit does not say from where a pressure counts: write `psi`. The absolute pressure is that by the gauge and the air's, `+ 1 atm`."
        }
        "bara" | "barg" => {
            "A unit does not say from where a pressure counts: write `bar`. The absolute pressure is that by the gauge and the air's, `+ 1 atm`."
        }
        "C" | "Celsius" => "A temperature is written in `degC` or `°C`.",
        "F" | "Fahrenheit" => "A temperature is written in `degF` or `°F`.",
        _ => return None,
    })
}

/// A unit that begins here, and the scan moved past it; `None`, and the scan left alone, when no unit begins here.
///
/// Products glued by `/`, `*` or `·` or parted by blanks go on as long as units follow.
pub(super) fn unit(units: &Units, scan: &mut Scan) -> Result<Option<Unit>, UnitFault> {
    let mut product = match first(units, scan)? {
        Some(first) => first,
        None => return Ok(None),
    };
    loop {
        let before = scan.at;
        let Some((divides, next)) = another(units, scan)? else {
            scan.at = before;
            return Ok(Some(product));
        };
        let joined = if divides { product.per(next) } else { product.times(next) };
        product = joined.ok_or_else(|| too_large(before..scan.at))?;
    }
}

fn first(units: &Units, scan: &mut Scan) -> Result<Option<Unit>, UnitFault> {
    let start = scan.at;
    if scan.eat("1/") {
        if let Some(below) = below(units, scan)? {
            return below.to_the(Exponent::whole(-1)).map(Some).ok_or_else(|| too_large(start..scan.at));
        }
        scan.at = start;
        return Ok(None);
    }
    factor(units, scan)
}

/// A further factor, and whether it divides.
fn another(units: &Units, scan: &mut Scan) -> Result<Option<(bool, Unit)>, UnitFault> {
    if scan.eat("/") {
        return Ok(below(units, scan)?.map(|unit| (true, unit)));
    }
    let glued =
        scan.eat("·") || scan.eat("⋅") || scan.eat("*") || (scan.rest().starts_with("-lb") && scan.eat("-"));
    if glued || scan.blanks() {
        return Ok(factor(units, scan)?.map(|unit| (false, unit)));
    }
    Ok(None)
}

/// What stands under the stroke: one factor, or a product in brackets without brackets of its own.
fn below(units: &Units, scan: &mut Scan) -> Result<Option<Unit>, UnitFault> {
    let start = scan.at;
    if !scan.eat("(") {
        return factor(units, scan);
    }
    let mut product = Unit::NONE;
    let mut divides = false;
    scan.blanks();
    while let Some(next) = factor(units, scan)? {
        let joined = if divides { product.per(next) } else { product.times(next) };
        product = joined.ok_or_else(|| too_large(start..scan.at))?;
        scan.blanks();
        divides = scan.eat("/");
        let _ = divides || scan.eat("·") || scan.eat("⋅") || scan.eat("*");
        scan.blanks();
    }
    if product.is_none() || !scan.eat(")") {
        scan.at = start;
        return Ok(None);
    }
    Ok(Some(product))
}

/// One unit with its power.
fn factor(units: &Units, scan: &mut Scan) -> Result<Option<Unit>, UnitFault> {
    let start = scan.at;
    let Some(unit) = name(units, scan) else { return Ok(None) };
    let Some(power) = power(scan, start)? else { return Ok(Some(unit)) };
    unit.to_the(power).map(Some).ok_or_else(|| too_large(start..scan.at))
}

/// The longest name that begins here: `long ton`, `US fl oz`.
fn name(units: &Units, scan: &mut Scan) -> Option<Unit> {
    let start = scan.at;
    let word = scan.run(is_unit_letter);
    if QUALIFIERS.contains(&word)
        && let Some(unit) = phrase(units, scan, start)
    {
        return Some(unit);
    }
    let word = hyphenated(units, scan, word);
    let unit = match word {
        "" if scan.eat("%") => "%",
        "r" if scan.eat("/min") => "rpm",
        word => word,
    };
    let unit = units.named(unit);
    if unit.is_none() {
        scan.at = start;
    }
    unit
}

/// `kilogram-force`, `watt-hours`: a word that goes on after a hyphen, if that is a unit.
fn hyphenated<'a>(units: &Units, scan: &mut Scan<'a>, word: &'a str) -> &'a str {
    let (start, end) = (scan.at - word.len(), scan.at);
    if !word.is_empty() && scan.eat("-") && !scan.run(is_unit_letter).is_empty() {
        let whole = &scan.text[start..scan.at];
        if units.named(whole).is_some() {
            return whole;
        }
    }
    scan.at = end;
    word
}

/// A name of two or three words.
fn phrase(units: &Units, scan: &mut Scan, start: usize) -> Option<Unit> {
    let mut found = None;
    let mut ahead = scan.clone();
    for _ in 0..2 {
        if !ahead.eat(" ") {
            break;
        }
        if ahead.run(|character| is_unit_letter(character) || character == '-').is_empty() {
            break;
        }
        if let Some(unit) = units.named(&ahead.text[start..ahead.at]) {
            found = Some((unit, ahead.at));
        }
    }
    let (unit, end) = found?;
    scan.at = end;
    Some(unit)
}

/// What stands for inches behind a number.
pub(in crate::calc) const INCH_MARKS: [char; 3] = ['"', '″', '”'];
/// What stands for feet.
pub(in crate::calc) const FOOT_MARKS: [char; 3] = ['\'', '′', '’'];

/// The mark for inch or foot, if one stands here.
pub(super) fn mark(units: &Units, scan: &mut Scan) -> Option<Unit> {
    let next = scan.peek()?;
    let name = if INCH_MARKS.contains(&next) { "in" } else { "ft" };
    if name == "ft" && !FOOT_MARKS.contains(&next) {
        return None;
    }
    scan.at += next.len_utf8();
    units.named(name)
}

/// `^2`, `^-1`, `^(1/2)`, `²`; `None` when no power follows.
fn power(scan: &mut Scan, start: usize) -> Result<Option<Exponent>, UnitFault> {
    if let Some(raised) = raised(scan) {
        let whole = Some(raised).filter(|power| power.abs() <= LARGEST_POWER);
        return whole
            .and_then(|power| Exponent::ratio(power, 1))
            .map(Some)
            .ok_or_else(|| too_large(start..scan.at));
    }
    if !scan.eat("^") {
        return Ok(None);
    }
    let bracketed = scan.eat("(");
    let negative = scan.eat("-") || scan.eat("−");
    let numerator = small(scan.digits());
    let denominator = if bracketed && scan.eat("/") { small(scan.digits()) } else { Some(1) };
    let closed = !bracketed || scan.eat(")");
    let sign = if negative { -1 } else { 1 };
    match (numerator, denominator) {
        (Some(numerator), Some(denominator)) if closed => {
            Exponent::ratio(sign * numerator, denominator).map(Some).ok_or_else(|| too_large(start..scan.at))
        }
        _ => Err(UnitFault {
            range: start..scan.at,
            message: "the power of this unit is not understood".to_owned(),
            help: format!(
                "Write a whole number up to {LARGEST_POWER} or a fraction in brackets: `mm^2`, `s^-1`, `m^(1/2)`."
            ),
        }),
    }
}

fn small(digits: &str) -> Option<i32> {
    digits.parse().ok().filter(|number| *number <= LARGEST_POWER)
}

/// A power in raised digits, of either sign.
fn raised(scan: &mut Scan) -> Option<i32> {
    let start = scan.at;
    let sign = if scan.eat(superscript::MINUS) { -1 } else { 1 };
    let digits: Vec<i32> = std::iter::from_fn(|| raised_digit(scan)).collect();
    if digits.is_empty() {
        scan.at = start;
        return None;
    }
    Some(sign * digits.iter().fold(0, |number, digit| (number * 10 + digit).min(LARGEST_POWER + 1)))
}

fn raised_digit(scan: &mut Scan) -> Option<i32> {
    let raised = scan.peek()?;
    let digit = superscript::digit(raised)?;
    scan.at += raised.len_utf8();
    Some(digit)
}

fn too_large(range: Range<usize>) -> UnitFault {
    UnitFault {
        range,
        message: "this unit has too many parts or too large a power".to_owned(),
        help: "Write the value in fewer units.".to_owned(),
    }
}

fn is_unit_letter(character: char) -> bool {
    is_letter(character) || matches!(character, '°' | 'µ' | 'Ω') || character.is_ascii_digit()
}

/// A product as the table writes it, names with whole powers: `kg·m/s^2`.
pub(super) fn plain_product(text: &str) -> Option<Vec<(&str, i8)>> {
    let (above, below) = text.split_once('/').unwrap_or((text, ""));
    let mut product = Vec::new();
    for (names, sign) in [(above, 1), (below, -1)] {
        for factor in names.split('·').filter(|factor| !factor.is_empty()) {
            let (name, power) = factor.split_once('^').unwrap_or((factor, "1"));
            product.push((name, sign * power.parse::<i8>().ok()?));
        }
    }
    Some(product)
}

#[cfg(test)]
mod tests {
    use super::super::table;

    #[test]
    fn every_line_of_the_table_is_understood() {
        let (listed, read) = table::counts();
        assert_eq!(listed, read);
    }
}
