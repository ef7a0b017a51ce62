//! Where a treatment is limited to one feature: a long-dashed dotted wide line beside its surface, outside the metal (ISO
//! 15787:2016; of what is round, on one side only).

use super::callout::Callout;
use super::canvas::{Canvas, arc_points};
use super::drawing::{Pen, Point};
use super::figure::Figures;
use super::flat::Plan;
use super::label::Label;
use super::turned_outline::View;
use crate::shape::{Bore, BoreForm, Deep, Edge, Flat, Path, Side, Treat, Turn, Vertex, holes};

/// From the surface to the line, mm.
const AWAY: f64 = 1.3;
/// What the notes say of it.
const SAID: &str = "Long-dashed dotted line beside a surface: where it is heat treated";
/// Of a corner.
const OF_CORNER: &str = "Long-dashed dotted line beside a surface: where it is heat treated, along the edge each way from where \
                         the sides of the corner meet";

/// Of a turned part: along a length of the outside, or in its bore. What the notes say of the line, if there is one.
pub(crate) fn of_turned(canvas: &mut Canvas, view: &View<'_>, treat: Option<&Treat>) -> Option<String> {
    let name = Some(treat?.of.as_deref()?);
    let turned = &view.laid.turned;
    let length =
        turned.outside.iter().zip(&view.laid.places).find(|(segment, _)| segment.name.as_deref() == name);
    if let Some((_, place)) = length {
        let end = |x: f64, r: f64| Point::new(view.x(x), -view.r(r) - AWAY);
        view.along(canvas, Pen::Treated, end(place.from, place.left), end(place.to, place.right));
        return Some(SAID.to_owned());
    }
    let bore = turned.bores.iter().find(|bore| bore.name.as_deref() == name)?;
    in_bore(canvas, view, bore).then(|| SAID.to_owned())
}

fn in_bore(canvas: &mut Canvas, view: &View<'_>, bore: &Bore) -> bool {
    let length = view.laid.length;
    let deep = if let Deep::To(size) = &bore.deep { size.m() } else { length };
    let (near, far) = (super::turned_outline::first_visible(view, bore), deep.min(length));
    let (from, to) = if bore.side == Side::Left { (near, far) } else { (length - far, length - near) };
    let (mouth, end) = match &bore.form {
        BoreForm::Plain { d } => (d, d),
        BoreForm::Taper { d, to } => (d, to),
        BoreForm::Thread { .. } => return false,
    };
    let (left, right) = if bore.side == Side::Left { (mouth, end) } else { (end, mouth) };
    let (left, right) = (view.r(left.m() / 2.0) - AWAY, view.r(right.m() / 2.0) - AWAY);
    if left.min(right) < AWAY {
        return false;
    }
    view.along(canvas, Pen::Treated, Point::new(view.x(from), left), Point::new(view.x(to), right));
    true
}

/// What a drawing says of the zone of a flat part: a note, and of a corner how far the zone reaches.
#[derive(Default)]
pub(crate) struct Zone {
    pub(crate) said: Option<String>,
    pub(crate) label: Option<Callout>,
}

/// Of a flat part: round a hole, or along the outline as far as it reaches from a corner.
pub(crate) fn of_flat(
    canvas: &mut Canvas,
    plan: Plan,
    (flat, path): (&Flat, &Path),
    treat: Option<&Treat>,
    figures: &mut Figures,
) -> Zone {
    let Some((treat, name)) = treat.and_then(|treat| Some((treat, treat.of.as_deref()?))) else {
        return Zone::default();
    };
    let said = Some(SAID.to_owned());
    if let Some(hole) = flat.holes.iter().find(|hole| hole.name.as_deref() == Some(name)) {
        for one in holes(flat).into_iter().filter(|one| one.key == hole.key) {
            let radius = one.radius * plan.scale - AWAY;
            if radius < AWAY {
                return Zone::default();
            }
            canvas.circle(0, Pen::Treated, plan.point(one.centre), radius);
        }
        return Zone { said, label: None };
    }
    let corner = flat.corners().iter().find(|corner| corner.name.as_deref() == Some(name));
    let Some((corner, (reach, text))) = corner.zip(treat.within.as_ref()) else { return Zone::default() };
    let turning = path.area().0.signum();
    let mut highest: Option<Point> = None;
    for edge in round_corner(path, corner, *reach) {
        let line = beside(&edge, plan, turning);
        match (edge.turn, &line[..]) {
            (None, [first, .., last]) => canvas.line(0, Pen::Treated, *first, *last),
            _ => canvas.chain(0, Pen::Treated, &line),
        }
        let middle = line.get(line.len() / 2).copied();
        highest = highest.into_iter().chain(middle).min_by(|a, b| a.y.total_cmp(&b.y));
    }
    let own = text.strip_suffix(figures.unit.symbol()).unwrap_or(text).trim_end();
    let label = Label::text(format!("treated {own} each way"));
    figures.state(Some(treat.key), &label);
    Zone { said: Some(OF_CORNER.to_owned()), label: highest.map(|at| Callout::at(at.x, at.y, label)) }
}

/// The outline round a corner, in its order, `reach` metres along it each way from where the corner's sides meet.
fn round_corner(path: &Path, corner: &Vertex, reach: f64) -> Vec<Edge> {
    let (edges, apex) = (&path.edges, corner.at.each_ref().map(crate::shape::Size::m));
    let away = |p: [f64; 2]| libm::hypot(p[0] - apex[0], p[1] - apex[1]);
    let worked = edges.iter().position(|edge| corner.corner.is_some() && edge.key == corner.key);
    let sharp = || edges.iter().position(|edge| away(edge.from) < 1e-9);
    let (Some(first), count) = (worked.or_else(sharp), edges.len()) else { return Vec::new() };
    let reach = reach.min(path.length() / 2.0);
    let own: Vec<Edge> = worked.map(|index| edges[index]).into_iter().collect();
    let [behind, ahead] = [edges[first].from, own.first().map_or(apex, |edge| edge.to)].map(away);
    let after = (first + own.len()..first + count).map(|index| edges[index % count]);
    let before = (0..count - own.len()).map(|back| edges[(first + count - 1 - back) % count]);
    let mut zone: Vec<Edge> = as_far(before, reach - behind, |edge, share| part(edge, 1.0 - share, 1.0));
    zone.reverse();
    zone.extend(own);
    zone.extend(as_far(after, reach - ahead, |edge, share| part(edge, 0.0, share)));
    zone
}

/// Edges one after the other as far as a length goes, the last one cut to what is left.
fn as_far(edges: impl Iterator<Item = Edge>, mut left: f64, cut: impl Fn(&Edge, f64) -> Edge) -> Vec<Edge> {
    let mut taken = Vec::new();
    for edge in edges {
        let long = edge.length();
        if left < 1e-9 || long < 1e-12 {
            continue;
        }
        taken.push(cut(&edge, (left / long).min(1.0)));
        left -= long;
    }
    taken
}

/// What lies between two shares of an edge.
fn part(edge: &Edge, from: f64, to: f64) -> Edge {
    let along = |share: f64| match edge.turn {
        Some(turn) => turn.at(share),
        None => [0, 1].map(|axis| edge.from[axis] + (edge.to[axis] - edge.from[axis]) * share),
    };
    let turn = edge.turn.map(|turn| Turn {
        start: turn.start + turn.sweep * from,
        sweep: turn.sweep * (to - from),
        ..turn
    });
    Edge { from: along(from), to: along(to), turn, key: edge.key }
}

/// Points along an edge, a little way off it on the outside, close enough to cut the line where the zone ends.
fn beside(edge: &Edge, plan: Plan, turning: f64) -> Vec<Point> {
    let (from, to) = (plan.point(edge.from), plan.point(edge.to));
    if let Some(turn) = edge.turn {
        let outwards = AWAY * turning * turn.sweep.signum();
        let radius = (turn.radius * plan.scale + outwards).max(0.0);
        return arc_points(plan.point(turn.centre), radius, -turn.start, -turn.sweep);
    }
    let long = libm::hypot(to.x - from.x, to.y - from.y).max(1e-9);
    let (ux, uy) = ((to.x - from.x) / long, (to.y - from.y) / long);
    let (nx, ny) = (-uy * AWAY * turning, ux * AWAY * turning);
    let count = (long / STEP).ceil().clamp(1.0, 2000.0);
    let mut points = Vec::new();
    let mut step = 0.0;
    while step <= count {
        let along = long * step / count;
        points.push(from.moved(ux * along + nx, uy * along + ny));
        step += 1.0;
    }
    points
}

/// Between points of a straight edge, mm.
const STEP: f64 = 0.5;
