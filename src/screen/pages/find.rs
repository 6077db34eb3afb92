//! Turns free words into the findings and readings they may mean, best first.

use crate::job::Sitting;
use crate::knowledge::Hit;

/// Matches listed at most.
const LISTED: usize = 40;

/// Findings someone could complain of with these words; without words, those with the most everyday names first.
pub(super) fn complaints(sitting: &Sitting, words: &str) -> Vec<Hit> {
    let mut hits = sitting.knowledge.complaints(words, &sitting.job.family);
    if words.trim().is_empty() {
        for hit in &mut hits {
            hit.matched.clear();
        }
    } else {
        hits.truncate(LISTED);
    }
    hits
}

/// Findings and readings of this family by name, everyday words and question.
pub(super) fn observables(sitting: &Sitting, words: &str) -> Vec<Hit> {
    let mut hits = sitting.knowledge.observables(words, &sitting.job.family);
    hits.truncate(LISTED);
    hits
}
