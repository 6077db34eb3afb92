//! Turns causes that nobody can look at or put right into problems.

use super::Rule;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::{Check, Finding, Id};
use crate::knowledge::{applies, entries::Knowledge};

/// Every cause has a look that some check gives in each of its families, and a remedy.
pub const RULE: Rule = Rule {
    name: "cause_out_of_reach",
    finds: "a cause without a remedy, or without a direct look in one of its families",
    matters: "a cause that nobody can find or fix only takes belief from those that somebody can",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let causes = knowledge.all.causes.iter().filter(|(_, cause)| !cause.stands_for_unknown);
    for (id, cause) in causes {
        let mut warn = |path: &[&str], message: String, hint: &str| {
            problems.push(knowledge.problem(Severity::Warning, RULE.name, id, path, (message, hint.to_owned())));
        };
        if cause.remedy.is_none() {
            warn(&[], format!("nothing puts `{id}` right"), "name a remedy");
        }
        for family in cause.shares.keys().filter(|family| !can_be_seen(knowledge, id, family)) {
            let message = format!("no check looks at `{id}` on a pump of the family `{family}`");
            warn(&["shares", family], message, "add a finding with `verdict_on` and a check that yields it");
        }
    }
}

fn can_be_seen(knowledge: &Knowledge, cause: &Id, family: &Id) -> bool {
    let looks = |finding: &Finding| finding.verdict_on.as_ref() == Some(cause) && applies(&finding.families, family);
    let yields = |check: &Check, finding: &Id| check.yields.contains(finding) && applies(&check.families, family);
    let mut verdicts = knowledge.all.findings.iter().filter(|(_, finding)| looks(finding));
    verdicts.any(|(finding, _)| knowledge.all.checks.values().any(|check| yields(check, finding)))
}
