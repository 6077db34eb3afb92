//! Turns free words into the findings and readings they may mean, best first.
//!
//! All words together are tried first. Where nothing answers to all of them, as with a whole sentence, runs of
//! neighbouring words are tried, the longest first.

use super::session::Session;
use crate::knowledge::schema::{Finding, Id};
use crate::knowledge::{Hit, search};
use crate::text::fold;

/// Matches listed at most.
const LISTED: usize = 8;

/// Matches taken from one run of words.
const PER_RUN: usize = 3;

/// Words that point nowhere by themselves.
const FILLERS: &[&str] = &[
    "a", "after", "all", "an", "and", "are", "at", "bit", "but", "for", "from", "get", "gets", "got", "has", "in",
    "is", "it", "its", "just", "like", "of", "off", "on", "or", "our", "out", "pump", "since", "so", "that", "the",
    "then", "there", "this", "to", "up", "was", "we", "when", "while", "with",
];

/// Words of a sentence that are looked at.
const WORDS: usize = 16;

/// Neighbouring words looked up together.
const LONGEST_RUN: usize = 3;

impl Session<'_> {
    /// Findings someone could complain of with these words.
    pub(super) fn complaints(&self, words: &str) -> Vec<Hit> {
        let (knowledge, family) = (&self.sitting.knowledge, &self.sitting.job.family);
        together_or_each(words, |words| knowledge.complaints(words, family))
    }

    /// Findings that can be a complaint, those with the most everyday words first: nobody counts complaints yet.
    pub(super) fn most_named(&self) -> Vec<Id> {
        let all = &self.sitting.knowledge.all.findings;
        let words = |id: &str| all.get(id).map_or(0, |finding: &Finding| finding.aliases.len());
        let hits = self.sitting.knowledge.complaints("", &self.sitting.job.family);
        let mut ids: Vec<Id> = hits.into_iter().map(|hit| hit.id).collect();
        ids.sort_by(|a, b| words(b).cmp(&words(a)).then_with(|| a.cmp(b)));
        ids.truncate(LISTED);
        ids
    }

    /// Findings and readings of this family by name, everyday words and question.
    pub(super) fn observables(&self, words: &str) -> Vec<Hit> {
        let all = &self.sitting.knowledge.all;
        let family = &self.sitting.job.family;
        let here = |families: &[Id]| families.is_empty() || families.contains(family);
        let findings = all.findings.iter().filter(|(_, entry)| here(&entry.families));
        let findings = findings.map(|(id, entry)| (id.as_str(), texts(&entry.name, &entry.aliases, &entry.question)));
        let readings = all.readings.iter().filter(|(_, entry)| here(&entry.families));
        let readings = readings.map(|(id, entry)| (id.as_str(), texts(&entry.name, &entry.aliases, &entry.question)));
        let candidates: Vec<(&str, Vec<&str>)> = findings.chain(readings).collect();
        together_or_each(words, |words| search(words, &candidates))
    }
}

fn texts<'k>(name: &'k str, aliases: &'k [String], question: &'k str) -> Vec<&'k str> {
    std::iter::once(name).chain(aliases.iter().map(String::as_str)).chain(std::iter::once(question)).collect()
}

fn together_or_each(words: &str, find: impl Fn(&str) -> Vec<Hit>) -> Vec<Hit> {
    let mut hits = exact_first(words, find(words));
    if hits.is_empty() {
        hits = by_runs(words, find);
    }
    hits.truncate(LISTED);
    hits
}

/// Runs of neighbouring words, the longest first: what answers to "pressure drops" comes before what answers to one.
fn by_runs(words: &str, find: impl Fn(&str) -> Vec<Hit>) -> Vec<Hit> {
    let folded = fold(words);
    let cut = |character: char| !character.is_alphanumeric() && character != '\'';
    let parts: Vec<&str> =
        folded.split(cut).filter(|part| !part.is_empty() && !FILLERS.contains(part)).take(WORDS).collect();
    let mut found: Vec<Hit> = Vec::new();
    for length in (1..=LONGEST_RUN.min(parts.len())).rev() {
        let runs = parts.windows(length).map(|run| run.join(" "));
        for hit in runs.flat_map(|run| exact_first(&run, find(&run)).into_iter().take(PER_RUN)) {
            if found.iter().all(|known| known.id != hit.id) {
                found.push(hit);
            }
        }
    }
    found
}

/// Everyday words typed just as they stand in the knowledge come before everything else.
fn exact_first(words: &str, mut hits: Vec<Hit>) -> Vec<Hit> {
    let words = fold(words);
    hits.sort_by_key(|hit| fold(&hit.matched) != words);
    hits
}

/// A name, and the everyday words that matched if they are others.
pub(super) fn with_alias(name: &str, matched: &str) -> String {
    if matched == name { name.to_owned() } else { format!("{name} (\"{matched}\")") }
}
