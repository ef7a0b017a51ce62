//! Rounding in decimal figures, halves away from zero, as a person rounds.

use std::fmt::Write;

/// `value` with so many decimals; with negative ones to tens, hundreds and so on.
pub fn rounded(value: f64, decimals: i32) -> String {
    if !value.is_finite() {
        return value.to_string();
    }
    let decimals = decimals.clamp(-300, 300);
    let digits = Digits::of(value.abs());
    let kept = digits.rounded(digits.point + decimals);
    kept.placed(value < 0.0, decimals)
}

/// The least figure with so many decimals that is not below `value`, but for a share of its last place that says nothing
/// (JCGM 100:2008, 7.2.6, takes 28.05 for 28).
pub(super) fn up(value: f64, decimals: i32) -> String {
    let places = ten(decimals.clamp(-300, 300));
    rounded((value * places - SAYS_NOTHING).ceil() / places, decimals)
}

/// Rounded down: what has to be reached is never printed wider than it is.
pub(super) fn down(value: f64, decimals: i32) -> String {
    let places = ten(decimals.clamp(-300, 300));
    rounded((value * places + SAYS_NOTHING).floor() / places, decimals)
}

/// Of the last place.
const SAYS_NOTHING: f64 = 0.05;

/// How many decimals a figure is written with.
pub fn places(figure: &str) -> i32 {
    figure.split_once('.').map_or(0, |(_, places)| i32::try_from(places.len()).unwrap_or(i32::MAX))
}

/// The decimal digits of a number of zero or more.
#[derive(Clone, Copy)]
struct Digits {
    /// The first `count` of these; what follows is zero.
    digits: [u8; MOST_DIGITS],
    count: usize,
    /// How many stand before the point.
    point: i32,
}

/// No shortest form of a number has more than 17 digits; rounding up can add one.
const MOST_DIGITS: usize = 20;

impl Digits {
    /// The shortest digits that give the number.
    fn of(value: f64) -> Self {
        let mut text = Text { bytes: [0; 40], length: 0 };
        // The text of a number in this form has at most 24 characters.
        let _ = write!(text, "{value:e}");
        let mut digits = Self { digits: [0; MOST_DIGITS], count: 0, point: 1 };
        let mut bytes = text.bytes[..text.length].iter().copied();
        for byte in bytes.by_ref().take_while(|byte| *byte != b'e') {
            if byte.is_ascii_digit() && digits.count < MOST_DIGITS {
                digits.digits[digits.count] = byte - b'0';
                digits.count += 1;
            }
        }
        let is_negative = bytes.clone().next() == Some(b'-');
        let power =
            bytes.filter(u8::is_ascii_digit).fold(0, |power, byte| power * 10 + i32::from(byte - b'0'));
        digits.point += if is_negative { -power } else { power };
        digits
    }

    /// The first `count` digits, rounded by the next.
    fn rounded(&self, count: i32) -> Self {
        let Ok(count) = usize::try_from(count) else { return Self { count: 0, ..*self } };
        if count >= self.count {
            return *self;
        }
        let mut kept = Self { count, ..*self };
        if self.digits[count] < 5 {
            return kept;
        }
        for digit in kept.digits[..count].iter_mut().rev() {
            *digit += 1;
            if *digit < 10 {
                return kept;
            }
            *digit = 0;
        }
        // All nines, or nothing: one more digit in front.
        kept.digits[0] = 1;
        Self { count: 1, point: self.point + 1, ..kept }
    }

    /// In figures with so many decimals, zeros filled in on both sides.
    fn placed(&self, is_negative: bool, decimals: i32) -> String {
        let digit = |place: i32| {
            let index = usize::try_from(place).ok().filter(|index| *index < self.count);
            char::from(b'0' + index.map_or(0, |index| self.digits[index]))
        };
        let mut number = String::with_capacity(24);
        if is_negative && self.digits[..self.count].iter().any(|digit| *digit != 0) {
            number.push('-');
        }
        number.extend((0..self.point.max(1)).map(|place| if self.point < 1 { '0' } else { digit(place) }));
        if decimals > 0 {
            number.push('.');
            number.extend((0..decimals).map(|place| digit(self.point + place)));
        }
        number
    }
}

/// A short text without a place of its own in memory.
struct Text {
    bytes: [u8; 40],
    length: usize,
}

impl Write for Text {
    fn write_str(&mut self, text: &str) -> std::fmt::Result {
        let place = self.bytes.get_mut(self.length..self.length + text.len()).ok_or(std::fmt::Error)?;
        place.copy_from_slice(text.as_bytes());
        self.length += text.len();
        Ok(())
    }
}

/// Ten to a power.
pub(super) fn ten(power: i32) -> f64 {
    if power == 0 {
        return 1.0;
    }
    libm::pow(10.0, f64::from(power))
}

/// The power of ten of the first significant digit when rounded to `figures`.
pub(super) fn first_digit(value: f64, figures: i32) -> i32 {
    if value == 0.0 || !value.is_finite() {
        return 0;
    }
    Digits::of(value.abs()).rounded(figures).point - 1
}

/// The decimals that show two figures of an uncertainty.
pub fn decimals_for(uncertainty: f64) -> i32 {
    1 - first_digit(uncertainty, 2)
}

/// The power of ten to split off: none for what reads well in plain figures.
pub(super) fn power_for(value: f64, uncertainty: f64) -> i32 {
    let (value, uncertainty) = (first_digit(value, 4), first_digit(uncertainty, 2));
    let leading = value.max(uncertainty);
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

/// `value` with `finest` decimals, but for zeros at its end beyond `least`.
pub(super) fn at_least(value: f64, least: i32, finest: i32) -> String {
    let mut number = rounded(value, finest);
    while places(&number) > least && number.ends_with('0') {
        number.pop();
    }
    number.trim_end_matches('.').to_owned()
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
    value.abs() < 1e9 && (value - value.round()).abs() <= 1e-12 * value.abs()
}

#[cfg(test)]
mod tests {
    use super::up;

    /// JCGM 100:2008, 7.2.6: 10.47 mΩ may be rounded up to 11 mΩ, but 28.05 kHz becomes 28 kHz.
    #[test]
    fn up_with_common_sense() {
        assert_eq!([up(10.47, 0), up(28.05, 0), up(28.06, 0)], ["11", "28", "29"]);
        assert_eq!(
            [up(0.012_5, 3), up(0.008, 4), up(112.5, -1), up(0.0, 2)],
            ["0.013", "0.0080", "120", "0.00"]
        );
    }
}
