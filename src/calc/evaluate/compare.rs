//! Comparisons, conditions and `and`, `or`, `not`.

use super::super::fault;
use super::super::syntax::{Comparison, NodeId, Operator};
use super::super::value::{Quantity, Value, with_article};
use super::{Eval, Evaluator, Frame, arithmetic};

/// Two numbers closer than this, relatively, are the same number.
pub(super) const SAME: f64 = 1e-12;

impl Evaluator<'_> {
    pub(super) fn truth(&mut self, frame: Frame, id: NodeId) -> Eval<bool> {
        match self.node(frame, id)? {
            Value::Truth(truth) => Ok(truth),
            other => Err(fault::kind(frame.tree().span(id), "a condition", &other).into()),
        }
    }

    pub(super) fn logic(
        &mut self,
        frame: Frame,
        operator: Operator,
        left: NodeId,
        right: NodeId,
    ) -> Eval<Value> {
        let left = self.truth(frame, left)?;
        let right = self.truth(frame, right)?;
        Ok(Value::Truth(if operator == Operator::And { left && right } else { left || right }))
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
        let (Value::Quantity(a), Value::Quantity(b)) = (&a, &b) else {
            return match comparison {
                Comparison::Equal => Ok(Value::Truth(a == b)),
                Comparison::Unequal => Ok(Value::Truth(a != b)),
                _ => {
                    let (odd, place) = if a.quantity().is_none() { (a, left) } else { (b, right) };
                    Err(fault::kind(frame.tree().span(place), "a number", &odd).into())
                }
            };
        };
        self.comparable(frame, (left, a), (right, b))?;
        let difference = arithmetic::difference(a, b);
        if !difference.doubt.is_none() && difference.value.abs() < difference.expanded() {
            self.cautions.push(fault::unsettled_condition(frame.tree().span(id)));
        }
        let same = difference.value.abs() <= SAME * a.value.abs().max(b.value.abs());
        Ok(Value::Truth(holds(comparison, difference.value, same)))
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

fn holds(comparison: Comparison, difference: f64, same: bool) -> bool {
    match comparison {
        Comparison::Less => difference < 0.0 && !same,
        Comparison::AtMost => difference < 0.0 || same,
        Comparison::Greater => difference > 0.0 && !same,
        Comparison::AtLeast => difference > 0.0 || same,
        Comparison::Unequal => !same,
        Comparison::Equal | Comparison::Within => same,
    }
}
