//! Turns ids that are not plain into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};

/// Ids must be `[a-z0-9_]`.
pub const RULE: Rule = Rule {
    name: "bad_id",
    finds: "an id with anything but small letters, digits and underscores",
    matters: "ids stand in records, facts files and scripts; look-alike letters and blanks would never be found again",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for id in knowledge.ids() {
        let plain = id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_');
        if id.is_empty() || !plain || 60 < id.len() {
            let message = "this id is not plain: small letters, digits and underscores, at most 60".to_owned();
            let hint = "rename it here and wherever it is named".to_owned();
            problems.push(knowledge.problem(Severity::Error, RULE.name, id, &[], (message, hint)));
        }
    }
}
