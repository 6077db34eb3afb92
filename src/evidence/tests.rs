//! Turns answers and numbers into likelihoods whose size is known; tests only.

#![allow(clippy::unwrap_used, clippy::float_cmp)]

use super::{Answer, Facts, Measured, Why, answered, bins, density, read_facts, weigh};
use crate::belief::{Leaf, Likelihood};
use crate::knowledge::schema::AnswerError;
use crate::knowledge::{Graph, Healthy, Knowledge, Scale, SourceText, load};
use crate::quantity::{Dimension, Quantity};

const FILE: &str = r#"(
    version: 1,
    families: {"oil_backed": (name: "oil-backed pump", recognise: "oil behind the diaphragm")},
    causes: {
        "strainer": (name: "strainer", place: "inlet", shares: {"oil_backed": 700}, basis: guess,
            leads_to: {"starved": (strength: usually, basis: guess)}),
        "relief": (name: "relief", place: "outlet", shares: {"oil_backed": 400}, basis: guess),
    },
    conditions: {"starved": (name: "starved", leak: 0.01)},
    findings: {
        "weak": (name: "weak", question: "Weak?", aliases: ["weak"], shown_by: {"starved": (strength: usually, basis: guess)}),
        "found_strainer": (name: "found", question: "Clogged?", verdict_on: "strainer", error: (false_yes: 0.02, missed: 0.05)),
    },
    readings: {
        "flow": (name: "flow", question: "Flow?", instrument: "bucket", running_state: "full", quantity: "flow", unit: "L/min",
            healthy: of_usual(0.93, 1.07), scale: ("0 L/min", "100 L/min"), gauge_error: "0.5 L/min",
            moved_by: {"starved": (way: down, strength: usually, basis: guess)}),
        "vacuum": (name: "vacuum", question: "Vacuum?", instrument: "gauge", running_state: "full", quantity: "gauge_pressure",
            unit: "inHg", healthy: between("-5 inHg", "1 inHg"), scale: ("-30 inHg", "30 inHg"), gauge_error: "0.5 inHg",
            moved_by: {"starved": (way: down, strength: usually, basis: guess)}),
    },
    same_observation: {"flow": ["flow", "weak"]},
)"#;

fn knowledge() -> Knowledge {
    load(vec![SourceText { name: "a.ron".to_owned(), text: FILE.to_owned() }]).knowledge
}

fn inlet() -> Scale {
    let pa = |inhg: f64| inhg * 3386.389;
    Scale {
        dimension: Dimension::GaugePressure,
        healthy: Healthy::Between(pa(-5.0), pa(1.0)),
        low: pa(-30.0),
        high: pa(30.0),
        error: pa(0.5),
    }
}

/// A miss and a false yes turn a sure sign into 1 − (1 − leak)(1 − missed·…): worked by hand.
#[test]
fn the_error_of_an_answer_is_part_of_its_leaf() {
    let leaf = answered(&Leaf { leak: 0.1, parents: vec![(0, 0.8)] }, AnswerError { false_yes: 0.05, missed: 0.25 });
    assert!((leaf.leak - (1.0 - 0.9 * 0.95)).abs() < 1e-12);
    assert!((leaf.parents[0].1 - 0.6).abs() < 1e-12);
}

#[test]
fn can_t_tell_says_nothing() {
    for silent in [Answer::CantTell, Answer::CantCheck, Answer::NotApplicable] {
        assert!(silent.likelihood().is_none() && !silent.speaks());
    }
    let (yes, probably) = (Answer::Yes.likelihood().unwrap(), Answer::ProbablyYes.likelihood().unwrap());
    assert!(probably.0 / probably.1 < yes.0 / yes.1.max(1e-9), "probably is weaker than yes");
}

/// 9 inHg of vacuum speaks for a pulled-down gauge, 2 inHg for a healthy one; a wild number never decides alone (2 %).
#[test]
fn a_number_speaks_by_its_band() {
    let scale = inlet();
    let at = |inhg: f64| density(&scale, inhg * 3386.389, None).unwrap();
    let low = at(-9.0);
    assert!(low[1] == 1.0 && low[0] < 0.02 && low[2] < 0.02);
    let fine = at(-2.0);
    assert!(fine[0] == 1.0 && fine[1] < 0.02);
    let border = at(-5.0);
    assert!(0.05 < border[1] && border[1] < 1.0, "on the border both stand: {border:?}");
    for value in at(-29.9) {
        assert!(value.is_finite() && 0.0 < value);
    }
}

/// The bins of a reading not yet taken are probabilities: they sum to one in each state.
#[test]
fn bins_sum_to_one() {
    let bins = bins(&inlet(), None).unwrap();
    for state in 0..4 {
        let sum: f64 = bins.iter().map(|bin| bin[state]).sum();
        assert!((sum - 1.0).abs() < 1e-12 && bins.iter().all(|bin| 0.0 < bin[state]));
    }
    assert!(0.9 < bins[super::Bin::Inside as usize][0] && 0.9 < bins[super::Bin::Below as usize][1]);
}

#[test]
fn a_share_of_the_usual_value_needs_the_usual_value() {
    let knowledge = knowledge();
    let graph = Graph::new(&knowledge, "oil_backed", None);
    let mut facts = Facts::default();
    let flow = |litres: f64| Quantity::of(Dimension::Flow, litres, "L/min").unwrap();
    facts.numbers.insert("flow".to_owned(), Measured { quantity: flow(20.0), text: "20 L/min".to_owned() });
    let without = weigh(&knowledge, &graph, &facts, None);
    assert!(without.used.is_empty() && without.set_aside[0].why == Why::NoUsualValue);
    facts.usual.insert("flow".to_owned(), flow(30.0));
    let with = weigh(&knowledge, &graph, &facts, None);
    let Likelihood::Pulls { density, .. } = &with.used[0].1 else { unreachable!("a number pulls") };
    assert!(density[1] == 1.0, "two thirds of the usual flow is pulled down: {density:?}");
}

/// One observation, one likelihood: the number counts, the words about the same thing do not.
#[test]
fn the_same_thing_counts_once() {
    let knowledge = knowledge();
    let graph = Graph::new(&knowledge, "oil_backed", None);
    let flow = |litres: f64| Quantity::of(Dimension::Flow, litres, "L/min").unwrap();
    let mut facts = Facts { complaint: vec!["weak".to_owned()], ..Facts::default() };
    assert_eq!(weigh(&knowledge, &graph, &facts, None).used.len(), 1);
    facts.numbers.insert("flow".to_owned(), Measured { quantity: flow(20.0), text: String::new() });
    facts.usual.insert("flow".to_owned(), flow(30.0));
    let both = weigh(&knowledge, &graph, &facts, None);
    assert_eq!(both.used.iter().map(|(id, _)| id.as_str()).collect::<Vec<_>>(), ["flow"]);
    assert_eq!(both.set_aside[0].why, Why::SameAs("flow".to_owned()));
}

fn facts_file(text: &str) -> super::ReadFacts {
    read_facts(&SourceText { name: "facts.ron".to_owned(), text: text.to_owned() }, &knowledge())
}

#[test]
fn a_facts_file_is_read_like_knowledge() {
    let good = facts_file(
        "(family: \"oil_backed\", complaint: [\"weak\"], findings: {\"found_strainer\": probably_yes}, readings: {\"vacuum\": \"9 inHg vac\"})",
    );
    assert_eq!(good.problems, Vec::new());
    assert!((good.facts.numbers["vacuum"].quantity.si() + 9.0 * 3386.389).abs() < 1.0);
    let cases = [
        ("(family: \"oil_baked\")", "unknown_id", "did you mean `oil_backed`?"),
        ("(family: \"oil_backed\", complaint: [\"weka\"])", "unknown_id", "did you mean `weak`?"),
        ("(family: \"oil_backed\", findings: {\"weak\": maybe})", "unreadable", "not one of the words"),
        ("(family: \"oil_backed\", finding: {})", "unreadable", "did you mean `findings`?"),
        ("(family: \"oil_backed\", readings: {\"vacuum\": \"9 rpm\"})", "bad_quantity", "rpm"),
        (
            "(family: \"oil_backed\", readings: {\"vacuum\": \"-31 inHg\"})",
            "impossible",
            "no gauge can show more vacuum",
        ),
        ("(family: \"oil_backed\", readings: {\"vacuum\": \"NaN inHg\"})", "bad_quantity", "`vacuum` takes"),
        ("(family: \"oil_backed\", findings: {\"weak\": yes, \"weak\": no})", "key_twice", "stands twice"),
        ("nonsense", "unreadable", ""),
    ];
    for (text, rule, words) in cases {
        let problems = facts_file(text).problems;
        let told = problems.iter().find(|p| p.rule == rule).map(|p| format!("{} {}", p.message, p.hint));
        assert!(told.as_ref().is_some_and(|told| told.contains(words)), "{text}: {problems:?}");
    }
}

#[test]
fn what_is_quoted_back_is_clean() {
    let problems = facts_file("(family: \"oil\u{1b}[31m\u{202e}_backed\")").problems;
    assert!(problems.iter().all(|p| !p.message.chars().any(|c| c.is_control() || c == '\u{202e}')), "{problems:?}");
}
