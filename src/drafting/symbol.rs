//! Symbols: surface texture (ISO 21920-1), tolerance frames and datums (ISO 1101, ISO 5459), projection (ISO 5456-2).
//! Their proportions are from memory.

use super::canvas::Canvas;
use super::drawing::{Pen, Point, Rect};
use super::label::{Frame, text_width};
use super::sheet::Projection;
use crate::shape::ControlKind;

/// Half the height of a row with a surface texture symbol.
pub(crate) const TEXTURE_HALF: f64 = 3.1;
/// Half the height of a tolerance frame.
pub(crate) const CONTROL_HALF: f64 = 2.5;
/// Width of a datum letter with its triangle.
pub(crate) const DATUM_WIDTH: f64 = 10.4;
const CELL: f64 = 5.0;

pub(crate) const fn name(kind: ControlKind) -> &'static str {
    match kind {
        ControlKind::RunOut => "run-out",
        ControlKind::TotalRunOut => "total run-out",
        ControlKind::Coaxial => "coaxial",
    }
}

pub(crate) fn texture_width(text: &str, height: f64) -> f64 {
    4.6 + text_width(text, height) + 0.8
}

/// The check mark with its bar: material is to be removed; the value stands under the bar's extension.
pub(crate) fn texture(
    canvas: &mut Canvas,
    owner: usize,
    frame: Frame,
    (u, v): (f64, f64),
    height: f64,
    text: &str,
) {
    let wide = texture_width(text, height);
    let (foot, bar, left) = (v + 2.8, v - 2.8, v - 0.2);
    let points = [(0.0, left), (1.73, foot), (4.96, bar), (wide, bar)].map(|(x, y)| frame.point(u + x, y));
    canvas.chain(owner, Pen::Lettering, &points);
    canvas.line(owner, Pen::Lettering, points[0], frame.point(u + 3.46, left));
    frame.write(canvas, owner, u + 4.8, v + 1.0, height, text);
}

pub(crate) fn control_width(within: &str, height: f64) -> f64 {
    CELL + text_width(within, height) + 2.0 + CELL
}

pub(crate) fn control(
    canvas: &mut Canvas,
    owner: usize,
    frame: Frame,
    (u, v): (f64, f64),
    height: f64,
    (kind, within, datum): (ControlKind, &str, char),
) {
    let middle = text_width(within, height) + 2.0;
    let mut cell = |from: f64, wide: f64| {
        let rect = Rect::around(frame.point(u + from, v - 2.4), frame.point(u + from + wide, v + 2.4));
        canvas.frame(owner, Pen::Lettering, rect);
    };
    cell(0.0, CELL);
    cell(CELL, middle);
    cell(CELL + middle, CELL);
    characteristic(canvas, owner, frame, (u + CELL / 2.0, v), kind);
    frame.write(canvas, owner, u + CELL + 1.0, v + height / 2.0, height, within);
    let letter = datum.to_string();
    let start = u + CELL + middle + (CELL - text_width(&letter, height)) / 2.0;
    frame.write(canvas, owner, start, v + height / 2.0, height, &letter);
}

fn characteristic(canvas: &mut Canvas, owner: usize, frame: Frame, (u, v): (f64, f64), kind: ControlKind) {
    let mut slanted = |from: f64| {
        let (tail, tip) = (frame.point(u + from - 1.2, v + 1.4), frame.point(u + from + 1.2, v - 1.4));
        canvas.line(owner, Pen::Lettering, tail, tip);
        head(canvas, owner, tip, tail);
    };
    match kind {
        ControlKind::RunOut => slanted(0.0),
        ControlKind::TotalRunOut => {
            slanted(-0.7);
            slanted(0.7);
            canvas.line(owner, Pen::Lettering, frame.point(u - 1.9, v + 1.4), frame.point(u - 0.5, v + 1.4));
        }
        ControlKind::Coaxial => {
            let centre = frame.point(u, v);
            canvas.circle(owner, Pen::Lettering, centre, 1.6);
            canvas.circle(owner, Pen::Lettering, centre, 0.8);
        }
    }
}

/// A small filled head.
fn head(canvas: &mut Canvas, owner: usize, tip: Point, tail: Point) {
    let long = libm::hypot(tail.x - tip.x, tail.y - tip.y).max(1e-9);
    let (ux, uy) = ((tail.x - tip.x) / long, (tail.y - tip.y) / long);
    let back = tip.moved(ux * 1.5, uy * 1.5);
    canvas.solid(owner, vec![tip, back.moved(-uy * 0.4, ux * 0.4), back.moved(uy * 0.4, -ux * 0.4)]);
}

/// In a row of a label: the triangle on a line of its own, which stands for the feature whose size it follows.
pub(crate) fn datum(
    canvas: &mut Canvas,
    owner: usize,
    frame: Frame,
    (u, v): (f64, f64),
    height: f64,
    letter: char,
) {
    let base = u + 1.2;
    canvas.line(owner, Pen::Lettering, frame.point(base, v - 2.4), frame.point(base, v + 2.4));
    let triangle = [(0.0, -1.3), (0.0, 1.3), (2.4, 0.0)].map(|(x, y)| frame.point(base + x, v + y));
    canvas.solid(owner, triangle.to_vec());
    canvas.line(owner, Pen::Lettering, frame.point(base + 2.4, v), frame.point(base + 4.2, v));
    lettered(canvas, owner, frame, (base + 4.2, v), height, letter);
}

/// The letter in its frame, the middle of whose left side is at (u, v).
fn lettered(canvas: &mut Canvas, owner: usize, frame: Frame, (u, v): (f64, f64), height: f64, letter: char) {
    let rect =
        Rect::around(frame.point(u, v - DATUM_CELL / 2.0), frame.point(u + DATUM_CELL, v + DATUM_CELL / 2.0));
    canvas.frame(owner, Pen::Lettering, rect);
    let text = letter.to_string();
    let start = u + (DATUM_CELL - text_width(&text, height)) / 2.0;
    frame.write(canvas, owner, start, v + height / 2.0, height, &text);
}

const DATUM_CELL: f64 = 4.8;
/// From the line that it stands on to its lower end.
pub(crate) const DATUM_HEIGHT: f64 = 2.4 + 2.0 + DATUM_CELL;

/// Hanging from an extension line in line with the dimension, by which it is the axis that is the datum (ISO 5459).
pub(crate) fn datum_below(canvas: &mut Canvas, owner: usize, at: Point, height: f64, letter: char) {
    let triangle = [(-1.3, 0.0), (1.3, 0.0), (0.0, 2.4)].map(|(x, y)| at.moved(x, y));
    canvas.solid(owner, triangle.to_vec());
    canvas.line(owner, Pen::Lettering, at.moved(0.0, 2.4), at.moved(0.0, 4.4));
    let middle = at.moved(-DATUM_CELL / 2.0, DATUM_HEIGHT - DATUM_CELL / 2.0);
    let frame = Frame { at: middle, upward: false };
    lettered(canvas, owner, frame, (0.0, 0.0), height, letter);
    canvas.claim(
        owner,
        Rect::around(at.moved(-DATUM_CELL / 2.0, 0.6), at.moved(DATUM_CELL / 2.0, DATUM_HEIGHT)),
    );
}

/// The truncated cone in two views, 17 mm wide and 7 mm high about `middle`.
pub(crate) fn projection(canvas: &mut Canvas, owner: usize, middle: Point, kind: Projection) {
    let (cone, rings) = match kind {
        Projection::First => (-4.2, 4.2),
        Projection::Third => (4.2, -4.2),
    };
    let at = |x: f64, y: f64| middle.moved(x, y);
    let corners = [(-3.4, -1.6), (3.4, -3.2), (3.4, 3.2), (-3.4, 1.6), (-3.4, -1.6)];
    let points = corners.map(|(x, y)| at(cone + x, y));
    canvas.chain(owner, Pen::Outline, &points);
    canvas.circle(owner, Pen::Outline, at(rings, 0.0), 3.2);
    canvas.circle(owner, Pen::Outline, at(rings, 0.0), 1.6);
    for (x, half) in [(cone, 4.4), (rings, 4.0)] {
        canvas.line(owner, Pen::Centre, at(x - half, 0.0), at(x + half, 0.0));
    }
    canvas.line(owner, Pen::Centre, at(rings, -4.0), at(rings, 4.0));
}
