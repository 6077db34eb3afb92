//! Turns lessons that cannot be practised into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::Lesson;

/// A lesson has a complaint, a fault with a severity, a group and words that do not give the fault away.
pub const RULE: Rule = Rule {
    name: "bad_lesson",
    finds: "a lesson without complaint, fault, group or source, or with a severity outside 0 to 1",
    matters: "a lesson that cannot be played teaches nothing",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, lesson) in &knowledge.all.lessons {
        for (path, message, hint) in missing(lesson).into_iter().chain(severities(lesson)) {
            let path: Vec<&str> = path.iter().map(String::as_str).collect();
            problems.push(knowledge.problem(Severity::Error, RULE.name, id, &path, (message, hint)));
        }
    }
}

/// Path inside the lesson, message, hint.
type Wrong = (Vec<String>, String, String);

fn missing(lesson: &Lesson) -> Vec<Wrong> {
    let empty = |text: &str| text.trim().is_empty();
    let told = [
        (lesson.complaint.is_empty(), "complaint", "name the findings that the words tell"),
        (lesson.faults.is_empty(), "faults", "name a fault of the simulation with its severity, 0 to 1"),
        (empty(&lesson.alike), "alike", "name the group of faults that look like this one"),
        (empty(&lesson.told), "told", "write what whoever called said"),
        (empty(&lesson.source), "source", "name author, title and page, or write: common practice, no source"),
    ];
    let missing = told.into_iter().filter(|(is_missing, ..)| *is_missing);
    missing
        .map(|(_, field, hint)| (vec![field.to_owned()], format!("this lesson has no {field}"), hint.to_owned()))
        .collect()
}

fn severities(lesson: &Lesson) -> Vec<Wrong> {
    let outside = lesson.faults.iter().filter(|(_, severity)| !(0.0..=1.0).contains(*severity));
    let wrong = |(fault, severity): (&String, &f64)| {
        let hint = "0 is the slightest that shows, 1 the worst".to_owned();
        (vec!["faults".to_owned(), fault.clone()], format!("a severity of {severity} is outside 0 to 1"), hint)
    };
    outside.map(wrong).collect()
}
