//! Turns what was told in a simulated job into belief and plan.

use weephole::belief::{Likelihood, Network, Question, causes_posterior, lighten, without};
use weephole::knowledge::{Graph, Knowledge};
use weephole::planning::{Allowed, Asked, Plan, Planner, Rule, plan};

/// Belief and plan from these answers, no more than `cells` table entries wide, with everything safe to do; nothing
/// without a belief.
pub fn planned(
    (knowledge, graph, network): (&Knowledge, &Graph, &Network),
    (answers, cells): (&[Likelihood], usize),
    (asked, rule): (&Asked, Rule),
    question: impl Fn(&str) -> Option<Question>,
) -> Option<(Vec<f64>, Plan)> {
    let light = lighten(network, answers, cells);
    let likelihoods = without(answers, &light.left_out);
    let present = causes_posterior(network, &likelihoods).ok()?.present;
    let planner = Planner {
        knowledge,
        graph,
        network,
        likelihoods: &likelihoods,
        cells: light.cells,
        left_out: 0.0,
        present: &present,
        asked,
        allowed: Allowed::default(),
        rule,
    };
    let plan = plan(&planner, question).ok()?;
    Some((present, plan))
}
