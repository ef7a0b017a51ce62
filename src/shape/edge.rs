//! Lines and arcs in a plane: area, centroid, distance.

use std::f64::consts::{PI, TAU};

/// A point or vector, x and y.
pub(crate) type Xy = [f64; 2];

/// The arc of an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Its centre.
    pub centre: Xy,
    /// Its radius.
    pub radius: f64,
    /// Angle at its beginning, rad, counter-clockwise from x.
    pub start: f64,
    /// Angle it sweeps, rad; negative clockwise.
    pub sweep: f64,
}

/// One side of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Where it begins.
    pub from: Xy,
    /// Where it ends.
    pub to: Xy,
    /// The arc, if it is no straight line.
    pub turn: Option<Turn>,
    /// The corner it begins at or rounds.
    pub key: super::size::Key,
}

/// A closed outline.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// Its sides in order.
    pub edges: Vec<Edge>,
}

impl Turn {
    /// The point at a share of the sweep.
    pub fn at(&self, share: f64) -> Xy {
        let angle = self.start + self.sweep * share;
        [self.centre[0] + self.radius * libm::cos(angle), self.centre[1] + self.radius * libm::sin(angle)]
    }

    /// Whether the arc passes the direction of a point seen from its centre.
    fn faces(&self, p: Xy) -> bool {
        let angle = libm::atan2(p[1] - self.centre[1], p[0] - self.centre[0]);
        let along = if self.sweep >= 0.0 { angle - self.start } else { self.start - angle };
        along.rem_euclid(TAU) <= self.sweep.abs()
    }
}

impl Edge {
    /// Signed area under it seen from the origin, with the first moments.
    fn sweep(&self) -> (f64, Xy) {
        let cross = self.from[0] * self.to[1] - self.to[0] * self.from[1];
        let (area, third) = (cross / 2.0, cross / 6.0);
        let mut moment = [(self.from[0] + self.to[0]) * third, (self.from[1] + self.to[1]) * third];
        let Some(turn) = self.turn else { return (area, moment) };
        let (segment, away) = segment(&turn);
        let middle = turn.start + turn.sweep / 2.0;
        let centroid = [turn.centre[0] + away * libm::cos(middle), turn.centre[1] + away * libm::sin(middle)];
        moment = [moment[0] + segment * centroid[0], moment[1] + segment * centroid[1]];
        (area + segment, moment)
    }

    /// Its length.
    pub fn length(&self) -> f64 {
        self.turn.map_or_else(|| distance(self.from, self.to), |turn| turn.radius * turn.sweep.abs())
    }

    /// Distance of a point from it.
    pub fn distance(&self, p: Xy) -> f64 {
        match self.turn {
            None => point_segment(p, self.from, self.to),
            Some(turn) if turn.faces(p) => (distance(p, turn.centre) - turn.radius).abs(),
            Some(_) => distance(p, self.from).min(distance(p, self.to)),
        }
    }

    /// Points along it, its end left out.
    pub fn chords(&self) -> Vec<Xy> {
        let Some(turn) = self.turn else { return vec![self.from] };
        let count = (turn.sweep.abs() / (PI / 24.0)).ceil().max(1.0);
        let mut points = Vec::new();
        let mut step = 0.0;
        while step < count {
            points.push(turn.at(step / count));
            step += 1.0;
        }
        points
    }
}

/// Signed area between an arc and its chord, and how far its centroid is from the centre.
fn segment(turn: &Turn) -> (f64, f64) {
    let angle = turn.sweep.abs();
    let lune = angle - libm::sin(angle);
    let half = libm::sin(angle / 2.0);
    let area = turn.radius * turn.radius / 2.0 * lune * turn.sweep.signum();
    let away = if lune > 1e-15 { 4.0 * turn.radius * half * half * half / (3.0 * lune) } else { turn.radius };
    (area, away)
}

impl Path {
    /// A full circle.
    pub fn circle(centre: Xy, radius: f64, key: super::size::Key) -> Self {
        let half = |start: f64| {
            let turn = Turn { centre, radius, start, sweep: PI };
            Edge { from: turn.at(0.0), to: turn.at(1.0), turn: Some(turn), key }
        };
        Self { edges: vec![half(0.0), half(PI)] }
    }

    /// Area, positive counter-clockwise, and first moments.
    pub fn area(&self) -> (f64, Xy) {
        let mut sum = (0.0, [0.0, 0.0]);
        for edge in &self.edges {
            let (area, moment) = edge.sweep();
            sum = (sum.0 + area, [sum.1[0] + moment[0], sum.1[1] + moment[1]]);
        }
        sum
    }

    /// Its length.
    pub fn length(&self) -> f64 {
        self.edges.iter().map(Edge::length).sum()
    }

    /// As a polygon, arcs in chords of at most 7.5°.
    pub fn polygon(&self) -> Vec<Xy> {
        self.edges.iter().flat_map(Edge::chords).collect()
    }

    /// Least and greatest x and y.
    pub fn extent(&self) -> (Xy, Xy) {
        let mut least = [f64::INFINITY; 2];
        let mut greatest = [f64::NEG_INFINITY; 2];
        for p in self.edges.iter().flat_map(extremes) {
            for axis in [0, 1] {
                least[axis] = least[axis].min(p[axis]);
                greatest[axis] = greatest[axis].max(p[axis]);
            }
        }
        (least, greatest)
    }

    /// Distance of a point from the outline, positive inside.
    pub fn depth(&self, p: Xy) -> f64 {
        let least = self.edges.iter().map(|edge| edge.distance(p)).fold(f64::INFINITY, f64::min);
        if self.holds(p) { least } else { -least }
    }

    /// Whether a point lies inside.
    fn holds(&self, p: Xy) -> bool {
        let polygon = self.polygon();
        let mut inside = false;
        for (index, a) in polygon.iter().enumerate() {
            let b = polygon[(index + 1) % polygon.len()];
            if (a[1] > p[1]) != (b[1] > p[1]) {
                let x = a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
                inside ^= p[0] < x;
            }
        }
        inside
    }
}

/// The ends of an edge and, of an arc, its outermost points.
fn extremes(edge: &Edge) -> Vec<Xy> {
    let mut points = vec![edge.from, edge.to];
    if let Some(turn) = edge.turn {
        let (c, r) = (turn.centre, turn.radius);
        let outermost = [[c[0] + r, c[1]], [c[0] - r, c[1]], [c[0], c[1] + r], [c[0], c[1] - r]];
        points.extend(outermost.into_iter().filter(|p| turn.faces(*p)));
    }
    points
}

pub(crate) fn distance(a: Xy, b: Xy) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

fn point_segment(p: Xy, a: Xy, b: Xy) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    let share = if square > 0.0 { ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square } else { 0.0 };
    let share = share.clamp(0.0, 1.0);
    distance(p, [a[0] + share * dx, a[1] + share * dy])
}

fn side(a: Xy, b: Xy, p: Xy) -> f64 {
    (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
}

/// Distance between two straight pieces; 0 where they cross.
pub fn segment_distance(a: (Xy, Xy), b: (Xy, Xy)) -> f64 {
    let cross =
        side(a.0, a.1, b.0) * side(a.0, a.1, b.1) < 0.0 && side(b.0, b.1, a.0) * side(b.0, b.1, a.1) < 0.0;
    if cross {
        return 0.0;
    }
    let ends = [
        point_segment(a.0, b.0, b.1),
        point_segment(a.1, b.0, b.1),
        point_segment(b.0, a.0, a.1),
        point_segment(b.1, a.0, a.1),
    ];
    ends.into_iter().fold(f64::INFINITY, f64::min)
}
