//! Turns many open questions into the few worth an exact look.
//!
//! A rough value of every question comes from the marginals given each leading cause, as if the parents of a question
//! were independent given that cause. It only chooses; what is shown and compared is computed exactly afterwards.

use super::costs::Costs;
use super::steps::Planner;
use crate::belief::{BeliefError, Glance, Question, affordable, glance};
use crate::knowledge::NodeKind;
use crate::knowledge::schema::Id;
use indexmap::{IndexMap, IndexSet};

/// Questions looked at exactly, at most and at least.
const EXACT: (usize, usize) = (48, 8);
/// Causes for which the marginals are computed, at most and at least.
const LEADING: (usize, usize) = (24, 7);
/// Table entries times lanes that choosing and looking exactly may take. Counted, not timed, so that the same facts give
/// the same step on every machine; a third goes into choosing.
const WORK: usize = 8_000_000;

/// An open finding or reading with its question.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    /// Finding or reading.
    pub id: Id,
    /// The question behind it.
    pub question: Question,
}

/// The candidates that may be worth most: by rough value per check, with the direct looks at the leading causes.
pub(super) fn best_candidates(
    planner: &Planner,
    costs: &Costs,
    candidates: &[Candidate],
    (listed, value): (&[usize], &impl Fn(&[f64]) -> f64),
) -> Result<Vec<Candidate>, BeliefError> {
    if candidates.len() <= EXACT.0 {
        return Ok(candidates.to_vec());
    }
    let causes = planner.graph.of_kind(NodeKind::Cause);
    let mut leading: Vec<usize> = (0..causes.len()).collect();
    leading.sort_by(|a, b| planner.present[causes[*b]].total_cmp(&planner.present[causes[*a]]).then(a.cmp(b)));
    leading.truncate(affordable(planner.cells, WORK / 3, LEADING));
    let nodes: Vec<usize> = leading.iter().map(|&cause| causes[cause]).collect();
    let seen = glance(planner.network, planner.likelihoods, &nodes)?;
    let mut present = vec![0.0; causes.len()];
    for &cause in &leading {
        present[cause] = planner.present[causes[cause]];
    }
    let now = value(&present);
    let rough: IndexMap<&Id, f64> = candidates
        .iter()
        .map(|candidate| (&candidate.id, now - after(&seen, &candidate.question, &present, (&leading, value))))
        .collect();
    Ok(choose(planner, costs, candidates, (listed, &rough)))
}

/// Rough minutes left after a question; `present` holds the leading causes alone.
fn after(
    seen: &Glance,
    question: &Question,
    present: &[f64],
    (leading, value): (&[usize], &impl Fn(&[f64]) -> f64),
) -> f64 {
    let mut minutes = 0.0;
    let mut then = present.to_vec();
    for answer in seen.answers(question) {
        for (at, &cause) in leading.iter().enumerate() {
            then[cause] = (present[cause] * answer.ratio[at]).min(1.0);
        }
        minutes += answer.probability * value(&then);
    }
    minutes
}

/// Two candidates of each check, the best checks first, until there are enough.
fn choose(
    planner: &Planner,
    costs: &Costs,
    candidates: &[Candidate],
    (listed, rough): (&[usize], &IndexMap<&Id, f64>),
) -> Vec<Candidate> {
    let mut ranked: Vec<(f64, &Id)> = Vec::new();
    for (id, check) in planner.knowledge.all.checks.iter().filter(|(id, _)| planner.may(id)) {
        let minutes = planner.minutes_of(costs, id).unwrap_or_default();
        let mut yields: Vec<(f64, &Id)> =
            check.yields.iter().filter_map(|item| rough.get(item).map(|saved| (saved - minutes, item))).collect();
        yields.sort_by(|a, b| b.0.total_cmp(&a.0));
        ranked.extend(yields.into_iter().take(2));
    }
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(b.1)));
    let chosen: IndexSet<&Id> = ranked.into_iter().map(|(_, id)| id).collect();
    let chosen: IndexSet<&Id> = chosen
        .into_iter()
        .take(affordable(planner.cells, WORK / 3, EXACT))
        .chain(direct_looks(planner, listed))
        .collect();
    candidates.iter().filter(|candidate| chosen.contains(&candidate.id)).cloned().collect()
}

/// Direct looks at the six most probable causes and at the first ones of the list: the end game must never lack them.
fn direct_looks<'a>(planner: &Planner<'a>, listed: &[usize]) -> Vec<&'a Id> {
    let mut causes = planner.graph.of_kind(NodeKind::Cause);
    causes.sort_by(|a, b| planner.present[*b].total_cmp(&planner.present[*a]).then(a.cmp(b)));
    let leading: Vec<&Id> =
        causes.into_iter().take(6).chain(listed.iter().copied()).map(|cause| &planner.graph.nodes[cause].id).collect();
    let findings = planner.knowledge.all.findings.iter();
    findings
        .filter(|(_, finding)| finding.verdict_on.as_ref().is_some_and(|node| leading.contains(&node)))
        .map(|(id, _)| id)
        .collect()
}
