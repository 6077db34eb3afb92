//! Turns factors into a bucket tree: conditioned where it would be too wide, ordered, its tables filled.

use super::factors::{Factor, Factors, live_nodes};
use super::network::{Likelihood, Network};
use super::order::{Order, cheapest_order};
use thiserror::Error;

/// Largest clique, in binary variables, that is computed in one piece.
pub(super) const WIDTH_LIMIT: usize = 17;
/// Table entries of one belief, at most, whatever it is asked for: some tens of megabytes and tenths of a second.
const MOST_CELLS: usize = 4_000_000;
/// Nodes the belief is conditioned on at most, where the graph is wider than that.
const CONDITIONED: usize = 3;

/// Why there is no belief.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum BeliefError {
    /// The answers hang together too tightly to be computed exactly.
    #[error(
        "the answers so far hang together too tightly ({width} at once, at most {limit} and {CONDITIONED} by cases)",
        limit = WIDTH_LIMIT
    )]
    TooTangled {
        /// Binary variables in the largest clique.
        width: usize,
        /// Nodes whose state, once known, would untie most.
        ties: Vec<usize>,
    },
    /// The answers contradict each other: nothing in the graph allows all of them.
    #[error("nothing in the graph allows all of these answers together")]
    Impossible,
    /// The numbers lost too many digits.
    #[error("numerical error bound {0:e} is too large to trust the numbers")]
    Imprecise(f64),
}

/// A factor that hangs on clamped variables: its entry depends on their states, which differ from case to case.
#[derive(Debug)]
pub(super) struct Part {
    /// Entries of the factor.
    pub values: Vec<f64>,
    /// For each cell of the bucket's table, the entry with all clamped variables absent.
    pub index: Vec<u32>,
    /// Per clamped variable in the factor: its place among the clamped ones, and what its presence adds to the index.
    pub clamped: Vec<(u32, u32)>,
}

/// One variable with all factors that are met when it is summed out.
#[derive(Debug)]
pub(super) struct Bucket {
    /// Variable summed out here; bit 0 of the table index.
    pub variable: usize,
    /// Product of the factors of this bucket without clamped variables.
    pub table: Vec<f64>,
    /// Factors of this bucket with clamped variables.
    pub parts: Vec<Part>,
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
    /// Variables of the live causes.
    pub causes: Vec<usize>,
    /// Probability that no cause outside the tree is present.
    pub others_absent: f64,
    /// Variables that are not summed out in the tree, but gone through case by case.
    pub clamped: Vec<usize>,
    /// Factors over clamped variables only.
    pub loose: Vec<Part>,
    /// Product of the factors over no variable.
    pub constant: f64,
}

/// What would be compiled: the factors, the variables to clamp, the order.
struct Draft {
    factors: Factors,
    clamped: Vec<usize>,
    order: Order,
}

impl Tree {
    /// Compiles the ancestors of the likelihoods and of `asked`; everything else is barren. The nodes `held` are
    /// clamped; where the rest is still too wide, so are up to three of its most connected nodes.
    pub fn compile(
        network: &Network,
        likelihoods: &[Likelihood],
        asked: &[usize],
        held: &[usize],
    ) -> Result<Self, BeliefError> {
        draft(network, likelihoods, asked, held, CONDITIONED).map(Self::filled)
    }

    /// The same in one piece if its tables stay within `cells` entries, else `None`; no table is filled in vain.
    pub fn compile_within(
        network: &Network,
        likelihoods: &[Likelihood],
        asked: &[usize],
        held: &[usize],
        cells: usize,
    ) -> Option<Self> {
        let draft = draft(network, likelihoods, asked, held, 0).ok()?;
        (draft.order.cells <= cells).then(|| Self::filled(draft))
    }

    /// Table entries that the belief would take, without filling any, and its variables. Every node gone through by
    /// cases doubles the entries.
    pub fn cost(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Result<(usize, usize), BeliefError> {
        let draft = draft(network, likelihoods, asked, &[], CONDITIONED)?;
        Ok((draft.order.cells << draft.clamped.len(), draft.factors.variables()))
    }

    /// True for every node that the likelihoods make live.
    pub fn live(network: &Network, likelihoods: &[Likelihood]) -> Vec<bool> {
        live_nodes(network, likelihoods, &[])
    }

    fn filled(Draft { factors, clamped, order }: Draft) -> Self {
        let Factors { tables, single, constant, variable_of, causes, others_absent } = factors;
        let mut filler = Filler::new(single.len(), &order.variables, &clamped);
        let loose = filler.place(tables, &single);
        let buckets = filler.buckets(&order.variables, &single);
        let variables = single.len();
        Self { buckets, variable_of, variables, causes, others_absent, clamped, loose, constant }
    }
}

fn draft(
    network: &Network,
    likelihoods: &[Likelihood],
    asked: &[usize],
    held: &[usize],
    most: usize,
) -> Result<Draft, BeliefError> {
    let factors = Factors::new(network, likelihoods, asked);
    let mut clamped: Vec<usize> = held.iter().filter_map(|&node| factors.variable_of[node]).collect();
    let mut is_clamped = vec![false; factors.variables()];
    for &variable in &clamped {
        is_clamped[variable] = true;
    }
    let mut tried = cheapest_order(factors.variables(), &factors.tables, &is_clamped);
    for _ in 0..most {
        if tried.is_ok() {
            break;
        }
        let Some((variable, _)) = most_connected(&factors, &is_clamped).first().copied() else { break };
        is_clamped[variable] = true;
        clamped.push(variable);
        tried = cheapest_order(factors.variables(), &factors.tables, &is_clamped);
    }
    let by_cases = clamped.len().saturating_sub(held.len());
    let tried = tried.and_then(|order| within_bound(order, by_cases));
    match tried {
        Ok(order) => Ok(Draft { factors, clamped, order }),
        Err(BeliefError::TooTangled { width, .. }) => {
            is_clamped.fill(false);
            let ties = most_connected(&factors, &is_clamped);
            let node = |variable: usize| factors.variable_of.iter().position(|v| *v == Some(variable));
            Err(BeliefError::TooTangled {
                width,
                ties: ties.into_iter().filter_map(|(v, _)| node(v)).take(5).collect(),
            })
        }
        Err(error) => Err(error),
    }
}

/// The order, unless its tables together would be too large though none of them is too wide.
fn within_bound(order: Order, by_cases: usize) -> Result<Order, BeliefError> {
    if order.cells << by_cases <= MOST_CELLS {
        return Ok(order);
    }
    Err(BeliefError::TooTangled { width: WIDTH_LIMIT, ties: Vec::new() })
}

/// Nodes by the number of factors they stand in, most first; lone causes and auxiliary variables are not among them.
fn most_connected(factors: &Factors, is_clamped: &[bool]) -> Vec<(usize, usize)> {
    let mut count = vec![0; factors.variables()];
    for &variable in factors.tables.iter().flat_map(|factor| &factor.scope) {
        count[variable] += 1;
    }
    let nodes = factors.variable_of.iter().flatten();
    let mut ranked: Vec<(usize, usize)> =
        nodes.filter(|&&v| !is_clamped[v] && 1 < count[v]).map(|&v| (v, count[v])).collect();
    ranked.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    ranked
}

/// Puts each factor in the bucket of its first-eliminated variable and links the buckets by their messages.
struct Filler {
    /// Place of each variable in the order; none for clamped ones.
    position: Vec<Option<usize>>,
    clamped: Vec<usize>,
    placed: Vec<Vec<Factor>>,
}

impl Filler {
    fn new(variables: usize, order: &[usize], clamped: &[usize]) -> Self {
        let mut position = vec![None; variables];
        for (place, &variable) in order.iter().enumerate() {
            position[variable] = Some(place);
        }
        Self { position, clamped: clamped.to_vec(), placed: vec![Vec::new(); order.len()] }
    }

    /// Hands out the factors; those over clamped variables alone come back.
    fn place(&mut self, tables: Vec<Factor>, single: &[[f64; 2]]) -> Vec<Part> {
        let mut loose: Vec<Part> = Vec::new();
        for factor in tables {
            match factor.scope.iter().filter_map(|&v| self.position[v]).min() {
                Some(place) => self.placed[place].push(factor),
                None => loose.push(self.part(factor, &[])),
            }
        }
        for &variable in &self.clamped {
            loose.push(self.part(Factor { scope: vec![variable], values: single[variable].to_vec() }, &[]));
        }
        loose
    }

    fn part(&self, factor: Factor, scope: &[usize]) -> Part {
        let place = |v: &usize| self.clamped.iter().position(|c| c == v);
        let clamped = factor
            .scope
            .iter()
            .enumerate()
            .filter_map(|(bit, v)| place(v).map(|at| (u32::try_from(at).unwrap_or(u32::MAX), 1 << bit)))
            .collect();
        Part { index: message_index(scope, &factor.scope), values: factor.values, clamped }
    }

    fn buckets(&mut self, order: &[usize], single: &[[f64; 2]]) -> Vec<Bucket> {
        let mut arriving: Vec<Vec<(usize, Vec<usize>)>> = vec![Vec::new(); order.len()];
        let mut result = Vec::with_capacity(order.len());
        for (place, &variable) in order.iter().enumerate() {
            let factors = std::mem::take(&mut self.placed[place]);
            let scope = self.scope_of(place, variable, &factors, &arriving[place]);
            let (fixed, clamped): (Vec<Factor>, Vec<Factor>) =
                factors.into_iter().partition(|factor| factor.scope.iter().all(|&v| self.position[v].is_some()));
            let table = product(&scope, &fixed, single[variable]);
            let parts = clamped.into_iter().map(|factor| self.part(factor, &scope)).collect();
            let children =
                arriving[place].iter().map(|(child, message)| (*child, message_index(&scope, message))).collect();
            if let Some(next) = scope.get(1).and_then(|&next| self.position[next]) {
                arriving[next].push((place, scope[1..].to_vec()));
            }
            result.push(Bucket { variable, table, parts, children, is_root: scope.len() == 1 });
        }
        result
    }

    /// Variables of a bucket: its own first, the others in order of elimination.
    fn scope_of(
        &self,
        place: usize,
        variable: usize,
        factors: &[Factor],
        arriving: &[(usize, Vec<usize>)],
    ) -> Vec<usize> {
        let all = factors.iter().flat_map(|f| &f.scope).chain(arriving.iter().flat_map(|(_, message)| message));
        let mut by_place: Vec<(usize, usize)> =
            all.filter_map(|&v| self.position[v].map(|at| (at, v))).filter(|&(at, _)| at != place).collect();
        by_place.sort_unstable();
        by_place.dedup();
        std::iter::once(variable).chain(by_place.into_iter().map(|(_, v)| v)).collect()
    }
}

fn product(scope: &[usize], factors: &[Factor], single: [f64; 2]) -> Vec<f64> {
    let mut table: Vec<f64> = (0..1_usize << scope.len()).map(|index| single[index & 1]).collect();
    for factor in factors {
        let index = message_index(scope, &factor.scope);
        for (value, &at) in table.iter_mut().zip(&index) {
            *value *= factor.values[at as usize];
        }
    }
    table
}

/// For each index of a table over `scope`, the index of the same states in a table over `part`; variables of `part` that
/// are not in `scope` count as absent.
fn message_index(scope: &[usize], part: &[usize]) -> Vec<u32> {
    let mut index = Vec::with_capacity(1 << scope.len());
    index.push(0);
    for variable in scope {
        let adds = part.iter().position(|v| v == variable).map_or(0, |bit| 1_u32 << bit);
        for at in 0..index.len() {
            index.push(index[at] | adds);
        }
    }
    index
}
