//! Turns a seed into a long session of keys at the full screen, and samples memory and open files: neither may grow.
//!
//! `soak [KEYS [SEED [COMMAND …]]]`, default 28,800 keys (24 hours, one key every three seconds) and seed 1 on jobs; with
//! `practice` behind them on practice. A key is pressed once the program waits for one, so that the hours pass as fast as it
//! can work. Needs `cargo build --release` first. Linux only: it reads what the system says about the process.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use std::fs;
use std::io::{Read as _, Write as _};
use std::num::NonZeroU16;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::{Arc, Mutex};
use std::thread::sleep;
use std::time::{Duration, Instant};
use weephole::simulation::Chance;

const COLUMNS: u16 = 80;
const ROWS: u16 = 24;
/// Samples of a session.
const SAMPLES: usize = 20;
/// Keys, each as often as it stands here: answers, ways to other pages and back, numbers, words.
const KEYS: &[&str] = &[
    "y",
    "n",
    "u",
    "p",
    "?",
    ".",
    "y",
    "n",
    "n",
    "x",
    "1",
    "2",
    "3",
    "\r",
    "\r",
    "b",
    "b",
    "g",
    "s",
    "d",
    "a",
    "i",
    "z",
    "t",
    "r",
    "w",
    "c",
    "f",
    "e",
    "v",
    "h",
    "\x1b[B",
    "\x1b[B",
    "\x1b[A",
    " ",
    "12 inHg vac\r",
    "60 bar\r",
    "28 L/min\r",
    "480 rpm\r",
    "gravel",
    "R.K., fitter\r",
    "strainer\r",
    "\x7f",
    "\x1b",
    "k",
    "m",
    "o",
    "l",
];

struct Shown {
    parser: vt100::Parser,
    last: Instant,
    bytes: usize,
}

/// What the system says of a process.
struct Sample {
    resident_kib: u64,
    open_files: usize,
    threads: u64,
}

fn sample(process: u32) -> Sample {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap();
    let of = |name: &str| {
        let line = status.lines().find_map(|line| line.strip_prefix(name)).unwrap();
        line.split_whitespace().next().unwrap().parse().unwrap()
    };
    let open_files = fs::read_dir(format!("/proc/{process}/fd")).unwrap().count();
    Sample { resident_kib: of("VmRSS:"), open_files, threads: of("Threads:") }
}

/// True once every thread waits: nothing is worked out.
fn waits(process: u32) -> bool {
    let Ok(tasks) = fs::read_dir(format!("/proc/{process}/task")) else { return true };
    tasks.flatten().all(|task| {
        let stat = fs::read_to_string(task.path().join("stat")).unwrap_or_default();
        stat.rsplit(") ").next().is_none_or(|rest| rest.starts_with('S'))
    })
}

fn program() -> PathBuf {
    let own = std::env::current_exe().unwrap();
    let program = own.parent().unwrap().parent().unwrap().join("weephole");
    assert!(program.exists(), "{} is not built: cargo build --release", program.display());
    program
}

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let keys: usize = arguments.next().map_or(28_800, |text| text.parse().unwrap());
    let seed: u64 = arguments.next().map_or(1, |text| text.parse().unwrap());
    let data = tempfile::tempdir().unwrap();
    let pair =
        native_pty_system().openpty(PtySize { rows: ROWS, cols: COLUMNS, pixel_width: 0, pixel_height: 0 }).unwrap();
    let mut command = CommandBuilder::new(program());
    command.arg("--data-dir");
    command.arg(data.path());
    command.args(arguments);
    command.env("TERM", "xterm-256color");
    let mut child = pair.slave.spawn_command(command).unwrap();
    drop(pair.slave);
    let process = child.process_id().unwrap();
    let cells = |many: u16| NonZeroU16::new(many).unwrap();
    let parser = vt100::Parser::new(cells(ROWS), cells(COLUMNS), 0);
    let shown = Arc::new(Mutex::new(Shown { parser, last: Instant::now(), bytes: 0 }));
    let (mut from, into) = (pair.master.try_clone_reader().unwrap(), Arc::clone(&shown));
    std::thread::spawn(move || {
        let mut buffer = [0; 8192];
        while let Ok(many @ 1..) = from.read(&mut buffer) {
            let mut shown = into.lock().unwrap();
            shown.parser.process(&buffer[..many]);
            shown.last = Instant::now();
            shown.bytes += many;
        }
    });
    let mut keyboard = pair.master.take_writer().unwrap();
    let mut chance = Chance::new(seed);
    println!(
        "{:>7} {:>9} {:>10} {:>7} {:>8} {:>12}",
        "keys", "RSS KiB", "open files", "threads", "jobs", "bytes drawn"
    );
    let mut samples: Vec<Sample> = Vec::new();
    for at in 0..=keys {
        settle(process, &shown);
        if at % (keys / SAMPLES).max(1) == 0 {
            let found = sample(process);
            println!(
                "{at:>7} {:>9} {:>10} {:>7} {:>8} {:>12}",
                found.resident_kib,
                found.open_files,
                found.threads,
                jobs(data.path()),
                shown.lock().unwrap().bytes
            );
            samples.push(found);
        }
        let text = shown.lock().unwrap().parser.screen().contents();
        let is_start = ["START", "what to practise"].iter().any(|head| text.contains(head));
        // Now and then somebody leaves the job; from the first page that would end the program.
        let key = match chance.below(if is_start { 3 } else { 90 }) {
            0 if is_start => "n",
            0 => "q",
            _ => KEYS[chance.below(KEYS.len())],
        };
        if keyboard.write_all(key.as_bytes()).is_err() || child.try_wait().unwrap().is_some() {
            println!("it ended after {at} keys:\n{text}");
            return ExitCode::FAILURE;
        }
    }
    let _ = child.kill();
    verdict(&samples)
}

/// Waits until the program waits.
fn settle(process: u32, shown: &Mutex<Shown>) {
    let begun = Instant::now();
    loop {
        let quiet = shown.lock().unwrap().last.elapsed();
        if Duration::from_millis(4) < quiet && waits(process) || Duration::from_mins(1) < begun.elapsed() {
            return;
        }
        sleep(Duration::from_millis(2));
    }
}

fn jobs(data: &std::path::Path) -> usize {
    let count =
        |folder: PathBuf| fs::read_dir(folder).map_or(0, |entries| entries.flatten().filter(is_journal).count());
    count(data.join("jobs")) + count(data.join("practice/jobs"))
}

fn is_journal(entry: &fs::DirEntry) -> bool {
    entry.path().extension().is_some_and(|end| end == "journal")
}

/// The second half beside the second quarter: whatever is kept for good shows there.
fn verdict(samples: &[Sample]) -> ExitCode {
    let half = samples.len() / 2;
    let most = |part: &[Sample]| {
        part.iter()
            .map(|sample| (sample.resident_kib, sample.open_files))
            .fold((0, 0), |a, b| (a.0.max(b.0), a.1.max(b.1)))
    };
    let (before, after) = (most(&samples[half / 2..half]), most(&samples[half..]));
    println!(
        "most in the second quarter: {} KiB, {} open files; in the second half: {} KiB, {}",
        before.0, before.1, after.0, after.1
    );
    ExitCode::from(u8::from(before.1 < after.1))
}
