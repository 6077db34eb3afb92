//! A small sample of the self-play of the graph, fixed seed; the whole: `cargo run --release --example self_play`.

#![allow(clippy::unwrap_used, dead_code)]

#[path = "bench/self_play/mod.rs"]
mod bench;
mod common;

use bench::play::{Manner, Outcome, Table};
use weephole::knowledge::Graph;

const SEED: u64 = 11;
const PLAYS: u64 = 3;
/// Every so many causes of the family are played.
const EVERY: usize = 20;

/// Every check answered in full: the true cause's decision class stands first or second after at most twelve checks. Wanted
/// of the graph is 90 % of plays for every cause; it does not reach that. This sample came out at 16 of 27 when it was first
/// run, and the test only guards against falling below half. The whole measures the distance: `self_play`.
#[test]
fn the_graph_finds_its_own_faults() {
    let knowledge = common::shipped().knowledge;
    let graph = Graph::new(&knowledge, "oil_backed", None);
    let table = Table::new(&knowledge, &graph, Manner { complaints: 1, whole_checks: true });
    let causes: Vec<usize> = table.causes().into_iter().step_by(EVERY).collect();
    let outcomes: Vec<Outcome> = causes
        .iter()
        .flat_map(|&cause| (0..PLAYS).map(move |play| (cause, SEED + play)))
        .filter_map(|(cause, seed)| table.play(cause, seed))
        .collect();
    let good = outcomes.iter().filter(|outcome| outcome.rank <= 2).count();
    assert!(outcomes.len() < 2 * good, "{good} of {}", outcomes.len());
    assert!(outcomes.iter().all(|outcome| outcome.answers <= 12));
    let again = table.play(causes[0], SEED).unwrap();
    assert_eq!(
        (again.rank, again.first),
        (outcomes[0].rank, outcomes[0].first.clone()),
        "the same seed, the same play"
    );
}
