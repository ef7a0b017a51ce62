//! The note block: what holds for the whole part.

use super::canvas::Canvas;
use super::drawing::{Pen, Point, Rect};
use super::figure::{Figures, MEASURED};
use super::label::{Label, Lettering, Part, text_width};
use super::title::{Title, in_full};
use crate::shape::{Body, Class, General, Role, Shape, SizeKind, Thread, Unit, features, sizes};

/// Between lines, mm.
const LEAD: f64 = 4.4;

/// The general tolerance as printed.
pub(crate) fn general(shape: &Shape) -> String {
    match &shape.general {
        Some(General::Class(class)) => format!("ISO 2768-{}", class.letter()),
        Some(General::Figure { text, .. }) => format!("±{text}"),
        None => "not given".to_owned(),
    }
}

/// Every note, in order; the finish has a line of its own with its symbol.
pub(crate) fn notes(shape: &Shape, title: &Title, figures: &Figures, drawn: &[String]) -> Vec<String> {
    let mut notes = match figures.unit {
        Unit::Millimetre => vec!["Dimensions in millimetres, first angle".to_owned()],
        // ISO 21920-1 gives roughness in micrometres, whatever the unit of lengths.
        Unit::Inch => {
            vec!["Dimensions in inches, third angle".to_owned(), "Roughness Ra in µm".to_owned()]
        }
    };
    if let (Some(General::Class(class)), Unit::Inch) = (&shape.general, figures.unit) {
        notes.extend(in_inches(*class, shape));
    }
    notes.extend(shape.edges.as_ref().map(|words| format!("Edges: {words}")));
    // ISO 13715:2017, internal edges of undefined shape: what may be left in them, by a figure.
    notes.extend(
        shape.corners.as_ref().map(|radius| format!("Inside corners without a radius: R{radius} at most")),
    );
    notes.extend(drawn.iter().cloned());
    if matches!(&shape.body, Body::Flat(flat) if !flat.holes.is_empty()) {
        notes.push("Holes go through".to_owned());
    }
    notes.extend(shape.treat.as_ref().map(|treat| format!("Heat treatment: {}", treat.said())));
    notes.extend(shape.coat.as_ref().map(|words| format!("Coating: {words}")));
    notes.extend(shape.notes.iter().cloned());
    notes.extend(shape.up.as_ref().map(|side| format!("In its place, this end is up: {side}")));
    notes.extend(pitches(shape));
    notes.extend(sides(shape, title));
    notes.extend(on_hold(figures, title));
    if !figures.numbered.is_empty() {
        notes.push("Numbers in circles: report the reading".to_owned());
    }
    if figures.auxiliary {
        notes.push("( ) for information, not to be worked to".to_owned());
    }
    if figures.measured {
        notes.push(format!("{MEASURED} measured on the old part"));
    }
    notes.extend(in_full(title));
    notes.extend(title.notes.iter().cloned());
    notes
}

/// The rows of the general tolerances that the sizes without limits of their own fall into, in inches, within those of the
/// standard.
fn in_inches(class: Class, shape: &Shape) -> Option<String> {
    let inches = |metres: f64, parts: f64| {
        let text = format!("{:.4}", (metres / 0.0254 * parts + 1e-9).floor() / parts);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    let mut rows: Vec<(bool, f64, f64)> = Vec::new();
    for (role, size) in sizes(shape) {
        let is_edge = role == Role::Small;
        let kind = if is_edge { SizeKind::Edge } else { SizeKind::Linear };
        let nominal = size.m().abs();
        let is_free = size.limits.is_none() && !size.auxiliary && role != Role::Control;
        let row = class.holds_up_to(kind, nominal).zip(class.deviation(kind, nominal)).filter(|_| is_free);
        rows.extend(row.map(|(up_to, deviation)| (is_edge, up_to, deviation)));
    }
    rows.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    rows.dedup();
    let said = |is_edge: bool| {
        let own = rows.iter().filter(|row| row.0 == is_edge);
        let said = own.map(|(_, up_to, deviation)| {
            let reach =
                if up_to.is_finite() { format!("to {}", inches(*up_to, 1e3)) } else { "above".to_owned() };
            format!("{reach} ±{}", inches(*deviation, 1e4))
        });
        said.collect::<Vec<_>>().join(", ")
    };
    let edges = said(true);
    let all = [said(false), if edges.is_empty() { edges } else { format!("radii and chamfers {edges}") }];
    let all: Vec<String> = all.into_iter().filter(|part| !part.is_empty()).collect();
    (!all.is_empty()).then(|| format!("ISO 2768-{} in inches: {}", class.letter(), all.join("; ")))
}

/// What a figure on a page can't do without: the unit, sizes that stand nowhere else, and what is on hold.
pub(crate) fn of_figure(title: &Title, figures: &Figures, drawn: &[String]) -> Vec<String> {
    let unit = match figures.unit {
        Unit::Millimetre => "Dimensions in millimetres",
        Unit::Inch => "Dimensions in inches",
    };
    let brackets = figures.auxiliary.then(|| "( ) for information, not to be worked to".to_owned());
    let drawn = drawn.iter().cloned();
    [unit.to_owned()].into_iter().chain(drawn).chain(brackets).chain(on_hold(figures, title)).collect()
}

/// The pitch of every thread whose designation leaves it out, each once.
fn pitches(shape: &Shape) -> Vec<String> {
    let threads: Vec<&Thread> = match &shape.body {
        Body::Turned(turned) => turned.threads().collect(),
        Body::Flat(flat) => flat.holes.iter().filter_map(|hole| hole.thread.as_ref()).collect(),
    };
    let mut lines: Vec<String> = Vec::new();
    for thread in threads.into_iter().filter(|thread| !thread.text.contains(['×', 'x', '-'])) {
        let line = match thread.text.strip_prefix('M') {
            Some(_) => format!("{}: pitch {} mm", thread.text, plain(thread.pitch * 1e3)),
            None => format!("{}: {} threads an inch", thread.text, plain(0.0254 / thread.pitch)),
        };
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
}

fn plain(figure: f64) -> String {
    let text = format!("{figure:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Which side is meant where the names and words of a shape speak of sides.
fn sides(shape: &Shape, title: &Title) -> Option<String> {
    let treat = shape.treat.as_ref().and_then(|treat| treat.words.as_ref());
    let words = [treat, shape.coat.as_ref(), shape.edges.as_ref(), shape.up.as_ref()].into_iter().flatten();
    // Names stand on the form, beside the readings that are asked for.
    let asked = features(shape).into_iter().filter(|(_, size)| size.is_toleranced());
    let names = asked.map(|(name, _)| name);
    let words = words.chain(&shape.notes).chain(&title.notes);
    let said: Vec<String> = names.chain(words.cloned()).collect();
    let speaks =
        |side: &str| said.iter().any(|text| text.split(|c: char| !c.is_alphabetic()).any(|w| w == side));
    let sides: Vec<&str> =
        ["left", "right", "top", "bottom"].into_iter().filter(|side| speaks(side)).collect();
    let (last, before) = sides.split_last()?;
    let list =
        if before.is_empty() { (*last).to_owned() } else { format!("{} and {last}", before.join(", ")) };
    let mut letters = list.chars();
    let first = letters.next()?.to_uppercase();
    Some(format!("{first}{}: as drawn", letters.as_str()))
}

/// What waits for what, each reason once with the signs of all its sizes.
fn on_hold(figures: &Figures, title: &Title) -> Vec<String> {
    let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
    for held in &figures.held {
        match reasons.iter_mut().find(|(why, _)| *why == held.why) {
            Some((_, signs)) => signs.push(&held.sign),
            None => reasons.push((&held.why, vec![&held.sign])),
        }
    }
    let said = |(why, signs): (&str, Vec<&str>)| {
        let settles = title.settles.iter().filter(|(reason, _)| reason == why);
        let settled: String = settles.map(|(_, note)| format!("; settled by: {note}")).collect();
        format!("{} on hold, not to be made yet: {why}{settled}", signs.join(", "))
    };
    reasons.into_iter().map(said).collect()
}

/// Lines of a note block broken to a width.
pub(crate) fn broken(notes: &[String], width: f64) -> Vec<String> {
    notes.iter().flat_map(|note| wrap(note, width)).collect()
}

fn wrap(note: &str, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in note.split_whitespace().flat_map(|word| pieces(word, width)) {
        match lines.last_mut() {
            Some(line) if text_width(line, 2.5) + text_width(&word, 2.5) + 1.75 <= width => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// A word too long for a line, in pieces.
fn pieces(word: &str, width: f64) -> Vec<String> {
    let mut pieces = vec![String::new()];
    for letter in word.chars() {
        if let Some(piece) = pieces.last_mut()
            && (piece.is_empty() || text_width(piece, 2.5) + 1.75 <= width)
        {
            piece.push(letter);
        } else {
            pieces.push(letter.to_string());
        }
    }
    pieces
}

/// Height of the block.
pub(crate) fn height(lines: &[String], shape: &Shape) -> f64 {
    let count = u32::try_from(lines.len()).unwrap_or(u32::MAX);
    f64::from(count) * LEAD + if shape.finish.is_some() { 8.0 } else { 1.0 }
}

/// Width of the block; with the line of the general finish.
pub(crate) fn width(lines: &[String]) -> f64 {
    lines.iter().map(|line| text_width(line, 2.5)).fold(60.0, f64::max)
}

/// Draws the block upwards from the lower left corner of its room.
pub(crate) fn draw(canvas: &mut Canvas, room: Rect, lines: &[String], shape: &Shape) {
    let owner = canvas.own();
    let lettering = Lettering::TIGHT;
    let mut y = room.bottom - LEAD / 2.0 - 0.3;
    for line in lines.iter().rev() {
        Label::small(line.clone()).draw(canvas, owner, Point::new(room.left, y), false, lettering);
        y -= LEAD;
    }
    if let Some(finish) = &shape.finish {
        let general =
            Label::of(vec![Part::Texture(finish.clone()), Part::Small("unless shown otherwise".to_owned())]);
        general.draw(canvas, owner, Point::new(room.left, y - 1.4), false, lettering);
    }
}

/// The sheet's frame.
pub(crate) fn frame(canvas: &mut Canvas, rect: Rect) {
    let owner = canvas.own();
    canvas.frame(owner, Pen::Frame, rect);
}
