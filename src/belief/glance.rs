//! Turns a network and likelihoods into a rough look at what open questions would say: marginals given each of a few
//! leading causes, parents of a question taken as independent. Only for choosing what to compute exactly.

use super::network::{Leaf, Likelihood, Network};
use super::outcomes::Question;
use super::solver::{Hypothesis, Solved, Solver, Want, thinned};
use super::tree::BeliefError;

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

/// Marginals given each of the `leading` causes: exact for the ancestors of the evidence, and from there on as if the
/// parents of a node were independent.
pub fn glance(network: &Network, likelihoods: &[Likelihood], leading: &[usize]) -> Result<Glance, BeliefError> {
    let likelihoods = thinned(network, likelihoods)?.likelihoods;
    let solver = Solver::new(network, &likelihoods, leading)?;
    let given =
        leading.iter().filter_map(|&cause| solver.tree.variable_of[cause]).map(|variable| vec![(variable, 0.0, 1.0)]);
    let hypotheses: Vec<Hypothesis> = std::iter::once(Vec::new()).chain(given).collect();
    let mut seen = solver.solve(&hypotheses, Want::All).into_iter().map(|joint| marginals(network, &solver, &joint));
    Ok(Glance { now: seen.next().unwrap_or_default(), given: seen.collect() })
}

/// The belief given that exactly these of a few causes are present.
#[derive(Debug, Clone)]
pub struct GivenSet {
    /// How probable that is, as a share of what it is for all sets looked at together.
    pub share: f64,
    marginals: Vec<f64>,
}

impl GivenSet {
    /// Probability of each answer of a question, as if the parents of a node were independent from here on: with the
    /// causes settled they nearly are.
    pub fn answers(&self, question: &Question) -> Vec<f64> {
        answer_chances(question, &self.marginals)
    }
}

/// The belief given each set (bits: places in `causes`) of the causes being present and the rest of `causes` absent; other
/// causes stay as open as they are. The shares are exact.
pub fn given_sets(
    network: &Network,
    likelihoods: &[Likelihood],
    (causes, sets): (&[usize], &[u64]),
) -> Result<Vec<GivenSet>, BeliefError> {
    let likelihoods = thinned(network, likelihoods)?.likelihoods;
    let solver = Solver::new(network, &likelihoods, causes)?;
    let clamp = |set: u64| -> Hypothesis {
        let states =
            causes.iter().enumerate().map(|(place, &cause)| (cause, f64::from(u8::from(set >> place & 1 == 1))));
        states.filter_map(|(cause, on)| Some((solver.tree.variable_of[cause]?, 1.0 - on, on))).collect()
    };
    let hypotheses: Vec<Hypothesis> = sets.iter().map(|&set| clamp(set)).collect();
    let found = solver.solve(&hypotheses, Want::All);
    let whole: f64 = found.iter().map(|joint| joint.total.max(0.0)).sum();
    let given = found.iter().map(|joint| GivenSet {
        share: if 0.0 < whole { joint.total.max(0.0) / whole } else { 0.0 },
        marginals: marginals(network, &solver, joint),
    });
    Ok(given.collect())
}

fn marginals(network: &Network, solver: &Solver, joint: &Solved) -> Vec<f64> {
    let mut marginals: Vec<f64> = Vec::with_capacity(network.nodes().len());
    for (index, node) in network.nodes().iter().enumerate() {
        marginals.push(match solver.tree.variable_of[index] {
            Some(variable) if joint.total != 0.0 => (joint.present[variable] / joint.total).clamp(0.0, 1.0),
            _ => 1.0 - absent(node.leak, &node.parents, &marginals),
        });
    }
    marginals
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
        Question::Table { parents, answers } => {
            let chance = |states: usize| -> f64 {
                let each = parents.iter().enumerate();
                each.map(|(bit, &node)| if states >> bit & 1 == 1 { marginals[node] } else { 1.0 - marginals[node] })
                    .product()
            };
            answers.iter().map(|values| values.iter().enumerate().map(|(at, v)| v * chance(at)).sum()).collect()
        }
    }
}

fn chance_false(leaf: &Leaf, marginals: &[f64]) -> f64 {
    absent(leaf.leak, &leaf.parents, marginals)
}

fn absent(leak: f64, parents: &[(usize, f64)], marginals: &[f64]) -> f64 {
    (1.0 - leak) * parents.iter().map(|&(parent, strength)| 1.0 - strength * marginals[parent]).product::<f64>()
}
