//! Turns hypotheses into their joint probability with the evidence: each summed over the cases of the clamped nodes, less
//! the case of no cause at all where at least one is given.
//!
//! P(c | e, ≥ 1 cause) = P(c, e) / (P(e) − P(e, no cause)): the second is one more lane, with every cause absent.

use super::cases::Cases;
use super::lighten::without;
use super::network::{Likelihood, Network, Sets};
use super::pass::{Weights, belief, case_totals, even, run, totals};
use super::tree::{BeliefError, Tree};

/// Lanes of one pass.
const LANES: usize = 8;

/// A supposition: weights of variables being absent and present.
pub(super) type Hypothesis = Vec<(usize, f64, f64)>;

/// A tree with the cases to sum over.
#[derive(Debug)]
pub(super) struct Solver {
    /// The compiled belief.
    pub tree: Tree,
    /// States of the clamped variables with their weight.
    cases: Cases,
    /// True if at least one cause is given.
    at_least_one: bool,
    /// Clamped variables that the sets of a joint factor fix; those after them are gone through case by case.
    fixed: usize,
}

/// Joint of the evidence and a hypothesis, not normalised.
#[derive(Debug, Clone)]
pub(super) struct Solved {
    /// Probability, at least one cause given if the network says so.
    pub total: f64,
    /// Probability before that condition: a cause outside the tree is independent of the evidence, and once it is present
    /// the condition holds.
    pub free: f64,
    /// Probability with each variable present, under the condition.
    pub present: Vec<f64>,
    /// Largest difference between the ways of computing the total.
    pub difference: f64,
}

/// What is wanted of each variable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Want {
    /// Every variable.
    All,
    /// Causes alone: cheaper, since with no cause at all none is present.
    Causes,
}

/// One lane: a hypothesis, or the same with no cause.
#[derive(Debug, Clone, Copy)]
struct Lane {
    hypothesis: usize,
    no_cause: bool,
}

impl Solver {
    /// Compiles the belief; goes through the sets of a joint factor, and through the states of a few nodes where it is too
    /// wide.
    pub fn new(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Result<Self, BeliefError> {
        let tree = Tree::compile(network, likelihoods, asked, held(likelihoods))?;
        Ok(Self::over(network, likelihoods, tree))
    }

    /// The same in one piece if its tables stay within `cells` entries.
    pub fn within(network: &Network, likelihoods: &[Likelihood], asked: &[usize], cells: usize) -> Option<Self> {
        let tree = Tree::compile_within(network, likelihoods, asked, held(likelihoods), cells)?;
        Some(Self::over(network, likelihoods, tree))
    }

    fn over(network: &Network, likelihoods: &[Likelihood], tree: Tree) -> Self {
        let fixed = held(likelihoods).len();
        let free: Vec<u64> = (0..1 << (tree.clamped.len() - fixed)).map(|states: u64| states << fixed).collect();
        let listed = joint_factor(likelihoods).map_or(&[(0, 1.0)][..], |(_, sets)| &sets.sets);
        let cases = listed.iter().flat_map(|&(set, weight)| free.iter().map(move |states| (set | states, weight)));
        let cases = Cases::new(&tree, cases.collect());
        Self { tree, cases, at_least_one: network.at_least_one(), fixed }
    }

    /// Joint of the evidence and each listed set of the joint factor.
    pub fn each_set(&self) -> Vec<f64> {
        self.by_set(&case_totals(&self.tree, &self.cases, &even(&self.tree)))
    }

    fn by_set(&self, by_case: &[f64]) -> Vec<f64> {
        let cases_of_a_set = 1 << (self.tree.clamped.len() - self.fixed);
        by_case.chunks(cases_of_a_set).map(|cases| cases.iter().sum()).collect()
    }

    /// Joint of the evidence as it is, for the causes alone, and with each listed set of the joint factor.
    pub fn now(&self) -> (Solved, Vec<f64>) {
        let no_cause = [Lane { hypothesis: 0, no_cause: false }, Lane { hypothesis: 0, no_cause: true }];
        let found = belief(&self.tree, &self.cases, &self.supposed(&[Vec::new()], &no_cause));
        let free = found.joint.total[0];
        let none = if self.at_least_one { self.tree.others_absent * found.no_cause } else { 0.0 };
        let present = found.joint.present.iter().map(|present| present[0]).collect();
        let solved = Solved { total: free - none, free, present, difference: found.joint.difference[0] };
        (solved, self.by_set(&found.by_case))
    }

    /// At most so much joint probability lies in sets that the joint factor does not list: their probability without the
    /// numbers, times the highest likelihood of any listed set. `by_set` gives the joint with each listed one; it is asked
    /// only where there is a joint factor.
    pub fn unlisted(
        network: &Network,
        likelihoods: &[Likelihood],
        by_set: impl FnOnce() -> Vec<f64>,
    ) -> Result<f64, BeliefError> {
        let Some((at, sets)) = joint_factor(likelihoods) else { return Ok(0.0) };
        let others = Self::new(network, &without(likelihoods, &[at]), &[])?;
        let whole = totals::<1>(&others.tree, &others.cases, &even(&others.tree))[0];
        let by_set = by_set();
        let weighed = by_set.iter().zip(&sets.sets).filter(|(_, set)| set.1 != 0.0);
        let listed: f64 = weighed.map(|(joint, set)| joint / set.1).sum();
        let highest = sets.sets.iter().map(|set| set.1).fold(0.0, f64::max);
        Ok((whole - listed).max(0.0) * highest)
    }

    /// Table entries of one pass, each bucket's counted once for every state it must tell apart.
    fn cells(&self) -> usize {
        let buckets = self.tree.buckets.iter().zip(&self.cases.keys);
        buckets.map(|(bucket, keys)| bucket.table.len() * keys.states.len()).sum()
    }

    /// Variables gone through case by case.
    pub fn by_cases(&self) -> &[usize] {
        &self.tree.clamped[self.fixed..]
    }

    /// Joint of the evidence and each hypothesis.
    pub fn solve(&self, hypotheses: &[Hypothesis], want: Want) -> Vec<Solved> {
        let none = Solved { total: 0.0, free: 0.0, present: vec![0.0; self.tree.variables], difference: 0.0 };
        let mut solved = vec![none; hypotheses.len()];
        let all = 0..hypotheses.len();
        let lanes: Vec<Lane> = all.clone().map(|hypothesis| Lane { hypothesis, no_cause: false }).collect();
        let possible = |at: &usize| self.at_least_one && !self.supposes_a_cause(&hypotheses[*at]);
        let twins: Vec<Lane> = all.filter(possible).map(|hypothesis| Lane { hypothesis, no_cause: true }).collect();
        if want == Want::All {
            let all: Vec<Lane> = lanes.into_iter().chain(twins).collect();
            self.each_run(hypotheses, &all, &mut solved);
        } else {
            self.each_run(hypotheses, &lanes, &mut solved);
            let others_absent = self.tree.others_absent;
            self.each_total(hypotheses, &twins, |lane, total| solved[lane.hypothesis].total -= others_absent * total);
        }
        solved
    }

    fn supposes_a_cause(&self, hypothesis: &Hypothesis) -> bool {
        hypothesis.iter().any(|(variable, absent, _)| *absent == 0.0 && self.tree.causes.contains(variable))
    }

    fn each_run(&self, hypotheses: &[Hypothesis], lanes: &[Lane], solved: &mut [Solved]) {
        match lanes.len() {
            1 => self.runs::<1>(hypotheses, lanes, solved),
            2 => self.runs::<2>(hypotheses, lanes, solved),
            _ => self.runs::<LANES>(hypotheses, lanes, solved),
        }
    }

    fn runs<const L: usize>(&self, hypotheses: &[Hypothesis], lanes: &[Lane], solved: &mut [Solved]) {
        for batch in lanes.chunks(L) {
            let joint = run::<L>(&self.tree, &self.cases, &self.supposed(hypotheses, batch));
            for (at, lane) in batch.iter().enumerate() {
                let sum = &mut solved[lane.hypothesis];
                let sign = if lane.no_cause { -self.tree.others_absent } else { 1.0 };
                sum.total += sign * joint.total[at];
                sum.free += if lane.no_cause { 0.0 } else { joint.total[at] };
                sum.difference += (sign * joint.difference[at]).abs();
                for (value, present) in sum.present.iter_mut().zip(&joint.present) {
                    *value += sign * present[at];
                }
            }
        }
    }

    fn each_total(&self, hypotheses: &[Hypothesis], lanes: &[Lane], mut take: impl FnMut(&Lane, f64)) {
        match lanes {
            [] => {}
            [lane] => take(lane, totals::<1>(&self.tree, &self.cases, &self.supposed(hypotheses, lanes))[0]),
            _ => {
                for batch in lanes.chunks(LANES) {
                    let found = totals::<LANES>(&self.tree, &self.cases, &self.supposed(hypotheses, batch));
                    batch.iter().zip(found).for_each(|(lane, total)| take(lane, total));
                }
            }
        }
    }

    fn supposed<const L: usize>(&self, hypotheses: &[Hypothesis], batch: &[Lane]) -> Weights<L> {
        let mut weights = even::<L>(&self.tree);
        for (at, lane) in batch.iter().enumerate() {
            for &(variable, absent, present) in &hypotheses[lane.hypothesis] {
                weights[variable][0][at] *= absent;
                weights[variable][1][at] *= present;
            }
            for &cause in self.tree.causes.iter().filter(|_| lane.no_cause) {
                weights[cause][1][at] = 0.0;
            }
        }
        weights
    }
}

/// Sets of a joint factor over which questions are computed, at most: the heaviest ones.
const HEAVIEST: usize = 64;
/// Share of the belief that the sets kept carry; no more are kept than that takes.
const CARRIED: f64 = 0.99;

/// Likelihoods light enough for many what-ifs.
#[derive(Debug, Clone, PartialEq)]
pub struct Thinned {
    /// With no more sets of the joint factor than the heaviest that carry 0.99 of the belief, at most 64.
    pub likelihoods: Vec<Likelihood>,
    /// Share of the belief that fell away with the other sets.
    pub left_out: f64,
    /// Table entries that one belief on them takes, all sets counted; zero where nothing fell away.
    pub cells: usize,
}

/// The likelihoods with the heaviest sets of their joint factor alone.
///
/// # Errors
///
/// As for the belief itself: [`BeliefError`].
pub fn thinned(network: &Network, likelihoods: &[Likelihood]) -> Result<Thinned, BeliefError> {
    let mut kept = likelihoods.to_vec();
    let Some((at, sets)) = joint_factor(likelihoods).filter(|(_, sets)| HEAVIEST < sets.sets.len()) else {
        return Ok(Thinned { likelihoods: kept, left_out: 0.0, cells: 0 });
    };
    let joint = Solver::new(network, likelihoods, &[])?.each_set();
    let mut order: Vec<usize> = (0..joint.len()).collect();
    order.sort_by(|&a, &b| joint[b].total_cmp(&joint[a]).then(a.cmp(&b)));
    let whole: f64 = joint.iter().sum();
    let mut carried = 0.0;
    order.retain(|&set| {
        let needed = carried < CARRIED * whole;
        carried += joint[set];
        needed
    });
    order.truncate(HEAVIEST);
    order.sort_unstable();
    let share: f64 = order.iter().map(|&set| joint[set]).sum::<f64>() / whole;
    let heavy = order.into_iter().map(|set| sets.sets[set]).collect();
    kept[at] = Likelihood::Sets(Sets { nodes: sets.nodes.clone(), sets: heavy });
    let cells = Solver::new(network, &kept, &[])?.cells();
    Ok(Thinned { likelihoods: kept, left_out: if share.is_nan() { 1.0 } else { 1.0 - share }, cells })
}

fn joint_factor(likelihoods: &[Likelihood]) -> Option<(usize, &Sets)> {
    likelihoods.iter().enumerate().find_map(|(at, likelihood)| match likelihood {
        Likelihood::Sets(sets) => Some((at, sets)),
        _ => None,
    })
}

fn held(likelihoods: &[Likelihood]) -> &[usize] {
    joint_factor(likelihoods).map(|(_, sets)| sets.nodes.as_slice()).unwrap_or_default()
}
