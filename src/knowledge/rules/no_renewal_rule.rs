//! Turns parts of a rebuild sheet of which nobody says whether they may go back into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::Procedure;

/// Every part that a procedure handles has a renewal rule in the same procedure.
pub const RULE: Rule = Rule {
    name: "no_renewal_rule",
    finds: "a part of a procedure without a renewal rule in that procedure",
    matters: "whoever holds the old part in hand must know whether it may go back",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, procedure) in &knowledge.all.procedures {
        let mut told: Vec<String> = ruled(procedure);
        for (at, step) in procedure.steps.iter().enumerate() {
            for (number, part) in step.parts.iter().enumerate() {
                if told.contains(&one(part)) {
                    continue;
                }
                told.push(one(part));
                let message = format!("nothing says whether the old {part} may go back");
                let hint = "add a `renewal`: always_new, as_a_set, inspect or may_go_back".to_owned();
                let path = ["steps", &at.to_string(), "parts", &number.to_string()];
                problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &path, (message, hint)));
            }
        }
    }
}

/// Parts with a renewal rule anywhere in the procedure.
fn ruled(procedure: &Procedure) -> Vec<String> {
    procedure.steps.iter().flat_map(|step| &step.renewal).map(|renewal| one(&renewal.part)).collect()
}

/// A part's name in the singular: a rule for seals is a rule for a seal.
fn one(part: &str) -> String {
    part.strip_suffix('s').filter(|stem| !stem.ends_with('s')).unwrap_or(part).to_owned()
}
