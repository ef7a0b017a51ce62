//! What a workshop function answers, as values that print in their units.

use std::ops::Range;

use crate::calc::dimension::Dimension;
use crate::calc::evaluate::{Eval, Evaluator};
use crate::calc::fault;
use crate::calc::function::{Answer, Field, Function, Gives, Output};
use crate::calc::print::places;
use crate::calc::real::Real;
use crate::calc::rounding::Rounded;
use crate::calc::uncertainty::Uncertainty;
use crate::calc::units::{System, Unit};
use crate::calc::value::{Quantity, Remark, Style, Value};

/// The uncertainties of an answer's numbers, by field and place in it.
pub(super) struct Results {
    pub(super) uncertainties: Vec<Vec<Uncertainty>>,
    /// By field, where it is no number: all that it can be.
    pub(super) words: Vec<Vec<Field>>,
}

impl Results {
    pub(super) fn new(answer: &Answer) -> Self {
        let count = |field: &Field| match field {
            Field::Number(_) | Field::Count(_) | Field::Bounded { .. } => 1,
            Field::List(list) => list.len(),
            _ => 0,
        };
        let words = answer.fields.iter().map(|_| Vec::new()).collect();
        Self {
            words,
            uncertainties: answer
                .fields
                .iter()
                .map(|(_, field)| vec![Uncertainty::NONE; count(field)])
                .collect(),
        }
    }

    /// Adds what the inputs of one pass contribute.
    pub(super) fn chain(&mut self, answer: &Answer, inputs: &[Quantity]) {
        for ((_, field), uncertainties) in answer.fields.iter().zip(&mut self.uncertainties) {
            let numbers: &[Real] = match field {
                Field::Number(real) => std::slice::from_ref(real),
                Field::List(list) => list,
                _ => &[],
            };
            for (real, uncertainty) in numbers.iter().zip(uncertainties) {
                let parts =
                    inputs.iter().zip(real.slopes()).map(|(input, slope)| (&input.uncertainty, *slope));
                let sum = Uncertainty::sum(parts.chain([(&*uncertainty, 1.0)]));
                *uncertainty = sum;
            }
        }
    }
}

impl Field {
    /// The number at a place of it.
    pub(in crate::calc::evaluate) fn number(&self, place: usize) -> Option<Real> {
        match self {
            Self::Number(real) => Some(*real),
            Self::Count(count) => Some(Real::exact(f64::from(*count))),
            Self::Bounded { middle, .. } => Some(Real::exact(*middle)),
            Self::List(list) => list.get(place).copied(),
            _ => None,
        }
    }
}

impl Evaluator<'_> {
    /// One output alone, or the record of several.
    pub(super) fn results(
        &mut self,
        function: &'static Function,
        answer: &Answer,
        results: &Results,
        range: &Range<usize>,
    ) -> Eval<Value> {
        let mut fields = Vec::with_capacity(function.outputs.len());
        for output in function.outputs {
            // An output that the body leaves out (a side that was not asked for) is not in the record.
            let Some(index) = answer.fields.iter().position(|(name, _)| *name == output.name) else {
                continue;
            };
            let value = self.any_of(output, answer, results, index);
            let infinite =
                |quantity: &Quantity| !quantity.value.is_finite() || !quantity.uncertainty.is_finite();
            if value.quantity().is_some_and(infinite) {
                let message = format!("`{}` of `{}` has no finite value here", output.name, function.name);
                let help = format!("It holds for: {}", function.validity);
                return Err(fault::validity(range.clone(), message, help).into());
            }
            fields.push((output.name.to_owned(), value));
        }
        match (function.outputs.len(), fields.pop()) {
            (1, Some((_, only))) => Ok(only),
            (_, Some(last)) => {
                fields.push(last);
                let of = answer.remarks_of.iter();
                let remarks = of.map(|(of, said)| Remark { function: function.name, of, said: said.clone() });
                Ok(Value::remarked(fields, remarks.collect()))
            }
            (_, None) => Ok(Value::record(fields)),
        }
    }

    /// A result, or all that it can be where that is not settled.
    fn any_of(&mut self, output: &Output, answer: &Answer, results: &Results, index: usize) -> Value {
        let uncertainties = &results.uncertainties[index];
        let first = self.result(&answer.fields[index].1, output.gives, answer.system, uncertainties);
        let others = results.words[index].iter().skip(1);
        others.fold(first, |all, word| {
            let word = self.result(word, output.gives, answer.system, uncertainties);
            all.or(word, self.sources)
        })
    }

    fn result(
        &mut self,
        field: &Field,
        gives: Gives,
        system: Option<System>,
        uncertainties: &[Uncertainty],
    ) -> Value {
        let Printing { dimension, unit, style } = self.printing(gives, system);
        let quantity = |value: Rounded, uncertainty: Uncertainty| {
            let exact =
                Quantity { style, ..Quantity::exact(value.value, dimension, unit) }.with_all_figures();
            let exact = exact.rounded(value);
            let with_uncertainty = Quantity { uncertainty, ..exact.clone() };
            Value::Quantity(if with_uncertainty.shows_no_uncertainty() { exact } else { with_uncertainty })
        };
        let uncertainty = |place: usize| uncertainties.get(place).cloned().unwrap_or_default();
        match field {
            Field::Number(real) => quantity(real.as_rounded(), uncertainty(0)),
            Field::Bounded { middle, half_width, source } => {
                let source = self.sources.shared(source.clone());
                let bound = Uncertainty::bound(source, *half_width).plus(uncertainty(0));
                quantity(Rounded::typed(*middle), bound)
            }
            Field::Count(count) => {
                Quantity { uncertainty: uncertainty(0), ..Quantity::number(f64::from(*count)) }.into()
            }
            Field::Text(text) => Value::text(text),
            Field::Truth(truth) => Value::Truth(*truth),
            Field::List(list) => {
                let values = list
                    .iter()
                    .enumerate()
                    .map(|(place, real)| quantity(real.as_rounded(), uncertainty(place)));
                Value::list(values.collect())
            }
        }
    }

    /// How an output prints in the system that its answer asks for, else in the dossier's.
    fn printing(&self, gives: Gives, system: Option<System>) -> Printing {
        let (Gives::Quantity { dimension, metric, inch } | Gives::List { dimension, metric, inch }) = gives
        else {
            return Printing { dimension: Dimension::NONE, unit: Unit::NONE, style: Style::Chosen };
        };
        let units = self.known.units;
        let system = system.unwrap_or(units.settings().system);
        let (name, style) = step(if system == System::Inch { inch } else { metric });
        // A table writes money as `money`, which is the dossier's own.
        let unit = if name == "money" { Some(units.money()) } else { units.parse(name).ok() };
        Printing { dimension, unit: unit.unwrap_or_default(), style }
    }
}

struct Printing {
    dimension: Dimension,
    unit: Unit,
    style: Style,
}

/// The unit of an output, and the step in front of it as a style: `0.0001 in` prints four decimals.
fn step(unit: &'static str) -> (&'static str, Style) {
    let Some((step, name)) = unit.split_once(' ').filter(|(step, _)| step.parse::<f64>().is_ok()) else {
        return (unit, Style::Chosen);
    };
    (name, Style::Step(u8::try_from(places(step)).unwrap_or(u8::MAX)))
}
