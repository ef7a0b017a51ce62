//! The end as a lottery: every time drawn at random, many times over.

use super::critical_path::early_starts;
use crate::estimate::Estimate;
use crate::estimate::random::Random;
use crate::plan::precedence::Precedence;

/// The spread of the end over many draws, in days from day 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spread {
    /// How many trial schedules were made.
    pub runs: usize,
    /// The average end.
    pub mean: f64,
    /// One in ten ends before this day.
    pub p10: f64,
    /// Half end before this day.
    pub p50: f64,
    /// Nine in ten end before this day.
    pub p90: f64,
}

/// Plays the network through `runs` times with times drawn from the triangular distribution of each estimate.
/// The same seed gives the same spread.
pub fn simulate(precedence: &Precedence, days: &[Estimate], runs: usize, seed: u64) -> Spread {
    let mut random = Random::new(seed);
    let mut drawn = vec![0.0; days.len()];
    let mut ends: Vec<f64> = (0..runs)
        .map(|_| {
            for (drawn, estimate) in drawn.iter_mut().zip(days) {
                *drawn = estimate.draw(&mut random);
            }
            end(precedence, &drawn)
        })
        .collect();
    ends.sort_by(f64::total_cmp);
    Spread { runs, mean: mean(&ends), p10: rank(&ends, 10), p50: rank(&ends, 50), p90: rank(&ends, 90) }
}

/// The day on which everything is finished when nothing limits the hands.
pub(super) fn end(precedence: &Precedence, days: &[f64]) -> f64 {
    early_starts(precedence, days).iter().zip(days).map(|(start, days)| start + days).fold(0.0, f64::max)
}

#[expect(clippy::cast_precision_loss, reason = "the number of runs is small")]
fn mean(ends: &[f64]) -> f64 {
    ends.iter().sum::<f64>() / ends.len().max(1) as f64
}

/// The nearest-rank percentile of sorted figures.
fn rank(sorted: &[f64], percent: usize) -> f64 {
    let place = (sorted.len() * percent).div_ceil(100).max(1) - 1;
    sorted.get(place).copied().unwrap_or_default()
}
