//! When the work will really be done: hands are limited, times are uncertain, some steps have their season.
//!
//! Method: likely times are scheduled with one pair of hands at each place; the order in which each pair of hands takes
//! up its work is then kept. Every day that is printed of an activity, and its float, comes from that order with likely
//! times. `days` plays it through with all low, all likely and all high times; `spread` draws every time at random from
//! its triangle; `moments` are the three-point moments of the longest path without any limit of hands, for comparison:
//! they are optimistic. A first day counts as something that passes before the activity, without uncertainty.

use super::network::Network;
use super::precedence::Precedence;
use super::schedule::critical_path::{CriticalPath, critical_path, critical_path_until};
use super::schedule::hands::order_of_hands;
use super::schedule::limited::{Instance, Schedule, Task, schedule, schedule_around};
use super::schedule::moments::{Moments, moments};
use super::schedule::simulation::{Spread, simulate};
use crate::estimate::Estimate;

/// When one activity happens by the forecast, in days from day 0, with likely times.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Slot {
    /// The hands start.
    pub start: f64,
    /// The hands are free again.
    pub hands_off: f64,
    /// What passes by itself has passed too.
    pub finish: f64,
    /// How far the start may slip without moving the end, or an activity past the day that it is due, hands still taking
    /// up the work in the same order.
    pub float: f64,
    /// How far it may slip without moving anything.
    pub free_float: f64,
    /// How far the start may slip without moving the end, whatever day anything is due.
    pub to_end: f64,
}

impl Slot {
    /// Whether it can't slip at all.
    pub fn is_critical(&self) -> bool {
        self.float == 0.0
    }

    /// Whether the end moves by the day that it slips; what is only due by a day does not move it.
    pub fn moves_the_end(&self) -> bool {
        self.to_end < 1.0
    }
}

/// The forecast with limited hands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Forecast {
    /// By activity of the network.
    pub slots: Vec<Slot>,
    /// One chain of activities that decides the end, from its start; through what the hands do one after the other too.
    pub path: Vec<usize>,
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
    forecast_around(network, &vec![false; network.activities().len()])
}

/// Like [`forecast`]; what is `in_uncertainty` (by activity, with all that comes after it) is fitted in around the rest and never
/// moves it: days that are sure do not hang on days that are not.
pub fn forecast_around(network: &Network, in_uncertainty: &[bool]) -> Forecast {
    let calendar = Calendar::of(network);
    let project = project(network, &calendar);
    let found = in_turn(network, &project, in_uncertainty);
    let timing = Timing::new(network, &calendar, &order_of_hands(&project, &found));
    let count = network.activities().len();
    let days = timing.pick(|days| days.likely);
    let likely = critical_path_until(&timing.precedence, &days, &timing.due);
    let to_end = critical_path(&timing.precedence, &days);
    let slot = |node: usize| Slot { to_end: to_end.times[node].float, ..timing.slot(&likely, node) };
    Forecast {
        slots: (0..count).map(slot).collect(),
        path: timing.path(&likely),
        days: Estimate {
            low: timing.end(|estimate| estimate.low),
            likely: likely.length,
            high: timing.end(|estimate| estimate.high),
        },
        spread: simulate(&timing.precedence, &timing.days, runs(count), SEED),
        moments: moments(&calendar.precedence, &calendar.days(network)),
        at_least: in_days(found.at_least).min(likely.length),
    }
}

fn in_turn(network: &Network, whole: &Instance, in_uncertainty: &[bool]) -> Schedule {
    if !in_uncertainty.contains(&true) {
        return schedule(whole);
    }
    let (sure, nodes) = network.only(|node| !in_uncertainty[node]);
    let first = schedule(&project(&sure, &Calendar::of(&sure)));
    // A first day holds nobody's hands: it keeps its place at the start.
    let mut kept = vec![Some(0); whole.tasks.len()];
    kept[..in_uncertainty.len()].fill(None);
    for (&node, &start) in nodes.iter().zip(&first.starts) {
        kept[node] = Some(start);
    }
    schedule_around(whole, &kept)
}

/// Early and late days with likely times and without any limit of hands; first and last days are kept.
pub fn unlimited(network: &Network) -> CriticalPath {
    let (calendar, count) = (Calendar::of(network), network.activities().len());
    let likely: Vec<f64> = calendar.days(network).iter().map(|days| days.likely).collect();
    let due = network.activities().iter().map(|activity| activity.due.unwrap_or(f64::INFINITY));
    let due: Vec<f64> = due.chain(calendar.waits.iter().map(|_| f64::INFINITY)).collect();
    let mut found = critical_path_until(&calendar.precedence, &likely, &due);
    found.times.truncate(count);
    found.path.retain(|&node| node < count);
    found
}

const SEED: u64 = 1912;

/// A thousand runs for a project of ordinary size, fewer where the network is very large.
fn runs(activities: usize) -> usize {
    (1_000_000 / activities.max(1)).clamp(100, 1_000)
}

/// The network with a node for each first day that is still ahead, after the activities.
struct Calendar {
    precedence: Precedence,
    /// The activity that has to wait, and how many days.
    waits: Vec<(usize, f64)>,
}

impl Calendar {
    fn of(network: &Network) -> Self {
        let count = network.activities().len();
        let waits: Vec<(usize, f64)> = (0..count)
            .map(|node| (node, network.activities()[node].release))
            .filter(|(_, days)| *days > 0.0)
            .collect();
        let own = (0..count)
            .flat_map(|node| network.precedence().after(node).iter().map(move |&next| (node, next)));
        let first_days = waits.iter().enumerate().map(|(index, (node, _))| (count + index, *node));
        let edges: Vec<_> = own.chain(first_days).collect();
        Self { precedence: Precedence::untangle(count + waits.len(), &edges).precedence, waits }
    }

    /// By node: what it takes.
    fn days(&self, network: &Network) -> Vec<Estimate> {
        let activities = (0..network.activities().len()).map(|node| network.days(node));
        activities.chain(self.first_days()).collect()
    }

    fn first_days(&self) -> impl Iterator<Item = Estimate> {
        self.waits.iter().map(|(_, days)| Estimate::exact(*days))
    }
}

fn project(network: &Network, calendar: &Calendar) -> Instance {
    let task = |node: usize| {
        let activity = &network.activities()[node];
        let hands_on = network.hands_on_days(node);
        let length = in_ticks(hands_on.likely) + in_ticks(activity.passes.likely);
        let due = activity.due.map(|due| in_ticks(due.max(0.0)));
        Task {
            before: 0,
            // What may take hands gets a place in their order, even if it most likely takes none.
            work: in_ticks(hands_on.likely).max(i64::from(hands_on.high > 0.0)),
            after: in_ticks(activity.passes.likely),
            demand: activity.hands.map(|hands| (hands, 1)).into_iter().collect(),
            due: if activity.begun { Some(due.map_or(length, |due| due.min(length))) } else { due },
        }
    };
    let first_day = |days: Estimate| Task { after: in_ticks(days.likely), ..Task::default() };
    let activities = (0..network.activities().len()).map(task);
    Instance {
        tasks: activities.chain(calendar.first_days().map(first_day)).collect(),
        precedence: calendar.precedence.clone(),
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
/// passes after it; then come the first days.
struct Timing {
    count: usize,
    precedence: Precedence,
    days: Vec<Estimate>,
    /// By node: when it is to be finished.
    due: Vec<f64>,
}

impl Timing {
    fn new(network: &Network, calendar: &Calendar, hands: &[(usize, usize)]) -> Self {
        let count = network.activities().len();
        let parts = (0..count).map(|node| (node, count + node));
        let edges = (0..count)
            .flat_map(|node| network.precedence().after(node).iter().map(move |&next| (count + node, next)));
        let first_days =
            calendar.waits.iter().enumerate().map(|(index, (node, _))| (2 * count + index, *node));
        let all: Vec<_> = parts.chain(edges).chain(hands.iter().copied()).chain(first_days).collect();
        let hands_on = (0..count).map(|node| network.hands_on_days(node));
        let passes = network.activities().iter().map(|activity| activity.passes);
        let due = network.activities().iter().map(|activity| activity.due.unwrap_or(f64::INFINITY));
        let never = |nodes: usize| std::iter::repeat_n(f64::INFINITY, nodes);
        Self {
            count,
            precedence: Precedence::untangle(2 * count + calendar.waits.len(), &all).precedence,
            days: hands_on.chain(passes).chain(calendar.first_days()).collect(),
            due: never(count).chain(due).chain(never(calendar.waits.len())).collect(),
        }
    }

    fn slot(&self, found: &CriticalPath, node: usize) -> Slot {
        let (hands_on, whole) = (&found.times[node], &found.times[self.count + node]);
        let next_hands = self.precedence.after(node).iter().filter(|&&next| next != self.count + node);
        let gap = next_hands.map(|&next| found.times[next].early_start - hands_on.early_finish);
        Slot {
            start: hands_on.early_start,
            hands_off: hands_on.early_finish,
            finish: whole.early_finish,
            float: hands_on.float,
            free_float: gap.fold(whole.free_float, f64::min).min(hands_on.float).max(0.0),
            ..Slot::default()
        }
    }

    /// The critical path in activities, each once.
    fn path(&self, found: &CriticalPath) -> Vec<usize> {
        let parts = found.path.iter().filter(|&&node| node < 2 * self.count);
        let mut path: Vec<usize> = parts.map(|node| node % self.count).collect();
        path.dedup();
        path
    }

    fn pick(&self, end: impl Fn(&Estimate) -> f64) -> Vec<f64> {
        self.days.iter().map(end).collect()
    }

    fn end(&self, end: impl Fn(&Estimate) -> f64) -> f64 {
        critical_path(&self.precedence, &self.pick(end)).length
    }
}
