//! Rounding in decimal figures, as a person rounds: what binary arithmetic leaves behind the last place counts for nothing.

use std::fmt::Write;

/// Which figure stands for a value that lies between two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// The nearer; half way the larger in size.
    Nearest,
    /// The larger in size: an uncertainty, what is past a limit, the upper end of a mass.
    Up,
    /// The smaller in size: what is left inside a limit, what an uncertainty has to come to, the lower end of a mass.
    Down,
}

impl Way {
    /// The least of what is cut off, in parts of [`PARTS`] of the last place, that makes it one more.
    const fn least(self) -> u32 {
        match self {
            Self::Nearest => PARTS / 2 - ROUNDING,
            Self::Up => ROUNDING + 1,
            Self::Down => PARTS - ROUNDING,
        }
    }
}

/// How finely what is cut off is looked at: so many figures of it.
const FIGURES: i32 = 7;
const PARTS: u32 = 10_u32.pow(FIGURES as u32);

/// A millionth of the last place: what the machine has rounded, and no figure of a value.
const ROUNDING: u32 = PARTS / 1_000_000;

/// `value` with so many decimals; with negative ones to tens, hundreds and so on.
pub fn rounded(value: f64, decimals: i32) -> String {
    to(value, decimals, Way::Nearest)
}

/// The least figure with so many decimals that is not smaller in size: an uncertainty alone.
pub fn rounded_up(value: f64, decimals: i32) -> String {
    to(value, decimals, Way::Up)
}

/// The same in one way or another.
pub(super) fn to(value: f64, decimals: i32, way: Way) -> String {
    if !value.is_finite() {
        return value.to_string();
    }
    let decimals = decimals.clamp(-300, 300);
    let digits = Digits::of(value.abs());
    let kept = digits.rounded(digits.point + decimals, way);
    kept.placed(value < 0.0, decimals)
}

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

    /// The digit at a place; zero in front of the first and behind the last.
    fn at(&self, place: i32) -> u8 {
        let index = usize::try_from(place).ok().filter(|index| *index < self.count);
        index.map_or(0, |index| self.digits[index])
    }

    /// The first `count` digits, rounded by those behind.
    fn rounded(&self, count: i32, way: Way) -> Self {
        let cut_off =
            (count..count.saturating_add(FIGURES)).fold(0, |all, place| 10 * all + u32::from(self.at(place)));
        let is_more = cut_off >= way.least();
        let front = usize::try_from(count).unwrap_or(0);
        if front >= self.count {
            return *self;
        }
        let mut kept = Self { count: front, ..*self };
        if !is_more {
            return kept;
        }
        for digit in kept.digits[..front].iter_mut().rev() {
            *digit += 1;
            if *digit < 10 {
                return kept;
            }
            *digit = 0;
        }
        // All nines, or nothing: one at the place in front, or at the last place itself.
        kept.digits[0] = 1;
        Self { count: 1, point: self.point + 1 - count.min(0), ..kept }
    }

    /// In figures with so many decimals, zeros filled in on both sides.
    fn placed(&self, is_negative: bool, decimals: i32) -> String {
        let digit = |place: i32| char::from(b'0' + self.at(place));
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
    Digits::of(value.abs()).rounded(figures, Way::Nearest).point - 1
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
pub(super) fn four_figures(value: f64, way: Way) -> (String, i32) {
    let leading = first_digit(value, 4);
    let power = if leading >= LARGEST_PLAIN || leading <= SMALLEST_PLAIN { leading } else { 0 };
    let mantissa = value * ten(-power);
    let number = to(mantissa, 3 - (leading - power), way);
    let read: f64 = number.parse().unwrap_or(f64::NAN);
    let is_exact = (read - mantissa).abs() <= 1e-12 * mantissa.abs();
    (if is_exact { without_end_zeros(&number) } else { number }, power)
}

/// `value` with `finest` decimals, but for zeros at its end beyond `least`.
pub(super) fn at_least(value: f64, least: i32, finest: i32, way: Way) -> String {
    let mut number = to(value, finest, way);
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
    use super::{Way, rounded, to};

    #[test]
    fn up_is_never_below_and_down_never_above() {
        let up = |value: f64, decimals: i32| to(value, decimals, Way::Up);
        let down = |value: f64, decimals: i32| to(value, decimals, Way::Down);
        assert_eq!([up(10.47, 0), up(28.05, 0), up(130.4, -1), up(0.000_3, 2)], ["11", "29", "140", "0.01"]);
        assert_eq!(
            [up(0.012_5, 3), up(0.008, 4), up(112.5, -1), up(0.0, 2)],
            ["0.013", "0.0080", "120", "0.00"]
        );
        assert_eq!(
            [down(674.6, -1), down(3.68, 1), down(0.9996, 3), down(9.6, 0)],
            ["670", "3.6", "0.999", "9"]
        );
        assert_eq!([up(-2.1, 0), down(-2.9, 0), up(9.99, 1)], ["-3", "-2", "10.0"]);
    }

    /// 2.25 less 2.2265 is 0.023 499 999 999 999 6 in binary; 0.1 three times is 0.300 000 000 000 000 04.
    #[test]
    fn what_binary_arithmetic_leaves_counts_for_nothing() {
        assert_eq!(rounded(2.25 - 2.2265, 3), "0.024");
        assert_eq!(rounded(0.010_75, 4), "0.0108");
        assert_eq!(to(0.1 + 0.1 + 0.1, 1, Way::Up), "0.3");
        assert_eq!(to(2.25 - 2.2265, 4, Way::Down), "0.0235");
        assert_eq!(
            [rounded(0.023_499, 3), rounded(0.023_5, 3), rounded(-0.023_5, 3)],
            ["0.023", "0.024", "-0.024"]
        );
    }
}
