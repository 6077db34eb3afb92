//! Turns shares that do not add up into a problem.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};

/// The shares of a family must sum to more than 1,000 per 1,000 jobs.
pub const RULE: Rule = Rule {
    name: "shares_sum",
    finds: "a family whose shares sum to 1,000 or less per 1,000 jobs",
    matters: "every job has a cause and some have two; with less, no independent chances give these shares back",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for family in knowledge.all.families.keys() {
        let sum: f64 = knowledge.all.causes.values().filter_map(|cause| cause.shares.get(family)).sum();
        if 0.0 < sum && sum <= 1000.0 {
            let message = format!("the shares of `{family}` sum to {sum:.1} per 1,000 jobs");
            let hint = "raise shares until they sum to a little above 1,000 (1,100 is usual)".to_owned();
            problems.push(knowledge.problem(Severity::Warning, RULE.name, family, &[], (message, hint)));
        }
    }
}
