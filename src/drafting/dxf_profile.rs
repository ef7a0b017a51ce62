//! The contour of a part at true size as DXF, for laser, plasma and water-jet cutting and for templates: a flat part's
//! outline and openings, a turned part's outer contour. Closed polylines with bulges; millimetres.

use super::dxf::{Groups, Layer, arc, opening};
use crate::shape::{Body, Edge, Fault, Flat, Laid, Path, Shape, check, closed, holes, lay_out, slot_path};

/// Why there is no contour.
#[derive(Clone, Debug, PartialEq)]
pub enum NoProfile {
    /// The shape is wrong.
    Faulty(Vec<Fault>),
    /// A size is on hold, and a stand-in must never be cut.
    Held,
}

const OUTLINE: &str = "OUTLINE";
const HOLES: &str = "HOLES";
const THREADS: &str = "TAPPED_HOLES";

/// Millimetres in a metre.
const MM: f64 = 1000.0;

/// Writes the contour.
///
/// # Errors
/// If the shape has faults or sizes on hold.
pub fn profile_to_dxf(shape: &Shape) -> Result<String, NoProfile> {
    let faults = check(shape);
    if !faults.is_empty() {
        return Err(NoProfile::Faulty(faults));
    }
    if crate::shape::sizes(shape).iter().any(|(_, size)| size.on_hold() || size.nominal.is_none()) {
        return Err(NoProfile::Held);
    }
    match &shape.body {
        Body::Flat(flat) => Ok(flat_contour(flat)),
        Body::Turned(turned) => lay_out(turned).map(|laid| turned_contour(&laid)).ok_or(NoProfile::Held),
    }
}

fn begin(least: [f64; 2], greatest: [f64; 2]) -> Groups {
    let layers = [OUTLINE, HOLES, THREADS].map(|name| Layer { name, dashes: &[], kind: "CONTINUOUS" });
    opening(&layers, (least[0] * MM, least[1] * MM, greatest[0] * MM, greatest[1] * MM))
}

fn flat_contour(flat: &Flat) -> String {
    let path = closed(flat);
    let (least, greatest) = path.extent();
    let mut groups = begin(least, greatest);
    polyline(&mut groups, OUTLINE, &path);
    for hole in holes(flat) {
        let tapped = flat.holes.iter().any(|h| h.key == hole.key && h.thread.is_some());
        let layer = if tapped { THREADS } else { HOLES };
        let circle = (hole.centre[0] * MM, hole.centre[1] * MM, hole.radius * MM);
        arc(&mut groups, layer, circle, (0.0, 0.0), std::f64::consts::TAU);
    }
    for slot in &flat.slots {
        let ends = [&slot.from, &slot.to].map(|at| [at[0].m(), at[1].m()]);
        polyline(&mut groups, HOLES, &slot_path(ends[0], ends[1], slot.wide.m() / 2.0, slot.key));
    }
    groups.finish()
}

/// A closed polyline; an arc's bulge is the tangent of a quarter of its angle.
fn polyline(groups: &mut Groups, layer: &str, path: &Path) {
    start(groups, layer);
    for edge in &path.edges {
        let bulge = edge.turn.map_or(0.0, |turn| libm::tan(turn.sweep / 4.0));
        vertex(groups, layer, edge.from, bulge);
    }
    groups.entity("SEQEND", layer);
}

fn start(groups: &mut Groups, layer: &str) {
    groups.entity("POLYLINE", layer);
    groups.text(66, "1");
    groups.point(10, 0.0, 0.0);
    groups.text(70, "1");
}

fn vertex(groups: &mut Groups, layer: &str, at: [f64; 2], bulge: f64) {
    groups.entity("VERTEX", layer);
    groups.point(10, at[0] * MM, at[1] * MM);
    groups.number(42, bulge);
}

/// The contour above the axis from the left face on, closed along its mirror image.
fn turned_contour(laid: &Laid) -> String {
    let radius = laid.outside.greatest();
    let mut groups = begin([0.0, -radius], [laid.length, radius]);
    let upper: Vec<Edge> = laid.outside.spans.iter().map(|span| edge(span, 1.0)).collect();
    let lower: Vec<Edge> = laid.outside.spans.iter().rev().map(|span| reversed(&edge(span, -1.0))).collect();
    start(&mut groups, OUTLINE);
    for edge in upper.iter().chain(&lower) {
        let bulge = edge.turn.map_or(0.0, |turn| libm::tan(turn.sweep / 4.0));
        vertex(&mut groups, OUTLINE, edge.from, bulge);
        vertex(&mut groups, OUTLINE, edge.to, 0.0);
    }
    groups.entity("SEQEND", OUTLINE);
    groups.finish()
}

fn edge(span: &crate::shape::Span, side: f64) -> Edge {
    let (from, to) = ([span.x0, side * span.r0], [span.x1, side * span.r1]);
    let turn = span.round.map(|round| {
        let centre = [round.x, side * round.r];
        let angle = |p: [f64; 2]| libm::atan2(p[1] - centre[1], p[0] - centre[0]);
        let (start, end) = (angle(from), angle(to));
        let sweep = libm::remainder(end - start, std::f64::consts::TAU);
        crate::shape::Turn { centre, radius: round.radius, start, sweep }
    });
    Edge { from, to, turn, key: 0 }
}

fn reversed(edge: &Edge) -> Edge {
    let turn = edge.turn.map(|turn| crate::shape::Turn {
        start: turn.start + turn.sweep,
        sweep: -turn.sweep,
        ..turn
    });
    Edge { from: edge.to, to: edge.from, turn, key: edge.key }
}
