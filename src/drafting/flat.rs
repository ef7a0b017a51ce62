//! A flat part seen square on, with all its sizes, about its origin.

use super::callout::{Callout, Space, Spread, callouts};
use super::canvas::Canvas;
use super::centres::{self, arms};
use super::dimension::{Lane, dimensions};
use super::drawing::{Pen, Point, Rect};
use super::figure::Figures;
use super::flat_sizes::{labels, lanes, through};
use super::label::Lettering;
use super::turned::Views;
use super::zone;
use crate::shape::{Edge, Flat, Outline, Path, Slot, Spot, Treat, closed, holes, slot_path};

/// Between the outline and the labels above it, mm.
const ABOVE: f64 = 8.0;
/// How far centre lines run past what they mark.
const PAST: f64 = 2.5;
/// How far the sides of a worked corner run past where they meet.
const APEX_PAST: f64 = 1.2;

/// Paper from metres: x to the right, y up.
#[derive(Clone, Copy)]
pub(crate) struct Plan {
    pub(crate) scale: f64,
}

impl Plan {
    pub(crate) fn point(self, p: [f64; 2]) -> Point {
        Point::new(p[0] * self.scale, -p[1] * self.scale)
    }
}

/// Draws everything.
pub(crate) fn flat(
    flat: &Flat,
    scale: f64,
    spread: Spread,
    lettering: Lettering,
    figures: &mut Figures,
    treat: Option<&Treat>,
) -> Views {
    let plan = Plan { scale };
    let path = closed(flat);
    let mut canvas = Canvas::default();
    path.edges.iter().for_each(|edge| draw_edge(&mut canvas, plan, edge));
    let meets = apexes(&mut canvas, plan, flat, &path);
    let (least, greatest) = path.extent();
    let arms = arms(flat, plan, through(flat));
    openings(&mut canvas, plan, flat);
    centres::draw(&mut canvas, plan, &arms);
    let mut labels = labels(flat, plan, figures);
    labels.push(thickness(flat, plan, &path, figures));
    let zone = zone::of_flat(&mut canvas, plan, (flat, &path), treat, figures);
    labels.extend(zone.label);
    let space = Space { base: -greatest[1] * scale - ABOVE, taken: Rect::EMPTY };
    callouts(&mut canvas, labels, space, lettering, spread);
    let lanes = lanes(flat, plan, &arms, figures);
    dimensions(&mut canvas, Lane::Below, -least[1] * scale, &lanes.below, lettering);
    dimensions(&mut canvas, Lane::Left, -least[0] * scale, &lanes.left, lettering);
    dimensions(&mut canvas, Lane::Right, greatest[0] * scale, &lanes.right, lettering);
    let said = "Sizes to a worked corner are to where its sides meet";
    let meets = meets.then(|| said.to_owned()).into_iter();
    let notes = meets.chain(zone.said).chain(std::mem::take(&mut figures.remarks)).collect();
    Views { canvas, notes }
}

/// Both sides of a worked corner that a size goes to, prolonged to where they meet (ISO 129-1:2018); whether there is any.
/// Where a side lies along the extension line nothing has to be shown.
fn apexes(canvas: &mut Canvas, plan: Plan, flat: &Flat, path: &Path) -> bool {
    let Outline::Polygon(vertices) = &flat.outline else { return false };
    let count = vertices.len();
    let at = |index: usize| [0, 1].map(|axis| vertices[index % count].at[axis].m());
    let mut any = false;
    for (index, vertex) in vertices.iter().enumerate().filter(|(_, vertex)| vertex.corner.is_some()) {
        let (apex, beside) = (at(index), [at(index + count - 1), at(index + 1)]);
        let along = |axis: usize| beside.iter().any(|other| (other[axis] - apex[axis]).abs() < 1e-9);
        let Some(edge) =
            path.edges.iter().find(|edge| edge.key == vertex.key).filter(|_| !along(0) || !along(1))
        else {
            continue;
        };
        any = true;
        let tip = plan.point(apex);
        for from in [edge.from, edge.to].map(|end| plan.point(end)) {
            let long = libm::hypot(tip.x - from.x, tip.y - from.y).max(1e-9);
            let past = APEX_PAST / long;
            canvas.line(0, Pen::Thin, from, tip.moved((tip.x - from.x) * past, (tip.y - from.y) * past));
        }
    }
    any
}

fn draw_edge(canvas: &mut Canvas, plan: Plan, edge: &Edge) {
    match edge.turn {
        None => canvas.line(0, Pen::Outline, plan.point(edge.from), plan.point(edge.to)),
        Some(turn) => {
            let (centre, radius) = (plan.point(turn.centre), turn.radius * plan.scale);
            canvas.arc(0, Pen::Outline, centre, radius, (-turn.start, -turn.sweep));
        }
    }
}

fn openings(canvas: &mut Canvas, plan: Plan, flat: &Flat) {
    for hole in &flat.holes {
        for one in holes(flat).into_iter().filter(|one| one.key == hole.key) {
            let centre = plan.point(one.centre);
            canvas.circle(0, Pen::Outline, centre, one.radius * plan.scale);
            if let Some(thread) = &hole.thread {
                major(canvas, centre, thread.major / 2.0 * plan.scale);
            }
        }
        if let Spot::Circle { d, about, .. } = &hole.spot {
            let centre = about.as_ref().map_or([0.0, 0.0], |at| [at[0].m(), at[1].m()]);
            canvas.circle(0, Pen::Centre, plan.point(centre), d.m() / 2.0 * plan.scale);
        }
    }
    flat.slots.iter().for_each(|slot| draw_slot(canvas, plan, slot));
}

/// The major diameter of a tapped hole: three quarters of a narrow circle (ISO 6410-1:1993).
fn major(canvas: &mut Canvas, centre: Point, radius: f64) {
    let quarter = std::f64::consts::FRAC_PI_2;
    canvas.arc(0, Pen::Thin, centre, radius, (0.15, 3.0 * quarter));
}

fn draw_slot(canvas: &mut Canvas, plan: Plan, slot: &Slot) {
    let ends = [&slot.from, &slot.to].map(|at| [at[0].m(), at[1].m()]);
    let radius = slot.wide.m() / 2.0;
    slot_path(ends[0], ends[1], radius, slot.key).edges.iter().for_each(|edge| draw_edge(canvas, plan, edge));
    if (0..2).any(|axis| (ends[0][axis] - ends[1][axis]).abs() < 1e-9) {
        return;
    }
    let (a, b) = (plan.point(ends[0]), plan.point(ends[1]));
    let long = libm::hypot(b.x - a.x, b.y - a.y).max(1e-9);
    let (ux, uy) = ((b.x - a.x) / long, (b.y - a.y) / long);
    let reach = radius * plan.scale + PAST;
    canvas.line(0, Pen::Centre, a.moved(-ux * reach, -uy * reach), b.moved(ux * reach, uy * reach));
    for end in [a, b] {
        canvas.line(0, Pen::Centre, end.moved(-uy * reach, ux * reach), end.moved(uy * reach, -ux * reach));
    }
}

/// The thickness on a leader that ends in a dot on the face.
fn thickness(flat: &Flat, plan: Plan, path: &Path, figures: &mut Figures) -> Callout {
    let label = figures.label(&flat.thick, "t = ", "");
    let at = plan.point(metal(flat, path));
    Callout { dot: true, ..Callout::at(at.x, at.y, label) }
}

/// A place on the face with room round it, rather high and to the right.
fn metal(flat: &Flat, path: &Path) -> [f64; 2] {
    let (least, greatest) = path.extent();
    let holes = holes(flat);
    let side = (greatest[0] - least[0]).max(greatest[1] - least[1]);
    let at = |axis: usize, i: u32| least[axis] + (greatest[axis] - least[axis]) * (f64::from(i) + 0.5) / 16.0;
    let grid = (0..256_u32).map(|i| [at(0, i % 16), at(1, i / 16)]);
    let room = |p: &[f64; 2]| {
        let clear =
            holes.iter().map(|hole| libm::hypot(hole.centre[0] - p[0], hole.centre[1] - p[1]) - hole.radius);
        let slots = flat.slots.iter().map(|slot| {
            let ends = ([slot.from[0].m(), slot.from[1].m()], [slot.to[0].m(), slot.to[1].m()]);
            crate::shape::segment_distance((*p, *p), ends) - slot.wide.m() / 2.0
        });
        let least = clear.chain(slots).fold(path.depth(*p), f64::min);
        least.min(side * 0.04) + (p[1] - 0.3 * p[0]) * 1e-3
    };
    grid.max_by(|a, b| room(a).total_cmp(&room(b))).unwrap_or([0.0, 0.0])
}
