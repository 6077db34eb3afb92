//! Turns a network and likelihoods into a rough look at what open questions would say: marginals given each of a few
//! leading causes, parents of a question taken as independent. Only for choosing what to compute exactly.

use super::network::{Leaf, Likelihood, Network};
use super::outcomes::Question;
use super::pass::{even_weights, run};
use super::tree::{BeliefError, Tree};

/// Causes computed in one pass.
const LANES: usize = 8;
/// Table entries up to which all nodes are looked at in one tree.
const ONE_TREE: usize = 600_000;

/// Marginals of all nodes: now, and given each leading cause.
#[derive(Debug, Clone)]
pub struct Glance {
    now: Vec<f64>,
    given: Vec<Vec<f64>>,
}

/// A possible answer, roughly.
#[derive(Debug, Clone)]
pub struct RoughAnswer {
    /// Probability now.
    pub probability: f64,
    /// For each leading cause, by what factor the answer would change it.
    pub ratio: Vec<f64>,
}

/// Marginals given each of the `leading` causes.
pub fn glance(network: &Network, likelihoods: &[Likelihood], leading: &[usize]) -> Result<Glance, BeliefError> {
    let inner: Vec<usize> = (0..network.nodes().len()).filter(|&n| !network.nodes()[n].parents.is_empty()).collect();
    let asked: Vec<usize> = inner.into_iter().chain(leading.iter().copied()).collect();
    let tree = match Tree::compile_within(network, likelihoods, &asked, ONE_TREE)? {
        Some(tree) => tree,
        None => Tree::compile(network, likelihoods, leading)?,
    };
    let now = marginals(network, &tree, &run::<1>(&tree, &even_weights(&tree)), 0);
    let mut given = Vec::with_capacity(leading.len());
    for batch in leading.chunks(LANES) {
        let mut weights = even_weights::<LANES>(&tree);
        for (lane, &cause) in batch.iter().enumerate() {
            if let Some(variable) = tree.variable_of[cause] {
                weights[variable][0][lane] = 0.0;
            }
        }
        let joint = run::<LANES>(&tree, &weights);
        given.extend((0..batch.len()).map(|lane| marginals(network, &tree, &joint, lane)));
    }
    Ok(Glance { now, given })
}

fn marginals<const L: usize>(network: &Network, tree: &Tree, joint: &super::pass::Joint<L>, lane: usize) -> Vec<f64> {
    let total = joint.total[lane];
    let nodes = network.nodes().iter().enumerate();
    nodes
        .map(|(index, node)| match tree.variable_of[index] {
            Some(variable) if total != 0.0 => (joint.of[variable][1][lane] / total).clamp(0.0, 1.0),
            _ => node.leak,
        })
        .collect()
}

impl Glance {
    /// The answers of a question, roughly.
    pub fn answers(&self, question: &Question) -> Vec<RoughAnswer> {
        let now = answer_chances(question, &self.now);
        let given: Vec<Vec<f64>> = self.given.iter().map(|marginals| answer_chances(question, marginals)).collect();
        now.iter()
            .enumerate()
            .map(|(answer, &probability)| RoughAnswer {
                probability,
                ratio: given.iter().map(|chances| chances[answer] / probability.max(1e-9)).collect(),
            })
            .collect()
    }
}

fn answer_chances(question: &Question, marginals: &[f64]) -> Vec<f64> {
    match question {
        Question::Leaf { leaf, answers } => {
            let no = chance_false(leaf, marginals);
            answers.iter().map(|(if_true, if_false)| if_false * no + if_true * (1.0 - no)).collect()
        }
        Question::Pulls { down, up, answers } => {
            let (d, u) = (chance_false(down, marginals), chance_false(up, marginals));
            let states = [d * u, (1.0 - d) * u, d * (1.0 - u), (1.0 - d) * (1.0 - u)];
            answers.iter().map(|answer| answer.iter().zip(states).map(|(a, s)| a * s).sum()).collect()
        }
    }
}

fn chance_false(leaf: &Leaf, marginals: &[f64]) -> f64 {
    (1.0 - leaf.leak)
        * leaf.parents.iter().map(|&(parent, strength)| 1.0 - strength * marginals[parent]).product::<f64>()
}
