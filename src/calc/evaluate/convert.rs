//! `to`: another unit for printing, a workshop fraction, feet and inches.

use std::ops::Range;

use super::super::fault::{self, Code, Fault};
use super::super::syntax::{NodeId, Target};
use super::super::units::Unit;
use super::super::value::{Quantity, Style, Value, with_article};
use super::arithmetic;
use super::turns::Shown;
use super::{Eval, Evaluator, Frame, Stop};

impl Evaluator<'_> {
    pub(super) fn convert(&mut self, frame: Frame, inner: NodeId, target: u32, id: NodeId) -> Eval<Value> {
        let value = self.node(frame, inner)?;
        let target = frame.tree().targets[target as usize];
        let (unit, style) = match target {
            Target::Unit(unit) => (unit, Style::Chosen),
            Target::Fraction(denominator, unit) => (unit, Style::Fraction(denominator)),
            Target::FeetInches => (self.known.units.named("in").unwrap_or_default(), Style::FeetInches),
        };
        let range = frame.tree().span(id);
        let text = &frame.entry.line.text[frame.tree().span(inner)];
        self.in_unit(value, style, &Shown { unit, text, range: &range })
    }

    fn in_unit(&mut self, value: Value, style: Style, shown: &Shown) -> Eval<Value> {
        let unit = shown.unit;
        match value {
            Value::Quantity(quantity) => {
                self.fits(&quantity, unit, shown.range)?;
                self.show_angle(&quantity, shown)?;
                let style = if style == Style::Chosen { quantity.step_in(unit) } else { style };
                Ok(Value::Quantity(Quantity { unit, angle: unit.angle(), style, ..quantity }))
            }
            Value::List(values) => {
                let values = values.iter().map(|each| self.in_unit(each.clone(), style, shown));
                Ok(Value::list(values.collect::<Eval<Vec<Value>>>()?))
            }
            other => Err(fault::kind(shown.range.clone(), "a number", &other).into()),
        }
    }

    fn fits(&self, quantity: &Quantity, unit: Unit, range: &Range<usize>) -> Eval<()> {
        if quantity.dimension != unit.dimension() {
            let needed = with_article(&quantity.dimension.to_string());
            let examples = self.known.units.examples(quantity.dimension);
            let message = format!("{} is not a unit for {needed}", unit_name(unit));
            let help = arithmetic::weight_of(unit.dimension(), quantity)
                .unwrap_or_else(|| format!("Write `to` and one of: {examples}."));
            return Err(Fault::new(Code::Dimension, range.clone(), message, help).into());
        }
        if quantity.is_point() != unit.is_point() {
            return Err(point_and_difference(quantity, range));
        }
        Ok(())
    }
}

fn unit_name(unit: Unit) -> String {
    if unit.is_none() { "no unit".to_owned() } else { format!("`{unit}`") }
}

fn point_and_difference(quantity: &Quantity, range: &Range<usize>) -> Stop {
    if quantity.is_point() {
        let help =
            "For kelvin above absolute zero write `absolute(t)`; for a rise subtract another temperature.";
        return fault::temperature(range.clone(), "showing a temperature as a difference", help).into();
    }
    let help =
        "A difference prints in `K` or `degF_diff`; to get a temperature add it to one: `20 degC + dT`.";
    fault::temperature(range.clone(), "showing a difference as a temperature", help).into()
}
