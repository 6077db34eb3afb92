//! Turns the events of work on the pump into how far it is: what was changed and what came of it, the rebuild sheet that is
//! open, the return-to-service list.

mod broke;
mod rebuild;
mod repair;
mod service;

pub use broke::{Broke, SecondThoughts};
pub use rebuild::{Judged, RemedyPlan, SheetView};
pub use repair::TryView;
pub(super) use repair::{is_repair_verified, network_now, stale, weigh_repairs};
pub use service::{ServiceLineView, ServiceView};

use super::event::{Entry, Event, Outcome};
use super::fold::{Given, Where};
use crate::knowledge::schema::Id;
use indexmap::IndexMap;
use jiff::Timestamp;

/// Something that was changed or put right.
#[derive(Debug, Clone, PartialEq)]
pub struct Repair {
    /// Cause, condition or damage.
    pub node: Id,
    /// Remedy.
    pub remedy: Option<Id>,
    /// What was done, as said.
    pub words: String,
    /// When.
    pub at: Timestamp,
    /// What came of it; none while the pump was not tried.
    pub outcome: Option<Outcome>,
}

/// Rebuild sheets at work.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheets {
    /// What is put right with them.
    pub node: Id,
    /// Remedy.
    pub remedy: Option<Id>,
    /// Procedures, in order.
    pub order: Vec<Id>,
    /// The open one, by its place in the order.
    pub at: usize,
    /// Its open step, from 1.
    pub step: u32,
    /// Times each step of each sheet failed.
    pub failed: IndexMap<(Id, u32), u32>,
}

/// A line of the return-to-service list as it was answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Proof {
    /// Reading, if it is a number.
    pub reading: Option<Id>,
    /// As typed, or why it is left out.
    pub text: String,
    /// In SI.
    pub si: Option<f64>,
    /// Passed, off, or left out.
    pub passed: Option<bool>,
}

/// How far the work on the pump is.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Work {
    /// What was changed, in order.
    pub repairs: Vec<Repair>,
    /// What was known when something was changed, until a try shows that the pump is still not well: diagnosis stands on
    /// it, since what is seen afterwards is seen on another pump.
    pub before: Option<IndexMap<Id, (Given, Timestamp, Where)>>,
    /// Rebuild sheets that are open.
    pub sheets: Option<Sheets>,
    /// Return-to-service lines answered since the last change.
    pub proof: IndexMap<Id, Proof>,
    /// Return to service: passed or not yet, since the last change.
    pub returned: Option<bool>,
}

impl Work {
    /// Adds one event; `given` is what was known before it.
    pub(super) fn apply(&mut self, entry: &Entry, given: &IndexMap<Id, (Given, Timestamp, Where)>) {
        match &entry.event {
            Event::Changed { node, remedy, words } => {
                (self.returned, self.proof) = (None, IndexMap::new());
                self.changed((node, remedy.as_ref(), words), entry.at, given);
            }
            Event::Tried { outcome, .. } => self.tried(*outcome),
            Event::SheetsBegun { node, remedy, sheets } => {
                let (node, remedy, order) = (node.clone(), remedy.clone(), sheets.clone());
                self.sheets = Some(Sheets { node, remedy, order, at: 0, step: 1, failed: IndexMap::new() });
                (self.returned, self.proof) = (None, IndexMap::new());
            }
            Event::SheetStep { sheet, step, passed, next, .. } => {
                self.stepped((sheet, *step), *passed, *next);
                self.end_sheets(entry.at, given);
            }
            Event::SheetsLeft { .. } => self.sheets = None,
            Event::ProofLine { line, reading, text, si, passed } => {
                let proof = Proof { reading: reading.clone(), text: text.clone(), si: *si, passed: *passed };
                self.proof.insert(line.clone(), proof);
                self.returned = None;
            }
            Event::Returned { passed, .. } => self.returned = Some(*passed),
            _ => {}
        }
    }

    fn changed(
        &mut self,
        (node, remedy, words): (&Id, Option<&Id>, &str),
        at: Timestamp,
        given: &IndexMap<Id, (Given, Timestamp, Where)>,
    ) {
        self.before.get_or_insert_with(|| given.clone());
        let (node, remedy, words) = (node.clone(), remedy.cloned(), words.to_owned());
        self.repairs.push(Repair { node, remedy, words, at, outcome: None });
    }

    /// An outcome belongs to everything changed since the pump was last seen to be unwell.
    fn tried(&mut self, outcome: Outcome) {
        for repair in &mut self.repairs {
            if matches!(repair.outcome, None | Some(Outcome::Well)) {
                repair.outcome = Some(outcome);
            }
        }
        if outcome != Outcome::Well {
            self.before = None;
        }
    }

    fn stepped(&mut self, (sheet, step): (&Id, u32), passed: bool, next: Option<u32>) {
        let Some(sheets) = self.sheets.as_mut().filter(|sheets| sheets.order.get(sheets.at) == Some(sheet)) else {
            return;
        };
        if !passed {
            *sheets.failed.entry((sheet.clone(), step)).or_insert(0) += 1;
        }
        (sheets.at, sheets.step) = next.map_or((sheets.at + 1, 1), |next| (sheets.at, next));
    }

    /// Once the last sheet is done, what it was for is put right.
    fn end_sheets(&mut self, at: Timestamp, given: &IndexMap<Id, (Given, Timestamp, Where)>) {
        if let Some(sheets) = self.sheets.take_if(|sheets| sheets.order.len() <= sheets.at) {
            self.changed((&sheets.node, sheets.remedy.as_ref(), "by the rebuild sheets"), at, given);
        }
    }

    /// True if the pump worked after the last change.
    pub fn works(&self) -> bool {
        self.repairs.last().is_some_and(|repair| repair.outcome == Some(Outcome::Well))
    }

    /// True if it worked and readings are back: the return to service passed, or a number of its list is in its band and
    /// no line is off.
    pub fn is_verified(&self) -> bool {
        let back = self.proof.values().any(|line| line.passed == Some(true) && line.si.is_some());
        let off = self.proof.values().any(|line| line.passed == Some(false));
        self.works() && (self.returned == Some(true) || (back && !off))
    }
}
