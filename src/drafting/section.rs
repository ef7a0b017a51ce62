//! Removed sections through keyways and flats, with the sizes that only they can show.

use std::f64::consts::{PI, TAU};

use super::canvas::{ARROW, Canvas, arc_points};
use super::dimension::{Dimension, Lane, dimensions};
use super::drawing::{Ink, Pen, Point, Rect};
use super::figure::Figures;
use super::hatch::hatch;
use super::label::{Label, Lettering, Part};
use super::turned_outline::View;
use crate::shape::{Across, BoreForm, Cut, Side, Size};

/// How far centre lines run past a section.
const CROSS: f64 = 3.0;

/// One section with its letter.
pub(crate) struct Section<'a> {
    pub(crate) letter: char,
    cut: &'a Cut,
    /// Where it may be taken, m from the left face.
    range: (f64, f64),
    /// Flats from end to end show in the view from the left; no plane is needed.
    pub(crate) is_end_view: bool,
}

/// The sections a part needs, in order along the axis.
pub(crate) fn sections<'a>(view: &View<'a>) -> Vec<Section<'a>> {
    let needs = |cut: &&Cut| matches!(cut.what, Across::Keyway { .. } | Across::Flats { .. });
    let mut cuts: Vec<&Cut> = view.laid.turned.across.iter().filter(needs).collect();
    cuts.sort_by(|a, b| a.at.m().total_cmp(&b.at.m()));
    let datums = super::turned_callouts::datums(&view.laid.turned.true_to).len();
    let letters = ('A'..='Z').skip(datums).filter(|letter| !"IOQ".contains(*letter));
    let is_whole = |cut: &Cut| cut.at.m() < 1e-9 && range(cut).1 > view.laid.length - 1e-9;
    let section = |(cut, letter)| Section { letter, cut, range: range(cut), is_end_view: is_whole(cut) };
    cuts.into_iter().zip(letters).map(section).collect()
}

impl Section<'_> {
    /// A line for the notes where a keyway runs out at a face.
    pub(crate) fn open_ends(&self, view: &View<'_>) -> Option<String> {
        let ends = match view.laid.open_ends(self.cut) {
            [true, true] => "at both ends",
            [true, false] => "at the left end",
            [false, true] => "at the right end",
            [false, false] => return None,
        };
        Some(format!("Keyway {0}–{0} is open {ends}", self.letter))
    }
}

fn range(cut: &Cut) -> (f64, f64) {
    let at = cut.at.m();
    match &cut.what {
        Across::Keyway { wide, long, .. } => (at + wide.m() / 2.0, at + long.m() - wide.m() / 2.0),
        Across::Flats { long, .. } => (at, at + long.m()),
        _ => (at, at),
    }
}

/// Draws a section about the origin of a canvas of its own.
pub(crate) fn draw(
    view: &View<'_>,
    section: &Section<'_>,
    figures: &mut Figures,
    lettering: Lettering,
) -> Canvas {
    let mut canvas = Canvas::default();
    let middle = f64::midpoint(section.range.0, section.range.1);
    let (outer, inner) = (view.r(view.laid.outside.at(middle)), view.r(view.laid.inside.at(middle)));
    match &section.cut.what {
        Across::Keyway { wide, deep, .. } => {
            keyway(&mut canvas, view, section, (outer, inner), (wide, deep), figures, lettering);
        }
        Across::Flats { size, count, .. } => {
            let half = view.r(size.m() / 2.0).min(outer - 0.4);
            body(&mut canvas, &flatted(outer, half, *count), inner, !section.is_end_view);
            let corner = (outer * outer - half * half).max(0.0).sqrt();
            let reach =
                if *count == 2 { corner } else { corner.min(half * libm::tan(PI / f64::from(*count))) };
            let label = figures.label(size, flats_sign(*count), "");
            let flats = Dimension { from: -half, to: half, reach: (reach, reach), label };
            dimensions(&mut canvas, Lane::Below, outer + CROSS, &[flats], lettering);
        }
        _ => {}
    }
    if section.is_end_view {
        end_view(&mut canvas, view);
    } else {
        title(&mut canvas, section.letter, outer, lettering);
    }
    canvas
}

fn keyway(
    canvas: &mut Canvas,
    view: &View<'_>,
    section: &Section<'_>,
    (outer, inner): (f64, f64),
    (wide, deep): (&Size, &Size),
    figures: &mut Figures,
    lettering: Lettering,
) {
    let half = super::cross::half(view, wide.m());
    let depth = (deep.m() * view.axes.scale).clamp(1.0, (outer - inner - 0.3).max(1.0));
    let corner = (outer * outer - half * half).max(0.0).sqrt();
    let floor = (outer - depth).min(corner - 0.3);
    body(canvas, &keyed(outer, half, floor), inner, true);
    let mut label = Label::of(figures.parts(wide, "", ""));
    if let (Some(row), Some(text)) = (label.rows.last_mut(), &section.cut.finish) {
        row.push(Part::Texture(text.clone()));
    }
    figures.state(Some(wide.key), &label);
    side(canvas, (half, corner, outer), &label, lettering);
    let label = figures.label(deep, "", "");
    let depth = Dimension { from: floor, to: outer, reach: (half, half + 1.5), label };
    dimensions(canvas, Lane::Below, outer + CROSS, &[depth], lettering);
}

/// The sign before a size across flats: that of a square (ISO 129-1), or the usual letters (common practice).
const fn flats_sign(count: u32) -> &'static str {
    match count {
        4 => "□",
        6 => "AF ",
        _ => "",
    }
}

/// The cut face with its hole, hatched, and its centre lines.
fn body(canvas: &mut Canvas, outline: &[Point], inner: f64, cut: bool) {
    let closed: Vec<Point> = outline.iter().copied().chain(outline.first().copied()).collect();
    canvas.chain(0, Pen::Outline, &closed);
    let reach = outline.iter().map(|p| p.x.abs().max(p.y.abs())).fold(0.0, f64::max) + CROSS;
    canvas.line(0, Pen::Centre, Point::new(-reach, 0.0), Point::new(reach, 0.0));
    canvas.line(0, Pen::Centre, Point::new(0.0, -reach), Point::new(0.0, reach));
    let mut area = closed;
    if inner > 0.0 {
        canvas.circle(0, Pen::Outline, Point::default(), inner);
        area.extend(arc_points(Point::default(), inner, 0.0, -TAU));
    }
    if cut {
        hatch(canvas, area);
    }
}

/// What the view from the left shows besides: the root of a tapped hole as three quarters of a circle (ISO 6410-1).
fn end_view(canvas: &mut Canvas, view: &View<'_>) {
    let bores = view.laid.turned.bores.iter().filter(|bore| bore.side == Side::Left);
    for bore in bores {
        if let BoreForm::Thread { thread, .. } = &bore.form {
            let radius = view.r(thread.major / 2.0);
            canvas.arc(0, Pen::Thin, Point::default(), radius, (0.15, TAU * 0.75));
        }
    }
}

/// A circle with a keyway to the right.
fn keyed(outer: f64, half: f64, floor: f64) -> Vec<Point> {
    let angle = libm::asin((half / outer).clamp(0.0, 1.0));
    let mut points = arc_points(Point::default(), outer, angle, TAU - 2.0 * angle);
    points.extend([Point::new(floor, -half), Point::new(floor, half)]);
    points
}

/// A circle cut by flats, two of them left and right.
fn flatted(outer: f64, half: f64, count: u32) -> Vec<Point> {
    let limit = |angle: f64| {
        let step = TAU / f64::from(count.max(1));
        let off = libm::remainder(angle, step);
        (half / libm::cos(off).max(1e-6)).min(outer)
    };
    let corner = libm::acos((half / outer).clamp(-1.0, 1.0));
    let mut angles: Vec<f64> = (0..180).map(|i| TAU * f64::from(i) / 180.0).collect();
    for i in 0..count {
        let middle = TAU * f64::from(i) / f64::from(count);
        angles.extend([middle - corner, middle + corner].map(|angle| angle.rem_euclid(TAU)));
        angles.push((middle + TAU / f64::from(count) / 2.0).rem_euclid(TAU));
    }
    angles.sort_by(f64::total_cmp);
    angles.into_iter().map(|a| Point::new(limit(a) * libm::cos(a), limit(a) * libm::sin(a))).collect()
}

/// The keyway's width: an upright dimension to the right, its text level beside it.
fn side(canvas: &mut Canvas, (half, corner, outer): (f64, f64, f64), label: &Label, lettering: Lettering) {
    let owner = canvas.own();
    let x = outer + 7.0;
    for y in [-half, half] {
        canvas.line(owner, Pen::Thin, Point::new(corner + 0.8, y), Point::new(x + 1.8, y));
    }
    let tail = if half * 2.0 < 8.0 { ARROW.0 + 2.0 } else { 0.0 };
    canvas.line(owner, Pen::Thin, Point::new(x, -half - tail), Point::new(x, half + tail));
    let inward = if tail > 0.0 { -1.0 } else { 1.0 };
    canvas.arrow(owner, Point::new(x, -half), Point::new(x, -half + inward));
    canvas.arrow(owner, Point::new(x, half), Point::new(x, half - inward));
    label.draw(canvas, owner, Point::new(x + 3.2, 0.0), false, lettering);
}

fn title(canvas: &mut Canvas, letter: char, outer: f64, lettering: Lettering) {
    let label = Label::text(format!("{letter}–{letter}"));
    let owner = canvas.own();
    let (width, height) = (label.width(lettering), label.height(lettering));
    label.draw(canvas, owner, Point::new(-width / 2.0, -outer - 4.5 - height / 2.0), false, lettering);
}

/// Marks where a section is taken, where its marks meet nothing; `false` if there is no such place.
pub(crate) fn mark(
    canvas: &mut Canvas,
    view: &View<'_>,
    section: &Section<'_>,
    lettering: Lettering,
) -> bool {
    let (from, to) = (view.x(section.range.0), view.x(section.range.1));
    let shares = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9];
    for share in shares {
        let x = from + (to - from) * share;
        let real = section.range.0 + (section.range.1 - section.range.0) * share;
        let mut marks = Canvas::default();
        plane(&mut marks, x, view.outer(real), section.letter, lettering);
        if is_clear(canvas, &marks) {
            canvas.add(marks);
            return true;
        }
    }
    false
}

/// Room that the marks of a cutting plane need above and below the outline.
pub(crate) const PLANE: f64 = 9.5;

fn plane(canvas: &mut Canvas, x: f64, radius: f64, letter: char, lettering: Lettering) {
    let owner = canvas.own();
    for side in [-1.0, 1.0] {
        let (near, far) = (Point::new(x, side * (radius + 1.5)), Point::new(x, side * (radius + 7.5)));
        canvas.line(owner, Pen::Plane, near, far);
        let tail = far.moved(-5.0, 0.0);
        canvas.line(owner, Pen::Thin, tail, far);
        canvas.arrow(owner, far, tail);
        let label = Label::text(letter.to_string());
        let width = label.width(lettering);
        label.draw(canvas, owner, Point::new(x - 1.6 - width, side * (radius + 4.4)), false, lettering);
    }
}

fn is_clear(canvas: &Canvas, marks: &Canvas) -> bool {
    let room: Vec<Rect> = marks.marks.iter().map(|mark| mark.ink.extent().grown(0.6)).collect();
    let whole = room.iter().copied().fold(Rect::EMPTY, Rect::join);
    let meets = |ink: &Ink| {
        let extent = ink.extent().grown(0.01);
        extent.overlaps(&whole)
            && room.iter().any(|rect| match ink {
                Ink::Line { from, to } => super::law::line_meets(*from, *to, rect),
                Ink::Text { .. } | Ink::Solid { .. } => extent.overlaps(rect),
                Ink::Arc { .. } => false,
            })
    };
    canvas.marks.iter().all(|mark| matches!(mark.pen, Pen::Hatch | Pen::Centre) || !meets(&mark.ink))
}
