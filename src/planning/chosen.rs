//! Turns a check that somebody else proposes into a step, in the same minutes as the plan's own.

use super::list::minutes_left;
use super::steps::{Planner, Step};
use crate::belief::{BeliefError, Question, outcomes};
use crate::knowledge::NodeKind;
use crate::knowledge::schema::Id;
use indexmap::IndexMap;

/// The step of one check, with the exact worth of everything it still yields; `None` if it may not be done now or has
/// nothing left to yield. `question` gives the open question behind a finding or reading.
pub fn step_of(
    planner: &Planner,
    check: &Id,
    question: impl Fn(&str) -> Option<Question>,
) -> Result<Option<Step>, BeliefError> {
    let Some(entry) = planner.knowledge.all.checks.get(check) else { return Ok(None) };
    let costs = planner.costs();
    let causes = planner.graph.of_kind(NodeKind::Cause);
    let value = |present: &[f64]| minutes_left(&costs, present, planner.asked.opened) / planner.rule.overstated;
    let now = value(&causes.iter().map(|&cause| planner.present[cause]).collect::<Vec<_>>());
    let open = entry.yields.iter().filter(|id| !planner.asked.closed.contains(*id));
    let (ids, questions): (Vec<&Id>, Vec<Question>) = open.filter_map(|id| Some((id, question(id)?))).unzip();
    let found = outcomes(planner.network, planner.likelihoods, &questions, &causes)?;
    let saves: IndexMap<Id, f64> = ids
        .into_iter()
        .zip(&found)
        .filter_map(|(id, outcomes)| {
            let after = outcomes.as_ref()?.outcomes.iter().map(|outcome| outcome.probability * value(&outcome.present));
            Some((id.clone(), now - after.sum::<f64>()))
        })
        .collect();
    Ok(planner.step(&costs, check, &saves))
}

/// Minutes to put a cause right now, parts and openings included; `None` for a node that is not a cause.
pub fn minutes_to_repair(planner: &Planner, cause: usize) -> Option<f64> {
    let costs = planner.costs();
    let cost = costs.causes.iter().find(|cost| cost.node == cause)?;
    Some(cost.repair_minutes + costs.minutes_to_open(cost.repair_openings, planner.asked.opened))
}
