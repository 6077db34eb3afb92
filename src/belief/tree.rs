//! Turns a network and likelihoods into a bucket tree: prune, write the factors, order by least fill, fill the tables.

use super::network::{Leaf, Likelihood, Network, Node};
use super::order::cheapest_order;
use thiserror::Error;

/// Largest clique, in binary variables, that is computed in one piece.
pub(super) const WIDTH_LIMIT: usize = 22;
/// A noisy-OR with at most this many parents is written as a plain table.
const PLAIN_PARENTS: usize = 2;

/// Why there is no belief.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum BeliefError {
    /// The answers hang together too tightly to be computed exactly.
    #[error("the answers so far hang together too tightly ({width} at once, at most {limit})", limit = WIDTH_LIMIT)]
    TooTangled {
        /// Binary variables in the largest clique.
        width: usize,
    },
    /// The answers contradict each other: nothing in the graph allows all of them.
    #[error("nothing in the graph allows all of these answers together")]
    Impossible,
    /// The numbers lost too many digits.
    #[error("numerical error bound {0:e} is too large to trust the numbers")]
    Imprecise(f64),
}

/// A table over a few variables; bit `k` of the index is the state of `scope[k]`.
#[derive(Debug, Clone)]
pub(super) struct Factor {
    pub scope: Vec<usize>,
    pub values: Vec<f64>,
}

/// One variable with all factors that are met when it is summed out.
#[derive(Debug)]
pub(super) struct Bucket {
    /// Variable summed out here; bit 0 of the table index.
    pub variable: usize,
    /// Product of the factors of this bucket.
    pub table: Vec<f64>,
    /// Buckets whose messages arrive here, with the message index for each table index.
    pub children: Vec<(usize, Vec<u32>)>,
    /// True if no message leaves.
    pub is_root: bool,
}

/// The compiled belief: buckets in order of elimination.
#[derive(Debug)]
pub(super) struct Tree {
    /// Buckets; a child always stands before its parent.
    pub buckets: Vec<Bucket>,
    /// Variable of each network node, if it is live.
    pub variable_of: Vec<Option<usize>>,
    /// Number of variables, auxiliary ones included.
    pub variables: usize,
    /// The auxiliary variable of "at least one cause".
    pub any_cause: Option<usize>,
}

impl Tree {
    /// Compiles the ancestors of the likelihoods and of `asked`; everything else is barren.
    pub fn compile(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Result<Self, BeliefError> {
        let (writer, any_cause) = write(network, likelihoods, asked);
        let (_, order) = cheapest_order(writer.variables, &writer.factors, any_cause)?;
        Ok(Self::filled(writer, any_cause, &order))
    }

    /// The same if its tables stay within `cells` entries, else `None`; no table is filled in vain.
    pub fn compile_within(
        network: &Network,
        likelihoods: &[Likelihood],
        asked: &[usize],
        cells: usize,
    ) -> Result<Option<Self>, BeliefError> {
        let (writer, any_cause) = write(network, likelihoods, asked);
        match cheapest_order(writer.variables, &writer.factors, any_cause) {
            Ok((cost, order)) if cost <= cells => Ok(Some(Self::filled(writer, any_cause, &order))),
            Ok(_) | Err(BeliefError::TooTangled { .. }) => Ok(None),
            Err(error) => Err(error),
        }
    }

    fn filled(writer: Writer, any_cause: Option<usize>, order: &[usize]) -> Self {
        let Writer { variable_of, variables, factors } = writer;
        Self { buckets: buckets(order, factors), variable_of, variables, any_cause }
    }

    /// Table entries the tree would have, without filling any.
    pub fn cost(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Result<usize, BeliefError> {
        let (writer, any_cause) = write(network, likelihoods, asked);
        cheapest_order(writer.variables, &writer.factors, any_cause).map(|(cells, _)| cells)
    }
}

/// All factors of the ancestors of the likelihoods and of `asked`.
fn write(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> (Writer, Option<usize>) {
    let live = live_nodes(network, likelihoods, asked);
    let mut writer = Writer::new(&live);
    for (index, node) in network.nodes().iter().enumerate() {
        if let Some(variable) = writer.variable_of[index] {
            writer.node(variable, node);
        }
    }
    for likelihood in likelihoods {
        writer.likelihood(likelihood);
    }
    for group in network.excludes() {
        writer.exclude(group);
    }
    let any_cause = network.at_least_one().then(|| writer.any_cause(network, &live));
    (writer, any_cause)
}

fn live_nodes(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Vec<bool> {
    let mut live = vec![false; network.nodes().len()];
    let seeds = likelihoods.iter().flat_map(Likelihood::parents).chain(asked.iter().copied());
    for node in seeds.chain(network.excludes().iter().flatten().copied()) {
        live[node] = true;
    }
    for index in (0..live.len()).rev() {
        if live[index] {
            for &(parent, _) in &network.nodes()[index].parents {
                live[parent] = true;
            }
        }
    }
    live
}

/// Collects factors and hands out variables.
struct Writer {
    variable_of: Vec<Option<usize>>,
    variables: usize,
    factors: Vec<Factor>,
}

impl Writer {
    fn new(live: &[bool]) -> Self {
        let mut variables = 0;
        let variable_of = live
            .iter()
            .map(|&is_live| {
                is_live.then(|| {
                    variables += 1;
                    variables - 1
                })
            })
            .collect();
        Self { variable_of, variables, factors: Vec::new() }
    }

    fn auxiliary(&mut self) -> usize {
        self.variables += 1;
        self.variables - 1
    }

    fn push(&mut self, scope: Vec<usize>, values: Vec<f64>) {
        self.factors.push(Factor { scope, values });
    }

    fn node(&mut self, variable: usize, node: &Node) {
        let keep = 1.0 - node.leak;
        let parents = self.parents(&node.parents);
        if parents.len() <= PLAIN_PARENTS {
            let scope = std::iter::once(variable).chain(parents.iter().map(|p| p.0)).collect();
            let values = (0..2_usize << parents.len())
                .map(|index| {
                    let absent = keep * missed(&parents, index >> 1);
                    if index & 1 == 0 { absent } else { 1.0 - absent }
                })
                .collect();
            self.push(scope, values);
        } else {
            // P(absent) = keep·Π(1−w), P(present) = 1 − keep·Π(1−w), both as a sum over the auxiliary's two states.
            let auxiliary = self.auxiliary();
            self.push(vec![variable, auxiliary], vec![0.0, 1.0, keep, -keep]);
            self.inhibitors(auxiliary, &parents);
        }
    }

    fn likelihood(&mut self, likelihood: &Likelihood) {
        match likelihood {
            Likelihood::Leaf { leaf, if_true, if_false } => self.leaf(leaf, *if_true, *if_false),
            Likelihood::Pulls { down, up, density } => self.pulls(down, up, *density),
        }
    }

    /// The density is linear in P(not down), P(not up) and their product; each is a product over parents, switched on
    /// by an auxiliary variable.
    fn pulls(&mut self, down: &Leaf, up: &Leaf, [in_band, is_down, is_up, both]: [f64; 4]) {
        let (no_down, no_up) = (self.auxiliary(), self.auxiliary());
        let (keep_down, keep_up) = (1.0 - down.leak, 1.0 - up.leak);
        let weights = vec![
            both,
            (is_up - both) * keep_down,
            (is_down - both) * keep_up,
            (in_band - is_down - is_up + both) * keep_down * keep_up,
        ];
        self.push(vec![no_down, no_up], weights);
        for (switch, leaf) in [(no_down, down), (no_up, up)] {
            let parents = self.parents(&leaf.parents);
            self.inhibitors(switch, &parents);
        }
    }

    fn leaf(&mut self, leaf: &Leaf, if_true: f64, if_false: f64) {
        let parents = self.parents(&leaf.parents);
        let keep = 1.0 - leaf.leak;
        if if_true == 0.0 {
            self.push(Vec::new(), vec![if_false * keep]);
            for (parent, strength) in parents {
                self.push(vec![parent], vec![1.0, 1.0 - strength]);
            }
        } else if parents.len() <= PLAIN_PARENTS + 1 {
            let values = (0..1_usize << parents.len())
                .map(|index| if_true + (if_false - if_true) * keep * missed(&parents, index))
                .collect();
            self.push(parents.iter().map(|p| p.0).collect(), values);
        } else {
            let auxiliary = self.auxiliary();
            self.push(vec![auxiliary], vec![if_true, (if_false - if_true) * keep]);
            self.inhibitors(auxiliary, &parents);
        }
    }

    fn inhibitors(&mut self, auxiliary: usize, parents: &[(usize, f64)]) {
        for &(parent, strength) in parents {
            self.push(vec![auxiliary, parent], vec![1.0, 1.0, 1.0, 1.0 - strength]);
        }
    }

    fn exclude(&mut self, group: &[usize]) {
        let members: Vec<usize> = group.iter().filter_map(|&node| self.variable_of[node]).collect();
        for (position, &first) in members.iter().enumerate() {
            for &second in &members[position + 1..] {
                self.push(vec![first, second], vec![1.0, 1.0, 1.0, 0.0]);
            }
        }
    }

    /// 1 − [no cause], as a sum over an auxiliary variable; causes that are not live stand in its weight.
    fn any_cause(&mut self, network: &Network, live: &[bool]) -> usize {
        let auxiliary = self.auxiliary();
        let mut others_absent = 1.0;
        for (index, node) in network.nodes().iter().enumerate().filter(|(index, _)| network.is_cause(*index)) {
            match self.variable_of[index] {
                Some(variable) if live[index] => self.push(vec![auxiliary, variable], vec![1.0, 1.0, 1.0, 0.0]),
                _ => others_absent *= 1.0 - node.leak,
            }
        }
        self.push(vec![auxiliary], vec![1.0, -others_absent]);
        auxiliary
    }

    fn parents(&self, parents: &[(usize, f64)]) -> Vec<(usize, f64)> {
        parents.iter().filter_map(|&(node, strength)| self.variable_of[node].map(|v| (v, strength))).collect()
    }
}

/// Probability that none of the parents present in `states` acts.
fn missed(parents: &[(usize, f64)], states: usize) -> f64 {
    parents
        .iter()
        .enumerate()
        .filter(|(bit, _)| states >> bit & 1 == 1)
        .map(|(_, (_, strength))| 1.0 - strength)
        .product()
}

/// Puts each factor in the bucket of its first-eliminated variable and links the buckets by their messages.
fn buckets(order: &[usize], factors: Vec<Factor>) -> Vec<Bucket> {
    let mut position = vec![0; order.len()];
    for (place, &variable) in order.iter().enumerate() {
        position[variable] = place;
    }
    let mut placed: Vec<Vec<Factor>> = vec![Vec::new(); order.len()];
    let mut constant = 1.0;
    for factor in factors {
        match factor.scope.iter().map(|&v| position[v]).min() {
            Some(place) => placed[place].push(factor),
            None => constant *= factor.values[0],
        }
    }
    let mut arriving: Vec<Vec<(usize, Vec<usize>)>> = vec![Vec::new(); order.len()];
    let mut result = Vec::with_capacity(order.len());
    for (place, &variable) in order.iter().enumerate() {
        let scope = scope_of(place, variable, &placed[place], &arriving[place], &position);
        let mut table = product(&scope, &placed[place]);
        if place + 1 == order.len() {
            for value in &mut table {
                *value *= constant;
            }
        }
        let children =
            arriving[place].iter().map(|(child, message)| (*child, message_index(&scope, message))).collect();
        let message: Vec<usize> = scope[1..].to_vec();
        if let Some(&next) = message.first() {
            arriving[position[next]].push((place, message));
        }
        result.push(Bucket { variable, table, children, is_root: scope.len() == 1 });
    }
    result
}

/// Variables of a bucket: its own first, the others in order of elimination.
fn scope_of(
    place: usize,
    variable: usize,
    factors: &[Factor],
    arriving: &[(usize, Vec<usize>)],
    position: &[usize],
) -> Vec<usize> {
    let mut by_place: Vec<(usize, usize)> = factors
        .iter()
        .flat_map(|f| &f.scope)
        .chain(arriving.iter().flat_map(|(_, message)| message))
        .map(|&v| (position[v], v))
        .collect();
    by_place.sort_unstable();
    by_place.dedup();
    std::iter::once(variable).chain(by_place.into_iter().filter(|&(p, _)| p != place).map(|(_, v)| v)).collect()
}

fn product(scope: &[usize], factors: &[Factor]) -> Vec<f64> {
    let mut table = vec![1.0; 1 << scope.len()];
    for factor in factors {
        let index = message_index(scope, &factor.scope);
        for (value, &at) in table.iter_mut().zip(&index) {
            *value *= factor.values[at as usize];
        }
    }
    table
}

/// For each index of a table over `scope`, the index of the same states in a table over `part`.
fn message_index(scope: &[usize], part: &[usize]) -> Vec<u32> {
    let bits: Vec<usize> = part.iter().filter_map(|v| scope.iter().position(|s| s == v)).collect();
    (0..1_usize << scope.len())
        .map(|index| bits.iter().enumerate().map(|(bit, &from)| u32::from(index >> from & 1 == 1) << bit).sum())
        .collect()
}
