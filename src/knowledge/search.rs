//! Turns a few typed words into the entries they may mean; misspellings get a second chance.

use super::entries::Knowledge;
use super::graph::applies;
use super::problem::did_you_mean;
use crate::text::fold;
use fuzzy_matcher::FuzzyMatcher;
use fuzzy_matcher::skim::SkimMatcherV2;
use indexmap::IndexMap;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Longest query looked at, in characters.
const QUERY_LIMIT: usize = 64;

/// One entry found.
#[derive(Debug, Clone, PartialEq)]
pub struct Hit {
    /// Id.
    pub id: String,
    /// Score, higher is better.
    pub score: i64,
    /// The text that matched: a name, question or everyday alias.
    pub matched: String,
}

/// Small words that say nothing about a pump.
const FILLERS: &[&str] = &[
    "a", "after", "all", "an", "and", "are", "at", "be", "been", "bit", "but", "by", "for", "from", "get", "gets",
    "got", "has", "have", "i", "in", "is", "it", "its", "just", "like", "me", "my", "of", "off", "on", "or", "our",
    "out", "pump", "since", "so", "that", "the", "then", "there", "they", "this", "to", "up", "very", "was", "we",
    "when", "while", "with", "you",
];

/// Entries among `candidates` (id and texts) that match the query, best first: each word of the query counts by how few
/// entries it fits, words that fit nothing are tried with a misspelling mended. An empty query finds all.
pub fn search<'a>(query: &str, candidates: &[(&'a str, Vec<&'a str>)]) -> Vec<Hit> {
    let texts: Vec<(&str, &str, Vec<String>)> =
        candidates.iter().flat_map(|(id, texts)| texts.iter().map(|text| (*id, *text, words_of(text)))).collect();
    let words = words_of(&query.chars().take(QUERY_LIMIT).collect::<String>());
    if words.is_empty() {
        return candidates.iter().map(|(id, texts)| hit(id, 0, texts.first().unwrap_or(&""))).collect();
    }
    let matcher = SkimMatcherV2::default().ignore_case();
    let scored: Vec<Vec<i64>> = words.iter().map(|word| word_scores(&matcher, word, &texts)).collect();
    let mut best: IndexMap<&str, Hit> = IndexMap::new();
    for (at, (id, text, text_words)) in texts.iter().enumerate() {
        let sum: i64 = scored.iter().map(|of_word| of_word[at]).sum();
        // Of two texts with the same words matched, the shorter says it more plainly.
        // Words typed just as they stand come before everything else.
        let exact = if *text_words == words { 4 } else { 1 };
        let score = exact * sum * 20 / (19 + i64::try_from(text_words.len()).unwrap_or(1));
        if 0 < sum && best.get(id).is_none_or(|known| known.score < score) {
            best.insert(id, hit(id, score, text));
        }
    }
    let mut hits: Vec<Hit> = best.into_values().collect();
    hits.sort_by(|a, b| b.score.cmp(&a.score).then_with(|| a.id.cmp(&b.id)));
    hits
}

fn hit(id: &str, score: i64, matched: &str) -> Hit {
    Hit { id: id.to_owned(), score, matched: matched.to_owned() }
}

fn words_of(text: &str) -> Vec<String> {
    let folded = fold(text);
    let words = folded.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    words.filter(|word| !FILLERS.contains(word)).map(str::to_owned).collect()
}

/// What one word of the query is worth in each text: how well it fits, times how rare it is.
fn word_scores(matcher: &SkimMatcherV2, word: &str, texts: &[(&str, &str, Vec<String>)]) -> Vec<i64> {
    let fits: Vec<i64> = texts.iter().map(|(.., words)| fit(matcher, word, words)).collect();
    if fits.iter().all(|fit| *fit == 0) {
        let known = texts.iter().flat_map(|(.., words)| words).map(String::as_str).filter(|known| 3 < known.len());
        let mended = did_you_mean(word, known).filter(|mended| *mended != word).map(str::to_owned);
        return mended.map_or(fits, |mended| texts.iter().map(|(.., words)| fit(matcher, &mended, words)).collect());
    }
    let entries: BTreeSet<&str> = texts.iter().zip(&fits).filter(|(_, f)| 0 < **f).map(|((id, ..), _)| *id).collect();
    let rarity = 4 + i64::from((texts.len() / entries.len().max(1)).max(1).ilog2());
    fits.into_iter().map(|fit| fit * rarity).collect()
}

/// How well a word fits a text: as its best word does.
fn fit(matcher: &SkimMatcherV2, word: &str, words: &[String]) -> i64 {
    words.iter().map(|other| fit_one(matcher, word, other)).max().unwrap_or(0)
}

/// How well a word fits another: 10 the same, 7 with another ending, 3 with its letters close together in it, 0 not.
fn fit_one(matcher: &SkimMatcherV2, word: &str, other: &str) -> i64 {
    if word == other {
        return 10;
    }
    let length = word.chars().count();
    let stem: String = word.chars().take(length.saturating_sub(2).max(4)).collect();
    let same_stem = 4 <= stem.chars().count() && other.starts_with(&stem);
    if same_stem || other.starts_with(word) || (4 <= other.len() && word.starts_with(other)) {
        return 7;
    }
    let dense = i64::try_from(length).unwrap_or(i64::MAX).saturating_mul(17);
    let close = 3 < word.len() && matcher.fuzzy_match(other, word).is_some_and(|score| dense <= score);
    if close { 3 } else { 0 }
}

/// The texts that hold every word of the query, if only nearly: place and score, best first, then in order of place.
/// Words that fit nothing are tried with a misspelling mended. An empty query finds none.
pub fn search_all(query: &str, texts: &[&str]) -> Vec<(usize, i64)> {
    let mut vocabulary: IndexMap<String, Vec<usize>> = IndexMap::new();
    for (at, text) in texts.iter().enumerate() {
        for word in words_of(text) {
            vocabulary.entry(word).or_default().push(at);
        }
    }
    let matcher = SkimMatcherV2::default().ignore_case();
    let words = words_of(&query.chars().take(QUERY_LIMIT).collect::<String>());
    let found = words.iter().map(|word| places(&matcher, word, &vocabulary)).reduce(|all, more| {
        let both = all.into_iter().filter_map(|(at, score)| Some((at, score + more.get(&at)?)));
        both.collect()
    });
    let mut found: Vec<(usize, i64)> = found.unwrap_or_default().into_iter().collect();
    found.sort_by_key(|(at, score)| (Reverse(*score), *at));
    found
}

/// Where a word stands in the texts behind a vocabulary, and how well it fits there.
fn places(matcher: &SkimMatcherV2, word: &str, vocabulary: &IndexMap<String, Vec<usize>>) -> BTreeMap<usize, i64> {
    let of = |word: &str| {
        let mut places: BTreeMap<usize, i64> = BTreeMap::new();
        for (known, texts) in vocabulary {
            let score = fit_one(matcher, word, known);
            for at in texts.iter().filter(|_| 0 < score) {
                let best = places.entry(*at).or_default();
                *best = score.max(*best);
            }
        }
        places
    };
    let places = of(word);
    if !places.is_empty() {
        return places;
    }
    let known = vocabulary.keys().map(String::as_str).filter(|known| 3 < known.len());
    did_you_mean(word, known).map(of).unwrap_or_default()
}

impl Knowledge {
    /// Findings someone could complain of, found by their everyday words; what an operator would say comes before
    /// what only a fitter sees. An empty query lists all of them, those with the most everyday words first.
    pub fn complaints(&self, query: &str, family: &str) -> Vec<Hit> {
        let here = self.all.findings.iter().filter(|(_, finding)| applies(&finding.families, family));
        let candidates: Vec<(&str, Vec<&str>)> = here
            .filter(|(_, finding)| !finding.aliases.is_empty())
            .map(|(id, finding)| {
                let texts = std::iter::once(&finding.name).chain(&finding.aliases).map(String::as_str).collect();
                (id.as_str(), texts)
            })
            .collect();
        let mut hits = search(query, &candidates);
        for hit in &mut hits {
            hit.score = if self.is_symptom(&hit.id) { hit.score * 2 } else { hit.score };
        }
        let words = |id: &str| self.all.findings.get(id).map_or(0, |finding| finding.aliases.len());
        hits.sort_by_key(|hit| {
            (Reverse(hit.score), !self.is_symptom(&hit.id), Reverse(words(&hit.id)), hit.id.clone())
        });
        hits
    }

    /// Findings and readings of a family by name, everyday words and question; nothing for an empty query.
    pub fn observables(&self, query: &str, family: &str) -> Vec<Hit> {
        if query.trim().is_empty() {
            return Vec::new();
        }
        let findings = self.all.findings.iter().filter(|(_, entry)| applies(&entry.families, family));
        let findings = findings.map(|(id, entry)| (id.as_str(), texts(&entry.name, &entry.aliases, &entry.question)));
        let readings = self.all.readings.iter().filter(|(_, entry)| applies(&entry.families, family));
        let readings = readings.map(|(id, entry)| (id.as_str(), texts(&entry.name, &entry.aliases, &entry.question)));
        search(query, &findings.chain(readings).collect::<Vec<_>>())
    }

    /// True for what people call about: an unknown cause can show itself this way too.
    fn is_symptom(&self, finding: &str) -> bool {
        let unknown = |id: &str| self.all.causes.get(id).is_some_and(|cause| cause.stands_for_unknown);
        self.all.findings.get(finding).is_some_and(|finding| finding.shown_by.keys().any(|id| unknown(id)))
    }
}

fn texts<'k>(name: &'k str, aliases: &'k [String], question: &'k str) -> Vec<&'k str> {
    std::iter::once(name).chain(aliases.iter().map(String::as_str)).chain(std::iter::once(question)).collect()
}
