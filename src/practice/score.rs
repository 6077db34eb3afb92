//! Turns a practice job that has ended into its marks.

use super::exercise::Exercise;
use crate::job::Sitting;
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Help, Id, RemedyKind};
use crate::trial::decision_class;
use serde::{Deserialize, Serialize};

/// Naming a cause below this belief while something was still worth asking is too early.
const TOO_EARLY: f64 = 0.5;
/// A part is not put in for a cause less probable than this that nobody has looked at.
const PROOF: f64 = 0.95;

/// Something wrong with what was named.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Slip {
    /// A part harmed, or what the pump was doing, in place of why.
    DamageForCause,
    /// The belief in it was low and more could be asked.
    TooEarly,
    /// A part would have been put in without proof.
    Unproved,
}

/// The marks of one practice job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Score {
    /// Lesson.
    pub lesson: Id,
    /// Its group of look-alikes.
    pub alike: String,
    /// Seed of the pump.
    pub seed: u64,
    /// Help chosen.
    pub help: Help,
    /// True if every fault, and nothing else, was named; what is put right in the same way counts as the same.
    pub right: bool,
    /// How sure, 0 to 1, for each cause named, and whether it was right.
    pub sure: Vec<(f64, bool)>,
    /// Minutes of the checks done.
    pub minutes: f64,
    /// Minutes the planner takes on the same pump.
    pub planner_minutes: f64,
    /// Mean share of the best minutes saved per minute that the checks done came to, 0 to 1; 0 without a check.
    pub share_of_best: f64,
    /// Checks that could tell next to nothing.
    pub idle: usize,
    /// What was wrong with the naming, each once.
    pub slips: Vec<Slip>,
    /// Unsafe moves.
    pub unsafe_moves: usize,
}

impl Score {
    /// True if the lesson counts as done: right, and nothing unsafe.
    pub fn passed(&self) -> bool {
        self.right && self.unsafe_moves == 0
    }
}

/// The marks of a practice job; `planner_minutes` is what the planner takes on the same pump.
pub fn score(exercise: &Exercise, planner_minutes: f64) -> Score {
    let sitting = &exercise.sitting;
    let named = exercise.named.clone().unwrap_or_default();
    let truth: Vec<&Id> = exercise.lesson.1.faults.keys().collect();
    let is_right = |node: &Id| truth.iter().any(|fault| same(&sitting.knowledge, fault, node));
    let found = |fault: &Id| named.iter().any(|(node, _)| same(&sitting.knowledge, fault, node));
    let rates: Vec<f64> = exercise.done.iter().map(|done| share(done.rate(), done.best_rate())).collect();
    let on_the_way = |node: &Id| !is_right(node) && is_below(sitting, &truth, node);
    let slips = [
        (Slip::DamageForCause, named.iter().any(|(node, _)| on_the_way(node))),
        (Slip::TooEarly, named.iter().any(|(node, _)| is_too_early(sitting, node))),
        (Slip::Unproved, named.iter().any(|(node, _)| is_unproved(sitting, node))),
    ];
    Score {
        lesson: exercise.lesson.0.clone(),
        alike: exercise.lesson.1.alike.clone(),
        seed: exercise.seed,
        help: exercise.help,
        right: !named.is_empty()
            && truth.iter().all(|fault| found(fault))
            && named.iter().all(|(node, _)| is_right(node)),
        sure: named.iter().map(|(node, sure)| (*sure, is_right(node))).collect(),
        minutes: exercise.minutes(),
        planner_minutes,
        share_of_best: rates.iter().fold(0.0, |sum, rate| sum + rate) / rates.len().max(1) as f64,
        idle: exercise.done.iter().filter(|done| done.is_idle()).count(),
        slips: slips.into_iter().filter(|(_, is_so)| *is_so).map(|(slip, _)| slip).collect(),
        unsafe_moves: exercise.misses.len(),
    }
}

fn share(rate: f64, best: f64) -> f64 {
    if 0.0 < best { rate / best } else { 1.0 }
}

/// True if both are put right in the same way.
fn same(knowledge: &Knowledge, fault: &str, node: &str) -> bool {
    decision_class(knowledge, fault) == decision_class(knowledge, node)
}

/// True if a node is no cause, and follows from one of these causes.
fn is_below(sitting: &Sitting, causes: &[&Id], node: &str) -> bool {
    let graph = &sitting.graph;
    let Some(start) = graph.node(node) else { return false };
    if sitting.knowledge.all.causes.contains_key(node) {
        return false;
    }
    let mut open = vec![start];
    while let Some(at) = open.pop() {
        if causes.iter().any(|cause| **cause == graph.nodes[at].id) {
            return true;
        }
        open.extend(graph.nodes[at].parents.iter().map(|(parent, _)| *parent));
    }
    false
}

/// What the job believes of everything that is put right like this node.
fn believed(sitting: &Sitting, node: &str) -> f64 {
    let rows = sitting.likely(usize::MAX).into_iter();
    let alike = rows.filter(|row| same(&sitting.knowledge, &row.id, node));
    alike.map(|row| row.probability).sum::<f64>().min(1.0)
}

fn is_too_early(sitting: &Sitting, node: &str) -> bool {
    believed(sitting, node) < TOO_EARLY && sitting.plan().steps.iter().any(|step| 0.0 < step.saves)
}

fn is_unproved(sitting: &Sitting, node: &str) -> bool {
    let all = &sitting.knowledge.all;
    let remedy = all.causes.get(node).and_then(|cause| cause.remedy.as_ref()).and_then(|id| all.remedies.get(id));
    let takes_a_part = remedy.is_some_and(|remedy| remedy.kind == RemedyKind::Repair);
    takes_a_part && !is_seen(sitting, node) && believed(sitting, node) < PROOF
}

fn is_seen(sitting: &Sitting, node: &str) -> bool {
    let findings = &sitting.knowledge.all.findings;
    let mut yes = sitting.facts().findings().into_iter().filter(|(_, answer)| answer.leans_yes());
    yes.any(|(id, _)| findings.get(id).is_some_and(|finding| finding.verdict_on.as_deref() == Some(node)))
}
