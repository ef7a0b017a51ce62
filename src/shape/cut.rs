//! What keyways, cross holes and flats take away: numerical integration over the cross-sections along the axis.
//!
//! In a cross-section, v points at the side that is cut, u across it. Everything is symmetrical in u.

use std::f64::consts::FRAC_PI_2;

use super::laid::Laid;
use super::model::{Across, Cut};

/// Volume taken away with its moments along the axis and towards the cuts, and the error of the volume.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Taken {
    pub(crate) volume: f64,
    pub(crate) along: f64,
    pub(crate) towards: f64,
    pub(crate) error: f64,
}

/// Nodes and weights of Gauss and Legendre, the positive half.
type Rule = &'static [(f64, f64)];

const FINE: Rule = &[
    (0.125_233_408_511_468_9, 0.249_147_045_813_402_7),
    (0.367_831_498_998_180_2, 0.233_492_536_538_354_8),
    (0.587_317_954_286_617_5, 0.203_167_426_723_065_9),
    (0.769_902_674_194_304_7, 0.160_078_328_543_346_2),
    (0.904_117_256_370_474_9, 0.106_939_325_995_318_4),
    (0.981_560_634_246_719_2, 0.047_175_336_386_511_8),
];

const COARSE: Rule = &[
    (0.183_434_642_495_649_8, 0.362_683_783_378_361_9),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];

pub(crate) fn taken(laid: &Laid) -> Taken {
    let fine = integrate(laid, FINE);
    let coarse = integrate(laid, COARSE);
    Taken { error: (fine.volume - coarse.volume).abs() + fine.volume * 1e-12, ..fine }
}

fn integrate(laid: &Laid, rule: Rule) -> Taken {
    let mut sum = Taken::default();
    for pair in stations(laid).windows(2) {
        panel(pair[0], pair[1], rule, |x, weight| {
            let section = Section::at(laid, x);
            let (area, towards) = section.removed(rule);
            sum.volume += weight * area;
            sum.along += weight * area * x;
            sum.towards += weight * towards;
        });
    }
    sum
}

/// Gauss's rule over x = middle + half·sin θ, which smooths square roots at both ends.
fn panel(from: f64, to: f64, rule: Rule, mut visit: impl FnMut(f64, f64)) {
    let (middle, half) = (f64::midpoint(from, to), (to - from) / 2.0);
    for (node, weight) in rule.iter().flat_map(|(n, w)| [(*n, *w), (-*n, *w)]) {
        let angle = node * FRAC_PI_2;
        visit(middle + half * libm::sin(angle), half * libm::cos(angle) * weight * FRAC_PI_2);
    }
}

/// Places along the axis between which every cross-section changes smoothly.
fn stations(laid: &Laid) -> Vec<f64> {
    let cuts = || laid.turned.across.iter();
    let mut places: Vec<f64> = cuts().flat_map(|cut| cut_stations(cut, laid)).collect();
    let least = places.iter().copied().fold(f64::INFINITY, f64::min);
    let greatest = places.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    places.extend(laid.outside.stations());
    places.extend(laid.inside.stations());
    places.retain(|x| (least..=greatest).contains(x));
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
    places
}

fn cut_stations(cut: &Cut, laid: &Laid) -> Vec<f64> {
    let at = cut.at.m();
    match &cut.what {
        Across::Hole { d, .. } => {
            let radius = d.m() / 2.0;
            let inner = laid.inside.at(at);
            let kink = (radius * radius - inner * inner).max(0.0).sqrt();
            vec![at - radius, at - kink, at, at + kink, at + radius]
        }
        Across::Keyway { wide, long, .. } => {
            let round = (wide.m() / 2.0).min(long.m() / 2.0);
            vec![at, at + round, at + long.m() - round, at + long.m()]
        }
        Across::Flats { long, .. } | Across::OilGroove { long, .. } => vec![at, at + long.m()],
        Across::Groove { .. } | Across::BoreGroove { .. } => Vec::new(),
    }
}

/// One cross-section with what is cut there.
struct Section {
    outer: f64,
    inner: f64,
    /// Half width and floor of everything cut from one side; the floor of a through hole is −∞.
    slots: Vec<(f64, f64)>,
    /// Half the size across flats, and their number.
    flats: Vec<(f64, u32)>,
    /// Half width and floor of everything cut in the hollow.
    inner_slots: Vec<(f64, f64)>,
}

impl Section {
    fn at(laid: &Laid, x: f64) -> Self {
        let mut section = Self {
            outer: laid.outside.at(x),
            inner: laid.inside.at(x),
            slots: Vec::new(),
            flats: Vec::new(),
            inner_slots: Vec::new(),
        };
        for cut in &laid.turned.across {
            section.add(cut, laid, x);
        }
        section
    }

    fn add(&mut self, cut: &Cut, laid: &Laid, x: f64) {
        let along = x - cut.at.m();
        match &cut.what {
            Across::Hole { d, through } => {
                let square = d.m() * d.m() / 4.0 - along * along;
                let floor = if *through { f64::NEG_INFINITY } else { 0.0 };
                self.slots.extend((square > 0.0).then(|| (square.sqrt(), floor)));
            }
            Across::Keyway { wide, long, deep } => {
                let floor = laid.outside.at(cut.at.m() + long.m() / 2.0) - deep.m();
                let half = slot_half((wide.m(), long.m()), laid.open_ends(cut), along);
                self.slots.extend(half.map(|half| (half, floor)));
            }
            Across::Flats { size, count, long } => {
                let there = along > 0.0 && along < long.m();
                self.flats.extend(there.then(|| (size.m() / 2.0, *count)));
            }
            Across::OilGroove { wide, long, .. } => {
                let there = along > 0.0 && along < long.m();
                let floor = laid.groove_floor(cut).filter(|_| there);
                self.inner_slots.extend(floor.map(|floor| (wide.m() / 2.0, floor)));
            }
            Across::Groove { .. } | Across::BoreGroove { .. } => {}
        }
    }

    /// Area taken away and its moment towards the cuts.
    fn removed(&self, rule: Rule) -> (f64, f64) {
        let (mut area, mut moment) = (0.0, 0.0);
        if self.slots.is_empty() && self.flats.is_empty() && self.inner_slots.is_empty() {
            return (0.0, 0.0);
        }
        for pair in self.kinks().windows(2) {
            panel(pair[0], pair[1], rule, |u, weight| {
                let (full, kept) = (self.column(u, false), self.column(u, true));
                area += 2.0 * weight * (full.0 - kept.0);
                moment += 2.0 * weight * (full.1 - kept.1);
            });
        }
        (area, moment)
    }

    /// Length and moment of the material above and below one u.
    fn column(&self, u: f64, cut: bool) -> (f64, f64) {
        let outer = chord(self.outer, u);
        let inner = chord(self.inner, u);
        let (mut low, mut high) = (-outer, outer);
        if cut {
            for limit in self.flats.iter().map(|(half, count)| flat_limit(*half, *count, u)) {
                (low, high) = (low.max(-limit), high.min(limit));
            }
            for (_, floor) in self.slots.iter().filter(|(half, _)| u < *half) {
                high = high.min(*floor).max(low);
            }
        }
        let hollowed = self.inner_slots.iter().filter(|(half, _)| cut && u < *half);
        let bottom = hollowed.map(|(_, floor)| *floor).fold(inner, f64::max);
        let above = piece(low.max(bottom), high);
        let below = piece(low, high.min(-inner));
        if inner > 0.0 { (above.0 + below.0, above.1 + below.1) } else { piece(low, high) }
    }

    fn kinks(&self) -> Vec<f64> {
        let mut places = vec![0.0, self.inner, self.outer];
        for (half, floor) in self.slots.iter().chain(&self.inner_slots) {
            places.extend([*half, chord(self.outer, *floor), chord(self.inner, *floor)]);
        }
        for (half, count) in &self.flats {
            places.extend([chord(self.outer, *half), chord(self.inner, *half), *half]);
            if *count == 6 {
                places.extend(hexagon_kinks(*half, self.outer));
            }
        }
        places.retain(|u| u.is_finite() && (0.0..=self.outer).contains(u));
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < 1e-13);
        places
    }
}

/// Half the width of a keyway at a place along it; its closed ends are round.
fn slot_half((wide, long): (f64, f64), open: [bool; 2], along: f64) -> Option<f64> {
    let round = (wide / 2.0).min(long / 2.0);
    if along <= 0.0 || along >= long {
        return None;
    }
    let into = |open: bool, end: f64| if open { 0.0 } else { round - end };
    let inset = into(open[0], along).max(into(open[1], long - along)).max(0.0);
    Some((round * round - inset * inset).max(0.0).sqrt())
}

fn chord(radius: f64, u: f64) -> f64 {
    (radius * radius - u * u).max(0.0).sqrt()
}

fn piece(low: f64, high: f64) -> (f64, f64) {
    if high <= low { (0.0, 0.0) } else { (high - low, (high * high - low * low) / 2.0) }
}

/// How far the material reaches towards v between flats, one pair of which is square to v.
fn flat_limit(half: f64, count: u32, u: f64) -> f64 {
    match count {
        2 => half,
        4 => {
            if u <= half {
                half
            } else {
                0.0
            }
        }
        _ => half.min(2.0 * half - u * 3.0_f64.sqrt()).max(0.0),
    }
}

/// Where the sloping flat of a hexagon begins and ends and where it meets the circle.
fn hexagon_kinks(half: f64, outer: f64) -> [f64; 4] {
    let root = 3.0_f64.sqrt();
    let tangent = chord(outer, half);
    let (foot, run) = (half * root / 2.0, tangent / 2.0);
    [half / root, 2.0 * half / root, foot - run, foot + run]
}
