//! Turns findings and readings that are never asked into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::graph::{Graph, applies};
use crate::knowledge::problem::{Problem, Severity};
use std::collections::BTreeSet;

/// Every finding and reading is yielded by some check, in every family in which something shows itself that way.
pub const RULE: Rule = Rule {
    name: "nobody_asks",
    finds: "a finding or reading that no check yields, at all or in one of its families",
    matters: "it could be volunteered but would never be asked",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let all = &knowledge.all;
    let yielded = |family: Option<&String>| -> BTreeSet<&str> {
        let checks = all.checks.values().filter(|check| family.is_none_or(|family| applies(&check.families, family)));
        checks.flat_map(|check| &check.yields).map(String::as_str).collect()
    };
    let mut warn = |id: &str, message: String| {
        let hint = "add it to the `yields` of a check".to_owned();
        problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &[], (message, hint)));
    };
    let asked = yielded(None);
    for id in all.findings.keys().chain(all.readings.keys()).filter(|id| !asked.contains(id.as_str())) {
        warn(id, format!("no check yields `{id}`"));
    }
    for family in all.families.keys() {
        let graph = Graph::new(knowledge, family, None);
        let asked_here = yielded(Some(family));
        let shown = graph.findings.keys().chain(graph.readings.keys());
        for id in shown.filter(|id| asked.contains(id.as_str()) && !asked_here.contains(id.as_str())) {
            warn(id, format!("no check yields `{id}` on a pump of the family `{family}`"));
        }
    }
}
