//! Turns complaints that few everyday words lead to into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};

/// Everyday words that a complaint needs at least.
const ENOUGH: usize = 4;

/// A finding that can be a complaint has at least four aliases.
pub const RULE: Rule = Rule {
    name: "few_aliases",
    finds: "a complaint with fewer than four aliases",
    matters: "an operator who says it in other words than the graph is not understood",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, finding) in &knowledge.all.findings {
        let count = finding.aliases.len();
        if (1..ENOUGH).contains(&count) {
            let message = format!("this complaint has {count} of at least {ENOUGH} aliases");
            let hint = "add words that operators use; without any it is no complaint".to_owned();
            problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &["aliases"], (message, hint)));
        }
    }
}
