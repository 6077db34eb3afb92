//! Turns the lines of a journal into the few things a list of jobs shows, and its first line into the job's id.

use super::event::{Ending, Entry, Event};
use crate::knowledge::schema::Id;
use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// What a list of jobs shows of one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct JobSummary {
    /// The job's own id.
    pub id: String,
    /// Id it began with: the same for copies that went different ways.
    pub root: String,
    /// The pump, as people call it; empty without a sheet.
    pub pump: String,
    /// Family id.
    pub family: Id,
    /// The complaint, verbatim.
    pub complaint: String,
    /// Findings it was taken for.
    pub findings: Vec<Id>,
    /// How it ended; none while it is open.
    pub ending: Option<Ending>,
    /// The cause it was closed with.
    pub cause: Option<Id>,
    /// The remark it was closed with.
    pub remark: String,
    /// First entry.
    pub opened: Timestamp,
    /// Last entry.
    pub last: Timestamp,
    /// The day on which somebody looks again.
    pub follow_up: Option<Date>,
    /// Number of entries.
    pub entries: usize,
}

/// The id of a job: twelve hex digits of the SHA-256 of its journal's first line (the JSON, without its check). That line
/// holds the instant of opening, so that laptops need not agree on numbers.
pub fn job_id(first_line: &str) -> String {
    hex(&[first_line])
}

/// The id of a copy that went its own way: of the first line and the line where it left the other.
pub(super) fn branch_id(first_line: &str, parting: &str) -> String {
    hex(&[first_line, parting])
}

fn hex(lines: &[&str]) -> String {
    let mut hasher = Sha256::new();
    for line in lines {
        hasher.update(line.as_bytes());
        hasher.update([b'\n']);
    }
    hasher.finalize().iter().take(6).fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

impl JobSummary {
    /// The summary of a journal: its first line and its entries; none unless it begins with an opening.
    pub fn of(first_line: &str, entries: &[Entry]) -> Option<Self> {
        let first = entries.first()?;
        let Event::Opened { family, pump, .. } = &first.event else { return None };
        let root = job_id(first_line);
        let mut summary = Self {
            id: root.clone(),
            root,
            pump: pump.as_ref().map(|pump| pump.name.clone()).unwrap_or_default(),
            family: family.clone(),
            complaint: String::new(),
            findings: Vec::new(),
            ending: None,
            cause: None,
            remark: String::new(),
            opened: first.at,
            last: first.at,
            follow_up: None,
            entries: entries.len(),
        };
        for entry in entries {
            summary.add(entry);
        }
        Some(summary)
    }

    fn add(&mut self, entry: &Entry) {
        if !matches!(entry.event, Event::Branched { .. }) {
            self.last = entry.at;
        }
        match &entry.event {
            Event::Complaint { words, findings } => {
                if self.complaint.is_empty() {
                    self.complaint.clone_from(words);
                }
                self.findings.extend(findings.iter().cloned());
            }
            Event::Closed { ending, cause, words } => {
                self.ending = Some(*ending);
                self.cause.clone_from(cause);
                self.remark.clone_from(words);
            }
            Event::Sheet { pump } => self.pump.clone_from(&pump.name),
            Event::Reopened => self.ending = None,
            Event::FollowUp { on } => self.follow_up = Some(*on),
            Event::Branched { id, .. } => self.id.clone_from(id),
            _ => {}
        }
    }

    /// True while it is not closed.
    pub fn is_open(&self) -> bool {
        self.ending.is_none()
    }
}
