//! What is cut across the axis, in the main view.

use super::canvas::Canvas;
use super::drawing::{Pen, Point};
use super::turned_outline::View;
use crate::shape::{Across, Cut, Laid, Profile, Span};

/// Least half width of a cut on paper, mm.
const LEAST: f64 = 0.8;

/// The outside as seen from the front: squares and hexagons change it.
pub(crate) fn silhouette(laid: &Laid) -> Profile {
    let mut outside = laid.outside.clone();
    for cut in &laid.turned.across {
        if let Across::Flats { size, count, long } = &cut.what {
            let reach = match count {
                4 => size.m() / 2.0,
                6 => size.m() / 3.0_f64.sqrt(),
                _ => continue,
            };
            turn_down(&mut outside, cut.at.m(), cut.at.m() + long.m(), reach);
        }
    }
    outside
}

fn turn_down(profile: &mut Profile, from: f64, to: f64, radius: f64) {
    let mut spans = Vec::new();
    for span in &profile.spans {
        let (x0, x1) = (span.x0.max(from), span.x1.min(to));
        if x1 - x0 < 1e-9 {
            spans.push(*span);
            continue;
        }
        let part = |a: f64, b: f64| Span { x0: a, x1: b, r0: span.at(a), r1: span.at(b), round: span.round };
        let lowered = Span::line(x0, x1, span.at(x0).min(radius), span.at(x1).min(radius));
        spans.extend(
            [part(span.x0, x0), lowered, part(x1, span.x1)].into_iter().filter(|s| s.x1 - s.x0 > 1e-9),
        );
    }
    profile.spans = spans;
}

/// Half the height of the flat that faces the viewer, m.
fn face(size: f64, count: u32, radius: f64) -> f64 {
    let round = (radius * radius - size * size / 4.0).max(0.0).sqrt();
    match count {
        4 => round.min(size / 2.0),
        6 => round.min(size / (2.0 * 3.0_f64.sqrt())),
        _ => round,
    }
}

pub(crate) fn cuts(canvas: &mut Canvas, view: &View<'_>) {
    for cut in &view.laid.turned.across {
        match &cut.what {
            Across::Hole { d, through } => hole(canvas, view, cut, d.m(), *through),
            Across::Keyway { wide, long, .. } => keyway(canvas, view, cut, wide.m(), long.m()),
            Across::Flats { size, count, long } => flats(canvas, view, cut, (size.m(), *count, long.m())),
            Across::OilGroove { long, .. } => {
                if let Some(floor) = view.laid.groove_floor(cut) {
                    hidden(canvas, view, (cut.at.m(), long.m()), floor);
                }
            }
            // Part of the profiles of the outside and of the hollow.
            Across::Groove { .. } | Across::BoreGroove { .. } => {}
        }
    }
}

/// Half the width on paper of what is `wide` metres across.
pub(crate) fn half(view: &View<'_>, wide: f64) -> f64 {
    (wide * view.axes.scale / 2.0).max(LEAST)
}

/// Seen end on in a solid part; in a half section it runs upright: a gap in the cut wall if it goes through, else hidden edges
/// in the upper wall, which alone has it.
fn hole(canvas: &mut Canvas, view: &View<'_>, cut: &Cut, d: f64, through: bool) {
    let at = cut.at.m();
    let x = view.x(at);
    let radius = view.outer(at);
    if !view.cut {
        let half = half(view, d);
        canvas.circle(0, Pen::Outline, Point::new(x, 0.0), half);
        canvas.line(0, Pen::Centre, Point::new(x, -half - 3.0), Point::new(x, half + 3.0));
        return;
    }
    let inner = view.r(view.laid.inside.at(at));
    for x in [at - d / 2.0, at + d / 2.0].map(|x| view.x(x)) {
        let (pen, half) = if through { (Pen::Outline, 1.0) } else { (Pen::Hidden, -1.0) };
        canvas.line(0, pen, Point::new(x, half * radius), Point::new(x, half * inner));
    }
    let low = if through { radius + 3.0 } else { 2.0 - inner };
    canvas.line(0, Pen::Centre, Point::new(x, -radius - 3.0), Point::new(x, low));
}

/// A groove in the hollow: hidden edges in the upper wall.
fn hidden(canvas: &mut Canvas, view: &View<'_>, (at, long): (f64, f64), floor: f64) {
    let y = -view.r(floor);
    let (left, right) = (Point::new(view.x(at), y), Point::new(view.x(at + long), y));
    view.along(canvas, Pen::Hidden, left, right);
    for (x, end) in [(at, left), (at + long, right)].into_iter().filter(|(x, _)| is_within(view, *x)) {
        let inner =
            Point::new(end.x, -view.r(view.laid.inside.around(x).0.min(view.laid.inside.around(x).1)));
        canvas.line(0, Pen::Hidden, end, inner);
    }
}

/// Whether a place lies between the part's faces.
fn is_within(view: &View<'_>, x: f64) -> bool {
    x > 1e-9 && x < view.laid.length - 1e-9
}

/// Its closed ends are round; where it runs out at a face its sides go on to that.
fn keyway(canvas: &mut Canvas, view: &View<'_>, cut: &Cut, wide: f64, long: f64) {
    let (from, to) = (view.x(cut.at.m()), view.x(cut.at.m() + long));
    let half = half(view, wide).min((to - from) / 2.0);
    let open = view.laid.open_ends(cut);
    let inset = open.map(|open| if open { 0.0 } else { half });
    let (left, right) = (Point::new(from + inset[0], 0.0), Point::new(to - inset[1], 0.0));
    let quarter = std::f64::consts::FRAC_PI_2;
    for side in if view.cut { &[-1.0][..] } else { &[-1.0, 1.0] } {
        view.along(canvas, Pen::Outline, left.moved(0.0, side * half), right.moved(0.0, side * half));
        if !open[0] {
            canvas.arc(0, Pen::Outline, left, half, (2.0 * quarter, -side * quarter));
        }
        if !open[1] {
            canvas.arc(0, Pen::Outline, right, half, (0.0, side * quarter));
        }
    }
}

/// The flat towards the viewer, marked by narrow diagonals (ISO 128-3:2022).
fn flats(canvas: &mut Canvas, view: &View<'_>, cut: &Cut, (size, count, long): (f64, u32, f64)) {
    let (start, end) = (cut.at.m(), cut.at.m() + long);
    let radius = view.laid.outside.at(f64::midpoint(start, end));
    let (from, to) = (view.x(start), view.x(end));
    let half = view.r(face(size, count, radius)).max(LEAST);
    let low = if view.cut { 0.0 } else { half };
    for y in [-half, half].into_iter().filter(|y| *y <= low + 1e-9) {
        canvas.line(0, Pen::Outline, Point::new(from, y), Point::new(to, y));
    }
    for x in [from, to] {
        canvas.line(0, Pen::Outline, Point::new(x, -half), Point::new(x, low));
    }
    canvas.line(0, Pen::Thin, Point::new(from, -half), Point::new(to, low));
    canvas.line(0, Pen::Thin, Point::new(from, low), Point::new(to, -half));
}
