//! Calls of workshop functions: arguments checked against the function's table, slopes chained with uncertainty.

mod accept;
mod results;
mod running;

use std::cell::RefCell;
use std::ops::Range;

use super::super::fault;
use super::super::function::{Answer, Field, Function, Refusal, Said};
use super::super::real::{MAX_INPUTS, Real};
use super::super::value::{Quantity, Value};
use super::search::{Axes, Search};
use super::user::{Given, assign};
use super::{Eval, Evaluator, Note, Stop};
use results::Results;
use running::{Running, taken};

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
        let mut passes = vec![answer];
        for pass in 1..inputs.len().div_ceil(MAX_INPUTS) {
            passes.push(running.answer(pass).map_err(refused)?);
        }
        for (answer, chunk) in passes.iter().zip(inputs.chunks(MAX_INPUTS)) {
            results.chain(answer, chunk);
        }
        if !inputs.is_empty() {
            self.look_round(&running, &inputs, &passes, &mut results, range)?;
        }
        let answer = &passes[0];
        for (index, value) in values.iter().enumerate() {
            if let Some(Value::Record(record)) = value {
                let read = running.read.borrow();
                self.say_of(record, |field| read.contains(&(index, field.to_owned())));
            }
        }
        self.remember(function, answer, range);
        self.results(function, answer, &results, range)
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
        result.ok_or(Stop::Blocked)
    }

    /// Runs the function at further points within the bounds of its inputs.
    fn look_round(
        &mut self,
        running: &Running,
        inputs: &[Quantity],
        passes: &[Answer],
        results: &mut Results,
        range: &Range<usize>,
    ) -> Eval<()> {
        let is_open = inputs.iter().any(|input| input.uncertainty.is_open());
        let run = |offsets: &[f64]| running.moved(offsets);
        let [answer, ..] = passes else { return Ok(()) };
        let mut search = Search::new(Axes::of(inputs), passes, &run);
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
}

fn refusal_fault(
    function: &Function,
    places: &[Range<usize>],
    call: &Range<usize>,
    refusal: Refusal,
) -> Stop {
    let index =
        refusal.parameter.and_then(|name| function.parameters.iter().position(|each| each.name == name));
    let range = index.and_then(|index| places.get(index)).unwrap_or(call).clone();
    fault::validity(range, format!("`{}`: {}", function.name, refusal.message), refusal.help).into()
}
