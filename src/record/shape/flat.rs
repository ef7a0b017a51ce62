//! A part from plate: its thickness, its outline, holes and slots.

use super::keys::{
    self, ABOUT, AS, AT, CORNER, COUNT, CUT, D, DISC, FIRST, FLAT, FROM, HOLES, ON_CIRCLE, OUTLINE, RADIUS,
    RECTANGLE, SLOTS, THICK, THREAD, TO, WIDE,
};
use super::size::{of_literal, point, size};
use super::{Ledger, NoteKey, finish, needed, one_of, thread};
use crate::calc::dimension::Dimension;
use crate::note::yaml::{Node, Shape};
use crate::record::fields::Fields;
use crate::record::problems as problem;
use crate::shape::{Corner, Flat, Hole, Outline, Size, Slot, Spot, Thread, Vertex};

pub(super) fn read(shape: &mut Fields, ledger: &mut Ledger) -> Option<Flat> {
    let mut flat = shape.child(FLAT.name, &keys::flat())?;
    let thick = needed(&mut flat, THICK, "say how thick it is", ledger);
    let outline = outline(&mut flat, ledger);
    let holes: Vec<_> =
        flat.nodes(HOLES.name).into_iter().map(|node| hole(&mut flat, node, ledger)).collect();
    let slots: Vec<_> =
        flat.nodes(SLOTS.name).into_iter().map(|node| slot(&mut flat, node, ledger)).collect();
    let holes = holes.into_iter().collect::<Option<_>>();
    Some(Flat {
        thick: thick?,
        outline: outline?,
        holes: holes?,
        slots: slots.into_iter().collect::<Option<_>>()?,
    })
}

fn outline(flat: &mut Fields, ledger: &mut Ledger) -> Option<Outline> {
    let given: Vec<NoteKey> =
        [RECTANGLE, DISC, OUTLINE].into_iter().filter(|kind| flat.node(kind.name).is_some()).collect();
    let [kind] = given[..] else {
        let found = if given.is_empty() { "none of them" } else { "more than one" };
        flat.reader.problems.push(problem::shape(flat.span, "`rectangle`, `disc` or `outline`", found));
        return None;
    };
    if !kind.is(RECTANGLE) {
        let stray = [RADIUS.name, CUT.name].into_iter().find_map(|key| Some((key, flat.node(key)?.span)));
        flat.reader.problems.extend(stray.map(|(key, span)| problem::corner_elsewhere(span, key)));
    }
    match kind {
        kind if kind.is(DISC) => size(flat, DISC, ledger).map(|d| Outline::Disc { d }),
        kind if kind.is(RECTANGLE) => rectangle(flat, ledger),
        _ => {
            let corners = flat.nodes(OUTLINE.name);
            let corners: Vec<_> = corners.into_iter().map(|node| vertex(flat, node, ledger)).collect();
            corners.into_iter().collect::<Option<_>>().map(Outline::Polygon)
        }
    }
}

/// `4 in x 3 in`, or `[4 in, 3 in]` where a side has a class, an expression or a hold.
fn rectangle(flat: &mut Fields, ledger: &mut Ledger) -> Option<Outline> {
    let node = flat.node(RECTANGLE.name)?;
    let [wide, high] = match &node.shape {
        Shape::List(_) => point(flat, node, ledger)?,
        _ => {
            let sides = flat.sides::<2>(RECTANGLE.name, "two lengths, `4 in x 3 in`")?;
            sides.map(|side| of_literal(ledger.key(node.span), &side))
        }
    };
    Some(Outline::Rectangle { wide, high, corner: corner(flat, ledger) })
}

fn corner(fields: &mut Fields, ledger: &mut Ledger) -> Option<Corner> {
    one_of(fields, RADIUS, CUT);
    let round = size(fields, RADIUS, ledger).map(Corner::Round);
    round.or_else(|| size(fields, CUT, ledger).map(Corner::Cut))
}

/// `[4 in, 3 in]`, or `{to: [4 in, 3 in], radius: 1/2 in}`.
fn vertex(flat: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Vertex> {
    let key = ledger.key(node.span);
    if matches!(node.shape, Shape::List(_)) {
        return Some(Vertex { key, name: None, at: point(flat, node, ledger)?, corner: None });
    }
    let mut fields = Fields::of(node, &keys::corner(), &mut *flat.reader)?;
    let at = place(&mut fields, CORNER, ledger);
    let corner = corner(&mut fields, ledger);
    Some(Vertex { key, name: fields.text(keys::AS.name), at: at?, corner })
}

fn place(fields: &mut Fields, key: NoteKey, ledger: &mut Ledger) -> Option<[Size; 2]> {
    let Some(node) = fields.node(key.name) else {
        fields.missing(key.name, "say where, `[1 in, 2 in]`");
        return None;
    };
    point(fields, node, ledger)
}

fn hole(flat: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Hole> {
    let mut fields = Fields::of(node, &keys::hole(), &mut *flat.reader)?;
    let key = ledger.key(node.span);
    one_of(&mut fields, D, THREAD);
    let thread = thread(&mut fields, ledger);
    let d = match &thread {
        Some(thread) => Some(tapping(thread)),
        None => needed(&mut fields, D, "give its diameter, or `thread:` where it is tapped", ledger),
    };
    let spot = spot(&mut fields, ledger);
    let (finish, name) = (finish(&mut fields), fields.text(AS.name));
    Some(Hole { key, name, d: d?, thread, spot: spot?, finish })
}

/// What is drilled before a hole is tapped: the nut's minor diameter.
fn tapping(thread: &Thread) -> Size {
    Size { key: thread.key, ..Size::mm(thread.key, thread.minor() * 1e3) }
}

fn spot(fields: &mut Fields, ledger: &mut Ledger) -> Option<Spot> {
    one_of(fields, AT, ON_CIRCLE);
    if fields.node(ON_CIRCLE.name).is_none() {
        return place(fields, AT, ledger).map(Spot::At);
    }
    let d = size(fields, ON_CIRCLE, ledger);
    if fields.node(COUNT.name).is_none() {
        fields.missing(COUNT.name, "say how many holes are on the circle");
    }
    let count = fields.count(COUNT.name);
    let first = angle(fields);
    let about = fields.node(ABOUT.name).map(|node| point(fields, node, ledger));
    Some(Spot::Circle { d: d?, count: count?, first, about: about.flatten() })
}

/// Of the first hole; 0 where nothing is said.
fn angle(fields: &mut Fields) -> f64 {
    let Some(typed) = fields.typed(FIRST.name) else { return 0.0 };
    let Some(angle) = fields.literal(&typed, Some(Dimension::NONE)) else { return 0.0 };
    if !angle.unit.has_angle() && angle.nominal.abs() > 0.0 {
        let problem = problem::unit_missing(typed.span, &typed.text, "the unit of an angle: `30 deg`");
        fields.reader.problems.push(problem);
    }
    angle.nominal
}

fn slot(flat: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Slot> {
    let mut fields = Fields::of(node, &keys::slot(), &mut *flat.reader)?;
    let key = ledger.key(node.span);
    let wide = needed(&mut fields, WIDE, "say how wide it is", ledger);
    let (from, to) = (place(&mut fields, FROM, ledger), place(&mut fields, TO, ledger));
    let name = fields.text(AS.name);
    Some(Slot { key, name, wide: wide?, from: from?, to: to? })
}
