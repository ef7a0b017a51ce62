//! The one view of a turned part: axis horizontal, the upper half from outside, the lower half in section if a hollow is a
//! main feature (ISO 128-3:2022, half sections of symmetrical parts; that the lower half is the cut one is common practice).
//! Solid pins, bolts and shafts are not cut lengthwise (ISO 128-3:2022): the holes along them are drawn as hidden edges.

use super::axes::Axes;
use super::canvas::Canvas;
use super::drawing::{Pen, Point};
use super::hatch::hatch;
use crate::shape::{Across, BoreForm, Deep, Form, Laid, Profile, Side, Span};

/// What is drawn, and how.
pub(crate) struct View<'a> {
    pub(crate) laid: &'a Laid,
    pub(crate) axes: Axes,
    /// Lower half in section.
    pub(crate) cut: bool,
    /// The outside as seen, squares and hexagons included.
    pub(crate) outside: Profile,
}

/// A blind hollow at least this wide, as a part of the outside there, is a main feature. A rule of our own.
const MAIN: f64 = 0.5;
/// Chords of an arc.
const CHORDS: u32 = 8;

impl<'a> View<'a> {
    pub(crate) fn new(laid: &'a Laid, axes: Axes) -> Self {
        Self { laid, axes, cut: is_hollow(laid), outside: super::cross::silhouette(laid) }
    }

    pub(crate) fn x(&self, real: f64) -> f64 {
        self.axes.along.at(real)
    }

    pub(crate) fn r(&self, real: f64) -> f64 {
        self.axes.across.at(real)
    }

    pub(crate) fn length(&self) -> f64 {
        self.axes.along.end()
    }

    /// The greatest radius on paper.
    pub(crate) fn greatest(&self) -> f64 {
        self.r(self.laid.outside.greatest())
    }

    /// The outer radius at a place on paper.
    pub(crate) fn outer(&self, real: f64) -> f64 {
        self.r(self.outside.at(real))
    }

    /// A line along the axis with its interruptions left open.
    pub(crate) fn along(&self, canvas: &mut Canvas, pen: Pen, from: Point, to: Point) {
        let mut start = from;
        let at = |x: f64| Point::new(x, from.y + (to.y - from.y) * (x - from.x) / (to.x - from.x));
        for (left, right) in &self.axes.breaks {
            if from.x < *left && to.x > *right {
                canvas.line(0, pen, start, at(*left));
                start = at(*right);
            }
        }
        canvas.line(0, pen, start, to);
    }

    /// Points of a span on paper, below the axis.
    fn points(&self, span: &Span) -> Vec<Point> {
        let steps = if span.round.is_some() { CHORDS } else { 1 };
        let at = |step: u32| {
            let x = span.x0 + (span.x1 - span.x0) * f64::from(step) / f64::from(steps);
            Point::new(self.x(x), self.r(span.at(x)))
        };
        (0..=steps).map(at).collect()
    }
}

/// Whether a half section shows what the part is about: its hollow goes from face to face, or is wide.
fn is_hollow(laid: &Laid) -> bool {
    let spans = || laid.inside.spans.iter().filter(|span| span.r0.max(span.r1) > 1e-9);
    let is_wide = |span: &Span| {
        let middle = f64::midpoint(span.x0, span.x1);
        span.at(middle) >= MAIN * laid.outside.at(middle)
    };
    spans().map(|span| span.x1 - span.x0).sum::<f64>() > laid.length - 1e-9 || spans().any(is_wide)
}

/// The halves on which something is drawn: −1 above the axis, 1 below.
fn halves(both: bool) -> &'static [f64] {
    if both { &[-1.0, 1.0] } else { &[-1.0] }
}

pub(crate) fn outline(canvas: &mut Canvas, view: &View<'_>) {
    for span in &view.outside.spans {
        contour(canvas, view, span, (Pen::Outline, -1.0));
        contour(canvas, view, span, (Pen::Outline, 1.0));
    }
    for x in stations(&view.outside) {
        edge(canvas, view, x);
    }
    threads(canvas, view);
    if view.cut {
        hollow(canvas, view, Pen::Outline, 1.0);
        cut_faces(canvas, view);
        section(canvas, view);
    } else {
        halves(true).iter().for_each(|half| hollow(canvas, view, Pen::Hidden, *half));
    }
    breaks(canvas, view);
    let (from, to) = (Point::new(-4.0, 0.0), Point::new(view.length() + 4.0, 0.0));
    view.along(canvas, Pen::Centre, from, to);
}

fn contour(canvas: &mut Canvas, view: &View<'_>, span: &Span, (pen, half): (Pen, f64)) {
    let points: Vec<Point> = view.points(span).into_iter().map(|p| Point::new(p.x, p.y * half)).collect();
    for pair in points.windows(2) {
        view.along(canvas, pen, pair[0], pair[1]);
    }
}

fn stations(profile: &Profile) -> Vec<f64> {
    let mut places = profile.stations();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    places
}

/// The edge at a station: a shoulder, a ridge, or the limit between two lengths of one diameter.
fn edge(canvas: &mut Canvas, view: &View<'_>, x: f64) {
    let (left, right) = view.outside.around(x);
    let (low, high) = (left.min(right), left.max(right));
    let paper = view.x(x);
    let step = high - low > 1e-9;
    let limit = !step && !ridge(&view.outside, x);
    if limit && !view.laid.places.iter().any(|place| (place.from - x).abs() < 1e-9) {
        return;
    }
    let pen = if limit && !ends_thread(view, x) { Pen::Thin } else { Pen::Outline };
    let reach = view.r(high);
    canvas.line(0, pen, Point::new(paper, -reach), Point::new(paper, 0.0));
    if !view.cut {
        canvas.line(0, pen, Point::new(paper, 0.0), Point::new(paper, reach));
    } else if step {
        let low = view.r(low.max(view.laid.inside.at(x).min(high)));
        canvas.line(0, pen, Point::new(paper, low), Point::new(paper, reach));
    }
}

/// Whether the useful length of a thread ends at a station: a wide line (ISO 6410-1:1993).
fn ends_thread(view: &View<'_>, x: f64) -> bool {
    let both = view.laid.turned.outside.iter().zip(&view.laid.places);
    let is_there = |(segment, place): (&crate::shape::Segment, &crate::shape::Place)| {
        matches!(segment.form, Form::Thread(_))
            && ((place.from - x).abs() < 1e-9 || (place.to - x).abs() < 1e-9)
    };
    both.into_iter().any(is_there)
}

/// Whether the contour bends at a station.
fn ridge(profile: &Profile, x: f64) -> bool {
    let slope = |span: &Span, at_start: bool| match span.round {
        None => (span.r1 - span.r0) / (span.x1 - span.x0),
        Some(round) => {
            let edge = if at_start { span.x0 } else { span.x1 };
            if (edge - round.x).abs() < 1e-9 { 0.0 } else { f64::INFINITY }
        }
    };
    let before = profile.spans.iter().find(|s| (s.x1 - x).abs() < 1e-9).map(|s| slope(s, false));
    let after = profile.spans.iter().find(|s| (s.x0 - x).abs() < 1e-9).map(|s| slope(s, true));
    match (before, after) {
        (Some(a), Some(b)) => (a - b).abs() > 1e-6,
        _ => true,
    }
}

/// Roots of external threads: narrow lines (ISO 6410-1:1993).
fn threads(canvas: &mut Canvas, view: &View<'_>) {
    for (segment, place) in view.laid.turned.outside.iter().zip(&view.laid.places) {
        let Form::Thread(thread) = &segment.form else { continue };
        let minor = thread.minor() / 2.0;
        let within =
            view.outside.spans.iter().filter(|s| s.x0 >= place.from - 1e-9 && s.x1 <= place.to + 1e-9);
        for span in within.filter(|s| s.r0.max(s.r1) > minor + 1e-9) {
            let cross = |x: f64| {
                if span.at(x) < minor {
                    span.x0 + (span.x1 - span.x0) * (minor - span.r0) / (span.r1 - span.r0)
                } else {
                    x
                }
            };
            let (from, to) = (view.x(cross(span.x0)), view.x(cross(span.x1)));
            for half in halves(true) {
                let y = view.r(minor) * half;
                view.along(canvas, Pen::Thin, Point::new(from, y), Point::new(to, y));
            }
        }
    }
}

/// The edges of the hollow in one half.
fn hollow(canvas: &mut Canvas, view: &View<'_>, pen: Pen, half: f64) {
    let inside = &view.laid.inside;
    for span in inside.spans.iter().filter(|span| span.r0.max(span.r1) > 1e-12) {
        contour(canvas, view, span, (pen, half));
    }
    let length = view.laid.length;
    for x in stations(inside) {
        let (left, right) = inside.around(x);
        let bends = (left - right).abs() > 1e-9 || ridge(inside, x);
        if bends && x > 1e-9 && x < length - 1e-9 {
            let paper = view.x(x);
            let reach = view.r(left.max(right)) * half;
            canvas.line(0, pen, Point::new(paper, 0.0), Point::new(paper, reach));
        }
    }
    view.laid.turned.bores.iter().for_each(|bore| inner_thread(canvas, view, bore, (pen, half)));
}

/// The faces of the cut half.
fn cut_faces(canvas: &mut Canvas, view: &View<'_>) {
    for x in [0.0, view.laid.length] {
        let paper = view.x(x);
        canvas.line(0, Pen::Outline, Point::new(paper, 0.0), Point::new(paper, view.r(view.outside.at(x))));
    }
}

/// The major diameter of a tapped hole: a narrow line, ended by a wide one; hidden, both are dashed (ISO 6410-1:1993).
fn inner_thread(canvas: &mut Canvas, view: &View<'_>, bore: &crate::shape::Bore, (pen, half): (Pen, f64)) {
    let BoreForm::Thread { thread, .. } = &bore.form else { return };
    let length = view.laid.length;
    let deep = match &bore.deep {
        Deep::Through => length,
        Deep::To(size) => size.m(),
    };
    let start = first_visible(view, bore);
    let (from, to) = match bore.side {
        Side::Left => (start, deep),
        Side::Right => (length - start, length - deep),
    };
    let y = view.r(thread.major / 2.0) * half;
    let (from, to) = (view.x(from), view.x(to));
    let root = if pen == Pen::Hidden { pen } else { Pen::Thin };
    view.along(canvas, root, Point::new(from.min(to), y), Point::new(from.max(to), y));
    if deep < length - 1e-9 {
        canvas.line(0, pen, Point::new(to, 0.0), Point::new(to, y));
    }
}

/// How far from its face a bore is hidden by wider ones.
pub(crate) fn first_visible(view: &View<'_>, bore: &crate::shape::Bore) -> f64 {
    let own = bore.form.mouth();
    let wider = view.laid.turned.bores.iter().filter(|b| b.side == bore.side && b.form.mouth() > own + 1e-12);
    wider.filter_map(|b| if let Deep::To(size) = &b.deep { Some(size.m()) } else { None }).fold(0.0, f64::max)
}

impl BoreForm {
    /// Radius at its mouth, m; of a thread, the major one.
    pub(crate) fn mouth(&self) -> f64 {
        match self {
            Self::Plain { d } | Self::Taper { d, .. } => d.m() / 2.0,
            Self::Thread { thread, .. } => thread.major / 2.0,
        }
    }
}

/// Hatches the cut half, between cross holes and interruptions.
fn section(canvas: &mut Canvas, view: &View<'_>) {
    let mut gaps: Vec<(f64, f64)> = view
        .laid
        .turned
        .across
        .iter()
        .filter_map(|cut| match &cut.what {
            Across::Hole { d, through: true } => Some((cut.at.m() - d.m() / 2.0, cut.at.m() + d.m() / 2.0)),
            _ => None,
        })
        .map(|(a, b)| (view.x(a), view.x(b)))
        .collect();
    gaps.extend(&view.axes.breaks);
    gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut start = 0.0;
    for (from, to) in gaps {
        if from > start {
            hatch(canvas, area(view, start, from));
        }
        start = to.max(start);
    }
    hatch(canvas, area(view, start, view.length()));
}

/// The cut area between two places on paper.
fn area(view: &View<'_>, from: f64, to: f64) -> Vec<Point> {
    let mut points = clipped(view, &view.outside, from, to);
    let mut back = clipped(view, &view.laid.inside, from, to);
    if back.is_empty() {
        back = vec![Point::new(from, 0.0), Point::new(to, 0.0)];
    }
    if let (Some(first), Some(last)) = (back.first().copied(), back.last().copied()) {
        if first.x > from + 1e-6 {
            back.splice(0..0, [Point::new(from, 0.0), Point::new(first.x, 0.0)]);
        }
        if last.x < to - 1e-6 {
            back.extend([Point::new(last.x, 0.0), Point::new(to, 0.0)]);
        }
    }
    points.extend(back.into_iter().rev());
    points
}

fn clipped(view: &View<'_>, profile: &Profile, from: f64, to: f64) -> Vec<Point> {
    let mut points = Vec::new();
    let mut end: Option<f64> = None;
    for span in &profile.spans {
        // Between two hollows the cut face reaches the axis.
        if let Some(gap) = end.map(|x| [x, view.x(span.x0)]).filter(|gap| gap[1] - gap[0] > 1e-6) {
            points.extend(gap.iter().filter(|x| from < **x && **x < to).map(|x| Point::new(*x, 0.0)));
        }
        end = Some(view.x(span.x1));
        for pair in view.points(span).windows(2) {
            let (a, b) = (pair[0], pair[1]);
            if b.x <= from || a.x >= to || b.x - a.x < 1e-9 {
                continue;
            }
            let at = |x: f64| Point::new(x, a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x));
            points.extend([at(a.x.max(from)), at(b.x.min(to))]);
        }
    }
    points
}

/// Both edges of an interruption: narrow zigzag lines (ISO 128-2:2020).
fn breaks(canvas: &mut Canvas, view: &View<'_>) {
    for (left, right) in &view.axes.breaks {
        let radius = radius_on_paper(view, f64::midpoint(*left, *right)) + 2.0;
        for x in [*left, *right] {
            let tooth = 1.1;
            let points =
                [(0.0, -radius), (0.0, -1.6), (-tooth, -0.6), (tooth, 0.6), (0.0, 1.6), (0.0, radius)];
            let points = points.map(|(dx, y)| Point::new(x + dx, y));
            canvas.chain(0, Pen::Thin, &points);
        }
    }
}

fn radius_on_paper(view: &View<'_>, x: f64) -> f64 {
    let over = view.outside.spans.iter().find(|span| view.x(span.x0) <= x && x <= view.x(span.x1));
    over.map_or(0.0, |span| view.r(span.r0.max(span.r1)))
}
