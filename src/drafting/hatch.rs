//! Hatching: narrow lines at 45° (ISO 128-3:2022), as segments within a polygon.

use super::canvas::Canvas;
use super::drawing::{Pen, Point};

/// Between lines, mm, square to them.
const PITCH: f64 = 2.2;

/// Hatches a polygon whose lines of all areas of one part run on in line.
pub(crate) fn hatch(canvas: &mut Canvas, area: Vec<Point>) {
    let step = PITCH * std::f64::consts::SQRT_2;
    let sums = || area.iter().map(|p| p.x + p.y);
    let (least, greatest) = (sums().fold(f64::INFINITY, f64::min), sums().fold(f64::NEG_INFINITY, f64::max));
    let mut sum = (least / step).ceil() * step;
    let mut lines = Vec::new();
    while sum < greatest && lines.len() < 5000 {
        lines.extend(pieces(&area, sum));
        sum += step;
    }
    for (from, to) in lines {
        canvas.line(0, Pen::Hatch, from, to);
    }
    canvas.hatched.push(area);
}

/// The pieces of the line x + y = sum inside a polygon.
fn pieces(area: &[Point], sum: f64) -> Vec<(Point, Point)> {
    let mut meets: Vec<Point> = Vec::new();
    for (index, a) in area.iter().enumerate() {
        let b = area[(index + 1) % area.len()];
        let (before, after) = (a.x + a.y - sum, b.x + b.y - sum);
        if (before < 0.0) != (after < 0.0) {
            let share = before / (before - after);
            meets.push(Point::new(a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)));
        }
    }
    meets.sort_by(|a, b| a.x.total_cmp(&b.x));
    let (pairs, _) = meets.as_chunks::<2>();
    pairs.iter().filter(|pair| pair[1].x - pair[0].x > 0.15).map(|pair| (pair[0], pair[1])).collect()
}
