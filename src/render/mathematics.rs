//! The engine's set-out formulas as Typst mathematics.

use super::escape::{escape, quoted};
use crate::calc::print::Printed;
use crate::calc::setting::{Figures, Setting, Sign, Symbol};

/// An equation with the words that are read aloud for it.
pub(super) fn equation(setting: &Setting) -> String {
    format!("eq({}, ${}$)", quoted(&setting.words()), piece(setting))
}

fn piece(setting: &Setting) -> String {
    match setting {
        Setting::Symbol(symbol) => letter(symbol),
        Setting::Number { figures, unit } => with_unit(figures_of(figures), unit),
        Setting::Value(printed) => value(printed),
        Setting::Text(text) => upright(text),
        Setting::Sum(terms) => sum(terms),
        Setting::Product(factors) => product(factors),
        Setting::Fraction(above, below) => format!("frac({}, {})", piece(above), piece(below)),
        Setting::Power(base, exponent) => format!("{}^({})", piece(base), piece(exponent)),
        Setting::Root(2, inner) => format!("sqrt({})", piece(inner)),
        Setting::Root(degree, inner) => format!("root({degree}, {})", piece(inner)),
        Setting::Size(inner) => format!("abs({})", piece(inner)),
        Setting::Negative(inner) => format!("- {}", piece(inner)),
        Setting::Bracket(inner) => format!("( {} )", piece(inner)),
        other => larger(other),
    }
}

fn larger(setting: &Setting) -> String {
    match setting {
        Setting::Call { name, arguments } => call(name, arguments),
        Setting::Field(of, field) => format!("{} {}", upright(&format!("{} of ", plain(field))), piece(of)),
        Setting::List(items) => format!("( {} )", items.iter().map(piece).collect::<Vec<_>>().join(" , ")),
        Setting::Relation(left, sign, right) => format!("{} {} {}", piece(left), relation(sign), piece(right)),
        Setting::Cases { condition, then, otherwise } => {
            let (then, condition, otherwise) = (piece(then), piece(condition), piece(otherwise));
            format!("cases({then} & \"if \" {condition}, {otherwise} & \"otherwise\")")
        }
        Setting::Row(pieces) => pieces.iter().map(piece).collect::<Vec<_>>().join(" thin "),
        other => upright(&other.words()),
    }
}

fn letter(symbol: &Symbol) -> String {
    let base = if symbol.is_word { upright(&symbol.base) } else { escape(&symbol.base) };
    let note = symbol.note.as_deref();
    let below: Vec<&str> = symbol.subscript.as_deref().into_iter().chain(note).collect();
    match below.as_slice() {
        [] => base,
        [one] if one.chars().count() == 1 && one.chars().all(char::is_alphanumeric) => format!("{base}_({one})"),
        several => format!("{base}_({})", several.iter().map(|text| upright(text)).collect::<Vec<_>>().join(" thin ")),
    }
}

/// Words in a formula stand upright.
fn upright(text: &str) -> String {
    quoted(text)
}

fn figures_of(figures: &Figures) -> String {
    match figures {
        Figures::Decimal(text) => decimal(text),
        Figures::Scientific(mantissa, power) => format!("{} dot 10^({power})", decimal(mantissa)),
        Figures::Mixed(whole, above, below) if whole.is_empty() => format!("frac({above}, {below})"),
        Figures::Mixed(whole, above, below) => format!("{} frac({above}, {below})", decimal(whole)),
    }
}

/// A number with its sign as a sign, and nothing but figures and a point besides.
fn decimal(text: &str) -> String {
    match text.strip_prefix(['-', '−']) {
        Some(rest) => format!("- {}", upright(rest)),
        None => upright(text),
    }
}

fn with_unit(number: String, unit: &str) -> String {
    match unit {
        "" => number,
        "°" => format!("{number} {}", upright("°")),
        _ => format!("{number} thin {}", upright(unit)),
    }
}

fn value(printed: &Printed) -> String {
    let number = decimal(&printed.number);
    let number = if printed.power == 0 { number } else { format!("{number} dot 10^({})", printed.power) };
    with_unit(number, &printed.unit)
}

fn sum(terms: &[(Sign, Setting)]) -> String {
    let mut text = String::new();
    for (index, (sign, term)) in terms.iter().enumerate() {
        match (index, sign) {
            (0, Sign::Plus) => {}
            (_, Sign::Plus) => text.push_str(" + "),
            (_, Sign::Minus) => text.push_str(" - "),
        }
        text.push_str(&piece(term));
    }
    text
}

/// Letters stand side by side; a number after anything, and a word beside a word, take a dot between.
fn product(factors: &[Setting]) -> String {
    let mut text = String::new();
    for (index, factor) in factors.iter().enumerate() {
        if index > 0 {
            text.push_str(if needs_dot(&factors[index - 1], factor) { " dot " } else { " thin " });
        }
        text.push_str(&piece(factor));
    }
    text
}

fn needs_dot(left: &Setting, right: &Setting) -> bool {
    let is_number = |setting: &Setting| {
        matches!(setting, Setting::Number { .. } | Setting::Value(_) | Setting::Power(..) if starts_with_number(setting))
    };
    let is_word = |setting: &Setting| matches!(setting, Setting::Symbol(Symbol { is_word: true, .. }));
    let has_unit = |setting: &Setting| match setting {
        Setting::Number { unit, .. } => !unit.is_empty(),
        Setting::Value(printed) => !printed.unit.is_empty(),
        _ => false,
    };
    let both_words = is_word(left) && is_word(right);
    let after_a_unit = has_unit(left) && !matches!(right, Setting::Bracket(_));
    is_number(right) || both_words || after_a_unit || (matches!(right, Setting::Fraction(..)) && is_number(left))
}

fn starts_with_number(setting: &Setting) -> bool {
    match setting {
        Setting::Number { .. } | Setting::Value(_) => true,
        Setting::Power(base, _) => starts_with_number(base),
        _ => false,
    }
}

/// More arguments than this stand below each other.
const MOST_IN_A_ROW: usize = 2;

fn call(name: &str, arguments: &[(Option<Symbol>, Setting)]) -> String {
    let name = upright(&plain(name));
    let named: Vec<String> = arguments
        .iter()
        .map(|(name, argument)| match name {
            Some(name) => format!("{} = {}", upright(&format!("{} ", plain(&name.name))), piece(argument)),
            None => piece(argument),
        })
        .collect();
    if arguments.len() > MOST_IN_A_ROW {
        format!("{name} vec(delim: \"(\", align: #left, {})", named.join(", "))
    } else {
        format!("{name} ( {} )", named.join(" , "))
    }
}

/// A name of several words, as words.
pub(super) fn plain(name: &str) -> String {
    name.replace('_', " ")
}

fn relation(sign: &str) -> String {
    match sign {
        "≤" => "<=".to_owned(),
        "≥" => ">=".to_owned(),
        "<" | ">" | "=" => sign.to_owned(),
        "±" => "plus.minus".to_owned(),
        ".." => "thick dots.c thick".to_owned(),
        words => format!("thick {} thick", upright(words)),
    }
}
