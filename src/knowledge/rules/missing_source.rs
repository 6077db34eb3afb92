//! Turns links and entries without a source into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::Id;

/// Every link and every entry with a number or an instruction names its source, if only "common practice, no source".
pub const RULE: Rule = Rule {
    name: "missing_source",
    finds: "a link, cause, reading, check, remedy, procedure, caution or stop rule without a source",
    matters: "the technician may ask whose number it is, and somebody must stand behind it",
    needs_all_files: false,
    check,
};

/// What to do about it.
const HINT: &str = "name an entry of `sources`; \"practice\" stands for common practice, no source";

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for link in knowledge.links() {
        if is_missing(link.source) {
            let message = format!("the link `{}` has no source", link.to);
            let path = [link.field, link.to];
            problems.push(knowledge.problem(
                Severity::Warning,
                RULE.name,
                link.entry,
                &path,
                (message, HINT.to_owned()),
            ));
        }
    }
    for (id, _) in entries(knowledge).into_iter().filter(|(_, source)| is_missing(*source)) {
        let message = format!("`{id}` has no source");
        problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &[], (message, HINT.to_owned())));
    }
}

fn is_missing(source: Option<&str>) -> bool {
    source.is_none_or(|source| source.trim().is_empty())
}

/// Every entry that must have a source, with the one it has.
fn entries(knowledge: &Knowledge) -> Vec<(&Id, Option<&str>)> {
    let all = &knowledge.all;
    let mut entries: Vec<(&Id, Option<&str>)> = Vec::new();
    entries.extend(all.causes.iter().map(|(id, entry)| (id, entry.source.as_deref())));
    entries.extend(all.readings.iter().map(|(id, entry)| (id, entry.source.as_deref())));
    entries.extend(all.checks.iter().map(|(id, entry)| (id, entry.source.as_deref())));
    entries.extend(all.remedies.iter().map(|(id, entry)| (id, entry.source.as_deref())));
    entries.extend(all.procedures.iter().map(|(id, entry)| (id, entry.source.as_deref())));
    entries.extend(all.cautions.iter().map(|(id, entry)| (id, entry.source.as_deref())));
    entries.extend(all.stop_rules.iter().map(|(id, entry)| (id, entry.source.as_deref())));
    entries
}
