//! A turned part's views with all their sizes, about the left end of its axis.

use super::axes::{Manner, axes};
use super::bores::bores;
use super::callout::{Space, Spread, callouts};
use super::canvas::Canvas;
use super::cross::cuts;
use super::dimension::{Lane, dimensions};
use super::drawing::Rect;
use super::drill;
use super::figure::Figures;
use super::label::Lettering;
use super::lengths::lengths;
use super::section::{self, PLANE, sections};
use super::turned_callouts::{common, labels};
use super::turned_outline::{View, outline};
use super::zone;
use crate::shape::{Laid, Treat};

/// The views of a part, and what the notes have to say of them.
pub(crate) struct Views {
    pub(crate) canvas: Canvas,
    pub(crate) notes: Vec<String>,
}

/// Between the view and the labels above it, mm.
const ABOVE: f64 = 7.0;
/// Between views.
const BESIDE: f64 = 8.0;

/// Where sections stand: in a row to the right, one over the other to the right, or in a row below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sections {
    Row,
    Column,
    Below,
}

/// Draws everything.
pub(crate) fn turned(
    laid: &Laid,
    manner: Manner,
    (arranged, spread): (Sections, Spread),
    lettering: Lettering,
    figures: &mut Figures,
    treat: Option<&Treat>,
) -> Views {
    let view = View::new(laid, axes(laid, manner));
    let mut canvas = Canvas::default();
    outline(&mut canvas, &view);
    cuts(&mut canvas, &view);
    let common = common(&view);
    let needed = sections(&view);
    let margin = if needed.iter().all(|one| one.is_end_view) { 0.0 } else { PLANE - 2.0 };
    let labels = labels(&view, figures, &common);
    let beside = bores(&mut canvas, &view, figures, lettering);
    let space = Space { base: -view.greatest() - ABOVE - margin, taken: beside.room };
    callouts(&mut canvas, labels, space, lettering, spread);
    let lengths = lengths(&view, figures);
    let edge = (view.greatest() + margin).max(beside.lowest);
    dimensions(&mut canvas, Lane::Below, edge, &lengths, lettering);
    let mut notes = notes(&view, &common.chamfer, &common.radius);
    notes.extend(zone::of_turned(&mut canvas, &view, treat));
    let mut drawn = Vec::new();
    for one in &needed {
        if !one.is_end_view && !section::mark(&mut canvas, &view, one, lettering) {
            notes.push(format!("{0}–{0}: through the middle of the cut", one.letter));
        }
        notes.extend(one.open_ends(&view));
        drawn.push(section::draw(&view, one, figures, lettering));
    }
    match arranged {
        Sections::Column => column(&mut canvas, drawn),
        Sections::Row => row(&mut canvas, drawn, false),
        Sections::Below => row(&mut canvas, drawn, true),
    }
    Views { canvas, notes }
}

/// Sets sections one over the other to the right of what is level with them, about the axis.
fn column(canvas: &mut Canvas, sections: Vec<Canvas>) {
    let rooms: Vec<Rect> = sections.iter().map(Canvas::extent).collect();
    let gaps = BESIDE / 2.0;
    let high = rooms.iter().map(|room| room.height() + gaps).sum::<f64>() - gaps;
    let wide = rooms.iter().map(Rect::width).fold(0.0, f64::max);
    let mut top = -high / 2.0;
    let left = canvas.right_of(top - 3.0, high / 2.0 + 3.0) + BESIDE;
    for (mut section, room) in sections.into_iter().zip(rooms) {
        section.shift(left + (wide - room.width()) / 2.0 - room.left, top - room.top);
        canvas.add(section);
        top += room.height() + gaps;
    }
}

/// Sets sections in a row to the right of what is level with them, or below everything.
fn row(canvas: &mut Canvas, sections: Vec<Canvas>, below: bool) {
    let whole = canvas.extent();
    let mut at = whole.left;
    for mut section in sections {
        let room = section.extent();
        let down = if below { whole.bottom + 6.0 - room.top } else { 0.0 };
        let left = if below { at } else { canvas.right_of(room.top - 3.0, room.bottom + 3.0) + BESIDE };
        section.shift(left - room.left, down);
        at = left + room.width() + BESIDE;
        canvas.add(section);
    }
}

fn notes(view: &View<'_>, chamfer: &Option<String>, radius: &Option<String>) -> Vec<String> {
    let mut notes = Vec::new();
    notes.extend(chamfer.as_ref().map(|text| format!("Chamfers without a size: {text} × 45°")));
    notes.extend(radius.as_ref().map(|text| format!("Radii without a size: R{text}")));
    notes.extend(drill::has_points(view.laid).then(|| drill::SAID.to_owned()));
    if view.axes.enlarged {
        notes.push("Small steps are not to scale".to_owned());
    }
    notes
}
