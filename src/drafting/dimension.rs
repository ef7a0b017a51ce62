//! Rows of linear dimensions beside a view: which row each takes, where its text stands, and how it is drawn.
//!
//! ISO 129-1:2018: dimension lines parallel, the shorter nearer to the view, the text above its line and readable from
//! below or from the right.

use super::canvas::{ARROW, Canvas};
use super::drawing::{Pen, Point, Rect};
use super::label::{Label, Lettering};

/// On which side of a view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lane {
    Below,
    Left,
    Right,
}

/// One linear dimension; `from` below `to`, along the lane: to the right, or upwards.
#[derive(Clone, Debug)]
pub(crate) struct Dimension {
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// Where the extension lines begin, away from the view's middle.
    pub(crate) reach: (f64, f64),
    pub(crate) label: Label,
}

/// From the view to the first row, and between rows, mm.
const FIRST: f64 = 9.0;
const CLEAR: f64 = 1.0;
/// Between a dimension line and its text.
const ABOVE: f64 = 0.8;
/// Extension lines begin and end this far from what they touch.
const OFF: f64 = 0.8;
const PAST: f64 = 1.8;
/// Arrows stand outside a span shorter than this, on tails of this length.
const SHORT: f64 = 8.0;
const TAIL: f64 = 5.0;

/// Where a dimension sits.
#[derive(Clone, Copy, Debug)]
struct Seat {
    row: usize,
    /// Beginning and end of the text along the lane.
    text: (f64, f64),
    /// Everything in the row.
    whole: (f64, f64),
}

impl Lane {
    pub(crate) fn point(self, along: f64, across: f64) -> Point {
        match self {
            Self::Below => Point::new(along, across),
            Self::Left => Point::new(-across, -along),
            Self::Right => Point::new(across, -along),
        }
    }

    /// Whether the text stands on the far side of its line.
    fn text_is_far(self) -> bool {
        self == Self::Left
    }

    fn upward(self) -> bool {
        self != Self::Below
    }
}

/// Places and draws the dimensions of one lane whose view ends `edge` mm from the origin.
pub(crate) fn dimensions(
    canvas: &mut Canvas,
    lane: Lane,
    edge: f64,
    all: &[Dimension],
    lettering: Lettering,
) {
    let seats = arrange(lane, all, lettering);
    let rows = rows(lane, edge, all, &seats, lettering);
    for (index, dimension) in all.iter().enumerate() {
        let owner = canvas.own();
        draw(canvas, owner, (lane, &rows), dimension, seats[index], lettering);
    }
}

/// The shorter first; those whose text cannot keep clear of the ends of others come last, where none pass. Of these the one
/// nearest to an end of the row comes first, with its text outwards: what is further in then passes no text.
fn arrange(lane: Lane, all: &[Dimension], lettering: Lettering) -> Vec<Seat> {
    let mut order: Vec<usize> = (0..all.len()).collect();
    let mut options: Vec<Vec<(f64, f64)>> = order.iter().map(|index| texts(*index, all, lettering)).collect();
    let hidden: Vec<bool> = order.iter().map(|index| hits(*index, all, options[*index][0]) > 0).collect();
    let ends = all.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |e, d| (e.0.min(d.from), e.1.max(d.to)));
    let inwards = |index: usize| (all[index].from - ends.0, ends.1 - all[index].to);
    for index in order.iter().copied().filter(|index| hidden[*index]) {
        let (left, right) = inwards(index);
        options[index] = outside(&all[index], lettering).to_vec();
        if right < left {
            options[index].reverse();
        }
    }
    for (option, dimension) in options.iter_mut().zip(all).filter(|_| lane.upward()) {
        if let Some(one) = outwards(dimension, lettering) {
            *option = vec![one];
        }
    }
    order.sort_by(|a, b| {
        let span = |i: &usize| all[*i].to - all[*i].from;
        let shorter = span(a).total_cmp(&span(b)).then(all[*a].from.total_cmp(&all[*b].from));
        let depth = |i: &usize| if hidden[*i] { inwards(*i).0.min(inwards(*i).1) } else { 0.0 };
        hidden[*a].cmp(&hidden[*b]).then(depth(a).total_cmp(&depth(b))).then(shorter)
    });
    let mut seats: Vec<Option<Seat>> = vec![None; all.len()];
    for index in order {
        let seat = seat(index, all, &seats, &options[index]);
        seats[index] = Some(seat);
    }
    let nowhere = Seat { row: 0, text: (0.0, 0.0), whole: (0.0, 0.0) };
    seats.into_iter().map(|seat| seat.unwrap_or(nowhere)).collect()
}

/// The first row and text position that meet nothing; first without crossing lines, then with.
fn seat(index: usize, all: &[Dimension], seats: &[Option<Seat>], texts: &[(f64, f64)]) -> Seat {
    let last = seats.iter().flatten().map(|seat| seat.row + 1).max().unwrap_or(0);
    let rows: Vec<usize> = (0..=last).filter(|row| !is_taken(*row, &all[index], seats)).collect();
    for may_cross in [false, true] {
        for row in rows.iter().copied() {
            for text in texts {
                let seat = Seat { row, text: *text, whole: whole(&all[index], *text) };
                if is_free(index, seat, all, seats, may_cross) {
                    return seat;
                }
            }
        }
    }
    Seat { row: last, text: texts[0], whole: whole(&all[index], texts[0]) }
}

/// Whether something in a row lies over the span of a dimension, wherever its text would stand.
fn is_taken(row: usize, own: &Dimension, seats: &[Option<Seat>]) -> bool {
    const TOUCH: f64 = 0.1;
    let in_row = seats.iter().flatten().filter(|seat| seat.row == row);
    in_row.into_iter().any(|seat| own.from < seat.whole.1 - TOUCH && seat.whole.0 < own.to - TOUCH)
}

/// Where the text may stand; first where no extension line of another can come through.
fn texts(index: usize, all: &[Dimension], lettering: Lettering) -> Vec<(f64, f64)> {
    let mut texts = places(&all[index], lettering);
    texts.sort_by_key(|text| hits(index, all, *text));
    texts
}

/// How many ends of others lie under a text.
fn hits(index: usize, all: &[Dimension], text: (f64, f64)) -> usize {
    let others = all.iter().enumerate().filter(|(i, _)| *i != index).flat_map(|(_, d)| [d.from, d.to]);
    others.filter(|x| *x > text.0 - 0.9 && *x < text.1 + 0.9).count()
}

/// In the middle or beside it if the text fits, else to either side.
fn places(dimension: &Dimension, lettering: Lettering) -> Vec<(f64, f64)> {
    let (from, to, width) = (dimension.from, dimension.to, dimension.label.width(lettering));
    let span = to - from;
    let at = |start: f64| (start, start + width);
    let mut places = Vec::new();
    if span >= SHORT && width <= span - 3.0 {
        let slack = (span - width) / 2.0 - 1.0;
        let shares = [0.0, 0.25, -0.25, 0.5, -0.5, 0.7, -0.7, 0.9, -0.9];
        places.extend(shares.map(|share| at(f64::midpoint(from, to) - width / 2.0 + share * slack)));
    }
    places.extend(outside(dimension, lettering));
    places
}

/// To the left and to the right of the span.
fn outside(dimension: &Dimension, lettering: Lettering) -> [(f64, f64); 2] {
    let (from, to, width) = (dimension.from, dimension.to, dimension.label.width(lettering));
    let tail = if to - from < SHORT { ARROW.0 + 1.5 } else { 1.2 };
    [from - tail - width, to + tail].map(|start| (start, start + width))
}

/// A small height from the axis: its text stands on the side on which it lies.
fn outwards(dimension: &Dimension, lettering: Lettering) -> Option<(f64, f64)> {
    let [below, above] = outside(dimension, lettering);
    let side = if dimension.to.abs() < 1e-9 { below } else { above };
    let from_axis = dimension.from.abs() < 1e-9 || dimension.to.abs() < 1e-9;
    (from_axis && dimension.to - dimension.from < SHORT).then_some(side)
}

fn whole(dimension: &Dimension, text: (f64, f64)) -> (f64, f64) {
    let tail = if dimension.to - dimension.from < SHORT { TAIL } else { 0.0 };
    ((dimension.from - tail).min(text.0), (dimension.to + tail).max(text.1))
}

fn is_free(index: usize, seat: Seat, all: &[Dimension], seats: &[Option<Seat>], may_cross: bool) -> bool {
    let own = &all[index];
    seats.iter().enumerate().filter_map(|(i, seat)| Some((i, (*seat)?))).all(|(i, other)| {
        let theirs = &all[i];
        if other.row == seat.row {
            return seat.whole.1 + 1.5 <= other.whole.0
                || other.whole.1 + 1.5 <= seat.whole.0
                || chained(own, theirs, seat, other);
        }
        let (near, lines) = if other.row < seat.row { (other, own) } else { (seat, theirs) };
        let shortest = if other.row < seat.row { theirs } else { own };
        [lines.from, lines.to].into_iter().all(|x| {
            let on_text = x > near.text.0 - 0.8 && x < near.text.1 + 0.8;
            let on_line = x > near.whole.0.min(shortest.from) + 0.2 && x < near.whole.1 - 0.2;
            !on_text && (may_cross || !on_line)
        })
    })
}

/// Two that meet end to end share a row if nothing of either stands outside.
fn chained(a: &Dimension, b: &Dimension, one: Seat, other: Seat) -> bool {
    let inside = |d: &Dimension, s: Seat| s.whole.0 >= d.from - 1e-9 && s.whole.1 <= d.to + 1e-9;
    let meet = (a.to - b.from).abs() < 0.05 || (b.to - a.from).abs() < 0.05;
    meet && inside(a, one) && inside(b, other)
}

/// How far from the origin each row's line lies.
fn rows(lane: Lane, edge: f64, all: &[Dimension], seats: &[Seat], lettering: Lettering) -> Vec<f64> {
    let count = seats.iter().map(|seat| seat.row + 1).max().unwrap_or(0);
    let height = |row: usize| {
        let labels = all.iter().zip(seats).filter(move |(_, seat)| seat.row == row);
        labels.map(|(d, _)| d.label.height(lettering)).fold(0.0, f64::max)
    };
    let mut lines: Vec<f64> = Vec::new();
    let mut at = edge;
    for row in 0..count {
        let (before, after) = if lane.text_is_far() { (0.0, height(row)) } else { (height(row), 0.0) };
        let before = before + if covers_ends(row, all, seats) { PAST } else { 0.0 };
        let least = if row == 0 { FIRST } else { 5.5 };
        let line = (at + before + ABOVE + CLEAR).max(lines.last().unwrap_or(&edge) + least);
        lines.push(line);
        at = line + after + if after > 0.0 { ABOVE } else { 0.0 };
    }
    lines
}

/// Whether a text of a row stands where extension lines of the row before it end.
fn covers_ends(row: usize, all: &[Dimension], seats: &[Seat]) -> bool {
    let nearer = || all.iter().zip(seats).filter(|(_, seat)| seat.row + 1 == row);
    let ends: Vec<f64> = nearer().flat_map(|(dimension, _)| [dimension.from, dimension.to]).collect();
    let texts = seats.iter().filter(|seat| seat.row == row).map(|seat| seat.text);
    texts.into_iter().any(|(from, to)| ends.iter().any(|x| *x > from - 0.5 && *x < to + 0.5))
}

fn draw(
    canvas: &mut Canvas,
    owner: usize,
    (lane, rows): (Lane, &[f64]),
    dimension: &Dimension,
    seat: Seat,
    lettering: Lettering,
) {
    let line = rows[seat.row];
    let ends = [(dimension.from, dimension.reach.0), (dimension.to, dimension.reach.1)];
    for (x, reach) in ends {
        extension(canvas, owner, lane, x, (reach + OFF, line + PAST));
    }
    arrows(canvas, owner, lane, dimension, seat, line);
    let half = dimension.label.height(lettering) / 2.0 + ABOVE;
    let middle = if lane.text_is_far() { line + half } else { line - half };
    dimension.label.draw(canvas, owner, lane.point(seat.text.0, middle), lane.upward(), lettering);
}

/// An extension line, unbroken where it crosses other lines (ISO 129-1:2018).
fn extension(canvas: &mut Canvas, owner: usize, lane: Lane, x: f64, (from, to): (f64, f64)) {
    canvas.line(owner, Pen::Thin, lane.point(x, from), lane.point(x, to));
}

fn arrows(canvas: &mut Canvas, owner: usize, lane: Lane, dimension: &Dimension, seat: Seat, line: f64) {
    let at = |along: f64| lane.point(along, line);
    let short = dimension.to - dimension.from < SHORT;
    let (mut from, mut to) = (dimension.from, dimension.to);
    if short {
        (from, to) = (from - TAIL, to + TAIL);
    }
    (from, to) = (from.min(seat.text.0), to.max(seat.text.1));
    canvas.line(owner, Pen::Thin, at(from), at(to));
    let (first, second) = if short { (-1.0, 1.0) } else { (1.0, -1.0) };
    canvas.arrow(owner, at(dimension.from), at(dimension.from + first));
    canvas.arrow(owner, at(dimension.to), at(dimension.to + second));
}

/// A dimension of a radius's double with one arrow, its line run past the axis to carry the text: for half sections.
pub(crate) fn half_dimension(
    canvas: &mut Canvas,
    (lane, line): (Lane, f64),
    (tip, reach): (f64, f64),
    label: &Label,
    lettering: Lettering,
) -> Rect {
    let owner = canvas.own();
    let start = tip + ARROW.0 + 1.0;
    let end = start + label.width(lettering);
    extension(canvas, owner, lane, tip, (reach + OFF, line + PAST));
    canvas.line(owner, Pen::Thin, lane.point(tip, line), lane.point(end.max(3.0), line));
    canvas.arrow(owner, lane.point(tip, line), lane.point(tip + 1.0, line));
    let half = label.height(lettering) / 2.0 + ABOVE;
    let middle = if lane.text_is_far() { line + half } else { line - half };
    label.draw(canvas, owner, lane.point(start, middle), true, lettering);
    Rect::around(lane.point(start, line), lane.point(end, line))
}
