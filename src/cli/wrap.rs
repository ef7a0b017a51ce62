//! Text for the terminal, in lines no wider than it.

use comfy_table::Table as Terminal;

/// Where there is no terminal.
const USUAL: usize = 100;
/// A column narrower than this is no column.
const NARROWEST: usize = 30;

/// The columns of the terminal.
pub(super) fn width() -> usize {
    Terminal::new().width().map_or(USUAL, usize::from)
}

/// The words of `text` in lines of at most `width` letters: the first behind `lead`, the others as far in as it is long.
pub(super) fn hung(lead: &str, text: &str, width: usize) -> String {
    let indent = lead.chars().count();
    let room = width.saturating_sub(indent).max(NARROWEST);
    let mut wrapped = lead.to_owned();
    let mut used = 0;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if used > 0 && used + 1 + length > room {
            wrapped.push('\n');
            wrapped.extend(std::iter::repeat_n(' ', indent));
            used = 0;
        } else if used > 0 {
            wrapped.push(' ');
            used += 1;
        }
        wrapped.push_str(word);
        used += length;
    }
    wrapped.push('\n');
    wrapped
}

#[cfg(test)]
mod tests {
    use super::hung;

    #[test]
    fn lines_hang_behind_their_lead_and_no_word_is_broken() {
        let said = hung("- ", "one two three four five six seven", 32);
        assert_eq!(said, "- one two three four five six\n  seven\n");
        assert_eq!(hung("", &"x".repeat(40), 10), format!("{}\n", "x".repeat(40)));
        assert_eq!(hung("- ", "", 10), "- \n");
    }
}
