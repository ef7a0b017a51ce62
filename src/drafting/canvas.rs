//! Where marks and claims are gathered.

use std::f64::consts::TAU;

use super::drawing::{Claim, Ink, Mark, Pen, Point, Rect};

/// Length and half width of an arrowhead, mm: a filled head of 15° (ISO 129-1, annex A, from memory).
pub(crate) const ARROW: (f64, f64) = (3.0, 0.42);

/// Marks in the making.
#[derive(Clone, Debug, Default)]
pub(crate) struct Canvas {
    pub(crate) marks: Vec<Mark>,
    pub(crate) claims: Vec<Claim>,
    pub(crate) hatched: Vec<Vec<Point>>,
    last: usize,
}

impl Canvas {
    /// A new owner.
    pub(crate) fn own(&mut self) -> usize {
        self.last += 1;
        self.last
    }

    pub(crate) fn put(&mut self, owner: usize, pen: Pen, ink: Ink) {
        self.marks.push(Mark { owner, pen, ink });
    }

    pub(crate) fn line(&mut self, owner: usize, pen: Pen, from: Point, to: Point) {
        if (from.x - to.x).abs() + (from.y - to.y).abs() > 1e-6 {
            self.put(owner, pen, Ink::Line { from, to });
        }
    }

    pub(crate) fn chain(&mut self, owner: usize, pen: Pen, points: &[Point]) {
        points.windows(2).for_each(|pair| self.line(owner, pen, pair[0], pair[1]));
    }

    pub(crate) fn circle(&mut self, owner: usize, pen: Pen, centre: Point, radius: f64) {
        self.arc(owner, pen, centre, radius, (0.0, TAU));
    }

    pub(crate) fn arc(&mut self, owner: usize, pen: Pen, centre: Point, radius: f64, angles: (f64, f64)) {
        self.put(owner, pen, Ink::Arc { centre, radius, start: angles.0, sweep: angles.1 });
    }

    pub(crate) fn solid(&mut self, owner: usize, points: Vec<Point>) {
        self.put(owner, Pen::Lettering, Ink::Solid { points });
    }

    /// A filled arrowhead with its tip at `tip`, coming from the direction of `tail`.
    pub(crate) fn arrow(&mut self, owner: usize, tip: Point, tail: Point) {
        let long = libm::hypot(tail.x - tip.x, tail.y - tip.y).max(1e-9);
        let (ux, uy) = ((tail.x - tip.x) / long, (tail.y - tip.y) / long);
        let back = tip.moved(ux * ARROW.0, uy * ARROW.0);
        let (nx, ny) = (-uy * ARROW.1, ux * ARROW.1);
        self.solid(owner, vec![tip, back.moved(nx, ny), back.moved(-nx, -ny)]);
    }

    /// A filled dot.
    pub(crate) fn dot(&mut self, owner: usize, at: Point, radius: f64) {
        let corner = |i: i32| {
            let angle = TAU * f64::from(i) / 12.0;
            at.moved(radius * libm::cos(angle), radius * libm::sin(angle))
        };
        self.solid(owner, (0..12).map(corner).collect());
    }

    pub(crate) fn claim(&mut self, owner: usize, rect: Rect) {
        self.claims.push(Claim { owner, rect });
    }

    pub(crate) fn frame(&mut self, owner: usize, pen: Pen, rect: Rect) {
        let corners = [
            Point::new(rect.left, rect.top),
            Point::new(rect.right, rect.top),
            Point::new(rect.right, rect.bottom),
            Point::new(rect.left, rect.bottom),
            Point::new(rect.left, rect.top),
        ];
        self.chain(owner, pen, &corners);
    }

    /// The room that everything takes.
    pub(crate) fn extent(&self) -> Rect {
        let marks = self.marks.iter().map(|mark| mark.ink.extent());
        let claims = self.claims.iter().map(|claim| claim.rect);
        marks.chain(claims).fold(Rect::EMPTY, Rect::join)
    }

    /// Whether anything lies in a rectangle.
    pub(crate) fn overlaps(&self, rect: Rect) -> bool {
        let marks = self.marks.iter().map(|mark| mark.ink.extent().grown(0.01));
        marks.chain(self.claims.iter().map(|claim| claim.rect)).any(|extent| extent.overlaps(&rect))
    }

    /// The right end of everything between two heights.
    pub(crate) fn right_of(&self, top: f64, bottom: f64) -> f64 {
        let marks = self.marks.iter().map(|mark| mark.ink.extent());
        let level = marks
            .chain(self.claims.iter().map(|claim| claim.rect))
            .filter(|r| r.top < bottom && r.bottom > top);
        level.map(|rect| rect.right).fold(0.0, f64::max)
    }

    /// Moves everything.
    pub(crate) fn shift(&mut self, dx: f64, dy: f64) {
        self.marks.iter_mut().for_each(|mark| mark.ink.shift(dx, dy));
        self.claims.iter_mut().for_each(|claim| claim.rect = claim.rect.moved(dx, dy));
        self.hatched.iter_mut().flatten().for_each(|point| *point = point.moved(dx, dy));
    }

    /// Adds another canvas, whose owners stay apart.
    pub(crate) fn add(&mut self, other: Self) {
        let base = self.last;
        let owner = |theirs: usize| if theirs == 0 { 0 } else { theirs + base };
        self.marks.extend(other.marks.into_iter().map(|mark| Mark { owner: owner(mark.owner), ..mark }));
        self.claims
            .extend(other.claims.into_iter().map(|claim| Claim { owner: owner(claim.owner), ..claim }));
        self.hatched.extend(other.hatched);
        self.last += other.last;
    }
}

impl Ink {
    pub(crate) fn extent(&self) -> Rect {
        match self {
            Self::Line { from, to } => Rect::around(*from, *to),
            Self::Arc { centre, radius, sweep, .. } if sweep.abs() >= TAU - 1e-9 => {
                Rect::around(*centre, *centre).grown(*radius)
            }
            Self::Arc { centre, radius, start, sweep } => arc_points(*centre, *radius, *start, *sweep)
                .into_iter()
                .map(|p| Rect::around(p, p))
                .fold(Rect::EMPTY, Rect::join),
            Self::Solid { points } => {
                points.iter().map(|p| Rect::around(*p, *p)).fold(Rect::EMPTY, Rect::join)
            }
            Self::Text { at, height, upward, text } => super::label::text_box(*at, *height, *upward, text),
        }
    }

    fn shift(&mut self, dx: f64, dy: f64) {
        match self {
            Self::Line { from, to } => {
                *from = from.moved(dx, dy);
                *to = to.moved(dx, dy);
            }
            Self::Arc { centre, .. } => *centre = centre.moved(dx, dy),
            Self::Solid { points } => points.iter_mut().for_each(|point| *point = point.moved(dx, dy)),
            Self::Text { at, .. } => *at = at.moved(dx, dy),
        }
    }
}

/// Points along an arc, at most 7.5° apart.
pub(crate) fn arc_points(centre: Point, radius: f64, start: f64, sweep: f64) -> Vec<Point> {
    let mut points = Vec::new();
    let count = (sweep.abs() / (TAU / 48.0)).ceil().clamp(1.0, 96.0);
    let mut step = 0.0;
    while step <= count {
        let angle = start + sweep * step / count;
        points.push(centre.moved(radius * libm::cos(angle), radius * libm::sin(angle)));
        step += 1.0;
    }
    points
}
