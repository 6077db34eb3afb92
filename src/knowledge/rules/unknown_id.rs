//! Turns links into nowhere into problems, with the nearest id that exists.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity, did_you_mean};
use crate::knowledge::references::Reference;

/// Every id named must exist and be of the right kind.
pub const RULE: Rule = Rule {
    name: "unknown_id",
    finds: "an id that no entry has, or an entry of the wrong kind",
    matters: "a misspelt link is a cause that is never found",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for named in knowledge.references() {
        if !knowledge.kind_of(named.id).is_some_and(|kind| named.kinds.contains(&kind)) {
            problems.push(problem(knowledge, &named));
        }
    }
}

fn problem(knowledge: &Knowledge, named: &Reference) -> Problem {
    let Reference { id, kinds, .. } = named;
    let wanted: Vec<&str> = kinds.iter().map(|kind| kind.name()).collect();
    let wanted = wanted.join(", ");
    let (message, hint) = if let Some(retired) = knowledge.all.retired.get(*id) {
        (format!("`{id}` is retired"), format!("use `{}`", retired.instead))
    } else {
        let message = match knowledge.kind_of(id) {
            Some(kind) => format!("`{id}` is among {}; here one of {wanted} is needed", kind.name()),
            None => format!("there is no `{id}` among {wanted}"),
        };
        let known = knowledge.ids().filter(|known| knowledge.kind_of(known).is_some_and(|kind| kinds.contains(&kind)));
        let hint = match did_you_mean(id, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("add it to {wanted}, or name one that exists"),
        };
        (message, hint)
    };
    let path: Vec<&str> = named.path.iter().map(String::as_str).collect();
    knowledge.problem(Severity::Error, RULE.name, named.entry, &path, (message, hint))
}
