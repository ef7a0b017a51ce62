//! When the work will really be done: hands are limited, times are uncertain.
//!
//! Method: likely times are scheduled with one pair of hands at each place; the order in which each pair of hands takes
//! up its work is then kept. `days` plays that order through with all low, all likely and all high times; `spread` draws
//! every time at random from its triangle; `moments` are the three-point moments of the longest path without any limit
//! of hands, for comparison: they are optimistic.

use super::estimate::Estimate;
use super::network::Network;
use super::precedence::Precedence;
use super::schedule::critical_path::critical_path;
use super::schedule::hands::order_of_hands;
use super::schedule::limited::{Project, Task, schedule};
use super::schedule::moments::{Moments, moments};
use super::schedule::simulation::{Spread, simulate};

/// When one activity happens by the forecast, in days from day 0, with likely times.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Slot {
    /// The hands start.
    pub start: f64,
    /// The hands are free again.
    pub hands_off: f64,
    /// What passes by itself has passed too.
    pub finish: f64,
    /// How far the start may slip without moving the end, hands still taking up the work in the same order.
    pub slack: f64,
}

/// The forecast with limited hands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Forecast {
    /// By activity of the network.
    pub slots: Vec<Slot>,
    /// Days to the end with all times low, likely, high.
    pub days: Estimate,
    /// Days to the end with every time drawn at random.
    pub spread: Spread,
    /// Three-point moments of the longest path without limits of hands.
    pub moments: Moments,
    /// The end with likely times cannot be earlier than this, whatever the order of hands.
    pub at_least: f64,
}

/// Plans the network with one pair of hands at each place. The same network gives the same forecast.
pub fn forecast(network: &Network) -> Forecast {
    let project = project(network);
    let found = schedule(&project);
    let timing = Timing::new(network, &order_of_hands(&project, &found));
    let count = network.activities().len();
    let whole: Vec<Estimate> = (0..count).map(|node| network.days(node)).collect();
    let likely = critical_path(&timing.precedence, &timing.pick(|estimate| estimate.likely));
    let slot = |node: usize| Slot {
        start: likely.times[node].early_start,
        hands_off: likely.times[node].early_finish,
        finish: likely.times[count + node].early_finish,
        slack: (likely.times[node].late_start - likely.times[node].early_start).max(0.0),
    };
    Forecast {
        slots: (0..count).map(slot).collect(),
        days: Estimate {
            low: timing.end(|estimate| estimate.low),
            likely: likely.length,
            high: timing.end(|estimate| estimate.high),
        },
        spread: simulate(&timing.precedence, &timing.days, runs(count), SEED),
        moments: moments(network.precedence(), &whole),
        at_least: in_days(found.at_least).min(likely.length),
    }
}

const SEED: u64 = 1912;

/// A thousand runs for a project of ordinary size, fewer where the network is very large.
fn runs(activities: usize) -> usize {
    (1_000_000 / activities.max(1)).clamp(100, 1_000)
}

fn project(network: &Network) -> Project {
    let task = |node: usize| {
        let hands = network.activities()[node].hands;
        let hands_on = network.hands_on_days(node);
        Task {
            before: 0,
            // What may take hands gets a place in their order, even if it most likely takes none.
            work: in_ticks(hands_on.likely).max(i64::from(hands_on.high > 0.0)),
            after: in_ticks(network.activities()[node].passes.likely),
            demand: hands.map(|hands| (hands, 1)).into_iter().collect(),
        }
    };
    Project {
        tasks: (0..network.activities().len()).map(task).collect(),
        precedence: network.precedence().clone(),
        capacity: vec![1; network.places().len()],
    }
}

const SECONDS_PER_DAY: f64 = 86_400.0;

/// Whole seconds; a time past thirty thousand years counts as that.
#[expect(clippy::cast_possible_truncation, reason = "clamped to a range that fits")]
fn in_ticks(days: f64) -> i64 {
    const LONGEST: f64 = 1e12;
    (days * SECONDS_PER_DAY).round().clamp(0.0, LONGEST) as i64
}

#[expect(clippy::cast_precision_loss, reason = "a second in ten million years may be lost")]
fn in_days(ticks: i64) -> f64 {
    ticks as f64 / SECONDS_PER_DAY
}

/// The network with the order of hands built in. Node `i` is the hands-on part of activity `i`, node `count + i` what
/// passes after it.
struct Timing {
    precedence: Precedence,
    days: Vec<Estimate>,
}

impl Timing {
    fn new(network: &Network, hands: &[(usize, usize)]) -> Self {
        let count = network.activities().len();
        let parts = (0..count).map(|node| (node, count + node));
        let edges = (0..count)
            .flat_map(|node| network.precedence().after(node).iter().map(move |&next| (count + node, next)));
        let all: Vec<_> = parts.chain(edges).chain(hands.iter().copied()).collect();
        let hands_on = (0..count).map(|node| network.hands_on_days(node));
        let passes = network.activities().iter().map(|activity| activity.passes);
        Self {
            precedence: Precedence::untangle(2 * count, &all).precedence,
            days: hands_on.chain(passes).collect(),
        }
    }

    fn pick(&self, end: impl Fn(&Estimate) -> f64) -> Vec<f64> {
        self.days.iter().map(end).collect()
    }

    fn end(&self, end: impl Fn(&Estimate) -> f64) -> f64 {
        critical_path(&self.precedence, &self.pick(end)).length
    }
}
