//! A call of a workshop function as a hand sets it out: in the line what is worked out, below it from what and by which
//! formula.

use std::collections::BTreeSet;
use std::f64::consts::PI;

use super::engine_words::in_words;
use super::escape::escape;
use super::figures;
use super::mathematics::{equation, plain};
use crate::calc::dimension::Dimension;
use crate::calc::expression::{Setting, Symbol};
use crate::calc::function::{Absent, Function, Parameter, Takes};
use crate::calc::print::rounded;
use crate::calc::units::Unit;

/// An argument: its name, and what it is given.
struct Given {
    name: Symbol,
    is: Setting,
    /// Nobody gave it: it stands for what was left out.
    is_default: bool,
}

/// A formula in which words stand for the calls that are set out below it.
pub(super) struct Report<'a> {
    functions: &'a [&'static Function],
    given: Vec<Given>,
    calls: Vec<CallOf>,
}

/// One call, with what each of its parameters is given.
struct CallOf {
    function: String,
    given: Vec<(String, Setting)>,
}

impl<'a> Report<'a> {
    /// The formula as it stands in its line, and what its calls are given.
    pub(super) fn of(formula: &Setting, functions: &'a [&'static Function]) -> (Setting, Self) {
        let mut told = Self { functions, given: Vec::new(), calls: Vec::new() };
        let short = told.shortened(formula);
        (short, told)
    }

    /// The arguments, each with its numbers where they say more, and the formulas that they go into. `numbers` are
    /// those of the same formula with the numbers put in; `read`, if known, what the formula reads: other defaults are left out.
    pub(super) fn markup(&self, numbers: Option<&Self>, read: Option<&BTreeSet<&str>>) -> String {
        let numbers = numbers.filter(|numbers| numbers.given.len() == self.given.len());
        let is_read = |given: &Given| {
            !given.is_default || read.is_none_or(|read| read.contains(given.name.name.as_str()))
        };
        let lines =
            self.given.iter().enumerate().filter(|(_, given)| is_read(given)).map(|(index, given)| {
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
        let mut given = Vec::new();
        for (index, (argument, is)) in arguments.iter().enumerate() {
            let parameter = || {
                function.and_then(|function| function.parameters.get(index)).map_or("of", |each| each.name)
            };
            let called = argument.as_ref().map_or_else(|| parameter().to_owned(), |name| name.name.clone());
            given.push((called, is.clone()));
            match (argument, is) {
                (None, Setting::Text(text)) => head = format!("{head} {text}"),
                (Some(name), _) => {
                    self.given.push(Given {
                        name: Symbol::of(&name.name, None),
                        is: is.clone(),
                        is_default: false,
                    });
                }
                (None, _) => self.given.push(Given {
                    name: Symbol::of(parameter(), None),
                    is: is.clone(),
                    is_default: false,
                }),
            }
        }
        let absent = function.map(|function| left_out(function, &given)).unwrap_or_default();
        self.given.extend(absent);
        self.calls.push(CallOf { function: name.to_owned(), given });
        head
    }

    /// What the only call of that function is given; none where it is called more often.
    pub(super) fn given_to(&self, function: &str) -> Option<&[(String, Setting)]> {
        let mut calls = self.calls.iter().filter(|call| call.function == function);
        let only = calls.next()?;
        calls.next().is_none().then_some(&only.given[..])
    }
}

/// Of a figure that a table of ours gives.
const MOST_DECIMALS: i32 = 6;

/// The parameters that a call leaves out and that enter its sum all the same, each with what stands for it. Nothing is
/// said of what changes no sum, nor of properties of the material, which its table gives.
fn left_out(function: &Function, given: &[(String, Setting)]) -> Vec<Given> {
    let absent = function.parameters.iter().filter(|each| given.iter().all(|(name, _)| name != each.name));
    let stands_for = |parameter: &Parameter| match parameter.absent {
        Absent::From(of) => {
            Some(in_words(&plain(of))).filter(|_| !of.starts_with("material.") && !of.starts_with("if "))
        }
        Absent::Number(number) => {
            Some(in_usual_unit(number, parameter.takes)).filter(|_| number != 0.0 && number != 1.0)
        }
        Absent::Words(words) => Some(words.to_owned()).filter(|words| !words.is_empty()),
        Absent::Refused | Absent::Without | Absent::Truth(_) => None,
    };
    absent
        .filter_map(|each| {
            let is = Setting::Text(format!("{}, as none is given", stands_for(each)?));
            Some(Given { name: Symbol::of(each.name, None), is, is_default: true })
        })
        .collect()
}

/// The figure that stands for a parameter which is not given.
pub(super) fn default_figure(parameter: &Parameter) -> Option<Setting> {
    match parameter.absent {
        Absent::Number(number) => Some(Setting::Text(in_usual_unit(number, parameter.takes))),
        _ => None,
    }
}

/// The expression of other parameters that stands for one which is not given.
pub(super) fn expression_for(parameter: &Parameter) -> Option<Setting> {
    match parameter.absent {
        Absent::From(of) => crate::calc::formula::expression(of),
        _ => None,
    }
}

/// A number of SI units as a drawing has it: millimetres, degrees.
fn in_usual_unit(number: f64, takes: Takes) -> String {
    let short = |number: f64| {
        let figures = rounded(number, MOST_DECIMALS);
        figures.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    match takes {
        Takes::Angle(_) => format!("{} deg", short(number * 180.0 / PI)),
        Takes::Positive(dimension) | Takes::NotNegative(dimension) | Takes::Signed(dimension) => {
            match dimension {
                Dimension::NONE => short(number),
                Dimension::LENGTH => format!("{} mm", short(number * 1e3)),
                other => format!("{} {}", short(number), Unit::coherent(other).shown()),
            }
        }
        _ => short(number),
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

/// The longest formula that stands in the working itself, in letters as read aloud; a longer one is looked up.
const LONGEST: usize = 160;

/// The formulas of functions that a line calls, each with its place in the chapter of sources; `told` has the figures.
pub(super) fn rules(functions: impl Iterator<Item = &'static Function>, told: &Report) -> String {
    let rule = |function: &'static Function| {
        let settings = function.formula.settings();
        let length: usize = settings.iter().map(|setting| setting.words().len()).sum();
        let is_short = length <= LONGEST && function.formula.how().is_none();
        let figures = told.given_to(function.name).map(|given| figures::of(function, given));
        let says = if is_short { lines(function, &figures.unwrap_or_default()) } else { String::new() };
        let called = super::escape::quoted(&plain(function.name));
        format!("(name: \"{}\", called: {called}, says: [{says}]), ", function.name)
    };
    format!("({})", functions.map(rule).collect::<String>())
}

/// How a function comes to its results: what is looked up in words, the lines as mathematics. Markup.
pub(super) fn typeset(function: &Function) -> String {
    let how = function.formula.how().map(|how| format!("{}. \\ ", sentence(how))).unwrap_or_default();
    format!("{how}{}", lines(function, &[]))
}

/// A result of a longer name says what it is.
const LONGEST_LETTER: usize = 3;

/// What the names in a function's formula stand for: all that is given, and results that are letters. Markup.
pub(super) fn meanings(function: &Function) -> String {
    let settings = function.formula.settings();
    let read: BTreeSet<&str> = settings.iter().flat_map(Setting::names).collect();
    let parameters = function.parameters.iter().map(|parameter| (parameter.name, parameter.meaning));
    let outputs = function.outputs.iter().filter(|output| output.name.len() <= LONGEST_LETTER);
    let outputs = outputs.map(|output| (output.name, output.meaning));
    let named = parameters.chain(outputs).filter(|(name, means)| read.contains(name) && !means.is_empty());
    let one = |(name, means): (&str, &str)| {
        let symbol = equation(&Setting::Symbol(Symbol::of(name, None)));
        format!("#{symbol} {}", escape(&in_words(&means.replace('`', ""))))
    };
    named.map(one).collect::<Vec<_>>().join("; ")
}

fn lines(function: &Function, figures: &[Option<Setting>]) -> String {
    let settings = function.formula.settings();
    let comments = function.formula.lines().iter().map(crate::calc::syntax::Line::comment_text);
    let line = |(index, (setting, comment)): (usize, (&Setting, Option<&str>))| {
        let figures = figures.get(index).and_then(Option::as_ref);
        let figures = figures.map(|figures| format!(" = #{}", equation(figures))).unwrap_or_default();
        let comment = comment.map(|comment| format!(" ({})", escape(&plain(comment)))).unwrap_or_default();
        format!("#{}{figures}{comment}", equation(setting))
    };
    settings.iter().zip(comments).enumerate().map(line).collect::<Vec<_>>().join(" \\ ")
}

/// The first letter large; what stands between backquotes as it is.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string()).unwrap_or_default();
    escape(&in_words(&format!("{first}{}", letters.as_str()).replace('`', "")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::escape::Markup;

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

    /// What made text may call is a list: every formula of the workshop functions keeps to it.
    #[test]
    fn every_formula_is_made_text_and_none_is_printed_as_code() {
        for function in crate::trade::functions() {
            let text = typeset(function);
            let made = serde_json::to_value(Markup::of(text.clone())).expect("a text");
            assert_eq!(Markup::in_template(&made), Some(text.as_str()), "{}", function.name);
        }
    }

    #[test]
    fn a_formula_is_set_with_its_figures() {
        let functions: Vec<&'static Function> = crate::trade::functions().collect();
        let lever = functions.iter().find(|function| function.name == "lever").expect("a function");
        let number = |text: &str| Setting::Number {
            figures: crate::calc::expression::Figures::Decimal(text.to_owned()),
            unit: "N".to_owned(),
        };
        let given = [("load", "4"), ("load_arm", "5"), ("effort_arm", "6")];
        let given = given.map(|(name, text)| (name.to_owned(), number(text)));
        let figures = figures::of(lever, &given);
        let words: Vec<String> =
            figures.iter().map(|line| line.as_ref().map(Setting::words).unwrap_or_default()).collect();
        assert_eq!(words, ["6 N over 5 N", "", ""], "what another line defines has no figure yet");
    }
}
