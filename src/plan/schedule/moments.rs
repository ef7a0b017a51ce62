//! The three-point (PERT) moments of the longest path.

use super::critical_path::critical_path;
use crate::estimate::Estimate;
use crate::plan::precedence::Precedence;

/// Mean and spread of the end by the three-point method.
///
/// Valid while activities are independent and one path dominates; where several are nearly as long it is optimistic.
/// Source: Malcolm, Roseboom, Clark and Fazar, Operations Research 7 (1959); Heizer and Render, Operations Management.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// Expected days to the end.
    pub mean: f64,
    /// Sum of the variances along the critical path, days²; of several critical paths the largest.
    pub variance: f64,
}

impl Moments {
    /// Standard deviation of the end, days.
    pub fn sigma(self) -> f64 {
        self.variance.sqrt()
    }

    /// The chance, 0 to 1, of being finished by `day`, taking the end as normally distributed.
    pub fn chance_by(self, day: f64) -> f64 {
        let late = day - self.mean;
        if self.variance == 0.0 {
            return if late >= 0.0 { 1.0 } else { 0.0 };
        }
        0.5 * libm::erfc(-late / (self.sigma() * std::f64::consts::SQRT_2))
    }
}

/// The moments of a network whose activities take `days`.
pub fn moments(precedence: &Precedence, days: &[Estimate]) -> Moments {
    let means: Vec<f64> = days.iter().map(|each| each.mean()).collect();
    let found = critical_path(precedence, &means);
    let mut variance = vec![0.0_f64; days.len()];
    for &node in precedence.order().iter().filter(|&&node| found.times[node].critical) {
        let start = found.times[node].early_start;
        let before = precedence
            .before(node)
            .iter()
            .filter(|&&earlier| found.times[earlier].critical)
            .filter(|&&earlier| (found.times[earlier].early_finish - start).abs() <= 1e-9 * found.length)
            .map(|&earlier| variance[earlier])
            .fold(0.0, f64::max);
        variance[node] = before + days[node].variance();
    }
    Moments { mean: found.length, variance: variance.into_iter().fold(0.0, f64::max) }
}
