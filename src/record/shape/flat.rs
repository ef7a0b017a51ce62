//! A part from plate: its thickness, its outline, holes and slots.

use super::size::{of_literal, point, size};
use super::{Ledger, finish, needed, one_of, thread};
use crate::calc::dimension::Dimension;
use crate::note::yaml::{Node, Shape};
use crate::record::fields::Fields;
use crate::record::problems as problem;
use crate::shape::{Corner, Flat, Hole, Outline, Size, Slot, Spot, Thread, Vertex};

const FLAT: &[&str] = &["thick", "rectangle", "disc", "outline", "radius", "cut", "holes", "slots"];
const HOLE: &[&str] = &["d", "thread", "at", "on_circle", "count", "first", "about", "finish", "as"];

pub(super) fn read(shape: &mut Fields, ledger: &mut Ledger) -> Option<Flat> {
    let mut flat = shape.child("flat", "a flat part", FLAT)?;
    let thick = needed(&mut flat, "thick", "say how thick it is", ledger);
    let outline = outline(&mut flat, ledger);
    let holes: Vec<_> = flat.nodes("holes").into_iter().map(|node| hole(&mut flat, node, ledger)).collect();
    let slots: Vec<_> = flat.nodes("slots").into_iter().map(|node| slot(&mut flat, node, ledger)).collect();
    let holes = holes.into_iter().collect::<Option<_>>();
    Some(Flat {
        thick: thick?,
        outline: outline?,
        holes: holes?,
        slots: slots.into_iter().collect::<Option<_>>()?,
    })
}

fn outline(flat: &mut Fields, ledger: &mut Ledger) -> Option<Outline> {
    const KINDS: [&str; 3] = ["rectangle", "disc", "outline"];
    let given: Vec<&str> = KINDS.into_iter().filter(|kind| flat.node(kind).is_some()).collect();
    let [kind] = given[..] else {
        let found = if given.is_empty() { "none of them" } else { "more than one" };
        flat.reader.problems.push(problem::shape(flat.span, "`rectangle`, `disc` or `outline`", found));
        return None;
    };
    if kind != "rectangle" {
        let stray = ["radius", "cut"].into_iter().find_map(|key| Some((key, flat.node(key)?.span)));
        flat.reader.problems.extend(stray.map(|(key, span)| problem::corner_elsewhere(span, key)));
    }
    match kind {
        "disc" => size(flat, "disc", ledger).map(|d| Outline::Disc { d }),
        "rectangle" => rectangle(flat, ledger),
        _ => {
            let corners = flat.nodes("outline");
            let corners: Vec<_> = corners.into_iter().map(|node| vertex(flat, node, ledger)).collect();
            corners.into_iter().collect::<Option<_>>().map(Outline::Polygon)
        }
    }
}

/// `4 in x 3 in`, or `[4 in, 3 in]` where a side has a class, an expression or a hold.
fn rectangle(flat: &mut Fields, ledger: &mut Ledger) -> Option<Outline> {
    let node = flat.node("rectangle")?;
    let [wide, high] = match &node.shape {
        Shape::List(_) => point(flat, node, ledger)?,
        _ => {
            let sides = flat.sides::<2>("rectangle", "two lengths, `4 in x 3 in`")?;
            sides.map(|side| of_literal(ledger.key(node.span), &side))
        }
    };
    Some(Outline::Rectangle { wide, high, corner: corner(flat, ledger) })
}

fn corner(fields: &mut Fields, ledger: &mut Ledger) -> Option<Corner> {
    one_of(fields, "radius", "cut");
    let round = size(fields, "radius", ledger).map(Corner::Round);
    round.or_else(|| size(fields, "cut", ledger).map(Corner::Cut))
}

/// `[4 in, 3 in]`, or `{to: [4 in, 3 in], radius: 1/2 in}`.
fn vertex(flat: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Vertex> {
    let key = ledger.key(node.span);
    if matches!(node.shape, Shape::List(_)) {
        return Some(Vertex { key, at: point(flat, node, ledger)?, corner: None });
    }
    let mut fields = Fields::of(node, "a corner", &["to", "radius", "cut"], &mut *flat.reader)?;
    let at = place(&mut fields, "to", ledger);
    let corner = corner(&mut fields, ledger);
    Some(Vertex { key, at: at?, corner })
}

fn place(fields: &mut Fields, key: &str, ledger: &mut Ledger) -> Option<[Size; 2]> {
    let Some(node) = fields.node(key) else {
        fields.missing(key, "say where, `[1 in, 2 in]`");
        return None;
    };
    point(fields, node, ledger)
}

fn hole(flat: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Hole> {
    let mut fields = Fields::of(node, "a hole", HOLE, &mut *flat.reader)?;
    let key = ledger.key(node.span);
    one_of(&mut fields, "d", "thread");
    let thread = thread(&mut fields, ledger);
    let d = match &thread {
        Some(thread) => Some(tapping(thread)),
        None => needed(&mut fields, "d", "give its diameter, or `thread:` where it is tapped", ledger),
    };
    let spot = spot(&mut fields, ledger);
    let (finish, name) = (finish(&mut fields), fields.text("as"));
    Some(Hole { key, name, d: d?, thread, spot: spot?, finish })
}

/// What is drilled before a hole is tapped: the nut's minor diameter.
fn tapping(thread: &Thread) -> Size {
    Size { key: thread.key, ..Size::mm(thread.key, thread.minor() * 1e3) }
}

fn spot(fields: &mut Fields, ledger: &mut Ledger) -> Option<Spot> {
    one_of(fields, "at", "on_circle");
    if fields.node("on_circle").is_none() {
        return place(fields, "at", ledger).map(Spot::At);
    }
    let d = size(fields, "on_circle", ledger);
    if fields.node("count").is_none() {
        fields.missing("count", "say how many holes are on the circle");
    }
    let count = fields.count("count");
    let first = angle(fields);
    let about = fields.node("about").map(|node| point(fields, node, ledger));
    Some(Spot::Circle { d: d?, count: count?, first, about: about.flatten() })
}

/// Of the first hole; 0 where nothing is said.
fn angle(fields: &mut Fields) -> f64 {
    let Some(typed) = fields.typed("first") else { return 0.0 };
    let Some(angle) = fields.literal(&typed, Some(Dimension::NONE)) else { return 0.0 };
    if !angle.unit.has_angle() && angle.nominal.abs() > 0.0 {
        let problem = problem::unit_missing(typed.span, &typed.text, "the unit of an angle: `30 deg`");
        fields.reader.problems.push(problem);
    }
    angle.nominal
}

fn slot(flat: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Slot> {
    let mut fields = Fields::of(node, "a slot", &["wide", "from", "to", "as"], &mut *flat.reader)?;
    let key = ledger.key(node.span);
    let wide = needed(&mut fields, "wide", "say how wide it is", ledger);
    let (from, to) = (place(&mut fields, "from", ledger), place(&mut fields, "to", ledger));
    let name = fields.text("as");
    Some(Slot { key, name, wide: wide?, from: from?, to: to? })
}
