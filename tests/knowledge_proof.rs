//! A supervisor proves edits by lines: a case flips, the edit is refused, a smaller one is saved, taken back; cancelled half-way.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

const PATH: &str = "low_flow.shown_by.valves_worn.strength";
/// Its truth stands first by this link alone: at "rarely" another cause leads.
const CASE: &str = "case_valve_sets_last_six_weeks";

fn knowledge(arguments: &[&str], folder: &Path) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_weephole"));
    command.arg("knowledge").args(arguments).arg("--knowledge").arg(folder).output().unwrap()
}

fn both(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

/// The built-in knowledge in a folder; with the cases of one file alone, which is quicker to prove, or all.
fn folder(all_cases: bool) -> (TempDir, PathBuf) {
    let base = TempDir::new().unwrap();
    let folder = base.path().join("graph");
    let unpack = Command::new(env!("CARGO_BIN_EXE_weephole")).args(["knowledge", "unpack"]).arg(&folder).output();
    assert!(unpack.unwrap().status.success());
    let files = |name: &str| fs::read_dir(folder.join(name)).unwrap();
    // Lessons name cases that are gone then.
    for file in files("cases").chain(files("lessons")) {
        let path = file.unwrap().path();
        if !all_cases && !fs::read_to_string(&path).unwrap().contains(CASE) {
            fs::write(&path, "(version: 1)\n").unwrap();
        }
    }
    (base, folder)
}

fn delivery(folder: &Path) -> String {
    fs::read_to_string(folder.join("findings/delivery.ron")).unwrap()
}

#[test]
fn a_supervisor_proves_rejects_accepts_and_takes_back() {
    let (_base, folder) = folder(false);
    let before = delivery(&folder);
    let refused = knowledge(&["set", PATH, "rarely", "--prove"], &folder);
    let said = both(&refused);
    assert_eq!(refused.status.code(), Some(1), "{said}");
    assert!(said.contains(&format!("Worse: {CASE}: rank 1 -> 2; first now: ")), "{said}");
    assert!(said.contains("Brier score, lower is better: ") && said.contains("All facts given: first "), "{said}");
    assert!(said.contains("nothing was saved: 1 case would get worse"), "{said}");
    assert_eq!(delivery(&folder), before);
    assert!(!folder.join("backups").exists());

    let told = knowledge(&["set", PATH, "rarely", "--prove", "--without-saving"], &folder);
    assert_eq!(told.status.code(), Some(0));
    assert!(both(&told).ends_with("Nothing was saved.\n") && delivery(&folder) == before);

    let smaller = knowledge(&["set", PATH, "share(0.74)", "--prove"], &folder);
    let said = both(&smaller);
    assert_eq!(smaller.status.code(), Some(0), "{said}");
    assert!(said.contains("No case comes out otherwise.") && said.contains("Saved as edit 1"), "{said}");
    let all_the_same = knowledge(&["set", PATH, "rarely", "--prove", "--even-if-worse"], &folder);
    assert!(both(&all_the_same).contains("Saved as edit 2"), "{}", both(&all_the_same));
    for _ in 0..2 {
        assert_eq!(knowledge(&["undo"], &folder).status.code(), Some(0));
    }
    assert_eq!(delivery(&folder), before);
}

#[test]
fn a_source_moves_no_case_and_is_saved_at_once() {
    let (_base, folder) = folder(true);
    let done = knowledge(&["set", "low_flow.shown_by.valves_worn.reviewed", "\"2026-12\"", "--prove"], &folder);
    assert!(both(&done).contains("cases can be moved by this."), "{}", both(&done));
    assert!(both(&done).contains("Saved as edit 1"), "{}", both(&done));
}

/// Interrupted after the change was told and before the cases are played: nothing on disk is otherwise. The interrupt of the
/// keyboard would be ignored where the tests themselves run in the background of a shell.
#[cfg(unix)]
#[test]
fn a_proof_that_is_interrupted_leaves_everything_as_it_was() {
    use std::io::{BufRead as _, BufReader};
    let (_base, folder) = folder(true);
    let before = delivery(&folder);
    let mut child = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .args(["knowledge", "set", PATH, "rarely", "--prove", "--even-if-worse", "--asked", "--knowledge"])
        .arg(&folder)
        .stdout(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    let mut told = String::new();
    let mut lines = BufReader::new(child.stdout.take().unwrap());
    while !told.contains("In findings/delivery.ron.") && lines.read_line(&mut told).unwrap() != 0 {}
    assert!(told.contains("In findings/delivery.ron."), "{told}");
    let interrupted = Command::new("kill").args(["-TERM", &child.id().to_string()]).status().unwrap();
    assert!(interrupted.success());
    assert!(!child.wait().unwrap().success());
    assert_eq!(delivery(&folder), before);
    assert!(!folder.join("backups").exists());
}
