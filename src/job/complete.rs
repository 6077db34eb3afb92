//! Turns a job into the complete list of open checks, worked out a portion at a time.

use super::sitting::Sitting;
use crate::planning::{Complete, Step};

/// Questions computed in one portion: a few milliseconds.
const PORTION: usize = 12;

/// All open checks with what each saves. Belongs to the state of the job it was begun in.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AllChecks {
    complete: Option<Complete>,
    /// Open checks, best first: those of the plan until every question is computed.
    pub steps: Vec<Step>,
}

impl AllChecks {
    /// Questions computed, and all of them.
    pub fn progress(&self) -> (usize, usize) {
        self.complete.as_ref().map_or((0, 0), Complete::progress)
    }

    /// True once every question is computed.
    pub fn is_whole(&self) -> bool {
        self.complete.as_ref().is_none_or(Complete::is_whole)
    }
}

/// Says on how much of the belief the minutes do not rest.
pub fn rests_on(left_out: f64) -> String {
    format!(
        "The minutes rest on the likeliest combinations of conditions; all others together weigh at most {:.1} %.",
        (left_out * 1000.0).ceil() / 10.0
    )
}

impl Sitting {
    /// Begins the list with what the plan has computed; empty without a belief.
    pub fn all_checks(&self) -> AllChecks {
        let plan = self.plan();
        AllChecks { complete: self.with_planner(|planner| Complete::new(planner, plan)), steps: plan.steps.clone() }
    }

    /// Computes a portion more. What cannot be computed ends the list where it is.
    pub fn more_checks(&self, all: &mut AllChecks) {
        let Some(mut complete) = all.complete.take() else { return };
        self.with_planner(|planner| {
            if complete.go_on(planner, |id| self.question(id), PORTION).is_err() {
                return;
            }
            if complete.is_whole() {
                all.steps = complete.steps(planner);
            }
            all.complete = Some(complete);
        });
    }
}
