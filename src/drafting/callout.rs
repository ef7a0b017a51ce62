//! Labels on leaders above a view. No leader crosses another or a text: leaders of one side are parallel, and a label
//! that would cover the leader of a neighbour further out stands on a higher level.

use super::canvas::Canvas;
use super::drawing::{Pen, Point};
use super::label::{Label, Lettering};

/// A label that points at something.
#[derive(Clone, Debug)]
pub(crate) struct Callout {
    /// Where the leader ends.
    pub(crate) x: f64,
    pub(crate) y: f64,
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
const LEAN: f64 = 0.268;
/// Shelf between leader and text; between texts; between levels.
const SHELF: f64 = 2.6;
const GAP: f64 = 1.6;
const BETWEEN: f64 = 1.2;
/// Leaders begin this far apart at least.
const APART: f64 = 2.6;

impl Callout {
    pub(crate) const fn at(x: f64, y: f64, label: Label) -> Self {
        Self { x, y, range: (x, x), dot: false, label }
    }

    /// Where its leader would meet y = 0.
    fn foot(&self, lean: f64) -> f64 {
        self.x + lean * self.y
    }
}

/// Places and draws labels above `base`.
pub(crate) fn callouts(
    canvas: &mut Canvas,
    mut all: Vec<Callout>,
    base: f64,
    lettering: Lettering,
    spread_out: Spread,
) {
    if all.is_empty() {
        return;
    }
    all.sort_by(|a, b| a.x.total_cmp(&b.x));
    spread(&mut all);
    let (split, levels) = best_split(&all, lettering, spread_out);
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

/// Levels of one side, whose feet are sorted outwards: a label is above all whose leaders it covers.
fn levels_of(feet: &[(f64, f64)]) -> Vec<usize> {
    let mut levels = vec![0; feet.len()];
    for index in (0..feet.len()).rev() {
        let reach = feet[index].0 + SHELF + feet[index].1 + GAP;
        let covered = (index + 1..feet.len()).filter(|j| feet[*j].0 < reach);
        levels[index] = covered.map(|j| levels[j] + 1).max().unwrap_or(0);
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

/// The side on which each label stands: for the fewest levels, or for the least width.
fn best_split(all: &[Callout], lettering: Lettering, spread_out: Spread) -> (usize, Vec<usize>) {
    let candidates = (0..=all.len()).map(|split| (split, levels(all, split, lettering)));
    let score = |split: usize, levels: &[usize]| {
        let highest = f64::from(u32::try_from(levels.iter().max().copied().unwrap_or(0)).unwrap_or(u32::MAX));
        let sum = f64::from(u32::try_from(levels.iter().sum::<usize>()).unwrap_or(u32::MAX));
        let level = match spread_out {
            Spread::Low => 1e3,
            Spread::Even => 25.0,
            Spread::Narrow => 1.0,
        };
        highest * level + sum + width(all, split, lettering)
    };
    let best = candidates.min_by(|a, b| score(a.0, &a.1).total_cmp(&score(b.0, &b.1)));
    best.unwrap_or_else(|| (0, vec![0; all.len()]))
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

fn draw(canvas: &mut Canvas, callout: &Callout, right: bool, level: f64, lettering: Lettering) {
    let owner = canvas.own();
    let sign = if right { 1.0 } else { -1.0 };
    let tip = Point::new(callout.x, callout.y);
    let knee = Point::new(callout.x + sign * LEAN * (callout.y - level), level);
    canvas.chain(owner, Pen::Thin, &[tip, knee, knee.moved(sign * (SHELF - 1.0), 0.0)]);
    if callout.dot {
        canvas.dot(owner, tip, 0.6);
    } else {
        canvas.arrow(owner, tip, knee);
    }
    let width = callout.label.width(lettering);
    let start = if right { knee.x + SHELF } else { knee.x - SHELF - width };
    callout.label.draw(canvas, owner, Point::new(start, level), false, lettering);
}
