//! Turns a small knowledge with cases into marks; tests only.

#![allow(clippy::unwrap_used)]

use super::{DecisionClass, Ranking, TrialError, asked, mark, report};
use crate::knowledge::schema::Fact;
use crate::knowledge::{Knowledge, SourceText, load};
use std::rc::Rc;

/// Three causes of a knock, two of them with the same remedy; a look at each; three cases.
const SMALL: &str = r#"(
    version: 1,
    families: {"oil_backed": (name: "pump", recognise: "oil behind the diaphragm")},
    sources: {"practice": (title: "common practice, no source", kind: common_practice)},
    causes: {
        "seat": (name: "seat worn", place: "valve", shares: {"oil_backed": 500}, basis: guess, remedy: "valves"),
        "spring": (name: "spring broken", place: "valve", shares: {"oil_backed": 450}, basis: guess, remedy: "valves"),
        "bearing": (name: "bearing loose", place: "drive", shares: {"oil_backed": 400}, basis: guess, remedy: "bearings"),
    },
    findings: {
        "knock": (name: "knocks", question: "Does it knock?", aliases: ["bang", "thump", "hammers", "knocking"], shown_by: {
            "seat": (strength: half, basis: guess, source: "practice"),
            "spring": (strength: half, basis: guess, source: "practice"),
            "bearing": (strength: half, basis: guess, source: "practice")}),
        "hot": (name: "end hot", question: "Is the end hot?", shown_by: {
            "bearing": (strength: nearly_always, basis: guess, source: "practice")}),
        "found_seat": (name: "seat is worn", question: "Is the seat worn?", verdict_on: "seat"),
        "found_spring": (name: "spring is broken", question: "Is the spring broken?", verdict_on: "spring"),
        "found_bearing": (name: "bearing is loose", question: "Is the bearing loose?", verdict_on: "bearing"),
    },
    checks: {
        "listen": (name: "listen", yields: ["knock"], minutes: 1, steps: ["Listen."]),
        "touch": (name: "touch", yields: ["hot"], minutes: 1, steps: ["Touch."]),
        "open_valves": (name: "open valves", yields: ["found_seat", "found_spring"], minutes: 20, steps: ["Open."]),
        "open_drive": (name: "open drive", yields: ["found_bearing"], minutes: 30, steps: ["Open."]),
    },
    remedies: {
        "valves": (name: "renew valves", kind: repair, minutes: 30, steps: ["Renew."], proof: ["quiet"]),
        "bearings": (name: "renew bearing", kind: repair, minutes: 300, steps: ["Renew."], proof: ["quiet"]),
    },
    cases: {
        "cold_knock": (family: "oil_backed", told: "it bangs", source: "common practice, no source",
            complaint: ["knock"], facts: {"hot": no}, truth: ["spring"], rank: 1, forbidden: ["bearings"]),
        "hot_knock": (family: "oil_backed", told: "it bangs", source: "common practice, no source",
            complaint: ["knock"], facts: {"hot": yes}, truth: ["bearing"], rank: 1),
        "misled": (family: "oil_backed", told: "it bangs", source: "common practice, no source",
            complaint: ["knock"], facts: {"hot": yes}, cant_tell: ["found_seat"], truth: ["seat"], rank: 1,
            forbidden: ["bearings", "touch"], note: "hot for another reason"),
    },
)"#;

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
    let text = text.replace("remedies: {", "same_observation: {\"heat\": [\"hot\", \"smells\"]}, remedies: {");
    let loaded = load(vec![SourceText { name: "small.ron".to_owned(), text }]);
    assert!(!loaded.is_broken(), "{:#?}", loaded.problems);
    let knowledge = Rc::new(loaded.knowledge);
    let mut case = knowledge.all.cases["hot_knock"].clone();
    case.facts = [("smells".to_owned(), Fact::Yes)].into();
    let job = asked(&knowledge, &case).unwrap();
    assert!(job.sitting.job.given.contains_key("smells") && !job.sitting.job.given.contains_key("hot"));
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
