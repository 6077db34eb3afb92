//! Turns a network and likelihoods into the posterior of every node asked for.

use super::network::{Likelihood, Network};
use super::solver::{Solver, Want};
use super::tree::{BeliefError, Tree};

/// Table entries up to which all nodes are computed in one tree.
const ONE_TREE: usize = 100_000;
/// Numerical error above which the numbers are not trusted.
const ERROR_LIMIT: f64 = 1e-6;

/// The belief after all answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Posterior {
    /// Probability of each node being present, in the order of the network.
    pub present: Vec<f64>,
    /// Natural logarithm of the probability of the evidence.
    pub log_evidence: f64,
    /// Bound on the relative numerical error.
    pub error_bound: f64,
    /// Bound on the share of the belief that lies in sets of nodes which a joint factor does not list.
    pub left_out: f64,
    /// Nodes whose states were gone through case by case, because the belief is too wide in one piece.
    pub by_cases: Vec<usize>,
    /// Nodes whose tables would be too large: estimated as if their parents had nothing to do with each other.
    pub estimated: Vec<usize>,
}

/// Posterior of every node. Exact but for rounding; `error_bound` says how much that can be.
///
/// All nodes are computed in one tree; where that would be too wide, only the ancestors of the evidence are, and the
/// other nodes in small groups with their ancestors; what is too large even alone is estimated, and named.
pub fn posterior(network: &Network, likelihoods: &[Likelihood]) -> Result<Posterior, BeliefError> {
    let inner: Vec<usize> = (0..network.nodes().len()).filter(|&n| !network.nodes()[n].parents.is_empty()).collect();
    match Solver::within(network, likelihoods, &inner, ONE_TREE) {
        Some(solver) => solved((network, likelihoods), &solver, Want::All),
        None => in_groups(network, likelihoods, &inner),
    }
}

/// Posterior of the causes alone: as [`posterior`], but other nodes are not computed (their own leak stands for them).
pub fn causes_posterior(network: &Network, likelihoods: &[Likelihood]) -> Result<Posterior, BeliefError> {
    solved((network, likelihoods), &Solver::new(network, likelihoods, &[])?, Want::Causes)
}

/// Posterior of the ancestors of the evidence and of `asked`; other causes keep their prior, other nodes are not
/// computed (their own leak stands for them).
pub(super) fn part(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Result<Posterior, BeliefError> {
    solved((network, likelihoods), &Solver::new(network, likelihoods, asked)?, Want::All)
}

fn solved(
    (network, likelihoods): (&Network, &[Likelihood]),
    solver: &Solver,
    want: Want,
) -> Result<Posterior, BeliefError> {
    let (now, by_set) = match want {
        Want::Causes => {
            let (now, by_set) = solver.now();
            (now, Some(by_set))
        }
        Want::All => (solver.solve(&[Vec::new()], want).remove(0), None),
    };
    let unlisted = Solver::unlisted(network, likelihoods, || by_set.unwrap_or_else(|| solver.each_set()))?;
    if now.total.is_nan() || now.total <= 0.0 {
        return Err(BeliefError::Impossible);
    }
    let error = now.difference / now.total;
    if ERROR_LIMIT < error {
        return Err(BeliefError::Imprecise(error));
    }
    let tree = &solver.tree;
    let present = network
        .nodes()
        .iter()
        .enumerate()
        .map(|(index, node)| match tree.variable_of[index] {
            Some(variable) if want == Want::All || network.is_cause(index) => {
                (now.present[variable] / now.total).clamp(0.0, 1.0)
            }
            None if network.is_cause(index) => (node.leak * now.free / now.total).clamp(0.0, 1.0),
            _ => node.leak,
        })
        .collect();
    let node = |variable: &usize| tree.variable_of.iter().position(|v| v.as_ref() == Some(variable));
    Ok(Posterior {
        present,
        log_evidence: libm::log(now.total),
        error_bound: error.max(f64::EPSILON),
        left_out: unlisted / (now.total + unlisted),
        by_cases: solver.by_cases().iter().filter_map(node).collect(),
        estimated: Vec::new(),
    })
}

fn in_groups(network: &Network, likelihoods: &[Likelihood], inner: &[usize]) -> Result<Posterior, BeliefError> {
    let mut result = part(network, likelihoods, &[])?;
    let known = Tree::live(network, likelihoods);
    let open: Vec<usize> = inner.iter().copied().filter(|&n| !known[n]).collect();
    for group in groups(network, &known, &open) {
        if result.takes_over(network, likelihoods, &group)? {
            continue;
        }
        for node in group {
            if !result.takes_over(network, likelihoods, &[node])? {
                result.estimated.push(node);
            }
        }
    }
    result.estimate(network);
    Ok(result)
}

impl Posterior {
    /// Works out these nodes; false if their tables would be too large.
    fn takes_over(
        &mut self,
        network: &Network,
        likelihoods: &[Likelihood],
        nodes: &[usize],
    ) -> Result<bool, BeliefError> {
        let with_them = match part(network, likelihoods, nodes) {
            Ok(with_them) => with_them,
            Err(BeliefError::TooTangled { .. }) => return Ok(false),
            Err(error) => return Err(error),
        };
        for &node in nodes {
            self.present[node] = with_them.present[node];
        }
        self.error_bound = self.error_bound.max(with_them.error_bound);
        Ok(true)
    }

    /// Parents stand before their children, so that each estimate rests on those before it.
    fn estimate(&mut self, network: &Network) {
        self.estimated.sort_unstable();
        for at in 0..self.estimated.len() {
            let node = &network.nodes()[self.estimated[at]];
            let absent: f64 = node.parents.iter().map(|&(parent, w)| 1.0 - w * self.present[parent]).product();
            self.present[self.estimated[at]] = 1.0 - (1.0 - node.leak) * absent;
        }
    }
}

/// Splits nodes into groups that bring few new ancestors with them, so that no tree grows wide.
fn groups(network: &Network, known: &[bool], open: &[usize]) -> Vec<Vec<usize>> {
    const NEW_NODES: usize = 12;
    let mut groups: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for &node in open {
        let extra = ancestors(network, known, &[node]);
        match groups.last_mut() {
            Some((members, nodes)) if union(nodes, &extra).len() <= NEW_NODES => {
                members.push(node);
                *nodes = union(nodes, &extra);
            }
            _ => groups.push((vec![node], extra)),
        }
    }
    groups.into_iter().map(|(members, _)| members).collect()
}

/// `seeds` and all their ancestors that are not live yet and have parents (a lone cause costs nothing).
pub(super) fn ancestors(network: &Network, known: &[bool], seeds: &[usize]) -> Vec<usize> {
    let mut found: Vec<usize> = Vec::new();
    let mut stack = seeds.to_vec();
    while let Some(node) = stack.pop() {
        if !known[node] && !network.nodes()[node].parents.is_empty() && !found.contains(&node) {
            found.push(node);
            stack.extend(network.nodes()[node].parents.iter().map(|p| p.0));
        }
    }
    found.sort_unstable();
    found
}

/// Sorted union of two sorted lists.
pub(super) fn union(a: &[usize], b: &[usize]) -> Vec<usize> {
    let mut all: Vec<usize> = a.iter().chain(b).copied().collect();
    all.sort_unstable();
    all.dedup();
    all
}
