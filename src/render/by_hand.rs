//! A workshop function as a hand works it: its own formula in place of its name, then the same in figures.

use std::collections::BTreeSet;

use super::breadth::{LINE, is_tall, letters};
use super::call::{default_figure, expression_for};
use super::figures::put_in;
use crate::calc::expression::{Setting, Sign, Symbol};
use crate::calc::function::{Absent, Function};

/// What one result of a call is by its formula.
pub(super) struct ByHand {
    pub(super) formula: Setting,
    /// The same in figures; none where one of them is not known here.
    pub(super) figures: Option<Setting>,
    /// What it is worked out from and has no figure of its own, before it, each line with its figures.
    pub(super) before: Vec<(Setting, Option<Setting>)>,
}

/// What is wider, in letters, is looked up in the chapter of formulas.
const WIDEST: usize = 120;

impl ByHand {
    /// The names that its formulas read.
    pub(super) fn names(&self) -> BTreeSet<&str> {
        let lines = self.before.iter().map(|(line, _)| line);
        lines.chain([&self.formula]).flat_map(Setting::names).collect()
    }
}

/// `given`: the parameters that are given; `known`: results of the same call.
pub(super) fn of(
    function: &Function,
    output: &str,
    given: &[(String, Setting)],
    known: &dyn Fn(&str) -> Option<Setting>,
) -> Option<ByHand> {
    let lines = needed_for(output, lines(function, given))?;
    let mut values = values(function, given, &lines, known);
    let mut set: Vec<(Setting, Setting, Option<Setting>)> = Vec::new();
    for (name, formula) in lines {
        let figures = put_in(&formula, &values).filter(|figures| *figures != formula);
        let symbol = Setting::Symbol(Symbol::of(&name, None));
        let short = figures.clone().filter(|figures| letters(figures) <= SHORT && !is_tall(figures));
        values.push((name.clone(), short.unwrap_or_else(|| symbol.clone())));
        let is_result = known(&name).is_some() && name != output;
        if !is_result {
            set.push((symbol, formula, figures));
        }
    }
    let (_, formula, figures) = set.pop()?;
    let equal = |symbol, formula| Setting::Relation(Box::new(symbol), "=", Box::new(formula));
    let before: Vec<(Setting, Option<Setting>)> =
        set.into_iter().map(|(symbol, formula, figures)| (equal(symbol, formula), figures)).collect();
    let wide = letters(&formula) + before.iter().map(|(line, _)| letters(line)).sum::<usize>();
    (wide <= WIDEST && letters(&formula) <= LINE).then_some(ByHand { formula, figures, before })
}

/// Figures of so many letters are put in for what they are worked out for; else its symbol stays.
const SHORT: usize = 24;

/// Name and right-hand side of each line that holds for this call: one that reads a parameter which is left out is left
/// out too.
fn lines(function: &Function, given: &[(String, Setting)]) -> Vec<(String, Setting)> {
    let is_given = |name: &str| given.iter().any(|(each, _)| each == name);
    let left_out = |name: &str| {
        let parameter = function.parameters.iter().find(|each| each.name == name);
        parameter.is_some_and(|each| matches!(each.absent, Absent::Without) && !is_given(name))
    };
    let line = |setting: Setting| match setting {
        Setting::Relation(left, "=", formula) => match *left {
            Setting::Symbol(symbol) => Some((symbol.name, *formula)),
            _ => None,
        },
        _ => None,
    };
    let lines = function.formula.settings().into_iter().filter_map(line);
    let lines = lines.filter(|(_, formula)| !formula.names().into_iter().any(left_out)).collect();
    without_zeros(lines, zeros(function, given))
}

/// The parameters that are 0 because they are not given.
fn zeros(function: &Function, given: &[(String, Setting)]) -> Vec<String> {
    let is_given = |name: &str| given.iter().any(|(each, _)| each == name);
    let zeros = function.parameters.iter().filter(|each| matches!(each.absent, Absent::Number(0.0)));
    zeros.filter(|each| !is_given(each.name)).map(|each| each.name.to_owned()).collect()
}

/// The lines without the terms that are 0.
fn without_zeros(lines: Vec<(String, Setting)>, mut zeros: Vec<String>) -> Vec<(String, Setting)> {
    let mut left = Vec::new();
    for (name, formula) in lines {
        match without(&formula, &zeros) {
            Some(formula) => left.push((name, formula)),
            None => zeros.push(name),
        }
    }
    left
}

/// A formula without its terms that are 0; none if it is 0 itself.
fn without(setting: &Setting, zeros: &[String]) -> Option<Setting> {
    let boxed = |inner: &Setting| without(inner, zeros).map(Box::new);
    Some(match setting {
        Setting::Symbol(symbol) if zeros.contains(&symbol.name) => return None,
        Setting::Sum(terms) => {
            let terms: Vec<_> =
                terms.iter().filter_map(|(sign, term)| Some((*sign, without(term, zeros)?))).collect();
            match &terms[..] {
                [] => return None,
                [(Sign::Plus, only)] => only.clone(),
                _ => Setting::Sum(terms),
            }
        }
        Setting::Product(factors) => {
            Setting::Product(factors.iter().map(|factor| without(factor, zeros)).collect::<Option<_>>()?)
        }
        Setting::Fraction(above, below) => Setting::Fraction(boxed(above)?, below.clone()),
        Setting::Power(base, exponent) => Setting::Power(boxed(base)?, exponent.clone()),
        Setting::Bracket(inner) => match *boxed(inner)? {
            sum @ Setting::Sum(_) => Setting::Bracket(Box::new(sum)),
            single => single,
        },
        Setting::Root(degree, inner) => Setting::Root(*degree, boxed(inner)?),
        Setting::Negative(inner) => Setting::Negative(boxed(inner)?),
        Setting::Size(inner) => Setting::Size(boxed(inner)?),
        other => other.clone(),
    })
}

/// The line of that result, last, and those before it that it rests on.
fn needed_for(output: &str, mut lines: Vec<(String, Setting)>) -> Option<Vec<(String, Setting)>> {
    let last = lines.iter().rposition(|(name, _)| name == output)?;
    lines.truncate(last + 1);
    let mut needed: Vec<(String, Setting)> = Vec::new();
    for (name, formula) in lines.into_iter().rev() {
        let is_read = |(_, later): &(String, Setting)| later.names().contains(name.as_str());
        if needed.is_empty() || needed.iter().any(is_read) {
            needed.insert(0, (name, formula));
        }
    }
    Some(needed)
}

/// The figures of all names: what is given, what stands for the rest, and what the lines before come to.
fn values(
    function: &Function,
    given: &[(String, Setting)],
    lines: &[(String, Setting)],
    known: &dyn Fn(&str) -> Option<Setting>,
) -> Vec<(String, Setting)> {
    let mut values = given.to_vec();
    for parameter in function.parameters {
        if values.iter().any(|(name, _)| name == parameter.name) {
            continue;
        }
        let figure = default_figure(parameter).or_else(|| put_in(&expression_for(parameter)?, &values));
        values.extend(figure.map(|figure| (parameter.name.to_owned(), figure)));
    }
    for (name, _) in lines {
        values.extend(known(name).map(|figure| (name.clone(), figure)));
    }
    values
}
