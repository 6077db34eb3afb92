//! Turns rules of choosing steps into paired jobs on the shipped graph: the same pumps, the same answers, each rule works
//! until the pump is well. Settles the switch between the single-fault list and thinking ahead.
//!
//! `paired_jobs [JOBS [FIRST_SEED [FAMILY [RULE …]]]]` prints, every fifty jobs, per rule the mean minutes with standard error, median, 90th percentile,
//! answers, repairs and wasted repairs, and the paired difference from the first rule with its 95 % interval.

#![allow(clippy::unwrap_used, clippy::print_stdout, clippy::cast_possible_truncation, clippy::cast_sign_loss)]

#[path = "../common/mod.rs"]
mod common;
#[path = "paired/dice.rs"]
mod dice;
#[path = "paired/planned.rs"]
mod planned;
#[path = "paired/work.rs"]
mod work;
#[path = "paired/world.rs"]
mod world;

use weephole::belief::FOR_PLANNING;
use weephole::knowledge::Graph;
use weephole::planning::Rule;
use work::{Outcome, Work};
use world::World;

/// More than all of the belief: thinking ahead never begins.
const NEVER: f64 = 2.0;
/// Jobs between two tables.
const EVERY: usize = 50;

fn main() {
    let mut arguments = std::env::args().skip(1);
    let jobs: u64 = arguments.next().map_or(200, |text| text.parse().unwrap());
    let first: u64 = arguments.next().map_or(1, |text| text.parse().unwrap());
    let family = arguments.next().unwrap_or_else(|| "oil_backed".to_owned());
    let knowledge = common::shipped().knowledge;
    let graph = Graph::new(&knowledge, &family, None);
    let rule = |overstated, end_game, cells| (Rule { overstated, end_game, ..Rule::default() }, cells);
    let per_bit = |per_bit| (Rule { overstated: 5.0, end_game: NEVER, per_bit }, 30_000);
    let all = [
        ("list", rule(5.0, NEVER, 30_000)),
        ("no bits", per_bit(0.0)),
        ("30 a bit", per_bit(30.0)),
        ("200 a bit", per_bit(200.0)),
        ("list, up to 200k", rule(5.0, NEVER, FOR_PLANNING)),
        ("list, up to 8k", rule(5.0, NEVER, 8_000)),
        ("list / 2", rule(2.0, NEVER, 30_000)),
        ("list / 1", rule(1.0, NEVER, 30_000)),
        ("ahead at 0.9", rule(5.0, 0.9, 30_000)),
        ("ahead at 0.7", rule(5.0, 0.7, 30_000)),
        ("ahead at 0.5", rule(5.0, 0.5, 30_000)),
    ];
    let wanted: Vec<String> = arguments.collect();
    let rules: Vec<_> =
        all.into_iter().filter(|(name, _)| wanted.is_empty() || wanted.iter().any(|wanted| wanted == name)).collect();
    let mut went: Vec<Vec<Outcome>> = vec![Vec::new(); rules.len()];
    for seed in first..first + jobs {
        if Work::new(&knowledge, World::new(&graph, seed), rule(1.0, NEVER, 0)).is_none() {
            continue;
        }
        for (outcomes, (_, rule)) in went.iter_mut().zip(&rules) {
            outcomes.push(Work::new(&knowledge, World::new(&graph, seed), *rule).unwrap().go());
        }
        if went[0].len().is_multiple_of(EVERY) {
            println!("-- {} jobs, seeds {first}..={seed}", went[0].len());
            for (outcomes, (name, _)) in went.iter().zip(&rules) {
                print(name, outcomes, &went[0]);
            }
        }
    }
    println!("{family}: {} jobs, seeds {first}..{}", went[0].len(), first + jobs);
    for (outcomes, (name, _)) in went.iter().zip(&rules) {
        print(name, outcomes, &went[0]);
    }
}

fn print(name: &str, outcomes: &[Outcome], first: &[Outcome]) {
    let minutes: Vec<f64> = outcomes.iter().map(|outcome| outcome.minutes).collect();
    let apart: Vec<f64> = outcomes.iter().zip(first).map(|(a, b)| a.minutes - b.minutes).collect();
    let mean = |of: &dyn Fn(&Outcome) -> f64| outcomes.iter().map(of).sum::<f64>() / outcomes.len() as f64;
    let mut sorted = minutes.clone();
    sorted.sort_by(f64::total_cmp);
    let share = |share: f64| sorted[((sorted.len() - 1) as f64 * share) as usize];
    let (average, error) = mean_and_error(&minutes);
    let (difference, of_difference) = mean_and_error(&apart);
    println!(
        "{name:22} {average:6.1} ± {error:4.1} min, median {:5.0}, 90 % {:5.0}, answers {:4.1}, repairs {:3.2} ({:3.2} wasted), solved {:5.1} %, apart {difference:+6.1} ± {:4.1}",
        share(0.5),
        share(0.9),
        mean(&|outcome| outcome.answers as f64),
        mean(&|outcome| outcome.repairs as f64),
        mean(&|outcome| outcome.wasted as f64),
        100.0 * mean(&|outcome| f64::from(u8::from(outcome.solved))),
        1.96 * of_difference
    );
}

fn mean_and_error(values: &[f64]) -> (f64, f64) {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let variance = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / (count - 1.0).max(1.0);
    (mean, (variance / count).sqrt())
}
