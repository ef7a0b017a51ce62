//! A text brought to one form before it is looked at: whatever stands for a letter, a digit or a blank is one.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Small letters without accents, ASCII digits, single blanks, nothing that is not seen. Between the words that a tag
/// parts stands `between_tags`.
pub(super) fn one_form(text: &str, between_tags: &str) -> String {
    let plain = without_entities(&without_tags(text, between_tags));
    let letters = plain.nfkd().filter(|letter| !is_combining_mark(*letter) && !is_unseen(*letter));
    let form: String = letters.map(usual).flat_map(char::to_lowercase).collect();
    form.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The runs of letters and the runs of digits, in order.
pub(super) fn tokens(form: &str) -> Vec<&str> {
    let kind = |letter: char| (letter.is_alphanumeric(), letter.is_ascii_digit());
    let (mut tokens, mut start) = (Vec::new(), 0);
    let mut letters = form.char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        let end = at + letter.len_utf8();
        if letters.peek().is_none_or(|(_, next)| kind(*next) != kind(letter)) {
            if letter.is_alphanumeric() {
                tokens.push(&form[start..end]);
            }
            start = end;
        }
    }
    tokens
}

fn without_tags(text: &str, between: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('<') {
        let (before, tag) = rest.split_at(at);
        plain.push_str(before);
        let opens =
            tag[1..].starts_with(|letter: char| letter.is_ascii_alphabetic() || "/!".contains(letter));
        match tag.find('>').filter(|_| opens) {
            Some(end) => {
                plain.push_str(between);
                rest = &tag[end + 1..];
            }
            None => {
                plain.push('<');
                rest = &tag[1..];
            }
        }
    }
    plain + rest
}

/// `G&#117;ll` is `Gull`; an entity that is not known stays.
fn without_entities(text: &str) -> String {
    const LONGEST: usize = 12;
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('&') {
        let (before, entity) = rest.split_at(at);
        plain.push_str(before);
        let end = entity.bytes().take(LONGEST).position(|byte| byte == b';');
        match end.and_then(|end| Some((character(&entity[1..end])?, end))) {
            Some((character, end)) => {
                plain.push(character);
                rest = &entity[end + 1..];
            }
            None => {
                plain.push('&');
                rest = &entity[1..];
            }
        }
    }
    plain + rest
}

fn character(name: &str) -> Option<char> {
    let code = |digits: &str, radix| u32::from_str_radix(digits, radix).ok().and_then(char::from_u32);
    match name.strip_prefix('#') {
        Some(digits) => match digits.strip_prefix(['x', 'X']) {
            Some(hexadecimal) => code(hexadecimal, 16),
            None => code(digits, 10),
        },
        None => NAMED.iter().find(|(known, _)| *known == name).map(|(_, character)| *character),
    }
}

const NAMED: &[(&str, char)] = &[
    ("amp", '&'),
    ("lt", '<'),
    ("gt", '>'),
    ("quot", '"'),
    ("apos", '\''),
    ("nbsp", ' '),
    ("shy", '\u{ad}'),
    ("zwnj", '\u{200c}'),
    ("zwj", '\u{200d}'),
    ("pound", '£'),
    ("euro", '€'),
    ("yen", '¥'),
    ("cent", '¢'),
    ("commat", '@'),
    ("period", '.'),
];

/// Format characters and other letters without a mark on the page.
fn is_unseen(letter: char) -> bool {
    letter.is_control() && !letter.is_whitespace()
        || matches!(
            letter,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}'
        )
        || matches!(letter, '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}')
        || matches!(letter, '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}')
        || matches!(letter, '\u{e0000}'..='\u{e0fff}')
}

/// The usual sign for a digit of another script, a letter that looks like another, a dash.
fn usual(letter: char) -> char {
    if letter.is_ascii() {
        return letter;
    }
    if let Some(digit) = digit(letter) {
        return digit;
    }
    match letter {
        '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{ad}' => '-',
        '\u{2018}' | '\u{2019}' | '\u{2bc}' => '\'',
        other => LOOKALIKES.iter().find(|(odd, _)| *odd == other).map_or(other, |(_, letter)| *letter),
    }
}

/// The zeros of the scripts whose decimal digits follow each other (Unicode 16, general category Nd).
const ZEROS: &[u32] = &[
    0x660, 0x6f0, 0x7c0, 0x966, 0x9e6, 0xa66, 0xae6, 0xb66, 0xbe6, 0xc66, 0xce6, 0xd66, 0xde6, 0xe50, 0xed0,
    0xf20, 0x1040, 0x1090, 0x17e0, 0x1810, 0x1946, 0x19d0, 0x1a80, 0x1a90, 0x1b50, 0x1bb0, 0x1c40, 0x1c50,
    0xa620, 0xa8d0, 0xa900, 0xa9d0, 0xa9f0, 0xaa50, 0xabf0,
];

fn digit(letter: char) -> Option<char> {
    let code = u32::from(letter);
    let zero = ZEROS.iter().find(|zero| (**zero..**zero + 10).contains(&code))?;
    char::from_digit(code - zero, 10)
}

/// Cyrillic and Greek letters with the shape of a Latin one. Common practice, no source.
const LOOKALIKES: &[(char, char)] = &[
    ('а', 'a'),
    ('А', 'a'),
    ('α', 'a'),
    ('Α', 'a'),
    ('В', 'b'),
    ('Β', 'b'),
    ('с', 'c'),
    ('С', 'c'),
    ('ԁ', 'd'),
    ('е', 'e'),
    ('Е', 'e'),
    ('Ε', 'e'),
    ('ɡ', 'g'),
    ('һ', 'h'),
    ('Н', 'h'),
    ('Η', 'h'),
    ('і', 'i'),
    ('І', 'i'),
    ('ι', 'i'),
    ('Ι', 'i'),
    ('ı', 'i'),
    ('ј', 'j'),
    ('К', 'k'),
    ('Κ', 'k'),
    ('κ', 'k'),
    ('ӏ', 'l'),
    ('М', 'm'),
    ('Μ', 'm'),
    ('п', 'n'),
    ('Ν', 'n'),
    ('о', 'o'),
    ('О', 'o'),
    ('ο', 'o'),
    ('Ο', 'o'),
    ('р', 'p'),
    ('Р', 'p'),
    ('ρ', 'p'),
    ('Ρ', 'p'),
    ('ԛ', 'q'),
    ('ѕ', 's'),
    ('Ѕ', 's'),
    ('Т', 't'),
    ('Τ', 't'),
    ('τ', 't'),
    ('υ', 'u'),
    ('ν', 'v'),
    ('ѵ', 'v'),
    ('ԝ', 'w'),
    ('х', 'x'),
    ('Х', 'x'),
    ('Χ', 'x'),
    ('у', 'y'),
    ('У', 'y'),
    ('Υ', 'y'),
    ('γ', 'y'),
    ('Ζ', 'z'),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_for_a_letter_is_the_letter() {
        for text in [
            "The Gull Yard",
            "the  gull\u{a0}yard",
            "The G&#117;ll Y&#x61;rd",
            "Ｔｈｅ Ｇｕｌｌ Ｙａｒｄ",
            "Th\u{200b}e Gu\u{ad}ll Yárd",
            "The Gull<br>Yard",
            "𝐓𝐡𝐞 𝐆𝐮𝐥𝐥 𝐘𝐚𝐫𝐝",
            "Thе Gull Yаrd",
        ] {
            assert_eq!(one_form(text, " "), "the gull yard", "{text}");
        }
        assert_eq!(one_form("٤٢ GBP, ４２", " "), "42 gbp, 42");
        assert_eq!(one_form("a < b & c", " "), "a < b & c");
    }

    #[test]
    fn letters_and_digits_are_parted() {
        assert_eq!(tokens("42gbp, o'clock"), ["42", "gbp", "o", "clock"]);
    }
}
