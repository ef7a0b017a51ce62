//! Early and late times without any limit of hands, and the longest path.
//!
//! Forward `early start = max early finish of those before`, backward `late finish = min late start of those after`;
//! day 0 is the start, finishes are exclusive. Source: Kelley and Walker, Eastern Joint Computer Conference 1959;
//! Heizer and Render, Operations Management, chapter on project management.

use crate::plan::precedence::Precedence;

/// When one activity can and must happen, in days from day 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Times {
    /// The earliest it can start.
    pub early_start: f64,
    /// The earliest it can be finished.
    pub early_finish: f64,
    /// The latest it may start without moving the end.
    pub late_start: f64,
    /// The latest it may be finished without moving the end.
    pub late_finish: f64,
    /// How long it may slip without moving the end.
    pub float: f64,
    /// How long it may slip without moving anything after it.
    pub free_float: f64,
    /// Whether it has no float.
    pub critical: bool,
}

/// The times of all activities.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CriticalPath {
    /// By activity.
    pub times: Vec<Times>,
    /// Days from the start to the end of everything.
    pub length: f64,
    /// One chain of critical activities from start to end; where two are equal, the one of lower indices.
    pub path: Vec<usize>,
}

/// Works out all times in linear time; `days` holds a duration that is not negative for each node.
pub fn critical_path(precedence: &Precedence, days: &[f64]) -> CriticalPath {
    critical_path_until(precedence, days, &[])
}

/// Like [`critical_path`], with a day by which each node is to be finished, as far as `due` goes: no float leads past it.
/// What can't be finished by then has no float.
pub fn critical_path_until(precedence: &Precedence, days: &[f64], due: &[f64]) -> CriticalPath {
    let early_start = early_starts(precedence, days);
    let finish = |node: usize| early_start[node] + days[node];
    let length = (0..days.len()).map(finish).fold(0.0, f64::max);
    let slack = length.max(1.0) * ROUNDING;
    let latest = |node: usize| due.get(node).map_or(length, |due| due.max(finish(node)).min(length));
    let late_finish = late_finishes(precedence, days, (0..days.len()).map(latest).collect());
    let times = (0..days.len())
        .map(|node| {
            let next =
                precedence.after(node).iter().map(|&after| early_start[after]).fold(latest(node), f64::min);
            let float = clean(late_finish[node] - finish(node), slack);
            Times {
                early_start: early_start[node],
                early_finish: finish(node),
                late_start: clean(late_finish[node] - days[node], slack),
                late_finish: late_finish[node],
                float,
                free_float: clean(next - finish(node), slack),
                critical: float == 0.0,
            }
        })
        .collect();
    let mut found = CriticalPath { times, length, path: Vec::new() };
    found.path = chain(precedence, &found, slack);
    found
}

/// Differences below this part of the whole length are rounding, not float.
const ROUNDING: f64 = 1e-9;

fn clean(value: f64, slack: f64) -> f64 {
    if value.abs() <= slack { 0.0 } else { value }
}

/// The earliest start of each node.
pub(super) fn early_starts(precedence: &Precedence, days: &[f64]) -> Vec<f64> {
    let mut starts = vec![0.0_f64; days.len()];
    for &node in precedence.order() {
        let finish = starts[node] + days[node];
        for &next in precedence.after(node) {
            starts[next] = starts[next].max(finish);
        }
    }
    starts
}

fn late_finishes(precedence: &Precedence, days: &[f64], latest: Vec<f64>) -> Vec<f64> {
    let mut finishes = latest;
    for &node in precedence.order().iter().rev() {
        let start = finishes[node] - days[node];
        for &earlier in precedence.before(node) {
            finishes[earlier] = finishes[earlier].min(start);
        }
    }
    finishes
}

/// Walks back from the end over activities that leave no gap.
fn chain(precedence: &Precedence, found: &CriticalPath, slack: f64) -> Vec<usize> {
    let times = &found.times;
    let critical = |node: &usize| times[*node].critical;
    let ends = |node: &usize, at: f64| critical(node) && (times[*node].early_finish - at).abs() <= slack;
    let mut path = Vec::new();
    let mut next = (0..times.len())
        .find(|node| ends(node, found.length) && !precedence.after(*node).iter().any(critical));
    while let Some(node) = next {
        path.push(node);
        let start = times[node].early_start;
        next = precedence.before(node).iter().copied().filter(|earlier| ends(earlier, start)).min();
    }
    path.reverse();
    path
}
