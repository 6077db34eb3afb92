//! Turns checks without minutes or without a caution into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::PumpState;

/// Every check takes time; every check at a running, isolated or opened pump has a caution.
pub const RULE: Rule = Rule {
    name: "unpriced_check",
    finds: "a check of no minutes, or one at a running or opened pump without a caution",
    matters: "a check that costs nothing is always asked first, and nobody walks up to a running pump unwarned",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, check) in &knowledge.all.checks {
        let mut warn = |path: &[&str], message: &str, hint: &str| {
            let told = (message.to_owned(), hint.to_owned());
            problems.push(knowledge.problem(Severity::Warning, RULE.name, id, path, told));
        };
        if check.minutes <= 0.0 {
            warn(&["minutes"], "this check takes no time", "write the minutes of somebody who stands at the pump");
        }
        let harmless = matches!(check.state, PumpState::Any | PumpState::Stopped) && check.opening.is_none();
        if check.cautions.is_empty() && !harmless {
            warn(&[], "this check has no caution", "name the gravest hazard of doing it among `cautions`");
        }
    }
}
