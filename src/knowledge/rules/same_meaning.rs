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

/// The fields by which two findings can be alike.
const FIELDS: [&str; 4] = ["name", "question", "verdict_on", "shown_by"];

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for field in FIELDS {
        let mut first: IndexMap<String, &Id> = IndexMap::new();
        for (id, finding) in &knowledge.all.findings {
            let Some(key) = key(finding, field) else { continue };
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

/// What a finding says in a field, so that the same reads the same; nothing where that tells no two findings alike.
fn key(finding: &Finding, field: &str) -> Option<String> {
    match field {
        "name" => Some(folded(&finding.name)),
        "question" => Some(folded(&finding.question)),
        "verdict_on" => finding.verdict_on.clone(),
        _ => links(finding),
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
