//! What can be wrong with a flat part.

use super::edge::{Path, distance, segment_distance};
use super::fault::{Fault, Lacking};
use super::model::{Flat, Outline, Spot};
use super::outline::{HoleAt, closed, holes, sides, xy};
use super::size::Key;

/// More holes on one circle than this are a slip of the pen.
const MOST_HOLES: u32 = 500;

pub(crate) fn check_flat(key: Key, flat: &Flat, faults: &mut Vec<Fault>) {
    let before = faults.len();
    check_corners(key, flat, faults);
    check_counts(flat, faults);
    check_names(flat, faults);
    if faults.len() > before {
        return;
    }
    let path = closed(flat);
    check_crossing(&path, faults);
    if faults.len() == before {
        check_openings(flat, &path, faults);
    }
}

fn check_corners(key: Key, flat: &Flat, faults: &mut Vec<Fault>) {
    if let Outline::Polygon(vertices) = &flat.outline
        && vertices.len() < 3
    {
        faults.push(Fault::Missing { feature: key, what: Lacking::Corners });
        return;
    }
    for (size, value, room) in sides(flat) {
        if value > room + 1e-9 {
            faults.push(Fault::TooLarge { size, value, room });
        } else if room < 1e-9 {
            faults.push(Fault::OutlineCrosses { one: size, other: size });
        }
    }
}

fn check_counts(flat: &Flat, faults: &mut Vec<Fault>) {
    for hole in &flat.holes {
        if let Spot::Circle { count, .. } = &hole.spot
            && !(1..=MOST_HOLES).contains(count)
        {
            faults.push(Fault::Count { feature: hole.key, count: *count });
        }
    }
}

fn check_names(flat: &Flat, faults: &mut Vec<Fault>) {
    let holes = flat.holes.iter().map(|hole| (hole.key, hole.name.as_deref()));
    let slots = flat.slots.iter().map(|slot| (slot.key, slot.name.as_deref()));
    let corners: &[_] = if let Outline::Polygon(all) = &flat.outline { all } else { &[] };
    let corners = corners.iter().map(|vertex| (vertex.key, vertex.name.as_deref()));
    super::check::check_twice_named(holes.chain(slots).chain(corners), faults);
}

/// Sides that are no neighbours must not touch.
fn check_crossing(path: &Path, faults: &mut Vec<Fault>) {
    let pieces: Vec<_> =
        path.edges.iter().flat_map(|edge| edge.chords().into_iter().map(|p| (edge.key, p))).collect();
    let count = pieces.len();
    let piece = |i: usize| (pieces[i].1, pieces[(i + 1) % count].1);
    for one in 0..count {
        for other in one + 2..count {
            let neighbours = one == 0 && other == count - 1;
            if !neighbours && segment_distance(piece(one), piece(other)) < 1e-9 {
                faults.push(Fault::OutlineCrosses { one: pieces[one].0, other: pieces[other].0 });
                return;
            }
        }
    }
    let folded = (0..count).find(|i| folds_back(piece(*i), piece((i + 1) % count)));
    if let Some(at) = folded {
        faults.push(Fault::OutlineCrosses { one: pieces[at].0, other: pieces[(at + 1) % count].0 });
    }
}

/// Whether the second piece runs back over the first.
fn folds_back(a: ([f64; 2], [f64; 2]), b: ([f64; 2], [f64; 2])) -> bool {
    let (u, v) = ([a.1[0] - a.0[0], a.1[1] - a.0[1]], [b.1[0] - b.0[0], b.1[1] - b.0[1]]);
    let (cross, dot) = (u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]);
    let scale = distance(a.0, a.1) * distance(b.0, b.1);
    dot < 0.0 && cross.abs() < 1e-9 * scale
}

/// A hole or slot as a line with a radius round it.
struct Capsule {
    key: Key,
    line: ([f64; 2], [f64; 2]),
    radius: f64,
}

fn capsules(flat: &Flat) -> Vec<Capsule> {
    let round =
        |hole: HoleAt| Capsule { key: hole.key, line: (hole.centre, hole.centre), radius: hole.radius };
    let slots = flat.slots.iter().map(|slot| Capsule {
        key: slot.key,
        line: (xy(&slot.from), xy(&slot.to)),
        radius: slot.wide.m() / 2.0,
    });
    holes(flat).into_iter().map(round).chain(slots).collect()
}

fn check_openings(flat: &Flat, path: &Path, faults: &mut Vec<Fault>) {
    let all = capsules(flat);
    let polygon = path.polygon();
    for (index, one) in all.iter().enumerate() {
        let wall = wall(one, path, &polygon);
        if wall <= 1e-9 {
            faults.push(Fault::HoleOutside { hole: one.key, wall });
        }
        for other in &all[index + 1..] {
            let wall = segment_distance(one.line, other.line) - one.radius - other.radius;
            if wall <= 1e-9 {
                faults.push(Fault::HolesMeet { one: one.key, other: other.key, wall });
            }
        }
    }
    faults.dedup();
}

/// Metal between an opening and the outline; negative if it breaks out.
fn wall(opening: &Capsule, path: &Path, polygon: &[[f64; 2]]) -> f64 {
    let ends = path.depth(opening.line.0).min(path.depth(opening.line.1));
    if opening.line.0 == opening.line.1 || ends < 0.0 {
        return ends - opening.radius;
    }
    let next = |i: usize| polygon[(i + 1) % polygon.len()];
    let between = (0..polygon.len()).map(|i| segment_distance(opening.line, (polygon[i], next(i))));
    between.fold(ends, f64::min) - opening.radius
}

/// The thinnest metal between openings and outline or each other, m.
pub(crate) fn thinnest(flat: &Flat, path: &Path) -> Option<f64> {
    let all = capsules(flat);
    let polygon = path.polygon();
    let mut least = all.iter().map(|one| wall(one, path, &polygon)).reduce(f64::min)?;
    for (index, one) in all.iter().enumerate() {
        for other in &all[index + 1..] {
            least = least.min(segment_distance(one.line, other.line) - one.radius - other.radius);
        }
    }
    Some(least)
}
