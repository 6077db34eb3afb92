//! Any bytes typed line by line: no panic, no control characters said, and what was saved is a job that can be taken up.

use super::job::{look_at, record};
use super::memory::Jobs;
use super::{shown, small};
use std::rc::Rc;
use weephole::job::{Entry, Sitting};
use weephole::line::{Options, run};
use weephole::record::markdown;

/// Lines typed, at most: a longer job only repeats what a shorter one finds.
const LINES: usize = 14;

pub fn target(data: &[u8]) {
    let [how, typed @ ..] = data else { return };
    let typed: Vec<&[u8]> = typed.split_inclusive(|byte| *byte == b'\n').take(LINES).collect();
    let typed = typed.concat();
    let full_from = (128 <= *how).then(|| usize::from(*how - 128));
    let mut jobs = Jobs { full_from, ..Jobs::default() };
    say(&mut jobs, &typed, None);
    let kept: Vec<Vec<Entry>> = jobs.kept.borrow().clone();
    for entries in kept {
        for entry in &entries {
            let line = serde_json::to_string(entry).expect("an entry can be written");
            assert!(line.bytes().all(|byte| b' ' <= byte), "{line}");
            assert_eq!(serde_json::from_str::<Entry>(&line).as_ref().ok(), Some(entry), "{line}");
        }
        let which = entries.len();
        let sitting = Sitting::new(small(), entries).expect("what was saved is a job");
        look_at(&sitting);
        record(&sitting, which);
    }
    // Taken up again: half of the inputs, since it takes as long as the job itself.
    if how % 2 == 1 && !jobs.kept.borrow().is_empty() {
        say(&mut jobs, &typed, Some(1));
    }
}

fn say(jobs: &mut Jobs, typed: &[u8], resume: Option<u32>) {
    let options = Options { family: "bench".to_owned(), resume, record: markdown };
    let mut out = Vec::new();
    let _ = run(jobs, Rc::clone(&small()), &mut &typed[..], &mut out, options);
    shown(&String::from_utf8(out).expect("what is said is text"));
}
