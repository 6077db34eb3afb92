//! Turns a proof into lines.

use super::flips::{Flip, Proof, Turn};
use crate::knowledge::Knowledge;
use std::fmt::Write as _;

/// What an edit does to the cases, line by line; the changes in words and the problems are told by the caller.
pub fn told(knowledge: &Knowledge, proof: &Proof) -> Vec<String> {
    if proof.played == 0 {
        return vec![format!("None of the {} cases can be moved by this.", proof.cases)];
    }
    let mut lines = vec![format!("{} of {} cases played before and after.", proof.played, proof.cases)];
    if proof.flips.is_empty() {
        lines.push("No case comes out otherwise.".to_owned());
    }
    lines.extend(proof.flips.iter().map(|flip| flip_in_words(knowledge, flip)));
    let percent = |share: f64| format!("{:.1} %", 100.0 * share);
    let (was, is) = (&proof.before, &proof.after);
    let pair = |was: f64, is: f64| format!("{} -> {}", percent(was), percent(is));
    lines.push(format!("Brier score, lower is better: {:.4} -> {:.4}.", was.brier, is.brier));
    let given = (pair(was.top1, is.top1), pair(was.top3, is.top3));
    lines.push(format!("All facts given: first {}, in the first three {}.", given.0, given.1));
    if let (Some(was), Some(is)) = (was.asked, is.asked) {
        lines.push(format!("Asked: first {}, in the first three {}.", pair(was.0, is.0), pair(was.1, is.1)));
    }
    lines
}

/// One case that flips, in one line.
pub fn flip_in_words(knowledge: &Knowledge, flip: &Flip) -> String {
    let word = match flip.turn {
        Turn::Worse => "Worse",
        Turn::Better => "Better",
        Turn::Other if flip.before.is_none() => "New case",
        Turn::Other => "Case gone",
    };
    let asked = if flip.asked { ", asked" } else { "" };
    let rank = |rank: Option<usize>| rank.map_or_else(|| "none".to_owned(), |rank| rank.to_string());
    let mut line = match (flip.before, flip.after) {
        (None, Some(after)) if flip.turn == Turn::Other => format!("{word}: {}{asked}: rank {after}", flip.case),
        (Some(before), None) if flip.turn == Turn::Other => format!("{word}: {}{asked}: rank {before}", flip.case),
        (before, after) => format!("{word}: {}{asked}: rank {} -> {}", flip.case, rank(before), rank(after)),
    };
    if let Some(first) = flip.first_after.as_ref().filter(|_| flip.first_before != flip.first_after) {
        let name = knowledge.all.causes.get(first).map_or(first.as_str(), |cause| cause.name.as_str());
        let _ = write!(line, "; first now: {name}");
    }
    for id in &flip.forbidden {
        let _ = write!(line, "; advises `{id}` first, which is forbidden");
    }
    if let Some(trouble) = &flip.trouble {
        let _ = write!(line, "; {trouble}");
    }
    line
}
