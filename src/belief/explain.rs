//! Turns answers into reasons: what each answer does to one node, how well the answers fit, which one to recheck.
//!
//! Weights are in decibans, ten times the decimal logarithm of the odds ratio with and without the answer (Good 1950,
//! from memory), conditional on all other answers. The fit is the conflict measure of Jensen, Chamond, Nordby and
//! Jensen (1991): bits by which the answers together are less probable than if they had nothing to do with each other.

use super::lighten::without;
use super::network::{Likelihood, Network};
use super::posterior::{Posterior, part};
use super::tree::BeliefError;

/// Why the belief is what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// Per answer: decibans it adds to each node asked about, given all other answers.
    pub decibans: Vec<Vec<f64>>,
    /// Conflict of all answers, bits; positive = they fit badly together.
    pub conflict: f64,
    /// Per answer: by how many bits the conflict falls when it is left out.
    pub relief: Vec<f64>,
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
    let decibans = spared.iter().map(|rest| weights(&all, rest, nodes)).collect();
    Ok(Explanation { decibans, conflict, relief })
}

fn bits(nats: f64) -> f64 {
    nats / std::f64::consts::LN_2
}

fn weights(all: &Posterior, rest: &Posterior, nodes: &[usize]) -> Vec<f64> {
    nodes.iter().map(|&node| 10.0 * (log10_odds(all.present[node]) - log10_odds(rest.present[node]))).collect()
}

fn log10_odds(probability: f64) -> f64 {
    let inside = probability.clamp(1e-12, 1.0 - 1e-12);
    libm::log10(inside / (1.0 - inside))
}
