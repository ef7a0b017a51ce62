//! The law of a drawing: nothing lies over a text.

use super::canvas::arc_points;
use super::drawing::{Claim, Drawing, Ink, Mark, Point, Rect};
use super::label::text_box;

/// One breach of the law.
#[derive(Clone, Debug, PartialEq)]
pub enum Clash {
    /// Two texts overlap.
    Texts(Rect, Rect),
    /// A text lies on a line that is not its own.
    Line(Rect, Mark),
    /// Something lies outside the sheet.
    Outside(Rect),
}

/// Rounding that is no overlap, mm.
const SLACK: f64 = 0.02;

/// Every breach of the law.
pub fn clashes(drawing: &Drawing) -> Vec<Clash> {
    let mut found = breaches(&drawing.marks, &drawing.claims);
    let sheet = Rect { left: 0.0, top: 0.0, right: drawing.width, bottom: drawing.height }.grown(SLACK);
    let outside = |r: &Rect| {
        r.left < sheet.left || r.top < sheet.top || r.right > sheet.right || r.bottom > sheet.bottom
    };
    found.extend(drawing.marks.iter().map(|mark| mark.ink.extent()).filter(outside).map(Clash::Outside));
    found
}

/// Whether nothing is broken.
pub(crate) fn is_kept(marks: &[Mark], claims: &[Claim]) -> bool {
    let rooms = Rooms::of_claims(claims);
    rooms.clashes(|one, other| one != other).next().is_none()
        && marks.iter().all(|mark| lines_on_texts(mark, &rooms).next().is_none())
        && Rooms::of_texts(marks).clashes(|one, other| one == other).next().is_none()
}

fn breaches(marks: &[Mark], claims: &[Claim]) -> Vec<Clash> {
    let (rooms, texts) = (Rooms::of_claims(claims), Rooms::of_texts(marks));
    let lines = marks.iter().flat_map(|mark| lines_on_texts(mark, &rooms));
    let apart = rooms.clashes(|one, other| one != other);
    // Texts of one owner must not overlap each other either.
    apart.chain(lines).chain(texts.clashes(|one, other| one == other)).collect()
}

/// Rectangles with their owners, from left to right.
struct Rooms {
    sorted: Vec<(usize, Rect)>,
    widest: f64,
}

impl Rooms {
    fn of(mut sorted: Vec<(usize, Rect)>) -> Self {
        sorted.sort_by(|a, b| a.1.left.total_cmp(&b.1.left));
        let widest = sorted.iter().map(|(_, rect)| rect.width()).fold(0.0, f64::max);
        Self { sorted, widest }
    }

    fn of_claims(claims: &[Claim]) -> Self {
        Self::of(claims.iter().map(|claim| (claim.owner, claim.rect.grown(-SLACK))).collect())
    }

    fn of_texts(marks: &[Mark]) -> Self {
        let room = |mark: &Mark| match &mark.ink {
            Ink::Text { at, height, upward, text } => {
                Some((mark.owner, text_box(*at, *height, *upward, text).grown(-SLACK)))
            }
            _ => None,
        };
        Self::of(marks.iter().filter_map(room).collect())
    }

    /// Those that may reach what lies between two places.
    fn between(&self, left: f64, right: f64) -> &[(usize, Rect)] {
        let from = self.sorted.partition_point(|(_, rect)| rect.left < left - self.widest);
        let to = self.sorted.partition_point(|(_, rect)| rect.left < right);
        &self.sorted[from..to.max(from)]
    }

    /// Pairs that overlap, of owners that may not.
    fn clashes(&self, forbidden: impl Fn(usize, usize) -> bool + Copy) -> impl Iterator<Item = Clash> {
        self.sorted.iter().enumerate().flat_map(move |(index, (owner, rect))| {
            let right = self.sorted[index + 1..].iter().take_while(|(_, other)| other.left < rect.right);
            let over =
                right.filter(move |(other, second)| forbidden(*owner, *other) && rect.overlaps(second));
            over.map(|(_, second)| Clash::Texts(*rect, *second))
        })
    }
}

fn lines_on_texts<'a>(mark: &'a Mark, rooms: &'a Rooms) -> impl Iterator<Item = Clash> + 'a {
    let is_text = matches!(mark.ink, Ink::Text { .. });
    let extent = mark.ink.extent().grown(SLACK);
    let near = if is_text { &[] } else { rooms.between(extent.left, extent.right) };
    let over = near.iter().filter(move |(owner, rect)| {
        *owner != mark.owner && rect.overlaps(&extent) && meets(&mark.ink, rect)
    });
    over.map(|(_, rect)| Clash::Line(*rect, mark.clone()))
}

fn meets(ink: &Ink, rect: &Rect) -> bool {
    match ink {
        Ink::Line { from, to } => line_meets(*from, *to, rect),
        Ink::Arc { centre, radius, start, sweep } => {
            let points = arc_points(*centre, *radius, *start, *sweep);
            points.windows(2).any(|pair| line_meets(pair[0], pair[1], rect))
        }
        Ink::Solid { points } => {
            let next = |i: usize| points[(i + 1) % points.len()];
            (0..points.len()).any(|i| line_meets(points[i], next(i), rect))
        }
        Ink::Text { .. } => false,
    }
}

/// Whether a straight line passes through a rectangle (Liang and Barsky's clipping).
pub(crate) fn line_meets(from: Point, to: Point, rect: &Rect) -> bool {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let sides = [
        (-dx, from.x - rect.left),
        (dx, rect.right - from.x),
        (-dy, from.y - rect.top),
        (dy, rect.bottom - from.y),
    ];
    for (speed, room) in sides {
        if speed.abs() < 1e-12 {
            if room < 0.0 {
                return false;
            }
        } else if speed < 0.0 {
            enter = enter.max(room / speed);
        } else {
            leave = leave.min(room / speed);
        }
    }
    enter <= leave
}
