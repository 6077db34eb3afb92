//! Turns open questions into what each answer would mean: its probability and the posterior of every cause after it.
//!
//! A question about a leaf costs one lane: the joint with the leaf being false is a weight on its parents, the rest
//! follows by subtraction. A number costs three lanes. Questions that bring the same new ancestors share one tree.

use super::network::{Leaf, Likelihood, Network};
use super::pass::{Joint, Weights, even_weights, run};
use super::posterior::{ancestors, union};
use super::tree::{BeliefError, Tree};

/// Hypotheses computed in one pass.
const LANES: usize = 8;
/// Largest tree, in table entries, in which all questions are answered together.
const ONE_TREE: usize = 300_000;
/// New nodes that questions sharing one tree may bring.
const NEW_NODES: usize = 6;

/// Something that could be asked, with the likelihood of each possible answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Question {
    /// A yes/no leaf; per answer its probability when the leaf is true and when it is false.
    Leaf {
        /// The leaf.
        leaf: Leaf,
        /// Probability of each answer if true, if false.
        answers: Vec<(f64, f64)>,
    },
    /// A number; per outcome its probability in the band, pulled down, pulled up, pulled both ways.
    Pulls {
        /// The number is pulled down.
        down: Leaf,
        /// The number is pulled up.
        up: Leaf,
        /// Probability of each outcome in the four states.
        answers: Vec<[f64; 4]>,
    },
}

/// One possible answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// How probable the answer is now.
    pub probability: f64,
    /// Posterior of each cause after it, in the order of the causes given.
    pub present: Vec<f64>,
}

/// All possible answers to one question.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcomes {
    /// In the order of the question's answers.
    pub outcomes: Vec<Outcome>,
}

/// For each question, each answer's probability and the posterior of `causes` after it. Exact but for rounding.
/// A question whose tree would be too wide is answered with `None`.
pub fn outcomes(
    network: &Network,
    likelihoods: &[Likelihood],
    questions: &[Question],
    causes: &[usize],
) -> Result<Vec<Option<Outcomes>>, BeliefError> {
    let mut result: Vec<Option<Outcomes>> = vec![None; questions.len()];
    let mut ask = Ask { network, questions, causes, result: &mut result };
    let all: Vec<usize> = (0..questions.len()).collect();
    if let Some(tree) = Tree::compile_within(network, likelihoods, &ask.parents(&all), ONE_TREE)? {
        ask.answer(&tree, &all);
        return Ok(result);
    }
    let known = Tree::compile(network, likelihoods, &[])?.variable_of;
    for group in groups(network, &known, questions) {
        if let Ok(tree) = Tree::compile(network, likelihoods, &ask.parents(&group)) {
            ask.answer(&tree, &group);
        }
    }
    Ok(result)
}

/// Questions by the new nodes they bring, merged while few.
fn groups(network: &Network, known: &[Option<usize>], questions: &[Question]) -> Vec<Vec<usize>> {
    let mut keyed: Vec<(Vec<usize>, usize)> =
        questions.iter().enumerate().map(|(q, question)| (ancestors(network, known, &parents(question)), q)).collect();
    keyed.sort();
    let mut groups: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for (extra, question) in keyed {
        match groups.last_mut() {
            Some((nodes, members)) if union(nodes, &extra).len() <= NEW_NODES.max(nodes.len()) => {
                *nodes = union(nodes, &extra);
                members.push(question);
            }
            _ => groups.push((extra, vec![question])),
        }
    }
    groups.into_iter().map(|(_, members)| members).collect()
}

fn parents(question: &Question) -> Vec<usize> {
    match question {
        Question::Leaf { leaf, .. } => leaf.parents.iter().map(|p| p.0).collect(),
        Question::Pulls { down, up, .. } => down.parents.iter().chain(&up.parents).map(|p| p.0).collect(),
    }
}

/// Leaves that are false together in one lane.
fn lanes_of(question: &Question) -> Vec<Vec<&Leaf>> {
    match question {
        Question::Leaf { leaf, .. } => vec![vec![leaf]],
        Question::Pulls { down, up, .. } => vec![vec![down], vec![up], vec![down, up]],
    }
}

/// The questions at work.
struct Ask<'a> {
    network: &'a Network,
    questions: &'a [Question],
    causes: &'a [usize],
    result: &'a mut Vec<Option<Outcomes>>,
}

impl Ask<'_> {
    fn parents(&self, group: &[usize]) -> Vec<usize> {
        group.iter().flat_map(|&question| parents(&self.questions[question])).collect()
    }

    /// Answers the questions of a group, whose parents are all in the tree.
    fn answer(&mut self, tree: &Tree, group: &[usize]) {
        let now = self.slice(tree, &run::<1>(tree, &even_weights(tree)), 0);
        let questions = self.questions;
        let lanes: Vec<(usize, Vec<&Leaf>)> = group
            .iter()
            .flat_map(|&question| lanes_of(&questions[question]).into_iter().map(move |leaves| (question, leaves)))
            .collect();
        let mut slices: Vec<(usize, Slice)> = Vec::with_capacity(lanes.len());
        for batch in lanes.chunks(LANES) {
            let (weights, scale) = batch_weights(tree, batch);
            let joint = run::<LANES>(tree, &weights);
            for (lane, (question, _)) in batch.iter().enumerate() {
                let mut slice = self.slice(tree, &joint, lane);
                slice.scale(scale[lane]);
                slices.push((*question, slice));
            }
        }
        for of_question in slices.chunk_by(|a, b| a.0 == b.0) {
            let question = of_question[0].0;
            let parts: Vec<&Slice> = of_question.iter().map(|(_, slice)| slice).collect();
            self.result[question] = Some(combine(&self.questions[question], &now, &parts));
        }
    }

    fn slice<const L: usize>(&self, tree: &Tree, joint: &Joint<L>, lane: usize) -> Slice {
        let total = joint.total[lane];
        let free = joint.unconditioned(tree, lane);
        let with = self
            .causes
            .iter()
            .map(|&cause| match tree.variable_of[cause] {
                Some(variable) => joint.of[variable][1][lane],
                None => self.network.nodes()[cause].leak * free,
            })
            .collect();
        Slice { total, with }
    }
}

fn batch_weights(tree: &Tree, batch: &[(usize, Vec<&Leaf>)]) -> (Weights<LANES>, [f64; LANES]) {
    let mut weights = even_weights::<LANES>(tree);
    let mut scale = [1.0; LANES];
    for (lane, (_, leaves)) in batch.iter().enumerate() {
        for leaf in leaves {
            scale[lane] *= 1.0 - leaf.leak;
            for &(parent, strength) in &leaf.parents {
                if let Some(variable) = tree.variable_of[parent] {
                    weights[variable][1][lane] *= 1.0 - strength;
                }
            }
        }
    }
    (weights, scale)
}

/// Joint of the evidence and one hypothesis: in total, and with each cause present.
#[derive(Debug, Clone)]
struct Slice {
    total: f64,
    with: Vec<f64>,
}

impl Slice {
    fn scale(&mut self, by: f64) {
        self.total *= by;
        self.with.iter_mut().for_each(|value| *value *= by);
    }

    /// The joint as a weighted sum of slices, normalised to an outcome.
    fn outcome(now: &Self, parts: &[(f64, &Self)]) -> Outcome {
        let sum = |of: &dyn Fn(&Self) -> f64| -> f64 { parts.iter().map(|(weight, part)| weight * of(part)).sum() };
        let total = sum(&|part| part.total).max(0.0);
        let present = (0..now.with.len())
            .map(|cause| if total == 0.0 { 0.0 } else { (sum(&|part| part.with[cause]) / total).clamp(0.0, 1.0) })
            .collect();
        Outcome { probability: (total / now.total).clamp(0.0, 1.0), present }
    }
}

fn combine(question: &Question, now: &Slice, parts: &[&Slice]) -> Outcomes {
    let outcomes = match (question, parts) {
        (Question::Leaf { answers, .. }, [is_false]) => answers
            .iter()
            .map(|&(if_true, if_false)| Slice::outcome(now, &[(if_true, now), (if_false - if_true, is_false)]))
            .collect(),
        (Question::Pulls { answers, .. }, [no_down, no_up, neither]) => answers
            .iter()
            .map(|&[in_band, down, up, both]| {
                // [neither] = N; only down = U̅ − N; only up = D̅ − N; both = 1 − D̅ − U̅ + N.
                let weights =
                    [(both, now), (up - both, *no_down), (down - both, *no_up), (in_band - down - up + both, *neither)];
                Slice::outcome(now, &weights)
            })
            .collect(),
        _ => Vec::new(),
    };
    Outcomes { outcomes }
}
