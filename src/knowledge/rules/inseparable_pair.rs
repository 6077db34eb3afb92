//! Turns pairs of causes that no check tells apart into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::graph::{Graph, Leaf, applies};
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::{AnswerError, Id};
use std::collections::BTreeSet;

/// Some check answers differently under any two causes that are put right differently, unless declared.
pub const RULE: Rule = Rule {
    name: "inseparable_pair",
    finds: "two causes of different remedies that no answer tells apart, and no `inseparable` entry that says why",
    matters: "the list can then never decide between two repairs, and nobody has said so",
    needs_all_files: true,
    check,
};

/// An answer tells two causes apart if its chance differs by so much between them.
const APART: f64 = 0.2;

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let mut told: BTreeSet<(Id, Id)> = BTreeSet::new();
    for family in knowledge.all.families.keys() {
        for (first, second) in pairs(knowledge, &Graph::new(knowledge, family, None)) {
            if is_declared(knowledge, &first, &second) || !told.insert((first.clone(), second.clone())) {
                continue;
            }
            let message = format!("no answer tells `{first}` from `{second}` on a pump of the family `{family}`");
            let hint = "add a look or test that does, or an `inseparable` entry with the reason".to_owned();
            problems.push(knowledge.problem(Severity::Warning, RULE.name, &first, &[], (message, hint)));
        }
    }
}

fn is_declared(knowledge: &Knowledge, a: &Id, b: &Id) -> bool {
    knowledge.all.inseparable.values().any(|entry| entry.causes.contains(a) && entry.causes.contains(b))
}

/// Pairs of causes with different remedies under which every answer is about as frequent.
fn pairs(knowledge: &Knowledge, graph: &Graph) -> Vec<(Id, Id)> {
    let asked = asked(knowledge, graph);
    let causes = knowledge.all.causes.iter().filter(|(_, cause)| !cause.stands_for_unknown);
    let shown: Vec<(&Id, Option<&Id>, Vec<f64>)> = causes
        .filter_map(|(id, cause)| Some((id, cause.remedy.as_ref(), chances(knowledge, graph, &asked, graph.node(id)?))))
        .collect();
    let mut pairs = Vec::new();
    for (at, (first, remedy, chances)) in shown.iter().enumerate() {
        for (second, other_remedy, other) in &shown[at + 1..] {
            let alike = chances.iter().zip(other).all(|(a, b)| (a - b).abs() < APART);
            if alike && (remedy != other_remedy || remedy.is_none()) {
                pairs.push(((*first).clone(), (*second).clone()));
            }
        }
    }
    pairs
}

/// Everything that some check of the family yields and somebody can answer, with the error of the answer.
fn asked<'a>(knowledge: &Knowledge, graph: &'a Graph) -> Vec<(&'a Leaf, AnswerError)> {
    let checks = knowledge.all.checks.values().filter(|check| applies(&check.families, &graph.family));
    let yielded: BTreeSet<&Id> = checks.flat_map(|check| &check.yields).collect();
    let finding = |id: &Id| knowledge.all.findings.get(id);
    // Nobody is asked for a verdict on a condition.
    let judges_a_condition = |id: &Id| {
        let verdict = finding(id).and_then(|finding| finding.verdict_on.as_ref());
        verdict.is_some_and(|node| knowledge.all.conditions.contains_key(node))
    };
    let findings = graph.findings.iter().filter(|(id, _)| yielded.contains(id) && !judges_a_condition(id));
    let mut asked: Vec<(&Leaf, AnswerError)> =
        findings.map(|(id, leaf)| (leaf, finding(id).map(|finding| finding.error).unwrap_or_default())).collect();
    for (_, reading) in graph.readings.iter().filter(|(id, _)| yielded.contains(id)) {
        let sure = AnswerError { false_yes: 0.0, missed: 0.0 };
        asked.extend([(&reading.down, sure), (&reading.up, sure)]);
    }
    asked
}

/// Chance of "yes" to everything asked, and of each pull on every reading, with only this cause present. Parents are taken
/// as independent: good enough to see what differs at all.
fn chances(knowledge: &Knowledge, graph: &Graph, asked: &[(&Leaf, AnswerError)], cause: usize) -> Vec<f64> {
    let mut present: Vec<f64> = Vec::with_capacity(graph.nodes.len());
    for (index, node) in graph.nodes.iter().enumerate() {
        let alone = if knowledge.all.causes.contains_key(&node.id) { 0.0 } else { node.leak };
        present.push(if index == cause { 1.0 } else { any(alone, &node.parents, &present) });
    }
    asked.iter().map(|(leaf, error)| said(any(leaf.leak, &leaf.parents, &present), *error)).collect()
}

/// Noisy-OR of parents with these chances.
fn any(leak: f64, parents: &[(usize, f64)], present: &[f64]) -> f64 {
    1.0 - (1.0 - leak) * parents.iter().map(|(parent, strength)| 1.0 - strength * present[*parent]).product::<f64>()
}

/// Chance of a "yes" to something that shows with this chance.
fn said(shows: f64, error: AnswerError) -> f64 {
    shows * (1.0 - error.missed) + (1.0 - shows) * error.false_yes
}
