//! Turns a temporary folder into 10,000 jobs and prints how long the program takes to list and search them.
//!
//! `cargo build --release && cargo run --release --example jobs_bench [-- COUNT]`. Times are of the whole program, from
//! start to end, output thrown away; the smallest, the middle and the largest of eleven runs.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

use jiff::{SignedDuration, Timestamp};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;
use weephole::evidence::Answer;
use weephole::job::{Ending, Entry, Event, PumpNote};

const RUNS: usize = 11;
const PLACES: [&str; 8] = ["east house", "west house", "wash bay", "tannery", "dye works", "quarry", "dairy", "pier"];
const COMPLAINTS: [(&str, &str); 5] = [
    ("it rattles like gravel and the fog got thin", "crackle_noise"),
    ("no pressure since this morning", "low_flow"),
    ("oil is milky", "oil_milky"),
    ("pressure jumps about", "low_flow"),
    ("belt squeals at start", "crackle_noise"),
];
const CAUSES: [&str; 4] = ["strainer_clogged", "inlet_isolating_valve_part_shut", "strainer_too_fine", "nozzle_worn"];

fn main() {
    let count = std::env::args().nth(1).and_then(|count| count.parse().ok()).unwrap_or(10_000);
    let program = std::env::current_exe().unwrap().parent().unwrap().parent().unwrap().join("weephole");
    assert!(program.exists(), "build the program first: cargo build --release");
    let folder = tempfile::tempdir().unwrap();
    let bytes = make(folder.path(), count);
    println!("{count} jobs, {} MiB, one of them damaged", bytes / 1024 / 1024);
    println!("load of the machine: {}", fs::read_to_string("/proc/loadavg").unwrap_or_default().trim());
    let index = folder.path().join("cache").join("jobs.index");
    let without = |words: &[&str]| {
        time(&program, folder.path(), words, || {
            let _ = fs::remove_file(&index);
        })
    };
    let with = |words: &[&str]| time(&program, folder.path(), words, || {});
    println!("list, no index:              {}", without(&["jobs"]));
    println!("list, index:                 {}", with(&["jobs"]));
    println!("list all as JSON, index:     {}", with(&["jobs", "--json"]));
    println!("search, no index:            {}", without(&["jobs", "quarry", "milky"]));
    println!("search, index:               {}", with(&["jobs", "quarry", "milky"]));
    println!("misspelt search, index:      {}", with(&["jobs", "quary", "strianer"]));
    println!("history of a pump, index:    {}", with(&["jobs", "--pump", "quarry pump 3"]));
    println!("came back, index:            {}", with(&["jobs", "--came-back"]));
    println!("knowledge only (list names): {}", with(&["knowledge", "list", "families"]));
    println!("index: {} KiB", fs::metadata(&index).unwrap().len() / 1024);
}

/// Smallest, middle and largest time of the program in milliseconds.
fn time(program: &Path, folder: &Path, words: &[&str], before: impl Fn()) -> String {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            before();
            let start = Instant::now();
            let mut command = Command::new(program);
            command.arg("--data-dir").arg(folder).args(words).stdout(Stdio::null()).stderr(Stdio::null());
            assert!(command.status().unwrap().success(), "{words:?}");
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    format!("{:.0} ms ({:.0} to {:.0})", times[RUNS / 2], times[0], times[RUNS - 1])
}

/// Writes the journals without waiting for the disk, and returns their bytes.
fn make(folder: &Path, count: usize) -> usize {
    let jobs = folder.join("jobs");
    fs::create_dir_all(&jobs).unwrap();
    let mut bytes = 0;
    for at in 0..count {
        let mut text: String = entries(at).iter().map(line).collect();
        if at == count / 2 {
            text = text.replacen("complaint", "complaunt", 1);
        }
        bytes += text.len();
        let path: PathBuf = jobs.join(format!("{:04}-job.journal", at + 1));
        fs::write(path, text).unwrap();
    }
    bytes
}

/// A line as the journal writes it.
fn line(entry: &Entry) -> String {
    let json = serde_json::to_string(entry).unwrap();
    format!("{:08x} {json}\n", crc32fast::hash(json.as_bytes()))
}

fn entries(at: usize) -> Vec<Entry> {
    let start: Timestamp = "2020-01-01T06:00:00Z".parse().unwrap();
    let opened = start + SignedDuration::from_mins(i64::try_from(at).unwrap() * 300);
    let name = format!("{} pump {}", PLACES[at % PLACES.len()], at / PLACES.len() % 9);
    let sheet = |n: usize| (format!("line {n}"), "a value of the sheet = the same in other units".to_owned());
    let pump =
        PumpNote { name, lines: (0..20).map(sheet).collect(), fitted: None, usual: Vec::new(), ..PumpNote::default() };
    let (words, finding) = COMPLAINTS[at % COMPLAINTS.len()];
    let mut events = vec![
        Event::opened("oil_backed", ("2026.11", "000000000000"), Some(pump)),
        Event::Complaint { words: words.to_owned(), findings: vec![finding.to_owned()] },
    ];
    for n in 0..16 {
        events.push(Event::Answered {
            finding: format!("finding_number_{n}"),
            answer: Answer::ProbablyNo,
            check: Some("look_tank".to_owned()),
        });
    }
    if !at.is_multiple_of(7) {
        let cause = Some(CAUSES[at % CAUSES.len()].to_owned());
        events.push(Event::Closed { ending: Ending::Confirmed, cause, words: "interval set to one week".to_owned() });
    }
    let minute = |n: usize| opened + SignedDuration::from_mins(i64::try_from(n).unwrap());
    events.into_iter().enumerate().map(|(n, event)| Entry { at: minute(n), event }).collect()
}
