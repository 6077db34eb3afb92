//! Turns answers into reasons: what each answer does to one node, how well the answers fit, which one to recheck, and
//! which one even the leading causes leave unexplained.
//!
//! Weights are in decibans, ten times the decimal logarithm of the odds ratio with and without the answer (Good 1950,
//! from memory), conditional on all other answers, or on those given before. The conflict measure is that of Jensen,
//! Chamond, Nordby and Jensen (1991): bits by which the answers together are less probable than if they had nothing to do
//! with each other. It says whether there is a conflict, not who is to blame. That is asked of each answer in turn:
//! P(wrong | all) = ε·P(other | rest) / (ε·P(other | rest) + (1 − ε)·P(said | rest)), with "other" the opposite answer,
//! or, for a number, a number that has nothing to do with this job, and ε how often an answer is wrong.

use super::lighten::without;
use super::network::{Likelihood, Network, Node};
use super::posterior::{Posterior, part};
use super::tree::BeliefError;

/// How often an answer is taken to be wrong when one is looked for. Common practice for human answers, no source.
const WRONG: f64 = 0.05;
/// Chance that some answer is wrong above which the answers are said to fit badly, and how much higher that is per
/// answer: the more answers, the more often one of them looks odd by itself. Chosen so that in every network of
/// `tests/bench/belief_exam.rs` at most one job of twenty without a wrong answer is called so, with 8 and with 15 answers.
const ALARM: (f64, f64) = (0.62, 0.011);
/// Answers named for a recheck.
pub const SUSPECTS: usize = 2;
/// An answer less probable than this under the leading causes and all other answers is unexplained by them.
pub const UNEXPLAINED: f64 = 0.10;

/// Why the belief is what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// Per answer: decibans it adds to each node asked about, given all other answers.
    pub decibans: Vec<Vec<f64>>,
    /// Conflict of all answers, bits; positive = they fit badly together.
    pub conflict: f64,
    /// Per answer: by how many bits the conflict falls when it is left out.
    pub relief: Vec<f64>,
    /// Per answer: probability that it is wrong, given everything said.
    pub suspicion: Vec<f64>,
}

impl Explanation {
    /// Chance that some answer is wrong, the answers taken one by one.
    pub fn some_wrong(&self) -> f64 {
        1.0 - self.suspicion.iter().map(|wrong| 1.0 - wrong).product::<f64>()
    }

    /// True if the answers fit badly enough to say so.
    pub fn is_alarm(&self) -> bool {
        ALARM.0 + ALARM.1 * self.suspicion.len() as f64 <= self.some_wrong()
    }

    /// The answers to recheck first, the most suspicious first.
    pub fn suspects(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.suspicion.len()).collect();
        order.sort_by(|a, b| self.suspicion[*b].total_cmp(&self.suspicion[*a]).then(a.cmp(b)));
        order.truncate(SUSPECTS);
        order
    }
}

/// Explains the belief in `nodes`, and how well the answers fit together.
pub fn explain(network: &Network, likelihoods: &[Likelihood], nodes: &[usize]) -> Result<Explanation, BeliefError> {
    let prior = part(network, &[], &[])?.log_evidence;
    let all = part(network, likelihoods, nodes)?;
    let mut alone = Vec::with_capacity(likelihoods.len());
    let mut spared = Vec::with_capacity(likelihoods.len());
    for at in 0..likelihoods.len() {
        alone.push(part(network, &likelihoods[at..=at], &[])?.log_evidence - prior);
        spared.push(part(network, &without(likelihoods, &[at]), nodes)?);
    }
    let conflict = bits(alone.iter().sum::<f64>() - (all.log_evidence - prior));
    let relief =
        alone.iter().zip(&spared).map(|(one, rest)| bits(one + rest.log_evidence - all.log_evidence)).collect();
    let suspicion = likelihoods
        .iter()
        .zip(alone.iter().zip(&spared))
        .map(|(said, (one, rest))| {
            let fits = libm::exp(all.log_evidence - rest.log_evidence);
            wrong(fits, if_wrong(said, fits, libm::exp(*one)))
        })
        .collect();
    let decibans = spared.iter().map(|rest| weights(&all, rest, nodes)).collect();
    Ok(Explanation { decibans, conflict, relief, suspicion })
}

/// Probability of the answer had it been wrong: that of the opposite answer, or of the number by itself. `fits` is its
/// probability given the rest, `alone` given nothing.
fn if_wrong(said: &Likelihood, fits: f64, alone: f64) -> f64 {
    match said {
        // The answers "yes" and "no" of the same certainty have the likelihoods swapped, so both add up to this.
        Likelihood::Leaf { if_true, if_false, .. } => (if_true + if_false - fits).max(0.0),
        Likelihood::Pulls { .. } | Likelihood::Table { .. } | Likelihood::Sets(_) => alone,
    }
}

fn wrong(fits: f64, other: f64) -> f64 {
    let (wrong, right) = (WRONG * other, (1.0 - WRONG) * fits);
    if wrong + right <= 0.0 { 0.0 } else { wrong / (wrong + right) }
}

/// Per answer: decibans it adds to `node` given only the answers before it, in the order of the likelihoods. Their sum is
/// what all of them together have done.
pub fn in_order(network: &Network, likelihoods: &[Likelihood], node: usize) -> Result<Vec<f64>, BeliefError> {
    let mut before = part(network, &[], &[node])?;
    let mut added = Vec::with_capacity(likelihoods.len());
    for many in 1..=likelihoods.len() {
        let now = part(network, &likelihoods[..many], &[node])?;
        added.push(weights(&now, &before, &[node])[0]);
        before = now;
    }
    Ok(added)
}

/// Per answer: its probability given that exactly the causes of `set` are present, and given all other answers; for a
/// number, its density as a share of the highest. Answers below [`UNEXPLAINED`] are what the set leaves unexplained.
pub fn under_set(network: &Network, likelihoods: &[Likelihood], set: &[usize]) -> Result<Vec<f64>, BeliefError> {
    let settled = given_set(network, set)?;
    let all = part(&settled, likelihoods, &[]).map(|belief| belief.log_evidence);
    let all = match all {
        Ok(log) => log,
        Err(BeliefError::Impossible) => f64::NEG_INFINITY,
        Err(error) => return Err(error),
    };
    let mut fits = Vec::with_capacity(likelihoods.len());
    for at in 0..likelihoods.len() {
        fits.push(match part(&settled, &without(likelihoods, &[at]), &[]) {
            Ok(rest) => libm::exp(all - rest.log_evidence).min(1.0),
            Err(BeliefError::Impossible) => 1.0,
            Err(error) => return Err(error),
        });
    }
    Ok(fits)
}

/// The network with exactly these causes present: they become part of what leads to their children.
fn given_set(network: &Network, set: &[usize]) -> Result<Network, BeliefError> {
    let is_cause = |node: usize| network.is_cause(node);
    let nodes = network.nodes().iter().enumerate().map(|(index, node)| {
        if is_cause(index) {
            return Node { leak: if set.contains(&index) { 1.0 } else { 0.0 }, parents: Vec::new() };
        }
        let from_set = node.parents.iter().filter(|(parent, _)| is_cause(*parent) && set.contains(parent));
        Node {
            leak: 1.0 - (1.0 - node.leak) * from_set.map(|(_, strength)| 1.0 - strength).product::<f64>(),
            parents: node.parents.iter().copied().filter(|&(parent, _)| !is_cause(parent)).collect(),
        }
    });
    network.with_nodes(nodes.collect()).map_err(|_| BeliefError::Impossible)
}

fn bits(nats: f64) -> f64 {
    nats / std::f64::consts::LN_2
}

fn weights(all: &Posterior, rest: &Posterior, nodes: &[usize]) -> Vec<f64> {
    nodes.iter().map(|&node| 10.0 * (log10_odds(all.present[node]) - log10_odds(rest.present[node]))).collect()
}

/// Decimal logarithm of the odds, finite.
pub(super) fn log10_odds(probability: f64) -> f64 {
    let inside = probability.clamp(1e-12, 1.0 - 1e-12);
    libm::log10(inside / (1.0 - inside))
}
