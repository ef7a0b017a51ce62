//! The notes as the engine sees them: blocks, quoted values, and what can be asked of each note.

use std::collections::BTreeMap;

use super::shapes;
use crate::bill::mass::{Weight, weigh};
use crate::calc::cause::Cause;
use crate::calc::dimension::Dimension;
use crate::calc::measure::Measured;
use crate::calc::sheet::{Block as CalcBlock, Quote, Scope, SourceLine};
use crate::calc::uncertainty::Sources;
use crate::calc::units::Unit;
use crate::calc::value::{Quantity, Value};
use crate::dossier::{Dossier, NoteId, PartId};
use crate::note::body::{BlockShape, CodeBlock, InlineShape, each_block, each_inline};
use crate::record::{Estimate, Formula};
use crate::text::Span;

pub(super) struct Scopes {
    pub(super) scopes: Vec<Scope>,
    pub(super) notes: Vec<NoteId>,
    pub(super) blocks: BTreeMap<Span, (usize, usize)>,
    pub(super) quotes: BTreeMap<Span, (usize, usize)>,
}

impl Scopes {
    /// Notes without a value: what is asked of them is no fault of who asks.
    pub(super) fn add_unreadable(&mut self, ids: &[String]) {
        let unreadable = |id: &String| Scope { id: id.clone(), is_unreadable: true, ..Scope::default() };
        self.scopes.extend(ids.iter().map(unreadable));
    }
}

/// Every note that holds calculations or has something to give.
pub(super) fn scopes(dossier: &Dossier, measured: &[Measured], sources: &mut Sources) -> Scopes {
    let mut all =
        Scopes { scopes: Vec::new(), notes: Vec::new(), blocks: BTreeMap::new(), quotes: BTreeMap::new() };
    let weights = weigh(dossier);
    for note in dossier.notes() {
        let scope = all.scopes.len();
        let mut one = Scope { id: dossier.head(note).id.clone(), ..Scope::default() };
        one.given = match note {
            NoteId::Measurement(id) => measured[id.index()].fields.clone(),
            NoteId::Part(id) => of_part(dossier, id, &weights[id.index()], sources),
            _ => Vec::new(),
        };
        for (span, code) in calc_blocks(dossier, note) {
            all.blocks.insert(span, (scope, one.blocks.len()));
            one.blocks.push(block(code));
        }
        for (span, quote) in quotes(dossier, note).into_iter().chain(sizes(dossier, note)) {
            all.quotes.insert(span, (scope, one.quotes.len()));
            one.quotes.push(quote);
        }
        all.scopes.push(one);
        all.notes.push(note);
    }
    all
}

fn calc_blocks(dossier: &Dossier, note: NoteId) -> Vec<(Span, &CodeBlock)> {
    let mut found = Vec::new();
    each_block(&dossier.head(note).body, &mut |block| match &block.shape {
        BlockShape::Code(code) if code.language == "calc" => found.push((block.span, code)),
        _ => {}
    });
    found
}

fn block(code: &CodeBlock) -> CalcBlock {
    let line =
        |line: &crate::note::body::CodeLine| SourceLine { text: line.text.clone(), offset: line.offset };
    CalcBlock { lines: code.lines.iter().map(line).collect() }
}

/// `` `calc clearance to thou` `` in prose.
fn quotes(dossier: &Dossier, note: NoteId) -> Vec<(Span, Quote)> {
    let mut found = Vec::new();
    each_inline(&dossier.head(note).body, &mut |inline| {
        if let InlineShape::Code(text) = &inline.shape
            && let Some(expression) = text.strip_prefix("calc ")
        {
            let ticks = (inline.span.end - inline.span.start - text.len()) / 2;
            let offset = inline.span.start + ticks + text.len() - expression.len();
            found.push((inline.span, Quote { text: expression.to_owned(), offset, named: None }));
        }
    });
    found
}

/// The sizes of a part's shape that are worked out; like values quoted in prose, they see all names of the note.
fn sizes(dossier: &Dossier, note: NoteId) -> Vec<(Span, Quote)> {
    let NoteId::Part(part) = note else { return Vec::new() };
    let Some(shaped) = &dossier[part].shape else { return Vec::new() };
    let quote = |each: &Formula| {
        let named = shapes::named_formula(dossier, part, shaped, each);
        (each.span, Quote { text: each.text.clone(), offset: each.offset, named })
    };
    shaped.formulas.iter().map(quote).collect()
}

/// The mass and the cost of one piece, and the named features of its shape.
fn of_part(dossier: &Dossier, id: PartId, weight: &Weight, sources: &mut Sources) -> Vec<(String, Value)> {
    let part = &dossier[id];
    let mut given = Vec::new();
    let typed =
        part.mass.as_ref().map(|mass| Value::from_literal(mass, format!("mass of {}", part.id()), sources));
    if let Some(mass) = typed.or_else(|| summed(dossier, id, weight, sources)) {
        given.push(("mass".to_owned(), mass));
    }
    if let Some(cost) = &part.cost {
        given.push(("cost".to_owned(), estimated(cost, &format!("cost of {}", part.id()), sources)));
    }
    for (name, (low, high), unit) in part.shape.iter().flat_map(|shaped| shapes::named(&shaped.shape)) {
        let unit = shapes::unit(dossier, unit);
        let label = format!("{name} of {}", part.id());
        given.push((name, bounded(low, high, unit, &label, sources)));
    }
    given
}

/// What is within a part added up, with the ends of the sum as its bounds.
fn summed(dossier: &Dossier, id: PartId, weight: &Weight, sources: &mut Sources) -> Option<Value> {
    let unit = dossier.units.usual(Dimension::MASS, weight.each_kg?);
    let (low, high) = weight.each_ends_kg?;
    Some(bounded(low, high, unit, &format!("mass of {}", dossier[id].id()), sources))
}

/// The middle between low and high, with half their distance as the bound.
fn estimated(estimate: &Estimate, label: &str, sources: &mut Sources) -> Value {
    bounded(estimate.low, estimate.high, estimate.unit, label, sources)
}

pub(super) fn bounded(low: f64, high: f64, unit: Unit, label: &str, sources: &mut Sources) -> Value {
    let mut quantity = Quantity::exact(low.midpoint(high), unit.dimension(), unit);
    if high > low {
        let half_width = (high - low) / 2.0;
        let source = sources.fresh(Cause::from(label).bounded(half_width, unit));
        quantity.uncertainty = crate::calc::uncertainty::Uncertainty::bound(source, half_width);
    }
    Value::Quantity(quantity)
}
