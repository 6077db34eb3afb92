//! Turns band, scale and error texts of readings that are not quantities into problems.

use super::Rule;
use crate::knowledge::band::Scale;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};

/// Every quantity has a unit of the right kind.
pub const RULE: Rule = Rule {
    name: "bad_quantity",
    finds: "a number without unit, an unknown unit, a unit of another kind, a band upside down",
    matters: "a band in the wrong unit condemns a healthy pump",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, reading) in &knowledge.all.readings {
        if let Err(wrong) = Scale::of(reading) {
            problems.push(knowledge.problem(Severity::Error, RULE.name, id, &wrong.path, (wrong.message, wrong.hint)));
        }
    }
}
