//! Turns free words into the findings and readings they may mean, best first.
//!
//! All words together are tried first. Where nothing answers to all of them, as with a whole sentence, runs of
//! neighbouring words are tried, the longest first.

use crate::job::Sitting;
use crate::knowledge::schema::Id;
use crate::knowledge::{Hit, search};
use crate::text::fold;

/// Matches listed at most.
const LISTED: usize = 40;
/// Matches taken from one run of words.
const PER_RUN: usize = 3;
/// Words of a sentence that are looked at.
const WORDS: usize = 16;
/// Neighbouring words looked up together.
const LONGEST_RUN: usize = 3;

/// Words that point nowhere by themselves.
const FILLERS: &[&str] = &[
    "a", "after", "all", "an", "and", "are", "at", "bit", "but", "for", "from", "get", "gets", "got", "has", "in",
    "is", "it", "its", "just", "like", "of", "off", "on", "or", "our", "out", "pump", "since", "so", "that", "the",
    "then", "there", "this", "to", "up", "was", "we", "when", "while", "with",
];

/// Findings someone could complain of with these words; without words, those with the most everyday names first.
pub(super) fn complaints(sitting: &Sitting, words: &str) -> Vec<Hit> {
    let (knowledge, family) = (&sitting.knowledge, &sitting.job.family);
    if words.trim().is_empty() {
        let names = |id: &str| knowledge.all.findings.get(id).map_or(0, |finding| finding.aliases.len());
        let mut hits = knowledge.complaints("", family);
        hits.sort_by(|a, b| names(&b.id).cmp(&names(&a.id)).then_with(|| a.id.cmp(&b.id)));
        for hit in &mut hits {
            hit.matched.clear();
        }
        return hits;
    }
    together_or_each(words, |words| knowledge.complaints(words, family))
}

/// Findings and readings of this family by name, everyday words and question.
pub(super) fn observables(sitting: &Sitting, words: &str) -> Vec<Hit> {
    if words.trim().is_empty() {
        return Vec::new();
    }
    let (all, family) = (&sitting.knowledge.all, &sitting.job.family);
    let here = |families: &[Id]| families.is_empty() || families.contains(family);
    let findings = all.findings.iter().filter(|(_, entry)| here(&entry.families));
    let findings = findings.map(|(id, entry)| (id.as_str(), texts(&entry.name, &entry.aliases, &entry.question)));
    let readings = all.readings.iter().filter(|(_, entry)| here(&entry.families));
    let readings = readings.map(|(id, entry)| (id.as_str(), texts(&entry.name, &entry.aliases, &entry.question)));
    let candidates: Vec<(&str, Vec<&str>)> = findings.chain(readings).collect();
    together_or_each(words, |words| search(words, &candidates))
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

/// What answers to "pressure drops" comes before what answers to one of the two words.
fn by_runs(words: &str, find: impl Fn(&str) -> Vec<Hit>) -> Vec<Hit> {
    let folded = fold(words);
    let ends = |character: char| !character.is_alphanumeric() && character != '\'';
    let parts: Vec<&str> =
        folded.split(ends).filter(|part| !part.is_empty() && !FILLERS.contains(part)).take(WORDS).collect();
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
