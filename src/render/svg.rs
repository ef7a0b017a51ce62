//! The graph of the sequence as a drawing of its own, in one piece.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::drawing::{Drawing, state_words, whole};
use super::edition::Edition;
use super::graph::Room;

const MARGIN: f64 = 20.0;
/// Six boxes beside each other.
const ROOM: Room = Room { width: 980.0, height: f64::INFINITY };

/// Slender and filled, as on a drawing.
const ARROWHEAD: &str = "<defs><marker id=\"head\" viewBox=\"0 0 6 3.4\" refX=\"6\" refY=\"1.7\" markerWidth=\"6\" \
                         markerHeight=\"3.4\" markerUnits=\"userSpaceOnUse\" orient=\"auto\"><path d=\"M0 0L6 1.7L0 3.4z\"/>\
                         </marker></defs>\n";

/// The graph as SVG: the same boxes and lines as in the PDF.
pub fn sequence_svg(edition: &Edition) -> String {
    let (_, drawing) = whole(edition, &[ROOM], &BTreeMap::new());
    let (width, height) = (drawing.width + 2.0 * MARGIN, drawing.height + 2.0 * MARGIN);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width:.1} {height:.1}\" font-family=\"serif\" font-size=\"8\">\n"
    );
    svg.push_str(ARROWHEAD);
    let _ = writeln!(svg, "<g transform=\"translate({MARGIN:.1} {MARGIN:.1})\">");
    draw(&mut svg, &drawing);
    svg.push_str("</g>\n</svg>\n");
    svg
}

fn draw(svg: &mut String, piece: &Drawing) {
    for edge in &piece.edges {
        let points: Vec<String> = edge.points.iter().map(|[x, y]| format!("{x:.1},{y:.1}")).collect();
        let _ = writeln!(
            svg,
            "<polyline points=\"{}\" fill=\"none\" stroke=\"black\" stroke-width=\"0.7\" marker-end=\"url(#head)\"/>",
            points.join(" ")
        );
    }
    for node in &piece.nodes {
        let (x, y, w, h) = (node.x, node.y, node.w, node.h);
        let dash = if node.state == "waiting" { " stroke-dasharray=\"3 2\"" } else { "" };
        let weight = if node.state == "ready" { 1.5 } else { 0.6 };
        if node.irreversible {
            let _ = writeln!(
                svg,
                "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"none\" stroke=\"black\" stroke-width=\"2\"/>",
                x - 3.0,
                y - 3.0,
                w + 6.0,
                h + 6.0
            );
        }
        let _ = writeln!(
            svg,
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{w:.1}\" height=\"{h:.1}\" fill=\"white\" stroke=\"black\" stroke-width=\"{weight}\"{dash}/>"
        );
        for (index, line) in
            node.lines.iter().map(String::as_str).chain([state_words(node.state)]).enumerate()
        {
            let baseline = y + 12.0 + 10.8 * f64::from(u32::try_from(index).unwrap_or(0));
            let _ = writeln!(svg, "<text x=\"{:.1}\" y=\"{baseline:.1}\">{}</text>", x + 6.0, xml(line));
        }
    }
}

fn xml(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
