//! Turns hostile files into exactly what the program must say about each: exit code, words, no control byte, no file changed.
//!
//! One row = one input: where it is put, what is in it, how the program is called, what must come of it. Every row runs the
//! program with 1.5 GB of address space, so that a file that fills the memory fails, and ends it after a minute, so that a
//! file that is read for ever fails. `cargo test --test hostile -- --nocapture` prints the table.
#![cfg(unix)]
#![allow(clippy::print_stdout, clippy::unwrap_used)]

#[path = "hostile/edits.rs"]
mod edits;
#[path = "hostile/facts.rs"]
mod facts;
#[path = "hostile/journals.rs"]
mod journals;
#[path = "hostile/knowledge.rs"]
mod knowledge;
#[path = "hostile/lessons.rs"]
mod lessons;
#[path = "hostile/merges.rs"]
mod merges;
#[path = "hostile/packs.rs"]
mod packs;
#[path = "hostile/put.rs"]
mod put;
#[path = "hostile/rig.rs"]
mod rig;
#[path = "hostile/sheets.rs"]
mod sheets;
#[path = "hostile/typed.rs"]
mod typed;

use rig::{Row, judge};

#[test]
fn knowledge_files() {
    judge("knowledge", knowledge::ROWS);
}

#[test]
fn edits_of_knowledge() {
    judge("knowledge edit", edits::ROWS);
}

#[test]
fn pump_sheets() {
    judge("pump sheet", sheets::ROWS);
}

#[test]
fn facts_files() {
    judge("facts", facts::ROWS);
}

#[test]
fn journals_and_records() {
    judge("journal", journals::ROWS);
}

#[test]
fn folders_to_merge() {
    judge("merged folder", merges::ROWS);
}

#[test]
fn lessons_and_cases() {
    judge("lesson or case", lessons::ROWS);
}

#[test]
fn packed_knowledge() {
    judge("packed knowledge", packs::ROWS);
}

#[test]
fn what_is_typed_or_piped() {
    judge("typed lines", typed::ROWS);
}

#[test]
fn the_table_is_long_and_no_input_stands_in_it_twice() {
    let all: Vec<&[Row]> = vec![
        knowledge::ROWS,
        edits::ROWS,
        sheets::ROWS,
        facts::ROWS,
        journals::ROWS,
        merges::ROWS,
        lessons::ROWS,
        packs::ROWS,
        typed::ROWS,
    ];
    assert!(60 <= all.iter().map(|rows| rows.len()).sum::<usize>());
    for rows in all {
        let mut names: Vec<&str> = rows.iter().map(|row| row.what).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), rows.len());
    }
}
