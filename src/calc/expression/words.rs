//! Mathematics in words, for a screen reader.

use super::{Figures, Setting, Sign, Symbol};
use crate::calc::print::{Printed, Worst};

impl Setting {
    /// Read aloud: `bore minus journal`.
    pub fn words(&self) -> String {
        match self {
            Self::Symbol(symbol) => symbol.words(),
            Self::Number { figures, unit } => with_unit(figures.words(), unit),
            Self::Value(printed) => value(printed),
            Self::Text(text) => text_words(text),
            Self::Sum(terms) => sum(terms),
            Self::Product(factors) => joined(factors, " times "),
            Self::Fraction(above, below) => format!("{} over {}", grouped(above), grouped(below)),
            Self::Power(base, exponent) => power(base, exponent),
            Self::Root(degree, inner) => root(*degree, inner),
            Self::Size(inner) => format!("the size of {}", inner.words()),
            Self::Negative(inner) => format!("minus {}", inner.words()),
            Self::Bracket(inner) => format!("open bracket {} close bracket", inner.words()),
            Self::Call { name, arguments } => call(name, arguments),
            Self::Field(inner, name) => format!("{} of {}", name.replace('_', " "), inner.words()),
            Self::List(values) => format!("the list {}", joined(values, ", ")),
            Self::Relation(left, sign, right) => {
                format!("{} {} {}", left.words(), sign_words(sign), right.words())
            }
            Self::Cases { condition, then, otherwise } => {
                format!("{} if {}, else {}", then.words(), condition.words(), otherwise.words())
            }
            Self::Row(pieces) => joined(pieces, " "),
        }
    }
}

impl Symbol {
    fn words(&self) -> String {
        let base = match &self.subscript {
            Some(subscript) => format!("{} sub {subscript}", self.base),
            None => self.base.clone(),
        };
        match &self.note {
            Some(note) => format!("{base} of {note}"),
            None => base,
        }
    }
}

impl Figures {
    fn words(&self) -> String {
        match self {
            Self::Decimal(text) => text.replacen('-', "minus ", 1).replacen('+', "plus ", 1),
            Self::Scientific(mantissa, power) => format!("{mantissa} times 10 to the power {power}"),
            Self::Mixed(whole, above, below) => match whole.as_str() {
                "" => format!("{above}/{below}"),
                "-" => format!("minus {above}/{below}"),
                whole => format!("{whole} and {above}/{below}"),
            },
        }
    }
}

fn with_unit(number: String, unit: &str) -> String {
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

fn value(printed: &Printed) -> String {
    let figures = |number: &String| match printed.power {
        0 => number.replacen('-', "minus ", 1),
        power => format!("{number} times 10 to the power {power}"),
    };
    let mut words = with_unit(figures(&printed.number), &printed.unit);
    if let Some(remainder) = &printed.remainder {
        words = format!("{words} {}", remainder.replacen('-', "minus", 1).replacen('+', "plus", 1));
    }
    if let Some(expanded) = &printed.expanded {
        words = format!("{words}, plus or minus {}", with_unit(figures(expanded), &printed.unit));
    }
    let with_unit = |figure: &String| with_unit(figures(figure), &printed.unit);
    match printed.further_worst() {
        Some(Worst::Even(worst)) => words = format!("{words}, at worst {}", with_unit(worst)),
        Some(Worst::Uneven(up, down)) => {
            words = format!("{words}, at worst plus {} and minus {}", with_unit(up), with_unit(down));
        }
        Some(Worst::Unknown) => words.push_str(", at worst not known"),
        None => {}
    }
    words
}

fn text_words(text: &str) -> String {
    match text {
        "±" => "plus or minus".to_owned(),
        ".." => "to".to_owned(),
        "/" => "and".to_owned(),
        other => other.to_owned(),
    }
}

fn sum(terms: &[(Sign, Setting)]) -> String {
    let mut words = String::new();
    for (index, (sign, term)) in terms.iter().enumerate() {
        let sign = match (sign, index) {
            (Sign::Plus, 0) => "",
            (Sign::Minus, 0) => "minus ",
            (Sign::Plus, _) => " plus ",
            (Sign::Minus, _) => " minus ",
        };
        words = format!("{words}{sign}{}", term.words());
    }
    words
}

fn joined(pieces: &[Setting], between: &str) -> String {
    pieces.iter().map(Setting::words).collect::<Vec<_>>().join(between)
}

/// Above or below a stroke: the beginning and end of a sum or product are said.
fn grouped(piece: &Setting) -> String {
    match piece {
        Setting::Sum(_) | Setting::Product(_) | Setting::Fraction(..) => {
            format!("open bracket {} close bracket", piece.words())
        }
        _ => piece.words(),
    }
}

fn power(base: &Setting, exponent: &Setting) -> String {
    match exponent {
        Setting::Number { figures: Figures::Decimal(two), unit } if two == "2" && unit.is_empty() => {
            format!("{} squared", base.words())
        }
        Setting::Number { figures: Figures::Decimal(three), unit } if three == "3" && unit.is_empty() => {
            format!("{} cubed", base.words())
        }
        _ => format!("{} to the power {}", base.words(), grouped(exponent)),
    }
}

fn root(degree: u8, inner: &Setting) -> String {
    let name = if degree == 2 { "square root" } else { "cube root" };
    format!("the {name} of {}", grouped(inner))
}

fn call(name: &str, arguments: &[(Option<Symbol>, Setting)]) -> String {
    let argument = |(name, value): &(Option<Symbol>, Setting)| match name {
        Some(name) => format!("{} {}", name.words(), value.words()),
        None => value.words(),
    };
    let arguments: Vec<String> = arguments.iter().map(argument).collect();
    format!("{} of {}", name.replace('_', " "), arguments.join(", "))
}

fn sign_words(sign: &str) -> &str {
    match sign {
        "<" => "is less than",
        "≤" => "is at most",
        ">" => "is greater than",
        "≥" => "is at least",
        "=" => "equals",
        "≠" => "is not",
        "within" => "within",
        ".." => "to",
        other => other,
    }
}
