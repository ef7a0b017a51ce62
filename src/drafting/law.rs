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

pub(crate) fn breaches(marks: &[Mark], claims: &[Claim]) -> Vec<Clash> {
    let mut found = Vec::new();
    let rooms: Vec<(usize, Rect)> = claims.iter().map(|c| (c.owner, c.rect.grown(-SLACK))).collect();
    for (index, (owner, rect)) in rooms.iter().enumerate() {
        for (other, second) in &rooms[index + 1..] {
            if owner != other && rect.overlaps(second) {
                found.push(Clash::Texts(*rect, *second));
            }
        }
    }
    for mark in marks {
        lines_on_texts(mark, &rooms, &mut found);
    }
    texts_on_texts(marks, &mut found);
    found
}

/// Texts of one owner must not overlap each other either.
fn texts_on_texts(marks: &[Mark], found: &mut Vec<Clash>) {
    let boxes: Vec<(usize, Rect)> = marks
        .iter()
        .filter_map(|mark| match &mark.ink {
            Ink::Text { at, height, upward, text } => {
                Some((mark.owner, text_box(*at, *height, *upward, text).grown(-SLACK)))
            }
            _ => None,
        })
        .collect();
    for (index, (owner, rect)) in boxes.iter().enumerate() {
        for (other, second) in &boxes[index + 1..] {
            if owner == other && rect.overlaps(second) {
                found.push(Clash::Texts(*rect, *second));
            }
        }
    }
}

fn lines_on_texts(mark: &Mark, rooms: &[(usize, Rect)], found: &mut Vec<Clash>) {
    if matches!(mark.ink, Ink::Text { .. }) {
        return;
    }
    let extent = mark.ink.extent().grown(SLACK);
    for (owner, rect) in rooms {
        if *owner != mark.owner && rect.overlaps(&extent) && meets(&mark.ink, rect) {
            found.push(Clash::Line(*rect, mark.clone()));
        }
    }
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
