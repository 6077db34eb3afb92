//! `weephole trial` as scripts use it: what its JSON holds, the same whatever the threads, taken up again, wrong arguments.

#![allow(clippy::panic, clippy::unwrap_used)]

use serde_json::Value;
use std::path::Path;
use std::process::{Command, Output};

fn trial(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_weephole")).arg("trial").args(words).output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {}", text(&output.stderr)))
}

/// Jobs, figures with intervals that hold them, and the same bytes from one thread, from two, and from a file of jobs.
#[test]
fn six_jobs_are_told_in_full_and_the_same_each_time() {
    let folder = tempfile::tempdir().unwrap();
    let kept = folder.path().join("jobs.jsonl");
    let path = kept.to_str().unwrap();
    let four = trial(&["--jobs", "4", "--threads", "1", "--keep", path, "--json"]);
    assert!(four.status.success(), "{}", text(&four.stderr));
    let before = std::fs::read_to_string(&kept).unwrap();
    let six = trial(&["--jobs", "6", "--threads", "2", "--keep", path, "--json"]);
    let after = std::fs::read_to_string(&kept).unwrap();
    assert!(after.starts_with(&before) && after.lines().count() == 7, "finished jobs stay as they are");
    let told = json(&six);
    assert_eq!(told["jobs"], 6);
    for part in ["top1", "top3", "all_in_top5"] {
        for answers in ["0", "5", "10", "15"] {
            is_figure(&told[part][answers], (0.0, 1.0));
        }
    }
    for share in ["wrong_confirmations", "brier", "calibration_error", "solved"] {
        is_figure(&told[share], (0.0, 1.0));
    }
    for number in ["minutes_mean", "minutes_ratio_fixed_order", "questions_median", "openings_mean"] {
        is_figure(&told[number], (0.0, 1e4));
    }
    assert!(told["confusions"].is_array() && told["disagreements"].is_array());
    assert!(told.get("outside_top3").is_none());
    let again = trial(&["--jobs", "6", "--keep", path, "--json"]);
    assert_eq!(six.stdout, again.stdout, "nothing is left to play, and the same is told");
    let anew = trial(&["--jobs", "2", "--threads", "2", "--json"]);
    let of_file = trial(&["--jobs", "2", "--keep", path, "--json"]);
    assert_eq!(anew.stdout, of_file.stdout, "two threads without a file tell what one thread with a file did");
    other_settings_are_refused(&kept);
}

fn is_figure(figure: &Value, (least, most): (f64, f64)) {
    let number = |key: &str| figure[key].as_f64().unwrap_or_else(|| panic!("{key} in {figure}"));
    assert!(number("low") <= number("value") && number("value") <= number("high"), "{figure}");
    assert!(least <= number("value") && number("value") <= most, "{figure}");
    assert_eq!(figure["n"], 6, "{figure}");
}

fn other_settings_are_refused(kept: &Path) {
    let path = kept.to_str().unwrap();
    let before = std::fs::read(kept).unwrap();
    let other = trial(&["--jobs", "6", "--seed", "2", "--keep", path]);
    assert_eq!(other.status.code(), Some(2));
    assert!(text(&other.stderr).contains("other settings"), "{}", text(&other.stderr));
    assert_eq!(std::fs::read(kept).unwrap(), before);
}

/// A fault outside the graph: no minutes to tell, but whether the list says so.
#[test]
fn faults_outside_the_graph_are_told_apart() {
    let told = json(&trial(&["--jobs", "2", "--outside", "--json"]));
    assert_eq!(told["outside_top3"]["n"], 2);
    assert!(told["minutes_mean"]["value"].is_null());
    let table = trial(&["--jobs", "2", "--outside"]);
    assert!(table.status.success() && text(&table.stdout).contains("not in this graph"));
}

#[test]
fn wrong_arguments_say_what_to_do() {
    for (words, says) in [
        (vec!["--wrong", "103%"], "a share from 0 to 1"),
        (vec!["--cannot-tell", "many"], "a share from 0 to 1"),
        (vec!["--mismatch", "-1"], "--mismatch"),
        (vec!["--faults", "4"], "1..=3"),
        (vec!["--jobs", "0"], "1..=100000"),
        (vec!["--outside", "--faults", "2"], "one at a time"),
        (vec!["--family", "rocket"], "known: "),
    ] {
        let output = trial(&words);
        assert_eq!(output.status.code(), Some(2), "{words:?}");
        assert!(text(&output.stderr).contains(says), "{words:?}: {}", text(&output.stderr));
    }
}
