//! Setting a document in as few passes as there are things to find out.
//!
//! What a text says about places (page numbers, what runs in the heads) it reads from two files that are written here,
//! from the pages of the pass before. A pass that finds the places it was made with is the last one. Typst's own way,
//! questions that each place of the text asks of the finished pages, would lay nearly everything out anew in every pass.

use std::collections::BTreeMap;
use std::sync::Arc;

use typst::comemo::{self, Constraint, Track};
use typst::diag::{SourceDiagnostic, SourceResult};
use typst::engine::{Engine, Route, Sink, Traced};
use typst::foundations::{Content, StyleChain, Target, TargetElem};
use typst::introspection::{EmptyIntrospector, Introspector};
use typst::syntax::Span;
use typst::utils::Protected;
use typst::{World, ecow::EcoVec};
use typst_layout::{PagedDocument, PagedIntrospector, layout_document};

use super::places::{Places, pages};
use super::world::MemoryWorld;

/// So many passes at most: as many as Typst itself makes.
const MOST_PASSES: usize = 5;

/// How many passes a piece of layout is kept after its last use.
const KEPT: usize = 2;

/// What is known of the pages before they are laid out: the pages of the last time.
#[derive(Clone)]
pub(super) struct Known {
    introspector: Arc<PagedIntrospector>,
    places: Places,
}

impl Known {
    /// The page of every label, from 1.
    pub(super) fn pages(&self) -> BTreeMap<String, usize> {
        pages(&self.introspector)
    }
}

/// A document whose text says the right places.
pub(super) struct Set {
    pub(super) document: PagedDocument,
    pub(super) known: Known,
    pub(super) warnings: EcoVec<SourceDiagnostic>,
    /// How many passes it took.
    pub(super) passes: usize,
}

/// Lays the document out until its text says what its pages are; `keep`: layout is kept for the next time.
///
/// # Errors
/// Every error that Typst reports.
pub(super) fn set(world: &mut MemoryWorld, known: Option<&Known>, keep: bool) -> SourceResult<Set> {
    let mut known = known.cloned();
    for passes in 1.. {
        let told = match &known {
            Some(known) => known.places.clone(),
            None => Places::guessed(world.letters()),
        };
        world.write(&told);
        let pass = pass(world, known.as_ref().map(|known| known.introspector.as_ref() as &dyn Introspector))?;
        let found = Places::of(&pass.document);
        let is_settled = pass.is_settled && (found == told || !world.asked_for_places());
        let now = Known { introspector: Arc::clone(pass.document.introspector()), places: found };
        if is_settled || passes == MOST_PASSES {
            return rested(pass, now, is_settled, passes);
        }
        known = Some(now);
        if !keep {
            comemo::evict(KEPT);
        }
    }
    unreachable!("the last pass ends it")
}

/// What the last pass gave.
fn rested(pass: Pass, known: Known, is_settled: bool, passes: usize) -> SourceResult<Set> {
    let Pass { document, mut sink, .. } = pass;
    let delayed = sink.delayed();
    if !delayed.is_empty() {
        return Err(delayed);
    }
    let mut warnings = sink.warnings();
    if !is_settled {
        let says = "the pages did not come to rest: a page number may be wrong";
        warnings.push(SourceDiagnostic::warning(Span::detached(), says));
    }
    Ok(Set { document, known, warnings, passes })
}

/// What one pass gave.
struct Pass {
    document: PagedDocument,
    sink: Sink,
    /// Whether the pages are those that the pass was told of.
    is_settled: bool,
}

/// Reads and lays out once, with what was known of the pages before.
fn pass(world: &MemoryWorld, before: Option<&dyn Introspector>) -> SourceResult<Pass> {
    let world: &dyn World = world;
    let mut sink = Sink::new();
    let content = read(world, &mut sink)?;
    let constraint = Constraint::new();
    let known = before.unwrap_or(&EmptyIntrospector);
    let traced = Traced::default();
    let mut engine = Engine {
        library: world.library(),
        world: world.track(),
        introspector: Protected::new(known.track_with(&constraint)),
        traced: traced.track(),
        sink: sink.track_mut(),
        route: Route::default(),
    };
    let base = StyleChain::new(&world.library().styles);
    let target = TargetElem::target.set(Target::Paged).wrap();
    let document = layout_document(&mut engine, &content, base.chain(&target))?;
    let is_settled = constraint.validate(document.introspector().as_ref() as &dyn Introspector);
    Ok(Pass { document, sink, is_settled })
}

fn read(world: &dyn World, sink: &mut Sink) -> SourceResult<Content> {
    let main = world
        .source(world.main())
        .map_err(|error| EcoVec::from([SourceDiagnostic::error(Span::detached(), error.to_string())]))?;
    let traced = Traced::default();
    let module = typst_eval::eval(
        world.track(),
        world.library(),
        traced.track(),
        sink.track_mut(),
        Route::default().track(),
        &main,
    )?;
    Ok(module.content())
}
