//! Calls of workshop functions: arguments checked against the function's table, slopes chained with uncertainty.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::f64::consts::TAU;
use std::ops::Range;

use super::super::dimension::{Dimension, Exponent};
use super::super::fault;
use super::super::function::{
    Absent, Answer, Argument, Call, Field, Function, Gives, Output, Parameter, Refusal, Said, Takes,
};
use super::super::print::{self, places};
use super::super::real::{MAX_INPUTS, Real};
use super::super::rounding::Rounded;
use super::super::uncertainty::Uncertainty;
use super::super::units::{System, Unit};
use super::super::value::{Quantity, Record, Remark, Style, Value, with_article};
use super::builtin::quantities;
use super::search::{Axes, Search};
use super::turns::Shown;
use super::user::{Given, assign, missing};
use super::{Eval, Evaluator, Note, arithmetic, shared_bound};

/// The most uncertain inputs of one call.
const MOST_UNCERTAIN: usize = 10 * MAX_INPUTS;

impl Evaluator<'_> {
    pub(super) fn workshop(
        &mut self,
        function: &'static Function,
        range: &Range<usize>,
        arguments: Vec<Given>,
    ) -> Eval<Value> {
        if let Some(index) = arguments.iter().position(|given| given.value.alternatives().len() > 1) {
            return self.for_each_alternative(function, range, &arguments, index);
        }
        let names: Vec<&str> = function.parameters.iter().map(|parameter| parameter.name).collect();
        let slots = assign(function.name, &names, arguments)?;
        let places: Vec<Range<usize>> = slots
            .iter()
            .map(|slot| slot.as_ref().map_or(range.clone(), |given| given.range.clone()))
            .collect();
        for (parameter, slot) in function.parameters.iter().zip(&slots) {
            self.accept(function, parameter, slot.as_ref(), range)?;
        }
        let values: Vec<Option<Value>> =
            function.parameters.iter().zip(slots).map(|(parameter, slot)| taken(parameter, slot?)).collect();
        let running = Running { function, values: &values, read: RefCell::default() };
        let inputs = running.uncertain();
        if inputs.len() > MOST_UNCERTAIN {
            let message = format!("`{}` has more than {MOST_UNCERTAIN} uncertain inputs here", function.name);
            return Err(fault::argument(range.clone(), message, "Give it a shorter list.".to_owned()).into());
        }
        let refused = |refusal: Refusal| refusal_fault(function, &places, range, refusal);
        let answer = running.answer(0).map_err(refused)?;
        let mut results = Results::new(&answer);
        results.chain(&answer, inputs.chunks(MAX_INPUTS).next().unwrap_or(&[]));
        for (pass, chunk) in inputs.chunks(MAX_INPUTS).enumerate().skip(1) {
            let further = running.answer(pass).map_err(refused)?;
            results.chain(&further, chunk);
        }
        if !inputs.is_empty() {
            self.look_round(&running, &inputs, &answer, &mut results, range)?;
        }
        for (index, value) in values.iter().enumerate() {
            if let Some(Value::Record(record)) = value {
                let read = running.read.borrow();
                self.say_of(record, |field| read.contains(&(index, field.to_owned())));
            }
        }
        self.remember(function, &answer, range);
        self.results(function, &answer, &results, range)
    }

    /// The call with everything that an unsettled argument can be; its result is any of these.
    fn for_each_alternative(
        &mut self,
        function: &'static Function,
        range: &Range<usize>,
        arguments: &[Given],
        index: usize,
    ) -> Eval<Value> {
        let mut result: Option<Value> = None;
        for alternative in arguments[index].value.alternatives() {
            let mut arguments = arguments.to_vec();
            arguments[index].value = alternative.clone();
            let value = self.workshop(function, range, arguments)?;
            result = Some(match result {
                Some(before) => before.or(value, self.sources),
                None => value,
            });
        }
        result.ok_or_else(|| super::held(range.clone()))
    }

    /// Runs the function at further points within the bounds of its inputs.
    fn look_round(
        &mut self,
        running: &Running,
        inputs: &[Quantity],
        answer: &Answer,
        results: &mut Results,
        range: &Range<usize>,
    ) -> Eval<()> {
        let is_open = inputs.iter().any(|input| input.uncertainty.is_open());
        let run = |offsets: &[f64]| running.moved(offsets);
        let mut search = Search::new(Axes::of(inputs), answer, &run);
        if !is_open {
            search.look_round();
        }
        *self.steps += search.runs() as u64;
        if *self.steps > super::MOST_STEPS {
            return Err(fault::too_much_work(range.clone()).into());
        }
        let refused = search.refused.take();
        for (field, (name, value)) in answer.fields.iter().enumerate() {
            results.words[field] = search.words(name).into_iter().cloned().collect();
            for (place, uncertainty) in results.uncertainties[field].iter_mut().enumerate() {
                let before = std::mem::take(uncertainty);
                *uncertainty = match search.found((field, place), &before) {
                    _ if is_open || refused.is_some() => before.open(self.sources),
                    Some(found) => {
                        let at = value.number(place).map_or(0.0, Real::value);
                        let bent = before.bent(found.rest, self.sources);
                        let has_own = matches!(value, Field::Bounded { .. });
                        if has_own { bent } else { bent.within(found.ends.moved(-at)) }
                    }
                    None => before,
                };
            }
        }
        if let Some(refusal) = refused {
            let function = running.function.name;
            self.cautions.push(fault::refused_within_bounds(range.clone(), function, &refusal.message));
        }
        Ok(())
    }

    /// The arguments against the table.
    fn accept(
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

    /// Remarks, warnings and the source of a function that was used.
    fn remember(&mut self, function: &'static Function, answer: &Answer, range: &Range<usize>) {
        let note = |said: Said, is_warning| Note { is_warning, said, function: Some(function.name) };
        let notes = answer.remarks.iter().map(|said| note(said.clone(), false));
        for note in notes.chain(answer.warnings.iter().map(|text| note(text.into(), true))) {
            if !self.notes.contains(&note) {
                self.notes.push(note);
            }
        }
        for text in &answer.warnings {
            let warning = fault::warning(range.clone(), function.name, text);
            if !self.cautions.contains(&warning) {
                self.cautions.push(warning);
            }
        }
        if self.used.iter().all(|used| used.name != function.name) {
            self.used.push(function);
        }
    }

    /// One output alone, or the record of several.
    fn results(
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
                let bound =
                    Uncertainty::bound(shared_bound(self.sources, source), *half_width).plus(uncertainty(0));
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

fn meaning_of(parameter: &Parameter) -> String {
    format!("`{}`: {}.", parameter.name, parameter.meaning)
}

/// The value of an argument as the body takes it.
fn taken(parameter: &Parameter, given: Given) -> Option<Value> {
    match (parameter.takes, given.value) {
        (Takes::PerTurn, Value::Quantity(quantity)) => Some(of_a_turn(quantity).into()),
        (_, value) => Some(value),
    }
}

/// A length for each turn, `0.2 mm/rev`, as the length of one turn.
fn of_a_turn(quantity: Quantity) -> Quantity {
    if quantity.angle != Exponent::whole(-1) {
        return quantity;
    }
    let unit = quantity.unit.without_angle();
    let uncertainty = quantity.uncertainty.scaled(TAU);
    Quantity { value: TAU * quantity.value, angle: Exponent::ZERO, unit, uncertainty, ..quantity }
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

fn refusal_fault(
    function: &Function,
    places: &[Range<usize>],
    call: &Range<usize>,
    refusal: Refusal,
) -> Box<fault::Fault> {
    let index =
        refusal.parameter.and_then(|name| function.parameters.iter().position(|each| each.name == name));
    let range = index.and_then(|index| places.get(index)).unwrap_or(call).clone();
    fault::validity(range, format!("`{}`: {}", function.name, refusal.message), refusal.help).into()
}

/// The accepted arguments of a call.
struct Running<'a> {
    function: &'static Function,
    values: &'a [Option<Value>],
    /// What the body asked of record arguments.
    read: RefCell<BTreeSet<(usize, String)>>,
}

impl Running<'_> {
    /// The system of each argument's unit.
    fn typed(&self) -> Vec<Option<System>> {
        self.values.iter().map(|value| value.as_ref()?.quantity()?.unit.system()).collect()
    }

    /// Every input with uncertainty, in the order in which the arguments hold them.
    fn uncertain(&self) -> Vec<Quantity> {
        let mut inputs = Vec::new();
        self.arguments(&mut |quantity| {
            if !quantity.uncertainty.is_none() {
                inputs.push(quantity.clone());
            }
            Real::rounded(quantity.as_rounded())
        });
        inputs
    }

    /// The body run with slopes by the uncertain inputs of one pass.
    fn answer(&self, pass: usize) -> Result<Answer, Refusal> {
        let (first, mut count) = (pass * MAX_INPUTS, 0);
        let arguments = self.arguments(&mut |quantity| {
            if quantity.uncertainty.is_none() {
                return Real::rounded(quantity.as_rounded());
            }
            let index = count;
            count += 1;
            let is_in_pass = (first..first + MAX_INPUTS).contains(&index);
            let value = quantity.as_rounded();
            if is_in_pass { Real::input(value, index - first) } else { Real::rounded(value) }
        });
        let call = Call::new(self.function, arguments).typed_in(self.typed());
        let answer = self.function.answer(&call);
        self.read.borrow_mut().append(&mut call.read.borrow_mut());
        answer
    }

    /// The body run with every uncertain input moved by its offset, and slopes by the first of them.
    fn moved(&self, offsets: &[f64]) -> Result<Answer, Refusal> {
        let mut count = 0;
        let arguments = self.arguments(&mut |quantity| {
            if quantity.uncertainty.is_none() {
                return Real::rounded(quantity.as_rounded());
            }
            let index = count;
            count += 1;
            let value = Rounded { value: quantity.value + offsets[index], bound: quantity.rounding };
            if index < MAX_INPUTS { Real::input(value, index) } else { Real::rounded(value) }
        });
        self.in_range(&arguments)?;
        self.function.answer(&Call::new(self.function, arguments).typed_in(self.typed()))
    }

    /// Refuses what [`Evaluator::accept`] would refuse of moved inputs.
    fn in_range(&self, arguments: &[Option<Argument>]) -> Result<(), Refusal> {
        for (parameter, argument) in self.function.parameters.iter().zip(arguments) {
            let Some(Argument::Number(real)) = argument else { continue };
            let needed = match parameter.takes {
                Takes::Positive(_) if real.value() <= 0.0 => "above zero",
                Takes::NotNegative(_) if real.value() < 0.0 => "zero or more",
                _ => continue,
            };
            let message = format!("`{}` must be {needed}", parameter.name);
            return Err(Refusal::of(parameter.name, message, meaning_of(parameter)));
        }
        Ok(())
    }

    fn arguments(&self, real: &mut dyn FnMut(&Quantity) -> Real) -> Vec<Option<Argument>> {
        let parameters = self.function.parameters.iter().zip(self.values);
        parameters
            .map(|(parameter, value)| match value {
                Some(value) => Some(argument(parameter.takes, value, real)),
                None => absent(parameter),
            })
            .collect()
    }
}

impl Field {
    /// The number at a place of it.
    pub(super) fn number(&self, place: usize) -> Option<Real> {
        match self {
            Self::Number(real) => Some(*real),
            Self::Count(count) => Some(Real::exact(f64::from(*count))),
            Self::Bounded { middle, .. } => Some(Real::exact(*middle)),
            Self::List(list) => list.get(place).copied(),
            _ => None,
        }
    }
}

fn argument(takes: Takes, value: &Value, real: &mut dyn FnMut(&Quantity) -> Real) -> Argument {
    match (takes, value) {
        // Whole and in range: accepted before.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        (Takes::Count, Value::Quantity(quantity)) => Argument::Count(quantity.value as u32),
        (Takes::List(_) | Takes::Turnings, Value::Quantity(quantity)) => Argument::List(vec![real(quantity)]),
        (_, Value::Quantity(quantity)) => Argument::Number(real(quantity)),
        (_, Value::Text(text)) => Argument::Text(text.to_string()),
        (_, Value::Truth(truth)) => Argument::Truth(*truth),
        (_, Value::List(values)) => {
            Argument::List(values.iter().filter_map(Value::quantity).map(real).collect())
        }
        (_, Value::Record(record)) => Argument::Fields(fields(record, real)),
        // Every alternative has a call of its own; one deep in a record counts as what the middles give.
        (_, Value::Either(all)) => match all.first() {
            Some(first) => argument(takes, first, real),
            None => Argument::Text(String::new()),
        },
    }
}

fn fields(record: &Record, real: &mut dyn FnMut(&Quantity) -> Real) -> Vec<(String, Argument)> {
    let plain = record.fields.iter().filter(|(_, value)| !matches!(value, Value::Record(_)));
    plain.map(|(name, value)| (name.clone(), argument(Takes::Text, value, real))).collect()
}

fn absent(parameter: &Parameter) -> Option<Argument> {
    match parameter.absent {
        Absent::Refused | Absent::Without | Absent::From(_) => None,
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        Absent::Number(number) if matches!(parameter.takes, Takes::Count) => {
            Some(Argument::Count(number as u32))
        }
        Absent::Number(number) => Some(Argument::Number(Real::exact(number))),
        Absent::Words(words) => Some(Argument::Text(words.to_owned())),
        Absent::Truth(truth) => Some(Argument::Truth(truth)),
    }
}

/// The uncertainties of an answer's numbers, by field and place in it.
struct Results {
    uncertainties: Vec<Vec<Uncertainty>>,
    /// By field, where it is no number: all that it can be.
    words: Vec<Vec<Field>>,
}

impl Results {
    fn new(answer: &Answer) -> Self {
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
    fn chain(&mut self, answer: &Answer, inputs: &[Quantity]) {
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
