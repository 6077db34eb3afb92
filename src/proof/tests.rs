//! Turns small edits of a small knowledge into proofs; tests only.

use super::{Proof, Turn, cases_touched, play, told};
use crate::editing::{Edit, apply, compare};
use crate::knowledge::{Loaded, SourceText, load};
use std::rc::Rc;

/// Three causes of a knock, a hot end that tells the bearing, three cases.
const SMALL: &str = include_str!("../../tests/fixtures/trial/small.ron");

fn small() -> Loaded {
    load(vec![SourceText { name: "small.ron".to_owned(), text: SMALL.to_owned() }])
}

fn after(old: &Loaded, edit: &Edit) -> Loaded {
    load(apply(&old.knowledge, &["small.ron".to_owned()], edit).unwrap().sources)
}

fn set(path: &str, value: &str) -> Edit {
    Edit::Set { path: path.to_owned(), value: value.to_owned() }
}

fn prove(old: &Loaded, new: &Loaded, ask: bool) -> Proof {
    let ids = cases_touched(&old.knowledge, &new.knowledge, &compare(&old.knowledge, &new.knowledge));
    let both = (Rc::new(old.knowledge.clone()), Rc::new(new.knowledge.clone()));
    let played: Vec<_> = ids.iter().map(|id| play(&both.0, &both.1, id, ask)).collect();
    Proof::of(old, new, &played)
}

/// By hand: with the end hot, the bearing stands against seat and spring as 400 : 950 shares times `hot` under each. At "nearly
/// always" (0.98) it leads; at "almost never" nothing explains the heat but chance, and the shares lead: the valves.
#[test]
fn a_strength_turned_round_flips_the_case_it_carries() {
    let old = small();
    let new = after(&old, &set("hot.shown_by.bearing.strength", "almost_never"));
    let proof = prove(&old, &new, false);
    assert_eq!((proof.played, proof.cases), (3, 3));
    let hot = proof.flips.iter().find(|flip| flip.case == "hot_knock").unwrap();
    assert_eq!((hot.turn, hot.before, hot.after, hot.asked), (Turn::Worse, Some(1), Some(2), false));
    assert_eq!((hot.first_before.as_deref(), hot.first_after.as_deref()), (Some("bearing"), Some("seat")));
    let misled = proof.flips.iter().find(|flip| flip.case == "misled").unwrap();
    assert_eq!((misled.turn, misled.before, misled.after), (Turn::Better, Some(2), Some(1)));
    assert_eq!(proof.flips[0].turn, Turn::Worse, "worse ones stand first");
    assert_eq!(proof.worse(), ["hot_knock"]);
    assert!((proof.before.top1 - 2.0 / 3.0).abs() < 1e-12 && (proof.after.top1 - 2.0 / 3.0).abs() < 1e-12);
    assert!(!proof.touches_safety() && proof.before.asked.is_none());
    let lines = told(&new.knowledge, &proof).join("\n");
    assert!(lines.contains("Worse: hot_knock: rank 1 -> 2; first now: seat worn"), "{lines}");
    assert!(lines.contains("Better: misled: rank 2 -> 1"), "{lines}");

    let back = prove(&new, &old, true);
    assert_eq!(back.worse(), ["misled"]);
    assert!(back.before.asked.is_some() && back.after.asked.is_some());
}

#[test]
fn a_new_name_plays_the_cases_and_flips_none() {
    let old = small();
    let new = after(&old, &set("findings.hot.name", "\"drive end hot\""));
    let proof = prove(&old, &new, true);
    assert_eq!((proof.played, proof.flips.len()), (3, 0));
    assert_eq!(proof.before, proof.after);
    assert!(told(&new.knowledge, &proof).join("\n").contains("No case comes out otherwise."));
}

#[test]
fn where_a_number_comes_from_moves_no_case() {
    let old = small();
    let new = after(&old, &set("hot.shown_by.bearing.reviewed", "\"2026-11\""));
    let proof = prove(&old, &new, false);
    assert_eq!((proof.played, proof.flips.len(), proof.changes.len()), (0, 0, 1));
    assert_eq!(told(&new.knowledge, &proof), ["None of the 3 cases can be moved by this."]);
}

/// A second family with a cause and a finding of its own: its edits play its cases alone.
#[test]
fn only_cases_of_the_families_touched_are_played() {
    let text = SMALL
        .replace("families: {", "families: {\"dry\": (name: \"dry\", recognise: \"no oil\"), ")
        .replace("causes: {", "causes: {\"seal\": (name: \"seal\", place: \"drive\", shares: {\"dry\": 900}, basis: guess),")
        .replace(
            "findings: {",
            "findings: {\"drips\": (name: \"drips\", question: \"Does it drip?\", shown_by: {\"seal\": (strength: often,
                basis: guess, source: \"practice\")}),",
        )
        .replace(
            "cases: {",
            "cases: {\"dry_drip\": (family: \"dry\", told: \"it drips\", source: \"common practice, no source\",
                complaint: [\"drips\"], truth: [\"seal\"], rank: 1),",
        );
    let old = load(vec![SourceText { name: "small.ron".to_owned(), text }]);
    let new = after(&old, &set("drips.shown_by.seal.strength", "usually"));
    let touched = |changes: &[_]| cases_touched(&old.knowledge, &new.knowledge, changes);
    assert_eq!(touched(&compare(&old.knowledge, &new.knowledge)), ["dry_drip"]);
    let new = after(&old, &set("hot.shown_by.bearing.strength", "usually"));
    let changes = compare(&old.knowledge, &new.knowledge);
    assert_eq!(cases_touched(&old.knowledge, &new.knowledge, &changes), ["cold_knock", "hot_knock", "misled"]);
    let new = after(&old, &set("checks.touch.minutes", "3"));
    let changes = compare(&old.knowledge, &new.knowledge);
    assert_eq!(cases_touched(&old.knowledge, &new.knowledge, &changes).len(), 4);
}

#[test]
fn a_case_that_is_new_gone_or_changed_is_told_apart_from_flips() {
    let old = small();
    let entry = "(family: \"oil_backed\", told: \"hot\", source: \"own log\", complaint: [\"hot\"], truth: [\"bearing\"], rank: 1)";
    let add = Edit::Add {
        kind: crate::knowledge::Kind::Cases,
        id: "hot_only".to_owned(),
        entry: entry.to_owned(),
        file: Some("small.ron".to_owned()),
    };
    let new = after(&old, &add);
    let proof = prove(&old, &new, false);
    assert_eq!((proof.played, proof.flips.len(), proof.flips[0].turn), (1, 1, Turn::Other));
    assert!(proof.worse().is_empty());
    assert!(told(&new.knowledge, &proof).join("\n").contains("New case: hot_only: rank 1; first now: bearing loose"));
    assert!(told(&old.knowledge, &prove(&new, &old, false)).join("\n").contains("Case gone: hot_only: rank 1"));
}
