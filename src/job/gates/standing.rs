//! Turns the events of a job into how its gates stand: what the liquid is, whether zero energy is proved still, whether
//! the pump may be started.
//!
//! Times come with the events; nothing here asks a clock.

use crate::job::event::{Ending, Entry, Event, ZeroProof};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Check, Id, PumpState};
use indexmap::IndexSet;
use jiff::Timestamp;

/// Minutes without an entry after which zero is proved again. Common practice, no source.
pub const IDLE_MINUTES: i64 = 30;

/// Why what was proved counts no more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lapse {
    /// Nothing was entered for more than [`IDLE_MINUTES`].
    Idle,
    /// The job was closed and taken up again.
    Reopened,
    /// The job was handed over.
    HandedOver,
    /// The pump ran since.
    Ran,
}

impl Lapse {
    /// As shown.
    pub fn words(self) -> &'static str {
        match self {
            Self::Idle => "nothing was entered for over 30 minutes",
            Self::Reopened => "the job was taken up again",
            Self::HandedOver => "the job was handed over",
            Self::Ran => "the pump ran since",
        }
    }
}

/// How isolation stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub enum Isolation {
    /// Not asked yet.
    #[default]
    Open,
    /// Proved: by whom and how, and when.
    Proved(String, Timestamp),
    /// It was proved, but counts no more.
    Lapsed(String, Lapse),
    /// Not possible now, with the reason.
    NotPossible(String),
}

/// How the first start after work on the pump stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub enum FirstRun {
    /// Nothing was taken apart or changed.
    #[default]
    NotNeeded,
    /// Something was: the gate comes before the next start.
    Needed,
    /// Every line was answered with yes, by whom; true once the pump ran.
    Cleared(String, bool),
    /// Lines answered with no: no start.
    NotYet(Vec<String>),
}

/// How all gates stand.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Gates {
    /// What is in the pump, once it was named.
    pub liquid: Option<String>,
    /// Isolation.
    pub isolation: Isolation,
    /// First start.
    pub first_run: FirstRun,
    /// Who proved zero last and what was isolated, to be offered again.
    pub last_proof: Option<ZeroProof>,
    /// True if the pump ran since something was changed or a rebuild was begun.
    pub ran_since_change: bool,
    /// Checks done since the pump ran last: what they opened is open still.
    pub open_checks: IndexSet<Id>,
}

impl Gates {
    /// How the gates stand after these entries.
    pub fn of(knowledge: &Knowledge, entries: &[Entry]) -> Self {
        let mut gates = Self::default();
        let mut last: Option<Timestamp> = None;
        for entry in entries {
            if last.is_some_and(|last| is_idle(last, entry.at)) {
                gates.lapse(Lapse::Idle);
            }
            last = Some(entry.at);
            gates.apply(knowledge, entry);
        }
        gates
    }

    /// True if something proved would count no more after a pause.
    pub fn can_lapse(&self) -> bool {
        matches!(self.isolation, Isolation::Proved(..)) || matches!(self.first_run, FirstRun::Cleared(_, false))
    }

    fn apply(&mut self, knowledge: &Knowledge, entry: &Entry) {
        match &entry.event {
            Event::Liquid { name } => self.liquid = Some(name.clone()),
            Event::ZeroProved(proof) => {
                self.isolation = Isolation::Proved(proof.words(), entry.at);
                self.last_proof = Some(proof.clone());
            }
            Event::Isolation { proved: true, words } => {
                self.isolation = Isolation::Proved(words.clone(), entry.at);
            }
            Event::Isolation { proved: false, words } => self.isolation = Isolation::NotPossible(words.clone()),
            Event::FirstRun { open, who } if open.is_empty() => self.first_run = FirstRun::Cleared(who.clone(), false),
            Event::FirstRun { open, .. } => self.first_run = FirstRun::NotYet(open.clone()),
            Event::Answered { check: Some(check), answer, .. } if !answer.is_left_out() => {
                self.done(knowledge, check);
            }
            Event::Measured { check: Some(check), .. } => self.done(knowledge, check),
            Event::Changed { .. } => (self.first_run, self.ran_since_change) = (FirstRun::Needed, false),
            Event::SheetsBegun { .. } => self.ran_since_change = false,
            Event::SheetStep { sheet, step, .. } => self.sheet_step(knowledge, sheet, *step),
            Event::Tried { .. } => self.ran(),
            Event::Closed { ending: Ending::HandedOver, .. } => self.lapse(Lapse::HandedOver),
            Event::Reopened => self.lapse(Lapse::Reopened),
            Event::Back => self.lapse(Lapse::Idle),
            _ => {}
        }
    }

    /// A check was done.
    fn done(&mut self, knowledge: &Knowledge, id: &Id) {
        let Some(check) = knowledge.all.checks.get(id) else { return };
        if check.state == PumpState::Running {
            self.ran();
        } else {
            self.open_checks.insert(id.clone());
            if takes_apart(knowledge, check) {
                self.first_run = FirstRun::Needed;
            }
        }
    }

    /// A step of a rebuild sheet was done.
    fn sheet_step(&mut self, knowledge: &Knowledge, sheet: &Id, step: u32) {
        let steps = knowledge.all.procedures.get(sheet).map(|sheet| &sheet.steps);
        let at = usize::try_from(step).ok().and_then(|step| step.checked_sub(1));
        match steps.zip(at).and_then(|(steps, at)| steps.get(at)).map(|step| step.state) {
            Some(PumpState::Running) => self.ran(),
            Some(PumpState::Isolated | PumpState::Opened) => self.first_run = FirstRun::Needed,
            _ => {}
        }
    }

    /// The pump ran: what was open is shut, what was proved counts no more.
    fn ran(&mut self) {
        self.lapse(Lapse::Ran);
        self.open_checks.clear();
        self.ran_since_change = true;
        if let FirstRun::Cleared(_, ran) = &mut self.first_run {
            *ran = true;
        }
    }

    fn lapse(&mut self, why: Lapse) {
        if let Isolation::Proved(words, _) = &self.isolation {
            self.isolation = Isolation::Lapsed(words.clone(), why);
        }
        // Whoever cleared the start may be gone; a pump that ran after it needs no second clearing.
        if why != Lapse::Ran && matches!(self.first_run, FirstRun::Cleared(_, false)) {
            self.first_run = FirstRun::Needed;
        }
    }
}

/// True if the time between two entries is a pause. Behind a clock that was put back nobody knows how long it was, so that
/// counts as one; a minute back is only a clock that was set right.
pub fn is_idle(from: Timestamp, to: Timestamp) -> bool {
    let seconds = to.as_second() - from.as_second();
    !(-60..=IDLE_MINUTES * 60).contains(&seconds)
}

/// True if a check takes something apart: it opens more than the way to a proved zero.
fn takes_apart(knowledge: &Knowledge, check: &Check) -> bool {
    let opening = check.opening.as_ref().and_then(|id| knowledge.all.openings.get(id));
    check.state == PumpState::Opened || opening.is_some_and(|opening| !opening.needs.is_empty())
}
