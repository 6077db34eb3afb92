//! A made-up knowledge of 1,000 causes and 5,000 findings put to work: loading, a job of 15 answers, lists, memory. Prints, never
//! asserts.
//!
//! `load_bench [CAUSES FINDINGS CONDITIONS BEHIND FAR SEED]`: FAR is the share of links that go anywhere in the graph: 0 leaves
//! places to themselves, 1 ties everything to everything. Without arguments both are played.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "peak.rs"]
mod peak;
#[path = "../common/wide.rs"]
mod wide;

use jiff::Timestamp;
use std::rc::Rc;
use std::time::Instant;
use weephole::evidence::Answer;
use weephole::job::{Entry, Event, Sitting};
use weephole::knowledge::{SourceText, load};
use weephole::record::markdown;
use wide::{FAMILY, Size, made_up};

/// Answers of a job.
const ANSWERS: usize = 15;

fn main() {
    let given: Vec<f64> = std::env::args().skip(1).filter_map(|word| word.parse().ok()).collect();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // counts typed by a person
    let count = |at: usize, usual: usize| given.get(at).map_or(usual, |number| *number as usize);
    let size = Size {
        causes: count(0, 1000),
        findings: count(1, 5000),
        conditions: count(2, 300),
        behind: count(3, 4),
        far: 0.0,
    };
    let seed = count(5, 1) as u64;
    let fars = given.get(4).map_or(vec![0.02, 1.0], |far| vec![*far]);
    for far in fars {
        play(Size { far, ..size }, seed);
    }
    if let Some(mib) = peak::peak_mib() {
        println!("memory at most {mib:.0} MiB");
    }
}

fn play(size: Size, seed: u64) {
    println!("{size:?}, seed {seed}");
    let text = made_up(size, seed);
    println!("  one file of {:.1} MB", text.len() as f64 / 1e6);
    let (loaded, took) = timed(|| load(vec![SourceText { name: "made_up.ron".to_owned(), text }]));
    println!("  load and check: {took:.0} ms, {} problems, usable: {}", loaded.problems.len(), !loaded.is_broken());
    let knowledge = Rc::new(loaded.knowledge);
    let event = Event::opened(FAMILY, (&knowledge.release, &knowledge.hash), None);
    let entry = |event| Entry { at: Timestamp::UNIX_EPOCH, event };
    let (sitting, took) = timed(|| Sitting::new(Rc::clone(&knowledge), vec![entry(event)]));
    println!("  open a job: {took:.0} ms");
    let mut sitting = sitting.unwrap();
    let (found, took) = timed(|| knowledge.complaints("loud seat", FAMILY).len());
    println!("  search a complaint: {took:.1} ms, {found} found");
    let complaint = Event::Complaint { words: "loud".to_owned(), findings: vec![format!("finding_{}", size.causes)] };
    let ((), took) = timed(|| sitting.apply(entry(complaint)));
    println!("  belief after the complaint: {took:.1} ms");
    let (mut belief, mut first, mut next) = (Vec::new(), Vec::new(), Vec::new());
    for turn in 0..ANSWERS {
        let (steps, took) = timed(|| sitting.plan().steps.len());
        first.push(took);
        let (step, took) = timed(|| sitting.next_step());
        next.push(took);
        let Some(step) = step else { break };
        assert!(0 < steps);
        let finding = step.asks[0].id.clone();
        let answer = if turn % 3 == 0 { Answer::Yes } else { Answer::No };
        let told = Event::Answered { finding, answer, check: Some(step.check.clone()) };
        let ((), took) = timed(|| sitting.apply(entry(told)));
        belief.push(took);
    }
    print("belief after an answer", &mut belief);
    print("first list and next question", &mut first);
    print("page of the next question", &mut next);
    let (all, took) = timed(|| {
        let mut all = sitting.all_checks();
        let (done, of) = all.progress();
        let mut portions = 0;
        while !all.is_whole() {
            sitting.more_checks(&mut all);
            portions += 1;
        }
        (of - done, portions)
    });
    println!("  complete list: {took:.0} ms, {} questions in {} portions", all.0, all.1);
    let (shown, took) = timed(|| sitting.results(5).causes.len());
    println!("  results: {took:.0} ms, {shown} causes");
    let (shown, took) = timed(|| sitting.doubts().is_some());
    println!("  doubts: {took:.0} ms, {shown}");
    let (text, took) = timed(|| markdown(&sitting));
    println!("  record: {took:.0} ms, {} bytes", text.len());
    let aside = sitting.trail().into_iter().filter_map(|row| row.set_aside).collect::<Vec<_>>();
    println!("  set aside: {aside:?}; {}", sitting.trouble().unwrap_or_default());
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let start = Instant::now();
    let done = work();
    (done, start.elapsed().as_secs_f64() * 1e3)
}

fn print(what: &str, times: &mut [f64]) {
    times.sort_by(f64::total_cmp);
    if let (Some(worst), Some(median)) = (times.last(), times.get(times.len() / 2)) {
        println!("  {what}: median {median:.1} ms, worst {worst:.1} ms, {} times", times.len());
    }
}
