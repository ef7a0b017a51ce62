//! The dossier worked out: what the readings come to, how they stand in the parts' fits, and every calculation in its
//! place.
//!
//! Takes: the dossier. Gives: for every measurement its statistics, for every calculation block and quoted value its
//! outcome, for every fit its limits and verdicts, and the problems that show only in figures. Never: prints, or judges
//! anything but what the notes ask.

mod fits;
mod privacy;
pub mod problems;
mod scopes;
mod shapes;
mod statistics;
mod wear;

use std::collections::BTreeMap;

use scopes::Scopes;

use crate::calc::fault::Fault;
use crate::calc::function::Function;
use crate::calc::literal::Literal;
use crate::calc::measure::{self, Measured};
use crate::calc::sheet::{
    self, BlockOutcome, Evaluation, Place, QuoteOutcome, Reference, Referent, ScopeOutcome,
};
use crate::calc::uncertainty::Sources;
use crate::diagnostic::Problem;
use crate::dossier::{Dossier, MeasurementId, NoteId, PartId};
use crate::text::Span;
use crate::worked::problems as problem;

pub use fits::{Fitted, Judged};
pub use privacy::Privacy;
pub use shapes::{Formed, Making};
pub use wear::Wear;

/// All figures of a dossier.
#[derive(Debug)]
pub struct Worked {
    pub evaluation: Evaluation,
    /// By measurement.
    pub measured: Vec<Measured>,
    /// The parts' fits, in the order of the parts.
    pub fits: Vec<Fitted>,
    /// The parts' shapes, in the order of the parts.
    pub shapes: Vec<Formed>,
    /// The limits of measurements that state none: those of the feature of the part's shape that they name.
    limits: BTreeMap<MeasurementId, Literal>,
    /// The note of every scope.
    notes: Vec<NoteId>,
    /// By the start of a block or quote in its file: its place among those of its scope.
    blocks: BTreeMap<Span, (usize, usize)>,
    quotes: BTreeMap<Span, (usize, usize)>,
}

impl Worked {
    /// Works out everything. `unreadable` are the ids of notes that are there but could not be read.
    pub fn of(dossier: &Dossier, functions: &[&'static Function], unreadable: &[String]) -> Self {
        let mut sources = Sources::new();
        let limits = shapes::typed_limits(dossier);
        let measured = statistics::all(dossier, &limits, &mut sources);
        let fits = fits::all(dossier, &measured);
        let mut scopes = scopes::scopes(dossier, &measured, &mut sources);
        scopes.add_unreadable(unreadable);
        let evaluation = sheet::evaluate(&scopes.scopes, &dossier.units, functions, sources);
        let Scopes { notes, blocks, quotes, .. } = scopes;
        let shapes = Vec::new();
        let mut worked = Self { evaluation, measured, fits, shapes, limits, notes, blocks, quotes };
        worked.shapes = shapes::all(dossier, &worked);
        worked.judge_by_shapes(dossier);
        worked
    }

    /// Holds readings against limits that are worked out.
    fn judge_by_shapes(&mut self, dossier: &Dossier) {
        for (id, limits) in shapes::formed_limits(dossier, &self.shapes) {
            if self.limits(dossier, id).is_none() {
                let feature = statistics::feature(dossier, id, Some(&limits));
                self.measured[id.index()].within_limits =
                    measure::measure(&feature, &mut Sources::new()).within_limits;
                self.limits.insert(id, limits);
            }
        }
    }

    /// The limits that a measurement is held against: what the notes state for it, else what the shape of its part has for
    /// the feature of that name.
    pub fn limits<'a>(&'a self, dossier: &'a Dossier, id: MeasurementId) -> Option<&'a Literal> {
        dossier.limits(id).or_else(|| self.limits.get(&id))
    }

    /// What is wrong in the figures.
    pub fn problems(&self, dossier: &Dossier) -> Vec<Problem> {
        let fault = |fault: &Fault| {
            let file = |scope: usize| dossier.head(self.notes[scope]).file;
            problem::fault(fault, file).about(&dossier.head(self.notes[fault.scope]).id)
        };
        let refused = |fitted: &Fitted| {
            let part = &dossier[fitted.part];
            Some(problem::fit_class(&part.head, part.fit.as_ref()?, fitted.limits.as_ref().err()?))
        };
        let faults = self.evaluation.faults.iter().map(fault);
        let shapes = shapes::problems(dossier, &self.shapes, &self.fits);
        faults.chain(self.fits.iter().filter_map(refused)).chain(shapes).collect()
    }

    /// What a calculation block came to.
    pub fn block(&self, at: Span) -> Option<&BlockOutcome> {
        let (scope, block) = self.blocks.get(&at)?;
        self.evaluation.scopes.get(*scope)?.blocks.get(*block)
    }

    /// What a value quoted in prose came to.
    pub fn quote(&self, at: Span) -> Option<&QuoteOutcome> {
        let (scope, quote) = self.quotes.get(&at)?;
        self.evaluation.scopes.get(*scope)?.quotes.get(*quote)
    }

    /// What the calculations and the quoted values refer to: from which note, to which, and what of it.
    pub fn references<'a>(
        &'a self,
        dossier: &'a Dossier,
    ) -> impl Iterator<Item = (NoteId, NoteId, &'a Reference)> {
        let scopes = self.evaluation.scopes.iter().zip(&self.notes);
        scopes.flat_map(move |(scope, note)| {
            let to = move |reference: &'a Reference| {
                let other = reference.note.as_ref().map(|id| dossier.find(id));
                Some((*note, other.unwrap_or(Some(*note))?, reference))
            };
            scope.references().filter_map(to)
        })
    }

    /// Where the value or function is defined that a calculation of the note `from` refers to: its line; of what a note has
    /// without a line, the key of that name, or the note. `None` where nothing has the name.
    pub fn definition(&self, dossier: &Dossier, from: NoteId, reference: &Reference) -> Option<Span> {
        let note = match &reference.note {
            Some(id) => dossier.find(id)?,
            None => from,
        };
        let head = dossier.head(note);
        match reference.referent {
            Referent::Unknown => None,
            Referent::Given if head.has(&reference.name) => Some(head.at(&reference.name)),
            Referent::Given => Some(head.id_place()),
            Referent::Line | Referent::Function => {
                let scope = self.notes.iter().position(|each| *each == note)?;
                let lines = self.evaluation.scopes[scope].blocks.iter().flat_map(|block| &block.lines);
                let mut named = lines.filter(|line| line.name.as_ref() == Some(&reference.name));
                named.next().map(|line| Span::new(head.file, line.range.clone()))
            }
        }
    }

    /// What a calculation block refers to in other notes.
    pub fn notes_in<'a>(&'a self, dossier: &'a Dossier, block: Span) -> impl Iterator<Item = NoteId> + 'a {
        let lines = self.block(block).into_iter().flat_map(|block| &block.lines);
        let ids = lines.flat_map(|line| &line.references).filter_map(|each| each.note.as_deref());
        ids.filter_map(|id| dossier.find(id))
    }

    /// What each note's calculations came to.
    pub fn scopes(&self) -> impl Iterator<Item = (NoteId, &ScopeOutcome)> {
        self.notes.iter().copied().zip(&self.evaluation.scopes)
    }

    /// The note that a line stands in.
    pub fn note(&self, place: Place) -> NoteId {
        self.notes[place.scope]
    }

    /// Whether a note holds calculations.
    pub fn has_working(&self, note: NoteId) -> bool {
        let scope = self.notes.iter().position(|each| *each == note);
        scope.is_some_and(|scope| !self.evaluation.scopes[scope].blocks.is_empty())
    }

    /// What the part's key `fit:` comes to.
    pub fn fit(&self, part: PartId) -> Option<&Fitted> {
        let at = self.fits.binary_search_by_key(&part, |fitted| fitted.part).ok()?;
        Some(&self.fits[at])
    }

    /// What the part's key `shape:` comes to.
    pub fn shape(&self, part: PartId) -> Option<&Formed> {
        let at = self.shapes.binary_search_by_key(&part, |formed| formed.part).ok()?;
        Some(&self.shapes[at])
    }

    /// What it takes to make each part whose shape is known, or known about.
    pub fn makings(&self, dossier: &Dossier) -> BTreeMap<PartId, Making> {
        self.shapes.iter().filter_map(|formed| Some((formed.part, Making::of(dossier, formed)?))).collect()
    }

    /// What the readings of a measurement come to.
    pub fn measured(&self, measurement: MeasurementId) -> &Measured {
        &self.measured[measurement.index()]
    }
}
