//! Checks by the decision rule of ISO 14253-1: holds, fails, or not settled.

use std::ops::Range;

use super::super::print;
use super::super::syntax::{Comparison, NodeId};
use super::super::units::Units;
use super::super::value::Quantity;
use super::compare::SAME;
use super::{Entry, Eval, Evaluator, Frame, arithmetic};

/// What a check comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The whole interval of the expanded uncertainty is inside.
    Holds,
    /// The whole interval is outside.
    Fails,
    /// The interval reaches over a limit.
    NotSettled,
}

/// The verdict on a check, with the figures behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    pub outcome: Outcome,
    pub value: Quantity,
    pub comparison: Comparison,
    pub low: Option<Quantity>,
    pub high: Option<Quantity>,
    /// How far the value is inside the nearest limit, negative outside; with the doubt of the comparison.
    pub margin: Quantity,
}

impl Verdict {
    /// The verdict in one word or two.
    pub fn word(&self) -> &'static str {
        match self.outcome {
            Outcome::Holds => "holds",
            Outcome::Fails => "fails",
            Outcome::NotSettled => "not settled",
        }
    }

    /// By how much, and what would settle it: `by 0.0012 in with ± 0.0005 in`.
    pub fn reason(&self, units: &Units) -> String {
        let size = Quantity { value: self.margin.value.abs(), ..self.margin.clone() };
        let printed = print::in_unit(&size, self.margin.printed_unit(units));
        let with_unit =
            |figures: &str| print::Printed { number: figures.to_owned(), ..printed.plain() }.value();
        let distance = printed.plain().value();
        let Some(doubt) = printed.expanded.as_deref().map(with_unit) else {
            return if self.margin.value == 0.0 {
                "it lies on the limit".to_owned()
            } else {
                format!("by {distance}")
            };
        };
        if self.outcome != Outcome::NotSettled {
            return format!("by {distance} with ± {doubt}");
        }
        let is_nought = printed.number.chars().all(|digit| matches!(digit, '0' | '.' | '-'));
        if self.margin.value == 0.0 || is_nought {
            return format!("it lies on the limit, with ± {doubt}");
        }
        let side = if self.margin.value < 0.0 { "outside" } else { "inside" };
        format!("{distance} {side} with ± {doubt}; ± {distance} or better would settle it")
    }
}

impl Evaluator<'_> {
    /// The verdict on `value` held against `low` and `high`.
    pub(crate) fn verdict(
        &mut self,
        entry: &Entry,
        value_at: NodeId,
        comparison: Comparison,
        ends: [Option<NodeId>; 2],
    ) -> Eval<Verdict> {
        let frame = Frame { entry, parameters: &[] };
        let value = self.number(frame, value_at)?.into_owned();
        let mut limits = [None, None];
        for (limit, end) in limits.iter_mut().zip(ends) {
            let Some(end) = end else { continue };
            let quantity = self.number(frame, end)?.into_owned();
            *limit = Some((end, quantity));
        }
        borrow_unit(&mut limits);
        for (end, limit) in limits.iter().flatten() {
            self.comparable(frame, (value_at, &value), (*end, limit))?;
        }
        let [low, high] = limits.map(|limit| limit.map(|(_, quantity)| quantity));
        self.ordered(frame, ends, low.as_ref(), high.as_ref())?;
        Ok(judge(value, comparison, low, high))
    }

    fn ordered(
        &self,
        frame: Frame,
        ends: [Option<NodeId>; 2],
        low: Option<&Quantity>,
        high: Option<&Quantity>,
    ) -> Eval<()> {
        let (Some(low), Some(high), [Some(first), Some(second)]) = (low, high, ends) else { return Ok(()) };
        if low.value <= high.value {
            return Ok(());
        }
        let range: Range<usize> = frame.tree().span(first).start..frame.tree().span(second).end;
        let help = "Write the smaller limit first.";
        Err(super::fault::arithmetic(range, "this range runs backwards", help).into())
    }
}

/// `within 3 .. 6 h`: a plain number before `..` takes the unit behind.
fn borrow_unit(limits: &mut [Option<(NodeId, Quantity)>; 2]) {
    let [Some((_, low)), Some((_, high))] = limits else { return };
    let is_bare = low.unit.is_none() && low.dimension == super::super::dimension::Dimension::NONE;
    if is_bare && !high.unit.is_none() && !high.is_point() && low.doubt.is_none() {
        *low = Quantity::exact(high.unit.to_si(low.value), high.dimension, high.unit);
    }
}

/// The verdict on a value whose limits are known.
pub(in crate::calc) fn judge(
    value: Quantity,
    comparison: Comparison,
    low: Option<Quantity>,
    high: Option<Quantity>,
) -> Verdict {
    let strict = matches!(comparison, Comparison::Less | Comparison::Greater);
    let inside = [
        low.as_ref().map(|low| arithmetic::difference(&value, low)),
        high.as_ref().map(|high| {
            let margin = arithmetic::difference(high, &value);
            Quantity { unit: value.unit.of_difference(), style: value.style, ..margin }
        }),
    ];
    let size = [Some(&value), low.as_ref(), high.as_ref()].into_iter().flatten().map(|each| each.value.abs());
    let same = SAME * size.fold(0.0, f64::max);
    let outcomes = inside.iter().flatten().map(|margin| side(margin, strict, same));
    let outcome = outcomes.fold(Outcome::Holds, worse);
    let nearest = inside.into_iter().flatten().min_by(|a, b| a.value.total_cmp(&b.value));
    let margin = nearest.unwrap_or_else(|| Quantity::number(0.0));
    Verdict { outcome, value, comparison, low, high, margin }
}

/// One limit: `margin` is positive inside.
fn side(margin: &Quantity, strict: bool, same: f64) -> Outcome {
    let doubt = margin.expanded();
    let (least, most) = (margin.value - doubt, margin.value + doubt);
    let holds = if strict { least > same } else { least >= -same };
    let fails = if strict { most <= same } else { most < -same };
    match (holds, fails) {
        (true, _) => Outcome::Holds,
        (_, true) => Outcome::Fails,
        _ => Outcome::NotSettled,
    }
}

/// One limit that is passed for certain is enough; else one that is in doubt.
fn worse(one: Outcome, other: Outcome) -> Outcome {
    match (one, other) {
        (Outcome::Fails, _) | (_, Outcome::Fails) => Outcome::Fails,
        (Outcome::NotSettled, _) | (_, Outcome::NotSettled) => Outcome::NotSettled,
        _ => Outcome::Holds,
    }
}
