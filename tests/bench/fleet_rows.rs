//! Turns a seed into the rows of many simulated jobs and the counts that the program makes of them. Run by
//! `tests/scripts/fleet_counts.sh`.
//!
//! `fleet_rows FOLDER [JOBS [SEED]]` writes `rows.jsonl`, `links.csv` and `shares.csv`. One job of twenty is not confirmed, one
//! of twenty told everything unasked, and every hundredth has a copy that was closed again later.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "learn/mod.rs"]
mod bench;
#[path = "../common/mod.rs"]
mod common;

use bench::draw::{Draw, End, altered};
use jiff::SignedDuration;
use std::fmt::Write as _;
use std::fs::File;
use std::io::{BufWriter, Write as _};
use std::path::Path;
use weephole::job::{Entry, Event};
use weephole::knowledge::Graph;
use weephole::learning::{Fading, Lessons, Reader, rows};

/// The age of a job counts from here; the half-life in days. `fleet_counts.sql` says the same.
const NOW: &str = "2026-12-01T00:00:00Z";
const HALF_LIFE: f64 = 365.0;

fn main() {
    let mut arguments = std::env::args().skip(1);
    let folder = arguments.next().unwrap();
    let folder = Path::new(&folder);
    let jobs: u64 = arguments.next().map_or(100_000, |text| text.parse().unwrap());
    let seed: u64 = arguments.next().map_or(1, |text| text.parse().unwrap());
    let knowledge = common::shipped().knowledge;
    let graph = Graph::new(&knowledge, "oil_backed", None);
    let truth = altered(&knowledge, &graph, seed);
    let draw = Draw::new(&knowledge, &truth);
    let (mut reader, mut lessons) = (Reader::new(&knowledge), Lessons::default());
    let mut out = BufWriter::new(File::create(folder.join("rows.jsonl")).unwrap());
    let (mut made, mut lines) = (0, 0_u64);
    for n in 0.. {
        let end = match n % 20 {
            0 => End::Unconfirmed,
            1 => End::Volunteered,
            _ => End::Confirmed,
        };
        let Some(job) = draw.job(seed * 1_000_000_000 + n, end) else { continue };
        made += 1;
        let copy = (made % 100 == 0).then(|| closed_again(&job));
        for journal in std::iter::once(job).chain(copy) {
            let first = serde_json::to_string(&journal[0]).unwrap();
            let taught = reader.read(&first, &journal).unwrap();
            for row in rows(&taught) {
                serde_json::to_writer(&mut out, &row).unwrap();
                out.write_all(b"\n").unwrap();
                lines += 1;
            }
            lessons.add(taught);
        }
        if made == jobs {
            break;
        }
    }
    out.flush().unwrap();
    let fading = Fading { now: NOW.parse().unwrap(), half_life: Some(HALF_LIFE) };
    write_counts(folder, &lessons, fading);
    println!("{made} jobs, {} of them teach, {lines} rows", lessons.len());
}

/// A copy that went its own way from the closing on.
fn closed_again(job: &[Entry]) -> Vec<Entry> {
    let mut copy = job.to_vec();
    let closed = copy.last().unwrap().clone();
    let from = bench::draw::id_of(job);
    let later = |minutes| closed.at + SignedDuration::from_mins(minutes);
    copy.push(Entry { at: later(1), event: Event::Branched { id: format!("{from}x"), from } });
    copy.push(Entry { at: later(2), event: Event::Reopened });
    copy.push(Entry { at: later(3), event: closed.event });
    copy
}

fn write_counts(folder: &Path, lessons: &Lessons, fading: Fading) {
    let mut links = "finding,parent,asked,yes,clear_yes,clear_no,showed,silent\n".to_owned();
    for ((finding, parent), of) in lessons.links(fading) {
        let numbers = (of.asked, of.yes, of.clear_yes, of.clear_no);
        let (asked, yes, clear_yes, clear_no) = numbers;
        writeln!(links, "{finding},{parent},{asked},{yes},{clear_yes},{clear_no},{:e},{:e}", of.showed, of.silent)
            .unwrap();
    }
    std::fs::write(folder.join("links.csv"), links).unwrap();
    let mut shares = "family,cause,confirmed,jobs,weighed,weighed_jobs\n".to_owned();
    for ((family, cause), of) in lessons.shares(fading) {
        writeln!(shares, "{family},{cause},{},{},{:e},{:e}", of.confirmed, of.jobs, of.weighed.0, of.weighed.1)
            .unwrap();
    }
    std::fs::write(folder.join("shares.csv"), shares).unwrap();
}
