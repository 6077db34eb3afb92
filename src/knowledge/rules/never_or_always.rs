//! Turns answers and states that would be certain into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};

/// No answer is free of error, and no condition or damage is impossible without a listed parent.
pub const RULE: Rule = Rule {
    name: "never_or_always",
    finds: "an answer error, or a leak of a condition or damage, of exactly 0",
    matters: "one answer that cannot be wrong outvotes everything else, and what cannot happen is never found",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let mut warn = |id: &str, path: &[&str], message: &str, hint: &str| {
        let told = (message.to_owned(), hint.to_owned());
        problems.push(knowledge.problem(Severity::Warning, RULE.name, id, path, told));
    };
    for (id, finding) in &knowledge.all.findings {
        for (field, rate) in [("false_yes", finding.error.false_yes), ("missed", finding.error.missed)] {
            if rate == 0.0 {
                warn(id, &["error", field], "an answer that is never wrong does not exist", "write 0.01 or more");
            }
        }
    }
    for (id, node) in knowledge.all.conditions.iter().chain(&knowledge.all.damage) {
        if node.leak == 0.0 {
            let hint = "write how often it comes from something not listed, such as 0.001";
            warn(id, &["leak"], "without its listed parents this could never be", hint);
        }
    }
}
