//! What is wrong with a YAML text that its parser refuses: the slips that people make, found in the text itself.

/// A slip that makes YAML unreadable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slip {
    /// A tab in the indentation.
    Tab,
    /// A second colon in a line, in a text without quotes.
    SecondColon,
    /// A bracket or brace that is not closed.
    OpenBracket,
    /// A quote that is not closed.
    OpenQuote,
    /// Something behind the closing quote or bracket of a value.
    BehindValue,
    /// A sign that no value begins with.
    Sign,
    /// `&`, `*` or `!` at the beginning of a value.
    Alias,
}

/// The first slip of a text, and the byte at which it stands.
pub(super) fn find(text: &str) -> Option<(Slip, usize)> {
    Scan { text, at: 0, open: Vec::new(), is_value: false }.run()
}

struct Scan<'a> {
    text: &'a str,
    at: usize,
    /// Where the brackets stand that are open.
    open: Vec<usize>,
    /// A colon stands before, in this line or entry.
    is_value: bool,
}

type Found = Option<(Slip, usize)>;

impl Scan<'_> {
    fn rest(&self) -> &str {
        &self.text[self.at..]
    }

    fn run(mut self) -> Found {
        while self.at < self.text.len() {
            let found = self.token();
            if found.is_some() {
                return found;
            }
        }
        self.open.first().map(|open| (Slip::OpenBracket, *open))
    }

    fn token(&mut self) -> Found {
        let first = self.rest().chars().next()?;
        match first {
            '\n' => return self.line_end(),
            ' ' | '\t' | '\r' => self.at += 1,
            '#' => self.skip_line(),
            '[' | '{' => {
                self.open.push(self.at);
                self.next_entry();
            }
            ']' | '}' if self.open.pop().is_some() => {
                self.at += 1;
                return self.behind_value();
            }
            ',' if !self.open.is_empty() => self.next_entry(),
            '-' if self.is_lone_sign() => self.next_entry(),
            ':' if self.is_lone_sign() => {
                self.is_value = true;
                self.at += 1;
            }
            '"' | '\'' => return self.quoted(first),
            '|' | '>' if self.is_value && self.open.is_empty() => self.skip_block(),
            '&' | '*' | '!' => return Some((Slip::Alias, self.at)),
            '@' | '`' | '%' => return Some((Slip::Sign, self.at)),
            _ => return self.plain(),
        }
        None
    }

    fn next_entry(&mut self) {
        self.is_value = false;
        self.at += 1;
    }

    /// Whether a blank or the end of the line follows the sign.
    fn is_lone_sign(&self) -> bool {
        self.rest()[1..].chars().next().is_none_or(char::is_whitespace)
    }

    fn line_end(&mut self) -> Found {
        self.at += 1;
        if let Some(open) = self.open.first().filter(|_| begins_with_key(self.rest())) {
            return Some((Slip::OpenBracket, *open));
        }
        if self.open.is_empty() {
            self.is_value = false;
            let indent = self.rest().len() - self.rest().trim_start_matches([' ', '\t']).len();
            let tab = self.rest()[..indent].find('\t')?;
            let is_blank = self.rest()[indent..].trim_start().is_empty()
                || self.rest()[indent..].starts_with(['\n', '\r']);
            return (!is_blank).then_some((Slip::Tab, self.at + tab));
        }
        None
    }

    fn skip_line(&mut self) {
        self.at += self.rest().find('\n').unwrap_or(self.rest().len());
    }

    /// A text below `|` or `>`: all lines that are indented, or empty.
    fn skip_block(&mut self) {
        self.skip_line();
        while let Some(line) = self.rest().strip_prefix('\n').and_then(|rest| rest.lines().next()) {
            if !line.is_empty() && !line.starts_with([' ', '\t']) {
                return;
            }
            self.at += 1 + line.len();
        }
    }

    fn quoted(&mut self, quote: char) -> Found {
        let start = self.at;
        let Some(length) = closing(&self.rest()[1..], quote) else { return Some((Slip::OpenQuote, start)) };
        let inside = &self.rest()[1..=length];
        if inside.match_indices('\n').any(|(at, _)| begins_with_key(&inside[at + 1..])) {
            return Some((Slip::OpenQuote, start));
        }
        self.at += length + 2;
        self.behind_value()
    }

    /// Behind a value its line ends, or the next entry or a comment begins, or it was a key.
    fn behind_value(&mut self) -> Found {
        let rest = self.rest().trim_start_matches([' ', '\t', '\r']);
        let is_flow = !self.open.is_empty();
        let may_follow = rest.is_empty()
            || rest.starts_with(['\n', '#', ':'])
            || (is_flow && rest.starts_with([',', ']', '}']));
        (!may_follow).then(|| (Slip::BehindValue, self.text.len() - rest.len()))
    }

    /// A text without quotes: to the end of the line, or to the sign that ends it.
    fn plain(&mut self) -> Found {
        let is_flow = !self.open.is_empty();
        let text = self.rest().lines().next().unwrap_or_default();
        let ends = |(at, letter): (usize, char)| match letter {
            ':' => text[at + 1..].chars().next().is_none_or(char::is_whitespace),
            '#' => text[..at].ends_with([' ', '\t']),
            ',' | '[' | ']' | '{' | '}' => is_flow,
            _ => false,
        };
        let end = text.char_indices().find(|found| ends(*found)).map_or(text.len(), |(at, _)| at);
        if self.is_value && text[end..].starts_with(':') {
            return Some((Slip::SecondColon, self.at + end));
        }
        self.at += end.max(1);
        None
    }
}

/// How much stands before the closing quote.
fn closing(text: &str, quote: char) -> Option<usize> {
    let mut letters = text.char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        match letter {
            '\\' if quote == '"' => {
                letters.next();
            }
            '\'' if quote == '\'' && letters.peek().is_some_and(|(_, next)| *next == quote) => {
                letters.next();
            }
            letter if letter == quote => return Some(at),
            _ => {}
        }
    }
    None
}

/// Whether a line begins with a key: `takes: 2 h`.
fn begins_with_key(text: &str) -> bool {
    let word =
        text.trim_start_matches(|letter: char| letter.is_alphanumeric() || matches!(letter, '_' | '-'));
    word.len() < text.len()
        && word.strip_prefix(':').is_some_and(|rest| rest.is_empty() || rest.starts_with(char::is_whitespace))
}

#[cfg(test)]
mod tests {
    use super::{Slip, find};

    #[test]
    fn a_slip_is_found_where_it_stands() {
        let slips = [
            ("name: Sleeve: the pinned one\n", Slip::SecondColon, 12),
            ("at: {lift: 900 lb: net}\n", Slip::SecondColon, 17),
            ("needs: [a, b\ntakes: 2 h\ncost: 3 GBP\n", Slip::OpenBracket, 7),
            ("needs: [a, b", Slip::OpenBracket, 7),
            ("title: \"The crane\nton: long\nname: \"x\"\n", Slip::OpenQuote, 7),
            ("title: 'it''s\n", Slip::OpenQuote, 7),
            ("marks: \"TOP\" stamped\n", Slip::BehindValue, 13),
            ("needs: [a] b\n", Slip::BehindValue, 11),
            ("calls_for:\n\tlift: 900 lb\n", Slip::Tab, 11),
            ("name: @post\n", Slip::Sign, 6),
            ("name: *post\n", Slip::Alias, 6),
        ];
        for (text, slip, at) in slips {
            assert_eq!(find(text), Some((slip, at)), "{text}");
        }
    }

    #[test]
    fn what_is_right_is_no_slip() {
        let right = "a: 'it''s: so'\nb: \"x: \\\" y\"\nc: [one, {d: two}] # a: b: c\ne: |\n  x: y: z\n\n  \"\nf: 12:30\n\
            g:\n  - h: i\n  - \"j\": k\nl: {m: [n,\n  o]}\n";
        assert_eq!(find(right), None);
    }
}
