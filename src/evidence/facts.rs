//! Turns what was said and measured into one set, whatever the order it came in.

use super::answer::Answer;
use crate::knowledge::schema::Id;
use crate::knowledge::{Knowledge, dimension_named};
use crate::quantity::Quantity;
use indexmap::{IndexMap, IndexSet};

/// Everything known in a job.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facts {
    /// Findings the operator complained of.
    pub complaint: Vec<Id>,
    /// Answers by finding.
    pub answers: IndexMap<Id, Answer>,
    /// Numbers by reading; by [`number_key`] where they were taken in another running state than the reading's own.
    pub numbers: IndexMap<Id, Measured>,
    /// Usual values of this pump, by reading or key.
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

/// What parts a reading from the running state it was taken in.
const IN_STATE: char = '@';

/// Under what a number is kept: its reading, and the words of the running state if that is not the reading's own.
pub fn number_key(reading: &str, state: &str) -> Id {
    if state.is_empty() { reading.to_owned() } else { format!("{reading}{IN_STATE}{state}") }
}

/// The reading and the words of the running state of a key; no words for the reading's own state.
pub fn of_key(key: &str) -> (&str, &str) {
    key.split_once(IN_STATE).map_or((key, ""), |(reading, state)| (reading.trim(), state.trim()))
}

/// The quantity behind a value in SI of a reading or key.
pub fn quantity_of(knowledge: &Knowledge, key: &str, si: f64) -> Option<Quantity> {
    let reading = knowledge.all.readings.get(of_key(key).0)?;
    Quantity::new(dimension_named(&reading.quantity)?, si).ok()
}

impl Facts {
    /// The answer that counts for a finding: its own, else yes if it was complained of.
    pub fn answer(&self, finding: &str) -> Option<Answer> {
        self.answers.get(finding).copied().or_else(|| self.is_complaint(finding).then_some(Answer::Yes))
    }

    /// As if these had never been said or measured.
    pub fn forget(&mut self, ids: &IndexSet<Id>) {
        self.complaint.retain(|id| !ids.contains(id));
        self.answers.retain(|id, _| !ids.contains(id));
        self.numbers.retain(|id, _| !ids.contains(id));
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
