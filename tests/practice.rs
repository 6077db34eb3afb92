//! Practises as a trainee does: by lines through a pipe, on the shipped lessons and the simulated pump, with a kill and a
//! resume, and with lesson files that are wrong.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::rc::Rc;
use weephole::practice::Exercise;
use weephole::rig::{SimulatedPump, lesson_problems};

fn practise(data: &Path, more: &[&str], typed: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .args(["practice", "--data-dir", data.to_str().unwrap()])
        .args(more)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(typed.as_bytes()).unwrap();
    child.wait_with_output().unwrap()
}

fn said(output: &Output) -> String {
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn journals(data: &Path) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> =
        fs::read_dir(data.join("practice/jobs")).unwrap().map(|entry| entry.unwrap().path()).collect();
    found.retain(|path| path.extension().is_some_and(|extension| extension == "journal"));
    found.sort();
    found
}

/// A nozzle worn larger: flow as ever, pressure down. A trainee opens the pump first, is stopped, goes on and names it.
#[test]
fn a_trainee_plays_a_lesson_to_its_end() {
    let data = tempfile::tempdir().unwrap();
    let typed = "think valves\n1\nopen all valves\n1\nread motor current\n1\nfound\nhint\nname nozzle worn larger\n1\n80\n\nleave\n";
    let told = said(&practise(data.path(), &["lesson_pressure_gone_jet_fine", "--seed", "3", "--with", "half"], typed));
    let in_order = [
        "The operator says: \"The pressure is down but plenty of water comes.\"",
        "STOP. Unsafe:",
        "prove zero energy first",
        "Likely causes, of 20 jobs like this:",
        "It was: nozzle or orifice worn larger.",
        "You named: nozzle or orifice worn larger (80 %).",
        "Not passed.",
        "The planner on the same pump",
        "To do better: Safety first",
        "What to practise",
    ];
    let mut from = 0;
    for words in in_order {
        from += told[from..].find(words).unwrap_or_else(|| panic!("no \"{words}\" behind byte {from} of: {told}"));
    }
    let kept = journals(data.path());
    assert_eq!(kept.len(), 1);
    let text = fs::read_to_string(&kept[0]).unwrap();
    assert!(text.contains("\"move\":\"marked\"") && text.contains("\"right\":true"), "{text}");
    assert!(!data.path().join("jobs").exists(), "practice never reaches the real jobs");
    let trend = said(&practise(data.path(), &[], "progress\nleave\n"));
    assert!(trend.contains("1 jobs") && trend.contains("Unsafe moves: 1"), "{trend}");
    assert!(
        trend.contains("slow loss: Less every month (again on "),
        "the group failed and comes back tomorrow: {trend}"
    );
}

/// The end of the input leaves a job behind; it is taken up with everything that was found.
#[test]
fn a_job_that_did_not_end_is_taken_up_again() {
    let data = tempfile::tempdir().unwrap();
    let first = said(&practise(
        data.path(),
        &["lesson_gauge_says", "--seed", "5", "--with", "alone"],
        "read motor current\n1\n",
    ));
    let found: Vec<&str> = first.lines().filter(|line| line.starts_with("  ") && line.contains(": ")).collect();
    assert!(!found.is_empty(), "{first}");
    let again = said(&practise(data.path(), &[], "surrender\nleave\n"));
    assert!(again.contains("The last job did not end: The gauge says so.") && again.contains("1 checks"), "{again}");
    for line in found {
        assert!(again.contains(line), "{line} is gone: {again}");
    }
    assert!(again.contains("You named: nothing.") && again.contains("It was: outlet gauge"), "{again}");
    assert_eq!(journals(data.path()).len(), 1);
}

/// The same seed gives the same bytes, and the planner shows a lesson to its end without an unsafe move.
#[test]
fn a_lesson_that_is_shown_is_the_same_for_the_same_seed() {
    let shown = || {
        let data = tempfile::tempdir().unwrap();
        let lesson = ["lesson_screams", "--seed", "2", "--with", "shown"];
        said(&practise(data.path(), &lesson, &"\n".repeat(70)))
    };
    let told = shown();
    assert!(told.contains("Next: ") && told.contains("It was: ") && !told.contains("Unsafe"), "{told}");
    let end = told.find("What to practise").unwrap();
    assert_eq!(told[..end], shown()[..end]);
}

#[test]
fn wrong_orders_say_what_to_do() {
    let data = tempfile::tempdir().unwrap();
    let unknown = practise(data.path(), &["lesson_nothing"], "");
    assert_eq!(unknown.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&unknown.stderr).contains("there is no lesson `lesson_nothing`; known: "));
    let typed = "stop\nxyzzyx\nhint\nname nozzle\n1\n120\n\nneedle outlet pressure\nleave\n";
    let told = said(&practise(data.path(), &["lesson_last_third", "--seed", "1", "--with", "alone"], typed));
    for words in [
        "nothing calls for that now",
        "No check is called anything like that",
        "Not in this job: it is done alone",
        "That is no number from 1 to 99; it was not taken.",
        "Nothing was named.",
        " s: ",
    ] {
        assert!(told.contains(words), "no \"{words}\" in: {told}");
    }
    let locked = said(&practise(data.path(), &["lesson_last_third", "--with", "half"], "leave\n"));
    assert!(locked.contains("allows no more help than `alone`"), "{locked}");
}

/// A mistake in a lesson file is told with file, line and column.
#[test]
fn a_lesson_file_with_a_mistake_is_told_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let shipped = fs::read_to_string(common::root().join("knowledge/lessons/oil_backed.ron")).unwrap();
    fs::create_dir(folder.path().join("lessons")).unwrap();
    let file = folder.path().join("lessons/oil_backed.ron");
    let wrong = [
        ("\"nozzle_worn\": 0.7", "\"nozzle_wron\": 0.7"),
        ("\"tank_vortex\": 0.7", "\"tank_vortex\": 7"),
        ("help: half", "help: some"),
    ];
    for (from, to) in wrong {
        let text = shipped.replacen(from, to, 1);
        let at = text.find(to).unwrap();
        let line = text[..at].matches('\n').count() + 1;
        fs::write(&file, text).unwrap();
        let output = practise(folder.path(), &["--knowledge", folder.path().to_str().unwrap()], "");
        let error = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{error}");
        assert!(error.contains(&format!("lessons/oil_backed.ron:{line}:")), "no line {line} in: {error}");
    }
}

/// Every shipped lesson can be begun, and the planner plays it to an end without an unsafe move.
#[test]
fn the_planner_plays_every_lesson_safely() {
    let knowledge = Rc::new(common::shipped().knowledge);
    assert_eq!(lesson_problems(&knowledge), []);
    assert!(20 <= knowledge.all.lessons.len());
    for (id, lesson) in knowledge.all.lessons.iter().take(3) {
        let faults: Vec<(String, f64)> = lesson.faults.iter().map(|(id, at)| (id.clone(), *at)).collect();
        let pump = SimulatedPump::new(&knowledge, &faults, (11, 0.0)).unwrap();
        let mut exercise = Exercise::begin(&knowledge, id, (11, lesson.help), Box::new(pump)).unwrap();
        exercise.play_out(60, |_, _| {});
        assert!(exercise.misses.is_empty() && !exercise.done.is_empty(), "{id}: {:?}", exercise.misses);
    }
}
