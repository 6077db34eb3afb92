//! Turns a seed into jobs by lines that are killed (SIGKILL) at random instants, and says what was lost: nothing may be.
//!
//! `kill_exam [RUNS [SEED]]`, default 1,000 and 1. Each run types a random job into the program (complaints, answers,
//! numbers, remarks, changes, rebuild sheets, withdrawals) and kills it after 0 to 1.2 seconds. What it had said to be saved
//! must then be in the journal, in the same order; the journal must open again and go on. Prints one table; exits with 1 if
//! anything was lost. Needs `cargo build --release` first: it runs the program beside itself.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::thread;
use std::time::Duration;
use weephole::simulation::Chance;
use weephole::store;

/// Longest life of a run, milliseconds.
const LONGEST: f64 = 1200.0;
/// Lines typed in a run.
const LINES: usize = 60;
/// Complaints to begin with.
const COMPLAINTS: &[&str] =
    &["sounds like gravel", "it lost pressure", "oil is milky", "belt squeals", "it pulses", "weak"];
/// What may be typed at any prompt.
const TYPED: &[&str] = &[
    "y",
    "n",
    "?",
    "p",
    "u",
    "1",
    "2",
    "1 2",
    "",
    "done",
    "n",
    "y",
    "12 inHg vac",
    "60 bar",
    "28 L/min",
    "note it is hot",
    "trail",
    "withdraw 1",
    "change 1",
    "likely",
    "tell oil level",
    "changed strainer",
    "fix",
    "isolate",
    "start",
    "skip",
    "service",
    "why",
    "aside",
    "480 rpm",
    "no gauge",
    "sheet",
];

/// What came of all runs.
#[derive(Default)]
struct Table {
    begun: usize,
    said: usize,
    kept: usize,
    torn: usize,
    lost: Vec<String>,
}

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let runs: u64 = arguments.next().map_or(1000, |text| text.parse().unwrap());
    let seed: u64 = arguments.next().map_or(1, |text| text.parse().unwrap());
    let program = program();
    let mut table = Table::default();
    for run in 0..runs {
        one(&program, seed, run, &mut table);
    }
    println!("runs killed: {runs} (seed {seed}); jobs begun before the kill: {}", table.begun);
    println!("answers said to be saved: {}; entries in the journals: {}", table.said, table.kept);
    println!("last lines cut short by the kill, kept aside when opened again: {}", table.torn);
    println!("lost answers, or journals that do not open: {}", table.lost.len());
    table.lost.iter().take(20).for_each(|lost| println!("  {lost}"));
    ExitCode::from(u8::from(!table.lost.is_empty()))
}

/// The program beside the examples of the same build.
fn program() -> PathBuf {
    let own = std::env::current_exe().unwrap();
    let program = own.parent().unwrap().parent().unwrap().join("weephole");
    assert!(program.exists(), "{} is not built: cargo build --release", program.display());
    program
}

fn one(program: &Path, seed: u64, run: u64, table: &mut Table) {
    let mut chance = Chance::of(seed, &["run", &run.to_string()]);
    let place = tempfile::tempdir().unwrap();
    let typed = place.path().join("typed");
    fs::write(&typed, script(&mut chance)).unwrap();
    let said = place.path().join("said");
    let mut child = Command::new(program)
        .arg("--data-dir")
        .arg(place.path())
        .stdin(Stdio::from(File::open(&typed).unwrap()))
        .stdout(Stdio::from(File::create(&said).unwrap()))
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    thread::sleep(Duration::from_micros(micros(LONGEST * chance.even())));
    let _ = child.kill();
    child.wait().unwrap();
    let said = String::from_utf8_lossy(&fs::read(&said).unwrap()).into_owned();
    let acknowledged =
        said.split_inclusive('\n').filter(|line| line.starts_with("Saved: ") && line.ends_with('\n')).count();
    table.said += acknowledged;
    let Some(job) = store::list_jobs(place.path()).ok().and_then(|mut jobs| jobs.pop()) else {
        if 0 < acknowledged {
            table.lost.push(format!("run {run}: {acknowledged} answers said to be saved, and no journal"));
        }
        return;
    };
    table.begun += 1;
    match store::read_events(&job.path) {
        Ok(scan) => {
            let answers = scan.events.iter().filter(|event| is_acknowledged(event)).count();
            table.kept += scan.events.len();
            table.torn += usize::from(scan.flaw.is_some());
            if answers < acknowledged {
                table.lost.push(format!("run {run}: {acknowledged} said to be saved, {answers} kept"));
            }
            let events = scan.events.len();
            if 0 < events && !goes_on(program, place.path()) {
                table.lost.push(format!("run {run}: the job with {events} entries does not go on"));
            }
        }
        Err(error) => table.lost.push(format!("run {run}: {error}")),
    }
}

/// True for an entry that the program acknowledges with a line of its own.
fn is_acknowledged(event: &str) -> bool {
    let silent = ["\"opened\"", "\"zero_proved\"", "\"liquid\"", "\"back\""];
    !silent.iter().any(|what| event.contains(&format!("\"what\":{what}")))
}

/// True if the job can be taken up again.
fn goes_on(program: &Path, data: &Path) -> bool {
    let status = Command::new(program)
        .args(["job", "--resume", "1", "--data-dir"])
        .arg(data)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    status.unwrap().success()
}

fn script(chance: &mut Chance) -> String {
    let complaint = COMPLAINTS[chance.below(COMPLAINTS.len())];
    let mut lines = vec![complaint.to_owned(), "1".to_owned()];
    lines.extend((0..LINES).map(|_| TYPED[chance.below(TYPED.len())].to_owned()));
    lines.join("\n") + "\n"
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // some hundred milliseconds
fn micros(milliseconds: f64) -> u64 {
    (milliseconds * 1000.0) as u64
}
