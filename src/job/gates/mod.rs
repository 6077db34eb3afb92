//! Turns how a job stands into the gate before its next step: isolation before hands go in, the first-run gate before a
//! start after work on the pump.
//!
//! A gate says what was proved, by whom and when; it never says that anything is safe. Every gate can be answered with
//! "not possible now"; then nothing behind it is offered, and the job goes on without.

mod lines;
mod standing;

pub use lines::{Said, is_answered};
pub use standing::{FirstRun, Gates, IDLE_MINUTES, Isolation, Lapse, is_idle};

use super::sitting::Sitting;
use super::views::{CautionView, StepView, caution_views};
use crate::knowledge::schema::PumpState;
use jiff::Timestamp;

/// Which gate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GateKind {
    /// Before anything is opened or hands go in.
    Isolation,
    /// Before the first start after work on the pump.
    FirstRun,
}

/// What a line of a gate takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Takes {
    /// Words that name something.
    Words,
    /// A yes.
    Yes,
}

/// One line of a gate.
#[derive(Debug, Clone, PartialEq)]
pub struct GateLine {
    /// What it is about, in two or three words.
    pub id: &'static str,
    /// The question.
    pub ask: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What was said last time, or what the pump sheet says.
    pub was: Option<String>,
}

/// A gate as shown.
#[derive(Debug, Clone, PartialEq)]
pub struct GateView {
    /// Which.
    pub kind: GateKind,
    /// The step it guards; none when it is asked by itself.
    pub step: Option<Box<StepView>>,
    /// What it guards, in words.
    pub before: String,
    /// What was proved earlier and why it counts no more.
    pub again: Option<String>,
    /// Lines, answered in order.
    pub lines: Vec<GateLine>,
    /// Cautions, gravest first.
    pub cautions: Vec<CautionView>,
}

/// Cautions of the first-run gate, as far as the knowledge has them.
const FIRST_RUN_CAUTIONS: &[&str] = &["c_first_run", "c_stand_clear"];

impl Sitting {
    /// How the gates stand.
    pub fn gates(&self) -> &Gates {
        &self.gates
    }

    /// True if hands may go in as far as the gate is concerned: zero is proved and counts still.
    pub fn is_isolated(&self) -> bool {
        matches!(self.gates.isolation, Isolation::Proved(..))
    }

    /// The gate before a step, if it is not passed.
    pub fn gate_before(&self, step: &StepView) -> Option<GateView> {
        let kind = match step.state {
            _ if step.needs_isolation => GateKind::Isolation,
            PumpState::Running => GateKind::FirstRun,
            _ => return None,
        };
        let mut gate = self.gate_unless_passed(kind, &step.name)?;
        gate.cautions = merged(step.cautions.clone(), gate.cautions);
        gate.step = Some(Box::new(step.clone()));
        Some(gate)
    }

    /// A gate before something, if it is not passed.
    pub(super) fn gate_unless_passed(&self, kind: GateKind, before: &str) -> Option<GateView> {
        (!self.is_passed(kind)).then(|| GateView { before: before.to_owned(), ..self.gate(kind) })
    }

    /// True if nothing stands before what this gate guards.
    pub fn is_passed(&self, kind: GateKind) -> bool {
        match kind {
            GateKind::Isolation => self.is_isolated() && self.gates.liquid.is_some(),
            GateKind::FirstRun => matches!(self.gates.first_run, FirstRun::NotNeeded | FirstRun::Cleared(..)),
        }
    }

    /// A gate, to be asked by itself.
    pub fn gate(&self, kind: GateKind) -> GateView {
        let lines = match kind {
            GateKind::Isolation => self.isolation_lines(),
            GateKind::FirstRun => lines::FIRST_RUN.to_vec(),
        };
        let again = match (&self.gates.isolation, kind) {
            (Isolation::Lapsed(words, why), GateKind::Isolation) => {
                Some(format!("Proved earlier ({words}), but {}: prove zero again.", why.words()))
            }
            _ => None,
        };
        let cautions: Vec<String> = match kind {
            GateKind::Isolation => Vec::new(),
            GateKind::FirstRun => FIRST_RUN_CAUTIONS.iter().map(|&id| id.to_owned()).collect(),
        };
        let cautions = caution_views(&self.knowledge, &cautions);
        GateView { kind, step: None, before: String::new(), again, lines, cautions }
    }

    /// The liquid comes first, once; then who, what, and the two proofs.
    fn isolation_lines(&self) -> Vec<GateLine> {
        let mut all = lines::ISOLATION.to_vec();
        if let Some(proof) = &self.gates.last_proof {
            for line in &mut all {
                line.was = match line.id {
                    "who" => Some(proof.who.clone()),
                    "what" => Some(proof.isolated.clone()),
                    _ => None,
                };
            }
        }
        if self.gates.liquid.is_none() {
            all.insert(0, GateLine { was: self.liquid_of_the_sheet(), ..lines::LIQUID });
        }
        all
    }

    fn liquid_of_the_sheet(&self) -> Option<String> {
        let lines = self.job.pump.iter().flat_map(|pump| &pump.lines);
        lines.clone().find(|(label, _)| label == "liquid").map(|(_, value)| value.clone())
    }

    /// True if, at this time, what was proved counts no more because nothing was entered for too long: the caller then
    /// saves [`super::Event::Back`].
    pub fn was_idle(&self, now: Timestamp) -> bool {
        self.gates.can_lapse() && self.job.last.is_some_and(|last| is_idle(last, now))
    }
}

/// Both lists without repetition, gravest first.
fn merged(first: Vec<CautionView>, second: Vec<CautionView>) -> Vec<CautionView> {
    let mut all = first;
    for caution in second {
        if !all.contains(&caution) {
            all.push(caution);
        }
    }
    all.sort_by_key(|caution| caution.rank);
    all
}
