//! The engine's set-out formulas as Typst mathematics.

use super::breadth::letters;
use super::escape::{escape, quoted};
use crate::calc::expression::{Figures, Setting, Sign, Symbol};
use crate::calc::print::Printed;

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
        Setting::Fraction(above, below) => fraction(above, below),
        Setting::Power(base, exponent) => format!("{}^({})", piece(base), piece(exponent)),
        Setting::Root(2, inner) => format!("sqrt({})", piece(inner)),
        Setting::Root(degree, inner) => format!("root({degree}, {})", piece(inner)),
        Setting::Size(inner) => format!("abs({})", piece(inner)),
        Setting::Negative(inner) => format!("- {}", piece(inner)),
        Setting::Bracket(inner) if letters(inner) > LONGEST_BRACKET => {
            format!("\\( {} \\)", piece(inner))
        }
        Setting::Bracket(inner) => format!("( {} )", piece(inner)),
        other => larger(other),
    }
}

/// A name of more letters may be wider than its place.
const LONGEST_PHRASE: usize = 24;

/// A bracket of more letters is open, so that its line can be broken within it.
const LONGEST_BRACKET: usize = 36;

fn larger(setting: &Setting) -> String {
    match setting {
        Setting::Call { name, arguments } => call(name, arguments),
        Setting::Field(of, field) => format!("{} {}", upright(&format!("{} of ", plain(field))), piece(of)),
        Setting::List(items) => format!("( {} )", items.iter().map(piece).collect::<Vec<_>>().join(" , ")),
        Setting::Relation(left, sign, right) => {
            format!("{} {} {}", piece(left), relation(sign), piece(right))
        }
        Setting::Cases { condition, then, otherwise } => {
            let (then, condition, otherwise) = (piece(then), piece(condition), piece(otherwise));
            format!("cases({then} & \"if \" {condition}, {otherwise} & \"otherwise\")")
        }
        Setting::Row(pieces) => pieces.iter().map(piece).collect::<Vec<_>>().join(" thin "),
        other => upright(&other.words()),
    }
}

/// A name of several words stands in words; what belongs to it stands below: its index, its field, its note.
fn letter(symbol: &Symbol) -> String {
    let (name, field) = symbol
        .name
        .split_once('.')
        .map_or((symbol.name.as_str(), None), |(name, field)| (name, Some(plain(field))));
    let index = name.split_once('_').map_or("", |(_, index)| index);
    let is_in_words = index.contains('_') || symbol.is_word && index.chars().count() > 1;
    let note = symbol.note.as_ref().map(|note| format!("({note})"));
    let (base, index) = match (is_in_words, symbol.is_word) {
        (true, _) => (upright(&plain(name)), field.as_deref()),
        (false, true) => (upright(&symbol.base), symbol.subscript.as_deref()),
        (false, false) => (escape(&symbol.base), symbol.subscript.as_deref()),
    };
    let below: Vec<&str> = index.into_iter().chain(note.as_deref()).collect();
    match below.as_slice() {
        [] => base,
        [one] if one.chars().count() == 1 && one.chars().all(char::is_alphanumeric) => {
            format!("{base}_({one})")
        }
        several => format!(
            "{base}_({})",
            several.iter().map(|text| upright(text)).collect::<Vec<_>>().join(" thin ")
        ),
    }
}

/// One stroke for a fraction of fractions; an amount of one unit below the stroke is a unit.
fn fraction(above: &Setting, below: &Setting) -> String {
    if let Some(rate) = rate(above, below) {
        return rate;
    }
    let (over, under) = sides(above, below);
    if [&over, &under].iter().any(|side| is_long(side)) {
        return format!("{} {} {}", in_line(&over), upright("/"), in_line(&under));
    }
    format!("frac({}, {})", factors(&over), factors(&under))
}

/// What stands above and below the one stroke.
fn sides(above: &Setting, below: &Setting) -> (Vec<Setting>, Vec<Setting>) {
    let (mut over, mut under) = (Vec::new(), Vec::new());
    take_apart(above, &mut over, &mut under);
    take_apart(below, &mut under, &mut over);
    (over, under)
}

/// Report in more letters than this, a formula is wider than its column.
const LONGEST_STROKE: usize = 110;

fn is_long(side: &[Setting]) -> bool {
    side.iter().map(|factor| factor.words().len()).sum::<usize>() > LONGEST_STROKE
}

/// One side of a fraction in the line.
fn in_line(side: &[Setting]) -> String {
    match side {
        [only] => piece(&held_together(only)),
        several => format!("( {} )", factors(several)),
    }
}

fn take_apart(setting: &Setting, over: &mut Vec<Setting>, under: &mut Vec<Setting>) {
    match setting {
        Setting::Fraction(above, below) if rate(above, below).is_none() => {
            take_apart(above, over, under);
            take_apart(below, under, over);
        }
        Setting::Product(factors) => over.extend(factors.iter().cloned()),
        other => over.push(other.clone()),
    }
}

fn factors(of: &[Setting]) -> String {
    match of {
        [] => upright("1"),
        [only] => piece(only),
        several => {
            let together: Vec<Setting> = several.iter().map(held_together).collect();
            product(&together)
        }
    }
}

/// As a factor among others.
fn held_together(setting: &Setting) -> Setting {
    match setting {
        Setting::Sum(_) | Setting::Negative(_) | Setting::Relation(..) => {
            Setting::Bracket(Box::new(setting.clone()))
        }
        other => other.clone(),
    }
}

/// "42 GBP/h" for 42 GBP over 1 h, "3 per in" for 3 over 1 in.
fn rate(above: &Setting, below: &Setting) -> Option<String> {
    let Setting::Number { figures: Figures::Decimal(one), unit: per } = below else { return None };
    let Setting::Number { figures, unit } = above else { return None };
    let is_simple = |unit: &str| !unit.contains(['/', '·']);
    let per_one = if unit.is_empty() { format!("\u{a0}per {per}") } else { format!("{unit}/{per}") };
    (one == "1" && !per.is_empty() && is_simple(per) && is_simple(unit))
        .then(|| with_unit(figures_of(figures), &per_one))
}

/// Words in a formula stand upright.
fn upright(text: &str) -> String {
    quoted(text)
}

fn figures_of(figures: &Figures) -> String {
    match figures {
        Figures::Decimal(text) => decimal(text),
        Figures::Scientific(mantissa, power) => format!("{} dot 10^({power})", decimal(mantissa)),
        Figures::Mixed(whole, above, below) if whole.is_empty() => format!("inline(frac({above}, {below}))"),
        Figures::Mixed(whole, above, below) => format!("{} inline(frac({above}, {below}))", decimal(whole)),
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
    let is_number = |setting: &Setting| matches!(setting, Setting::Number { .. } | Setting::Value(_) | Setting::Power(..) | Setting::Row(_) if starts_with_number(setting));
    let is_word = |setting: &Setting| matches!(setting, Setting::Symbol(Symbol { is_word: true, .. }));
    let has_unit = |setting: &Setting| match setting {
        Setting::Number { unit, .. } => !unit.is_empty(),
        Setting::Value(printed) => !printed.unit.is_empty(),
        _ => false,
    };
    let is_rate = |setting: &Setting| matches!(setting, Setting::Fraction(above, below) if rate(above, below).is_some());
    let is_phrase =
        |setting: &Setting| matches!(setting, Setting::Symbol(symbol) if symbol.base.contains(' '));
    let both_words = is_word(left) && is_word(right) || is_phrase(left) || is_phrase(right);
    let after_a_unit = has_unit(left) && !matches!(right, Setting::Bracket(_));
    is_number(right)
        || is_rate(left)
        || is_rate(right)
        || both_words
        || after_a_unit
        || (matches!(right, Setting::Fraction(..)) && is_number(left))
}

fn starts_with_number(setting: &Setting) -> bool {
    match setting {
        Setting::Number { .. } | Setting::Value(_) => true,
        Setting::Power(base, _) => starts_with_number(base),
        Setting::Row(pieces) => pieces.first().is_some_and(starts_with_number),
        _ => false,
    }
}

/// A call within a line: texts behind its name, other arguments in brackets.
fn call(name: &str, arguments: &[(Option<Symbol>, Setting)]) -> String {
    let name = upright(&plain(name));
    if let [(None, Setting::Text(text))] = arguments {
        return format!("{name} thick {}", upright(text));
    }
    let told = |(name, argument): &(Option<Symbol>, Setting)| match name {
        Some(name) => format!("{} = {}", letter(&Symbol::of(&name.name, None)), piece(argument)),
        None => piece(argument),
    };
    format!("{name} ( {} )", arguments.iter().map(told).collect::<Vec<_>>().join(" , "))
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

/// Letters that fit in the narrowest place of a formula.
const NARROWEST: usize = 24;

/// The wide pieces of formulas at which no line can be broken, so that they can be set smaller.
pub(super) fn unbroken<'a>(formulas: impl Iterator<Item = &'a Setting>) -> String {
    fn pieces<'a>(setting: &'a Setting, found: &mut Vec<&'a Setting>) {
        match setting {
            Setting::Sum(terms) => terms.iter().for_each(|(_, term)| pieces(term, found)),
            Setting::Product(factors)
                if factors.iter().any(|factor| matches!(factor, Setting::Fraction(..))) =>
            {
                found.push(setting);
            }
            Setting::Product(factors) => factors.iter().for_each(|factor| pieces(factor, found)),
            Setting::Relation(left, _, right) => {
                [left, right].into_iter().for_each(|side| pieces(side, found));
            }
            Setting::Bracket(inner) | Setting::Negative(inner) => pieces(inner, found),
            Setting::Fraction(above, below) => {
                let (over, under) = sides(above, below);
                if is_long(&over) || is_long(&under) {
                    [above, below].into_iter().for_each(|side| pieces(side, found));
                } else {
                    found.push(setting);
                }
            }
            Setting::Root(..) | Setting::Cases { .. } | Setting::Power(..) | Setting::Size(_) => {
                found.push(setting);
            }
            Setting::Symbol(symbol) if symbol.base.chars().count() > LONGEST_PHRASE => found.push(setting),
            _ => {}
        }
    }
    let mut found = Vec::new();
    formulas.for_each(|formula| pieces(formula, &mut found));
    let wide = found.into_iter().filter(|piece| letters(piece) > NARROWEST);
    let found: String = wide.map(|piece| format!("{}, ", equation(piece))).collect();
    format!("({found})")
}
