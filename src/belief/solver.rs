//! Turns hypotheses into their joint probability with the evidence: each summed over the cases of the clamped nodes, less
//! the case of no cause at all where at least one is given.
//!
//! P(c | e, ≥ 1 cause) = P(c, e) / (P(e) − P(e, no cause)): the second is one more lane, with every cause absent.

use super::lighten::without;
use super::network::{Likelihood, Network, Sets};
use super::pass::{Lanes, run, totals};
use super::tree::{BeliefError, Tree};

/// Lanes of one pass.
const LANES: usize = 8;
/// Share of the evidence's probability that listed sets of a joint factor may lose by being left out of the sums.
const NEGLIGIBLE: f64 = 1e-13;

/// A supposition: weights of variables being absent and present.
pub(super) type Hypothesis = Vec<(usize, f64, f64)>;

/// A tree with the cases to sum over.
#[derive(Debug)]
pub(super) struct Solver {
    /// The compiled belief.
    pub tree: Tree,
    /// States of the clamped variables with their weight.
    cases: Vec<(u64, f64)>,
    /// True if at least one cause is given.
    at_least_one: bool,
    /// Clamped variables that the sets of the joint factor fix; those after them are gone through case by case.
    fixed: usize,
    /// At most so much joint probability lies in sets that the joint factor does not list.
    pub unlisted: f64,
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

/// One lane: a hypothesis in one case, with its weight; negative where no cause is supposed.
#[derive(Debug, Clone, Copy)]
struct Lane {
    hypothesis: usize,
    states: u64,
    weight: f64,
    no_cause: bool,
}

impl Solver {
    /// Compiles the belief; conditions on the sets of a joint factor, and on a few nodes where it is too wide.
    pub fn new(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Result<Self, BeliefError> {
        let tree = Tree::compile(network, likelihoods, asked, held(likelihoods))?;
        Self::over(network, likelihoods, tree)
    }

    /// The same in one piece if its tables stay within `cells` entries.
    pub fn within(
        network: &Network,
        likelihoods: &[Likelihood],
        asked: &[usize],
        cells: usize,
    ) -> Result<Option<Self>, BeliefError> {
        let tree = Tree::compile_within(network, likelihoods, asked, held(likelihoods), cells);
        tree.map(|tree| Self::over(network, likelihoods, tree)).transpose()
    }

    fn over(network: &Network, likelihoods: &[Likelihood], tree: Tree) -> Result<Self, BeliefError> {
        let fixed = held(likelihoods).len();
        let free: Vec<u64> = (0..1 << (tree.clamped.len() - fixed)).map(|states: u64| states << fixed).collect();
        let mut solver = Self { tree, cases: Vec::new(), at_least_one: network.at_least_one(), fixed, unlisted: 0.0 };
        match joint_factor(likelihoods) {
            None => solver.cases = free.into_iter().map(|states| (states, 1.0)).collect(),
            Some((at, sets)) => {
                let others = Self::new(network, &without(likelihoods, &[at]), &[])?;
                let whole = others.solve(&[Vec::new()], Want::Causes)[0].free;
                solver.keep_the_heavy(sets, &free, whole);
            }
        }
        Ok(solver)
    }

    /// Keeps the sets that matter, and bounds what the unlisted ones could weigh: their probability without the numbers
    /// times the highest likelihood of any listed set. `whole` is the probability of all sets without the numbers.
    fn keep_the_heavy(&mut self, sets: &Sets, free: &[u64], whole: f64) {
        let cases: Vec<(u64, f64)> = sets
            .sets
            .iter()
            .flat_map(|&(set, weight)| free.iter().map(move |&states| (set | states, weight)))
            .collect();
        let lanes: Vec<Lane> =
            cases.iter().map(|&(states, _)| Lane { hypothesis: 0, states, weight: 1.0, no_cause: false }).collect();
        let mut listed = Vec::with_capacity(lanes.len());
        self.each_total(&[Vec::new()], &lanes, |_, total| listed.push(total));
        let highest = sets.sets.iter().map(|set| set.1).fold(0.0, f64::max);
        self.unlisted = (whole - listed.iter().sum::<f64>()).max(0.0) * highest;
        let mut heavy: Vec<(f64, (u64, f64))> =
            listed.iter().zip(cases).map(|(total, case)| (total * case.1, case)).collect();
        heavy.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.0.cmp(&b.1.0)));
        let least = NEGLIGIBLE * heavy.iter().map(|case| case.0).sum::<f64>();
        let mut rest: f64 = heavy.iter().map(|case| case.0.max(0.0)).sum();
        let kept = heavy.into_iter().take_while(|case| {
            let matters = least < rest;
            rest -= case.0.max(0.0);
            matters
        });
        self.cases = kept.map(|case| case.1).collect();
    }

    /// Keeps the `most` heaviest sets of a joint factor and returns the share of the belief that falls away.
    pub fn keep_the_heaviest(&mut self, most: usize) -> f64 {
        if self.fixed == 0 || self.cases.len() <= most {
            return 0.0;
        }
        let whole = self.solve(&[Vec::new()], Want::Causes)[0].total;
        self.cases.truncate(most);
        1.0 - self.solve(&[Vec::new()], Want::Causes)[0].total / whole
    }

    /// Variables gone through case by case.
    pub fn by_cases(&self) -> &[usize] {
        &self.tree.clamped[self.fixed..]
    }

    /// Joint of the evidence and each hypothesis.
    pub fn solve(&self, hypotheses: &[Hypothesis], want: Want) -> Vec<Solved> {
        let none = Solved { total: 0.0, free: 0.0, present: vec![0.0; self.tree.variables], difference: 0.0 };
        let mut solved = vec![none; hypotheses.len()];
        let lanes = self.lanes(hypotheses, false);
        let twins = if self.at_least_one { self.lanes(hypotheses, true) } else { Vec::new() };
        if want == Want::All {
            let all: Vec<Lane> = lanes.into_iter().chain(twins).collect();
            self.each_run(hypotheses, &all, &mut solved);
        } else {
            self.each_run(hypotheses, &lanes, &mut solved);
            self.each_total(hypotheses, &twins, |lane, total| solved[lane.hypothesis].total += lane.weight * total);
        }
        solved
    }

    fn lanes(&self, hypotheses: &[Hypothesis], no_cause: bool) -> Vec<Lane> {
        let sign = if no_cause { -self.tree.others_absent } else { 1.0 };
        let of = |hypothesis| {
            let cases = self.cases.iter();
            cases.map(move |&(states, weight)| Lane { hypothesis, states, weight: sign * weight, no_cause })
        };
        let possible = |at: &usize| !no_cause || !self.supposes_a_cause(&hypotheses[*at]);
        (0..hypotheses.len()).filter(possible).flat_map(of).collect()
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
            let joint = run::<L>(&self.tree, &self.supposed(hypotheses, batch));
            for (at, lane) in batch.iter().enumerate() {
                let sum = &mut solved[lane.hypothesis];
                sum.total += lane.weight * joint.total[at];
                sum.free += if lane.no_cause { 0.0 } else { lane.weight * joint.total[at] };
                sum.difference += (lane.weight * joint.difference[at]).abs();
                for (value, present) in sum.present.iter_mut().zip(&joint.present) {
                    *value += lane.weight * present[at];
                }
            }
        }
    }

    fn each_total(&self, hypotheses: &[Hypothesis], lanes: &[Lane], mut take: impl FnMut(&Lane, f64)) {
        for batch in lanes.chunks(LANES) {
            let found = totals::<LANES>(&self.tree, &self.supposed(hypotheses, batch));
            batch.iter().zip(found).for_each(|(lane, total)| take(lane, total));
        }
    }

    fn supposed<const L: usize>(&self, hypotheses: &[Hypothesis], batch: &[Lane]) -> Lanes<L> {
        let mut lanes = Lanes::<L>::even(&self.tree);
        for (at, lane) in batch.iter().enumerate() {
            lanes.clamp(at, lane.states);
            for &(variable, absent, present) in &hypotheses[lane.hypothesis] {
                lanes.weigh(at, variable, absent, present);
            }
            for &cause in self.tree.causes.iter().filter(|_| lane.no_cause) {
                lanes.weigh(at, cause, 1.0, 0.0);
            }
        }
        lanes
    }
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
