//! Turns and radians. Angle counts as a number of radians, so nothing refuses a feed for each turn that is multiplied by
//! `rpm`: where an angle falls away or appears without a word, both readings are reported, and how to write each.

use std::f64::consts::TAU;
use std::ops::Range;

use super::super::dimension::{Dimension, Exponent};
use super::super::fault::{self, Reading, Subject};
use super::super::print;
use super::super::syntax::{Node, NodeId, Operator};
use super::super::units::{FOOT_MARKS, INCH_MARKS, Unit};
use super::super::value::{Quantity, Value};
use super::{Entry, Eval, Evaluator, Site};

const ONE: Exponent = Exponent::whole(1);

/// A unit that a quantity is to show in, and the text that gave the quantity.
pub(super) struct Shown<'a> {
    pub unit: Unit,
    pub text: &'a str,
    pub range: &'a Range<usize>,
}

impl Evaluator<'_> {
    /// The angle in a product; a moment takes it up, since its work is that for each radian.
    pub(super) fn angle_of_product(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Exponent {
        let turned = |moment, node, other: &Quantity| is_moment(site, moment, node) && other.angle == ONE;
        if turned(a, site.left, b) || turned(b, site.right, a) {
            return Exponent::ZERO;
        }
        match (a.angle.is_zero(), b.angle.is_zero()) {
            (true, false) => self.note_partner(site, a, site.left),
            (false, true) => self.note_partner(site, b, site.right),
            _ => {}
        }
        a.angle.plus(b.angle).unwrap_or_default()
    }

    /// The angle in a quotient; power over a moment is a rotational speed.
    pub(super) fn angle_of_quotient(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Exponent {
        if a.dimension == Dimension::POWER && is_moment(site, b, site.right) && a.angle.is_zero() {
            return ONE;
        }
        if a.dimension == Dimension::SPEED && b.dimension == Dimension::LENGTH && b.angle.is_zero() {
            self.note_partner(site, b, site.right);
        }
        let below = b.angle.times(Exponent::whole(-1)).unwrap_or_default();
        a.angle.plus(below).unwrap_or_default()
    }

    /// Keeps what stands beside an angle, and may be for each turn or for each radian.
    fn note_partner(&mut self, site: &Site, partner: &Quantity, node: NodeId) {
        if [Dimension::NONE, Dimension::TIME, Dimension::RATE].contains(&partner.dimension) {
            return;
        }
        let tree = site.frame.tree();
        let text = &site.frame.entry.line.text[tree.span(node)];
        let subject = match tree.node(node) {
            Node::Literal(index)
                if tree.literals[index as usize].ends_in_a_unit()
                    && !text.ends_with(INCH_MARKS)
                    && !text.ends_with(FOOT_MARKS) =>
            {
                Subject::Literal(text.to_owned())
            }
            Node::Binary(Operator::Add | Operator::Subtract, ..) => Subject::Formula(format!("({text})")),
            _ => Subject::Formula(text.to_owned()),
        };
        self.partners.push(subject);
    }

    /// Refuses or cautions where a quantity shows in a unit with another power of angle.
    pub(super) fn show_angle(&mut self, quantity: &Quantity, shown: &Shown) -> Eval<()> {
        let (has, shows) = (quantity.angle, shown.unit.angle());
        if has == shows || quantity.value == 0.0 {
            return Ok(());
        }
        if let Some(fault) = self.against_cycles(quantity, shown) {
            return Err(fault.into());
        }
        if self.is_usual(quantity, shown.unit) {
            return Ok(());
        }
        let power = shows.as_number() - has.as_number();
        let fault = match (quantity.dimension == Dimension::NONE, shown.unit.has_turn()) {
            (true, false) if has.is_zero() => fault::plain_to_angle(shown.range.clone(), shown.text),
            _ => self.both_readings(quantity, shown, power),
        };
        self.caution_once(fault);
        Ok(())
    }

    /// `50 Hz to rpm`: cycles against turns, unless the formula has turned one into the other by `pi`.
    fn against_cycles(&self, quantity: &Quantity, shown: &Shown) -> Option<fault::Fault> {
        let to_turns = quantity.unit.has_cycle() && shown.unit.has_angle();
        let to_cycles = quantity.unit.has_angle() && shown.unit.has_cycle();
        let is_mixed = quantity.dimension != Dimension::NONE && (to_turns || to_cycles) && !self.names_pi;
        is_mixed.then(|| fault::turns_against_cycles(shown.range.clone(), shown.text, to_cycles))
    }

    /// Where only radians can be meant, or where they were asked for.
    fn is_usual(&self, quantity: &Quantity, unit: Unit) -> bool {
        let (has, shows) = (quantity.angle, unit.angle());
        let by_pi = self.names_pi && quantity.unit.has_cycle() | unit.has_cycle();
        let is_torque = quantity.dimension == Dimension::MOMENT && !unit.is_single();
        let is_square = (shows.as_number() - has.as_number()).abs() == 2.0 && !self.names_pi;
        let asks_for_radians =
            has.is_zero() && shows == ONE && unit.of_angle() == self.known.units.named("rad");
        let is_small = quantity.value.abs() <= TAU || self.names_pi;
        let is_plain = quantity.dimension == Dimension::NONE && has.is_zero() && !unit.has_turn();
        by_pi
            || (is_torque && has == Exponent::whole(-1))
            || is_square
            || (asks_for_radians && !(self.names_pi && quantity.dimension != Dimension::NONE))
            || (is_plain && is_small)
    }

    fn both_readings(&self, quantity: &Quantity, shown: &Shown, power: f64) -> fault::Fault {
        let figure = |value: f64| {
            let exact = Quantity::exact(value, quantity.dimension, shown.unit);
            print::quantity(&exact, self.known.units).text()
        };
        let reading = Reading {
            radians: figure(quantity.value),
            turns: figure(quantity.value * libm::pow(TAU, power)),
            falls_away: quantity.angle.as_number().abs() > shown.unit.angle().as_number().abs(),
        };
        match &self.partners[..] {
            [only] if power.abs() == 1.0 => fault::partner(shown.range.clone(), only, &reading),
            _ => fault::turns_or_radians(shown.range.clone(), shown.text, power, &reading),
        }
    }

    fn caution_once(&mut self, caution: fault::Fault) {
        if !self.cautions.contains(&caution) {
            self.cautions.push(caution);
        }
    }

    /// Refuses cycles beside turns, and cautions where only one of two values that are set against each other counts
    /// an angle.
    pub(super) fn same_turns(
        &mut self,
        range: &Range<usize>,
        [(a, text_of_a), (b, text_of_b)]: [(&Quantity, &str); 2],
    ) -> Eval<()> {
        if a.angle == b.angle || a.value == 0.0 || b.value == 0.0 {
            return Ok(());
        }
        let ((with, text), (without, other)) = match a.angle.is_zero() {
            true => ((b, text_of_b), (a, text_of_a)),
            false => ((a, text_of_a), (b, text_of_b)),
        };
        if without.unit.has_cycle() && with.angle == ONE && !self.names_pi {
            return Err(fault::cycles_beside_turns(range.clone(), other, text).into());
        }
        let unit = with.printed_unit(self.known.units);
        let is_rate = without.angle.is_zero() && unit.angle() == with.angle;
        if is_rate {
            return self.show_angle(without, &Shown { unit, text: other, range });
        }
        let unit = without.printed_unit(self.known.units);
        self.show_angle(with, &Shown { unit, text, range })
    }

    /// The value of a line in the angle that its printed unit shows.
    pub(crate) fn settled(&mut self, entry: &Entry, node: NodeId, value: Value) -> Eval<Value> {
        let Value::Quantity(quantity) = value else { return Ok(value) };
        let is_shown = matches!(entry.line.tree.node(node), Node::Convert(..));
        let quantity = if is_shown { quantity } else { self.without_cycles(quantity) };
        let unit = quantity.printed_unit(self.known.units);
        if unit.angle() == quantity.angle {
            return Ok(Value::Quantity(quantity));
        }
        let range = entry.line.tree.span(node);
        self.show_angle(&quantity, &Shown { unit, text: &entry.line.text[range.clone()], range: &range })?;
        Ok(Value::Quantity(Quantity { angle: unit.angle(), unit, ..quantity }))
    }

    /// `2 * pi * 50 Hz` is no number of hertz.
    fn without_cycles(&self, quantity: Quantity) -> Quantity {
        if !self.names_pi || quantity.dimension != Dimension::RATE || !quantity.unit.has_cycle() {
            return quantity;
        }
        let unit = self.known.units.parse("1/s").unwrap_or_default();
        Quantity { unit, ..quantity }
    }
}

/// A moment that has a name or was typed as one, in its own unit: not a force times a length that may be for each turn,
/// nor an energy.
fn is_moment(site: &Site, quantity: &Quantity, node: NodeId) -> bool {
    let is_product = matches!(site.frame.tree().node(node), Node::Binary(..));
    quantity.dimension == Dimension::MOMENT
        && quantity.angle.is_zero()
        && !quantity.unit.is_single()
        && !is_product
}

/// The angle in a power; the root of a rate squared, as of stiffness over mass, counts radians.
pub(super) fn of_power(base: &Quantity, dimension: Dimension, exponent: Exponent) -> Exponent {
    let is_natural = dimension == Dimension::RATE && base.angle.is_zero() && exponent.denominator() == 2;
    if is_natural { ONE } else { base.angle.times(exponent).unwrap_or_default() }
}
