//! Functions of a list: sum, product, mean, the largest and the smallest.

use std::ops::Range;

use crate::calc::dimension::Dimension;
use crate::calc::evaluate::{Eval, Evaluator};
use crate::calc::fault;
use crate::calc::rounding::Rounded;
use crate::calc::span::Span;
use crate::calc::uncertainty::Uncertainty;
use crate::calc::value::{Quantity, Value};

/// The sum of all.
pub(super) fn total(list: &[Quantity]) -> Quantity {
    let none = Rounded::plain(0.0);
    let value = list.iter().fold(none, |sum, each| Rounded::sum(sum, each.as_rounded(), 1.0));
    let uncertainty = Uncertainty::sum(list.iter().map(|each| (&each.uncertainty, 1.0)));
    let first = list.first().cloned().unwrap_or_else(|| Quantity::number(0.0));
    Quantity { uncertainty, ..first }.rounded(value)
}

/// The product of plain numbers without uncertainty: teeth, counts.
pub(super) fn product(_: &mut Evaluator, range: &Range<usize>, list: &[Quantity]) -> Eval<Quantity> {
    if let Some(odd) = list.iter().find(|each| each.dimension != Dimension::NONE || each.is_point()) {
        let found = Value::Quantity(odd.clone()).kind();
        let help = "Multiply values with units one by one: `a*b*c`.".to_owned();
        return Err(fault::dimension(range.clone(), "plain numbers", &found, help).into());
    }
    if list.iter().any(|each| !each.uncertainty.is_none()) {
        let message = "`product` is of numbers without uncertainty".to_owned();
        return Err(
            fault::argument(range.clone(), message, "Multiply them one by one: `a*b*c`.".to_owned()).into()
        );
    }
    let one = Rounded::plain(1.0);
    let value = list.iter().fold(one, |product, each| Rounded::product(product, each.as_rounded()));
    Ok(Quantity::number(0.0).rounded(value))
}

pub(super) fn mean(_: &mut Evaluator, _: &Range<usize>, list: &[Quantity]) -> Eval<Quantity> {
    let (sum, count) = (total(list), number_of(list.len()));
    let value = Rounded::quotient(sum.as_rounded(), count.as_rounded());
    Ok(Quantity { uncertainty: sum.uncertainty.clone().scaled(1.0 / count.value), ..sum }.rounded(value))
}

pub(super) fn number_of(count: usize) -> Quantity {
    Quantity::number(u32::try_from(count).map_or(f64::INFINITY, f64::from))
}

/// The largest (`sign` 1) or the smallest (-1), with room for all that can be it.
pub(super) fn extreme(eval: &mut Evaluator, list: &[Quantity], sign: f64) -> Quantity {
    let mut best = 0;
    for (index, each) in list.iter().enumerate() {
        if sign * each.value > sign * list[best].value {
            best = index;
        }
    }
    let best = &list[best];
    let (mut beyond, mut ends) = (0.0_f64, best.ends());
    for each in list.iter().filter(|each| !(each.uncertainty.is_none() && best.uncertainty.is_none())) {
        let by = Uncertainty::of_difference(&each.uncertainty, &best.uncertainty)
            .span()
            .moved(each.value - best.value);
        beyond = if sign > 0.0 { beyond.max(by.high) } else { beyond.min(by.low) };
        let Span { low, high } = each.ends();
        ends = match sign > 0.0 {
            true => Span::new(ends.low.max(low), ends.high.max(high)),
            false => Span::new(ends.low.min(low), ends.high.min(high)),
        };
    }
    let rest = Span::new(beyond.min(0.0), beyond.max(0.0));
    let uncertainty = best.uncertainty.clone().bent(rest, eval.sources).within(ends.moved(-best.value));
    Quantity { uncertainty, ..best.clone() }
}
