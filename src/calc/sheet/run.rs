//! The evaluation of a project, step by step.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use rayon::iter::{IntoParallelIterator, ParallelIterator};

use super::names::{Catalogue, Defined, Functions, Names, resolve};
use super::order::order;
use super::outcome::{BlockOutcome, Evaluation, LineOutcome, Place, QuoteOutcome, Reference, ScopeOutcome};
use super::text::{Logical, logical};
use super::{Named, Scope, SourceLine};
use crate::calc::cause::Dominant;
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::evaluate::{Entry, Evaluator, Known, MOST_STEPS, Meaning, Stop, constants};
use crate::calc::expression::Put;
use crate::calc::fault::{self, Fault, Severity};
use crate::calc::function::{Function, Said};
use crate::calc::line::{self, Worked};
use crate::calc::print;
use crate::calc::syntax::{self, Statement};
use crate::calc::uncertainty::Sources;
use crate::calc::units::Units;
use crate::calc::value::Value;

/// An evaluation under way.
pub(super) struct Run<'a> {
    scopes: &'a [Scope],
    units: &'a Units,
    functions: Functions,
    sources: Sources,
    given: Vec<&'a [(String, Value)]>,
    names: Vec<Names>,
    entries: Vec<Entry>,
    /// Where each entry comes from.
    origins: Vec<Origin>,
    values: Vec<Option<Value>>,
    worked: Vec<Option<Worked>>,
    /// In the coordinates of the files.
    faults: Vec<Fault>,
    /// By entry: lines that must not be worked out, because of a fault already reported.
    stuck: Vec<bool>,
    /// Lines that can't be read, with their place among the lines of their block.
    faulty: Vec<Origin>,
}

/// Where a line or a quote stands.
#[derive(Clone, Debug)]
struct Origin {
    scope: usize,
    /// The block, or none for a quote.
    block: Option<usize>,
    /// Its place among the lines of the block, or among the quotes.
    place: usize,
    text: Logical,
}

impl<'a> Run<'a> {
    pub(super) fn new(
        scopes: &'a [Scope],
        units: &'a Units,
        functions: &[&'static Function],
        sources: Sources,
    ) -> Self {
        Self {
            scopes,
            units,
            functions: Functions::new(functions),
            sources,
            given: scopes.iter().map(|scope| scope.given.as_slice()).collect(),
            names: scopes.iter().map(Names::of).collect(),
            entries: Vec::new(),
            origins: Vec::new(),
            values: Vec::new(),
            worked: Vec::new(),
            faults: Vec::new(),
            stuck: Vec::new(),
            faulty: Vec::new(),
        }
    }

    pub(super) fn finish(mut self) -> Evaluation {
        self.read();
        let needs = self.resolve();
        self.work_out(&needs);
        self.gather()
    }

    /// Every line and quote as a tree.
    fn read(&mut self) {
        for (scope, each) in self.scopes.iter().enumerate() {
            for (block, lines) in each.blocks.iter().enumerate() {
                for (place, text) in logical(&lines.lines).into_iter().enumerate() {
                    self.read_line(Origin { scope, block: Some(block), place, text });
                }
            }
            for (place, quote) in each.quotes.iter().enumerate() {
                let text = Logical::of(&SourceLine { text: quote.text.clone(), offset: quote.offset });
                self.read_line(Origin { scope, block: None, place, text });
            }
        }
    }

    fn read_line(&mut self, origin: Origin) {
        let line = match syntax::parse(&origin.text.text, self.units) {
            Ok(line) => line,
            Err(fault) => {
                self.faults.push(origin.place(*fault));
                self.know_by_name(&origin);
                self.know_feature(&origin, None);
                self.faulty.push(origin);
                return;
            }
        };
        if line.statement == Statement::Nothing && line.comment.is_none() {
            return;
        }
        if origin.block.is_none() && !matches!(line.statement, Statement::Show { .. }) {
            self.faults.push(origin.place(fault::no_quote(0..line.text.len())));
            return;
        }
        if let Some(name) = line.defines() {
            let is_function = matches!(line.statement, Statement::DefineFunction { .. });
            self.define(line.at(name), name.range(), is_function, Some(self.entries.len()), &origin);
        }
        self.know_feature(&origin, Some(self.entries.len()));
        let constants = constants(&line, &mut self.sources);
        let block = origin.block.unwrap_or(usize::MAX);
        self.entries.push(Entry { scope: origin.scope, block, line, meanings: Vec::new(), constants });
        self.origins.push(origin);
    }

    /// Keeps the name that a line defines which can't be read, so that its use is no second fault.
    fn know_by_name(&mut self, origin: &Origin) {
        if let Some(head) = syntax::head(&origin.text.text, self.units) {
            let name = &origin.text.text[head.name.clone()];
            self.define(name, head.name, head.is_function, None, origin);
        }
    }

    /// What a quote is called elsewhere.
    fn named_quote(&self, origin: &Origin) -> Option<&'a Named> {
        let quote = origin.block.is_none().then(|| self.scopes[origin.scope].quotes.get(origin.place));
        quote.flatten()?.named.as_ref()
    }

    fn know_feature(&mut self, origin: &Origin, entry: Option<usize>) {
        if let Some(named) = self.named_quote(origin) {
            self.names[origin.scope].add_feature(&named.name, entry);
        }
    }

    fn define(
        &mut self,
        name: &str,
        range: Range<usize>,
        is_function: bool,
        entry: Option<usize>,
        origin: &Origin,
    ) {
        let names = &mut self.names[origin.scope];
        if let Some(first) = names.first(name) {
            // The label stands in the file already.
            let fault = origin.place(fault::redefined(range, name)).label(first.range.clone(), "first here");
            self.faults.push(fault);
            return;
        }
        let defined = Defined {
            entry,
            block: origin.block.unwrap_or(usize::MAX),
            is_function,
            range: origin.text.in_file(&range),
        };
        names.add(name, defined, self.units);
    }

    /// Gives every name its meaning; the result is what each entry needs.
    fn resolve(&mut self) -> Vec<Vec<usize>> {
        let mut ids = BTreeMap::new();
        for (index, scope) in self.scopes.iter().enumerate() {
            ids.entry(scope.id.as_str()).or_insert(index);
        }
        let mut needs = Vec::with_capacity(self.entries.len());
        let mut told = Vec::new();
        let catalogue = Catalogue {
            units: self.units,
            functions: &self.functions,
            ids: &ids,
            scopes: &self.names,
            given: &self.given,
        };
        for (index, entry) in self.entries.iter_mut().enumerate() {
            join_names(&mut entry.line, &catalogue);
            let (meanings, faults) = resolve(&entry.line, entry.scope, entry.block, &catalogue);
            told.extend(faults.into_iter().map(|fault| (index, fault)));
            needs.push(meanings.iter().filter_map(line_of).collect());
            entry.meanings = meanings;
        }
        self.stuck = vec![false; self.entries.len()];
        for (index, mut fault) in told {
            self.stuck[index] |= fault.severity() == Severity::Error;
            // A definition further on is reported in the coordinates of the file.
            let elsewhere = std::mem::take(&mut fault.labels);
            let fault = self.origins[index].place(fault);
            let labels =
                elsewhere.into_iter().map(|label| fault::Label { scope: fault.scope, ..label }).collect();
            self.faults.push(Fault { labels, ..fault });
        }
        needs
    }

    fn work_out(&mut self, needs: &[Vec<usize>]) {
        let order = order(needs);
        let mut told = vec![false; self.entries.len()];
        for circle in &order.circles {
            self.tell_circle(circle);
            circle.iter().for_each(|entry| told[*entry] = true);
        }
        self.stuck.iter_mut().zip(told).for_each(|(stuck, told)| *stuck |= told);
        self.values = vec![None; self.entries.len()];
        self.worked = vec![None; self.entries.len()];
        let mut steps = 0;
        for entry in order.lines {
            self.stuck[entry] |= needs[entry].iter().any(|need| self.stuck[*need]);
            // Past the limit one fault is enough: what follows is not worked out.
            self.stuck[entry] |= steps > MOST_STEPS;
            if !self.stuck[entry] {
                self.work_out_line(entry, &mut steps);
            }
        }
    }

    fn work_out_line(&mut self, index: usize, steps: &mut u64) {
        let known =
            Known { units: self.units, entries: &self.entries, values: &self.values, given: &self.given };
        let mut evaluator = Evaluator::new(known, &mut self.sources, steps);
        let result = line::work_out(&mut evaluator, &self.entries[index]);
        let cautions = std::mem::take(&mut evaluator.cautions);
        for caution in cautions {
            self.tell(caution, index);
        }
        match result {
            Ok(worked) => {
                self.values[index] = self.seen(index, worked.value.as_ref());
                self.tell_verdict(&worked, index);
                self.worked[index] = Some(worked);
            }
            Err(Stop::Blocked) => {}
            Err(Stop::Fault(fault)) => self.tell(*fault, index),
        }
    }

    /// What others see of a value.
    fn seen(&mut self, index: usize, value: Option<&Value>) -> Option<Value> {
        let becomes = self.named_quote(&self.origins[index]).map(|named| &named.becomes);
        let other = becomes.zip(value).and_then(|(becomes, value)| becomes(value, &mut self.sources));
        other.or_else(|| value.cloned())
    }

    fn tell_verdict(&mut self, worked: &Worked, index: usize) {
        let Some(verdict) = &worked.verdict else { return };
        let length = self.entries[index].line.text.trim_end().len();
        match verdict.outcome {
            Outcome::Holds => {}
            Outcome::Fails => self.tell(fault::check_fails(0..length, &verdict.reason(self.units)), index),
            Outcome::NotSettled => {
                let dominant = Dominant::of(&verdict.margin, &self.sources);
                let reason = verdict.reason(self.units);
                self.tell(fault::check_not_settled(0..length, &reason, dominant.as_ref()), index);
            }
        }
    }

    fn tell_circle(&mut self, circle: &[usize]) {
        let scope = self.entries[circle[0]].scope;
        let alone = circle.iter().all(|entry| self.entries[*entry].scope == scope);
        let name = |entry: &usize| {
            let line = &self.entries[*entry].line;
            let name = line.defines().map_or("this line", |name| line.at(name));
            if alone {
                name.to_owned()
            } else {
                format!("@{}.{name}", self.scopes[self.entries[*entry].scope].id)
            }
        };
        let mut names: Vec<String> = circle.iter().map(name).collect();
        names.push(names[0].clone());
        let first = &self.entries[circle[0]].line;
        let range = first.defines().map_or(0..first.text.len(), syntax::Span::range);
        self.tell(fault::circle(range, &names), circle[0]);
    }

    /// Keeps a fault of an entry.
    fn tell(&mut self, fault: Fault, entry: usize) {
        self.faults.push(self.origins[entry].place(fault));
    }

    /// Lines back in their blocks.
    fn gather(mut self) -> Evaluation {
        let mut scopes: Vec<ScopeOutcome> = self.scopes.iter().map(empty).collect();
        let mut used: BTreeMap<&str, &'static Function> = BTreeMap::new();
        let mut said: BTreeSet<(usize, Said)> = BTreeSet::new();
        for (origin, mut outcome) in self.outcomes() {
            // A remark stands once a note, under the first line that it is about.
            outcome.notes.retain(|note| note.is_warning || said.insert((origin.scope, note.said.clone())));
            used.extend(outcome.functions.iter().map(|function| (function.name, *function)));
            put(&mut scopes[origin.scope], &origin, outcome, self.units);
        }
        self.faults.sort_by(|a, b| {
            (a.scope, a.range.start, a.range.end).cmp(&(b.scope, b.range.start, b.range.end))
        });
        let (assumptions, checks) = lists(&scopes);
        Evaluation {
            scopes,
            assumptions,
            checks,
            assumed_ton: self.assumed_ton(),
            used: used.into_values().collect(),
            faults: self.faults,
            sources: self.sources,
        }
    }

    /// Every line as it is set out, in the order in which they stand.
    fn outcomes(&mut self) -> Vec<(Origin, LineOutcome)> {
        let named = self.named();
        let in_place = self.in_place();
        let mut worked = std::mem::take(&mut self.worked);
        let mut take = |index: Option<usize>| index.map(|index| (index, worked[index].take()));
        let lines: Vec<_> = in_place.into_iter().map(|(index, origin)| (take(index), origin)).collect();
        let this = &*self;
        let outcomes = lines.into_par_iter().map(|(line, origin)| {
            let outcome = match line {
                Some((index, worked)) => this.outcome(index, worked, &origin, named.contains(&index)),
                None => line::faulty(&origin.text.text, origin.text.in_file(&(0..origin.text.text.len()))),
            };
            (origin, outcome)
        });
        outcomes.collect()
    }

    /// Entries, and lines that can't be read, in the order in which they stand.
    fn in_place(&mut self) -> Vec<(Option<usize>, Origin)> {
        let entries = std::mem::take(&mut self.origins).into_iter().enumerate();
        let faulty = std::mem::take(&mut self.faulty).into_iter().map(|origin| (None, origin));
        let mut all: Vec<_> = entries.map(|(index, origin)| (Some(index), origin)).chain(faulty).collect();
        all.sort_by_key(|(_, origin)| (origin.scope, origin.block, origin.place));
        all
    }

    /// The lines that others name.
    fn named(&self) -> BTreeSet<usize> {
        self.entries.iter().flat_map(|entry| entry.meanings.iter().filter_map(line_of)).collect()
    }

    fn outcome(
        &self,
        index: usize,
        mut worked: Option<Worked>,
        origin: &Origin,
        is_named: bool,
    ) -> LineOutcome {
        let range = origin.text.in_file(&(0..origin.text.text.trim_end().len()));
        if let (Some(worked), false) = (&mut worked, is_named) {
            worked.say_all();
        }
        let values = |meaning| self.value_of(meaning);
        let outcome = line::outcome(&self.entries[index], worked, range, self.units, &self.sources, &values);
        let in_file = |each: Reference| Reference { range: origin.text.in_file(&each.range), ..each };
        let references = outcome.references.into_iter().map(in_file).collect();
        LineOutcome { comment: origin.text.comment(outcome.comment), references, ..outcome }
    }

    fn value_of(&self, meaning: Meaning) -> Option<Put> {
        match meaning {
            Meaning::Line(entry) => {
                self.values[entry].as_ref().map(|value| line::put_in(&self.entries[entry], value))
            }
            Meaning::Given(scope, place) => {
                self.given[scope].get(place).map(|(_, value)| Put::Value(value.clone()))
            }
            _ => None,
        }
    }

    fn assumed_ton(&self) -> Option<crate::calc::units::Ton> {
        if !self.units.settings().ton_assumed {
            return None;
        }
        self.entries.iter().find_map(|entry| {
            let tree = &entry.line.tree;
            let literals = tree.literals.iter().find_map(|literal| literal.unit.bare_ton());
            literals.or_else(|| tree.targets.iter().find_map(syntax::Target::bare_ton))
        })
    }
}

impl Origin {
    /// A fault with its places turned into those of the file.
    fn place(&self, mut fault: Fault) -> Fault {
        fault.scope = self.scope;
        fault.range = self.text.in_file(&fault.range);
        for label in &mut fault.labels {
            label.scope = self.scope;
            label.range = self.text.in_file(&label.range);
        }
        fault
    }
}

/// Makes one name of `@pin.journal.long` where the note `pin` gives a value of that name.
fn join_names(line: &mut syntax::Line, all: &Catalogue) {
    let text = &line.text;
    line.tree.join(|name, field| {
        let scope = name.note.and_then(|note| all.ids.get(&text[note.range()]));
        let whole = text.get(name.name.start as usize..field.end as usize).unwrap_or_default();
        scope.is_some_and(|scope| {
            all.scopes[*scope].has_feature(whole) || all.given[*scope].iter().any(|(given, _)| given == whole)
        })
    });
}

/// The line whose value a name is.
fn line_of(meaning: &Meaning) -> Option<usize> {
    match meaning {
        Meaning::Line(entry) | Meaning::User(entry) => Some(*entry),
        _ => None,
    }
}

fn empty(scope: &Scope) -> ScopeOutcome {
    ScopeOutcome {
        blocks: vec![BlockOutcome::default(); scope.blocks.len()],
        quotes: vec![QuoteOutcome::default(); scope.quotes.len()],
    }
}

fn put(scope: &mut ScopeOutcome, origin: &Origin, outcome: LineOutcome, units: &Units) {
    match origin.block {
        Some(block) => scope.blocks[block].lines.push(outcome),
        None => scope.quotes[origin.place] = quote(outcome, units),
    }
}

fn quote(outcome: LineOutcome, units: &Units) -> QuoteOutcome {
    let LineOutcome { value, references, .. } = outcome;
    let text = value.as_ref().map(|value| print::value(value, units)).unwrap_or_default();
    let printed = value.as_ref().and_then(Value::quantity).map(|quantity| print::quantity(quantity, units));
    QuoteOutcome { value, text, printed, references }
}

/// Where assumptions and checks stand.
fn lists(scopes: &[ScopeOutcome]) -> (Vec<Place>, Vec<Place>) {
    let (mut assumptions, mut checks) = (Vec::new(), Vec::new());
    for (scope, each) in scopes.iter().enumerate() {
        for (block, lines) in each.blocks.iter().enumerate() {
            for (line, outcome) in lines.lines.iter().enumerate() {
                let place = Place { scope, block, line };
                match outcome.kind {
                    super::LineKind::Assumption => assumptions.push(place),
                    super::LineKind::Check => checks.push(place),
                    _ => {}
                }
            }
        }
    }
    (assumptions, checks)
}
