//! Turns a seed into runs that are killed (SIGKILL) at random instants, and says what was lost: nothing may be.
//!
//! `kill_exam [RUNS [SEED]]`, default 1,000 and 1, over the five kinds of `kill/`. Prints one table; exits with 1 if anything
//! was lost. Needs `cargo build --release` first: it runs the program beside itself.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "kill/mod.rs"]
mod kill;

use kill::{KINDS, runs};
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let many: usize = arguments.next().map_or(1000, |text| text.parse().unwrap());
    let seed: u64 = arguments.next().map_or(1, |text| text.parse().unwrap());
    let program = program();
    let mut lost = Vec::new();
    println!(
        "{:<22} {:>6} {:>9} {:>12} {:>8} {:>6} {:>6}",
        "kind", "runs", "cut short", "acknowledged", "on disk", "torn", "lost"
    );
    for (at, kind) in KINDS.into_iter().enumerate() {
        // The first kinds take what does not divide evenly.
        let share = many / KINDS.len() + usize::from(at < many % KINDS.len());
        let table = runs(kind, &program, seed, share);
        println!(
            "{:<22} {:>6} {:>9} {:>12} {:>8} {:>6} {:>6}",
            kind.name,
            table.runs,
            table.cut,
            table.said,
            table.kept,
            table.torn,
            table.lost.len()
        );
        lost.extend(table.lost);
    }
    lost.iter().take(20).for_each(|lost| println!("  {lost}"));
    println!("lost in all: {} (seed {seed})", lost.len());
    ExitCode::from(u8::from(!lost.is_empty()))
}

/// The program beside the examples of the same build.
fn program() -> PathBuf {
    let own = std::env::current_exe().unwrap();
    let program = own.parent().unwrap().parent().unwrap().join("weephole");
    assert!(program.exists(), "{} is not built: cargo build --release", program.display());
    program
}
