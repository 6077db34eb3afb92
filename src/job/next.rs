//! Turns the state of a job into what comes next: a stop, a gate, a question, or a named ending.

use super::event::Ending;
use super::gates::GateView;
use super::sitting::Sitting;
use super::status::Status;
use super::stop::StopView;
use super::views::StepView;
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
    /// The asking has ended.
    Ended(Ending),
}

impl Sitting {
    /// What comes next.
    pub fn next(&self) -> Next {
        if let Some(stop) = self.stop() {
            return Next::Stop(stop);
        }
        if self.statuses.iter().any(|(_, status)| *status == Status::Confirmed) {
            return Next::Ended(Ending::Confirmed);
        }
        match self.next_step() {
            Some(step) => self.gate_before(&step).map_or(Next::Ask(step), Next::Gate),
            None if !self.allowed().opening => Next::Ended(Ending::UnsafeToGoOn),
            None if !self.allowed().running => Next::Ended(Ending::StopRule),
            None => Next::Ended(Ending::NothingWorthAsking),
        }
    }

    /// The check proposed first, with what it is done for at the head of its questions; where putting something right is
    /// proposed before looking, the look at the first cause of the list: nothing is confirmed unseen.
    pub fn next_step(&self) -> Option<StepView> {
        let plan = self.plan();
        let of_check = |check: &Id, ask: &Id| {
            let mut step = plan.steps.iter().find(|step| step.check == *check)?.clone();
            step.asks.sort_by_key(|item| item != ask);
            Some(step)
        };
        let proposed = match plan.proposed.first().map(|first| &first.proposal) {
            Some(Proposal::Check { check, ask }) => of_check(check, ask),
            _ => None,
        };
        proposed.or_else(|| self.look_at_first().cloned()).and_then(|step| self.step_view(&step))
    }

    /// The cheapest open check with a direct look at the first cause of the list that can be looked at.
    fn look_at_first(&self) -> Option<&Step> {
        let plan = self.plan();
        let causes = self.graph.of_kind(crate::knowledge::NodeKind::Cause);
        plan.list.iter().find_map(|entry| {
            let id = &self.graph.nodes[*causes.get(entry.cause)?].id;
            let looks = plan.steps.iter().filter(|step| step.asks.iter().any(|ask| self.is_verdict(ask, id)));
            looks.min_by(|a, b| a.minutes.total_cmp(&b.minutes))
        })
    }

    fn is_verdict(&self, finding: &str, node: &Id) -> bool {
        self.knowledge.all.findings.get(finding).is_some_and(|finding| finding.verdict_on.as_ref() == Some(node))
    }
}
