//! Calls of workshop functions: arguments checked against the function's table, slopes chained with doubt.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::f64::consts::TAU;
use std::ops::Range;

use super::super::dimension::{Dimension, Exponent};
use super::super::doubt::Doubt;
use super::super::fault;
use super::super::function::{
    Absent, Answer, Argument, Call, Field, Function, Gives, Parameter, Refusal, Takes,
};
use super::super::print::{self, places};
use super::super::real::{MAX_INPUTS, Real};
use super::super::units::{System, Unit};
use super::super::value::{Quantity, Record, Remark, Style, Value, with_article};
use super::builtin::quantities;
use super::turns::Shown;
use super::user::{Given, assign, missing};
use super::{Eval, Evaluator, Note, arithmetic, shared_bound, smooth};

/// The most uncertain inputs of one call.
const MOST_UNCERTAIN: usize = 10 * MAX_INPUTS;

impl Evaluator<'_> {
    pub(super) fn workshop(
        &mut self,
        function: &'static Function,
        range: &Range<usize>,
        arguments: Vec<Given>,
    ) -> Eval<Value> {
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
        if running.is_curved(&inputs, &answer) {
            self.say_curved(range.clone(), &format!("`{}`", function.name));
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
                if is_count && quantity.doubt.is_none() {
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
        let is_nothing = is_plain && quantity.value == 0.0 && quantity.doubt.is_none();
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
        let note = |text: &String, is_warning| Note {
            is_warning,
            text: text.clone(),
            function: Some(function.name),
        };
        let notes = answer.remarks.iter().map(|text| note(text, false));
        for note in notes.chain(answer.warnings.iter().map(|text| note(text, true))) {
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
            let value =
                self.result(&answer.fields[index].1, output.gives, answer.system, &results.doubts[index]);
            let infinite = |quantity: &Quantity| !quantity.value.is_finite() || !quantity.doubt.is_finite();
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
                let remarks = of.map(|(of, text)| Remark { function: function.name, of, text: text.clone() });
                Ok(Value::remarked(fields, remarks.collect()))
            }
            (_, None) => Ok(Value::record(fields)),
        }
    }

    fn result(&mut self, field: &Field, gives: Gives, system: Option<System>, doubts: &[Doubt]) -> Value {
        let Printing { dimension, unit, style } = self.printing(gives, system);
        let quantity = |value: f64, doubt: Doubt| {
            let exact = Quantity { style, ..Quantity::exact(value, dimension, unit) }.with_all_figures();
            let with_doubt = Quantity { doubt, ..exact.clone() };
            Value::Quantity(if with_doubt.shows_no_doubt() { exact } else { with_doubt })
        };
        let doubt = |place: usize| doubts.get(place).cloned().unwrap_or_default();
        match field {
            Field::Number(real) => quantity(real.value(), doubt(0)),
            Field::Bounded { middle, half_width, source } => {
                let bound = Doubt::bound(shared_bound(self.sources, source), *half_width);
                quantity(*middle, bound)
            }
            Field::Count(count) => Value::number(f64::from(*count)),
            Field::Text(text) => Value::text(text),
            Field::Truth(truth) => Value::Truth(*truth),
            Field::List(list) => {
                let values =
                    list.iter().enumerate().map(|(place, real)| quantity(real.value(), doubt(place)));
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
    let doubt = quantity.doubt.scaled(TAU);
    Quantity { value: TAU * quantity.value, angle: Exponent::ZERO, unit, doubt, ..quantity }
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

    /// Every input with doubt, in the order in which the arguments hold them.
    fn uncertain(&self) -> Vec<Quantity> {
        let mut inputs = Vec::new();
        self.arguments(&mut |quantity| {
            if !quantity.doubt.is_none() {
                inputs.push(quantity.clone());
            }
            Real::exact(quantity.value)
        });
        inputs
    }

    /// The body run with slopes by the uncertain inputs of one pass.
    fn answer(&self, pass: usize) -> Result<Answer, Refusal> {
        let (first, mut count) = (pass * MAX_INPUTS, 0);
        let arguments = self.arguments(&mut |quantity| {
            if quantity.doubt.is_none() {
                return Real::exact(quantity.value);
            }
            let index = count;
            count += 1;
            let is_in_pass = (first..first + MAX_INPUTS).contains(&index);
            if is_in_pass { Real::input(quantity.value, index - first) } else { Real::exact(quantity.value) }
        });
        let call = Call::new(self.function, arguments).typed_in(self.typed());
        let answer = (self.function.body)(&call);
        self.read.borrow_mut().append(&mut call.read.borrow_mut());
        answer
    }

    /// The body run with one uncertain input moved by `shift`, and no slopes.
    fn shifted(&self, moved: usize, shift: f64) -> Result<Answer, Refusal> {
        let mut count = 0;
        let arguments = self.arguments(&mut |quantity| {
            let is_moved = !quantity.doubt.is_none() && count == moved;
            count += usize::from(!quantity.doubt.is_none());
            Real::exact(if is_moved { quantity.value + shift } else { quantity.value })
        });
        (self.function.body)(&Call::new(self.function, arguments).typed_in(self.typed()))
    }

    /// Whether the results bend too much, or end, within the interval of some input.
    fn is_curved(&self, inputs: &[Quantity], answer: &Answer) -> bool {
        inputs.iter().enumerate().take(MAX_INPUTS).any(|(index, input)| {
            let width = input.doubt.worst();
            if width <= LITTLE * input.value.abs() {
                return false;
            }
            let (Ok(low), Ok(high)) = (self.shifted(index, -width), self.shifted(index, width)) else {
                return true;
            };
            answer.fields.iter().any(|(name, field)| {
                let (Field::Number(here), Some(below), Some(above)) =
                    (field, number(&low, name), number(&high, name))
                else {
                    return false;
                };
                smooth::is_poor(here.value(), here.slopes()[index] * width, below, above)
            })
        })
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

/// An input known to a thousandth does not bend anything.
const LITTLE: f64 = 1e-3;

fn number(answer: &Answer, name: &str) -> Option<f64> {
    let (_, field) = answer.fields.iter().find(|(each, _)| *each == name)?;
    if let Field::Number(real) = field { Some(real.value()) } else { None }
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
    }
}

fn fields(record: &Record, real: &mut dyn FnMut(&Quantity) -> Real) -> Vec<(String, Argument)> {
    let plain = record.fields.iter().filter(|(_, value)| !matches!(value, Value::Record(_)));
    plain.map(|(name, value)| (name.clone(), argument(Takes::Text, value, real))).collect()
}

fn absent(parameter: &Parameter) -> Option<Argument> {
    match parameter.absent {
        Absent::Refused | Absent::Without => None,
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        Absent::Number(number) if matches!(parameter.takes, Takes::Count) => {
            Some(Argument::Count(number as u32))
        }
        Absent::Number(number) => Some(Argument::Number(Real::exact(number))),
        Absent::Words(words) => Some(Argument::Text(words.to_owned())),
        Absent::Truth(truth) => Some(Argument::Truth(truth)),
    }
}

/// The doubts of an answer's numbers, by field and place in it.
struct Results {
    doubts: Vec<Vec<Doubt>>,
}

impl Results {
    fn new(answer: &Answer) -> Self {
        let count = |field: &Field| match field {
            Field::Number(_) => 1,
            Field::List(list) => list.len(),
            _ => 0,
        };
        Self { doubts: answer.fields.iter().map(|(_, field)| vec![Doubt::NONE; count(field)]).collect() }
    }

    /// Adds what the inputs of one pass contribute.
    fn chain(&mut self, answer: &Answer, inputs: &[Quantity]) {
        for ((_, field), doubts) in answer.fields.iter().zip(&mut self.doubts) {
            let numbers: &[Real] = match field {
                Field::Number(real) => std::slice::from_ref(real),
                Field::List(list) => list,
                _ => &[],
            };
            for (real, doubt) in numbers.iter().zip(doubts) {
                let parts = inputs.iter().zip(real.slopes()).map(|(input, slope)| (&input.doubt, *slope));
                let sum = Doubt::sum(parts.chain([(&*doubt, 1.0)]));
                *doubt = sum;
            }
        }
    }
}
