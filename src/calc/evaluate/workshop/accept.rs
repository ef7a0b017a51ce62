//! Arguments of a workshop function held against its table.

use std::f64::consts::TAU;
use std::ops::Range;

use crate::calc::dimension::{Dimension, Exponent};
use crate::calc::evaluate::builtin::quantities;
use crate::calc::evaluate::turns::Shown;
use crate::calc::evaluate::user::{Given, missing};
use crate::calc::evaluate::{Eval, Evaluator, arithmetic};
use crate::calc::fault;
use crate::calc::function::{Absent, Function, Parameter, Takes};
use crate::calc::print;
use crate::calc::value::{Quantity, Value, with_article};

impl Evaluator<'_> {
    /// The arguments against the table.
    pub(super) fn accept(
        &mut self,
        function: &Function,
        parameter: &Parameter,
        given: Option<&Given>,
        call: &Range<usize>,
    ) -> Eval<()> {
        let Some(given) = given else {
            return match parameter.absent {
                Absent::Refused => {
                    Err(missing(call.clone(), function.name, parameter.name, parameter.meaning))
                }
                _ => Ok(()),
            };
        };
        let refuse = |needed: &str, help: String| {
            let needed = format!("for `{}` {needed}", parameter.name);
            Err(fault::dimension(given.range.clone(), &needed, &given.value.kind(), help).into())
        };
        match (parameter.takes, &given.value) {
            (Takes::Text, Value::Text(_))
            | (Takes::Truth, Value::Truth(_))
            | (Takes::Material, Value::Record(_)) => Ok(()),
            (Takes::Text, _) => refuse("a text in quotes", meaning_of(parameter)),
            (Takes::Truth, _) => refuse("true or false", meaning_of(parameter)),
            (Takes::Material, _) => refuse("a material", "Write `material(\"its name\")`.".to_owned()),
            (Takes::List(dimension), value) => {
                let list = quantities(value, &given.range)?;
                list.iter().try_for_each(|each| self.number_fits(parameter, each, dimension, given))
            }
            (Takes::Turnings, value) => {
                let list = quantities(value, &given.range)?;
                list.iter().try_for_each(|each| self.turning_fits(parameter, each, given))
            }
            (takes, Value::Quantity(quantity)) => self.quantity_fits(parameter, takes, quantity, given),
            (takes, _) => refuse(&needed(takes), meaning_of(parameter)),
        }
    }

    fn quantity_fits(
        &mut self,
        parameter: &Parameter,
        takes: Takes,
        quantity: &Quantity,
        given: &Given,
    ) -> Eval<()> {
        let range = &given.range;
        let out = |what: &str| {
            let message = format!("`{}` must be {what}", parameter.name);
            Err(fault::out_of_range(range.clone(), message, meaning_of(parameter)).into())
        };
        match takes {
            Takes::TemperaturePoint if quantity.is_point() => Ok(()),
            Takes::TemperaturePoint => {
                let found = Value::Quantity(quantity.clone()).kind();
                let needed = format!("for `{}` a temperature", parameter.name);
                Err(fault::dimension(
                    range.clone(),
                    &needed,
                    &found,
                    "Write it in `degC` or `degF`.".to_owned(),
                )
                .into())
            }
            Takes::Positive(dimension) | Takes::NotNegative(dimension) | Takes::Signed(dimension) => {
                self.number_fits(parameter, quantity, dimension, given)?;
                takes.sign().broken_by(quantity.value).map_or(Ok(()), out)
            }
            Takes::Turning(_) => {
                self.turning_fits(parameter, quantity, given)?;
                takes.sign().broken_by(quantity.value).map_or(Ok(()), out)
            }
            Takes::Angle(_) => {
                self.angle_fits(parameter, quantity, given)?;
                takes.sign().broken_by(quantity.value).map_or(Ok(()), out)
            }
            Takes::PerTurn => {
                self.number_fits(parameter, &of_a_turn(quantity.clone()), Dimension::LENGTH, given)?;
                takes.sign().broken_by(quantity.value).map_or(Ok(()), out)
            }
            _ => {
                self.number_fits(parameter, quantity, Dimension::NONE, given)?;
                let is_count = quantity.value >= 1.0
                    && quantity.value.fract() == 0.0
                    && quantity.value <= f64::from(u32::MAX);
                if is_count && quantity.uncertainty.is_none() {
                    Ok(())
                } else {
                    out("a whole number of one or more")
                }
            }
        }
    }

    fn number_fits(
        &mut self,
        parameter: &Parameter,
        quantity: &Quantity,
        dimension: Dimension,
        given: &Given,
    ) -> Eval<()> {
        if quantity.dimension == dimension && !quantity.is_point() {
            let own = quantity.unit.without_angle();
            let fits = own.dimension() == dimension;
            let unit = if fits { own } else { self.known.units.usual(dimension, quantity.value) };
            return self.show_angle(quantity, &Shown { unit, text: given.text, range: &given.range });
        }
        let needed = format!("for `{}` {}", parameter.name, with_article(&dimension.to_string()));
        let examples = self.known.units.examples(dimension);
        let help = arithmetic::weight_of(dimension, quantity)
            .unwrap_or_else(|| format!("Write it in {examples}: {}.", parameter.meaning));
        let found = Value::Quantity(quantity.clone()).kind();
        Err(fault::dimension(given.range.clone(), &needed, &found, help).into())
    }

    /// A rotational speed counts radians; a bare frequency does not say what it counts.
    fn turning_fits(&mut self, parameter: &Parameter, quantity: &Quantity, given: &Given) -> Eval<()> {
        if quantity.dimension == Dimension::RATE && quantity.angle == Exponent::whole(1) {
            return Ok(());
        }
        if quantity.dimension != Dimension::RATE {
            let needed = format!("for `{}` a rotational speed", parameter.name);
            let help = format!("Write it in rpm, rev/s, rad/s or deg/s: {}.", parameter.meaning);
            let found = Value::Quantity(quantity.clone()).kind();
            return Err(fault::dimension(given.range.clone(), &needed, &found, help).into());
        }
        let rpm = self.known.units.named("rpm").unwrap_or_default();
        let turns = print::in_unit(&Quantity::exact(TAU * quantity.value, Dimension::RATE, rpm), rpm).text();
        Err(fault::bare_frequency(given.range.clone(), parameter.name, given.text, &turns).into())
    }

    /// An angle has its unit, but for none at all.
    fn angle_fits(&mut self, parameter: &Parameter, quantity: &Quantity, given: &Given) -> Eval<()> {
        let is_plain = quantity.dimension == Dimension::NONE;
        let is_nothing = is_plain && quantity.value == 0.0 && quantity.uncertainty.is_none();
        if is_nothing || (is_plain && quantity.angle == Exponent::whole(1)) {
            return Ok(());
        }
        let found = Value::Quantity(quantity.clone()).kind();
        if is_plain {
            return Err(fault::not_an_angle(given.range.clone(), parameter.name, &found, given.text).into());
        }
        let needed = format!("for `{}` an angle", parameter.name);
        let help = format!("Write it in deg or rad: {}.", parameter.meaning);
        Err(fault::dimension(given.range.clone(), &needed, &found, help).into())
    }
}

fn needed(takes: Takes) -> String {
    match takes {
        Takes::Positive(dimension) | Takes::NotNegative(dimension) | Takes::Signed(dimension) => {
            with_article(&dimension.to_string())
        }
        Takes::Turning(_) => "a rotational speed".to_owned(),
        Takes::Angle(_) => "an angle".to_owned(),
        Takes::PerTurn => "a length".to_owned(),
        Takes::TemperaturePoint => "a temperature".to_owned(),
        Takes::Count => "a whole number".to_owned(),
        _ => "another kind of value".to_owned(),
    }
}

pub(super) fn meaning_of(parameter: &Parameter) -> String {
    format!("`{}`: {}.", parameter.name, parameter.meaning)
}

/// A length for each turn, `0.2 mm/rev`, as the length of one turn.
pub(super) fn of_a_turn(quantity: Quantity) -> Quantity {
    if quantity.angle != Exponent::whole(-1) {
        return quantity;
    }
    let unit = quantity.unit.without_angle();
    let uncertainty = quantity.uncertainty.scaled(TAU);
    Quantity { value: TAU * quantity.value, angle: Exponent::ZERO, unit, uncertainty, ..quantity }
}
