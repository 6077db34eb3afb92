//! Compares posteriors and worths of questions with those of a general-purpose library (pyagrum 3.3.1) on stored networks,
//! to 1e-9.

#![allow(clippy::unwrap_used)]

#[path = "common/nets.rs"]
mod nets;

use nets::NetFile;
use serde_json::Value;
use std::path::PathBuf;
use weephole::belief::{bits, causes_posterior, outcomes};

fn path(name: &str) -> PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/nets").join(name)
}

fn reference(name: &str) -> Value {
    serde_json::from_str(&std::fs::read_to_string(path(name)).unwrap()).unwrap()
}

/// All posteriors of all 20 cases.
fn posteriors_agree(net: &str) {
    let file = NetFile::read(&path(&format!("{net}.json"))).unwrap();
    let expected = reference(&format!("{net}_posteriors.json"));
    assert_eq!(file.cases.len(), 20);
    for (number, evidence) in file.cases.iter().enumerate() {
        let belief = causes_posterior(&file.network, evidence).unwrap();
        let theirs = expected[number].as_array().unwrap();
        assert_eq!(theirs.len(), file.causes.len());
        for (&cause, theirs) in file.causes.iter().zip(theirs) {
            let (ours, theirs) = (belief.present[cause], theirs.as_f64().unwrap());
            assert!((ours - theirs).abs() <= 1e-9, "{net} case {number} cause {cause}: {ours} instead of {theirs}");
        }
    }
}

/// The worth in bits of every open question of a case.
fn worths_agree(net: &str, case: usize) {
    let file = NetFile::read(&path(&format!("{net}.json"))).unwrap();
    let expected = reference(&format!("{net}_voi_case{case}.json"));
    let evidence = &file.cases[case];
    let belief = causes_posterior(&file.network, evidence).unwrap();
    let now: Vec<f64> = file.causes.iter().map(|&cause| belief.present[cause]).collect();
    let (names, questions) = file.open(case);
    let found = outcomes(&file.network, evidence, &questions, &file.causes).unwrap();
    assert_eq!(expected.as_object().unwrap().len(), names.len());
    for (name, outcomes) in names.iter().zip(&found) {
        let (ours, theirs) = (bits(&now, outcomes.as_ref().unwrap()), expected[*name].as_f64().unwrap());
        assert!((ours - theirs).abs() <= 1e-9, "{net} case {case} {name}: {ours} instead of {theirs}");
    }
}

#[test]
fn twenty_causes() {
    posteriors_agree("n20");
    (0..3).for_each(|case| worths_agree("n20", case));
}

#[test]
fn sixty_causes() {
    posteriors_agree("n60");
    (0..3).for_each(|case| worths_agree("n60", case));
}

#[test]
fn two_hundred_causes() {
    posteriors_agree("n200");
}

#[test]
fn a_thousand_causes() {
    posteriors_agree("n1000");
}
