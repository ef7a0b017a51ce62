//! What the benches measure one by one: reading a line, and working it out, without setting it out.

use std::collections::BTreeMap;

use super::evaluate::{Entry, Evaluator, Known, constants};
use super::sheet::{Catalogue, Defined, Functions, Names, resolve};
use super::syntax::{self, Statement};
use super::uncertainty::Sources;
use super::units::{Settings, Units};
use super::value::{Quantity, Value};

/// The pressure of a press fit in a hub of the shaft's own modulus: nine operations.
const LINE: &str = "p = E * delta / d * (D^2 - d^2) / (2 * D^2)";

/// Its inputs; two are uncertain.
const INPUTS: [&str; 4] =
    ["E = 210 GPa", "delta = 0.0635 mm ± 0.005 mm", "d = 82.55 mm ± 0.01 mm", "D = 127 mm"];

/// The line with its inputs at hand.
#[derive(Debug)]
pub struct PressFit {
    units: Units,
    functions: Functions,
    names: [Names; 1],
    entries: Vec<Entry>,
    values: Vec<Option<Value>>,
    sources: Sources,
}

impl Default for PressFit {
    fn default() -> Self {
        Self::new()
    }
}

impl PressFit {
    pub fn new() -> Self {
        let mut ready = Self {
            units: Units::new(&Settings::default()),
            functions: Functions::default(),
            names: [Names::default()],
            entries: Vec::new(),
            values: Vec::new(),
            sources: Sources::new(),
        };
        for input in INPUTS {
            let entry = ready.entry(input);
            let value = ready.evaluate(&entry);
            let name = entry.line.defines().map_or("", |name| entry.line.at(name)).to_owned();
            let block = ready.entries.len();
            let defined = Defined { entry: Some(block), block, is_function: false, range: 0..0 };
            ready.names[0].add(&name, defined, &ready.units);
            ready.entries.push(entry);
            ready.values.push(value);
        }
        ready
    }

    fn entry(&mut self, text: &str) -> Entry {
        let line = syntax::parse(text, &self.units).expect("the bench's own lines are well formed");
        let (ids, given) = (BTreeMap::new(), [&[][..]]);
        let catalogue = Catalogue {
            units: &self.units,
            functions: &self.functions,
            ids: &ids,
            scopes: &self.names,
            given: &given,
        };
        let block = self.entries.len();
        let (meanings, _) = resolve(&line, 0, block, &catalogue);
        let constants = constants(&line, &mut self.sources);
        Entry { scope: 0, block, line, meanings, constants }
    }

    /// The line read, with its names resolved.
    pub fn parsed(&mut self) -> Entry {
        self.entry(LINE)
    }

    /// The value of a line that was read.
    pub fn evaluate(&mut self, entry: &Entry) -> Option<Value> {
        let Statement::Define { value, .. } = entry.line.statement else { return None };
        let known = Known { units: &self.units, entries: &self.entries, values: &self.values, given: &[] };
        let mut steps = 0;
        Evaluator::new(known, &mut self.sources, &mut steps).root(entry, value).ok()
    }

    pub fn parse_and_evaluate(&mut self) -> Option<Value> {
        let entry = self.parsed();
        self.evaluate(&entry)
    }

    /// The pressure itself, for a test that the bench measures what it says.
    pub fn pressure(&mut self) -> Option<Quantity> {
        self.parse_and_evaluate()?.quantity().cloned()
    }
}
