//! Turns the entries of a job into the list of likely causes after each entry that could move it, by replaying them.

use super::view::rounded;
use crate::job::{Entry, Event, LikelyRow, Sitting, stamp};
use crate::knowledge::schema::Id;
use crate::quantity::echo_text;
use serde::Serialize;
use std::rc::Rc;

/// Causes kept per step.
const KEPT: usize = 5;
/// Lines of the chart at most: more cannot be told apart.
const MOST_LINES: usize = 6;

/// How the list of causes moved.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Beliefs {
    /// One step per entry that could move the list, in order.
    pub steps: Vec<BeliefStep>,
    /// The causes worth a line in a chart: those leading at the end, and whoever led on the way.
    pub lines: Vec<BeliefLine>,
}

/// The list after one entry.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BeliefStep {
    /// Number of the entry in the journal, from 1.
    pub entry: usize,
    /// When.
    pub at: String,
    /// What was said, seen or measured, in one line.
    pub what: String,
    /// The first causes of the list, most probable first.
    pub ranked: Vec<Ranked>,
}

/// One place of the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ranked {
    /// Cause.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Probability, to six digits.
    pub probability: f64,
}

/// One cause over the steps.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BeliefLine {
    /// Cause.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Probability after each step, to six digits.
    pub probabilities: Vec<f64>,
}

/// How the list moved, entry by entry, with the knowledge at hand.
pub(super) fn of(sitting: &Sitting) -> Beliefs {
    let mut entries = sitting.job.entries.iter().cloned();
    let Some(opened) = entries.next() else { return Beliefs::default() };
    let Ok(mut replay) = Sitting::new(Rc::clone(&sitting.knowledge), vec![opened]) else { return Beliefs::default() };
    let (mut steps, mut lists) = (Vec::new(), Vec::new());
    for (at, entry) in entries.enumerate() {
        let (what, when) = (said(sitting, &entry), stamp(entry.at));
        replay.apply(entry);
        let Some(what) = what else { continue };
        let list = replay.likely(usize::MAX);
        let ranked = list.iter().take(KEPT).map(|row| Ranked {
            id: row.id.clone(),
            name: row.name.clone(),
            probability: rounded(row.probability),
        });
        steps.push(BeliefStep { entry: at + 2, at: when, what, ranked: ranked.collect() });
        lists.push(list);
    }
    let lines = charted(&lists).into_iter().map(|(id, name)| {
        let at = |list: &Vec<LikelyRow>| list.iter().find(|row| row.id == id).map_or(0.0, |row| row.probability);
        let probabilities = lists.iter().map(|list| rounded(at(list))).collect();
        BeliefLine { id, name, probabilities }
    });
    Beliefs { lines: lines.collect(), steps }
}

/// The first three at the end, then whoever stood first on the way, the latest first.
fn charted(lists: &[Vec<LikelyRow>]) -> Vec<(Id, String)> {
    let end = lists.last().into_iter().flat_map(|list| list.iter().take(3));
    let firsts = lists.iter().rev().filter_map(|list| list.first());
    let mut kept: Vec<(Id, String)> = Vec::new();
    for row in end.chain(firsts) {
        if !kept.iter().any(|(id, _)| *id == row.id) && kept.len() < MOST_LINES {
            kept.push((row.id.clone(), row.name.clone()));
        }
    }
    kept
}

/// What an entry says about the pump; nothing for entries that only decide or remark.
fn said(sitting: &Sitting, entry: &Entry) -> Option<String> {
    let name = |id: &Id| sitting.name_of(id);
    let number = |id: &Id, text: &String, si: f64| {
        sitting.quantity_of(id, si).map_or_else(|| text.clone(), |quantity| echo_text(text, quantity))
    };
    match &entry.event {
        Event::Complaint { words, .. } => Some(format!("complaint: {words}")),
        Event::FirstMinute { say, .. } => Some(format!("first minute: {say}")),
        Event::Answered { finding, answer, .. } => Some(format!("{}: {}", name(finding), answer.words())),
        Event::Measured { reading, text, si, .. } => Some(format!("{}: {}", name(reading), number(reading, text, *si))),
        Event::Usual { reading, text, si } => Some(format!("usual {}: {}", name(reading), number(reading, text, *si))),
        Event::Sheet { .. } => Some("pump sheet filled in or changed".to_owned()),
        Event::Withdrawn { id } => Some(format!("taken back: {}", name(id))),
        _ => None,
    }
}
