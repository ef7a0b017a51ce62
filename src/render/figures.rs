//! A formula with the figures of one call put in for its parameters.

use crate::calc::expression::{Setting, Sign};
use crate::calc::function::Function;

/// The right-hand side of each line with what the call is given; none where a name has no figure here: a default, or
/// what another line defines.
pub(super) fn of(function: &Function, given: &[(String, Setting)]) -> Vec<Option<Setting>> {
    let line = |setting: Setting| match setting {
        Setting::Relation(_, "=", formula) => put_in(&formula, given),
        _ => None,
    };
    function.formula.settings().into_iter().map(line).collect()
}

/// Names that are numbers themselves.
const CONSTANTS: [&str; 2] = ["pi", "g_n"];

/// A formula with the figures of its names; none where one has no figure.
pub(super) fn put_in(setting: &Setting, given: &[(String, Setting)]) -> Option<Setting> {
    let boxed = |inner: &Setting| put_in(inner, given).map(Box::new);
    let operand = |inner: &Setting| put_in(inner, given).map(|put| bracketed(inner, put));
    Some(match setting {
        Setting::Symbol(symbol) if CONSTANTS.contains(&symbol.name.as_str()) => setting.clone(),
        Setting::Symbol(symbol) => given.iter().find(|(name, _)| *name == symbol.name)?.1.clone(),
        Setting::Number { .. } | Setting::Value(_) | Setting::Text(_) => setting.clone(),
        Setting::Sum(terms) => {
            let terms = terms.iter().enumerate().map(|(index, (sign, term))| {
                let put = if index == 0 { put_in(term, given) } else { operand(term) };
                put.map(|put| (*sign, put))
            });
            Setting::Sum(terms.collect::<Option<Vec<(Sign, Setting)>>>()?)
        }
        Setting::Product(factors) => Setting::Product(factors.iter().map(operand).collect::<Option<_>>()?),
        Setting::Fraction(above, below) => Setting::Fraction(boxed(above)?, boxed(below)?),
        Setting::Power(base, exponent) => {
            Setting::Power(Box::new(raised(base, put_in(base, given)?)), boxed(exponent)?)
        }
        Setting::Root(degree, inner) => Setting::Root(*degree, boxed(inner)?),
        Setting::Size(inner) => Setting::Size(boxed(inner)?),
        Setting::Negative(inner) => Setting::Negative(Box::new(operand(inner)?)),
        Setting::Bracket(inner) => Setting::Bracket(boxed(inner)?),
        // A condition, a list, a field or a call says more with its names.
        _ => return None,
    })
}

/// A figure with a sign or bounds needs a bracket where a name needed none.
fn bracketed(name: &Setting, put: Setting) -> Setting {
    let is_loose = match &put {
        Setting::Row(_) | Setting::Negative(_) | Setting::Sum(_) | Setting::Relation(..) => true,
        Setting::Value(printed) => printed.number.starts_with('-'),
        _ => false,
    };
    if is_loose && matches!(name, Setting::Symbol(_)) { Setting::Bracket(Box::new(put)) } else { put }
}

/// A figure with a unit under an exponent.
fn raised(name: &Setting, put: Setting) -> Setting {
    let is_name = matches!(name, Setting::Symbol(symbol) if !CONSTANTS.contains(&symbol.name.as_str()));
    if is_name { Setting::Bracket(Box::new(put)) } else { put }
}
