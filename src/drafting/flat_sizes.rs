//! The sizes of a flat part: widths below, heights to the left, both from the origin; holes, slots and corners on
//! leaders.

use super::callout::{Callout, LEAN};
use super::centres::{Arm, on_line};
use super::dimension::Dimension;
use super::drawing::Point;
use super::figure::Figures;
use super::flat::Plan;
use super::label::{Label, Part};
use super::turned_callouts::can_be_noted;
use crate::shape::{Corner, Edge, Flat, Hole, Outline, Size, Slot, Spot, Vertex, closed, holes};

/// A coordinate to be dimensioned: its size and the other coordinate, m.
struct Coordinate<'a> {
    size: &'a Size,
    beside: f64,
}

/// A height from an axis smaller than this on paper, mm, says in a word on which side it lies.
const SMALL: f64 = 3.0;

/// Dimensions for the three lanes: below, to the left, to the right.
pub(crate) struct Lanes {
    pub(crate) below: Vec<Dimension>,
    pub(crate) left: Vec<Dimension>,
    pub(crate) right: Vec<Dimension>,
}

pub(crate) fn lanes(flat: &Flat, plan: Plan, arms: &[Arm], figures: &mut Figures) -> Lanes {
    let path = closed(flat);
    let (least, greatest) = path.extent();
    let mut below = Vec::new();
    if let Outline::Disc { d } = &flat.outline {
        let radius = d.m() / 2.0 * plan.scale;
        let label = figures.label(d, "⌀", "");
        below.push(Dimension { from: -radius, to: radius, reach: (0.0, 0.0), label });
    }
    // From the end of a centre line, else from the corner that is nearest to the lane's far side.
    let low = |axis: usize, coordinate: f64, beside: f64| {
        -on_line(arms, plan, axis, coordinate).map_or(beside * plan.scale, |arm| arm.from)
    };
    let high = |axis: usize, coordinate: f64, beside: f64| {
        on_line(arms, plan, axis, coordinate).map_or(beside * plan.scale, |arm| arm.to)
    };
    for one in &coordinates(flat, 0, f64::max) {
        let reach = (low(0, 0.0, at_origin(flat, 0, f64::min)), low(0, one.size.m(), one.beside));
        below.push(dimension(one, plan, reach, figures, false));
    }
    let middle = f64::midpoint(least[0], greatest[0]);
    let (mut left, mut right) = (Vec::new(), Vec::new());
    let furthest = coordinates(flat, 1, f64::max);
    let has_axis = through(flat)[1];
    for (near, far) in coordinates(flat, 1, f64::min).iter().zip(&furthest) {
        if near.beside <= middle {
            let reach = (low(1, 0.0, at_origin(flat, 1, f64::min)), low(1, far.size.m(), far.beside));
            left.push(dimension(near, plan, reach, figures, has_axis));
        } else {
            let reach = (high(1, 0.0, at_origin(flat, 1, f64::max)), high(1, near.size.m(), near.beside));
            right.push(dimension(near, plan, reach, figures, has_axis));
        }
    }
    Lanes { below, left, right }
}

/// The places to be dimensioned along an axis, each once, with the place beside it that `nearer` prefers. An extension
/// line begins at the furthest feature it holds for and runs through the others.
fn coordinates(flat: &Flat, axis: usize, nearer: fn(f64, f64) -> f64) -> Vec<Coordinate<'_>> {
    let mut kept: Vec<Coordinate<'_>> = Vec::new();
    for one in gathered(flat, axis) {
        if one.size.m().abs() < 1e-9 && !one.size.on_hold() {
            continue;
        }
        match kept.iter_mut().find(|k| same(k.size, one.size)) {
            Some(known) => {
                known.beside = nearer(known.beside, one.beside);
                if known.size.limits.is_none() && one.size.limits.is_some() {
                    known.size = one.size;
                }
            }
            None => kept.push(one),
        }
    }
    kept
}

fn same(a: &Size, b: &Size) -> bool {
    (a.m() - b.m()).abs() < 1e-9
        && !a.on_hold()
        && !b.on_hold()
        && (a.limits == b.limits || a.limits.is_none() || b.limits.is_none())
}

fn dimension(
    one: &Coordinate<'_>,
    plan: Plan,
    (origin, own): (f64, f64),
    figures: &mut Figures,
    has_axis: bool,
) -> Dimension {
    let at = one.size.m() * plan.scale;
    let side = if at < 0.0 { " below" } else { " above" };
    let side = if has_axis && at.abs() < SMALL { side } else { "" };
    let mut label = Label::of(figures.parts(one.size, "", side));
    // In words alone the sign says on which side, unless a word does.
    let stated = label.clone();
    if at < 0.0 {
        unsigned(&mut label);
    }
    figures.state(Some(one.size.key), if side.is_empty() { &stated } else { &label });
    if at < 0.0 {
        return Dimension { from: at, to: 0.0, reach: (own, origin), label };
    }
    Dimension { from: 0.0, to: at, reach: (origin, own), label }
}

/// A place on the other side of the origin is as far as its figure without sign.
fn unsigned(label: &mut Label) {
    for part in label.rows.iter_mut().flatten() {
        if let Part::Text(text) = part {
            *text = text.trim_start_matches(['-', '−']).to_owned();
        }
    }
}

fn gathered(flat: &Flat, axis: usize) -> Vec<Coordinate<'_>> {
    let mut all = Vec::new();
    let other = 1 - axis;
    let mut points: Vec<&[Size; 2]> = Vec::new();
    match &flat.outline {
        Outline::Rectangle { wide, high, .. } => {
            let size = if axis == 0 { wide } else { high };
            all.push(Coordinate { size, beside: 0.0 });
        }
        Outline::Disc { .. } => {}
        Outline::Polygon(vertices) => points.extend(vertices.iter().map(|v| &v.at)),
    }
    for hole in &flat.holes {
        match &hole.spot {
            Spot::At(at) => points.push(at),
            Spot::Circle { about, .. } => points.extend(about.as_ref()),
        }
    }
    points.extend(flat.slots.iter().flat_map(|slot| [&slot.from, &slot.to]));
    all.extend(points.into_iter().map(|at| Coordinate { size: &at[axis], beside: at[other].m() }));
    all
}

/// Whether the lines x = 0 and y = 0 run through the part and not along a side of it.
pub(crate) fn through(flat: &Flat) -> [bool; 2] {
    let Outline::Polygon(vertices) = &flat.outline else { return [false; 2] };
    [0, 1].map(|axis| {
        let (least, greatest) = path_extent(flat, axis);
        let has_corner = vertices.iter().any(|vertex| vertex.at[axis].m().abs() < 1e-9);
        !has_corner && least < 0.0 && greatest > 0.0
    })
}

fn path_extent(flat: &Flat, axis: usize) -> (f64, f64) {
    let (least, greatest) = closed(flat).extent();
    (least[axis], greatest[axis])
}

/// Where the datum's extension line begins: the corner on the axis through the origin that `nearer` prefers.
fn at_origin(flat: &Flat, axis: usize, nearer: fn(f64, f64) -> f64) -> f64 {
    let other = 1 - axis;
    match &flat.outline {
        Outline::Polygon(vertices) => {
            let on = vertices.iter().filter(|v| v.at[axis].m().abs() < 1e-9).map(|v| v.at[other].m());
            let within = path_extent(flat, other);
            on.reduce(nearer).unwrap_or(if through(flat)[axis] { nearer(within.0, within.1) } else { 0.0 })
        }
        Outline::Rectangle { wide, high, .. } => nearer(0.0, if axis == 0 { high.m() } else { wide.m() }),
        Outline::Disc { .. } => 0.0,
    }
}

pub(crate) fn labels(flat: &Flat, plan: Plan, figures: &mut Figures) -> Vec<Callout> {
    let mut all = Vec::new();
    hole_groups(flat, plan, figures, &mut all);
    for slot in &flat.slots {
        all.push(slot_label(slot, plan, figures));
    }
    corners(flat, plan, figures, &mut all);
    all
}

/// Holes of equal size share a label.
fn hole_groups(flat: &Flat, plan: Plan, figures: &mut Figures, all: &mut Vec<Callout>) {
    let mut done: Vec<&Hole> = Vec::new();
    for hole in &flat.holes {
        if done.iter().any(|known| alike(known, hole)) {
            continue;
        }
        done.push(hole);
        let group: Vec<&Hole> = flat.holes.iter().filter(|other| alike(hole, other)).collect();
        all.push(hole_label(flat, &group, plan, figures));
    }
}

fn alike(a: &Hole, b: &Hole) -> bool {
    let singles = matches!((&a.spot, &b.spot), (Spot::At(_), Spot::At(_)));
    let same =
        a.d.text == b.d.text && a.d.limits == b.d.limits && a.d.unit == b.d.unit && a.d.class == b.d.class;
    let plain = !a.d.on_hold() && !b.d.on_hold() && a.d.auxiliary == b.d.auxiliary;
    std::ptr::eq(a, b)
        || (singles && same && plain && a.finish == b.finish && thread_text(a) == thread_text(b))
}

fn thread_text(hole: &Hole) -> Option<&str> {
    hole.thread.as_ref().map(|thread| thread.text.as_str())
}

fn hole_label(flat: &Flat, group: &[&Hole], plan: Plan, figures: &mut Figures) -> Callout {
    let hole = group[0];
    let count = match &hole.spot {
        Spot::At(_) => group.len(),
        Spot::Circle { count, .. } => usize::try_from(*count).unwrap_or(usize::MAX),
    };
    let times = if count > 1 { format!("{count} × ") } else { String::new() };
    let mut parts = match &hole.thread {
        Some(thread) => vec![Part::Text(format!("{times}{}", thread.text))],
        None => figures.parts(&hole.d, &format!("{times}⌀"), ""),
    };
    parts.extend(hole.finish.as_ref().map(|text| Part::Texture(text.clone())));
    let mut label = Label::of(parts);
    if let Spot::Circle { d, first, .. } = &hole.spot {
        let mut row = vec![Part::Text("on".to_owned())];
        row.extend(figures.parts(d, "⌀", ""));
        row.push(Part::Text(first_angle(*first)));
        label.rows.push(row);
    }
    figures.state(Some(hole.key), &label);
    let centres = holes(flat).into_iter().filter(|one| group.iter().any(|hole| hole.key == one.key));
    let highest =
        centres.max_by(|a, b| a.centre[1].total_cmp(&b.centre[1]).then(a.centre[0].total_cmp(&b.centre[0])));
    let (centre, radius) = highest.map_or(([0.0, 0.0], 0.0), |one| (one.centre, one.radius));
    let at = plan.point(centre);
    Callout { round: radius * plan.scale, ..Callout::at(at.x, at.y, label) }
}

fn first_angle(first: f64) -> String {
    let degrees = first.to_degrees();
    if degrees.abs() < 1e-9 {
        return "equally spaced".to_owned();
    }
    let text = format!("{degrees:.3}");
    format!("first at {}°", text.trim_end_matches('0').trim_end_matches('.'))
}

fn slot_label(slot: &Slot, plan: Plan, figures: &mut Figures) -> Callout {
    let label = figures.label(&slot.wide, "slot ", " wide");
    let ends = [&slot.from, &slot.to].map(|at| [at[0].m(), at[1].m()]);
    let high = if ends[0][1] >= ends[1][1] { ends[0] } else { ends[1] };
    let at = plan.point(high);
    Callout { round: slot.wide.m() / 2.0 * plan.scale, ..Callout::at(at.x, at.y, label) }
}

/// Corners worked alike share a label that points at the highest of them.
fn corners(flat: &Flat, plan: Plan, figures: &mut Figures, all: &mut Vec<Callout>) {
    let edges = closed(flat).edges;
    match &flat.outline {
        Outline::Disc { .. } => {}
        Outline::Rectangle { corner, .. } => {
            let Some(corner) = corner else { return };
            let label = corner_label(figures, corner, "4 × ", true);
            all.extend(
                highest(edges.iter().filter(|edge| is_corner(edge))).map(|edge| pointing(edge, plan, label)),
            );
        }
        Outline::Polygon(vertices) => {
            let worked: Vec<&Vertex> = vertices.iter().filter(|v| v.corner.is_some()).collect();
            for (index, vertex) in worked.iter().enumerate() {
                let Some(corner) = &vertex.corner else { continue };
                if worked[..index].iter().any(|known| same_corner(known.corner.as_ref(), corner)) {
                    continue;
                }
                let group: Vec<&&Vertex> = worked
                    .iter()
                    .filter(|v| v.key == vertex.key || same_corner(v.corner.as_ref(), corner))
                    .collect();
                let own = group.iter().filter_map(|v| edges.iter().find(|edge| edge.key == v.key));
                let (open, hidden): (Vec<&Edge>, Vec<&Edge>) = own.partition(|edge| sees_out(edge, &edges));
                let square = group.iter().all(|v| is_square(vertices, v.key));
                if open.is_empty() && remarked(figures, corner, square) {
                    continue;
                }
                let times = if group.len() > 1 { format!("{} × ", group.len()) } else { String::new() };
                let label = corner_label(figures, corner, &times, square);
                let pointed = if open.is_empty() { hidden } else { open };
                all.extend(highest(pointed.into_iter()).map(|edge| pointing(edge, plan, label)));
            }
        }
    }
}

/// Puts the size of corners that no leader reaches into the notes, one size of each kind.
fn remarked(figures: &mut Figures, corner: &Corner, square: bool) -> bool {
    let (Corner::Round(size) | Corner::Cut(size)) = corner;
    let kind = if matches!(corner, Corner::Round(_)) { "Rounded" } else { "Cut" };
    if !can_be_noted(size) || figures.remarks.iter().any(|line| line.starts_with(kind)) {
        return false;
    }
    let text = corner_label(figures, corner, "", square).plain();
    figures.remarks.push(format!("{kind} corners without a size: {text}"));
    true
}

/// Whether a leader from above, leaning either way, reaches a corner without crossing the outline.
fn sees_out(corner: &Edge, edges: &[Edge]) -> bool {
    let tip = middle(corner);
    let side =
        |a: [f64; 2], b: [f64; 2], p: [f64; 2]| (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
    let high = edges.iter().map(|edge| edge.to[1]).fold(tip[1], f64::max) - tip[1] + 1.0;
    [-LEAN, LEAN].into_iter().any(|lean| {
        let top = [tip[0] + lean * high, tip[1] + high];
        edges.iter().filter(|edge| !std::ptr::eq(*edge, corner)).all(|edge| {
            side(tip, top, edge.from) * side(tip, top, edge.to) > 0.0
                || side(edge.from, edge.to, tip) * side(edge.from, edge.to, top) > 0.0
        })
    })
}

fn middle(edge: &Edge) -> [f64; 2] {
    match edge.turn {
        Some(turn) => turn.at(0.5),
        None => [f64::midpoint(edge.from[0], edge.to[0]), f64::midpoint(edge.from[1], edge.to[1])],
    }
}

/// Whether the sides of a corner stand at a right angle.
fn is_square(vertices: &[Vertex], key: crate::shape::Key) -> bool {
    let count = vertices.len();
    let Some(index) = vertices.iter().position(|v| v.key == key) else { return false };
    let at = |i: usize| [vertices[i % count].at[0].m(), vertices[i % count].at[1].m()];
    let (before, own, after) = (at(index + count - 1), at(index), at(index + 1));
    let dot = (before[0] - own[0]) * (after[0] - own[0]) + (before[1] - own[1]) * (after[1] - own[1]);
    let long = |p: [f64; 2]| libm::hypot(p[0] - own[0], p[1] - own[1]);
    dot.abs() < 1e-6 * long(before) * long(after)
}

/// Whether two corners are made to one size.
fn same_corner(a: Option<&Corner>, b: &Corner) -> bool {
    let alike = |a: &Size, b: &Size| {
        a.text == b.text && a.unit == b.unit && a.limits == b.limits && !a.on_hold() && !b.on_hold()
    };
    match (a, b) {
        (Some(Corner::Round(a)), Corner::Round(b)) | (Some(Corner::Cut(a)), Corner::Cut(b)) => alike(a, b),
        _ => false,
    }
}

fn is_corner(edge: &Edge) -> bool {
    let level = (edge.from[0] - edge.to[0]).abs() < 1e-9 || (edge.from[1] - edge.to[1]).abs() < 1e-9;
    edge.turn.is_some() || !level
}

fn highest<'a>(edges: impl Iterator<Item = &'a Edge>) -> Option<&'a Edge> {
    let place = |e: &Edge| (e.from[1] + e.to[1], e.from[0] + e.to[0]);
    edges.max_by(|a, b| place(a).0.total_cmp(&place(b).0).then(place(a).1.total_cmp(&place(b).1)))
}

fn corner_label(figures: &mut Figures, corner: &Corner, times: &str, square: bool) -> Label {
    match corner {
        Corner::Round(size) => figures.label(size, &format!("{times}R"), ""),
        Corner::Cut(size) if square => figures.label(size, times, " × 45°"),
        Corner::Cut(size) => figures.label(size, times, " off each side"),
    }
}

fn pointing(edge: &Edge, plan: Plan, label: Label) -> Callout {
    let at: Point = plan.point(middle(edge));
    Callout::at(at.x, at.y, label)
}
