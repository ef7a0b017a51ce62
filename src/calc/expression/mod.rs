//! Working set out as mathematics, as a tree that knows no typesetter.
//!
//! Takes: a line's tree and the values that its names have. Gives: symbols, fractions, roots, powers, numbers with
//! units, and the same in words for a screen reader. Never: Typst, fonts or spacing.

mod build;
mod rebuild;
mod words;

use super::print::Printed;
pub use build::comparison_sign;
pub(super) use build::{Builder, Put, PutIn};

/// A piece of mathematics.
#[derive(Clone, Debug, PartialEq)]
pub enum Setting {
    Symbol(Symbol),
    /// A number as typed, with its unit in print; the unit is empty for a plain number.
    Number {
        figures: Figures,
        unit: String,
    },
    /// A worked-out value with its uncertainty.
    Value(Printed),
    /// Text in quotes, a truth value, or the name of something that has no number.
    Text(String),
    /// Terms with the sign before each; the first sign is seldom `Plus` in print.
    Sum(Vec<(Sign, Setting)>),
    Product(Vec<Setting>),
    Fraction(Box<Setting>, Box<Setting>),
    Power(Box<Setting>, Box<Setting>),
    /// Degree 2 is printed without a figure.
    Root(u8, Box<Setting>),
    /// In bars: the size without sign.
    Size(Box<Setting>),
    Negative(Box<Setting>),
    Bracket(Box<Setting>),
    /// A function with its arguments, each with its name if it was given.
    Call {
        name: String,
        arguments: Vec<(Option<Symbol>, Setting)>,
    },
    /// A field of what a call gives: `disc(d).area`.
    Field(Box<Setting>, String),
    List(Vec<Setting>),
    /// `≤`, `<`, `=`, `and`, `within`, `..`, `±`: pieces side by side with the sign between.
    Relation(Box<Setting>, &'static str, Box<Setting>),
    Cases {
        condition: Box<Setting>,
        then: Box<Setting>,
        otherwise: Box<Setting>,
    },
    /// Pieces side by side: feet and inches, a number and its limits.
    Row(Vec<Setting>),
}

/// The sign before a term.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    Plus,
    Minus,
}

/// A typed number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Figures {
    /// `0.001`, `-4`, `+0.021`
    Decimal(String),
    /// Mantissa and power of ten.
    Scientific(String, i32),
    /// `2 5/16`, `5/16`: sign and whole (may be empty), numerator, denominator.
    Mixed(String, String, String),
}

/// A name as a symbol.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Symbol {
    /// The letter, Greek ones as such, or the word.
    pub base: String,
    /// More than one letter: set upright, as a word.
    pub is_word: bool,
    pub subscript: Option<String>,
    /// The note that it belongs to, if it is another's.
    pub note: Option<String>,
    /// The name as typed.
    pub name: String,
}

/// The working of a line, from the symbol to the result.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// What stands left of the first equals sign.
    pub symbol: Option<Setting>,
    pub formula: Setting,
    /// The formula with the numbers put in; none where it would say nothing new.
    pub numbers: Option<Setting>,
    /// None where the formula is the typed value itself.
    pub result: Option<Setting>,
}

impl Working {
    pub(super) fn new(
        symbol: Option<Setting>,
        formula: Setting,
        numbers: Option<Setting>,
        result: Option<Setting>,
    ) -> Self {
        let numbers = numbers.filter(|numbers| *numbers != formula);
        Self { symbol, formula, numbers, result }
    }

    /// All of it in words, for a screen reader.
    pub fn words(&self) -> String {
        let parts = [self.symbol.as_ref(), Some(&self.formula), self.numbers.as_ref(), self.result.as_ref()];
        let words: Vec<String> = parts.into_iter().flatten().map(Setting::words).collect();
        words.join(" equals ")
    }
}

impl Symbol {
    /// An argument's name: plain words, no letter with a subscript.
    pub(super) fn words_of(name: &str) -> Self {
        let base = name.replace('_', " ");
        Self { base, is_word: true, subscript: None, note: None, name: name.to_owned() }
    }

    /// A field of a record that a name stands for.
    pub fn field(name: &str, field: &str) -> Self {
        let symbol = Self::of(name, None);
        let below = field.replace('_', " ");
        let subscript = match symbol.subscript {
            Some(before) => format!("{before} {below}"),
            None => below,
        };
        Self { subscript: Some(subscript), name: format!("{name}.{field}"), ..symbol }
    }

    /// Words that stand for a value: "mass of the jib".
    pub fn phrase(words: &str) -> Self {
        Self { base: words.to_owned(), is_word: true, subscript: None, note: None, name: words.to_owned() }
    }

    /// `sigma_b`, `d1`, `clearance`; `note` is the id that stood before it.
    pub fn of(name: &str, note: Option<&str>) -> Self {
        let (base, subscript) = split(name);
        let letter = build::greek(base);
        let is_word = letter.is_none() && base.chars().count() > 1;
        Self {
            base: letter.unwrap_or(base).to_owned(),
            is_word,
            subscript: subscript.map(|text| {
                text.split('_').map(|part| build::greek(part).unwrap_or(part)).collect::<Vec<_>>().join(" ")
            }),
            note: note.map(str::to_owned),
            name: name.to_owned(),
        }
    }
}

/// The name before the first `_`, or before the figures behind a single letter, and what follows.
fn split(name: &str) -> (&str, Option<&str>) {
    if let Some((base, subscript)) = name.split_once('_')
        && !base.is_empty()
        && !subscript.is_empty()
    {
        return (base, Some(subscript));
    }
    let base = name.trim_end_matches(|character: char| character.is_ascii_digit());
    if base.len() < name.len() && (base.chars().count() == 1 || build::greek(base).is_some()) {
        return (base, Some(&name[base.len()..]));
    }
    (name, None)
}
