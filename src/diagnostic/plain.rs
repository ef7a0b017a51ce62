//! Text from notes and file names, made safe for a terminal.

/// The text with every character that a terminal would obey, or that turns the order of what follows round, written as
/// its code: `‹U+001B›`. Line ends and tabs stay.
pub fn without_commands(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\n' | '\t' => plain.push(letter),
            _ if is_command(letter) => plain.push_str(&format!("‹U+{:04X}›", u32::from(letter))),
            _ => plain.push(letter),
        }
    }
    plain
}

/// JSON with such characters escaped; those that JSON itself must escape are so already.
pub fn escaped_controls(json: &str) -> String {
    let mut escaped = String::with_capacity(json.len());
    for letter in json.chars() {
        match letter {
            '\n' => escaped.push(letter),
            _ if is_command(letter) => escaped.push_str(&format!("\\u{:04x}", u32::from(letter))),
            _ => escaped.push(letter),
        }
    }
    escaped
}

/// Controls (ISO/IEC 6429), and the marks that change the direction of writing (Unicode UAX #9, 2.1, 2.2 and 2.4).
fn is_command(letter: char) -> bool {
    letter.is_control() || matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::{escaped_controls, without_commands};

    #[test]
    fn nothing_is_left_that_a_terminal_obeys() {
        let hostile = "post\u{1b}]0;title\u{7} \u{9b}31m\r\u{8}\u{202e}gnirts\n\tnext";
        let plain = without_commands(hostile);
        assert!(plain.chars().all(|letter| matches!(letter, '\n' | '\t') || !super::is_command(letter)));
        assert_eq!(without_commands("\u{1b}[2Jü 5/16\n"), "‹U+001B›[2Jü 5/16\n");
        assert_eq!(escaped_controls("{\n \"a\": \"\u{9b}\"\n}"), "{\n \"a\": \"\\u009b\"\n}");
    }
}
