//! Comparisons, conditions and `and`, `or`, `not`.

use super::super::fault;
use super::super::span::Span;
use super::super::syntax::{Comparison, NodeId, Operator};
use super::super::value::{Quantity, Value, with_article};
use super::{Eval, Evaluator, Frame, arithmetic};

/// A truth over all that the values can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Truth {
    /// By the values themselves.
    pub is_true: bool,
    /// It is the same throughout their bounds.
    pub is_settled: bool,
}

impl Truth {
    const fn sure(is_true: bool) -> Self {
        Self { is_true, is_settled: true }
    }

    fn and(self, other: Self) -> Self {
        let is_false = |each: Self| each.is_settled && !each.is_true;
        let is_settled = (self.is_settled && other.is_settled) || is_false(self) || is_false(other);
        Self { is_true: self.is_true && other.is_true, is_settled }
    }

    fn not(self) -> Self {
        Self { is_true: !self.is_true, ..self }
    }

    pub(super) fn value(self) -> Value {
        let truths = [self.is_true, !self.is_true].map(Value::Truth);
        let [sure, _] = &truths;
        if self.is_settled { sure.clone() } else { Value::Either(truths.into()) }
    }
}

impl Evaluator<'_> {
    pub(super) fn truth(&mut self, frame: Frame, id: NodeId) -> Eval<Truth> {
        let value = self.node(frame, id)?;
        match value.alternatives() {
            [Value::Truth(truth)] => Ok(Truth::sure(*truth)),
            [Value::Truth(is_true), Value::Truth(_)] => Ok(Truth { is_true: *is_true, is_settled: false }),
            _ => Err(fault::kind(frame.tree().span(id), "a condition", &value).into()),
        }
    }

    pub(super) fn not(&mut self, frame: Frame, inner: NodeId) -> Eval<Value> {
        Ok(self.truth(frame, inner)?.not().value())
    }

    pub(super) fn logic(
        &mut self,
        frame: Frame,
        operator: Operator,
        left: NodeId,
        right: NodeId,
    ) -> Eval<Value> {
        let before = self.cautions.len();
        let left = self.truth(frame, left)?;
        let right = self.truth(frame, right)?;
        let truth = match operator {
            Operator::And => left.and(right),
            _ => left.not().and(right.not()).not(),
        };
        if truth.is_settled {
            self.settle(before);
        }
        Ok(truth.value())
    }

    /// Takes back what was said of conditions since there were so many cautions: what they are part of is settled.
    fn settle(&mut self, before: usize) {
        let said = self.cautions.split_off(before);
        self.cautions.extend(said.into_iter().filter(|caution| !fault::is_unsettled(caution)));
    }

    /// The branch that a condition chooses; where it is not settled, all that both can be.
    pub(super) fn branch(&mut self, frame: Frame, [condition, then, otherwise]: [NodeId; 3]) -> Eval<Value> {
        let truth = self.truth(frame, condition)?;
        let [chosen, other] = if truth.is_true { [then, otherwise] } else { [otherwise, then] };
        let value = self.node(frame, chosen)?;
        if truth.is_settled {
            return Ok(value);
        }
        let other = self.node(frame, other)?;
        Ok(value.or(other, self.sources))
    }

    pub(super) fn compare(
        &mut self,
        frame: Frame,
        id: NodeId,
        comparison: Comparison,
        left: NodeId,
        right: NodeId,
    ) -> Eval<Value> {
        let (a, b) = (self.node(frame, left)?, self.node(frame, right)?);
        let truth = match (&a, &b) {
            (Value::Quantity(one), Value::Quantity(other)) => {
                self.comparable(frame, (left, one), (right, other))?;
                compared(comparison, &arithmetic::difference(one, other))
            }
            _ => {
                let equal = is_equal(&a, &b);
                match comparison {
                    Comparison::Equal => equal,
                    Comparison::Unequal => equal.not(),
                    _ => {
                        let (odd, place) = if a.quantity().is_none() { (a, left) } else { (b, right) };
                        return Err(fault::kind(frame.tree().span(place), "a number", &odd).into());
                    }
                }
            }
        };
        if !truth.is_settled {
            self.cautions.push(fault::unsettled_condition(frame.tree().span(id)));
        }
        Ok(truth.value())
    }

    /// Refuses to compare what is not of one kind.
    pub(super) fn comparable(
        &mut self,
        frame: Frame,
        a: (NodeId, &Quantity),
        b: (NodeId, &Quantity),
    ) -> Eval<()> {
        if a.1.dimension == b.1.dimension && a.1.is_point() == b.1.is_point() {
            let text = |node| &frame.entry.line.text[frame.tree().span(node)];
            let whole = frame.tree().span(a.0).start..frame.tree().span(b.0).end;
            return self.same_turns(&whole, [(a.1, text(a.0)), (b.1, text(b.0))]);
        }
        let side = |(node, quantity): (NodeId, &Quantity)| {
            let name =
                if quantity.is_point() { "temperature".to_owned() } else { quantity.dimension.to_string() };
            (frame.tree().span(node), with_article(&name))
        };
        let whole = frame.tree().span(a.0).start..frame.tree().span(b.0).end;
        let mut fault = fault::unlike(whole, "comparing", side(a), side(b));
        fault.help = arithmetic::weight(a.1, b.1).unwrap_or_else(|| {
            format!("Compare it with a value in {}.", self.known.units.examples(a.1.dimension))
        });
        Err(fault.into())
    }
}

/// Whether two values are the same in all that they can be.
fn is_equal(one: &Value, other: &Value) -> Truth {
    let pairs = one.alternatives().iter().flat_map(|a| other.alternatives().iter().map(move |b| a == b));
    let pairs: Vec<bool> = pairs.collect();
    let is_true = pairs.first().copied().unwrap_or_default();
    Truth { is_true, is_settled: pairs.iter().all(|each| *each == is_true) }
}

/// A comparison by the difference of its sides.
fn compared(comparison: Comparison, difference: &Quantity) -> Truth {
    let is_true = holds(comparison, difference.value);
    if difference.shows_no_uncertainty() {
        return Truth::sure(is_true);
    }
    let Span { low, high } = difference.uncertainty.decisive().moved(difference.value);
    let is_settled = match comparison {
        Comparison::Less | Comparison::AtLeast => high < 0.0 || low >= 0.0,
        Comparison::AtMost | Comparison::Greater => high <= 0.0 || low > 0.0,
        _ => high < 0.0 || low > 0.0,
    };
    Truth { is_true, is_settled }
}

/// Whether a comparison holds by the difference of its sides.
pub(in crate::calc) fn holds(comparison: Comparison, difference: f64) -> bool {
    match comparison {
        Comparison::Less => difference < 0.0,
        Comparison::AtMost => difference <= 0.0,
        Comparison::Greater => difference > 0.0,
        Comparison::AtLeast => difference >= 0.0,
        Comparison::Unequal => difference != 0.0,
        Comparison::Equal | Comparison::Within => difference == 0.0,
    }
}
