//! Replays the stored inputs of the fuzzers, findings among them: every promise that a target checks holds for each.
//!
//! The inputs are made by `tests/scripts/fuzz.sh`; `found_…` are those that once broke something.

#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout)]

#[path = "fuzz/targets/mod.rs"]
mod targets;

use std::path::Path;

/// Runs every input of a target's folder; there are some.
fn replay(name: &str) {
    let target = targets::TARGETS.iter().find(|(known, _)| *known == name).map(|(_, target)| *target);
    let target = target.unwrap_or_else(|| panic!("no target `{name}`"));
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus").join(name);
    let mut inputs: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    inputs.sort();
    assert!(!inputs.is_empty(), "{name} has no inputs");
    for path in inputs {
        println!("{}", path.display()); // shown where it fails
        target(&std::fs::read(path).unwrap());
    }
}

macro_rules! replayed {
    ($($name:ident)*) => {$(
        #[test]
        fn $name() {
            replay(stringify!($name));
        }
    )*};
}

replayed! { knowledge edits quantity journal facts lesson line }

#[test]
fn every_target_is_replayed() {
    let names: Vec<&str> = targets::TARGETS.iter().map(|(name, _)| *name).collect();
    assert_eq!(names, ["knowledge", "edits", "quantity", "journal", "facts", "lesson", "line"]);
}
