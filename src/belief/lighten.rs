//! Turns likelihoods that hang together too tightly into those that can be computed, and says which were left out.

use super::network::{Likelihood, Network};
use super::tree::{BeliefError, Tree};

/// Table entries up to which one belief is computed in a blink.
pub const FOR_BELIEF: usize = 1_000_000;
/// Table entries up to which many what-ifs are computed in a blink.
pub const FOR_PLANNING: usize = 100_000;

/// What can be computed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lightened {
    /// Positions of the likelihoods left out, in order.
    pub left_out: Vec<usize>,
    /// Table entries that one belief on the others takes: the measure of work of everything computed on it.
    pub cells: usize,
}

/// The likelihoods to leave out so that the tables stay below `cells` entries: the ones that tie most
/// nodes together first. Empty in the usual case. Plain "no" answers tie nothing and are
/// never left out; nor is a joint factor, whose nodes are gone through case by case.
pub fn lighten(network: &Network, likelihoods: &[Likelihood], cells: usize) -> Lightened {
    let mut left_out: Vec<usize> = Vec::new();
    let mut cost = usize::MAX;
    loop {
        let kept: Vec<Likelihood> = without(likelihoods, &left_out);
        match Tree::cost(network, &kept, &[]) {
            Ok((entries, _)) => cost = entries,
            Err(BeliefError::TooTangled { .. }) => {}
            Err(_) => break,
        }
        if cost <= cells {
            break;
        }
        let open = (0..likelihoods.len()).filter(|at| !left_out.contains(at));
        match open.filter(|&at| 0 < ties(&likelihoods[at])).max_by_key(|&at| ties(&likelihoods[at])) {
            Some(worst) => left_out.push(worst),
            None => break,
        }
    }
    left_out.sort_unstable();
    Lightened { left_out, cells: cost }
}

/// The likelihoods without those at the given positions.
pub fn without(likelihoods: &[Likelihood], left_out: &[usize]) -> Vec<Likelihood> {
    let kept = likelihoods.iter().enumerate().filter(|(at, _)| !left_out.contains(at));
    kept.map(|(_, likelihood)| likelihood.clone()).collect()
}

/// How many nodes a likelihood ties together.
fn ties(likelihood: &Likelihood) -> usize {
    match likelihood {
        Likelihood::Leaf { if_true, .. } if *if_true == 0.0 => 0,
        Likelihood::Sets(_) => 0,
        _ => likelihood.parents().len(),
    }
}
