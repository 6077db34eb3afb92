//! Turns changes into sentences, and two lists of problems into what is new and what is gone.

use super::compare::{Both, Change};
use crate::knowledge::Problem;
use crate::knowledge::schema::Strength;
use crate::text::clean;
use serde_json::Value;

/// One entry of a list, by the list's name.
pub(super) fn one_of_kind(kind: &str) -> &str {
    match kind {
        "families" => "family",
        "sources" => "source",
        "causes" => "cause",
        "conditions" => "condition",
        "findings" => "finding",
        "readings" => "reading",
        "openings" => "opening",
        "checks" => "check",
        "remedies" => "remedy",
        "procedures" => "procedure",
        "service" => "return-to-service line",
        "cautions" => "caution",
        "stop_rules" => "stop rule",
        "excludes" => "exclusion group",
        "same_observation" => "group of one observation",
        "first_minute" => "question of the first minute",
        "inseparable" => "inseparable group",
        "cases" => "case",
        "codes" => "code",
        "retired" => "retired id",
        "glossary" => "trade term",
        other => other,
    }
}

/// Name of an entry with its id.
pub(super) fn named(both: &Both, id: &str) -> String {
    match name(both, id) {
        Some(name) => format!("\"{name}\" ({id})"),
        None => id.to_owned(),
    }
}

fn name<'b>(both: &'b Both, id: &str) -> Option<&'b str> {
    let entry = both.entry(id)?;
    ["name", "hazard", "question", "title"].iter().find_map(|field| entry.get(field)?.as_str())
}

/// A change of one field in words; a link is told from its cause to its effect.
pub(super) fn words(both: &Both, id: &str, path: &[String], old: Option<&str>, new: Option<&str>) -> String {
    let short = |id: &str| name(both, id).unwrap_or(id).to_owned();
    let link = match path {
        [field, other, rest @ ..] if field == "leads_to" => Some((short(id), short(other), rest)),
        [field, other, rest @ ..] if field == "shown_by" || field == "moved_by" => {
            Some((short(other), short(id), rest))
        }
        _ => None,
    };
    let (what, is_link) = match link {
        Some((from, to, [])) => (format!("link {from} → {to}"), true),
        Some((from, to, [field])) if field == "strength" => (format!("{from} → {to}"), false),
        Some((from, to, rest)) => (format!("{from} → {to}, {}", rest.join(", ")), false),
        None if path.is_empty() => (short(id), false),
        None => (format!("{}, {}", short(id), path.join(", ").replace('_', " ")), false),
    };
    match (old, new) {
        (None, Some(new)) if is_link => format!("new {what}: {new}"),
        (Some(old), None) if is_link => format!("{what} is gone; it was {old}"),
        (None, Some(new)) => format!("{what}: {new} is new"),
        (Some(old), None) => format!("{what}: {old} is gone"),
        (old, new) => format!("{what}: {} → {}", old.unwrap_or("nothing"), new.unwrap_or("nothing")),
    }
}

/// A value as a supervisor reads it; a strength with word and number.
pub(super) fn shown(field: &str, value: &Value) -> String {
    if field == "strength"
        && let Ok(strength) = serde_json::from_value::<Strength>(value.clone())
    {
        return format!("{} ({})", strength.word(), strength.number());
    }
    match value {
        Value::Null => "nothing".to_owned(),
        Value::String(text) => format!("\"{text}\""),
        Value::Array(items) if items.is_empty() => "nothing".to_owned(),
        Value::Array(items) => items.iter().map(|item| shown("", item)).collect::<Vec<_>>().join(", "),
        Value::Object(map) if map.contains_key("strength") => {
            let part = |field: &str| match map.get(field)? {
                Value::String(word) if field != "strength" => Some(word.clone()),
                value => Some(shown(field, value)),
            };
            ["way", "strength", "basis"].into_iter().filter_map(part).collect::<Vec<_>>().join(", ")
        }
        Value::Object(map) => {
            let told = map.iter().filter(|(_, value)| !is_nothing(value));
            told.map(|(key, value)| format!("{key} {}", shown(key, value))).collect::<Vec<_>>().join(", ")
        }
        other => other.to_string(),
    }
}

fn is_nothing(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::String(text) => text.is_empty(),
        Value::Array(items) => items.is_empty(),
        Value::Object(map) => map.is_empty(),
        _ => false,
    }
}

/// One line per change, safety first and marked.
pub fn changes_in_words(changes: &[Change]) -> Vec<String> {
    let (safety, other): (Vec<&Change>, Vec<&Change>) = changes.iter().partition(|change| change.safety);
    // A text of several lines stays one line: else it could pass for more changes than there are.
    let safety = safety.into_iter().map(|change| format!("SAFETY  {}", clean(&change.words)));
    safety.chain(other.into_iter().map(|change| clean(&change.words))).collect()
}

/// Problems that are only in the second list, and those only in the first. Lines move with edits, so they do not count.
pub fn between<'p>(before: &'p [Problem], after: &'p [Problem]) -> (Vec<&'p Problem>, Vec<&'p Problem>) {
    (only_in_second(before, after), only_in_second(after, before))
}

fn only_in_second<'p>(first: &'p [Problem], second: &'p [Problem]) -> Vec<&'p Problem> {
    let mut left: Vec<&Problem> = first.iter().collect();
    let mut fresh = Vec::new();
    for problem in second {
        let same = |other: &&Problem| {
            (other.rule, &other.file, &other.message, other.severity)
                == (problem.rule, &problem.file, &problem.message, problem.severity)
        };
        match left.iter().position(same) {
            Some(at) => drop(left.swap_remove(at)),
            None => fresh.push(problem),
        }
    }
    fresh
}
