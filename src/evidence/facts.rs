//! Turns what was said and measured into one set, whatever the order it came in.

use super::answer::Answer;
use crate::knowledge::schema::Id;
use crate::quantity::Quantity;
use indexmap::IndexMap;

/// Everything known in a job.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facts {
    /// Findings the operator complained of.
    pub complaint: Vec<Id>,
    /// Answers by finding.
    pub answers: IndexMap<Id, Answer>,
    /// Numbers by reading.
    pub numbers: IndexMap<Id, Measured>,
    /// Usual values of this pump, by reading.
    pub usual: IndexMap<Id, Quantity>,
}

/// A number as entered.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The value.
    pub quantity: Quantity,
    /// As typed.
    pub text: String,
}

impl Facts {
    /// The answer that counts for a finding: its own, else yes if it was complained of.
    pub fn answer(&self, finding: &str) -> Option<Answer> {
        self.answers.get(finding).copied().or_else(|| self.is_complaint(finding).then_some(Answer::Yes))
    }

    /// True if the operator complained of it.
    pub fn is_complaint(&self, finding: &str) -> bool {
        self.complaint.iter().any(|id| id == finding)
    }

    /// Every finding with an answer, complaints first.
    pub fn findings(&self) -> Vec<(&Id, Answer)> {
        let complaints = self.complaint.iter().filter(|id| !self.answers.contains_key(*id)).map(|id| (id, Answer::Yes));
        complaints.chain(self.answers.iter().map(|(id, answer)| (id, *answer))).collect()
    }
}
