//! Centre lines of a flat part: one for each row of holes, slots and corners that one size places, and none over another.

use super::canvas::Canvas;
use super::drawing::Pen;
use super::flat::Plan;
use crate::shape::{Flat, Outline, Size, Spot, closed, holes};

/// How far centre lines run past what they mark, mm.
const PAST: f64 = 2.5;
/// Places this near are one, mm.
const SAME: f64 = 1e-4;

/// A centre line in mm on paper, y up: upright (axis 0) at x = `at`, or level (axis 1) at y = `at`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Arm {
    pub(crate) axis: usize,
    pub(crate) at: f64,
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// Joins others on its line over a distance.
    row: bool,
}

/// Every centre line that is level or upright, each once. `through` are the datum lines that run through the part.
pub(crate) fn arms(flat: &Flat, plan: Plan, through: [bool; 2]) -> Vec<Arm> {
    let mut all = of_holes(flat, plan);
    all.extend(of_slots(flat, plan));
    let (least, greatest) = closed(flat).extent();
    let (least, greatest) = (least.map(|v| v * plan.scale), greatest.map(|v| v * plan.scale));
    for axis in [0, 1].into_iter().filter(|axis| through[*axis]) {
        all.push(Arm { axis, at: 0.0, from: least[1 - axis], to: greatest[1 - axis], row: true });
    }
    match &flat.outline {
        Outline::Disc { d } => all.extend(cross([0.0; 2], d.m() / 2.0 * plan.scale + PAST, false)),
        Outline::Polygon(vertices) => {
            all.extend(vertices.iter().flat_map(|vertex| cross(on_paper(&vertex.at, plan), 0.0, true)));
        }
        Outline::Rectangle { .. } => {}
    }
    merged(all)
}

pub(crate) fn draw(canvas: &mut Canvas, plan: Plan, arms: &[Arm]) {
    for arm in arms {
        let at = |along: f64| if arm.axis == 0 { [arm.at, along] } else { [along, arm.at] };
        let point = |along: f64| plan.point(at(along).map(|v| v / plan.scale));
        canvas.line(0, Pen::Centre, point(arm.from), point(arm.to));
    }
}

/// The centre line on which a coordinate lies, in metres along its axis.
pub(crate) fn on_line(arms: &[Arm], plan: Plan, axis: usize, coordinate: f64) -> Option<&Arm> {
    arms.iter().find(|arm| arm.axis == axis && (arm.at - coordinate * plan.scale).abs() < SAME)
}

fn on_paper(at: &[Size; 2], plan: Plan) -> [f64; 2] {
    [0, 1].map(|axis| at[axis].m() * plan.scale)
}

fn cross(centre: [f64; 2], reach: f64, row: bool) -> [Arm; 2] {
    [0, 1].map(|axis| {
        let (at, middle) = (centre[axis], centre[1 - axis]);
        Arm { axis, at, from: middle - reach, to: middle + reach, row }
    })
}

/// Holes on a circle keep crosses of their own: their circle joins them.
fn of_holes(flat: &Flat, plan: Plan) -> Vec<Arm> {
    let mut all = Vec::new();
    for one in holes(flat) {
        let hole = flat.holes.iter().find(|hole| hole.key == one.key);
        let row = hole.is_some_and(|hole| matches!(hole.spot, Spot::At(_)));
        let major = hole.and_then(|hole| hole.thread.as_ref()).map_or(0.0, |thread| thread.major / 2.0);
        let reach = one.radius.max(major) * plan.scale + PAST;
        all.extend(cross(one.centre.map(|v| v * plan.scale), reach, row));
    }
    all
}

/// Of slots that are level or upright; one that slants draws its own.
fn of_slots(flat: &Flat, plan: Plan) -> Vec<Arm> {
    let straight = flat.slots.iter().map(|slot| {
        let ends = [&slot.from, &slot.to].map(|end| on_paper(end, plan));
        (ends, slot.wide.m() / 2.0 * plan.scale + PAST)
    });
    let is_straight = |ends: &[[f64; 2]; 2]| (0..2).any(|axis| (ends[0][axis] - ends[1][axis]).abs() < SAME);
    straight
        .filter(|(ends, _)| is_straight(ends))
        .flat_map(|(ends, reach)| ends.into_iter().flat_map(move |end| cross(end, reach, true)))
        .collect()
}

/// One line where several lie over each other or in a row; corners alone have none.
fn merged(mut all: Vec<Arm>) -> Vec<Arm> {
    all.sort_by(|a, b| a.axis.cmp(&b.axis).then(a.at.total_cmp(&b.at)).then(a.from.total_cmp(&b.from)));
    let mut kept: Vec<Arm> = Vec::new();
    let together = |a: &Arm, b: &Arm| a.axis == b.axis && (a.at - b.at).abs() < SAME;
    for group in all.chunk_by(together) {
        let mut lines: Vec<Arm> = Vec::new();
        for arm in group {
            let meets =
                |line: &&mut Arm| (line.row && arm.row) || (arm.from <= line.to && line.from <= arm.to);
            match lines.iter_mut().find(meets) {
                Some(line) => {
                    line.to = line.to.max(arm.to);
                    line.row |= arm.row;
                }
                None => lines.push(*arm),
            }
        }
        let is_hole = group.iter().any(|arm| arm.to - arm.from > SAME);
        kept.extend(lines.into_iter().filter(|line| is_hole && line.to - line.from > SAME));
    }
    kept
}
