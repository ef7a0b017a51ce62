//! Labels on leaders above a view. No leader crosses another or a text: leaders of one side are parallel, and a label
//! that would cover the leader of a neighbour further out stands on a higher level.

use super::canvas::Canvas;
use super::drawing::{Pen, Point, Rect};
use super::label::{Label, Lettering};
use super::law::line_meets;

/// A label that points at something.
#[derive(Clone, Debug)]
pub(crate) struct Callout {
    /// Where the leader ends.
    pub(crate) x: f64,
    pub(crate) y: f64,
    /// Radius of the circle about (x, y) at which it ends, pointing at the middle; 0 for a point.
    pub(crate) round: f64,
    /// How far its end may be moved along x.
    pub(crate) range: (f64, f64),
    /// Ends in a dot on a surface, not in an arrow on an edge.
    pub(crate) dot: bool,
    pub(crate) label: Label,
}

/// What labels are spread out for: few levels, a small width, or some of both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Spread {
    Low,
    Even,
    Narrow,
}

/// How far a leader leans, x per y: 15° from upright.
pub(crate) const LEAN: f64 = 0.268;
/// Shelf between leader and text; between texts; between levels.
const SHELF: f64 = 2.6;
const GAP: f64 = 1.6;
const BETWEEN: f64 = 1.2;
/// Leaders begin this far apart at least.
const APART: f64 = 2.6;

impl Callout {
    pub(crate) const fn at(x: f64, y: f64, label: Label) -> Self {
        Self { x, y, round: 0.0, range: (x, x), dot: false, label }
    }

    /// Where its leader would meet y = 0.
    fn foot(&self, lean: f64) -> f64 {
        self.x + lean * self.y
    }
}

/// Where labels may stand: above `base`, and clear of what is taken beside the view.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Space {
    pub(crate) base: f64,
    pub(crate) taken: Rect,
}

/// Between labels and what is taken.
const CLEAR: f64 = 3.0;

/// Places and draws labels: right above the view if there they keep clear of what is taken beside it, else above that.
pub(crate) fn callouts(
    canvas: &mut Canvas,
    mut all: Vec<Callout>,
    space: Space,
    lettering: Lettering,
    spread_out: Spread,
) {
    if all.is_empty() {
        return;
    }
    all.sort_by(|a, b| a.x.total_cmp(&b.x));
    spread(&mut all);
    let taken = space.taken.grown(CLEAR / 2.0);
    let is_clear = |split: usize, levels: &[usize]| {
        let heights = heights(&all, levels, space.base, lettering);
        all.iter().zip(levels).enumerate().all(|(index, (callout, level))| {
            let seat = Seat::of(callout, index >= split, heights[*level], lettering);
            !seat.label.overlaps(&taken) && !line_meets(Point::new(callout.x, callout.y), seat.knee, &taken)
        })
    };
    let low = best_split(&all, lettering, spread_out, is_clear).map(|found| (found, space.base));
    let high = || {
        let found = best_split(&all, lettering, spread_out, |_, _| true)?;
        Some((found, space.base.min(space.taken.top - CLEAR)))
    };
    let Some(((split, levels), base)) = low.or_else(high) else { return };
    let heights = heights(&all, &levels, base, lettering);
    for (index, callout) in all.iter().enumerate() {
        draw(canvas, callout, index >= split, heights[levels[index]], lettering);
    }
}

/// Moves leaders apart that end too close, as far as they may be moved.
fn spread(all: &mut [Callout]) {
    for index in 1..all.len() {
        let least = all[index - 1].x + APART;
        if all[index].x < least {
            all[index].x = least.min(all[index].range.1).max(all[index].x);
        }
    }
    for index in (1..all.len()).rev() {
        let most = all[index].x - APART;
        if all[index - 1].x > most {
            all[index - 1].x = most.max(all[index - 1].range.0).min(all[index - 1].x);
        }
    }
}

/// Levels of one side, whose feet are sorted outwards: a label is above all whose leaders it covers, which are the next ones.
fn levels_of(feet: &[(f64, f64)]) -> Vec<usize> {
    let mut levels = vec![0; feet.len()];
    // Further out: each that is on a higher level than all before it, the outermost first.
    let mut higher: Vec<(usize, usize)> = Vec::new();
    for index in (0..feet.len()).rev() {
        let reach = feet[index].0 + SHELF + feet[index].1 + GAP;
        let end = feet.partition_point(|(foot, _)| *foot < reach);
        let highest = higher.get(higher.partition_point(|(place, _)| *place >= end));
        let level = highest.map_or(0, |(_, level)| level + 1);
        while higher.last().is_some_and(|(_, lower)| *lower <= level) {
            higher.pop();
        }
        higher.push((index, level));
        levels[index] = level;
    }
    levels
}

/// Levels if labels before `split` stand to the left of their leaders and the others to the right.
fn levels(all: &[Callout], split: usize, lettering: Lettering) -> Vec<usize> {
    let mut result = vec![0; all.len()];
    for right in [false, true] {
        let range = if right { split..all.len() } else { 0..split };
        let sign = if right { 1.0 } else { -1.0 };
        let mut feet: Vec<(usize, f64, f64)> =
            range.map(|i| (i, sign * all[i].foot(sign * LEAN), all[i].label.width(lettering))).collect();
        feet.sort_by(|a, b| a.1.total_cmp(&b.1));
        let plain: Vec<(f64, f64)> = feet.iter().map(|(_, foot, width)| (*foot, *width)).collect();
        for ((index, ..), level) in feet.iter().zip(levels_of(&plain)) {
            result[*index] = level;
        }
    }
    result
}

/// So many ways of parting the labels are tried at most.
const MOST_SPLITS: usize = 48;

/// The side on which each label stands, of those that are allowed: for the fewest levels, or for the least width.
fn best_split(
    all: &[Callout],
    lettering: Lettering,
    spread_out: Spread,
    allowed: impl Fn(usize, &[usize]) -> bool,
) -> Option<(usize, Vec<usize>)> {
    let step = all.len() / MOST_SPLITS + 1;
    let candidates = (0..=all.len()).step_by(step).map(|split| (split, levels(all, split, lettering)));
    let score = |(split, levels): &(usize, Vec<usize>)| {
        let highest = f64::from(u32::try_from(levels.iter().max().copied().unwrap_or(0)).unwrap_or(u32::MAX));
        let sum = f64::from(u32::try_from(levels.iter().sum::<usize>()).unwrap_or(u32::MAX));
        let level = match spread_out {
            Spread::Low => 1e3,
            Spread::Even => 25.0,
            Spread::Narrow => 1.0,
        };
        highest * level + sum + width(all, *split, lettering)
    };
    let mut scored: Vec<_> = candidates.map(|found| (score(&found), found)).collect();
    scored.sort_by(|a, b| a.0.total_cmp(&b.0));
    scored.into_iter().map(|(_, found)| found).find(|(split, levels)| allowed(*split, levels))
}

/// From the outermost text on the left to that on the right, as near as makes no difference.
fn width(all: &[Callout], split: usize, lettering: Lettering) -> f64 {
    let long = |callout: &Callout| SHELF + callout.label.width(lettering);
    let left = all[..split]
        .iter()
        .map(|c| c.x - long(c))
        .chain(all.iter().map(|c| c.x))
        .fold(f64::INFINITY, f64::min);
    let right = all[split..].iter().map(|c| c.x + long(c)).chain(all.iter().map(|c| c.x));
    right.fold(f64::NEG_INFINITY, f64::max) - left
}

/// The middle line of each level.
fn heights(all: &[Callout], levels: &[usize], base: f64, lettering: Lettering) -> Vec<f64> {
    let count = levels.iter().max().map_or(0, |highest| highest + 1);
    let mut middles = Vec::with_capacity(count);
    let mut bottom = base;
    for level in 0..count {
        let on = all.iter().zip(levels).filter(|(_, l)| **l == level);
        let height = on.map(|(c, _)| c.label.height(lettering)).fold(0.0, f64::max);
        middles.push(bottom - height / 2.0);
        bottom -= height + BETWEEN;
    }
    middles
}

/// Where a label stands.
struct Seat {
    knee: Point,
    label: Rect,
}

impl Seat {
    fn of(callout: &Callout, right: bool, level: f64, lettering: Lettering) -> Self {
        let sign = if right { 1.0 } else { -1.0 };
        let knee = Point::new(callout.x + sign * LEAN * (callout.y - level), level);
        let (width, half) = (callout.label.width(lettering), callout.label.height(lettering) / 2.0);
        let left = if right { knee.x + SHELF } else { knee.x - SHELF - width };
        Self { knee, label: Rect { left, top: level - half, right: left + width, bottom: level + half } }
    }
}

fn draw(canvas: &mut Canvas, callout: &Callout, right: bool, level: f64, lettering: Lettering) {
    let owner = canvas.own();
    let sign = if right { 1.0 } else { -1.0 };
    let Seat { knee, label } = Seat::of(callout, right, level, lettering);
    let (dx, dy) = (knee.x - callout.x, knee.y - callout.y);
    let share = callout.round / libm::hypot(dx, dy).max(callout.round + 1e-9);
    let tip = Point::new(callout.x, callout.y).moved(dx * share, dy * share);
    canvas.chain(owner, Pen::Thin, &[tip, knee, knee.moved(sign * (SHELF - 1.0), 0.0)]);
    if callout.dot {
        canvas.dot(owner, tip, 0.6);
    } else {
        canvas.arrow(owner, tip, knee);
    }
    callout.label.draw(canvas, owner, Point::new(label.left, level), false, lettering);
}
