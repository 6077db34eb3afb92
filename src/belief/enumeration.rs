//! Turns small networks into posteriors by summing over every state: the referee of the exact engine, tests only.

use super::network::{Leaf, Likelihood, Network};

/// Posterior of every node and the probability of the evidence, by brute force over 2^n states.
pub(super) fn enumerate(network: &Network, likelihoods: &[Likelihood]) -> (Vec<f64>, f64) {
    let n = network.nodes().len();
    let mut total = 0.0;
    let mut present = vec![0.0; n];
    for state in 0..1_usize << n {
        let weight = prior(network, state) * likelihoods.iter().map(|l| likelihood(l, state)).product::<f64>();
        total += weight;
        for (node, sum) in present.iter_mut().enumerate() {
            if state >> node & 1 == 1 {
                *sum += weight;
            }
        }
    }
    for sum in &mut present {
        *sum /= total;
    }
    (present, total)
}

fn prior(network: &Network, state: usize) -> f64 {
    let is = |node: usize| state >> node & 1 == 1;
    let any = (0..network.nodes().len()).any(|node| network.is_cause(node) && is(node));
    if network.at_least_one() && !any {
        return 0.0;
    }
    if network.excludes().iter().any(|group| 1 < group.iter().filter(|&&node| is(node)).count()) {
        return 0.0;
    }
    network
        .nodes()
        .iter()
        .enumerate()
        .map(|(index, node)| {
            let leaf = Leaf { leak: node.leak, parents: node.parents.clone() };
            if is(index) { 1.0 - is_false(&leaf, state) } else { is_false(&leaf, state) }
        })
        .product()
}

fn is_false(leaf: &Leaf, state: usize) -> f64 {
    (1.0 - leaf.leak)
        * leaf.parents.iter().filter(|(p, _)| state >> p & 1 == 1).map(|(_, strength)| 1.0 - strength).product::<f64>()
}

fn likelihood(likelihood: &Likelihood, state: usize) -> f64 {
    match likelihood {
        Likelihood::Leaf { leaf, if_true, if_false } => {
            let no = is_false(leaf, state);
            if_false * no + if_true * (1.0 - no)
        }
        Likelihood::Pulls { down, up, density } => {
            let (d, u) = (is_false(down, state), is_false(up, state));
            density[0] * d * u
                + density[1] * (1.0 - d) * u
                + density[2] * d * (1.0 - u)
                + density[3] * (1.0 - d) * (1.0 - u)
        }
        Likelihood::Table { parents, values } => {
            values[parents.iter().enumerate().map(|(bit, node)| (state >> node & 1) << bit).sum::<usize>()]
        }
        Likelihood::Sets(sets) => {
            let set: u64 = sets.nodes.iter().enumerate().map(|(bit, node)| (state as u64 >> node & 1) << bit).sum();
            sets.sets.iter().find(|(listed, _)| *listed == set).map_or(0.0, |(_, likelihood)| *likelihood)
        }
    }
}
