//! A call of a workshop function as a hand sets it out: in the line what is worked out, below it from what and by which
//! formula.

use super::escape::escape;
use super::mathematics::{equation, plain};
use crate::calc::function::Function;
use crate::calc::setting::{Setting, Symbol};

/// An argument: its name, and what it is given.
struct Given {
    name: Symbol,
    is: Setting,
}

/// A formula in which words stand for the calls that are set out below it.
pub(super) struct Told<'a> {
    functions: &'a [&'static Function],
    given: Vec<Given>,
}

impl<'a> Told<'a> {
    /// The formula as it stands in its line, and what its calls are given.
    pub(super) fn of(formula: &Setting, functions: &'a [&'static Function]) -> (Setting, Self) {
        let mut told = Self { functions, given: Vec::new() };
        let short = told.shortened(formula);
        (short, told)
    }

    /// The arguments, each with its numbers where they say more, and the formulas that they go into. `numbers` are
    /// those of the same formula with the numbers put in.
    pub(super) fn markup(&self, numbers: Option<&Self>) -> String {
        let numbers = numbers.filter(|numbers| numbers.given.len() == self.given.len());
        let lines = self.given.iter().enumerate().map(|(index, given)| {
            let number = numbers.map(|numbers| &numbers.given[index].is);
            let number = number.filter(|number| **number != given.is && !is_long(number));
            let number = number.map_or("none".to_owned(), breakable);
            let name = equation(&Setting::Symbol(given.name.clone()));
            format!("({name}, {}, {number}), ", breakable(&given.is))
        });
        format!("({})", lines.collect::<String>())
    }

    pub(super) fn is_empty(&self) -> bool {
        self.given.is_empty()
    }

    fn shortened(&mut self, setting: &Setting) -> Setting {
        match setting {
            Setting::Call { name, arguments } if is_set_out(arguments) => {
                Setting::Text(self.head(name, arguments))
            }
            Setting::Field(of, field) => match &**of {
                Setting::Call { name, arguments } if is_set_out(arguments) => {
                    Setting::Text(of_what(field, &self.head(name, arguments)))
                }
                other => Setting::Field(Box::new(self.shortened(other)), field.clone()),
            },
            Setting::Sum(terms) => {
                Setting::Sum(terms.iter().map(|(sign, term)| (*sign, self.shortened(term))).collect())
            }
            Setting::Product(factors) => Setting::Product(self.all(factors)),
            Setting::Row(pieces) => Setting::Row(self.all(pieces)),
            Setting::Fraction(above, below) => Setting::Fraction(self.boxed(above), self.boxed(below)),
            Setting::Power(base, exponent) => Setting::Power(self.boxed(base), exponent.clone()),
            Setting::Root(degree, inner) => Setting::Root(*degree, self.boxed(inner)),
            Setting::Size(inner) => Setting::Size(self.boxed(inner)),
            Setting::Negative(inner) => Setting::Negative(self.boxed(inner)),
            Setting::Bracket(inner) => Setting::Bracket(self.boxed(inner)),
            Setting::Relation(left, sign, right) => {
                Setting::Relation(self.boxed(left), sign, self.boxed(right))
            }
            other => other.clone(),
        }
    }

    fn all(&mut self, settings: &[Setting]) -> Vec<Setting> {
        settings.iter().map(|setting| self.shortened(setting)).collect()
    }

    fn boxed(&mut self, setting: &Setting) -> Box<Setting> {
        Box::new(self.shortened(setting))
    }

    /// What is worked out, in words: the function's name and what it is asked for. The rest is given below.
    fn head(&mut self, name: &str, arguments: &[(Option<Symbol>, Setting)]) -> String {
        let function = self.functions.iter().find(|function| function.name == name);
        let mut head = plain(name);
        for (index, (argument, is)) in arguments.iter().enumerate() {
            let parameter = || {
                function.and_then(|function| function.parameters.get(index)).map_or("of", |each| each.name)
            };
            match (argument, is) {
                (None, Setting::Text(text)) => head = format!("{head} {text}"),
                (Some(name), _) => {
                    self.given.push(Given { name: Symbol::of(&name.name, None), is: is.clone() });
                }
                (None, _) => self.given.push(Given { name: Symbol::of(parameter(), None), is: is.clone() }),
            }
        }
        head
    }
}

/// A list of more values is not printed twice.
const LONGEST_LIST: usize = 4;

fn is_long(setting: &Setting) -> bool {
    matches!(setting, Setting::List(items) if items.len() > LONGEST_LIST)
}

/// A list as one equation a value, so that its line can be broken between them.
fn breakable(setting: &Setting) -> String {
    match setting {
        Setting::List(items) => {
            let items: Vec<String> = items.iter().map(|item| format!("#{}", equation(item))).collect();
            format!("[{}]", items.join(", "))
        }
        other => equation(other),
    }
}

/// Whether its arguments are worth lines of their own.
fn is_set_out(arguments: &[(Option<Symbol>, Setting)]) -> bool {
    arguments.iter().any(|(name, is)| name.is_some() || matches!(is, Setting::List(_)))
}

/// "area of round section"; where the call is named after the field, its own words: "thread engagement", "mass of bar".
fn of_what(field: &str, call: &str) -> String {
    let field = plain(field);
    let joins =
        |rest: &str| ["of ", "at ", "in ", "by "].iter().any(|word| format!("{rest} ").starts_with(word));
    let is_open = field.rsplit(' ').next().is_some_and(|last| ["of", "at", "in", "by", "to"].contains(&last));
    match call.strip_prefix(&field).map(str::trim_start) {
        Some(rest) if rest.is_empty() || joins(rest) => call.trim_end_matches(" of").to_owned(),
        Some(rest) => format!("{field} of {rest}"),
        None if call.ends_with(&field) => call.to_owned(),
        None if is_open => format!("{field}, from {call}"),
        None => format!("{field} of {call}"),
    }
}

/// The longest formula that stands in the working itself; a longer one is looked up.
const LONGEST: usize = 96;

/// The formulas of functions that a line calls, each with its place in the chapter of sources.
pub(super) fn rules(functions: impl Iterator<Item = &'static Function>) -> String {
    let rule = |function: &'static Function| {
        let says = if function.formula.len() <= LONGEST { typeset(function.formula) } else { String::new() };
        format!("(name: \"{}\", says: [{says}]), ", function.name)
    };
    format!("({})", functions.map(rule).collect::<String>())
}

/// A formula in plain text with raised exponents, true signs, and words for names: markup.
pub(super) fn typeset(formula: &str) -> String {
    let mut text = String::new();
    let mut rest = formula;
    while let Some(letter) = rest.chars().next() {
        let (taken, says) = match letter {
            '^' => raised(&rest[1..]),
            '`' => (1, String::new()),
            '<' | '>' if rest[1..].starts_with('=') => (2, if letter == '<' { "≤" } else { "≥" }.to_owned()),
            _ if letter.is_ascii_alphabetic() => word(rest),
            _ => (letter.len_utf8(), escape(&sign(letter, rest).to_string())),
        };
        text.push_str(&says);
        rest = &rest[taken..];
    }
    text
}

/// A minus between blanks or before a figure, and a plain stroke elsewhere.
fn sign(letter: char, rest: &str) -> char {
    match letter {
        '-' if rest[1..].starts_with([' ', '.'])
            || rest[1..].starts_with(|next: char| next.is_ascii_digit()) =>
        {
            '−'
        }
        '*' => '·',
        '_' => ' ',
        other => other,
    }
}

/// The exponent behind a caret: a figure, a letter, or what is in brackets.
fn raised(rest: &str) -> (usize, String) {
    let end = match rest.strip_prefix('(').and_then(|inner| inner.find(')')) {
        Some(close) => close + 2,
        None => rest.find(|next: char| !next.is_alphanumeric()).unwrap_or(rest.len()),
    };
    let exponent = rest[..end].trim_start_matches('(').trim_end_matches(')');
    (end + 1, format!("#super[{}]", escape(exponent)))
}

/// A run of letters, figures and low lines.
fn word(rest: &str) -> (usize, String) {
    let end = rest.find(|next: char| !next.is_ascii_alphanumeric() && next != '_').unwrap_or(rest.len());
    let says = match &rest[..end] {
        "pi" => "π".to_owned(),
        "sqrt" => "√".to_owned(),
        "x" => "×".to_owned(),
        name => escape(&plain(name)),
    };
    (end, says)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_of_a_call_reads_as_english() {
        let read = [
            ("effort", "pulleys", "effort of pulleys"),
            ("engagement", "thread engagement", "thread engagement"),
            ("mass", "mass bar", "mass of bar"),
            ("mass", "mass of", "mass"),
            ("length", "length at 20", "length at 20"),
            ("twist", "twist", "twist"),
            ("heat_to", "shrink temperatures", "heat to, from shrink temperatures"),
        ];
        for (field, call, says) in read {
            assert_eq!(of_what(field, call), says);
        }
    }

    #[test]
    fn a_formula_in_plain_text_is_set() {
        let set = typeset("shear = pi d^2/4 - sqrt(hub_low)");
        assert_eq!(set, "shear \\u{3d} π d#super[2]\\u{2f}4 − √\\u{28}hub low\\u{29}");
    }
}
