//! A drawing as SVG, in millimetres, black only.

use std::fmt::Write as _;

use super::drawing::{Drawing, Ink, Mark, Pen, Point};
use super::label::ADVANCE;

/// The font and its figures: height of capitals and advance in ems. Any font may stand in; letters are set to the
/// advance that the layout counted on.
const FONT: &str = "DejaVu Sans Mono, monospace";
const CAPITALS: f64 = 0.729;
const EM_ADVANCE: f64 = 0.602;

/// Writes a drawing. `words` is the alternative text: all sizes in words.
pub fn to_svg(drawing: &Drawing, words: &str) -> String {
    let (w, h) = (figure(drawing.width), figure(drawing.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" role=\"img\">\n"
    );
    if !words.is_empty() {
        let _ = writeln!(out, "<desc>{}</desc>", escaped(words));
    }
    for pen in Pen::ALL {
        group(&mut out, drawing, pen);
    }
    out.push_str("</svg>\n");
    out
}

fn group(out: &mut String, drawing: &Drawing, pen: Pen) {
    let marks: Vec<&Mark> = drawing.marks.iter().filter(|mark| mark.pen == pen).collect();
    if marks.is_empty() {
        return;
    }
    let dashes: Vec<String> = pen.dashes().iter().map(|dash| figure(*dash)).collect();
    let dashed =
        if dashes.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", dashes.join(" ")) };
    let width = figure(pen.width());
    let _ = writeln!(
        out,
        "<g fill=\"none\" stroke=\"#000\" stroke-width=\"{width}\" stroke-linecap=\"round\" stroke-linejoin=\"round\"{dashed}>"
    );
    let path = path(&marks, !dashed.is_empty());
    if !path.is_empty() {
        let _ = writeln!(out, "<path d=\"{path}\"/>");
    }
    out.push_str("</g>\n");
    marks.iter().for_each(|mark| filled(out, &mark.ink));
}

/// Every stroke of one pen; dashes run on from one line to the next where they meet.
fn path(marks: &[&Mark], runs_on: bool) -> String {
    let (mut path, mut end) = (String::new(), None);
    for ink in marks.iter().map(|mark| &mark.ink) {
        match ink {
            Ink::Line { from, to } if runs_on && end == Some(*from) => {
                let _ = write!(path, " L{}", place(*to));
            }
            _ => path.extend(stroke(ink)),
        }
        end = if let Ink::Line { to, .. } = ink { Some(*to) } else { None };
    }
    path
}

fn stroke(ink: &Ink) -> Option<String> {
    match ink {
        Ink::Line { from, to } => Some(format!("M{} L{}", place(*from), place(*to))),
        Ink::Arc { centre, radius, start, sweep } => Some(arc(*centre, *radius, *start, *sweep)),
        Ink::Solid { .. } | Ink::Text { .. } => None,
    }
}

fn arc(centre: Point, radius: f64, start: f64, sweep: f64) -> String {
    let at = |angle: f64| place(centre.moved(radius * libm::cos(angle), radius * libm::sin(angle)));
    let half = sweep / 2.0;
    let turn = u8::from(sweep > 0.0);
    let large = u8::from(half.abs() > std::f64::consts::PI);
    let r = figure(radius);
    format!(
        "M{} A{r} {r} 0 {large} {turn} {} A{r} {r} 0 {large} {turn} {}",
        at(start),
        at(start + half),
        at(start + sweep)
    )
}

fn filled(out: &mut String, ink: &Ink) {
    match ink {
        Ink::Solid { points } => {
            let points: Vec<String> = points.iter().map(|point| place(*point)).collect();
            let _ = writeln!(out, "<path d=\"M{}Z\" fill=\"#000\"/>", points.join(" L"));
        }
        Ink::Text { at, height, upward, text } => {
            let size = height / CAPITALS;
            let squeeze = figure(ADVANCE * CAPITALS / EM_ADVANCE);
            let turn = if *upward { " rotate(-90)" } else { "" };
            let _ = writeln!(
                out,
                "<text transform=\"translate({}){turn} scale({squeeze} 1)\" font-family=\"{FONT}\" font-size=\"{}\">{}</text>",
                place(*at),
                figure(size),
                escaped(text)
            );
        }
        Ink::Line { .. } | Ink::Arc { .. } => {}
    }
}

fn place(point: Point) -> String {
    format!("{} {}", figure(point.x), figure(point.y))
}

fn figure(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            control if control.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}
