//! Turns checks and repairs into minutes and openings, the same way for everybody who works at the pump.

use super::Effort;
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Check, Id, PumpState};
use crate::planning::{Openings, WHILE_THERE, openings};
use indexmap::IndexSet;

/// The opening that stands for a proved isolation.
const ISOLATE: &str = "isolate";
/// Minutes of a repair the graph has no remedy for, and of a job that is given up: help is called. Common practice.
pub const CALL_FOR_HELP: f64 = 240.0;

/// What the work took so far.
#[derive(Debug, Clone, Default)]
pub struct Tally {
    /// The sums.
    pub effort: Effort,
    begun: IndexSet<Id>,
    opened: Openings,
}

impl Tally {
    /// One thing asked within a check.
    pub fn check(&mut self, knowledge: &Knowledge, id: &str) {
        let Some(check) = knowledge.all.checks.get(id) else { return };
        self.effort.answers += 1;
        self.open(knowledge, needed(knowledge, check));
        let is_first = self.begun.insert(id.to_owned());
        self.effort.minutes += if is_first { check.minutes } else { check.minutes.min(WHILE_THERE) };
        if check.state == PumpState::Running {
            self.ran();
        }
    }

    /// A cause put right and the pump tried; what was needed anyway takes no minutes here.
    pub fn repair(&mut self, knowledge: &Knowledge, cause: &str, was_needed: bool) {
        self.effort.repairs += 1;
        if !was_needed {
            let remedy = knowledge.all.causes.get(cause).and_then(|cause| cause.remedy.as_ref());
            let remedy = remedy.and_then(|remedy| knowledge.all.remedies.get(remedy));
            self.open(knowledge, remedy.map_or(0, |remedy| openings(knowledge, remedy.opening.as_ref())));
            self.effort.minutes += remedy.map_or(CALL_FOR_HELP, |remedy| remedy.minutes + remedy.part_minutes);
        }
        self.ran();
    }

    /// The pump ran: what was open is shut, and isolation counts no more.
    fn ran(&mut self) {
        self.opened = 0;
    }

    fn open(&mut self, knowledge: &Knowledge, needed: Openings) {
        let missing = needed & !self.opened;
        self.opened |= needed;
        let all = knowledge.all.openings.iter().enumerate();
        for (_, (id, opening)) in all.filter(|(bit, _)| *bit < 64 && missing >> bit & 1 == 1) {
            self.effort.minutes += opening.minutes;
            self.effort.openings += usize::from(id != ISOLATE);
        }
    }
}

/// What a check needs opened; isolation first where hands go in.
pub fn needed(knowledge: &Knowledge, check: &Check) -> Openings {
    let isolate = if check.opens() { openings(knowledge, Some(&ISOLATE.to_owned())) } else { 0 };
    openings(knowledge, check.opening.as_ref()) | isolate
}

/// Minutes of a check done by itself, with all it needs opened.
pub fn whole_minutes(knowledge: &Knowledge, check: &Check) -> f64 {
    let needed = needed(knowledge, check);
    let all = knowledge.all.openings.values().enumerate();
    let open: f64 = all.filter(|(bit, _)| *bit < 64 && needed >> bit & 1 == 1).map(|(_, one)| one.minutes).sum();
    check.minutes + open
}
