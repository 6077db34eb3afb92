//! Turns checks that open the pump without the isolation gate into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::PumpState;

/// A check that opens something passes the isolation gate first, even if the pump runs afterwards.
pub const RULE: Rule = Rule {
    name: "opening_without_gate",
    finds: "a check with an opening, or at an isolated or opened pump, without `needs_isolation`",
    matters: "a head opened under pressure, or a shaft that starts, maims",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, check) in &knowledge.all.checks {
        let opens = check.opening.is_some() || matches!(check.state, PumpState::Isolated | PumpState::Opened);
        if opens && !check.needs_isolation {
            let message = "this check opens the pump but does not pass the isolation gate".to_owned();
            let hint = "write `needs_isolation: true`".to_owned();
            problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &[], (message, hint)));
        }
    }
}
