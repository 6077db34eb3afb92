//! Turns the state of a job into what comes next: a stop, a gate, a question, or a named ending.

use super::event::Ending;
use super::gates::{FirstRun, GateKind, GateView, Isolation};
use super::sitting::Sitting;
use super::status::Status;
use super::stop::StopView;
use super::views::StepView;
use super::work::{ServiceView, SheetView, TryView};
use crate::knowledge::NodeKind;
use crate::knowledge::schema::Id;
use crate::planning::{Proposal, Step};

/// What comes next.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// A stop rule overrides everything.
    Stop(StopView),
    /// A gate stands before the next step.
    Gate(GateView),
    /// Ask.
    Ask(StepView),
    /// A step of a rebuild sheet.
    Sheet(Box<SheetView>),
    /// Something was changed: what came of it?
    Try(TryView),
    /// It works: the return-to-service list.
    Return(ServiceView),
    /// The asking has ended.
    Ended(Ending),
}

impl Sitting {
    /// What comes next.
    pub fn next(&self) -> Next {
        if let Some(stop) = self.stop() {
            return Next::Stop(stop);
        }
        if let Some(next) = self.next_work() {
            return next;
        }
        let is_confirmed = self.statuses.iter().any(|(_, status)| *status == Status::Confirmed);
        let is_open = !self.open_damage().is_empty();
        if is_confirmed && !is_open {
            return Next::Ended(Ending::Confirmed);
        }
        if self.job.work.works() && !is_open {
            let passed = self.job.work.returned != Some(false);
            return Next::Ended(if passed { Ending::WorksAgain } else { Ending::NotYet });
        }
        match self.look_first().or_else(|| self.next_step()) {
            Some(step) => self.gate_before(&step).map_or(Next::Ask(step), Next::Gate),
            None if !self.allowed().opening => Next::Ended(Ending::UnsafeToGoOn),
            None if !self.allowed().running => Next::Ended(Ending::StopRule),
            None => Next::Ended(Ending::NothingWorthAsking),
        }
    }

    /// What work on the pump asks for: the open step of a rebuild sheet, a try of what was changed, the return to service.
    fn next_work(&self) -> Option<Next> {
        if let Some(step) = self.rebuild_step() {
            let gate = self.gate_before_sheet(&step);
            return match gate {
                Some(gate) if self.is_refused(gate.kind) => Some(Next::Ended(refused_ending(gate.kind))),
                Some(gate) => Some(Next::Gate(gate)),
                None => Some(Next::Sheet(Box::new(step))),
            };
        }
        if let Some(view) = self.to_try() {
            if self.is_passed(GateKind::FirstRun) || self.gates.ran_since_change {
                return Some(Next::Try(view));
            }
            if self.is_refused(GateKind::FirstRun) {
                return Some(Next::Ended(Ending::NotStarted));
            }
            let before = "the first run after the repair".to_owned();
            return Some(Next::Gate(GateView { before, ..self.gate(GateKind::FirstRun) }));
        }
        let is_open = self.job.work.works() && self.job.work.returned.is_none();
        (is_open && !self.knowledge.all.service.is_empty()).then(|| Next::Return(self.service()))
    }

    /// True if a gate was answered with "not possible now".
    fn is_refused(&self, kind: GateKind) -> bool {
        match kind {
            GateKind::Isolation => matches!(self.gates.isolation, Isolation::NotPossible(_)),
            GateKind::FirstRun => matches!(self.gates.first_run, FirstRun::NotYet(_)),
        }
    }

    /// The check proposed first, with what it is done for at the head of its questions. Where putting a cause right is
    /// proposed before looking, the look at that cause, as nothing is confirmed unseen; where a probable cause was looked at
    /// already, or cannot be, nothing: putting it right is then the next thing to do. While nothing is probable, the look at
    /// the first cause of the list that can be looked at.
    pub fn next_step(&self) -> Option<StepView> {
        let plan = self.plan();
        let of_check = |check: &Id, ask: &Id| {
            let mut step = plan.steps.iter().find(|step| step.check == *check)?.clone();
            step.asks.sort_by_key(|item| item != ask);
            Some(step)
        };
        let proposed = match plan.proposed.first().map(|first| &first.proposal) {
            Some(Proposal::Check { check, ask }) => of_check(check, ask),
            Some(Proposal::Repair { cause }) => match self.cheapest_look_at(*cause) {
                None if self.is_likely_enough(*cause) => return None,
                look => look.cloned(),
            },
            Some(Proposal::Nothing) | None => None,
        };
        let first_look = || plan.list.iter().find_map(|entry| self.cheapest_look_at(entry.cause)).cloned();
        proposed.or_else(first_look).and_then(|step| self.step_view(&step))
    }

    /// True if a cause is probable by the rules of the status words.
    fn is_likely_enough(&self, cause: usize) -> bool {
        let node = self.graph.of_kind(NodeKind::Cause).get(cause).copied();
        node.is_some_and(|node| matches!(self.status(node), Status::Probable | Status::Confirmed))
    }

    /// The cheapest open check with a direct look at a cause.
    fn cheapest_look_at(&self, cause: usize) -> Option<&Step> {
        let id = &self.graph.nodes[*self.graph.of_kind(NodeKind::Cause).get(cause)?].id;
        let looks = self.plan().steps.iter().filter(|step| step.asks.iter().any(|ask| self.is_verdict(ask, id)));
        looks.min_by(|a, b| a.minutes.total_cmp(&b.minutes))
    }

    fn is_verdict(&self, finding: &str, node: &Id) -> bool {
        self.knowledge.all.findings.get(finding).is_some_and(|finding| finding.verdict_on.as_ref() == Some(node))
    }
}

/// How the job stands where a gate cannot be passed.
fn refused_ending(kind: GateKind) -> Ending {
    match kind {
        GateKind::Isolation => Ending::UnsafeToGoOn,
        GateKind::FirstRun => Ending::NotStarted,
    }
}
