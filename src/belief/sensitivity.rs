//! Turns a changed number of the network into what it does to one node, and open answers into those that would put
//! another cause first.

use super::explain::log10_odds;
use super::network::{Likelihood, Network, Node};
use super::outcomes::Outcomes;
use super::posterior::{Posterior, part};
use super::tree::BeliefError;

/// The step by which a number is tried: a factor of two in its odds.
pub const STEP: f64 = std::f64::consts::LN_2;

/// One number changed.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// A hidden node with another prior, leak or strength.
    Node {
        /// Its index.
        node: usize,
        /// With the number changed.
        to: Node,
    },
    /// An observation with another leak, strength or error.
    Seen {
        /// Its position among the likelihoods.
        at: usize,
        /// With the number changed.
        to: Likelihood,
    },
}

/// A probability with its odds multiplied by e^`step`; 0 and 1 stay.
pub fn moved(probability: f64, step: f64) -> f64 {
    let odds = probability * libm::exp(step);
    odds / (odds + 1.0 - probability)
}

/// Decibans from one posterior to another.
pub fn decibans_between(from: f64, to: f64) -> f64 {
    10.0 * (log10_odds(to) - log10_odds(from))
}

/// A number tried with its odds halved and doubled.
#[derive(Debug, Clone, PartialEq)]
pub enum Trial {
    /// The probability of the evidence is linear in the number (a prior, a leak, a strength, anything that stands once):
    /// one run gives both. 0 and 1 have no odds to move and change nothing.
    Linear {
        /// The number now.
        now: f64,
        /// With its odds doubled.
        double: Change,
    },
    /// Any other number.
    Both {
        /// With its odds halved.
        half: Change,
        /// With its odds doubled.
        double: Change,
    },
}

/// Posterior of `target` with each number's odds halved and doubled, one number at a time; `None` where a changed network
/// has no belief. Exact but for rounding.
pub fn half_and_double(
    network: &Network,
    likelihoods: &[Likelihood],
    target: usize,
    trials: &[Trial],
) -> Result<Vec<Option<[f64; 2]>>, BeliefError> {
    let now = part(network, likelihoods, &[target])?;
    let after = |change: &Change| after(network, likelihoods, target, change).ok();
    let both = |trial: &Trial| match trial {
        Trial::Linear { now: number, double } => {
            let (up, down) = (moved(*number, STEP) - number, moved(*number, -STEP) - number);
            if up == 0.0 {
                return Some([now.present[target]; 2]);
            }
            let double = after(double)?;
            Some([along_the_line(&now, &double, target, down / up)?, double.present[target]])
        }
        Trial::Both { half, double } => Some([after(half)?.present[target], after(double)?.present[target]]),
    };
    Ok(trials.iter().map(both).collect())
}

/// P(target) at `share` of the way from one belief to another, where P(evidence) and P(evidence, target) are linear;
/// negative = the other way. `None` where nothing allows the evidence.
fn along_the_line(from: &Posterior, to: &Posterior, target: usize, share: f64) -> Option<f64> {
    let grown = libm::exp(to.log_evidence - from.log_evidence);
    let evidence = 1.0 + share * (grown - 1.0);
    let with = from.present[target] + share * (grown * to.present[target] - from.present[target]);
    (0.0 < evidence).then(|| (with / evidence).clamp(0.0, 1.0))
}

fn after(
    network: &Network,
    likelihoods: &[Likelihood],
    target: usize,
    change: &Change,
) -> Result<Posterior, BeliefError> {
    match change {
        Change::Node { node, to } => {
            let mut nodes = network.nodes().to_vec();
            nodes[*node] = to.clone();
            let changed = network.with_nodes(nodes).map_err(|_| BeliefError::Impossible)?;
            part(&changed, likelihoods, &[target])
        }
        Change::Seen { at, to } => {
            let mut changed = likelihoods.to_vec();
            changed[*at] = to.clone();
            part(network, &changed, &[target])
        }
    }
}

/// True for each node that has a say in the evidence: what was observed hangs on it, directly or through others.
pub fn heard(network: &Network, likelihoods: &[Likelihood]) -> Vec<bool> {
    let mut heard = vec![false; network.nodes().len()];
    for node in likelihoods.iter().flat_map(Likelihood::parents) {
        heard[node] = true;
    }
    for index in (0..heard.len()).rev().filter(|&index| heard[index]).collect::<Vec<_>>() {
        mark(network, index, &mut heard);
    }
    heard
}

fn mark(network: &Network, node: usize, heard: &mut [bool]) {
    for &(parent, _) in &network.nodes()[node].parents {
        if !heard[parent] {
            heard[parent] = true;
            mark(network, parent, heard);
        }
    }
}

/// An answer after which another cause leads.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// Position of the question.
    pub question: usize,
    /// Position of the answer.
    pub answer: usize,
    /// How probable the answer is now.
    pub probability: f64,
    /// Position of the cause that would lead, and its posterior then.
    pub leader: (usize, f64),
}

/// The answers of open questions after which another cause than the one at `leader` is first, most probable answer
/// first; per question only its most probable such answer. What leads by less than a thousandth counts as level.
pub fn turns(leader: usize, open: &[Option<Outcomes>]) -> Vec<Turn> {
    let mut found: Vec<Turn> = open
        .iter()
        .enumerate()
        .filter_map(|(question, outcomes)| {
            let answers = outcomes.as_ref()?.outcomes.iter().enumerate();
            let turning = answers.filter_map(|(answer, outcome)| {
                let then = first(&outcome.present)?;
                let leads = outcome.present.get(leader)? + 1e-3 < then.1;
                leads.then_some(Turn { question, answer, probability: outcome.probability, leader: then })
            });
            turning.max_by(|a, b| a.probability.total_cmp(&b.probability))
        })
        .collect();
    found.sort_by(|a, b| b.probability.total_cmp(&a.probability).then(a.question.cmp(&b.question)));
    found
}

fn first(present: &[f64]) -> Option<(usize, f64)> {
    let ranked = present.iter().copied().enumerate();
    ranked.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
}
