//! Calls a workshop function by hand, as the engine would after its checks: arguments by name, defaults filled in.
//!
//! ```text
//! let fit = Calling::of(press::FUNCTIONS, "press_fit").number("d", 0.04).material("hub", &STEEL).answer();
//! fit.number("pressure");
//! ```

use asfound::calc::function::{Absent, Answer, Argument, Call, Field, Function, Refusal, Takes};
use asfound::calc::real::Real;

/// The arguments given so far; every number is an input of its own, so that answers carry slopes.
#[derive(Clone)]
pub(super) struct Calling {
    function: &'static Function,
    arguments: Vec<Option<Argument>>,
    inputs: Vec<f64>,
}

/// What came back.
#[derive(Debug)]
pub(super) struct Answered(pub Answer);

impl Calling {
    /// A call of the family's function of that name.
    pub(super) fn of(family: &[&'static Function], name: &str) -> Self {
        let function =
            family.iter().find(|each| each.name == name).unwrap_or_else(|| panic!("no function {name}"));
        let arguments = function.parameters.iter().map(|each| absent(each.absent)).collect();
        Self { function, arguments, inputs: Vec::new() }
    }

    /// An input in SI units.
    pub(super) fn number(mut self, name: &str, value: f64) -> Self {
        let real = self.input(value);
        self.put(name, Argument::Number(real))
    }

    pub(super) fn count(self, name: &str, value: u32) -> Self {
        self.put(name, Argument::Count(value))
    }

    pub(super) fn text(self, name: &str, value: &str) -> Self {
        self.put(name, Argument::Text(value.to_owned()))
    }

    pub(super) fn truth(self, name: &str, value: bool) -> Self {
        self.put(name, Argument::Truth(value))
    }

    /// A list in SI units.
    pub(super) fn list(mut self, name: &str, values: &[f64]) -> Self {
        let reals = values.iter().map(|value| self.input(*value)).collect();
        self.put(name, Argument::List(reals))
    }

    /// A material by its fields (`E`, `poisson`, `yield`, …), in SI units.
    pub(super) fn material(mut self, name: &str, fields: &[(&str, f64)]) -> Self {
        let name_field = ("name".to_owned(), Argument::Text("test material".to_owned()));
        let numbers: Vec<_> = fields
            .iter()
            .map(|(field, value)| ((*field).to_owned(), Argument::Number(self.input(*value))))
            .collect();
        self.put(name, Argument::Fields(std::iter::once(name_field).chain(numbers).collect()))
    }

    /// The answer; a refusal fails the test with its words.
    #[track_caller]
    pub(super) fn answer(&self) -> Answered {
        self.outcome().unwrap_or_else(|refusal| panic!("{}: {refusal:?}", self.function.name))
    }

    /// The answer or the refusal.
    pub(super) fn outcome(&self) -> Result<Answered, Refusal> {
        for (parameter, argument) in self.function.parameters.iter().zip(&self.arguments) {
            let required = matches!(parameter.absent, Absent::Refused);
            assert!(!required || argument.is_some(), "{} needs {}", self.function.name, parameter.name);
        }
        self.function
            .answer(&Call::new(self.function, self.arguments.clone()))
            .map(|answer| self.declared(answer))
    }

    /// Every output slope against a central difference of the whole call, each input moved by a relative 1e-6
    /// (1e-9 for an input that is zero).
    #[track_caller]
    pub(super) fn assert_slopes(&self, output: &str, rtol: f64) {
        let here = self.answer().real(output);
        for (index, value) in self.inputs.iter().enumerate() {
            let step = if *value == 0.0 { 1e-9 } else { value.abs() * 1e-6 };
            let high = self.moved(index, step).answer().number(output);
            let low = self.moved(index, -step).answer().number(output);
            let difference = (high - low) / (2.0 * step);
            let slope = here.slopes()[index];
            let noise = 1e-9 * here.value().abs() / step;
            assert!(
                (slope - difference).abs() <= rtol * slope.abs().max(difference.abs()) + noise,
                "{} {output} by input {index}: slope {slope:e}, difference {difference:e}",
                self.function.name
            );
        }
    }

    fn moved(&self, index: usize, step: f64) -> Self {
        let mut moved = self.clone();
        let value = self.inputs[index] + step;
        moved.arguments.iter_mut().flatten().for_each(|argument| replace(argument, index, value));
        moved
    }

    fn input(&mut self, value: f64) -> Real {
        self.inputs.push(value);
        Real::input(value, self.inputs.len() - 1)
    }

    fn put(mut self, name: &str, argument: Argument) -> Self {
        let index = self.function.parameters.iter().position(|each| each.name == name);
        let index = index.unwrap_or_else(|| panic!("{} takes no {name}", self.function.name));
        assert!(accepts(self.function.parameters[index].takes, &argument), "{name} takes another kind");
        self.arguments[index] = Some(argument);
        self
    }

    fn declared(&self, answer: Answer) -> Answered {
        let declared: Vec<_> = self.function.outputs.iter().map(|each| each.name).collect();
        let given: Vec<_> = answer.fields.iter().map(|(name, _)| *name).collect();
        assert_eq!(given, declared, "{}: outputs as declared", self.function.name);
        Answered(answer)
    }
}

impl Answered {
    fn field(&self, name: &str) -> &Field {
        let found = self.0.fields.iter().find(|(each, _)| *each == name);
        &found.unwrap_or_else(|| panic!("no output {name}")).1
    }

    pub(super) fn real(&self, name: &str) -> Real {
        match self.field(name) {
            Field::Number(real) => *real,
            other => panic!("{name} is {other:?}"),
        }
    }

    pub(super) fn number(&self, name: &str) -> f64 {
        match self.field(name) {
            Field::Number(real) => real.value(),
            Field::Bounded { middle, .. } => *middle,
            Field::Count(count) => f64::from(*count),
            other => panic!("{name} is {other:?}"),
        }
    }

    pub(super) fn text(&self, name: &str) -> &str {
        match self.field(name) {
            Field::Text(text) => text,
            other => panic!("{name} is {other:?}"),
        }
    }

    pub(super) fn list(&self, name: &str) -> Vec<f64> {
        match self.field(name) {
            Field::List(list) => list.iter().map(|each| each.value()).collect(),
            other => panic!("{name} is {other:?}"),
        }
    }
}

fn absent(absent: Absent) -> Option<Argument> {
    match absent {
        Absent::Refused | Absent::Without | Absent::From(_) => None,
        Absent::Number(value) => Some(Argument::Number(Real::exact(value))),
        Absent::Words(words) => Some(Argument::Text(words.to_owned())),
        Absent::Truth(truth) => Some(Argument::Truth(truth)),
    }
}

fn accepts(takes: Takes, argument: &Argument) -> bool {
    match argument {
        Argument::Number(_) => matches!(
            takes,
            Takes::Positive(_)
                | Takes::NotNegative(_)
                | Takes::Signed(_)
                | Takes::Turning(_)
                | Takes::Angle(_)
                | Takes::PerTurn
                | Takes::TemperaturePoint
        ),
        Argument::Count(_) => matches!(takes, Takes::Count),
        Argument::Text(_) => matches!(takes, Takes::Text),
        Argument::Truth(_) => matches!(takes, Takes::Truth),
        Argument::List(_) => matches!(takes, Takes::List(_) | Takes::Turnings),
        Argument::Fields(_) => matches!(takes, Takes::Material),
    }
}

/// Gives the input number `index` another value, wherever it stands.
fn replace(argument: &mut Argument, index: usize, value: f64) {
    let put = |real: &mut Real| {
        if real.slopes()[index] != 0.0 {
            *real = Real::input(value, index);
        }
    };
    match argument {
        Argument::Number(real) => put(real),
        Argument::List(list) => list.iter_mut().for_each(put),
        Argument::Fields(fields) => fields.iter_mut().for_each(|(_, each)| replace(each, index, value)),
        Argument::Count(_) | Argument::Text(_) | Argument::Truth(_) => {}
    }
}
