//! Turns findings that mean the same into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::{Finding, Id};
use indexmap::IndexMap;

/// No two findings have the same name, question or verdict, or the same links without saying that only one counts.
pub const RULE: Rule = Rule {
    name: "same_meaning",
    finds: "two findings of one name, one question, one verdict, or the same links and no `same_observation` group",
    matters: "one observation told twice counts twice and makes the list surer than the pump is",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let alike: [(&str, fn(&Finding) -> Option<String>); 4] =
        [("name", name), ("question", question), ("verdict_on", verdict), ("shown_by", links)];
    for (field, key) in alike {
        let mut first: IndexMap<String, &Id> = IndexMap::new();
        for (id, finding) in &knowledge.all.findings {
            let Some(key) = key(finding) else { continue };
            let Some(other) = first.get(&key) else {
                first.insert(key, id);
                continue;
            };
            if said(field) || !one_observation(knowledge, id, other) {
                let message = format!("`{id}` has the same {} as `{other}`", word(field));
                let hint =
                    "make one of the two, tell them apart, or put both into a `same_observation` group".to_owned();
                problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &[field], (message, hint)));
            }
        }
    }
}

/// What is read or asked must differ even where only one counts.
fn said(field: &str) -> bool {
    matches!(field, "name" | "question")
}

fn word(field: &str) -> &str {
    match field {
        "verdict_on" => "verdict",
        "shown_by" => "links",
        other => other,
    }
}

fn name(finding: &Finding) -> Option<String> {
    Some(folded(&finding.name))
}

fn question(finding: &Finding) -> Option<String> {
    Some(folded(&finding.question))
}

fn verdict(finding: &Finding) -> Option<String> {
    finding.verdict_on.clone()
}

/// All links with their strengths, in the order of the ids; one link alone is told apart by its error rates only.
fn links(finding: &Finding) -> Option<String> {
    let mut links: Vec<String> =
        finding.shown_by.iter().map(|(by, link)| format!("{by} {}", link.strength.number())).collect();
    links.sort_unstable();
    (1 < links.len()).then(|| format!("{} | {}", links.join(", "), finding.families.join(",")))
}

fn folded(text: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { ' ' };
    text.chars().map(plain).collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
}

fn one_observation(knowledge: &Knowledge, a: &Id, b: &Id) -> bool {
    knowledge.all.same_observation.values().any(|group| group.contains(a) && group.contains(b))
}
