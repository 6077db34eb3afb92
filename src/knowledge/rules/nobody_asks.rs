//! Turns findings and readings that no check yields into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use std::collections::BTreeSet;

/// Every finding and reading is yielded by some check.
pub const RULE: Rule = Rule {
    name: "nobody_asks",
    finds: "a finding or reading that no check yields",
    matters: "it could be volunteered but would never be asked",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let all = &knowledge.all;
    let asked: BTreeSet<&str> = all.checks.values().flat_map(|check| &check.yields).map(String::as_str).collect();
    for id in all.findings.keys().chain(all.readings.keys()) {
        if !asked.contains(id.as_str()) {
            let message = format!("no check yields `{id}`");
            let hint = "add it to the `yields` of a check".to_owned();
            problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &[], (message, hint)));
        }
    }
}
