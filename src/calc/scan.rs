//! A place in a text, and the small steps forward that literals, units and expressions are read by.

#[derive(Clone)]
pub(super) struct Scan<'a> {
    pub text: &'a str,
    pub at: usize,
}

impl<'a> Scan<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self { text, at: 0 }
    }

    pub(super) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }

    pub(super) fn peek(&self) -> Option<char> {
        let byte = *self.text.as_bytes().get(self.at)?;
        if byte.is_ascii() { Some(byte as char) } else { self.rest().chars().next() }
    }

    pub(super) fn byte(&self, ahead: usize) -> Option<u8> {
        self.text.as_bytes().get(self.at + ahead).copied()
    }

    pub(super) fn at_end(&self) -> bool {
        self.at >= self.text.len()
    }

    /// Over blanks; `true` if there were any.
    pub(super) fn blanks(&mut self) -> bool {
        let start = self.at;
        while let Some(character) = self.peek() {
            if !is_blank(character) {
                break;
            }
            self.at += character.len_utf8();
        }
        self.at > start
    }

    /// Over `token` if it stands here.
    pub(super) fn eat(&mut self, token: &str) -> bool {
        let here = self.text.as_bytes().get(self.at..).is_some_and(|rest| rest.starts_with(token.as_bytes()));
        if here {
            self.at += token.len();
        }
        here
    }

    /// Over the characters that satisfy `keep`.
    pub(super) fn run(&mut self, keep: impl Fn(char) -> bool) -> &'a str {
        let start = self.at;
        while let Some(character) = self.peek() {
            if !keep(character) {
                break;
            }
            self.at += character.len_utf8();
        }
        &self.text[start..self.at]
    }

    pub(super) fn digits(&mut self) -> &'a str {
        self.run(|character| character.is_ascii_digit())
    }

    /// A name: letters, digits and `_`, not beginning with a digit.
    pub(super) fn word(&mut self) -> &'a str {
        match self.peek() {
            Some(first) if is_letter(first) => {
                self.run(|character| is_letter(character) || character.is_ascii_digit())
            }
            _ => "",
        }
    }
}

/// White space, the end of a line inside brackets included.
pub(super) fn is_blank(character: char) -> bool {
    matches!(character, ' ' | '\t' | '\n' | '\r' | '\u{a0}' | '\u{202f}' | '\u{2009}')
}

/// A letter of a name. The signs for degree, micro and ohm are letters only in units.
pub(super) fn is_letter(character: char) -> bool {
    character == '_' || (character.is_alphabetic() && !matches!(character, '²' | '³' | 'ª' | 'º'))
}
