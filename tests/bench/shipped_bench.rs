//! Turns the complaint stories into timings on the shipped knowledge: each job is told again, event by event.
//!
//! Prints for the belief (all nodes, statuses included) and for the plan (first ranked list and next step): median and
//! worst over all events of all stories, milliseconds, one core.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/stories.rs"]
mod stories;

use common::shipped;
use std::rc::Rc;
use std::time::Instant;
use stories::{Telling, stories};
use weephole::job::Sitting;

fn main() {
    let knowledge = Rc::new(shipped().knowledge);
    let (mut belief, mut plan) = (Vec::new(), Vec::new());
    for (_, story) in stories() {
        let mut telling = Telling::begin(&story, &knowledge, false);
        telling.go_on(&story);
        let mut events = telling.job.sitting.job.entries.clone().into_iter();
        let mut sitting = Sitting::new(Rc::clone(&knowledge), events.next().into_iter().collect()).unwrap();
        for event in events {
            belief.push(milliseconds(|| sitting.apply(event)));
            plan.push(milliseconds(|| {
                let _ = sitting.plan();
            }));
        }
    }
    print("belief", belief);
    print("plan", plan);
}

fn milliseconds(work: impl FnOnce()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64() * 1e3
}

fn print(what: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    println!(
        "{what}: median {:.2} ms, worst {:.2} ms, {} times",
        times[times.len() / 2],
        times[times.len() - 1],
        times.len()
    );
}
