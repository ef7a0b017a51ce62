//! Lettering and the parts of a label: texts, limits one over the other, balloons, boxes, symbols.
//!
//! Heights are those of ISO 3098-1:2015 (1.8, 2.5, 3.5, 5, 7 …); 1.8 mm is not used. Every character takes 0.7 of the
//! height, as in lettering type B with its spacing; a writer has to set its font to that.

use super::canvas::Canvas;
use super::drawing::{Ink, Pen, Point, Rect};
use super::symbol;
use crate::shape::ControlKind;

/// Width of a character with its spacing, in heights.
pub(crate) const ADVANCE: f64 = 0.7;
/// Below the baseline, in heights.
const DESCENT: f64 = 0.3;
/// Above the capitals, in heights: room for diameter signs and brackets.
const ASCENT: f64 = 0.12;

/// Heights in use, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Lettering {
    /// Of sizes.
    pub(crate) main: f64,
    /// Of limits and notes.
    pub(crate) small: f64,
}

impl Lettering {
    pub(crate) const ROOMY: Self = Self { main: 3.5, small: 2.5 };
    pub(crate) const TIGHT: Self = Self { main: 2.5, small: 2.5 };
}

pub(crate) fn text_width(text: &str, height: f64) -> f64 {
    text.chars().map(|_| ADVANCE * height).sum()
}

/// The room of a text.
pub(crate) fn text_box(at: Point, height: f64, upward: bool, text: &str) -> Rect {
    let (long, up, down) = (text_width(text, height), height * (1.0 + ASCENT), height * DESCENT);
    if upward {
        Rect { left: at.x - up, top: at.y - long, right: at.x + down, bottom: at.y }
    } else {
        Rect { left: at.x, top: at.y - up, right: at.x + long, bottom: at.y + down }
    }
}

/// A part of a label's row.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Part {
    Text(String),
    /// In the smaller height.
    Small(String),
    /// Upper over lower.
    Stack(String, String),
    /// A number in a circle.
    Balloon(usize),
    /// A size on hold.
    Boxed(String),
    /// A surface texture symbol.
    Texture(String),
    /// A tolerance frame.
    Control(ControlKind, String, char),
    /// A datum letter.
    Datum(char),
}

/// A label of one or more rows.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Label {
    pub(crate) rows: Vec<Vec<Part>>,
}

/// Between parts.
const SPACE: f64 = 1.2;
const BALLOON: f64 = 2.6;
/// Half the gap between the limits of a stack.
const STACK: f64 = 0.55;

impl Part {
    fn width(&self, lettering: Lettering) -> f64 {
        let small = |text: &str| text_width(text, lettering.small);
        match self {
            Self::Text(text) => text_width(text, lettering.main),
            Self::Small(text) => small(text),
            Self::Stack(upper, lower) => small(upper).max(small(lower)),
            Self::Balloon(number) => balloon_radius(*number) * 2.0,
            Self::Boxed(text) => text_width(text, lettering.main) + 2.0,
            Self::Texture(text) => symbol::texture_width(text, lettering.small),
            Self::Control(_, within, _) => symbol::control_width(within, lettering.small),
            Self::Datum(_) => symbol::DATUM_WIDTH,
        }
    }

    /// Above and below the middle of the row.
    fn half_height(&self, lettering: Lettering) -> f64 {
        match self {
            Self::Text(_) => lettering.main * (0.5 + DESCENT),
            Self::Small(_) => lettering.small * (0.5 + DESCENT),
            Self::Stack(..) => lettering.small * (1.0 + ASCENT) + STACK,
            Self::Balloon(number) => balloon_radius(*number),
            Self::Boxed(_) => lettering.main * 0.5 + 1.1,
            Self::Texture(_) => symbol::TEXTURE_HALF,
            Self::Control(..) | Self::Datum(_) => symbol::CONTROL_HALF,
        }
    }
}

fn balloon_radius(number: usize) -> f64 {
    if number < 100 { BALLOON } else { BALLOON + 0.9 }
}

impl Label {
    pub(crate) fn of(parts: Vec<Part>) -> Self {
        Self { rows: vec![parts] }
    }

    pub(crate) fn text(text: impl Into<String>) -> Self {
        Self::of(vec![Part::Text(text.into())])
    }

    pub(crate) fn small(text: impl Into<String>) -> Self {
        Self::of(vec![Part::Small(text.into())])
    }

    pub(crate) fn width(&self, lettering: Lettering) -> f64 {
        self.rows.iter().map(|row| row_width(row, lettering)).fold(0.0, f64::max)
    }

    pub(crate) fn height(&self, lettering: Lettering) -> f64 {
        self.rows.iter().map(|row| row_height(row, lettering)).sum()
    }

    /// Draws it with the middle of its left side at `at`; upward, `at` is the middle of its lower side.
    pub(crate) fn draw(
        &self,
        canvas: &mut Canvas,
        owner: usize,
        at: Point,
        upward: bool,
        lettering: Lettering,
    ) {
        let (width, height) = (self.width(lettering), self.height(lettering));
        let frame = Frame { at, upward };
        canvas.claim(owner, Rect::around(frame.point(0.0, -height / 2.0), frame.point(width, height / 2.0)));
        let mut v = -height / 2.0;
        for row in &self.rows {
            let half = row_height(row, lettering) / 2.0;
            draw_row(row, canvas, owner, frame, v + half, lettering);
            v += 2.0 * half;
        }
    }

    /// Takes the letter of a datum out of it.
    pub(crate) fn take_datum(&mut self) -> Option<char> {
        let letter = self.rows.iter().flatten().find_map(|part| match part {
            Part::Datum(letter) => Some(*letter),
            _ => None,
        });
        self.rows.iter_mut().for_each(|row| row.retain(|part| !matches!(part, Part::Datum(_))));
        letter
    }

    /// In plain characters.
    pub(crate) fn plain(&self) -> String {
        let words: Vec<String> = self.rows.iter().flatten().filter_map(Part::plain).collect();
        words.join(" ")
    }
}

impl Part {
    fn plain(&self) -> Option<String> {
        match self {
            Self::Text(text) | Self::Small(text) | Self::Texture(text) => Some(text.clone()),
            Self::Stack(upper, lower) => Some(format!("{upper}/{lower}")),
            Self::Balloon(_) => None,
            Self::Boxed(text) => Some(format!("[{text}]")),
            Self::Control(kind, within, datum) => Some(format!("{} {within} {datum}", symbol::name(*kind))),
            Self::Datum(letter) => Some(format!("datum {letter}")),
        }
    }
}

fn row_width(row: &[Part], lettering: Lettering) -> f64 {
    let mut gaps = 0.0;
    row.iter().skip(1).for_each(|_| gaps += SPACE);
    row.iter().map(|part| part.width(lettering)).sum::<f64>() + gaps
}

fn row_height(row: &[Part], lettering: Lettering) -> f64 {
    row.iter().map(|part| part.half_height(lettering) * 2.0).fold(0.0, f64::max)
}

/// Along the text and across it, onto paper.
#[derive(Clone, Copy)]
pub(crate) struct Frame {
    pub(crate) at: Point,
    pub(crate) upward: bool,
}

impl Frame {
    pub(crate) fn point(self, u: f64, v: f64) -> Point {
        if self.upward { self.at.moved(v, -u) } else { self.at.moved(u, v) }
    }

    pub(crate) fn write(self, canvas: &mut Canvas, owner: usize, u: f64, v: f64, height: f64, text: &str) {
        let ink = Ink::Text { at: self.point(u, v), height, upward: self.upward, text: text.to_owned() };
        canvas.put(owner, Pen::Lettering, ink);
    }
}

fn draw_row(row: &[Part], canvas: &mut Canvas, owner: usize, frame: Frame, v: f64, lettering: Lettering) {
    let mut u = 0.0;
    for part in row {
        draw_part(part, canvas, owner, frame, (u, v), lettering);
        u += part.width(lettering) + SPACE;
    }
}

fn draw_part(
    part: &Part,
    canvas: &mut Canvas,
    owner: usize,
    frame: Frame,
    (u, v): (f64, f64),
    lettering: Lettering,
) {
    let (main, small) = (lettering.main, lettering.small);
    match part {
        Part::Text(text) => frame.write(canvas, owner, u, v + main / 2.0, main, text),
        Part::Small(text) => frame.write(canvas, owner, u, v + small / 2.0, small, text),
        Part::Stack(upper, lower) => {
            frame.write(canvas, owner, u, v - STACK, small, upper);
            frame.write(canvas, owner, u, v + STACK + small, small, lower);
        }
        Part::Balloon(number) => {
            let (radius, text) = (balloon_radius(*number), number.to_string());
            canvas.circle(owner, Pen::Lettering, frame.point(u + radius, v), radius);
            let start = u + radius - text_width(&text, small) / 2.0;
            frame.write(canvas, owner, start, v + small / 2.0, small, &text);
        }
        Part::Boxed(text) => {
            let (half, wide) = (main * 0.5 + 0.9, part.width(lettering));
            canvas.frame(
                owner,
                Pen::Outline,
                Rect::around(frame.point(u, v - half), frame.point(u + wide, v + half)),
            );
            frame.write(canvas, owner, u + 1.0, v + main / 2.0, main, text);
        }
        Part::Texture(text) => symbol::texture(canvas, owner, frame, (u, v), small, text),
        Part::Control(kind, within, datum) => {
            symbol::control(canvas, owner, frame, (u, v), small, (*kind, within, *datum));
        }
        Part::Datum(letter) => symbol::datum(canvas, owner, frame, (u, v), small, *letter),
    }
}
