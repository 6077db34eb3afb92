//! Turns cases that cannot be tried into problems.

use super::Rule;
use crate::knowledge::band::{dimension_named, plausible};
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::{Case, Id};
use crate::quantity::{Verdict, judge, parse};

/// A case has a complaint, a truth of its own family, a rank, a source, and numbers that a gauge can show.
pub const RULE: Rule = Rule {
    name: "bad_case",
    finds: "a case without complaint, truth, rank or source, or with a number or choice that cannot be",
    matters: "a case that cannot be played proves nothing",
    needs_all_files: true,
    check,
};

/// Path inside the case, message, hint.
type Wrong = (Vec<String>, String, String);

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, case) in &knowledge.all.cases {
        let mut wrong = Vec::new();
        missing(case, &mut wrong);
        said_twice(case, &mut wrong);
        choices(knowledge, case, &mut wrong);
        truth(knowledge, case, &mut wrong);
        for (field, numbers) in [("readings", &case.readings), ("usual", &case.usual)] {
            let bad = numbers.iter().filter_map(|(reading, text)| number(knowledge, field, reading, text));
            wrong.extend(bad);
        }
        for (path, message, hint) in wrong {
            let path: Vec<&str> = path.iter().map(String::as_str).collect();
            problems.push(knowledge.problem(Severity::Error, RULE.name, id, &path, (message, hint)));
        }
    }
}

fn wrong(path: &[&str], message: impl Into<String>, hint: &str) -> Wrong {
    (path.iter().map(|&step| step.to_owned()).collect(), message.into(), hint.to_owned())
}

fn missing(case: &Case, found: &mut Vec<Wrong>) {
    if case.complaint.is_empty() {
        found.push(wrong(&["complaint"], "this case has no complaint", "name the findings that the words tell"));
    }
    if case.truth.is_empty() {
        found.push(wrong(&["truth"], "this case has no true cause", "name every true cause"));
    }
    if case.rank == 0 {
        found.push(wrong(&["rank"], "ranks count from 1", "write 1 if the true cause must stand first"));
    }
    if case.source.trim().is_empty() {
        let hint = "name author, title and page, or write: common practice, no source";
        found.push(wrong(&["source"], "this case has no source", hint));
    }
}

fn said_twice(case: &Case, found: &mut Vec<Wrong>) {
    for (at, id) in case.cant_tell.iter().enumerate() {
        if case.facts.contains_key(id) || case.readings.contains_key(id) {
            let message = format!("`{id}` is known and cannot be told at once");
            found.push(wrong(&["cant_tell", &at.to_string()], message, "take it out of one of the two"));
        }
    }
}

fn choices(knowledge: &Knowledge, case: &Case, found: &mut Vec<Wrong>) {
    for (question, choice) in &case.first_minute {
        let Some(entry) = knowledge.all.first_minute.get(question) else { continue };
        let count = entry.choices.len();
        if count <= *choice {
            let message = format!("`{question}` has no choice {choice}");
            let hint = format!("choices count from 0 to {}", count.saturating_sub(1));
            found.push(wrong(&["first_minute", question], message, &hint));
        }
    }
}

fn truth(knowledge: &Knowledge, case: &Case, found: &mut Vec<Wrong>) {
    for (at, id) in case.truth.iter().enumerate() {
        let Some(entry) = knowledge.all.causes.get(id) else { continue };
        if knowledge.all.families.contains_key(&case.family) && !entry.shares.contains_key(&case.family) {
            let message = format!("`{id}` does not occur in the family `{}`", case.family);
            let hint = "give the cause a share in that family, or name the right family";
            found.push(wrong(&["truth", &at.to_string()], message, hint));
        }
    }
}

fn number(knowledge: &Knowledge, field: &str, id: &Id, text: &str) -> Option<Wrong> {
    let reading = knowledge.all.readings.get(id)?;
    let dimension = dimension_named(&reading.quantity)?;
    let parsed = match parse(text, dimension, None) {
        Ok(parsed) => parsed,
        Err(error) => {
            let hint = format!("`{id}` takes: {}", dimension.allowed_units());
            return Some(wrong(&[field, id], format!("`{text}`: {error}"), &hint));
        }
    };
    match judge(&parsed, plausible(reading).as_ref()) {
        Verdict::Impossible(impossible) => {
            let hint = "a case holds what a gauge can show; mind the unit and its zero";
            Some(wrong(&[field, id], impossible.to_string(), hint))
        }
        Verdict::Plausible | Verdict::Doubtful(_) => None,
    }
}
