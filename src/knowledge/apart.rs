//! Turns a cause into how often each answer comes with only that cause present, so that two causes can be held side by side.
//!
//! Parents are taken as independent: good enough to see what differs at all.

use super::entries::Knowledge;
use super::graph::{Graph, Leaf, applies};
use super::schema::{AnswerError, Id, Way};
use std::collections::BTreeSet;

/// An answer tells two causes apart if its chance differs by so much between them.
pub const APART: f64 = 0.2;

/// Something that can be answered: a finding, or one of the two ways a reading is moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sign<'a> {
    /// Finding or reading.
    pub id: &'a str,
    /// The way of a reading; none for a finding.
    pub way: Option<Way>,
    /// True if some check of the family yields it. Nobody is asked for a verdict on a condition.
    pub asked: bool,
    leaf: &'a Leaf,
    error: AnswerError,
}

/// Everything that something in the family shows or moves.
pub fn signs<'a>(knowledge: &Knowledge, graph: &'a Graph) -> Vec<Sign<'a>> {
    let checks = knowledge.all.checks.values().filter(|check| applies(&check.families, &graph.family));
    let yielded: BTreeSet<&Id> = checks.flat_map(|check| &check.yields).collect();
    let finding = |id: &Id| knowledge.all.findings.get(id);
    let judges_a_condition = |id: &Id| {
        let verdict = finding(id).and_then(|finding| finding.verdict_on.as_ref());
        verdict.is_some_and(|node| knowledge.all.conditions.contains_key(node))
    };
    let findings = graph.findings.iter().map(|(id, leaf)| {
        let error = finding(id).map(|finding| finding.error).unwrap_or_default();
        Sign { id, way: None, asked: yielded.contains(id) && !judges_a_condition(id), leaf, error }
    });
    let sure = AnswerError { false_yes: 0.0, missed: 0.0 };
    let readings = graph.readings.iter().flat_map(|(id, reading)| {
        let asked = yielded.contains(id);
        [(Way::Down, &reading.down), (Way::Up, &reading.up)].map(|(way, leaf)| Sign {
            id,
            way: Some(way),
            asked,
            leaf,
            error: sure,
        })
    });
    findings.chain(readings).collect()
}

/// Chance of "yes" to every sign, or of the pull, with only this cause present.
pub fn chances(knowledge: &Knowledge, graph: &Graph, signs: &[Sign], cause: usize) -> Vec<f64> {
    let mut present: Vec<f64> = Vec::with_capacity(graph.nodes.len());
    for (index, node) in graph.nodes.iter().enumerate() {
        let alone = if knowledge.all.causes.contains_key(&node.id) { 0.0 } else { node.leak };
        present.push(if index == cause { 1.0 } else { any(alone, &node.parents, &present) });
    }
    signs.iter().map(|sign| said(any(sign.leaf.leak, &sign.leaf.parents, &present), sign.error)).collect()
}

/// Noisy-OR of parents with these chances.
fn any(leak: f64, parents: &[(usize, f64)], present: &[f64]) -> f64 {
    1.0 - (1.0 - leak) * parents.iter().map(|(parent, strength)| 1.0 - strength * present[*parent]).product::<f64>()
}

/// Chance of a "yes" to something that shows with this chance.
fn said(shows: f64, error: AnswerError) -> f64 {
    shows * (1.0 - error.missed) + (1.0 - shows) * error.false_yes
}
