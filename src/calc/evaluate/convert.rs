//! `to`: another unit for printing, a workshop fraction, feet and inches.

use std::ops::Range;

use super::super::dimension::Dimension;
use super::super::fault::{self, Fault};
use super::super::syntax::{NodeId, Target};
use super::super::units::Unit;
use super::super::value::{Quantity, Style, Value, with_article};
use super::{Eval, Evaluator, Frame};

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
        let loses_turns = |quantity: &Quantity| {
            quantity.dimension == Dimension::SPEED && quantity.unit.has_angle() && !unit.has_angle()
        };
        if self.names_pi && value.quantity().is_some_and(loses_turns) {
            self.cautions.push(fault::turns_and_pi(range.clone()));
        }
        self.in_unit(value, unit, style, &range)
    }

    fn in_unit(&self, value: Value, unit: Unit, style: Style, range: &Range<usize>) -> Eval<Value> {
        match value {
            Value::Quantity(quantity) => {
                self.fits(&quantity, unit, range)?;
                let style = if style == Style::Chosen { quantity.step_in(unit) } else { style };
                Ok(Value::Quantity(Quantity { unit, style, ..quantity }))
            }
            Value::List(values) => {
                let values = values.iter().map(|each| self.in_unit(each.clone(), unit, style, range));
                Ok(Value::list(values.collect::<Eval<Vec<Value>>>()?))
            }
            other => Err(fault::kind(range.clone(), "a number", &other).into()),
        }
    }

    fn fits(&self, quantity: &Quantity, unit: Unit, range: &Range<usize>) -> Eval<()> {
        if quantity.dimension != unit.dimension() {
            let needed = with_article(&quantity.dimension.to_string());
            let examples = self.known.units.examples(quantity.dimension);
            let message = format!("{} is not a unit for {needed}", unit_name(unit));
            let help = format!("Write `to` and one of: {examples}.");
            return Err(Fault::error("calc-dimension", range.clone(), message, help).into());
        }
        if quantity.is_point() != unit.is_point() {
            return Err(point_and_difference(quantity, range));
        }
        let turns = quantity.unit.has_angle() && unit.has_cycle();
        let cycles = quantity.unit.has_cycle() && unit.has_angle() && quantity.dimension != Dimension::NONE;
        if turns || cycles {
            let help = "Hertz counts whole cycles, and angle is a number of radians: divide or multiply by `2 * pi` first.";
            return Err(fault::dimension(
                range.clone(),
                "a rate of one kind",
                "turns against cycles",
                help.to_owned(),
            )
            .into());
        }
        Ok(())
    }
}

fn unit_name(unit: Unit) -> String {
    if unit.is_none() { "no unit".to_owned() } else { format!("`{unit}`") }
}

fn point_and_difference(quantity: &Quantity, range: &Range<usize>) -> Box<Fault> {
    if quantity.is_point() {
        let help =
            "For kelvin above absolute zero write `absolute(t)`; for a rise subtract another temperature.";
        return fault::temperature(range.clone(), "showing a temperature as a difference", help).into();
    }
    let help =
        "A difference prints in `K` or `degF_diff`; to get a temperature add it to one: `20 degC + dT`.";
    fault::temperature(range.clone(), "showing a difference as a temperature", help).into()
}
