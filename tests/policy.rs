//! Turns a few small jobs of known optimum into bounds on what the step rules cost; the whole exam is
//! `cargo run --release --example policy_exam`.
#![allow(clippy::unwrap_used)]

#[path = "bench/exam/mod.rs"]
mod exam;

use exam::instances::{Dice, Family, MANY_FAULTS, ONE_FAULT, SOME_FAULTS, TINY};
use exam::optimum::Optimum;
use exam::policies::Rule;
use exam::score::{Ratios, Solved, solve};
use weephole::planning::{Costs, FaultSet, LookError, Sketch, SketchParts};

const INSTANCES: usize = 4;

fn exam(family: &Family) -> Vec<Solved> {
    let solved: Vec<Solved> = (0..INSTANCES).map(|number| solve(family, number)).collect();
    for one in &solved {
        for (rule, minutes) in Rule::ALL.iter().zip(&one.rules) {
            let (minutes, best) = (minutes.mean(), one.optimum.mean());
            assert!(best <= minutes * (1.0 + 1e-9), "{} {}: {rule:?} {minutes} beats {best}", family.name, one.number);
        }
    }
    solved
}

fn shipped(solved: &[Solved]) -> Ratios {
    Ratios::of(solved, Rule::ALL.iter().position(|rule| *rule == Rule::Shipped).unwrap())
}

#[test]
fn one_fault_within_one_percent() {
    let ratios = shipped(&exam(&ONE_FAULT));
    assert!(ratios.mean <= 1.012 && ratios.worst <= 1.06, "{} {}", ratios.mean, ratios.worst);
}

#[test]
fn mostly_one_fault_within_a_percent_and_a_half() {
    let ratios = shipped(&exam(&SOME_FAULTS));
    assert!(ratios.mean <= 1.01 && ratios.worst <= 1.06, "{} {}", ratios.mean, ratios.worst);
}

#[test]
fn several_faults_within_a_percent_and_a_half() {
    let ratios = shipped(&exam(&MANY_FAULTS));
    assert!(ratios.mean <= 1.01 && ratios.worst <= 1.06, "{} {}", ratios.mean, ratios.worst);
}

/// The bound of the search only saves work: without it the optimum is the same.
#[test]
fn the_bound_does_not_change_the_optimum() {
    for number in 0..INSTANCES {
        let sketch = TINY.instance(number);
        let limit = Rule::ListOnly.minutes(&sketch).mean();
        let (mut bounded, mut whole) = (Optimum::new(&sketch, true), Optimum::new(&sketch, false));
        let (quick, slow) = (bounded.minutes(limit * (1.0 + 1e-9)), whole.minutes(limit));
        assert!((quick - slow).abs() < 1e-9 * slow, "{number}: {quick} {slow}");
        assert!((bounded.by_faults().mean() - slow).abs() < 1e-9 * slow, "{number}");
        assert!(bounded.states() < whole.states());
    }
}

/// One fault and no questions: treating by chance over cost is optimal, Σ (1 − Σ earlier p)·c (Kadane and Simon 1977).
#[test]
fn without_questions_the_optimum_is_chance_over_cost() {
    let mut dice = Dice(23);
    for _ in 0..INSTANCES {
        let mut parts: SketchParts = SketchParts::default();
        let mut rows: Vec<(f64, f64)> = (0..7).map(|_| (dice.spread(0.02, 0.4), dice.spread(5.0, 120.0))).collect();
        let whole: f64 = rows.iter().map(|row| row.0).sum();
        parts.costs =
            Costs::of_causes(rows.iter().map(|row| exam::instances::cost(None, row.1, 0)).collect(), Vec::new());
        parts.looks = vec![LookError { sensitivity: 1.0, false_positive: 0.0 }; rows.len()];
        parts.remedies = (0..rows.len()).collect();
        parts.sets = rows.iter().enumerate().map(|(at, row)| FaultSet { causes: 1 << at, weight: row.0 }).collect();
        let found = Optimum::new(&Sketch::new(parts).unwrap(), false).minutes(f64::INFINITY);
        rows.sort_by(|a, b| (b.0 / b.1).total_cmp(&(a.0 / a.1)));
        let mut open = 1.0;
        let mut expected = 0.0;
        for (chance, minutes) in rows {
            expected += open * minutes;
            open -= chance / whole;
        }
        assert!((found - expected).abs() < 1e-9 * expected, "{found} {expected}");
    }
}
