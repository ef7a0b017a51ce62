//! Raised digits, as powers are printed and may be typed.

const DIGITS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];

/// The raised minus sign.
pub(super) const MINUS: &str = "⁻";

/// A whole number in raised digits.
pub(super) fn print(number: i32) -> String {
    let digit = |digit: u32| DIGITS[digit as usize].to_string();
    let raised = |character: char| character.to_digit(10).map_or_else(|| MINUS.to_owned(), digit);
    number.to_string().chars().map(raised).collect()
}

/// The digit that a raised one stands for.
pub(super) fn digit(raised: char) -> Option<i32> {
    (0..).zip(DIGITS).find(|(_, each)| *each == raised).map(|(digit, _)| digit)
}

#[cfg(test)]
mod tests {
    use super::{digit, print};

    #[test]
    fn what_is_printed_is_read_back() {
        assert_eq!(print(-12), "⁻¹²");
        let read: Vec<_> = print(1_023_456_789).chars().filter_map(digit).collect();
        assert_eq!(read, [1, 0, 2, 3, 4, 5, 6, 7, 8, 9]);
        assert_eq!([digit('⁻'), digit('2')], [None, None]);
    }
}
