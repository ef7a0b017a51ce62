//! Rounding in decimal figures, halves away from zero, as a person rounds.

/// `value` with so many decimals; with negative ones to tens, hundreds and so on.
pub fn rounded(value: f64, decimals: i32) -> String {
    if !value.is_finite() {
        return value.to_string();
    }
    let decimals = decimals.clamp(-300, 300);
    let (digits, point) = digits(value.abs());
    let kept = round_digits(&digits, point + decimals);
    let number = place_point(&kept.digits, point + kept.carried, decimals);
    let is_zero = number.bytes().all(|byte| matches!(byte, b'0' | b'.'));
    if value < 0.0 && !is_zero { format!("-{number}") } else { number }
}

/// The shortest decimal digits that give the number, and how many stand before the point.
fn digits(value: f64) -> (Vec<u8>, i32) {
    let text = format!("{value:e}");
    let (mantissa, exponent) = text.split_once('e').unwrap_or((&text, "0"));
    let digits = mantissa.bytes().filter(u8::is_ascii_digit).map(|byte| byte - b'0').collect();
    (digits, exponent.parse::<i32>().unwrap_or(0) + 1)
}

struct Kept {
    digits: Vec<u8>,
    /// 1 when rounding made a new leading digit.
    carried: i32,
}

/// The first `count` digits, rounded by the next.
fn round_digits(digits: &[u8], count: i32) -> Kept {
    let Ok(count) = usize::try_from(count) else { return Kept { digits: Vec::new(), carried: 0 } };
    let mut kept: Vec<u8> = digits.iter().copied().chain(std::iter::repeat(0)).take(count).collect();
    if digits.get(count).is_none_or(|next| *next < 5) {
        return Kept { digits: kept, carried: 0 };
    }
    for digit in kept.iter_mut().rev() {
        *digit += 1;
        if *digit < 10 {
            return Kept { digits: kept, carried: 0 };
        }
        *digit = 0;
    }
    kept.insert(0, 1);
    Kept { digits: kept, carried: 1 }
}

/// Digits with the point after the first `point`, zeros filled in on both sides.
fn place_point(digits: &[u8], point: i32, decimals: i32) -> String {
    let digit = |place: i32| {
        let index = usize::try_from(place).ok();
        let digit = index.and_then(|index| digits.get(index)).copied().unwrap_or(0);
        char::from(b'0' + digit)
    };
    let whole: String = (0..point.max(1)).map(|place| if point < 1 { '0' } else { digit(place) }).collect();
    if decimals <= 0 {
        return whole;
    }
    let places: String = (0..decimals).map(|place| digit(point + place)).collect();
    format!("{whole}.{places}")
}

/// Ten to a power.
pub(super) fn ten(power: i32) -> f64 {
    libm::pow(10.0, f64::from(power))
}

/// The power of ten of the first significant digit when rounded to `figures`.
fn first_digit(value: f64, figures: i32) -> i32 {
    if value == 0.0 || !value.is_finite() {
        return 0;
    }
    let (digits, point) = digits(value.abs());
    point - 1 + round_digits(&digits, figures).carried
}

/// The decimals that show two figures of an uncertainty.
pub fn decimals_for(uncertainty: f64) -> i32 {
    1 - first_digit(uncertainty, 2)
}

/// The power of ten to split off: none for what reads well in plain figures.
pub(super) fn power_for(value: f64, uncertainty: f64) -> i32 {
    let (value, doubt) = (first_digit(value, 4), first_digit(uncertainty, 2));
    let leading = value.max(doubt);
    if leading >= LARGEST_PLAIN || leading <= SMALLEST_PLAIN { leading } else { 0 }
}

/// From ten million up, and below a ten thousandth, a power of ten is split off.
const LARGEST_PLAIN: i32 = 7;
const SMALLEST_PLAIN: i32 = -5;

/// Four significant figures, and the power of ten; zeros at the end go when nothing was rounded off.
pub(super) fn four_figures(value: f64) -> (String, i32) {
    let leading = first_digit(value, 4);
    let power = if leading >= LARGEST_PLAIN || leading <= SMALLEST_PLAIN { leading } else { 0 };
    let mantissa = value * ten(-power);
    let number = rounded(mantissa, 3 - (leading - power));
    let read: f64 = number.parse().unwrap_or(f64::NAN);
    let is_exact = (read - mantissa).abs() <= 1e-12 * mantissa.abs();
    (if is_exact { without_end_zeros(&number) } else { number }, power)
}

fn without_end_zeros(number: &str) -> String {
    if number.contains('.') {
        number.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        number.to_owned()
    }
}

/// A whole number that is shown in all its figures.
pub(super) fn is_whole(value: f64) -> bool {
    value.abs() < 1e9 && (value - value.round()).abs() <= 1e-12 * value.abs().max(1.0)
}

/// A whole number in raised digits.
pub(super) fn raised(number: i32) -> String {
    const DIGITS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    let digit = |character: char| character.to_digit(10).map_or('⁻', |digit| DIGITS[digit as usize]);
    number.to_string().chars().map(digit).collect()
}
