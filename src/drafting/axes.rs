//! How a turned part's lengths and radii become paper: to scale, but no step smaller than the eye can tell, and long
//! plain lengths interrupted.

use crate::shape::{Across, Cut, Laid, Profile};

/// The least distance between two edges along the axis and across it, mm. Crest and root of a thread stand at least
/// twice the wide line apart (ISO 6410-1:1993).
const LEAST_ALONG: f64 = 1.0;
const LEAST_ACROSS: f64 = 1.0;
/// Beyond an enlarged step the scale is caught up with; what lies between is drawn this long at least, mm.
const CATCHING_UP: f64 = 0.35;
/// The gap where a length is interrupted, mm.
const GAP: f64 = 3.0;
/// Steps shown this much larger than the scale are worth a note.
const NOTED: f64 = 1.5;

/// A rising piecewise linear function from metres to millimetres.
#[derive(Clone, Debug)]
pub(crate) struct Map {
    cycles: Vec<(f64, f64)>,
}

/// Both maps of a view.
#[derive(Clone, Debug)]
pub(crate) struct Axes {
    pub(crate) along: Map,
    pub(crate) across: Map,
    /// Interruptions on paper.
    pub(crate) breaks: Vec<(f64, f64)>,
    /// mm per metre.
    pub(crate) scale: f64,
    /// Some steps are shown larger than the scale.
    pub(crate) enlarged: bool,
}

impl Map {
    pub(crate) fn at(&self, real: f64) -> f64 {
        let after = self.cycles.partition_point(|(x, _)| *x < real).clamp(1, self.cycles.len() - 1);
        let ((x0, p0), (x1, p1)) = (self.cycles[after - 1], self.cycles[after]);
        p0 + (real - x0) / (x1 - x0) * (p1 - p0)
    }

    pub(crate) fn end(&self) -> f64 {
        self.cycles.last().map_or(0.0, |cycle| cycle.1)
    }
}

/// How lengths are drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Manner {
    /// mm per metre.
    pub(crate) scale: f64,
    /// Plain lengths above this many mm on paper are interrupted.
    pub(crate) interrupt: Option<f64>,
}

pub(crate) fn axes(laid: &Laid, manner: Manner) -> Axes {
    let mut enlarged = false;
    let (along, breaks) = along(laid, manner, &mut enlarged);
    let across = across(laid, manner.scale, &mut enlarged);
    Axes { along, across, breaks, scale: manner.scale, enlarged }
}

/// Values that are drawn, and pairs of them that must stay apart.
#[derive(Default)]
struct Steps {
    values: Vec<f64>,
    pairs: Vec<(f64, f64)>,
}

impl Steps {
    fn add(&mut self, a: f64, b: f64) {
        self.values.extend([a, b]);
        if (a - b).abs() > 1e-9 {
            self.pairs.push((a.min(b), a.max(b)));
        }
    }

    fn sorted(&self) -> Vec<f64> {
        let mut values = self.values.clone();
        values.sort_by(f64::total_cmp);
        values.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        values
    }

    /// The step that ends at a value and begins last, if it is drawn too small.
    fn beginnings(&self, end: f64) -> impl Iterator<Item = f64> + '_ {
        self.pairs.iter().filter(move |pair| (pair.1 - end).abs() < 1e-9).map(|pair| pair.0)
    }

    /// The least place on paper of a value, given the cycles before it.
    fn stretched(
        &self,
        cycles: &[(f64, f64)],
        value: f64,
        plain: f64,
        least: f64,
        enlarged: &mut bool,
    ) -> f64 {
        let mut paper = plain;
        for from in self.beginnings(value) {
            let Some(cycle) = cycles.iter().rev().find(|cycle| (cycle.0 - from).abs() < 1e-9) else {
                continue;
            };
            if paper - cycle.1 < least {
                *enlarged |= least > (paper - cycle.1) * NOTED;
                paper = cycle.1 + least;
            }
        }
        paper
    }
}

fn along(laid: &Laid, manner: Manner, enlarged: &mut bool) -> (Map, Vec<(f64, f64)>) {
    let mut steps = Steps::default();
    steps.add(0.0, laid.length);
    laid.outside.spans.iter().chain(&laid.inside.spans).for_each(|span| steps.add(span.x0, span.x1));
    for cut in &laid.turned.across {
        marks(cut).windows(2).for_each(|pair| steps.add(pair[0], pair[1]));
        steps.add(0.0, cut.at.m());
    }
    let (mut cycles, mut breaks): (Vec<(f64, f64)>, _) = (vec![(0.0, 0.0)], Vec::new());
    let mut left_out = 0.0;
    for pair in steps.sorted().windows(2) {
        let gap = (pair[1] - pair[0]) * manner.scale;
        let before = cycles.last().map_or(0.0, |cycle| cycle.1);
        let paper = match manner.interrupt.filter(|most| gap > most + GAP && plain(laid, pair[0], pair[1])) {
            Some(most) => {
                breaks.push((before + most / 2.0, before + most / 2.0 + GAP));
                left_out = pair[1] * manner.scale - (before + most + GAP);
                before + most + GAP
            }
            None => {
                let plain = (pair[1] * manner.scale - left_out).max(before + gap.min(CATCHING_UP));
                steps.stretched(&cycles, pair[1], plain, LEAST_ALONG, enlarged)
            }
        };
        cycles.push((pair[1], paper));
    }
    (Map { cycles }, breaks)
}

/// Where a cut has edges or a centre along the axis.
fn marks(cut: &Cut) -> Vec<f64> {
    let at = cut.at.m();
    match &cut.what {
        Across::Hole { d, .. } => vec![at - d.m() / 2.0, at, at + d.m() / 2.0],
        Across::Keyway { long, .. } | Across::Flats { long, .. } | Across::OilGroove { long, .. } => {
            vec![at, at + long.m()]
        }
        Across::Groove { wide, .. } | Across::BoreGroove { wide, .. } => vec![at, at + wide.m()],
    }
}

/// Whether nothing changes between two stations.
fn plain(laid: &Laid, from: f64, to: f64) -> bool {
    let level = |profile: &Profile| {
        let middle = f64::midpoint(from, to);
        let over = profile.spans.iter().find(|span| span.x0 < middle && middle < span.x1);
        over.is_none_or(|span| span.round.is_none() && (span.r0 - span.r1).abs() < 1e-9)
    };
    let uncut = laid.turned.across.iter().all(|cut| {
        let edges = marks(cut);
        let (first, last) = (edges.first().copied(), edges.last().copied());
        last.is_none_or(|x| x <= from + 1e-9) || first.is_none_or(|x| x >= to - 1e-9)
    });
    level(&laid.outside) && level(&laid.inside) && uncut
}

fn across(laid: &Laid, scale: f64, enlarged: &mut bool) -> Map {
    let mut steps = Steps::default();
    for profile in [&laid.outside, &laid.inside] {
        profile.spans.iter().for_each(|span| steps.add(span.r0, span.r1));
        profile.spans.windows(2).for_each(|pair| steps.add(pair[0].r1, pair[1].r0));
    }
    for x in laid.inside.stations() {
        steps.add(laid.inside.at(x), laid.outside.at(x));
    }
    for cut in &laid.turned.across {
        if let (Across::OilGroove { deep, .. }, Some(floor)) = (&cut.what, laid.groove_floor(cut)) {
            steps.add(floor - deep.m(), floor);
            steps.add(floor, laid.outside.at(cut.at.m()));
        }
    }
    laid.turned.threads().for_each(|thread| steps.add(thread.minor() / 2.0, thread.major / 2.0));
    steps.add(0.0, laid.outside.greatest());
    let mut cycles: Vec<(f64, f64)> = vec![(0.0, 0.0)];
    for pair in steps.sorted().windows(2).filter(|pair| pair[0] >= 0.0) {
        let before = cycles.last().map_or(0.0, |cycle| cycle.1);
        let plain = (pair[1] * scale).max(before + ((pair[1] - pair[0]) * scale).min(CATCHING_UP));
        cycles.push((pair[1], steps.stretched(&cycles, pair[1], plain, LEAST_ACROSS, enlarged)));
    }
    Map { cycles }
}
