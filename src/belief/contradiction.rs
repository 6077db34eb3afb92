//! Turns answers that cannot all be true into the fewest to leave out, so that a belief remains.

use super::lighten::without;
use super::network::{Likelihood, Network};
use super::posterior::causes_posterior;
use super::tree::BeliefError;

/// Positions of the likelihoods to leave out so that the others can be true together; empty where all can. One, if one is
/// enough: the one without which the others are most probable. Else as few as come out of taking the answers in their
/// order and passing over each that contradicts those before it.
pub fn contradicting(network: &Network, likelihoods: &[Likelihood]) -> Vec<usize> {
    let possible = |kept: &[Likelihood]| match causes_posterior(network, kept) {
        Ok(belief) => Some(belief.log_evidence),
        Err(BeliefError::Impossible) => None,
        // Too wide to be judged: nobody can say that it contradicts.
        Err(_) => Some(f64::NEG_INFINITY),
    };
    if possible(likelihoods).is_some() {
        return Vec::new();
    }
    let spared = (0..likelihoods.len()).filter_map(|at| Some((at, possible(&without(likelihoods, &[at]))?)));
    if let Some((at, _)) = spared.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0))) {
        return vec![at];
    }
    let mut kept: Vec<Likelihood> = Vec::new();
    let mut left_out = Vec::new();
    for (at, likelihood) in likelihoods.iter().enumerate() {
        kept.push(likelihood.clone());
        if possible(&kept).is_none() {
            kept.pop();
            left_out.push(at);
        }
    }
    left_out
}
