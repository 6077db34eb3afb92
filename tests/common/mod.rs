//! What several tests share: the shipped knowledge, and jobs kept in memory with a clock that stands where it is put.

#![allow(dead_code, clippy::unwrap_used, clippy::expect_used)]

use jiff::{SignedDuration, Timestamp};
use std::path::{Path, PathBuf};
use std::rc::Rc;
use weephole::job::{Entry, Event, GateView, JOURNAL_VERSION, Sitting};
use weephole::knowledge::{Knowledge, Loaded, SourceText, load};

/// Root of the project.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// All knowledge files below a folder.
pub fn sources(folder: &Path) -> Vec<SourceText> {
    let mut found = Vec::new();
    gather(folder, folder, &mut found);
    found
}

fn gather(top: &Path, folder: &Path, found: &mut Vec<SourceText>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            gather(top, &path, found);
        } else if path.extension().is_some_and(|extension| extension == "ron") {
            let name = path.strip_prefix(top).unwrap().to_string_lossy().into_owned();
            found.push(SourceText { name, text: std::fs::read_to_string(&path).unwrap() });
        }
    }
}

/// The shipped knowledge with its problems.
pub fn shipped() -> Loaded {
    load(sources(&root().join("knowledge")))
}

/// A job in memory: every event takes half a minute.
pub struct MemoryJob {
    /// The job at work.
    pub sitting: Sitting,
    at: Timestamp,
}

impl MemoryJob {
    /// Opens a job for a family.
    pub fn open(knowledge: Rc<Knowledge>, family: &str) -> Self {
        let at: Timestamp = "2026-11-02T07:30:00Z".parse().unwrap();
        let event = Event::Opened {
            version: JOURNAL_VERSION,
            program: "test".to_owned(),
            family: family.to_owned(),
            release: knowledge.release.clone(),
            hash: knowledge.hash.clone(),
            pump: None,
        };
        let sitting = Sitting::new(knowledge, vec![Entry { at, event }]).unwrap();
        Self { sitting, at }
    }

    /// Answers every line of a gate so that it is passed.
    pub fn pass(&mut self, gate: &GateView) {
        for event in gate.all_yes("R.K., fitter") {
            self.happens(event);
        }
    }

    /// Something happens after so many minutes.
    pub fn after(&mut self, minutes: i64, event: Event) {
        self.at += SignedDuration::from_mins(minutes);
        self.sitting.apply(Entry { at: self.at, event });
    }

    /// Something happens.
    pub fn happens(&mut self, event: Event) {
        self.at += SignedDuration::from_secs(30);
        self.sitting.apply(Entry { at: self.at, event });
    }
}
