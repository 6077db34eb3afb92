//! Turns belief into what is open about it: causes together, what they leave unexplained, what to recheck, what would
//! change the list.

use crate::belief::{Explanation, FaultSets, UNEXPLAINED, explain, fault_sets, outcomes, turns, under_set};
use crate::job::sitting::Sitting;
use crate::knowledge::NodeKind;
use crate::knowledge::schema::Id;

/// Sets of causes shown.
const SETS: usize = 4;
/// Sets less probable than this are not worth a line.
const LEAST_SET: f64 = 0.01;
/// Answers shown that would put another cause first.
const TURNS: usize = 5;

/// What is open about the belief.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubts {
    /// Causes that may be present together and nothing else, by name, with the probability of exactly these; most
    /// probable first.
    pub together: Vec<(Vec<String>, f64)>,
    /// Probability of every other combination.
    pub others: f64,
    /// Answers that the first of these sets leaves improbable.
    pub unexplained: Vec<Unexplained>,
    /// True if the answers fit badly.
    pub fits_badly: bool,
    /// The answers to check again first, with the chance that each is wrong; at most two.
    pub recheck: Vec<(String, f64)>,
    /// The first cause of the list.
    pub leader: String,
    /// Answers after which another cause would lead, most probable first.
    pub turning: Vec<TurningAnswer>,
}

/// An answer that the leading causes leave improbable.
#[derive(Debug, Clone, PartialEq)]
pub struct Unexplained {
    /// Finding or reading.
    pub id: Id,
    /// What was said.
    pub said: String,
    /// How probable it is with exactly the leading causes present and all other answers as they are.
    pub probability: f64,
}

/// An open question's answer after which another cause leads.
#[derive(Debug, Clone, PartialEq)]
pub struct TurningAnswer {
    /// Finding or reading.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// The answer in words.
    pub answer: &'static str,
    /// How probable the answer is now.
    pub probability: f64,
    /// The cause that would lead, and its probability then.
    pub leader: (String, f64),
}

impl Sitting {
    /// What is open about the belief; nothing without answers, or where they cannot be weighed.
    pub fn doubts(&self) -> Option<Doubts> {
        let likelihoods = self.evidence.likelihoods();
        let leader = self.first_cause()?;
        if likelihoods.is_empty() || self.belief.is_err() {
            return None;
        }
        let sets = self.sets()?;
        let fit = explain(&self.network, &likelihoods, &[]).ok()?;
        let names = |set: &[usize]| set.iter().map(|&node| self.graph.nodes[node].name.clone()).collect();
        let shown: Vec<(Vec<String>, f64)> =
            sets.sets.iter().filter(|(_, p)| LEAST_SET <= *p).map(|(set, p)| (names(set), *p)).collect();
        Some(Doubts {
            others: 1.0 - shown.iter().map(|(_, p)| p).sum::<f64>(),
            together: shown,
            unexplained: self.unexplained_by(&sets),
            fits_badly: fit.is_alarm(),
            recheck: self.suspects(&fit),
            leader: self.graph.nodes[leader].name.clone(),
            turning: self.turning(leader),
        })
    }

    /// The first cause of the list.
    pub(super) fn first_cause(&self) -> Option<usize> {
        let causes = self.graph.of_kind(NodeKind::Cause).into_iter();
        causes.max_by(|a, b| self.present(*a).total_cmp(&self.present(*b)).then(b.cmp(a)))
    }

    fn sets(&self) -> Option<FaultSets> {
        let belief = self.belief.as_ref().ok()?;
        fault_sets(&self.network, &self.evidence.likelihoods(), &belief.present, SETS).ok()
    }

    /// Answers that the most probable set of causes leaves improbable, the least probable first.
    pub fn still_unexplained(&self) -> Vec<Unexplained> {
        self.sets().map(|sets| self.unexplained_by(&sets)).unwrap_or_default()
    }

    fn unexplained_by(&self, sets: &FaultSets) -> Vec<Unexplained> {
        let Some((set, _)) = sets.sets.first() else { return Vec::new() };
        let Ok(fits) = under_set(&self.network, &self.evidence.likelihoods(), set) else { return Vec::new() };
        let answers = self.evidence.used.iter().zip(fits).filter(|(_, fit)| *fit < UNEXPLAINED);
        let mut found: Vec<Unexplained> = answers
            .map(|((id, _), probability)| Unexplained { id: id.clone(), said: self.said(id), probability })
            .collect();
        found.sort_by(|a, b| a.probability.total_cmp(&b.probability));
        found
    }

    fn suspects(&self, fit: &Explanation) -> Vec<(String, f64)> {
        let named = fit.suspects().into_iter().map(|at| (self.said(&self.evidence.used[at].0), fit.suspicion[at]));
        named.collect()
    }

    /// Conflict of the answers in bits, and those to recheck first if they fit badly.
    pub fn conflict(&self) -> (f64, Vec<Id>) {
        let Ok(fit) = explain(&self.network, &self.evidence.likelihoods(), &[]) else {
            return (0.0, Vec::new());
        };
        let recheck = if fit.is_alarm() { fit.suspects() } else { Vec::new() };
        (fit.conflict, recheck.into_iter().map(|at| self.evidence.used[at].0.clone()).collect())
    }

    fn turning(&self, leader: usize) -> Vec<TurningAnswer> {
        let causes = self.graph.of_kind(NodeKind::Cause);
        let asked = self.plan().saves.keys().filter_map(|id| Some((id, self.question(id)?)));
        let (ids, questions): (Vec<&Id>, Vec<_>) = asked.unzip();
        let Ok(open) = outcomes(&self.network, &self.evidence.likelihoods(), &questions, &causes) else {
            return Vec::new();
        };
        let Some(leader) = causes.iter().position(|&cause| cause == leader) else { return Vec::new() };
        turns(leader, &open)
            .into_iter()
            .take(TURNS)
            .map(|turn| TurningAnswer {
                id: ids[turn.question].clone(),
                name: self.name_of(ids[turn.question]),
                answer: super::answer_words(&questions[turn.question])[turn.answer],
                probability: turn.probability,
                leader: (self.graph.nodes[causes[turn.leader.0]].name.clone(), turn.leader.1),
            })
            .collect()
    }
}
