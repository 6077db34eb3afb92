//! Turns findings and readings that no cause can change into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::graph::{Graph, Leaf};
use crate::knowledge::problem::{Problem, Severity};
use std::collections::BTreeSet;

/// In some family, some cause leads to every finding and reading.
pub const RULE: Rule = Rule {
    name: "touched_by_nothing",
    finds: "a finding or reading to which no cause leads in any family",
    matters: "its answer changes nothing, so asking it wastes the time of whoever answers",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let mut touched: BTreeSet<String> = BTreeSet::new();
    for family in knowledge.all.families.keys() {
        touched.extend(touched_in(&Graph::new(knowledge, family, None), knowledge));
    }
    let all = &knowledge.all;
    for id in all.findings.keys().chain(all.readings.keys()).filter(|id| !touched.contains(*id)) {
        let message = format!("no cause leads to `{id}`");
        let hint = "link it to what shows itself this way, or remove it".to_owned();
        problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &[], (message, hint)));
    }
}

fn touched_in(graph: &Graph, knowledge: &Knowledge) -> Vec<String> {
    let mut caused: Vec<bool> = Vec::with_capacity(graph.nodes.len());
    for node in &graph.nodes {
        let own = knowledge.all.causes.contains_key(&node.id);
        caused.push(own || node.parents.iter().any(|(parent, _)| caused[*parent]));
    }
    let is_caused = |leaf: &Leaf| leaf.parents.iter().any(|(parent, _)| caused[*parent]);
    let findings = graph.findings.iter().filter(|(_, leaf)| is_caused(leaf)).map(|(id, _)| id);
    let moved = graph.readings.iter().filter(|(_, pulled)| is_caused(&pulled.down) || is_caused(&pulled.up));
    findings.chain(moved.map(|(id, _)| id)).cloned().collect()
}
