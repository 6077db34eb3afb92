//! Turns belief into reasons in words: why this question, why this cause, what is open, what an idea comes to.

mod doubts;
mod idea;
mod numbers;

pub use doubts::{Doubts, TurningAnswer, Unexplained};
pub use idea::{IdeaOfCause, IdeaView, Look};
pub use numbers::Sway;

use super::sitting::Sitting;
use crate::belief::{Question, explain, in_order, outcomes};
use crate::knowledge::schema::Id;

/// What one answer does to a cause.
#[derive(Debug, Clone, PartialEq)]
pub struct AnswerWeight {
    /// Finding or reading.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Decibans it adds to the cause, given all other answers.
    pub decibans: f64,
    /// Decibans it added when it was given, by what had been said before.
    pub when_given: f64,
    /// The first weight in words.
    pub word: &'static str,
}

/// Why a cause stands where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct WhyCause {
    /// Name of the cause.
    pub name: String,
    /// How often it is found before anything is known, per 1,000 jobs.
    pub per_1000: f64,
    /// What it rests on.
    pub source: String,
    /// Answers for it, strongest first.
    pub favouring: Vec<AnswerWeight>,
    /// Answers against it, strongest first.
    pub opposing: Vec<AnswerWeight>,
    /// Who or what usually lets it happen.
    pub lets_it_happen: String,
}

/// Why a question is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct WhyStep {
    /// Minutes it takes and minutes it saves beyond that.
    pub minutes: f64,
    /// Minutes by which the rest gets shorter on average.
    pub saves: f64,
    /// Per answer: words, how probable it is, and the three most likely causes after it.
    pub answers: Vec<AfterAnswer>,
}

/// What one possible answer would mean.
#[derive(Debug, Clone, PartialEq)]
pub struct AfterAnswer {
    /// The answer in words.
    pub words: String,
    /// How probable it is now.
    pub probability: f64,
    /// The three most likely causes after it, with their probability.
    pub likely: Vec<(String, f64)>,
}

/// Words for a weight of evidence, after Jeffreys' bands (0, 5, 10, 15, 20 decibans; Kass and Raftery 1995 quote them).
pub fn weight_word(decibans: f64) -> &'static str {
    match decibans.abs() {
        d if d < 1.0 => "next to nothing",
        d if d < 5.0 => "weak",
        d if d < 10.0 => "substantial",
        d if d < 15.0 => "strong",
        d if d < 20.0 => "very strong",
        _ => "decisive",
    }
}

/// The answers of a question in words, in its order.
fn answer_words(question: &Question) -> &'static [&'static str] {
    match question {
        Question::Leaf { .. } => &["yes", "no"],
        Question::Pulls { .. } | Question::Table { .. } => &["below the band", "in the band", "above the band"],
    }
}

impl Sitting {
    /// Why a cause stands where it stands.
    pub fn why_cause(&self, cause: &str) -> Option<WhyCause> {
        let node = self.graph.node(cause)?;
        let entry = self.knowledge.all.causes.get(cause)?;
        let explanation = explain(&self.network, &self.evidence.likelihoods(), &[node]).ok()?;
        let when_given = self.when_given(node)?;
        let mut weights: Vec<AnswerWeight> = self
            .evidence
            .used
            .iter()
            .zip(explanation.decibans.iter().zip(when_given))
            .map(|((id, _), (decibans, when_given))| AnswerWeight {
                id: id.clone(),
                name: self.said(id),
                decibans: decibans[0],
                when_given,
                word: weight_word(decibans[0]),
            })
            .filter(|weight| 0.5 <= weight.decibans.abs())
            .collect();
        weights.sort_by(|a, b| b.decibans.abs().total_cmp(&a.decibans.abs()));
        let (favouring, opposing) = weights.into_iter().partition(|weight| 0.0 < weight.decibans);
        Some(WhyCause {
            name: entry.name.clone(),
            per_1000: entry.shares.get(&self.job.family).copied().unwrap_or_default(),
            source: self.source_title(entry.source.as_deref()),
            favouring,
            opposing,
            lets_it_happen: entry.lets_it_happen.clone(),
        })
    }

    /// Per observation that counts: decibans it added to a node when it was given.
    fn when_given(&self, node: usize) -> Option<Vec<f64>> {
        let used = &self.evidence.used;
        let mut order: Vec<usize> = (0..used.len()).collect();
        order.sort_by_key(|&at| (self.job.given.get_index_of(&used[at].0).unwrap_or(usize::MAX), at));
        let likelihoods: Vec<_> = order.iter().map(|&at| used[at].1.clone()).collect();
        let added = in_order(&self.network, &likelihoods, node).ok()?;
        let mut by_place = vec![0.0; used.len()];
        for (place, decibans) in order.into_iter().zip(added) {
            by_place[place] = decibans;
        }
        Some(by_place)
    }

    /// Title of a source.
    pub fn source_title(&self, source: Option<&str>) -> String {
        let found = source.and_then(|id| self.knowledge.all.sources.get(id));
        found.map_or_else(|| "no source given".to_owned(), |source| source.title.clone())
    }

    /// A finding or reading with what was said about it.
    fn said(&self, id: &str) -> String {
        let row = self.trail().into_iter().find(|row| row.id == id);
        let repair = || self.job.work.repairs.iter().rfind(|repair| repair.node == id);
        let said = match row {
            Some(row) => format!("{}: {}", row.name, row.answer),
            None => repair().map_or_else(|| self.name_of(id), |repair| self.repair_words(repair)),
        };
        match self.evidence.joint.as_slice() {
            [first, more @ ..] if first == id && !more.is_empty() => format!("{said}, and {} more", more.len()),
            _ => said,
        }
    }

    /// Why a question is asked: what each answer would mean.
    pub fn why_ask(&self, id: &str) -> Option<WhyStep> {
        let question = self.question(id)?;
        let causes = self.graph.of_kind(crate::knowledge::NodeKind::Cause);
        let likelihoods = self.evidence.likelihoods();
        let found = outcomes(&self.network, &likelihoods, std::slice::from_ref(&question), &causes).ok()?;
        let found = found.into_iter().next()??;
        let answers = answer_words(&question)
            .iter()
            .zip(&found.outcomes)
            .map(|(word, outcome)| {
                let mut order: Vec<usize> = (0..causes.len()).collect();
                order.sort_by(|a, b| outcome.present[*b].total_cmp(&outcome.present[*a]));
                let top = order
                    .into_iter()
                    .take(3)
                    .map(|at| (self.graph.nodes[causes[at]].name.clone(), outcome.present[at]));
                AfterAnswer { words: (*word).to_owned(), probability: outcome.probability, likely: top.collect() }
            })
            .collect();
        let step = self.plan().steps.iter().find(|step| step.asks.iter().any(|ask| ask == id));
        Some(WhyStep {
            minutes: step.map_or(0.0, |step| step.minutes),
            saves: self.plan().saves.get(id).copied().unwrap_or_default(),
            answers,
        })
    }
}
