//! What a name means where it stands.

use std::collections::{BTreeMap, HashMap};
use std::ops::Range;

use super::Scope;
use crate::calc::evaluate::{Meaning, builtin};
use crate::calc::fault::{self, Fault};
use crate::calc::function::Function;
use crate::calc::syntax::{Line, Name, Statement};
use crate::calc::units::Units;
use crate::calc::value::Value;

/// The workshop functions by name.
#[derive(Clone, Debug, Default)]
pub struct Functions {
    by_name: HashMap<&'static str, &'static Function>,
    names: Vec<&'static str>,
}

impl Functions {
    /// Of two with one name the first is kept.
    pub fn new(functions: &[&'static Function]) -> Self {
        let mut all = Self::default();
        for function in functions {
            if !all.by_name.contains_key(function.name) {
                all.by_name.insert(function.name, function);
                all.names.push(function.name);
            }
        }
        all.names.sort_unstable();
        all
    }

    pub fn find(&self, name: &str) -> Option<&'static Function> {
        self.by_name.get(name).copied()
    }
}

/// A name that a line defines.
#[derive(Clone, Debug)]
pub(in crate::calc) struct Defined {
    /// None for a line that can't be read, but for its name.
    pub entry: Option<usize>,
    pub block: usize,
    pub is_function: bool,
    /// In the file.
    pub range: Range<usize>,
}

/// The names of one scope, each with its definitions in the order of the blocks.
#[derive(Clone, Debug, Default)]
pub(in crate::calc) struct Names {
    by_name: HashMap<String, Vec<Defined>>,
    in_order: Vec<String>,
    /// Names that are units too.
    units: Vec<String>,
    /// Values without a line, seen from elsewhere only; none for one that can't be read.
    features: BTreeMap<String, Option<usize>>,
    /// Whatever is asked for is faulty, and has been reported.
    is_unreadable: bool,
}

impl Names {
    pub(super) fn of(scope: &Scope) -> Self {
        Self { is_unreadable: scope.is_unreadable, ..Self::default() }
    }

    pub(crate) fn add(&mut self, name: &str, defined: Defined, units: &Units) {
        if !self.by_name.contains_key(name) {
            self.in_order.push(name.to_owned());
            if units.named(name).is_some() {
                self.units.push(name.to_owned());
            }
        }
        self.by_name.entry(name.to_owned()).or_default().push(defined);
    }

    pub(super) fn add_feature(&mut self, name: &str, entry: Option<usize>) {
        self.features.entry(name.to_owned()).or_insert(entry);
    }

    /// Whether one name with a stop in it is seen from elsewhere.
    pub(super) fn has_feature(&self, name: &str) -> bool {
        self.features.contains_key(name)
    }

    pub(crate) fn first(&self, name: &str) -> Option<&Defined> {
        self.by_name.get(name)?.first()
    }

    /// The last definition up to `block`.
    fn visible(&self, name: &str, block: usize) -> Option<&Defined> {
        self.by_name.get(name)?.iter().rev().find(|defined| defined.block <= block)
    }

    fn all(&self) -> impl Iterator<Item = &str> + Clone {
        self.in_order.iter().map(String::as_str)
    }
}

/// All that names are looked up in.
pub(in crate::calc) struct Catalogue<'a> {
    pub units: &'a Units,
    pub functions: &'a Functions,
    pub ids: &'a BTreeMap<&'a str, usize>,
    pub scopes: &'a [Names],
    pub given: &'a [&'a [(String, Value)]],
}

/// The meaning of every name of a line, and what is wrong with them.
pub(in crate::calc) fn resolve(
    line: &Line,
    scope: usize,
    block: usize,
    all: &Catalogue,
) -> (Vec<Meaning>, Vec<Fault>) {
    let mut faults = Vec::new();
    let look = Look { line, scope, block, all };
    let meanings = line.tree.names.iter().map(|name| {
        look.up(name).unwrap_or_else(|fault| {
            faults.push(*fault);
            Meaning::Faulty
        })
    });
    let meanings = meanings.collect();
    look.units_that_are_names(&mut faults);
    (meanings, faults)
}

struct Look<'a> {
    line: &'a Line,
    scope: usize,
    block: usize,
    all: &'a Catalogue<'a>,
}

impl Look<'_> {
    fn up(&self, name: &Name) -> Result<Meaning, Box<Fault>> {
        let word = self.line.at(name.name);
        match name.note {
            Some(note) => self.elsewhere(self.line.at(note), note.range(), word, name.name.range()),
            None if name.called => self.called(word, name.name.range()),
            None => self.value(word, name.name.range()),
        }
    }

    fn value(&self, word: &str, range: Range<usize>) -> Result<Meaning, Box<Fault>> {
        if let Some(place) = self.parameter(word) {
            return Ok(Meaning::Parameter(place));
        }
        if let Some(defined) = self.names().visible(word, self.block) {
            return Ok(meaning(defined));
        }
        match word {
            "pi" | "π" => return Ok(Meaning::Pi),
            "g_n" => return Ok(Meaning::StandardGravity),
            _ => {}
        }
        Err(self.unknown(word, range).into())
    }

    fn called(&self, word: &str, range: Range<usize>) -> Result<Meaning, Box<Fault>> {
        let defined = self.names().visible(word, self.block);
        if let Some(defined) = defined.filter(|defined| defined.is_function) {
            return Ok(meaning(defined));
        }
        if let Some(builtin) = builtin::find(word) {
            return Ok(Meaning::Builtin(builtin));
        }
        if let Some(function) = self.all.functions.find(word) {
            return Ok(Meaning::Workshop(function));
        }
        if defined.is_some() || self.parameter(word).is_some() || word == "pi" {
            return Err(fault::not_a_function(range, word).into());
        }
        let builtins = builtin::BUILTINS.iter().map(|builtin| builtin.name);
        let known = self.names().all().chain(builtins).chain(self.all.functions.names.iter().copied());
        Err(fault::unknown_function(range, word, known).into())
    }

    /// `@id.word`
    fn elsewhere(
        &self,
        id: &str,
        id_range: Range<usize>,
        word: &str,
        range: Range<usize>,
    ) -> Result<Meaning, Box<Fault>> {
        let Some(scope) = self.all.ids.get(id).copied() else {
            return Err(fault::unknown_note(id_range, id, self.all.ids.keys().copied()).into());
        };
        if let Some(defined) = self.all.scopes[scope].visible(word, usize::MAX) {
            return Ok(meaning(defined));
        }
        if self.all.scopes[scope].is_unreadable {
            return Ok(Meaning::Faulty);
        }
        if let Some(entry) = self.all.scopes[scope].features.get(word) {
            return Ok(entry.map_or(Meaning::Faulty, Meaning::Line));
        }
        let given = self.all.given[scope];
        if let Some(place) = given.iter().position(|(name, _)| name == word) {
            return Ok(Meaning::Given(scope, place));
        }
        let features = self.all.scopes[scope].features.keys().map(String::as_str);
        let known =
            given.iter().map(|(name, _)| name.as_str()).chain(features).chain(self.all.scopes[scope].all());
        Err(fault::unknown_in_note(range, id, word, known).into())
    }

    fn unknown(&self, word: &str, range: Range<usize>) -> Fault {
        if let Some(later) = self.names().first(word) {
            return fault::not_yet(range, word, later.range.clone());
        }
        if let Some(number) = self.number_before_stroke(&range)
            && self.all.units.named(word).is_some()
        {
            return fault::number_per_unit(range, number, word);
        }
        if self.all.functions.find(word).is_some() || builtin::find(word).is_some() {
            return fault::function_as_value(range, word);
        }
        if self.all.units.named(word).is_some() {
            return fault::unit_for_a_name(range, word);
        }
        let parameters = self.parameters().map(|parameter| self.line.at(*parameter));
        let known: Vec<&str> = parameters.chain(self.names().all()).collect();
        fault::unknown_name(range, word, known)
    }

    /// `1450` before `/min`.
    fn number_before_stroke(&self, range: &Range<usize>) -> Option<&str> {
        let before = self.line.text[..range.start].trim_end().strip_suffix('/')?.trim_end();
        let is_of_number = |each: char| each.is_ascii_digit() || each == '.';
        let number = &before[before.trim_end_matches(is_of_number).len()..];
        number.starts_with(|first: char| first.is_ascii_digit()).then_some(number)
    }

    fn names(&self) -> &Names {
        &self.all.scopes[self.scope]
    }

    fn parameters(&self) -> impl Iterator<Item = &crate::calc::syntax::Span> {
        let parameters: &[_] = match &self.line.statement {
            Statement::DefineFunction { parameters, .. } => parameters,
            _ => &[],
        };
        parameters.iter()
    }

    fn parameter(&self, word: &str) -> Option<usize> {
        self.parameters().position(|parameter| self.line.at(*parameter) == word)
    }

    /// Literals whose unit could be meant for a name: said as a caution right behind the number, refused further on.
    fn units_that_are_names(&self, faults: &mut Vec<Fault>) {
        let parameters = self.parameters().map(|parameter| self.line.at(*parameter));
        let parameters: Vec<&str> = parameters.filter(|name| self.all.units.named(name).is_some()).collect();
        if self.names().units.is_empty() && parameters.is_empty() {
            return;
        }
        for range in self.line.tree.literal_spans() {
            let mut is_first = true;
            for word in words(&self.line.text, range) {
                let name = &self.line.text[word.clone()];
                let is_name = parameters.contains(&name) || self.names().visible(name, self.block).is_some();
                if is_name && self.all.units.named(name).is_some() {
                    faults.push(if is_first {
                        fault::name_is_unit(word, name)
                    } else {
                        fault::name_or_unit(word, name)
                    });
                }
                is_first = false;
            }
        }
    }
}

fn meaning(defined: &Defined) -> Meaning {
    match defined.entry {
        Some(entry) if defined.is_function => Meaning::User(entry),
        Some(entry) => Meaning::Line(entry),
        None => Meaning::Faulty,
    }
}

/// The words in a range of the text.
fn words(text: &str, range: Range<usize>) -> impl Iterator<Item = Range<usize>> {
    let is_letter = |character: char| character.is_alphabetic() || character == '_';
    let part = &text[range.clone()];
    let pieces = part.split(move |character| !is_letter(character)).filter(|piece| !piece.is_empty());
    pieces.map(move |piece| {
        let start = range.start + (piece.as_ptr() as usize - part.as_ptr() as usize);
        start..start + piece.len()
    })
}
