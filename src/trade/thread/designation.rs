//! Reading a thread as people write it: `M12 x 1.75`, `1/2-13 UNC`, `1/2" Whitworth`, `#10-24`, `2BA`, `G 1
//! 1/4`.

use super::table::{System, Thread, threads};
use crate::calc::function::Refusal;
use crate::trade::declare::joined;

/// What a thread is called by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Size {
    Mm(f64),
    Inches(f64),
    /// Numbered sizes: `#10`, `2 BA`.
    Number(u32),
}

/// Designations are shorter than this.
const LONGEST: usize = 60;
const SAME_INCHES: f64 = 0.0006;
const SAME_MM: f64 = 0.005;
/// Pitches agree within this share of themselves.
const SAME_PITCH: f64 = 0.004;

/// Words that name a system, and what they leave to choose from.
const SYSTEMS: &[(&str, &[System])] = &[
    ("m", METRIC),
    ("mf", &[System::MetricFine]),
    ("unc", &[System::Unc]),
    ("nc", &[System::Unc]),
    ("unf", &[System::Unf]),
    ("nf", &[System::Unf]),
    ("bsw", &[System::Bsw]),
    ("whitworth", &[System::Bsw]),
    ("whit", &[System::Bsw]),
    ("w", &[System::Bsw]),
    ("bsf", &[System::Bsf]),
    ("ba", &[System::Ba]),
    ("g", &[System::Pipe]),
    ("bsp", &[System::Pipe]),
    ("bspp", &[System::Pipe]),
];
const METRIC: &[System] = &[System::MetricCoarse, System::MetricFine];
const INCH: &[System] = &[System::Unc, System::Unf, System::Bsw, System::Bsf];
/// Systems that people ask for and the table does not hold.
const NOT_HELD: &[(&str, &str)] = &[
    ("npt", "American taper pipe threads"),
    ("nptf", "American taper pipe threads"),
    ("bspt", "taper pipe threads"),
    ("r", "taper pipe threads"),
    ("rc", "taper pipe threads"),
    ("rp", "taper pipe threads"),
    ("tr", "trapezoidal threads"),
    ("acme", "trapezoidal threads"),
    ("square", "square threads"),
    ("sq", "square threads"),
    ("trapezoidal", "trapezoidal threads"),
    ("buttress", "buttress threads"),
    ("knuckle", "round threads"),
    ("taper", "taper pipe threads"),
    ("unef", "extra-fine threads"),
    ("un", "constant-pitch threads"),
    ("uns", "special threads"),
    ("cei", "cycle threads"),
    ("bsc", "cycle threads"),
];

/// Words that may stand in a designation and choose nothing. Shorter ones are tolerance classes and hands: 6g, 2A, LH.
const SAID_BESIDES: &[&str] = &[
    "inch", "inches", "tpi", "thread", "threads", "threaded", "tap", "die", "bolt", "nut", "screw", "stud",
    "fine", "coarse", "metric", "iso", "pipe", "parallel", "left", "right", "hand", "handed", "class",
    "standard", "british", "american", "unified", "national", "sae", "per", "size",
];

/// The threads that a designation names: one, or several where it leaves the choice (`1/2`, `1/4-20`).
///
/// # Errors
/// A designation that cannot be read, or that the table does not hold; the nearest are named.
pub fn lookup(designation: &str) -> Result<Vec<&'static Thread>, Refusal> {
    let tokens = tokens(designation);
    let wanted = Wanted::read(&tokens).map_err(|help| unreadable(designation, help))?.or_numbered();
    let found = wanted.matching();
    if found.is_empty() { Err(wanted.missing(designation)) } else { Ok(found) }
}

/// The size at the head of a designation of the table; it does not look into the table, which is still being
/// read.
pub(super) fn size_of(designation: &str) -> Option<Size> {
    Wanted::read(&tokens(designation)).ok().map(|wanted| wanted.size)
}

#[derive(Clone, Debug, PartialEq)]
enum Token {
    Word(String),
    Number(f64),
    Fraction(f64),
    Cross,
    Dash,
}

#[derive(Clone, Copy)]
struct Wanted {
    systems: &'static [System],
    size: Size,
    /// Pitch in mm if the size is metric, else threads per inch.
    pitch: Option<f64>,
}

fn tokens(designation: &str) -> Vec<Token> {
    let text = plain(designation);
    let mut rest = text.as_str();
    let mut tokens = Vec::new();
    while let Some(first) = rest.chars().next() {
        let taken = if first.is_ascii_digit() || (first == '.' && starts_with_figure(&rest[1..])) {
            number(rest, &mut tokens)
        } else if first.is_alphabetic() {
            word(rest, &mut tokens)
        } else {
            match first {
                '#' => tokens.push(Token::Word("#".to_owned())),
                '-' => tokens.push(Token::Dash),
                _ => {}
            }
            first.len_utf8()
        };
        rest = &rest[taken..];
    }
    tokens
}

/// In small letters, with the marks that mean the same made one.
fn plain(designation: &str) -> String {
    let mut text = String::new();
    for each in designation.trim().chars().take(LONGEST) {
        match each {
            '×' | '*' => text.push('x'),
            ',' => text.push('.'),
            '–' | '—' | '−' => text.push('-'),
            '¼' => text.push_str(" 1/4"),
            '½' => text.push_str(" 1/2"),
            '¾' => text.push_str(" 3/4"),
            '⅛' => text.push_str(" 1/8"),
            '⅜' => text.push_str(" 3/8"),
            '⅝' => text.push_str(" 5/8"),
            '⅞' => text.push_str(" 7/8"),
            _ => text.extend(each.to_lowercase()),
        }
    }
    text
}

fn starts_with_figure(text: &str) -> bool {
    text.starts_with(|first: char| first.is_ascii_digit())
}

/// Reads a number or a fraction at the head of `text`; gives the bytes taken.
fn number(text: &str, tokens: &mut Vec<Token>) -> usize {
    let run =
        |text: &str| text.find(|each: char| !each.is_ascii_digit() && each != '.').unwrap_or(text.len());
    let end = run(text);
    let top: f64 = text[..end].trim_end_matches('.').parse().unwrap_or(f64::NAN);
    if let Some(rest) = text[end..].strip_prefix('/')
        && starts_with_figure(rest)
    {
        let length = run(rest);
        let bottom: f64 = rest[..length].trim_end_matches('.').parse().unwrap_or(f64::NAN);
        tokens.push(Token::Fraction(top / bottom));
        return end + 1 + length;
    }
    tokens.push(Token::Number(top));
    end
}

/// Reads a word at the head of `text`; an `x` between figures is a cross.
fn word(text: &str, tokens: &mut Vec<Token>) -> usize {
    let end = text.find(|each: char| !each.is_alphabetic()).unwrap_or(text.len());
    let word = &text[..end];
    tokens.push(if word == "x" { Token::Cross } else { Token::Word(word.to_owned()) });
    end
}

impl Wanted {
    /// Reads the tokens; if it cannot, says how to write it.
    fn read(tokens: &[Token]) -> Result<Self, String> {
        let words: Vec<&str> = tokens.iter().filter_map(Token::word).collect();
        let figures: Vec<&Token> = tokens.iter().filter(|token| token.word().is_none()).collect();
        let named = words.iter().find_map(|word| SYSTEMS.iter().find(|(name, _)| name == word));
        let not_held = words.iter().find_map(|word| NOT_HELD.iter().find(|(name, _)| name == word));
        if let Some((_, what)) = not_held.filter(|(name, _)| named.is_none() || name.len() >= WHOLE_WORD) {
            return Err(format!("The table does not hold {what}."));
        }
        if let Some(word) = words.iter().find(|word| is_unknown(word)) {
            return Err(format!("`{word}` is no thread that it knows. {}", how()));
        }
        let crossed = figures.contains(&&Token::Cross)
            && !words.iter().any(|word| ["in", "inch", "tpi"].contains(word));
        match named.map(|(_, systems)| *systems) {
            Some(systems) if METRIC.contains(&systems[0]) => Self::metric(tokens, systems, &words),
            None if crossed && words.is_empty() && !matches!(figures[0], Token::Fraction(_)) => {
                Self::metric(tokens, METRIC, &words)
            }
            Some([System::Ba]) => Self::numbered(&figures, &[System::Ba]),
            None if words.contains(&"#") || words.contains(&"no") => Self::numbered(&figures, &INCH[..2]),
            Some(systems) if words.contains(&"#") || words.contains(&"no") => {
                Self::numbered(&figures, systems)
            }
            systems => Self::inch(&figures, systems.unwrap_or(INCH)),
        }
    }

    /// `M12`, `M12 x 1.75`, `M12x1.75-6g`, `M12-6H`, `M12 fine`.
    fn metric(tokens: &[Token], systems: &'static [System], words: &[&str]) -> Result<Self, String> {
        let start = tokens.iter().position(|token| matches!(token, Token::Number(_)));
        let start = start.ok_or("Write the diameter after the M, as in M12 x 1.75.")?;
        let Token::Number(diameter) = tokens[start] else { return Err(how()) };
        let pitch = match &tokens[start + 1..] {
            // A figure and a letter are a tolerance class: 6g, 6H.
            [Token::Dash, Token::Number(_), Token::Word(_), ..] => None,
            [Token::Cross | Token::Dash, Token::Number(pitch), ..] => Some(*pitch),
            [Token::Cross, ..] => return Err("Write the pitch after the x, as in M12 x 1.75.".to_owned()),
            _ => None,
        };
        let systems = match (words.contains(&"fine"), words.contains(&"coarse")) {
            (true, false) => &METRIC[1..],
            (false, true) => &METRIC[..1],
            _ => systems,
        };
        Ok(Self { systems, size: Size::Mm(diameter), pitch })
    }

    /// `#10-24`, `No 4-40`, `2 BA`.
    fn numbered(figures: &[&Token], systems: &'static [System]) -> Result<Self, String> {
        let mut figures = figures.iter().filter_map(|token| match token {
            Token::Number(number) => Some(*number),
            _ => None,
        });
        let number = figures.next().and_then(whole).ok_or_else(how)?;
        Ok(Self { systems, size: Size::Number(number), pitch: figures.next() })
    }

    /// `1/2-13`, `1 1/8-7`, `1-1/8`, `0.25-20`, `1/2 x 12`, `4-40`.
    fn inch(figures: &[&Token], systems: &'static [System]) -> Result<Self, String> {
        let (inches, rest) = mixed(figures).ok_or_else(how)?;
        let parted = matches!(rest, [Token::Dash | Token::Cross, ..]);
        let rest = &rest[usize::from(parted)..];
        let pitch = mixed(rest).map(|(pitch, _)| pitch);
        Ok(Self { systems, size: Size::Inches(inches), pitch })
    }

    /// `10-24 UNC` is the numbered size, there being no thread of ten inches.
    fn or_numbered(self) -> Self {
        let Size::Inches(inches) = self.size else { return self };
        let Some(number) = whole(inches).filter(|_| self.matching().is_empty()) else { return self };
        let numbered = Self { size: Size::Number(number), ..self };
        if numbered.matching().is_empty() { self } else { numbered }
    }

    fn matching(&self) -> Vec<&'static Thread> {
        let of_size = self.of_size();
        if let Some(pitch) = self.pitch {
            return of_size.into_iter().filter(|thread| thread.has_pitch(self.size, pitch)).collect();
        }
        // A metric diameter alone is the coarse thread (ISO 965-1), if there is one.
        let coarse = |thread: &&Thread| thread.system == System::MetricCoarse;
        let coarse: Vec<_> = of_size.iter().copied().filter(coarse).collect();
        if coarse.is_empty() { of_size } else { coarse }
    }

    fn of_size(&self) -> Vec<&'static Thread> {
        let wanted = |thread: &&Thread| self.systems.contains(&thread.system) && thread.size.is(self.size);
        threads().iter().filter(wanted).collect()
    }

    fn missing(&self, designation: &str) -> Refusal {
        let of_size = self.of_size();
        let message = format!("no thread `{}` is in the table", designation.trim());
        let help = if of_size.is_empty() {
            format!("The nearest sizes are {}.", names(&self.nearest()))
        } else {
            format!("Of this size it holds {}. For another pitch use `thread_sizes`.", names(&of_size))
        };
        Refusal::of("designation", message, help)
    }

    /// The threads next in size.
    fn nearest(&self) -> Vec<&'static Thread> {
        let size = self.size.sorting();
        let mut near: Vec<&Thread> =
            threads().iter().filter(|thread| self.systems.contains(&thread.system)).collect();
        near.sort_by(|a, b| (a.size.sorting() - size).abs().total_cmp(&(b.size.sorting() - size).abs()));
        near.truncate(4);
        near
    }
}

impl Token {
    fn word(&self) -> Option<&str> {
        match self {
            Self::Word(word) => Some(word),
            _ => None,
        }
    }
}

impl Size {
    fn is(self, other: Self) -> bool {
        match (self, other) {
            (Self::Mm(a), Self::Mm(b)) => (a - b).abs() < SAME_MM,
            (Self::Inches(a), Self::Inches(b)) => (a - b).abs() < SAME_INCHES,
            (Self::Number(a), Self::Number(b)) => a == b,
            _ => false,
        }
    }

    /// Puts sizes of one system in order.
    fn sorting(self) -> f64 {
        match self {
            Self::Mm(size) | Self::Inches(size) => size,
            Self::Number(number) => f64::from(number) * 0.013,
        }
    }
}

impl Thread {
    fn has_pitch(&self, size: Size, pitch: f64) -> bool {
        let own = if matches!(size, Size::Mm(_)) { self.pitch_mm } else { self.per_inch };
        (own - pitch).abs() <= SAME_PITCH * own
    }
}

/// `1 1/8`, `1-1/8`, `1/2`, `0.25`, `2` at the head; and what follows.
fn mixed<'a>(figures: &'a [&'a Token]) -> Option<(f64, &'a [&'a Token])> {
    match figures {
        [Token::Number(whole), Token::Dash, Token::Fraction(part), rest @ ..]
        | [Token::Number(whole), Token::Fraction(part), rest @ ..]
            if whole.fract() == 0.0 =>
        {
            Some((whole + part, rest))
        }
        [Token::Number(size) | Token::Fraction(size), rest @ ..] => Some((*size, rest)),
        _ => None,
    }
}

/// The number as the count it is, up to 99.
fn whole(number: f64) -> Option<u32> {
    (0..=99).find(|count| f64::from(*count).to_bits() == number.to_bits())
}

/// Shorter ones are letters of a designation.
const WHOLE_WORD: usize = 3;

fn is_unknown(word: &str) -> bool {
    word.len() >= WHOLE_WORD
        && !SAID_BESIDES.contains(&word)
        && !SYSTEMS.iter().any(|(name, _)| *name == word)
}

fn names(threads: &[&Thread]) -> String {
    joined(&threads.iter().map(|thread| thread.full_name()).collect::<Vec<_>>())
}

fn how() -> String {
    "Write it like M12 x 1.75, 1/2-13 UNC, 1/2 BSW, 2 BA or G 1/2.".to_owned()
}

fn unreadable(designation: &str, help: String) -> Refusal {
    Refusal::of("designation", format!("`{}` is no thread that the table holds", designation.trim()), help)
}
