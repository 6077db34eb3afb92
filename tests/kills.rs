//! A short sample of `kill_exam`: runs of every kind killed at random instants; nothing acknowledged may be lost.
#![allow(clippy::unwrap_used)]

#[path = "bench/kill/mod.rs"]
mod kill;

use std::path::Path;

/// Killed runs of each kind.
const RUNS: usize = 4;

#[test]
fn nothing_acknowledged_is_lost_to_a_kill() {
    for kind in kill::KINDS {
        let table = kill::runs(kind, Path::new(env!("CARGO_BIN_EXE_weephole")), 1, RUNS);
        assert!(table.lost.is_empty(), "{}", table.lost.join("\n"));
        assert_eq!(table.runs, RUNS);
    }
}
