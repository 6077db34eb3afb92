//! Turns free words into the few findings and readings they may mean, best first.

use super::session::Session;
use crate::knowledge::Hit;
use crate::knowledge::schema::Id;

/// Matches listed at most.
const LISTED: usize = 8;

impl Session<'_> {
    /// Findings someone could complain of with these words.
    pub(super) fn complaints(&self, words: &str) -> Vec<Hit> {
        let mut hits = self.sitting.knowledge.complaints(words, &self.sitting.job.family);
        hits.truncate(LISTED);
        hits
    }

    /// Findings that can be a complaint, those with the most everyday words first: nobody counts complaints yet.
    pub(super) fn most_named(&self) -> Vec<Id> {
        self.complaints("").into_iter().map(|hit| hit.id).collect()
    }

    /// Findings and readings of this family by name, everyday words and question.
    pub(super) fn observables(&self, words: &str) -> Vec<Hit> {
        let mut hits = self.sitting.knowledge.observables(words, &self.sitting.job.family);
        hits.truncate(LISTED);
        hits
    }
}

/// A name, and the everyday words that matched if they are others.
pub(super) fn with_alias(name: &str, matched: &str) -> String {
    if matched == name { name.to_owned() } else { format!("{name} (\"{matched}\")") }
}
