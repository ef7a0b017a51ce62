//! The number of a quantity: `12`, `0.0005`, `1.5e6`, `5/16`, `2 5/16`, `2½`.

use super::read::Place;
use super::{LONGEST_NUMBER, LiteralFault};
use crate::calc::scan::Scan;

/// A typed number: its exact fraction, its spelling, and the size of one in its last digit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Magnitude {
    pub numerator: f64,
    pub denominator: f64,
    pub text: String,
    pub step: f64,
    /// `3/4`: three, a stroke and four without a whole number before them.
    pub is_bare_fraction: bool,
}

impl Magnitude {
    pub(super) fn value(&self) -> f64 {
        self.numerator / self.denominator
    }
}

/// The number that begins here, sign included; `None`, and the scan left alone, if none does.
pub(super) fn magnitude(scan: &mut Scan, place: Place) -> Result<Option<Magnitude>, LiteralFault> {
    let start = scan.at;
    let sign = sign(scan);
    let Some(size) = size(scan, place)? else {
        scan.at = start;
        return Ok(None);
    };
    Ok(Some(match sign {
        '-' => Magnitude { numerator: -size.numerator, text: format!("-{}", size.text), ..size },
        _ => size,
    }))
}

pub(super) fn sign(scan: &mut Scan) -> char {
    if scan.eat("-") || scan.eat("−") {
        return '-';
    }
    if scan.eat("+") { '+' } else { ' ' }
}

fn size(scan: &mut Scan, place: Place) -> Result<Option<Magnitude>, LiteralFault> {
    let start = scan.at;
    let whole = scan.digits();
    let begins_decimal = scan.byte(0) == Some(b'.') && scan.byte(1).is_some_and(|byte| byte.is_ascii_digit());
    if begins_decimal || (scan.byte(0) == Some(b'.') && !whole.is_empty() && !is_dotted_on(scan)) {
        return decimal(scan, start).map(Some);
    }
    if let Some(fraction) = vulgar(scan, whole) {
        return Ok(Some(fraction));
    }
    if whole.is_empty() {
        return Ok(None);
    }
    if has_exponent(scan) {
        return decimal(scan, start).map(Some);
    }
    refuse_comma(scan, start, place)?;
    if let Some(fraction) = fraction(scan, whole, place) {
        return check_length(scan, start, fraction).map(Some);
    }
    let number = Magnitude {
        numerator: whole.parse().unwrap_or(f64::INFINITY),
        denominator: 1.0,
        text: whole.to_owned(),
        step: 1.0,
        is_bare_fraction: false,
    };
    check_length(scan, start, number).map(Some)
}

/// `3..6` is a range and `2.min` a field, not a decimal point.
fn is_dotted_on(scan: &Scan) -> bool {
    scan.byte(1).is_some_and(|byte| byte == b'.' || byte.is_ascii_alphabetic())
}

fn has_exponent(scan: &Scan) -> bool {
    let after_sign = if matches!(scan.byte(1), Some(b'+' | b'-')) { 2 } else { 1 };
    matches!(scan.byte(0), Some(b'e' | b'E'))
        && scan.byte(after_sign).is_some_and(|byte| byte.is_ascii_digit())
}

/// A number with a point or a power of ten, from `start`.
fn decimal(scan: &mut Scan, start: usize) -> Result<Magnitude, LiteralFault> {
    let places = if scan.eat(".") { scan.digits().len() } else { 0 };
    let figures = &scan.text[start..scan.at];
    let exponent_at = scan.at;
    let mut power = 0;
    if has_exponent(scan) {
        scan.at += 1;
        let negative = sign(scan) == '-';
        let size: i32 = scan.digits().parse().unwrap_or(i32::MAX / 2);
        power = if negative { -size } else { size };
    }
    let text = &scan.text[start..scan.at];
    let places = i32::try_from(places).unwrap_or(i32::MAX / 4);
    let plain = figures.replacen('.', "", 1);
    let exact_power = places - power;
    // A whole number over a power of ten is exact where both fit; else the nearest number to the whole text is taken.
    let (numerator, denominator) = match (plain.parse::<f64>(), ten(exact_power)) {
        (Ok(digits), Some(ten)) if digits < LARGEST_EXACT => (digits, ten),
        _ => (text.parse().unwrap_or(f64::NAN), 1.0),
    };
    let spelt = format!("{figures}{}", scan.text[exponent_at..scan.at].to_lowercase());
    let step = libm::pow(10.0, f64::from(power - places));
    let number = Magnitude { numerator, denominator, text: spelt, step, is_bare_fraction: false };
    check_length(scan, start, number)
}

/// 2^53: below it every whole number is exact.
const LARGEST_EXACT: f64 = 9_007_199_254_740_992.0;

/// A power of ten that is exact, of 0 to 22.
fn ten(power: i32) -> Option<f64> {
    (0..=22).contains(&power).then(|| (0..power).fold(1.0, |ten, _| ten * 10.0))
}

/// `½` and its like, alone or after a whole number.
fn vulgar(scan: &mut Scan, whole: &str) -> Option<Magnitude> {
    let signs = [
        ('½', 1, 2),
        ('¼', 1, 4),
        ('¾', 3, 4),
        ('⅛', 1, 8),
        ('⅜', 3, 8),
        ('⅝', 5, 8),
        ('⅞', 7, 8),
        ('⅓', 1, 3),
        ('⅔', 2, 3),
    ];
    let (sign, above, below) = *signs.iter().find(|(sign, ..)| scan.peek() == Some(*sign))?;
    scan.at += sign.len_utf8();
    Some(mixed(whole, &above.to_string(), &below.to_string()))
}

/// What follows a whole number: `/16`, or ` 5/16`, or `-5/16` where a dash joins.
fn fraction(scan: &mut Scan, whole: &str, place: Place) -> Option<Magnitude> {
    let before = scan.at;
    let (above, below) = if scan.eat("/") {
        (whole, scan.digits())
    } else {
        let parted = scan.blanks() || (place.dash_joins() && scan.eat("-"));
        let above = scan.digits();
        if !parted || above.is_empty() || !scan.eat("/") {
            scan.at = before;
            return None;
        }
        (above, scan.digits())
    };
    let goes_on = matches!(scan.peek(), Some('.' | '/')) && scan.byte(1) != Some(b'.');
    if below.is_empty() || below.bytes().all(|digit| digit == b'0') || goes_on {
        scan.at = before;
        return None;
    }
    let is_bare = scan.text[before..].starts_with('/');
    Some(if is_bare { mixed("", above, below) } else { mixed(whole, above, below) })
}

/// `1/64`, `2 5/16` or a number without a fraction, before the stroke that parts two limits.
pub(super) fn limit(scan: &mut Scan, place: Place) -> Result<Option<Magnitude>, LiteralFault> {
    let start = scan.at;
    let whole = scan.digits();
    let mut ahead = scan.clone();
    if ahead.eat("/") {
        let below = ahead.digits();
        let is_fraction = !below.is_empty() && below.bytes().any(|digit| digit != b'0');
        if is_fraction && !whole.is_empty() && !matches!(ahead.peek(), Some('.')) {
            scan.at = ahead.at;
            return check_length(scan, start, mixed("", whole, below)).map(Some);
        }
    }
    let mut ahead = scan.clone();
    let above = if ahead.eat(" ") { ahead.digits() } else { "" };
    if !whole.is_empty() && !above.is_empty() && ahead.eat("/") {
        let below = ahead.digits();
        // The stroke behind a mixed fraction is that between the limits.
        if below.bytes().any(|digit| digit != b'0') && ahead.peek() == Some('/') {
            scan.at = ahead.at;
            return check_length(scan, start, mixed(whole, above, below)).map(Some);
        }
    }
    scan.at = start;
    magnitude(scan, place)
}

fn mixed(whole: &str, above: &str, below: &str) -> Magnitude {
    let number = |digits: &str| digits.parse::<f64>().unwrap_or(f64::INFINITY);
    let denominator = number(below);
    let text = if whole.is_empty() { format!("{above}/{below}") } else { format!("{whole} {above}/{below}") };
    let wholes = if whole.is_empty() { 0.0 } else { number(whole) };
    Magnitude {
        numerator: wholes * denominator + number(above),
        denominator,
        text,
        step: 1.0 / denominator,
        is_bare_fraction: whole.is_empty(),
    }
}

fn refuse_comma(scan: &Scan, start: usize, place: Place) -> Result<(), LiteralFault> {
    let is_mark = scan.byte(0) == Some(b',') && scan.byte(1).is_some_and(|byte| byte.is_ascii_digit());
    if !is_mark || !place.comma_is_a_fault() {
        return Ok(());
    }
    let digits = Scan { text: scan.text, at: scan.at + 1 }.digits().len();
    let (whole, end) = (&scan.text[start..scan.at], scan.at + 1 + digits);
    let places = &scan.text[scan.at + 1..end];
    Err(LiteralFault {
        range: start..end,
        message: "a number is written without a comma".to_owned(),
        help: format!("Write {whole}{places} or {whole}.{places}, whichever is meant."),
    })
}

fn check_length(scan: &Scan, start: usize, number: Magnitude) -> Result<Magnitude, LiteralFault> {
    let range = start..scan.at;
    if scan.at - start > LONGEST_NUMBER {
        let message = format!("this number is longer than {LONGEST_NUMBER} characters");
        return Err(LiteralFault { range, message, help: "Write it with a power of ten: 1.5e6.".to_owned() });
    }
    if !number.value().is_finite() || !number.step.is_finite() {
        let message = "this number is too large to calculate with".to_owned();
        return Err(LiteralFault { range, message, help: "Numbers reach to about 1e308.".to_owned() });
    }
    Ok(number)
}
