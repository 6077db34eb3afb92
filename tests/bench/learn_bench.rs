//! Turns 10,000 simulated jobs into proposals in one pass over their journals, and prints what that takes beside merely
//! reading and checking the same journals in the same run.
//!
//! `cargo run --release --example learn_bench [-- JOBS [SEED]]`. The smallest, the middle and the largest of five runs.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "learn/mod.rs"]
mod bench;
#[path = "../common/mod.rs"]
mod common;

use bench::draw::{Draw, End, altered, lines};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Instant;
use weephole::job::Entry;
use weephole::knowledge::{Graph, Knowledge};
use weephole::learning::{Fading, Lessons, Reader, proposals};
use weephole::store::read_events;

const RUNS: usize = 5;

fn main() {
    let mut arguments = std::env::args().skip(1);
    let jobs: usize = arguments.next().map_or(10_000, |text| text.parse().unwrap());
    let seed: u64 = arguments.next().map_or(1, |text| text.parse().unwrap());
    let knowledge = common::shipped().knowledge;
    let graph = Graph::new(&knowledge, "oil_backed", None);
    let truth = altered(&knowledge, &graph, seed);
    let folder = tempfile::tempdir().unwrap();
    let (files, bytes) = written(folder.path(), &Draw::new(&knowledge, &truth), jobs, seed);
    println!("{jobs} jobs, {} MiB of journals", bytes / 1024 / 1024);
    println!("load of the machine: {}", std::fs::read_to_string("/proc/loadavg").unwrap_or_default().trim());
    let mut seconds = [Vec::new(), Vec::new(), Vec::new()];
    for _ in 0..RUNS {
        let (read, taught, proposed) = run(&knowledge, &files);
        seconds[0].push(read);
        seconds[1].push(taught);
        seconds[2].push(proposed);
    }
    let ratio = |a: &[f64], b: &[f64]| middle(a) / middle(b);
    println!("reading the journals:                {}", told(&seconds[0]));
    println!(
        "reading and counting:                {} = {:.1} times",
        told(&seconds[1]),
        ratio(&seconds[1], &seconds[0])
    );
    println!("proposals from the counts:           {}", told(&seconds[2]));
}

/// Seconds of reading alone, of reading and counting, and of the proposals.
fn run(knowledge: &Knowledge, files: &[PathBuf]) -> (f64, f64, f64) {
    let start = Instant::now();
    let entries: usize = files.iter().map(|file| read(file).1.len()).sum();
    let only_read = start.elapsed().as_secs_f64();
    assert!(files.len() < entries);
    let start = Instant::now();
    let (mut reader, mut lessons) = (Reader::new(knowledge), Lessons::default());
    for file in files {
        let (first, entries) = read(file);
        lessons.add(reader.read(&first, &entries).unwrap());
    }
    let counted = start.elapsed().as_secs_f64();
    let start = Instant::now();
    let fading = Fading { now: "2026-12-01T00:00:00Z".parse().unwrap(), half_life: Some(730.0) };
    let all = proposals(knowledge, &lessons, fading, &BTreeMap::new());
    assert!(!all.is_empty());
    (only_read, counted, start.elapsed().as_secs_f64())
}

fn read(file: &Path) -> (String, Vec<Entry>) {
    let lines = read_events(file).unwrap().events;
    let entries = lines.iter().map(|line| serde_json::from_str(line).unwrap()).collect();
    (lines[0].clone(), entries)
}

/// Writes the journals as the program does, without waiting for the disk; their paths and bytes.
fn written(folder: &Path, draw: &Draw, jobs: usize, seed: u64) -> (Vec<PathBuf>, usize) {
    let (mut files, mut bytes) = (Vec::new(), 0);
    for job in (0..).filter_map(|n| draw.job(seed * 1_000_000_000 + n, End::Confirmed)).take(jobs) {
        let frame = |line: String| format!("{:08x} {line}\n", crc32fast::hash(line.as_bytes()));
        let text: String = lines(&job).into_iter().map(frame).collect();
        let path = folder.join(format!("{:06}.journal", files.len() + 1));
        bytes += text.len();
        std::fs::write(&path, text).unwrap();
        files.push(path);
    }
    (files, bytes)
}

fn sorted(seconds: &[f64]) -> Vec<f64> {
    let mut sorted = seconds.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted
}

fn middle(seconds: &[f64]) -> f64 {
    sorted(seconds)[seconds.len() / 2]
}

fn told(seconds: &[f64]) -> String {
    let sorted = sorted(seconds);
    format!("{:.2} s ({:.2} to {:.2})", middle(seconds), sorted[0], sorted[sorted.len() - 1])
}
