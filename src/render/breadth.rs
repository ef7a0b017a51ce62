//! How much room a formula takes, in letters of the text: enough to tell what fits beside what.

use super::mathematics::plain;
use crate::calc::expression::{Figures, Setting, Symbol};

/// Letters of a formula that stand in one line of the main column.
pub(super) const LINE: usize = 60;

/// About how many letters wide it comes out.
pub(super) fn letters(setting: &Setting) -> usize {
    let sum = |pieces: Vec<&Setting>, between: usize| {
        let count = pieces.len();
        pieces.into_iter().map(letters).sum::<usize>() + between * count.saturating_sub(1)
    };
    match setting {
        Setting::Symbol(symbol) => symbol_letters(symbol),
        Setting::Number { figures, unit } => figure_letters(figures) + unit_letters(unit),
        Setting::Value(printed) => {
            let power = if printed.power == 0 { 0 } else { 4 };
            printed.number.chars().count() + power + unit_letters(&printed.unit)
        }
        Setting::Text(text) => text.chars().count(),
        Setting::Sum(_) | Setting::Relation(..) => sum(setting.pieces(), 3),
        Setting::Product(_) | Setting::List(_) | Setting::Row(_) => sum(setting.pieces(), 2),
        Setting::Fraction(above, below) => letters(above).max(letters(below)) + 1,
        Setting::Power(base, exponent) => letters(base) + letters(exponent).div_ceil(2),
        Setting::Cases { condition, then, otherwise } => {
            letters(then).max(letters(otherwise)) + letters(condition) + 8
        }
        Setting::Call { name, .. } => plain(name).chars().count() + 2 + sum(setting.pieces(), 2),
        Setting::Field(inner, field) => field.chars().count() + 4 + letters(inner),
        Setting::Root(..) | Setting::Size(_) | Setting::Negative(_) | Setting::Bracket(_) => {
            sum(setting.pieces(), 0) + 2
        }
    }
}

/// What stands below the line is smaller.
fn symbol_letters(symbol: &Symbol) -> usize {
    let below = symbol.subscript.iter().map(|below| below.chars().count()).sum::<usize>();
    symbol.base.chars().count() + below
}

fn unit_letters(unit: &str) -> usize {
    if unit.is_empty() { 0 } else { unit.chars().count() + 1 }
}

fn figure_letters(figures: &Figures) -> usize {
    match figures {
        Figures::Decimal(text) => text.chars().count(),
        Figures::Scientific(mantissa, _) => mantissa.chars().count() + 5,
        Figures::Mixed(whole, above, below) => whole.chars().count() + above.len().max(below.len()) + 1,
    }
}

/// Whether it is higher than a line of text.
pub(super) fn is_tall(setting: &Setting) -> bool {
    let is_stacked = match setting {
        Setting::Fraction(..) | Setting::Cases { .. } | Setting::Root(..) | Setting::Power(..) => true,
        Setting::Number { figures, .. } => matches!(figures, Figures::Mixed(..)),
        _ => false,
    };
    is_stacked || setting.pieces().into_iter().any(is_tall)
}
