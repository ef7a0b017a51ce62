//! Where a treatment is limited to one feature: a long-dashed dotted wide line beside its surface, outside the metal (ISO
//! 15787:2016; of what is round, on one side only).

use super::canvas::{Canvas, arc_points};
use super::drawing::{Pen, Point};
use super::flat::Plan;
use super::turned_outline::View;
use crate::shape::{Bore, BoreForm, Deep, Edge, Flat, Path, Side, Treat, holes};

/// From the surface to the line, mm.
const AWAY: f64 = 1.3;
/// What the notes say of it.
const SAID: &str = "Long-dashed dotted line beside a surface: where it is heat treated";

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

/// Of a flat part: round a hole, or along the outline as far as it reaches from a corner.
pub(crate) fn of_flat(
    canvas: &mut Canvas,
    plan: Plan,
    (flat, path): (&Flat, &Path),
    treat: Option<&Treat>,
) -> Option<String> {
    let treat = treat?;
    let name = treat.of.as_deref()?;
    let said = Some(SAID.to_owned());
    if let Some(hole) = flat.holes.iter().find(|hole| hole.name.as_deref() == Some(name)) {
        for one in holes(flat).into_iter().filter(|one| one.key == hole.key) {
            let radius = one.radius * plan.scale - AWAY;
            if radius < AWAY {
                return None;
            }
            canvas.circle(0, Pen::Treated, plan.point(one.centre), radius);
        }
        return said;
    }
    let corner = flat.corners().iter().find(|corner| corner.name.as_deref() == Some(name))?;
    let apex = plan.point([corner.at[0].m(), corner.at[1].m()]);
    let reach = treat.within.as_ref()?.0 * plan.scale;
    let is_near = |point: &Point| libm::hypot(point.x - apex.x, point.y - apex.y) <= reach + 1e-9;
    let (area, _) = path.area();
    for edge in &path.edges {
        let line = beside(edge, plan, area.signum());
        for piece in line.split(|point| !is_near(point)) {
            match (edge.turn, piece) {
                (None, [first, .., last]) => canvas.line(0, Pen::Treated, *first, *last),
                _ => canvas.chain(0, Pen::Treated, piece),
            }
        }
    }
    said
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
