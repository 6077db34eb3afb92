//! Turns what a person decides about a proposal into a line that is kept, and such lines back.

use super::proposal::Proposal;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Accepted or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The number is to be changed.
    Accepted,
    /// The number stays.
    Rejected,
}

/// One line of the audit: who decided what on which counts. Nothing is ever taken out again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Decision {
    /// When.
    pub at: Timestamp,
    /// Initials and role.
    pub who: String,
    /// What was decided.
    pub verdict: Verdict,
    /// Where the number stands in the knowledge.
    pub path: String,
    /// The number as it stood.
    pub old: f64,
    /// The number proposed.
    pub new: f64,
    /// Lower end of its 95 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Asked answers, and "yes" among them.
    pub asked: u64,
    /// "Yes" among them.
    pub yes: u64,
    /// Clear "yes".
    pub clear_yes: u64,
    /// Clear "no".
    pub clear_no: u64,
    /// Expected times it showed.
    pub showed: f64,
    /// Expected times it did not.
    pub silent: f64,
    /// Clear cases that the answers are worth.
    pub worth: f64,
    /// Hash of the knowledge it was proposed for.
    pub knowledge: String,
    /// Number of the edit that wrote it into the knowledge; none = it was only told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edit: Option<u32>,
}

/// One change of a knowledge file: where, and what stands there then.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Edit {
    /// Kind, id and fields, parted by dots.
    pub path: String,
    /// The value as it is written in the file.
    pub value: String,
}

impl Decision {
    /// What `who` decides about a proposal for the knowledge with this hash.
    pub fn of(proposal: &Proposal, verdict: Verdict, (at, who): (Timestamp, &str), knowledge: &str) -> Self {
        let (learned, counts) = (proposal.learned, proposal.counts);
        Self {
            at,
            who: who.to_owned(),
            verdict,
            path: proposal.target.path(),
            old: proposal.old,
            new: learned.new,
            low: learned.low,
            high: learned.high,
            asked: counts.asked,
            yes: counts.yes,
            clear_yes: counts.clear_yes,
            clear_no: counts.clear_no,
            showed: counts.showed,
            silent: counts.silent,
            worth: learned.worth,
            knowledge: knowledge.to_owned(),
            edit: None,
        }
    }

    /// Every decision of an audit; the number of the first line that is none, from 1, and why.
    pub fn read(text: &str) -> Result<Vec<Self>, (usize, String)> {
        let lines = text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
        lines.map(|(at, line)| serde_json::from_str(line).map_err(|error| (at + 1, error.to_string()))).collect()
    }

    /// When the number at each path was last accepted: jobs closed before that are in the number already. One whose edit is
    /// among those taken back counts as never accepted.
    pub fn accepted(decisions: &[Self], undone: &[u32]) -> BTreeMap<String, Timestamp> {
        let stands = |decision: &&Self| !decision.edit.is_some_and(|edit| undone.contains(&edit));
        let accepted = decisions.iter().filter(|decision| decision.verdict == Verdict::Accepted);
        accepted.filter(stands).map(|decision| (decision.path.clone(), decision.at)).collect()
    }

    /// True if this rejection still stands for a proposal: little has been counted since, and it says about the same.
    pub fn still_rejects(&self, proposal: &Proposal) -> bool {
        let little = proposal.counts.asked <= self.asked + self.asked / 2;
        let inside = (self.low..=self.high).contains(&proposal.learned.new);
        self.verdict == Verdict::Rejected && self.path == proposal.target.path() && little && inside
    }
}
