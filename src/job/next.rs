//! Turns the state of a job into what comes next: a stop, a gate, a question, or a named ending.

use super::event::Ending;
use super::sitting::Sitting;
use super::status::Status;
use super::stop::StopView;
use super::views::StepView;
use crate::knowledge::schema::Id;
use crate::planning::Step;

/// What comes next.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// A stop rule overrides everything.
    Stop(StopView),
    /// Isolation must be proved before this step.
    Isolate(StepView),
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
            Some(step) if step.needs_isolation && self.job.isolation.is_none() => Next::Isolate(step),
            Some(step) => Next::Ask(step),
            None if !self.allowed().opening => Next::Ended(Ending::UnsafeToGoOn),
            None if !self.allowed().running => Next::Ended(Ending::StopRule),
            None => Next::Ended(Ending::NothingWorthAsking),
        }
    }

    /// The step worth most; where none saves more than it takes, the look at the first cause of the list.
    pub fn next_step(&self) -> Option<StepView> {
        let worth_asking = self.plan().steps.first().filter(|step| 0.0 < step.worth);
        worth_asking.or_else(|| self.look_at_first()).and_then(|step| self.step_view(step))
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
