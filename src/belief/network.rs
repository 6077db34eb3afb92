//! Turns checked numbers into a network: binary nodes in layers, noisy-OR links, leaves that can be observed.

use thiserror::Error;

/// A hidden node: a cause (no parents; `leak` is its prior) or a noisy-OR of its parents.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Probability of being present with no parent present.
    pub leak: f64,
    /// Parents (indices below this node's own) with the probability that the parent alone makes it present.
    pub parents: Vec<(usize, f64)>,
}

/// An observable: a noisy-OR of nodes that nothing else hangs on.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaf {
    /// Probability of being true with no parent present.
    pub leak: f64,
    /// Parents with the probability that the parent alone makes it true.
    pub parents: Vec<(usize, f64)>,
}

/// What was observed, as the likelihood of the observation in each state of what was looked at.
#[derive(Debug, Clone, PartialEq)]
pub enum Likelihood {
    /// A yes/no leaf.
    Leaf {
        /// The leaf looked at.
        leaf: Leaf,
        /// Probability of the answer given when the leaf is true.
        if_true: f64,
        /// Probability of the answer given when the leaf is false.
        if_false: f64,
    },
    /// A number that can be pulled below its band by one leaf and above it by another.
    Pulls {
        /// The number is pulled down.
        down: Leaf,
        /// The number is pulled up.
        up: Leaf,
        /// Density of the number: in the band, pulled down, pulled up, pulled both ways.
        density: [f64; 4],
    },
    /// Anything that hangs on a few nodes.
    Table {
        /// The nodes, each once.
        parents: Vec<usize>,
        /// Likelihood in each combination of their states; bit `k` of the index is the state of `parents[k]`.
        values: Vec<f64>,
    },
    /// Numbers that hang on many nodes at once; at most one of this kind.
    Sets(Sets),
}

/// A joint factor: the likelihood of all measured numbers for each set of nodes present, the others absent. Sets that are
/// not listed count as impossible; how much that leaves out is bounded in the posterior.
#[derive(Debug, Clone, PartialEq)]
pub struct Sets {
    /// The nodes, each once, at most 60.
    pub nodes: Vec<usize>,
    /// The sets, one bit per node of `nodes`, with their likelihood.
    pub sets: Vec<(u64, f64)>,
}

/// The hidden nodes, parents before children.
#[derive(Debug, Clone, PartialEq)]
pub struct Network {
    nodes: Vec<Node>,
    is_cause: Vec<bool>,
    excludes: Vec<Vec<usize>>,
    at_least_one: bool,
}

/// Why numbers do not make a network.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NetworkError {
    /// A probability is not a number between 0 and 1.
    #[error("node {node}: {value} is not a probability")]
    NotAProbability {
        /// Node index.
        node: usize,
        /// The number.
        value: f64,
    },
    /// A parent does not come before its child.
    #[error("node {node}: parent {parent} does not come before it")]
    NotInOrder {
        /// Node index.
        node: usize,
        /// Parent index.
        parent: usize,
    },
    /// An exclusion group names a node that does not exist.
    #[error("an exclusion group names node {0}, which does not exist")]
    UnknownNode(usize),
}

impl Network {
    /// Checks every number once. `excludes` are groups of which at most one member can be present;
    /// with `at_least_one` the belief is conditioned on at least one cause being present.
    pub fn new(nodes: Vec<Node>, excludes: Vec<Vec<usize>>, at_least_one: bool) -> Result<Self, NetworkError> {
        for (index, node) in nodes.iter().enumerate() {
            check(index, node.leak)?;
            for &(parent, strength) in &node.parents {
                check(index, strength)?;
                if index <= parent {
                    return Err(NetworkError::NotInOrder { node: index, parent });
                }
            }
        }
        for &member in excludes.iter().flatten() {
            if nodes.len() <= member {
                return Err(NetworkError::UnknownNode(member));
            }
        }
        let is_cause = nodes.iter().map(|node| node.parents.is_empty() && node.leak > 0.0).collect();
        Ok(Self { nodes, is_cause, excludes, at_least_one })
    }

    /// Says which nodes count as causes, where a node without parents is not one (a condition nothing leads to).
    #[must_use]
    pub fn with_causes(mut self, causes: &[usize]) -> Self {
        self.is_cause = (0..self.nodes.len()).map(|index| causes.contains(&index)).collect();
        self
    }

    /// The same network with other numbers in its nodes; causes, exclusions and condition stay.
    pub(super) fn with_nodes(&self, nodes: Vec<Node>) -> Result<Self, NetworkError> {
        let changed = Self::new(nodes, self.excludes.clone(), self.at_least_one)?;
        Ok(Self { is_cause: self.is_cause.clone(), ..changed })
    }

    /// All nodes, parents before children.
    pub fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// True for a node that counts in "at least one cause".
    pub fn is_cause(&self, node: usize) -> bool {
        self.is_cause.get(node).copied().unwrap_or(false)
    }

    /// Groups of which at most one member can be present.
    pub fn excludes(&self) -> &[Vec<usize>] {
        &self.excludes
    }

    /// True if the belief is conditioned on at least one cause.
    pub fn at_least_one(&self) -> bool {
        self.at_least_one
    }
}

fn check(node: usize, value: f64) -> Result<(), NetworkError> {
    if (0.0..=1.0).contains(&value) { Ok(()) } else { Err(NetworkError::NotAProbability { node, value }) }
}

impl Leaf {
    /// A direct look at one node.
    pub fn of(node: usize) -> Self {
        Self { leak: 0.0, parents: vec![(node, 1.0)] }
    }
}

impl Likelihood {
    /// Nodes whose state this observation speaks about.
    pub fn parents(&self) -> Vec<usize> {
        match self {
            Self::Leaf { leaf, .. } => leaf.parents.iter().map(|p| p.0).collect(),
            Self::Pulls { down, up, .. } => down.parents.iter().chain(&up.parents).map(|p| p.0).collect(),
            Self::Table { parents, .. } => parents.clone(),
            Self::Sets(sets) => sets.nodes.clone(),
        }
    }
}
