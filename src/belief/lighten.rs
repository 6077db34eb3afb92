//! Turns likelihoods that hang together too tightly into those that can be computed, and says which were left out.

use super::network::{Likelihood, Network};
use super::tree::Tree;

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
    let mut widest: Vec<usize> = (0..likelihoods.len()).filter(|&at| 0 < ties(&likelihoods[at])).collect();
    widest.sort_by_key(|&at| std::cmp::Reverse((ties(&likelihoods[at]), at)));
    let cost = |leave: usize| match Tree::cost(network, &without(likelihoods, &widest[..leave]), &[]) {
        Ok((entries, _)) => entries,
        Err(_) => usize::MAX,
    };
    let (leave, cost) = fewest(widest.len(), cells, cost);
    let mut left_out = widest[..leave].to_vec();
    left_out.sort_unstable();
    Lightened { left_out, cells: cost }
}

/// The fewest to leave out so that the cost stays within a bound, and that cost; all of them where none of it helps. In steps
/// that double and then halve: with hundreds of answers one at a time would take minutes.
fn fewest(most: usize, bound: usize, cost: impl Fn(usize) -> usize) -> (usize, usize) {
    let (mut too_few, mut enough) = (0, (0, cost(0)));
    while bound < enough.1 && enough.0 < most {
        too_few = enough.0;
        let next = (2 * enough.0).clamp(1, most);
        enough = (next, cost(next));
    }
    while too_few + 1 < enough.0 {
        let middle = usize::midpoint(too_few, enough.0);
        let found = cost(middle);
        if found <= bound {
            enough = (middle, found);
        } else {
            too_few = middle;
        }
    }
    enough
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
