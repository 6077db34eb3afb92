//! Complaint stories: each starts from one everyday complaint and answers only what the person in it could know. The
//! true cause must stand first or second within twelve answers, can't-tells counted.
//!
//! The stories lie in `tests/stories/*.ron`, each with its source. They were written before the graph was tuned on
//! them, by people who had not written the graph. `STORY=name cargo test --test stories -- --nocapture` prints one.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::print_stdout)]

mod common;
#[path = "common/stories.rs"]
mod stories;

use common::MemoryJob;
use std::rc::Rc;
use stories::{Telling, rank, stories};
use weephole::evidence::Why;
use weephole::job::{Entry, Sitting};
use weephole::knowledge::NodeKind;

#[test]
fn the_true_cause_is_first_or_second_within_twelve_answers() {
    let knowledge = Rc::new(common::shipped().knowledge);
    let wanted = std::env::var("STORY").ok();
    let mut failed = Vec::new();
    for (name, story) in stories().into_iter().filter(|(name, _)| wanted.as_ref().is_none_or(|w| w == name)) {
        let trace = wanted.is_some();
        let mut telling = Telling::begin(&story, &knowledge, trace);
        telling.go_on(&story);
        let rank = rank(&telling.job.sitting, &story);
        println!(
            "{name}: place {rank} after {} answers, {} can't-tells, {} misleading ({})",
            telling.answers, telling.cant_tell, telling.misled, story.title
        );
        if trace {
            for row in telling.job.sitting.likely(6) {
                println!("    {:.3} {} {}", row.probability, row.id, row.status.word());
            }
        }
        if 2 < rank {
            failed.push(format!("{name}: true cause at place {rank}"));
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

#[test]
fn stories_are_well_formed() {
    let knowledge = common::shipped().knowledge;
    let stories = stories();
    assert!(10 <= stories.len(), "at least ten stories");
    for (name, story) in &stories {
        assert!(!story.source.trim().is_empty() && !story.title.trim().is_empty(), "{name}: source and title");
        assert!(!story.misleading.is_empty(), "{name}: at least one misleading answer");
        for id in story.knows.keys().chain(&story.complaint).chain(&story.misleading) {
            assert!(knowledge.all.findings.contains_key(id), "{name}: no finding {id}");
        }
        for id in story.reads.keys().chain(story.usual.keys()) {
            assert!(knowledge.all.readings.contains_key(id), "{name}: no reading {id}");
        }
        for id in &story.truth {
            assert!(knowledge.all.causes.contains_key(id), "{name}: no cause {id}");
        }
        for check in &story.can_do {
            assert!(knowledge.all.checks.contains_key(check), "{name}: no check {check}");
        }
        let unknown = story.knows.values().filter(|answer| !answer.speaks()).count();
        assert!(2 <= unknown, "{name}: at least two things the person cannot tell");
    }
}

/// Every cause the stories end in is in the graph of its family.
#[test]
fn truths_are_in_the_graph() {
    let knowledge = Rc::new(common::shipped().knowledge);
    for (name, story) in stories() {
        let job = MemoryJob::open(Rc::clone(&knowledge), &story.family);
        for truth in &story.truth {
            let node = job.sitting.graph.node(truth);
            assert!(node.is_some_and(|n| job.sitting.graph.nodes[n].kind == NodeKind::Cause), "{name}: {truth}");
        }
    }
}

/// Everything the person knows, told at once: there is a belief, what had to be set aside is said, and the true cause is
/// among the first five.
#[test]
fn everything_told_at_once_still_gives_a_belief() {
    let knowledge = Rc::new(common::shipped().knowledge);
    let mut failed = Vec::new();
    for (name, story) in stories() {
        let begun = Telling::begin(&story, &knowledge, false).job.sitting;
        let at = begun.job.last.unwrap();
        let answers = story.knows.iter().map(|(id, answer)| begun.answer(id, *answer, None).unwrap());
        let numbers = story.reads.iter().map(|(id, text)| begun.measure(id, text, None).unwrap().event);
        let told = answers.chain(numbers).map(|event| Entry { at, event });
        let entries: Vec<Entry> = begun.job.entries.iter().cloned().chain(told).collect();
        let told = entries.len();
        let sitting = Sitting::new(Rc::clone(&knowledge), entries).unwrap();
        assert_eq!(sitting.trouble(), None, "{name}");
        let rank = rank(&sitting, &story);
        let tangled = sitting.evidence.set_aside.iter().filter(|aside| aside.why == Why::TooTangled).count();
        println!("{name}: place {rank} with {told} entries, {tangled} set aside as too tangled");
        if 5 < rank {
            failed.push(format!("{name}: true cause at place {rank}"));
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}
