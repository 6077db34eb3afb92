//! Turns the belief into sets of causes present together: the most probable ones with their exact probability, and the
//! probability of all others together.
//!
//! A set stands for "these causes and no other". With every cause outside the leading ones taken out of the network the
//! rest is small; there, "no leading cause outside S" is a leaf that is false, one lane of [`outcomes`]. With Q(S) its
//! probability, the probability of exactly S is the alternating sum of Q over the subsets of S (Möbius inversion, at most
//! eight terms), times P(answers, no other cause) / P(answers).

use super::network::{Leaf, Likelihood, Network, Node};
use super::outcomes::{Outcomes, Question, outcomes};
use super::posterior::part;
use super::tree::BeliefError;
use std::collections::BTreeMap;

/// Leading causes from which sets are formed.
const LEADING: usize = 12;
/// Causes in a set at most.
const TOGETHER: usize = 3;
/// Sets computed at a time.
const BATCH: usize = 24;

/// Sets of causes present together.
#[derive(Debug, Clone, PartialEq)]
pub struct FaultSets {
    /// The most probable sets (node indices in rising order, at most three) with the probability that exactly these
    /// causes are present; most probable first.
    pub sets: Vec<(Vec<usize>, f64)>,
    /// Probability of every other combination together.
    pub others: f64,
}

/// The `most` most probable sets of at most three of the twelve leading causes. Causes have no parents. Exact but for
/// rounding; empty where the answers hang together too tightly.
pub fn fault_sets(
    network: &Network,
    likelihoods: &[Likelihood],
    present: &[f64],
    most: usize,
) -> Result<FaultSets, BeliefError> {
    let leading = leading(network, present);
    let (alone, none_else) = only(network, &leading)?;
    let whole = part(network, likelihoods, &[])?.log_evidence;
    let sets = match part(&alone, likelihoods, &leading) {
        Ok(belief) => {
            let share = libm::exp(belief.log_evidence - whole) * none_else;
            Search { network: &alone, likelihoods, leading: &leading, share, known: BTreeMap::new() }.best(most)?
        }
        Err(BeliefError::Impossible) => Vec::new(),
        Err(error) => return Err(error),
    };
    let others = (1.0 - sets.iter().map(|(_, p)| p).sum::<f64>()).max(0.0);
    Ok(FaultSets { sets, others })
}

fn leading(network: &Network, present: &[f64]) -> Vec<usize> {
    let mut causes: Vec<usize> = (0..network.nodes().len()).filter(|&node| network.is_cause(node)).collect();
    causes.sort_by(|a, b| present[*b].total_cmp(&present[*a]).then(a.cmp(b)));
    causes.truncate(LEADING);
    causes.sort_unstable();
    causes
}

/// The network in which no other cause can be present, and the prior probability that none is.
fn only(network: &Network, leading: &[usize]) -> Result<(Network, f64), BeliefError> {
    let is_out = |node: usize| network.is_cause(node) && !leading.contains(&node);
    let none_else = (0..network.nodes().len()).filter(|&n| is_out(n)).map(|n| 1.0 - network.nodes()[n].leak).product();
    let nodes = network.nodes().iter().enumerate().map(|(index, node)| Node {
        leak: if is_out(index) { 0.0 } else { node.leak },
        parents: node.parents.iter().copied().filter(|&(parent, _)| !is_out(parent)).collect(),
    });
    Ok((network.with_nodes(nodes.collect()).map_err(|_| BeliefError::Impossible)?, none_else))
}

struct Search<'a> {
    network: &'a Network,
    likelihoods: &'a [Likelihood],
    leading: &'a [usize],
    /// P(no cause but the leading ones | answers).
    share: f64,
    /// Q of each set looked at.
    known: BTreeMap<Vec<usize>, Option<f64>>,
}

impl Search<'_> {
    /// Sets in order of the most they can have, until none that is left can be among the best.
    fn best(&mut self, most: usize) -> Result<Vec<(Vec<usize>, f64)>, BeliefError> {
        let candidates = self.candidates()?;
        let mut found: Vec<(Vec<usize>, f64)> = Vec::new();
        for batch in candidates.chunks(BATCH) {
            let least = found.get(most.saturating_sub(1)).map_or(0.0, |(_, p)| *p);
            if batch[0].1 * self.share <= least {
                break;
            }
            self.look_up(batch.iter().flat_map(|(set, _)| subsets(set)).collect())?;
            found.extend(batch.iter().filter_map(|(set, _)| Some((set.clone(), self.exactly(set)?))));
            found.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
            found.truncate(most);
        }
        found.retain(|(_, p)| 0.0 < *p);
        Ok(found)
    }

    /// Every set with the most it can have: what its least probable pair has.
    fn candidates(&self) -> Result<Vec<(Vec<usize>, f64)>, BeliefError> {
        let looks: Vec<Question> =
            self.leading.iter().map(|&c| Question::Leaf { leaf: Leaf::of(c), answers: vec![(1.0, 0.0)] }).collect();
        let found = outcomes(self.network, self.likelihoods, &looks, self.leading)?;
        let pair = |a: usize, b: usize| {
            let outcome = found[a].as_ref().and_then(first);
            outcome.map_or(1.0, |outcome| outcome.0 * outcome.1[b])
        };
        let mut sets = vec![(Vec::new(), 1.0_f64)];
        let mut all: Vec<(Vec<usize>, f64)> = sets.clone();
        for _ in 0..TOGETHER {
            let longer = sets.iter().flat_map(|(set, bound): &(Vec<usize>, f64)| {
                let from = set.last().map_or(0, |last| last + 1);
                (from..self.leading.len()).map(move |next| {
                    let bound = set.iter().chain([&next]).map(|&member| pair(next, member)).fold(*bound, f64::min);
                    (set.iter().copied().chain([next]).collect(), bound)
                })
            });
            sets = longer.collect();
            all.extend(sets.iter().cloned());
        }
        if self.network.at_least_one() {
            all.remove(0);
        }
        let mut named: Vec<(Vec<usize>, f64)> =
            all.into_iter().map(|(set, bound)| (set.into_iter().map(|at| self.leading[at]).collect(), bound)).collect();
        named.sort_by(|a, b| b.1.total_cmp(&a.1));
        Ok(named)
    }

    /// Q of these sets, those not known yet.
    fn look_up(&mut self, mut sets: Vec<Vec<usize>>) -> Result<(), BeliefError> {
        sets.retain(|set| !self.known.contains_key(set));
        sets.sort();
        sets.dedup();
        let outside = |set: &Vec<usize>| {
            let parents = self.leading.iter().filter(|node| !set.contains(node)).map(|&node| (node, 1.0)).collect();
            Question::Leaf { leaf: Leaf { leak: 0.0, parents }, answers: vec![(0.0, 1.0)] }
        };
        let questions: Vec<Question> = sets.iter().map(outside).collect();
        let found = outcomes(self.network, self.likelihoods, &questions, &[])?;
        let chances = found.iter().map(|outcomes| Some(first(outcomes.as_ref()?)?.0));
        self.known.extend(sets.into_iter().zip(chances.collect::<Vec<_>>()));
        Ok(())
    }

    fn exactly(&self, set: &[usize]) -> Option<f64> {
        let mut sum = 0.0;
        for part in subsets(set) {
            let sign = if (set.len() - part.len()).is_multiple_of(2) { 1.0 } else { -1.0 };
            sum += sign * (*self.known.get(&part)?)?;
        }
        Some((sum * self.share).clamp(0.0, 1.0))
    }
}

/// Probability and posteriors of a question's only answer.
fn first(outcomes: &Outcomes) -> Option<(f64, &[f64])> {
    outcomes.outcomes.first().map(|outcome| (outcome.probability, outcome.present.as_slice()))
}

/// All subsets, the set itself and the empty one included.
fn subsets(set: &[usize]) -> Vec<Vec<usize>> {
    (0..1_usize << set.len())
        .map(|bits| set.iter().enumerate().filter(|(at, _)| bits >> at & 1 == 1).map(|(_, &node)| node).collect())
        .collect()
}
