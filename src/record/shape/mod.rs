//! The key `shape:` of a part: what it looks like, in the terms of [`crate::shape`], each size with its place.

mod flat;
mod keys;
mod size;
mod treat;
mod turned;

use super::fields::{Fields, Reader};
use super::key::{Key as NoteKey, Mapping};
use super::problems as problem;
use super::{AsTyped, Linker, Links, Resolve};
use crate::calc::dimension::Dimension;
use crate::note::yaml::{Node, Shape as Written};
use crate::shape::{Body, Class, End, General, Key, Shape, Size, Thread};
use crate::text::Span;
use size::size;

/// A shape as its note says. Sizes that are worked out have no figure yet, and classes of fits no limits.
#[derive(Clone, Debug)]
pub struct Shaped<L: Links> {
    pub shape: Shape,
    /// The sizes that are worked out.
    pub formulas: Vec<Formula>,
    /// What its sizes on hold wait for.
    pub holds: Vec<Hold<L>>,
    places: Vec<Span>,
}

/// A size that is worked out: `= bore + 0.05 mm`.
#[derive(Clone, Debug)]
pub struct Formula {
    /// The size.
    pub key: Key,
    /// Behind the equals sign.
    pub text: String,
    /// The byte at which the text begins in its file.
    pub offset: usize,
    /// Where the size stands.
    pub span: Span,
}

/// A size that is not known before something is measured.
#[derive(Clone, Debug)]
pub struct Hold<L: Links> {
    /// What has to be done first.
    pub why: String,
    /// The steps, questions and measurements that give it.
    pub settled_by: Vec<L::Any>,
}

impl<K: Linker> Resolve<K> for Shaped<AsTyped> {
    type Into = Shaped<K::To>;
    fn resolve(self, linker: &mut K) -> Option<Self::Into> {
        let Self { shape, formulas, holds, places } = self;
        Some(Shaped { shape, formulas, holds: holds.resolve(linker)?, places })
    }
}

impl<K: Linker> Resolve<K> for Hold<AsTyped> {
    type Into = Hold<K::To>;
    fn resolve(self, linker: &mut K) -> Option<Self::Into> {
        Some(Hold { settled_by: self.settled_by.resolve(linker)?, why: self.why })
    }
}

impl<L: Links> Shaped<L> {
    /// Where a size or a feature stands.
    pub fn place(&self, key: Key) -> Span {
        self.places[key]
    }
}

/// What is collected while a shape is read.
#[derive(Default)]
struct Ledger {
    places: Vec<Span>,
    formulas: Vec<Formula>,
    holds: Vec<Hold<AsTyped>>,
}

impl Ledger {
    fn key(&mut self, place: Span) -> Key {
        self.places.push(place);
        self.places.len() - 1
    }
}

/// What belongs to a turned part only.
const OF_TURNED: [NoteKey; 5] = [keys::OVERALL, keys::BORED, keys::BORED_RIGHT, keys::ACROSS, keys::TRUE_TO];

pub(super) use keys::on_hold as size_on_hold;

/// The keys of a shape.
pub(super) fn mapping() -> Mapping {
    keys::shape()
}

/// `None`, with problems, when anything in it can't be read: half a shape would only bring further problems.
pub(super) fn read(fields: &mut Fields, key: &str) -> Option<Shaped<AsTyped>> {
    let node = fields.node(key)?;
    let before = fields.reader.problems.len();
    let mut ledger = Ledger::default();
    let shape = whole(node, fields.reader, &mut ledger);
    let is_sound = fields.reader.problems.len() == before;
    let Ledger { places, formulas, holds } = ledger;
    shape.filter(|_| is_sound).map(|shape| Shaped { shape, formulas, holds, places })
}

fn whole(node: &Node, reader: &mut Reader, ledger: &mut Ledger) -> Option<Shape> {
    let mut shape = Fields::of(node, &keys::shape(), reader)?;
    Some(Shape {
        key: ledger.key(shape.span),
        general: general(&mut shape),
        finish: finish(&mut shape),
        edges: shape.text(keys::EDGES.name),
        corners: corners(&mut shape),
        treat: treat::read(&mut shape, ledger),
        up: up(&mut shape),
        coat: shape.text(keys::COAT.name),
        notes: shape.texts(keys::NOTES.name),
        body: body(&mut shape, ledger)?,
    })
}

fn body(shape: &mut Fields, ledger: &mut Ledger) -> Option<Body> {
    match (shape.node(keys::TURNED.name), shape.node(keys::FLAT.name)) {
        (Some(_), None) => turned::read(shape, ledger).map(Body::Turned),
        (None, Some(_)) => {
            let stray = OF_TURNED.iter().filter_map(|key| Some((key.name, shape.node(key.name)?.span)));
            let stray: Vec<_> = stray.map(|(key, span)| problem::not_of_flat(span, key)).collect();
            shape.reader.problems.extend(stray);
            flat::read(shape, ledger).map(Body::Flat)
        }
        (Some(_), Some(flat)) => {
            shape.reader.problems.push(problem::shape(flat.span, "`turned` or `flat`", "both"));
            None
        }
        (None, None) => {
            shape.missing(
                keys::TURNED.name,
                "list the lengths of the outside; a part from plate has `flat:` in its place",
            );
            None
        }
    }
}

/// A radius, as typed.
fn corners(fields: &mut Fields) -> Option<String> {
    let typed = fields.typed(keys::CORNERS.name)?;
    fields.positive(keys::CORNERS.name, Dimension::LENGTH).map(|_| typed.text)
}

/// A side as drawn.
fn up(fields: &mut Fields) -> Option<String> {
    const SIDES: [&str; 4] = ["left", "right", "top", "bottom"];
    let typed = fields.typed(keys::UP.name)?;
    if !SIDES.contains(&typed.text.as_str()) {
        let problem = problem::word_unknown(typed.span, keys::UP.name, &typed.text, &SIDES);
        fields.reader.problems.push(problem);
        return None;
    }
    Some(typed.text)
}

/// A class of ISO 2768-1 or a figure.
fn general(fields: &mut Fields) -> Option<General> {
    let typed = fields.typed(keys::GENERAL.name)?;
    if let Some(class) = Class::from_letter(&typed.text) {
        return Some(General::Class(class));
    }
    if typed.text.chars().all(char::is_alphabetic) {
        let place = problem::word_unknown(typed.span, keys::GENERAL.name, &typed.text, &["f", "m", "c", "v"]);
        fields.reader.problems.push(place);
        return None;
    }
    let figure = fields.positive(keys::GENERAL.name, Dimension::LENGTH)?;
    Some(General::Figure { plus_minus: figure.nominal, text: typed.text })
}

/// A roughness Ra, as printed.
fn finish(fields: &mut Fields) -> Option<String> {
    let figure = fields.positive(keys::FINISH.name, Dimension::LENGTH)?;
    let is_inch = figure.unit.system() == Some(crate::calc::units::System::Inch);
    Some(if is_inch {
        format!("Ra {} µin", size::trimmed(figure.nominal / 0.0254e-6, 1))
    } else {
        format!("Ra {}", size::trimmed(figure.nominal * 1e6, 3))
    })
}

/// Of two keys only one may stand.
fn one_of(fields: &mut Fields, first: NoteKey, second: NoteKey) {
    if let (Some(_), Some(node)) = (fields.node(first.name), fields.node(second.name)) {
        let wanted = format!("`{}` or `{}`", first.name, second.name);
        fields.reader.problems.push(problem::shape(node.span, &wanted, "both"));
    }
}

fn needed(fields: &mut Fields, key: NoteKey, why: &str, ledger: &mut Ledger) -> Option<Size> {
    if fields.node(key.name).is_none() {
        fields.missing(key.name, why);
    }
    size(fields, key, ledger)
}

/// A thread of the table, by its designation.
fn thread(fields: &mut Fields, ledger: &mut Ledger) -> Option<Thread> {
    let typed = fields.typed(keys::THREAD.name)?;
    let found = crate::trade::thread::lookup(&typed.text);
    let problem = match found.as_deref() {
        Ok([one]) => {
            let (major, pitch) = (one.major_mm * 1e-3, one.pitch_mm * 1e-3);
            let text = one.full_name().replace('x', " × ");
            return Some(Thread { key: ledger.key(typed.span), text, major, pitch });
        }
        Ok(several) => {
            let names: Vec<String> = several.iter().map(|each| each.full_name()).collect();
            problem::thread_unclear(typed.span, &typed.text, &names)
        }
        Err(refusal) => problem::thread_unknown(typed.span, refusal),
    };
    fields.reader.problems.push(problem);
    None
}

/// What is made at a shoulder.
fn end(fields: &mut Fields, ledger: &mut Ledger) -> Option<End> {
    one_of(fields, keys::RADIUS, keys::UNDERCUT);
    if fields.node(keys::RADIUS.name).is_some() {
        return size(fields, keys::RADIUS, ledger).map(End::Radius);
    }
    let node = fields.node(keys::UNDERCUT.name)?;
    if !matches!(node.shape, Written::Map(_)) {
        return size(fields, keys::UNDERCUT, ledger).map(|wide| End::Undercut { wide, d: None });
    }
    let mut undercut = fields.child(keys::UNDERCUT.name, &keys::undercut())?;
    let wide = needed(&mut undercut, keys::WIDE, "say how wide it is", ledger);
    let d = size(&mut undercut, keys::D, ledger);
    Some(End::Undercut { wide: wide?, d })
}
