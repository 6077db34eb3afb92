//! Turns words into what they may mean on this pump, and a move of the planner into its reasons.

use super::exercise::Exercise;
use super::moves::Move;
use crate::job::{AfterAnswer, Look, StepView};
use crate::knowledge::schema::Id;
use crate::knowledge::search;

/// Why the planner makes a move.
#[derive(Debug, Clone, PartialEq)]
pub struct Reasons {
    /// The move and why, in a sentence or two.
    pub says: String,
    /// The check, if it is one.
    pub step: Option<StepView>,
    /// What each answer to its first question would mean.
    pub answers: Vec<AfterAnswer>,
}

impl Exercise {
    /// Checks of this pump family that fit the words, best first.
    pub fn checks_like(&self, words: &str, most: usize) -> Vec<Id> {
        let checks = &self.sitting.knowledge.all.checks;
        let hits = self.sitting.ideas(words, usize::MAX).into_iter().map(|hit| hit.id);
        hits.filter(|id| checks.contains_key(id)).take(most).collect()
    }

    /// Causes, conditions and damage that fit the words, best first; nothing for no words.
    pub fn nodes_like(&self, words: &str, most: usize) -> Vec<Id> {
        if words.trim().is_empty() {
            return Vec::new();
        }
        let causes = &self.sitting.knowledge.all.causes;
        let nodes = self.sitting.graph.nodes.iter();
        let candidates: Vec<(&str, Vec<&str>)> = nodes
            .map(|node| {
                let aliases = causes.get(&node.id).map(|cause| cause.aliases.as_slice()).unwrap_or_default();
                let texts = std::iter::once(&node.name).chain(aliases).map(String::as_str).collect();
                (node.id.as_str(), texts)
            })
            .collect();
        search(words, &candidates).into_iter().take(most).map(|hit| hit.id).collect()
    }

    /// The reading that fits the words best.
    pub fn reading_like(&self, words: &str) -> Option<Id> {
        let hits = self.sitting.knowledge.observables(words, &self.sitting.job.family);
        hits.into_iter().map(|hit| hit.id).find(|id| self.sitting.reading_of(id).is_some())
    }

    /// Why the planner makes a move.
    pub fn reasons(&self, made: &Move) -> Reasons {
        let plain = |says: &str| Reasons { says: says.to_owned(), step: None, answers: Vec::new() };
        match made {
            Move::Does { check } => match self.sitting.idea(check).map(|idea| idea.look) {
                Some(Look::Ready { step, answers, .. }) => Reasons {
                    says: format!(
                        "{}. It takes {:.0} min and shortens the rest by {:.0} min on average.",
                        step.name,
                        step.minutes,
                        step.worth + step.minutes
                    ),
                    step: Some(step),
                    answers,
                },
                _ => plain(&format!("{}.", self.sitting.name_of(check))),
            },
            Move::Names { nodes } => {
                let names: Vec<String> = nodes.iter().map(|(id, _)| self.sitting.name_of(id)).collect();
                plain(&format!("That is enough: {}.", names.join("; ")))
            }
            Move::Isolates => plain("Hands go in next: first stop, lock, relieve, prove zero energy twice."),
            Move::Readies => plain("It was open: before it runs, the list before the first run is walked."),
            Move::Stops => plain("A stop rule holds: the pump is stopped before anything else."),
            Move::GivesUp => plain("Nothing more is worth asking, and nothing stands out: give it up."),
            Move::Thinks { .. } | Move::Began { .. } | Move::Marked { .. } => plain(""),
        }
    }
}
