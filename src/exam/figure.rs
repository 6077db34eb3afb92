//! Turns what jobs came to into figures with 95 % intervals.
//!
//! Shares: Wilson's score interval (Wilson, J. Am. Stat. Assoc. 22 (1927) 209; method 3 of Newcombe, Statistics in Medicine
//! 17 (1998) 857). Means: normal. Ratios, medians and the calibration error: bootstrap over whole jobs with a fixed seed
//! (Efron and Tibshirani, *An Introduction to the Bootstrap*, 1993, percentiles), as the parts of one job hang together.

use crate::simulation::Chance;
use serde::{Deserialize, Serialize};

/// Standard deviations on either side of 95 % of a normal distribution.
const Z: f64 = 1.959_963_984_540_054;
/// Times the jobs are drawn anew.
const DRAWS: usize = 1000;

/// A figure with its 95 % interval; nothing where no job tells.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Figure {
    /// The figure.
    pub value: Option<f64>,
    /// Lower end of the interval.
    pub low: Option<f64>,
    /// Upper end of the interval.
    pub high: Option<f64>,
    /// Jobs it stands on.
    pub n: usize,
}

impl Figure {
    fn of(value: f64, low: f64, high: f64, n: usize) -> Self {
        Self { value: Some(value), low: Some(low), high: Some(high), n }
    }

    /// The share of so many jobs, with Wilson's interval.
    pub fn share(count: usize, n: usize) -> Self {
        if n == 0 {
            return Self::default();
        }
        let (all, share) = (n as f64, count as f64 / n as f64);
        let whole = 1.0 + Z * Z / all;
        let middle = (share + Z * Z / (2.0 * all)) / whole;
        let half = Z / whole * (share * (1.0 - share) / all + Z * Z / (4.0 * all * all)).sqrt();
        Self::of(share, (middle - half).max(0.0), (middle + half).min(1.0), n)
    }

    /// The share of jobs for which something holds.
    pub fn share_of<T>(jobs: &[T], holds: impl Fn(&T) -> bool) -> Self {
        Self::share(jobs.iter().filter(|job| holds(job)).count(), jobs.len())
    }

    /// The mean with its normal interval; one job has none to speak of, its ends are the mean itself.
    pub fn mean(values: &[f64]) -> Self {
        let Some(mean) = mean(values) else { return Self::default() };
        let n = values.len() as f64;
        let squares: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
        let half = if 1.0 < n { Z * (squares / (n - 1.0) / n).sqrt() } else { 0.0 };
        Self::of(mean, mean - half, mean + half, values.len())
    }

    /// The middle value.
    pub fn median(values: &[f64]) -> Self {
        Self::drawn(values, |drawn| {
            let mut sorted: Vec<f64> = drawn.iter().map(|value| **value).collect();
            sorted.sort_by(f64::total_cmp);
            let (low, high) = (sorted.get((sorted.len().max(1) - 1) / 2)?, sorted.get(sorted.len() / 2)?);
            Some(f64::midpoint(*low, *high))
        })
    }

    /// The mean of the first over the mean of the second, job by job.
    pub fn ratio(pairs: &[(f64, f64)]) -> Self {
        Self::drawn(pairs, |drawn| {
            let (above, below) = drawn.iter().fold((0.0, 0.0), |sum, pair| (sum.0 + pair.0, sum.1 + pair.1));
            (0.0 < below).then(|| above / below)
        })
    }

    /// Whatever can be worked out from jobs, with the interval that drawing them anew gives.
    pub fn drawn<T>(jobs: &[T], figure: impl Fn(&Sample<T>) -> Option<f64>) -> Self {
        let Some(value) = figure(&jobs.iter().collect()) else { return Self::default() };
        let mut chance = Chance::of(0, &["drawn anew"]);
        let again = (0..DRAWS).filter_map(|_| figure(&jobs.iter().map(|_| &jobs[chance.below(jobs.len())]).collect()));
        let mut found: Vec<f64> = again.collect();
        found.sort_by(f64::total_cmp);
        let last = found.len().max(1) - 1;
        let at = |thousandths: usize| found.get(last * thousandths / 1000).copied().unwrap_or(value);
        Self::of(value, at(25), at(975), jobs.len())
    }
}

/// Jobs drawn, some of them more than once.
pub type Sample<'a, T> = Vec<&'a T>;

fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}
