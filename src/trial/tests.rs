//! Turns a small knowledge with cases into marks; tests only.

#![allow(clippy::unwrap_used)]

use super::{DecisionClass, Ranking, TrialError, asked, mark, report};
use crate::knowledge::schema::Fact;
use crate::knowledge::{Knowledge, SourceText, load};
use std::rc::Rc;

/// Three causes of a knock, two of them with the same remedy; a look at each; three cases.
const SMALL: &str = include_str!("../../tests/fixtures/trial/small.ron");

fn small() -> Rc<Knowledge> {
    let loaded = load(vec![SourceText { name: "small.ron".to_owned(), text: SMALL.to_owned() }]);
    assert!(!loaded.is_broken(), "{:#?}", loaded.problems);
    Rc::new(loaded.knowledge)
}

/// With the end cold, 500 : 450 shares speak for the seat first; the spring has the same remedy, so its rank is 1.
#[test]
fn causes_with_the_same_remedy_count_as_one() {
    let marks = mark(&small(), "cold_knock").unwrap();
    assert_eq!((marks.given.rank, marks.given.first.as_str()), (1, "seat"));
    assert!(marks.given.forbidden.is_empty() && marks.brier < 0.1, "{marks:?}");
}

#[test]
fn a_case_that_misleads_fails_with_its_reasons() {
    let knowledge = small();
    let marks: Vec<_> = knowledge.all.cases.keys().map(|id| mark(&knowledge, id).unwrap()).collect();
    let report = report(&knowledge, &marks);
    assert_eq!((report.cases, report.failing.len()), (3, 1));
    let failing = &report.failing[0];
    assert_eq!((failing.case.as_str(), failing.given_rank, failing.given_first.as_str()), ("misled", 2, "bearing"));
    let why = failing.why.join("\n");
    assert!(why.contains("rank 2, expected 1") && why.contains("`bearings` first, which is forbidden"), "{why}");
    assert!(why.contains("asked: advises `touch`"), "the first check counts as advice: {why}");
    assert!((report.given.top1 - 2.0 / 3.0).abs() < 1e-12 && (report.given.top3 - 1.0).abs() < 1e-12);
    let json = serde_json::to_value(&report).unwrap();
    assert!(json["asked"]["top1"].is_number() && json["asked"]["mean_answers"].is_number(), "{json}");
    assert!(json["given"]["top3"].is_number() && json["brier"].as_f64().unwrap() < 1.0, "{json}");
}

/// Nothing but the complaint is known: every question is answered by can't-tell, and the asking ends.
#[test]
fn what_a_case_does_not_hold_is_answered_by_cant_tell() {
    let knowledge = small();
    let mut case = knowledge.all.cases["cold_knock"].clone();
    case.facts.clear();
    let job = asked(&knowledge, &case).unwrap();
    assert!(1 <= job.answers && job.answers <= 4, "{}", job.answers);
    assert_eq!(job.first_check.as_deref(), Some("touch"), "a minute that tells valves from bearing");
    assert_eq!(mark(&knowledge, "no_such_case").unwrap_err(), TrialError::NoSuchCase("no_such_case".to_owned()));
}

/// Asked for the touch, whoever felt the heat by the smell of it says so: another word for the same observation.
#[test]
fn another_word_for_the_same_thing_is_told() {
    let text = SMALL.replace(
        "\"found_seat\": (",
        "\"smells\": (name: \"smells hot\", question: \"Does it smell?\", shown_by: {
            \"bearing\": (strength: usually, basis: guess, source: \"practice\")}), \"found_seat\": (",
    );
    let text = text.replace("remedies: {", "same_observation: {\"heat\": [\"smells\", \"hot\"]}, remedies: {");
    let loaded = load(vec![SourceText { name: "small.ron".to_owned(), text }]);
    assert!(!loaded.is_broken(), "{:#?}", loaded.problems);
    let knowledge = Rc::new(loaded.knowledge);
    let mut case = knowledge.all.cases["hot_knock"].clone();
    case.facts = [("smells".to_owned(), Fact::Yes)].into();
    let job = asked(&knowledge, &case).unwrap();
    let given: Vec<&String> = job.sitting.job.given.keys().collect();
    assert!(job.sitting.job.given.contains_key("smells") && !job.sitting.job.given.contains_key("hot"), "{given:?}");
}

/// Half the sum of squared distances: sure and right 0, sure and wrong 1, one half on each of two 0.25.
#[test]
fn the_brier_score_ends_at_one() {
    let knowledge = small();
    let of = |valves: f64, bearings: f64| {
        let class = |class: &str, first: &str, share| DecisionClass { class: class.into(), first: first.into(), share };
        Ranking(vec![class("valves", "seat", valves), class("bearings", "bearing", bearings)])
            .brier(&knowledge, &["spring".to_owned()])
    };
    assert!(of(1.0, 0.0).abs() < 1e-12 && (of(0.0, 1.0) - 1.0).abs() < 1e-12 && (of(0.5, 0.5) - 0.25).abs() < 1e-12);
    let both = Ranking(vec![
        DecisionClass { class: "valves".into(), first: "seat".into(), share: 0.5 },
        DecisionClass { class: "bearings".into(), first: "bearing".into(), share: 0.5 },
    ]);
    assert!(both.brier(&knowledge, &["seat".to_owned(), "bearing".to_owned()]).abs() < 1e-12, "two faults, half each");
}
