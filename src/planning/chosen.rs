//! Turns a check that somebody else proposes into a step, in the same minutes as the plan's own.

use super::steps::{Planner, Step};
use crate::belief::{BeliefError, Question};
use crate::knowledge::schema::Id;

/// The step of one check, with the exact worth of everything it still yields; `None` if it may not be done now or has
/// nothing left to yield. `question` gives the open question behind a finding or reading.
pub fn step_of(
    planner: &Planner,
    check: &Id,
    question: impl Fn(&str) -> Option<Question>,
) -> Result<Option<Step>, BeliefError> {
    let Some(entry) = planner.knowledge.all.checks.get(check) else { return Ok(None) };
    let costs = planner.costs();
    let open = entry.yields.iter().filter(|id| planner.is_open(id));
    let asked = open.filter_map(|id| Some((id.clone(), question(id)?))).unzip();
    let saves = planner.saved(&costs, asked)?;
    Ok(planner.step(&costs, check, &saves))
}

/// Minutes to put a cause right now, parts and openings included; `None` for a node that is not a cause.
pub fn minutes_to_repair(planner: &Planner, cause: usize) -> Option<f64> {
    let costs = planner.costs();
    let cost = costs.causes.iter().find(|cost| cost.node == cause)?;
    Some(cost.repair_minutes + costs.minutes_to_open(cost.repair_openings, planner.asked.opened))
}
