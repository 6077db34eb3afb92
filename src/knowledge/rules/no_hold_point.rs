//! Turns steps of a rebuild sheet that hide a part unseen into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};

/// Every step that handles parts ends in a hold point: what the next step covers was seen first.
pub const RULE: Rule = Rule {
    name: "no_hold_point",
    finds: "a step of a procedure that handles parts and has no hold point",
    matters: "a small check left out is hidden by the housing and costs the whole strip again",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, procedure) in &knowledge.all.procedures {
        for (at, step) in procedure.steps.iter().enumerate() {
            let held = step.hold_point.as_ref().is_some_and(|hold| !hold.trim().is_empty());
            if !step.parts.is_empty() && !held {
                let message = format!("step {} handles {} and has no hold point", at + 1, step.parts.join(", "));
                let hint = "say what must be seen, felt or measured before the next step hides it".to_owned();
                let at = at.to_string();
                problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &["steps", &at], (message, hint)));
            }
        }
    }
}
