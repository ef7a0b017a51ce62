//! The radius of a turned part along its axis: a row of lines and arcs, with exact integrals of revolution.

use std::f64::consts::PI;

use super::model::{Bore, BoreForm, Deep, Side, Turned};

/// A round piece of a profile: radius(x) = `r` ± √(`radius`² − (x − `x`)²).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Round {
    /// Centre along the axis, m.
    pub x: f64,
    /// Centre's distance from the axis, m.
    pub r: f64,
    /// Its radius, m.
    pub radius: f64,
    /// Convex, or hollow as in a corner.
    pub convex: bool,
}

/// One smooth piece of a profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Where it begins, m from the left face.
    pub x0: f64,
    /// Where it ends, m; above `x0`.
    pub x1: f64,
    /// Radius at its beginning, m.
    pub r0: f64,
    /// Radius at its end, m.
    pub r1: f64,
    /// An arc in place of the straight line.
    pub round: Option<Round>,
}

/// ∫r², ∫x·r² and ∫r·ds over a span.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Integrals {
    pub(crate) square: f64,
    pub(crate) moment: f64,
    pub(crate) skin: f64,
}

impl Span {
    /// A straight piece.
    pub const fn line(x0: f64, x1: f64, r0: f64, r1: f64) -> Self {
        Self { x0, x1, r0, r1, round: None }
    }

    /// The radius at a place within it.
    pub fn at(&self, x: f64) -> f64 {
        match self.round {
            None => self.r0 + (self.r1 - self.r0) * ((x - self.x0) / (self.x1 - self.x0)).clamp(0.0, 1.0),
            Some(round) => {
                let u = x - round.x;
                let rise = (round.radius * round.radius - u * u).max(0.0).sqrt();
                if round.convex { round.r + rise } else { round.r - rise }
            }
        }
    }

    pub(crate) fn integrals(&self) -> Integrals {
        match self.round {
            None => self.straight(),
            Some(round) => round.integrals(self.x0, self.x1),
        }
    }

    fn straight(&self) -> Integrals {
        let (long, a, b) = (self.x1 - self.x0, self.r0, self.r1);
        let square = long * (a * a + a * b + b * b) / 3.0;
        let local = long * long * (a * a + 2.0 * a * b + 3.0 * b * b) / 12.0;
        let slant = (long * long + (b - a) * (b - a)).sqrt();
        Integrals { square, moment: self.x0 * square + local, skin: slant * f64::midpoint(a, b) }
    }

    /// Part of it, cut to an interval that meets it.
    fn part(&self, from: f64, to: f64) -> Self {
        let (x0, x1) = (self.x0.max(from), self.x1.min(to));
        Self { x0, x1, r0: self.at(x0), r1: self.at(x1), round: self.round }
    }
}

impl Round {
    fn integrals(&self, x0: f64, x1: f64) -> Integrals {
        let (a, b) = (self.primitive(x0 - self.x), self.primitive(x1 - self.x));
        let square = b.square - a.square;
        Integrals { square, moment: self.x * square + b.moment - a.moment, skin: b.skin - a.skin }
    }

    fn primitive(&self, u: f64) -> Integrals {
        let sign = if self.convex { 1.0 } else { -1.0 };
        let (c, p) = (self.r, self.radius);
        let angle = libm::asin((u / p).clamp(-1.0, 1.0));
        let rise = (p * p - u * u).max(0.0).sqrt();
        Integrals {
            square: (c * c + p * p) * u - u * u * u / 3.0 + sign * c * (u * rise + p * p * angle),
            moment: (c * c + p * p) * u * u / 2.0
                - u * u * u * u / 4.0
                - sign * c * rise * rise * rise * 2.0 / 3.0,
            skin: p * (c * angle + sign * u),
        }
    }
}

/// A row of spans, from left to right, without overlap; where none is, there is nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Profile {
    /// The spans.
    pub spans: Vec<Span>,
}

impl Profile {
    /// The radius just left of and just right of a place, 0 where nothing is.
    pub fn around(&self, x: f64) -> (f64, f64) {
        let eps = 1e-12;
        let left = self.spans.iter().find(|span| span.x0 < x - eps && x <= span.x1 + eps);
        let right = self.spans.iter().find(|span| span.x0 - eps <= x && x < span.x1 - eps);
        (left.map_or(0.0, |span| span.at(x)), right.map_or(0.0, |span| span.at(x)))
    }

    /// The radius at a place; the greater one at a step.
    pub fn at(&self, x: f64) -> f64 {
        let (left, right) = self.around(x);
        left.max(right)
    }

    /// The greatest radius.
    pub fn greatest(&self) -> f64 {
        let ends = self.spans.iter().map(|span| span.r0.max(span.r1));
        ends.fold(0.0, f64::max)
    }

    /// The places where spans begin and end.
    pub fn stations(&self) -> Vec<f64> {
        self.spans.iter().flat_map(|span| [span.x0, span.x1]).collect()
    }

    /// Puts a piece in place of what is there.
    pub(crate) fn replace(&mut self, piece: Span) {
        let mut spans = Vec::with_capacity(self.spans.len() + 2);
        for span in &self.spans {
            if span.x0 < piece.x0 - 1e-12 {
                spans.push(span.part(f64::NEG_INFINITY, piece.x0));
            }
            if span.x1 > piece.x1 + 1e-12 {
                spans.push(span.part(piece.x1, f64::INFINITY));
            }
        }
        spans.retain(|span| span.x1 - span.x0 > 1e-12);
        spans.push(piece);
        spans.sort_by(|a, b| a.x0.total_cmp(&b.x0));
        self.spans = spans;
    }

    /// Turns a stretch down to a radius where it is larger.
    pub(crate) fn turn_down(&mut self, from: f64, to: f64, radius: f64) {
        let within: Vec<Span> = self.spans.iter().filter(|s| s.x1 > from && s.x0 < to).copied().collect();
        for span in within {
            let part = span.part(from, to);
            if part.x1 - part.x0 > 1e-12 && part.r0.max(part.r1) > radius {
                self.replace(Span::line(part.x0, part.x1, part.r0.min(radius), part.r1.min(radius)));
            }
        }
    }

    /// Widens a stretch to a radius where it is smaller.
    pub(crate) fn bore_out(&mut self, from: f64, to: f64, radius: f64) {
        let within: Vec<Span> = self.spans.iter().filter(|s| s.x1 > from && s.x0 < to).copied().collect();
        for span in within {
            let part = span.part(from, to);
            if part.x1 - part.x0 > 1e-12 && part.r0.min(part.r1) < radius {
                self.replace(Span::line(part.x0, part.x1, part.r0.max(radius), part.r1.max(radius)));
            }
        }
    }

    /// The least radius over a stretch; `None` where nothing is somewhere along it.
    pub(crate) fn least(&self, from: f64, to: f64) -> Option<f64> {
        let within = || self.spans.iter().filter(|s| s.x1 > from + 1e-12 && s.x0 < to - 1e-12);
        let covered: f64 = within().map(|s| s.x1.min(to) - s.x0.max(from)).sum();
        let least = within().flat_map(|s| [s.at(s.x0.max(from)), s.at(s.x1.min(to))]).reduce(f64::min)?;
        (covered > to - from - 1e-9 && least > 1e-9).then_some(least)
    }

    pub(crate) fn integrals(&self) -> Integrals {
        let mut sum = Integrals::default();
        for span in &self.spans {
            let one = span.integrals();
            sum.square += one.square;
            sum.moment += one.moment;
            sum.skin += one.skin;
        }
        sum
    }

    /// The area of the rings between neighbouring spans, m².
    pub(crate) fn faces(&self) -> f64 {
        let mut places = self.stations();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
        let rings = places.iter().map(|x| self.around(*x));
        rings.map(|(left, right)| PI * (left * left - right * right).abs()).sum()
    }
}

/// The hollow of a part: at every place the widest of its bores.
pub fn inside(turned: &Turned, length: f64) -> Profile {
    let bores: Vec<Span> = turned.bores.iter().flat_map(|bore| hollow(bore, length)).collect();
    let mut places: Vec<f64> = bores.iter().flat_map(|span| [span.x0, span.x1]).collect();
    places.extend(crossings(&bores));
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
    let spans = places.windows(2).filter_map(|pair| widest(&bores, pair[0], pair[1])).collect();
    Profile { spans }
}

fn widest(bores: &[Span], from: f64, to: f64) -> Option<Span> {
    let middle = f64::midpoint(from, to);
    let over = bores.iter().filter(|span| span.x0 < middle && middle < span.x1);
    let span = over.max_by(|a, b| a.at(middle).total_cmp(&b.at(middle)))?;
    Some(span.part(from, to))
}

/// Where two of the straight pieces cross.
fn crossings(spans: &[Span]) -> Vec<f64> {
    let mut places = Vec::new();
    for (index, a) in spans.iter().enumerate() {
        for b in &spans[index + 1..] {
            let (from, to) = (a.x0.max(b.x0), a.x1.min(b.x1));
            let (before, after) = (a.at(from) - b.at(from), a.at(to) - b.at(to));
            if from < to && before * after < 0.0 {
                places.push(from + (to - from) * before / (before - after));
            }
        }
    }
    places
}

/// The pieces of one bore, from its face inwards, then set from the right side.
fn hollow(bore: &Bore, length: f64) -> Vec<Span> {
    let (deep, through) = match &bore.deep {
        Deep::Through => (length, true),
        Deep::To(size) => (size.m().clamp(0.0, length), size.m() >= length - 1e-12),
    };
    let mut spans = pieces(bore, deep, length, through);
    spans.retain(|span| span.x1 - span.x0 > 1e-12);
    if bore.side == Side::Right {
        for span in &mut spans {
            *span = Span::line(length - span.x1, length - span.x0, span.r1, span.r0);
        }
    }
    spans
}

fn pieces(bore: &Bore, deep: f64, length: f64, through: bool) -> Vec<Span> {
    let (mouth, mut spans) = match &bore.form {
        BoreForm::Plain { d } => (d.m() / 2.0, vec![Span::line(0.0, deep, d.m() / 2.0, d.m() / 2.0)]),
        BoreForm::Taper { d, to } => (d.m() / 2.0, vec![Span::line(0.0, deep, d.m() / 2.0, to.m() / 2.0)]),
        BoreForm::Thread { thread, drill } => {
            let radius = thread.minor() / 2.0;
            let drilled = drill.as_ref().map_or(deep, |size| size.m().clamp(0.0, length));
            (radius, drilling(radius, drilled, length, through))
        }
    };
    if let Some(chamfer) = &bore.chamfer {
        let (size, far) = (chamfer.m().min(length), spans.last().map_or(mouth, |span| span.r1));
        spans.push(Span::line(0.0, size, mouth + size, mouth));
        if bore.both_mouths && through {
            spans.push(Span::line(length - size, length, far, far + size));
        }
    }
    spans
}

/// A drilling with its cone of 120°.
fn drilling(radius: f64, deep: f64, length: f64, through: bool) -> Vec<Span> {
    let cone = radius * libm::tan(std::f64::consts::FRAC_PI_6);
    let mut spans = vec![Span::line(0.0, deep, radius, radius)];
    if !through && deep + cone < length {
        spans.push(Span::line(deep, deep + cone, radius, 0.0));
    }
    spans
}
