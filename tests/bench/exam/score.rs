//! Turns minutes of rules and of the optimum into ratios with their spread.

use super::instances::{Dice, Family};
use super::optimum::Optimum;
use super::policies::{Minutes, Rule};
use serde_json::{Value, json};

/// Resamples of the bootstrap.
const RESAMPLES: usize = 4000;

/// One instance: the optimum and every rule.
pub struct Solved {
    pub number: usize,
    pub optimum: Minutes,
    pub rules: Vec<Minutes>,
    pub states: usize,
}

/// Solves an instance and follows every rule through it.
pub fn solve(family: &Family, number: usize) -> Solved {
    let sketch = family.instance(number);
    let rules: Vec<Minutes> = Rule::ALL.iter().map(|rule| rule.minutes(&sketch)).collect();
    let limit = rules.iter().map(Minutes::mean).fold(f64::INFINITY, f64::min);
    let mut search = Optimum::new(&sketch, true);
    search.minutes(limit * (1.0 + 1e-9) + 1e-9);
    Solved { number, optimum: search.by_faults(), rules, states: search.states() }
}

/// Ratios of one rule over the instances of a family.
pub struct Ratios {
    pub mean: f64,
    pub interval: (f64, f64),
    pub p95: f64,
    pub worst: f64,
    pub share_within_3_percent: f64,
    /// Minutes beyond the repairs of the true faults, over those of the optimum.
    pub avoidable: f64,
    /// Mean and highest ratio on the cases with 1, 2, 3 and more true faults.
    pub by_faults: [(f64, f64); 3],
}

impl Ratios {
    pub fn of(solved: &[Solved], rule: usize) -> Self {
        let pairs = || solved.iter().map(|one| (&one.rules[rule], &one.optimum));
        let mut ratios: Vec<f64> = pairs().map(|(rule, best)| rule.mean() / best.mean()).collect();
        let avoidable = pairs().map(|(rule, best)| (rule.mean() - rule.sunk()) / (best.mean() - best.sunk()));
        let by_faults = [0, 1, 2].map(|class| {
            let cases = pairs().filter(|(_, best)| 0.0 < best.weighted[class]);
            let ratios: Vec<f64> = cases.map(|(rule, best)| rule.weighted[class] / best.weighted[class]).collect();
            (mean(&ratios), ratios.iter().copied().fold(f64::NAN, f64::max))
        });
        let avoidable = mean(&avoidable.collect::<Vec<_>>());
        let interval = bootstrap(&ratios);
        ratios.sort_by(f64::total_cmp);
        let within = ratios.iter().filter(|ratio| **ratio <= 1.03).count();
        Self {
            mean: mean(&ratios),
            interval,
            p95: at_share(&ratios, 0.95),
            worst: ratios.last().copied().unwrap_or(f64::NAN),
            share_within_3_percent: within as f64 / ratios.len() as f64,
            avoidable,
            by_faults,
        }
    }

    pub fn json(&self, rule: Rule) -> Value {
        json!({
            "policy": rule.name(),
            "mean": self.mean,
            "interval": [self.interval.0, self.interval.1],
            "p95": self.p95,
            "max": self.worst,
            "share_within_3_percent": self.share_within_3_percent,
            "avoidable": self.avoidable,
            "by_faults": self.by_faults.map(|(mean, max)| mean.is_finite().then(|| json!({"mean": mean, "max": max}))),
        })
    }
}

fn mean(values: &[f64]) -> f64 {
    if values.is_empty() { f64::NAN } else { values.iter().sum::<f64>() / values.len() as f64 }
}

/// 95 % interval of the mean: percentiles of resampled means (Efron 1979).
fn bootstrap(ratios: &[f64]) -> (f64, f64) {
    let mut dice = Dice(0xb007);
    let mut means: Vec<f64> = (0..RESAMPLES)
        .map(|_| mean(&ratios.iter().map(|_| ratios[dice.below(ratios.len())]).collect::<Vec<_>>()))
        .collect();
    means.sort_by(f64::total_cmp);
    (at_share(&means, 0.025), at_share(&means, 0.975))
}

fn at_share(sorted: &[f64], share: f64) -> f64 {
    let rank = (share * sorted.len() as f64).ceil() as usize;
    sorted[rank.clamp(1, sorted.len()) - 1]
}
