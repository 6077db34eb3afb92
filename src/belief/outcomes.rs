//! Turns open questions into what each answer would mean: its probability and the posterior of every cause after it.
//!
//! The joint of an answer is a sum of few lanes: the belief as it is, and the belief with some nodes supposed absent or
//! weighed down. A yes/no leaf costs one lane, a number three, a table over p parents 2^p − 1; lanes that several
//! questions need are computed once. Questions that bring the same new ancestors share one tree.

use super::network::{Leaf, Likelihood, Network};
use super::posterior::{ancestors, union};
use super::solver::{Hypothesis, Solved, Solver, Thinned, Want, thinned};
use super::tree::{BeliefError, Tree};
use indexmap::IndexMap;

/// What compiling a tree costs, per square of its variables, in table entries times lanes. Measured.
const COMPILING: usize = 1;
/// New nodes that questions sharing one tree may bring.
const NEW_NODES: usize = 5;
/// A probability that moves by less is as it was; a thousand such would be less than 1e-10 bit.
const UNCHANGED: f64 = 1e-15;

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
    /// Anything that hangs on a few nodes.
    Table {
        /// The nodes, each once.
        parents: Vec<usize>,
        /// Per answer its probability in each combination of their states; bit `k` of the index is the state of
        /// `parents[k]`.
        answers: Vec<Vec<f64>>,
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
    /// Share of the belief that was left out: lighter sets of a joint factor. Zero without one.
    pub left_out: f64,
}

impl Question {
    /// Nodes whose state an answer speaks about.
    pub fn parents(&self) -> Vec<usize> {
        match self {
            Self::Leaf { leaf, .. } => leaf.parents.iter().map(|p| p.0).collect(),
            Self::Pulls { down, up, .. } => down.parents.iter().chain(&up.parents).map(|p| p.0).collect(),
            Self::Table { parents, .. } => parents.clone(),
        }
    }

    /// The likelihood of each answer, as evidence once it is given.
    pub fn likelihoods(&self) -> Vec<Likelihood> {
        match self {
            Self::Leaf { leaf, answers } => answers
                .iter()
                .map(|&(if_true, if_false)| Likelihood::Leaf { leaf: leaf.clone(), if_true, if_false })
                .collect(),
            Self::Pulls { down, up, answers } => answers
                .iter()
                .map(|&density| Likelihood::Pulls { down: down.clone(), up: up.clone(), density })
                .collect(),
            Self::Table { parents, answers } => answers
                .iter()
                .map(|values| Likelihood::Table { parents: parents.clone(), values: values.clone() })
                .collect(),
        }
    }
}

/// For each question, each answer's probability and the posterior of `causes` after it. Exact but for rounding.
/// A question whose tree would be too wide is answered with `None`.
pub fn outcomes(
    network: &Network,
    likelihoods: &[Likelihood],
    questions: &[Question],
    causes: &[usize],
) -> Result<Vec<Option<Outcomes>>, BeliefError> {
    let Thinned { likelihoods, left_out, .. } = thinned(network, likelihoods)?;
    let likelihoods = likelihoods.as_slice();
    let mut result: Vec<Option<Outcomes>> = vec![None; questions.len()];
    let mut ask = Ask { network, questions, causes, result: &mut result };
    let all: Vec<usize> = (0..questions.len()).collect();
    let groups = groups(network, &Tree::live(network, likelihoods), questions);
    let groups = if one_is_cheaper(&ask, likelihoods, &all, groups.len()) { vec![all] } else { groups };
    for group in groups {
        match Solver::new(network, likelihoods, &ask.parents(&group)) {
            Ok(solver) => ask.answer(&solver, &group, left_out),
            Err(BeliefError::TooTangled { .. }) => {}
            Err(error) => return Err(error),
        }
    }
    Ok(result)
}

/// True if one tree for all questions takes less work than one for each group: its tables are larger, but it is compiled
/// once.
fn one_is_cheaper(ask: &Ask, likelihoods: &[Likelihood], all: &[usize], groups: usize) -> bool {
    let cost = |asked: &[usize]| Tree::cost(ask.network, likelihoods, asked).ok();
    let (Some((base, variables)), Some((together, _))) = (cost(&[]), cost(&ask.parents(all))) else { return false };
    let lanes = all.len();
    together * lanes <= base * lanes * 5 / 4 + groups.saturating_sub(1) * COMPILING * variables * variables
}

/// Questions by the new nodes they bring, merged while few.
fn groups(network: &Network, known: &[bool], questions: &[Question]) -> Vec<Vec<usize>> {
    let mut keyed: Vec<(Vec<usize>, usize)> =
        questions.iter().enumerate().map(|(q, question)| (ancestors(network, known, &question.parents()), q)).collect();
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

/// The questions at work.
struct Ask<'a> {
    network: &'a Network,
    questions: &'a [Question],
    causes: &'a [usize],
    result: &'a mut Vec<Option<Outcomes>>,
}

impl Ask<'_> {
    fn parents(&self, group: &[usize]) -> Vec<usize> {
        group.iter().flat_map(|&question| self.questions[question].parents()).collect()
    }

    /// Answers the questions of a group, whose parents are all in the tree.
    fn answer(&mut self, solver: &Solver, group: &[usize], left_out: f64) {
        let mut lanes = Lanes::new(&solver.tree);
        let sums: Vec<Vec<Sum>> = group.iter().map(|&question| lanes.answers(&self.questions[question])).collect();
        let slices: Vec<Slice> = solver
            .solve(&lanes.into_hypotheses(), Want::Causes)
            .into_iter()
            .map(|joint| self.slice(&solver.tree, &joint))
            .collect();
        for (&question, answers) in group.iter().zip(sums) {
            let outcomes = answers.iter().map(|sum| outcome(sum, &slices)).collect();
            self.result[question] = Some(Outcomes { outcomes, left_out });
        }
    }

    fn slice(&self, tree: &Tree, joint: &Solved) -> Slice {
        let with = self
            .causes
            .iter()
            .map(|&cause| match tree.variable_of[cause] {
                Some(variable) => joint.present[variable],
                None => self.network.nodes()[cause].leak * joint.free,
            })
            .collect();
        Slice { total: joint.total, with }
    }
}

/// The joint of one answer: lanes with their coefficient.
type Sum = Vec<(usize, f64)>;

/// The lanes that a group of questions needs, each once; lane 0 supposes nothing.
struct Lanes<'a> {
    tree: &'a Tree,
    /// Weight of each variable being present, and of its being absent, as bits.
    known: IndexMap<Vec<(usize, u64, u64)>, ()>,
}

impl<'a> Lanes<'a> {
    fn new(tree: &'a Tree) -> Self {
        Self { tree, known: IndexMap::from([(Vec::new(), ())]) }
    }

    fn into_hypotheses(self) -> Vec<Hypothesis> {
        let float = |&(variable, absent, present): &(usize, u64, u64)| {
            (variable, f64::from_bits(absent), f64::from_bits(present))
        };
        self.known.keys().map(|lane| lane.iter().map(float).collect()).collect()
    }

    /// The lane with these nodes weighed when absent, when present.
    fn lane(&mut self, weights: impl Iterator<Item = (usize, f64, f64)>) -> usize {
        let variable_of = &self.tree.variable_of;
        let mut lane: Vec<(usize, u64, u64)> = weights
            .filter_map(|(node, absent, present)| Some((variable_of[node]?, absent.to_bits(), present.to_bits())))
            .collect();
        lane.sort_unstable();
        self.known.insert_full(lane, ()).0
    }

    fn absent(&mut self, node: usize) -> usize {
        self.lane(std::iter::once((node, 1.0, 0.0)))
    }

    /// The joint with all the leaves false.
    fn all_false(&mut self, leaves: &[&Leaf]) -> Sum {
        let keep: f64 = leaves.iter().map(|leaf| 1.0 - leaf.leak).product();
        let parents: Vec<(usize, f64)> = leaves.iter().flat_map(|leaf| leaf.parents.iter().copied()).collect();
        match *parents {
            [] => vec![(0, keep)],
            // With one parent: (1 − w) of the whole and w of "parent absent", a lane that other questions share.
            [(parent, strength)] => vec![(0, keep * (1.0 - strength)), (self.absent(parent), keep * strength)],
            _ => vec![(self.lane(parents.iter().map(|&(parent, strength)| (parent, 1.0, 1.0 - strength))), keep)],
        }
    }

    /// The joint of each answer.
    fn answers(&mut self, question: &Question) -> Vec<Sum> {
        match question {
            Question::Leaf { leaf, answers } => {
                let is_false = self.all_false(&[leaf]);
                let answer = |&(if_true, if_false): &(f64, f64)| {
                    sum(&[(if_true, &vec![(0, 1.0)]), (if_false - if_true, &is_false)])
                };
                answers.iter().map(answer).collect()
            }
            Question::Pulls { down, up, answers } => {
                let (no_down, no_up) = (self.all_false(&[down]), self.all_false(&[up]));
                let neither = self.all_false(&[down, up]);
                // Only down = U̅ − N, only up = D̅ − N, both = 1 − D̅ − U̅ + N.
                let answer = |&[in_band, is_down, is_up, both]: &[f64; 4]| {
                    sum(&[
                        (both, &vec![(0, 1.0)]),
                        (is_up - both, &no_down),
                        (is_down - both, &no_up),
                        (in_band - is_down - is_up + both, &neither),
                    ])
                };
                answers.iter().map(answer).collect()
            }
            Question::Table { parents, answers } => {
                let lanes: Vec<usize> = (0..1_usize << parents.len())
                    .map(|absent| {
                        let nodes = parents.iter().enumerate().filter(|(bit, _)| absent >> bit & 1 == 1);
                        self.lane(nodes.map(|(_, &node)| (node, 1.0, 0.0)))
                    })
                    .collect();
                answers.iter().map(|values| lanes.iter().copied().zip(in_absences(values)).collect()).collect()
            }
        }
    }
}

/// A function of states, written as a sum over sets of nodes that are all absent (Möbius inversion).
fn in_absences(values: &[f64]) -> Vec<f64> {
    let all = values.len() - 1;
    let mut of_absent: Vec<f64> = (0..values.len()).map(|absent| values[all & !absent]).collect();
    let mut bit = 1;
    while bit < values.len() {
        for absent in (0..values.len()).filter(|absent| absent & bit != 0) {
            of_absent[absent] -= of_absent[absent & !bit];
        }
        bit <<= 1;
    }
    of_absent
}

fn sum(terms: &[(f64, &Sum)]) -> Sum {
    terms.iter().flat_map(|(factor, sum)| sum.iter().map(move |(lane, weight)| (*lane, factor * weight))).collect()
}

/// Joint of the evidence and one lane: in total, and with each cause present.
struct Slice {
    total: f64,
    with: Vec<f64>,
}

/// The joint of an answer, normalised to an outcome.
fn outcome(sum: &Sum, slices: &[Slice]) -> Outcome {
    let total = sum.iter().map(|&(lane, weight)| weight * slices[lane].total).sum::<f64>().max(0.0);
    let mut present = vec![0.0; slices[0].with.len()];
    if total == 0.0 {
        return Outcome { probability: 0.0, present };
    }
    for &(lane, weight) in sum {
        let scaled = weight / total;
        for (value, with) in present.iter_mut().zip(&slices[lane].with) {
            *value += scaled * with;
        }
    }
    for value in &mut present {
        *value = value.clamp(0.0, 1.0);
    }
    Outcome { probability: (total / slices[0].total).clamp(0.0, 1.0), present }
}

/// Expected drop of the summed entropy of all causes by asking, in bits; `now` is the posterior of the same causes.
pub fn bits(now: &[f64], outcomes: &Outcomes) -> f64 {
    let before: Vec<f64> = now.iter().map(|probability| entropy(*probability)).collect();
    let of_outcome = |outcome: &Outcome| -> f64 {
        let changed = (0..now.len()).filter(|&cause| UNCHANGED < (now[cause] - outcome.present[cause]).abs());
        outcome.probability * changed.map(|cause| before[cause] - entropy(outcome.present[cause])).sum::<f64>()
    };
    outcomes.outcomes.iter().map(of_outcome).sum()
}

/// Entropy of a yes/no variable, bits.
fn entropy(probability: f64) -> f64 {
    let term = |p: f64| if p <= 0.0 { 0.0 } else { -p * libm::log2(p) };
    term(probability) + term(1.0 - probability)
}
