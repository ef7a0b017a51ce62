//! The outline of a flat part as a closed path, and its holes one by one.

use std::f64::consts::{PI, TAU};

use super::edge::{Edge, Path, Turn, Xy, distance};
use super::model::{Corner, Flat, Outline, Spot};
use super::size::{Key, Size};

/// A corner before it is worked.
struct Bend<'a> {
    key: Key,
    at: Xy,
    corner: Option<&'a Corner>,
}

/// A round hole with its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoleAt {
    /// The hole's key.
    pub key: Key,
    /// Its centre, m.
    pub centre: Xy,
    /// Its radius, m.
    pub radius: f64,
}

pub(crate) fn xy(at: &[Size; 2]) -> Xy {
    [at[0].m(), at[1].m()]
}

/// The outline, counter-clockwise, in metres.
pub fn closed(flat: &Flat) -> Path {
    let mut bends = match &flat.outline {
        Outline::Disc { d } => return Path::circle([0.0, 0.0], d.m() / 2.0, d.key),
        Outline::Rectangle { wide, high, corner } => {
            let (w, h) = (wide.m(), high.m());
            let corners = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
            corners.map(|at| Bend { key: wide.key, at, corner: corner.as_ref() }).into()
        }
        Outline::Polygon(vertices) => {
            let bend = |v: &'_ super::model::Vertex| (v.key, xy(&v.at));
            let bends = vertices.iter().map(|v| (bend(v), v.corner.as_ref()));
            bends.map(|((key, at), corner)| Bend { key, at, corner }).collect::<Vec<_>>()
        }
    };
    if doubled_area(&bends) < 0.0 {
        bends.reverse();
    }
    through(&bends)
}

fn doubled_area(bends: &[Bend<'_>]) -> f64 {
    let next = |index: usize| bends[(index + 1) % bends.len()].at;
    bends.iter().enumerate().map(|(i, b)| b.at[0] * next(i)[1] - next(i)[0] * b.at[1]).sum()
}

fn through(bends: &[Bend<'_>]) -> Path {
    let count = bends.len();
    let mut edges: Vec<Edge> = Vec::new();
    let mut worked = Vec::new();
    for (index, bend) in bends.iter().enumerate() {
        worked.push(work(bend, bends[(index + count - 1) % count].at, bends[(index + 1) % count].at));
    }
    for (index, corner) in worked.iter().enumerate() {
        let key = bends[index].key;
        edges.extend(corner.edge(key));
        let (from, to) = (corner.to, worked[(index + 1) % count].from);
        if distance(from, to) > 1e-9 {
            edges.push(Edge { from, to, turn: None, key });
        }
    }
    Path { edges }
}

/// A worked corner: where it leaves one side and joins the next.
struct Worked {
    from: Xy,
    to: Xy,
    turn: Option<Turn>,
}

impl Worked {
    fn edge(&self, key: Key) -> Option<Edge> {
        (distance(self.from, self.to) > 1e-9).then_some(Edge {
            from: self.from,
            to: self.to,
            turn: self.turn,
            key,
        })
    }
}

fn unit(from: Xy, to: Xy) -> Xy {
    let long = distance(from, to).max(1e-300);
    [(to[0] - from[0]) / long, (to[1] - from[1]) / long]
}

fn step(at: Xy, along: Xy, by: f64) -> Xy {
    [at[0] + along[0] * by, at[1] + along[1] * by]
}

fn work(bend: &Bend<'_>, before: Xy, after: Xy) -> Worked {
    let (back, ahead) = (unit(bend.at, before), unit(bend.at, after));
    match bend.corner {
        None => Worked { from: bend.at, to: bend.at, turn: None },
        Some(Corner::Cut(size)) => {
            Worked { from: step(bend.at, back, size.m()), to: step(bend.at, ahead, size.m()), turn: None }
        }
        Some(Corner::Round(size)) => round(bend.at, back, ahead, size.m()),
    }
}

/// How far from a corner a radius begins, for the two directions that leave it.
pub(crate) fn setback(back: Xy, ahead: Xy, radius: f64) -> f64 {
    let half = half_angle(back, ahead);
    radius / libm::tan(half).max(1e-9)
}

fn half_angle(back: Xy, ahead: Xy) -> f64 {
    let cos = (back[0] * ahead[0] + back[1] * ahead[1]).clamp(-1.0, 1.0);
    libm::acos(cos) / 2.0
}

fn round(at: Xy, back: Xy, ahead: Xy, radius: f64) -> Worked {
    let set = setback(back, ahead, radius);
    let (from, to) = (step(at, back, set), step(at, ahead, set));
    let left = back[0] * ahead[1] - back[1] * ahead[0] < 0.0;
    let normal = if left { [back[1], -back[0]] } else { [-back[1], back[0]] };
    let centre = step(from, normal, radius);
    let angle = |p: Xy| libm::atan2(p[1] - centre[1], p[0] - centre[0]);
    let start = angle(from);
    let swept = (angle(to) - start).rem_euclid(TAU);
    let sweep = if swept > PI { swept - TAU } else { swept };
    Worked { from, to, turn: Some(Turn { centre, radius, start, sweep }) }
}

/// The straight sides' ends before corners are worked, with the setbacks at both: for checks.
pub(crate) fn sides(flat: &Flat) -> Vec<(Key, f64, f64)> {
    let bends = match &flat.outline {
        Outline::Disc { .. } => return Vec::new(),
        Outline::Rectangle { wide, high, corner } => {
            let (w, h) = (wide.m(), high.m());
            let corners = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
            corners.map(|at| Bend { key: wide.key, at, corner: corner.as_ref() }).into()
        }
        Outline::Polygon(vertices) => vertices
            .iter()
            .map(|v| Bend { key: v.key, at: xy(&v.at), corner: v.corner.as_ref() })
            .collect::<Vec<_>>(),
    };
    let count = bends.len();
    let set =
        |i: usize| bend_setback(&bends[i], bends[(i + count - 1) % count].at, bends[(i + 1) % count].at);
    let side = |i: usize| {
        let next = (i + 1) % count;
        (bends[i].corner.or(bends[next].corner).map_or(bends[i].key, corner_key), i, next)
    };
    (0..count)
        .map(side)
        .map(|(key, i, next)| (key, set(i) + set(next), distance(bends[i].at, bends[next].at)))
        .collect()
}

fn corner_key(corner: &Corner) -> Key {
    let (Corner::Round(size) | Corner::Cut(size)) = corner;
    size.key
}

fn bend_setback(bend: &Bend<'_>, before: Xy, after: Xy) -> f64 {
    match bend.corner {
        None => 0.0,
        Some(Corner::Cut(size)) => size.m(),
        Some(Corner::Round(size)) => setback(unit(bend.at, before), unit(bend.at, after), size.m()),
    }
}

/// Every round hole with its centre, those of circles one by one.
pub fn holes(flat: &Flat) -> Vec<HoleAt> {
    let mut all = Vec::new();
    for hole in &flat.holes {
        let radius = hole.d.m() / 2.0;
        match &hole.spot {
            Spot::At(at) => all.push(HoleAt { key: hole.key, centre: xy(at), radius }),
            Spot::Circle { d, count, first, about } => {
                let centre = about.as_ref().map_or([0.0, 0.0], xy);
                let angles = (0..*count).map(|i| first + TAU * f64::from(i) / f64::from(*count));
                let place = |angle: f64| step(centre, [libm::cos(angle), libm::sin(angle)], d.m() / 2.0);
                all.extend(angles.map(|angle| HoleAt { key: hole.key, centre: place(angle), radius }));
            }
        }
    }
    all
}
