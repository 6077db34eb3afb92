//! Turns links without a source into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};

/// Every link names its source, if only "common practice, no source".
pub const RULE: Rule = Rule {
    name: "missing_source",
    finds: "a link without a source",
    matters: "the technician may ask whose number it is, and somebody must stand behind it",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for link in knowledge.links() {
        if link.source.is_none_or(|source| source.trim().is_empty()) {
            let message = format!("the link `{}` has no source", link.to);
            let hint = "name an entry of `sources`; \"practice\" stands for common practice, no source".to_owned();
            let path = [link.field, link.to];
            problems.push(knowledge.problem(Severity::Warning, RULE.name, link.entry, &path, (message, hint)));
        }
    }
}
