//! Turns factors into the order in which variables are summed out: the cheapest of a few greedy orders, the same on
//! every machine.

use super::factors::Factor;
use super::tree::{BeliefError, WIDTH_LIMIT};

/// A way to rank the next variable to sum out, from its missing edges and its neighbours; lowest first.
type Greed = fn(usize, usize) -> (usize, usize);

/// The ways tried.
const GREEDS: [Greed; 3] = [
    |missing, neighbours| (missing, neighbours),
    |missing, neighbours| (missing * 2 + neighbours, neighbours),
    |missing, neighbours| (missing * 64 / (neighbours + 1), neighbours),
];
/// Table entries up to which the first order is good enough.
const CHEAP: usize = 20_000;

/// An order of elimination with the table entries it costs.
#[derive(Debug, Clone)]
pub(super) struct Order {
    /// Variables, first to be summed out first.
    pub variables: Vec<usize>,
    /// Table entries.
    pub cells: usize,
}

/// The cheapest of a few greedy orders over the variables that are not `clamped`; ties by index. The clamped ones count as
/// neighbours: a bucket with fewer of them below it has fewer cases to tell apart.
pub(super) fn cheapest_order(variables: usize, factors: &[Factor], clamped: &[bool]) -> Result<Order, BeliefError> {
    let graph = Adjacency::new(variables, factors);
    let first = graph.clone().greedy_order(GREEDS[0], clamped);
    if first.as_ref().is_ok_and(|order| order.cells <= CHEAP) {
        return first;
    }
    let others = GREEDS[1..].iter().map(|greed| graph.clone().greedy_order(*greed, clamped));
    let best = others.filter_map(Result::ok).chain(first.clone().ok()).min_by_key(|order| order.cells);
    best.map_or(first, Ok)
}

/// Which variables stand in a factor together, as rows of bits.
#[derive(Debug, Clone)]
struct Adjacency {
    words: usize,
    bits: Vec<u64>,
}

impl Adjacency {
    fn new(variables: usize, factors: &[Factor]) -> Self {
        let words = variables.div_ceil(64);
        let mut bits = vec![0; words * variables];
        for factor in factors {
            for &a in &factor.scope {
                for &b in factor.scope.iter().filter(|&&b| b != a) {
                    bits[a * words + b / 64] |= 1 << (b % 64);
                }
            }
        }
        Self { words, bits }
    }

    fn row(&self, variable: usize) -> &[u64] {
        &self.bits[variable * self.words..(variable + 1) * self.words]
    }

    fn greedy_order(mut self, greed: Greed, clamped: &[bool]) -> Result<Order, BeliefError> {
        let rank = |graph: &Self, v: usize| {
            let (missing, neighbours) = graph.fill(v);
            greed(missing, neighbours)
        };
        let mut open: Vec<(usize, (usize, usize))> =
            (0..clamped.len()).filter(|&v| !clamped[v]).map(|v| (v, rank(&self, v))).collect();
        let mut place: Vec<usize> = vec![usize::MAX; clamped.len()];
        open.iter().enumerate().for_each(|(at, (v, _))| place[*v] = at);
        let mut order = Order { variables: Vec::with_capacity(open.len()), cells: 0 };
        let mut neighbours = Vec::new();
        let mut touched = vec![0; self.words];
        while let Some(at) = (0..open.len()).min_by_key(|&at| (open[at].1, open[at].0)) {
            let (variable, _) = open.swap_remove(at);
            if let Some((moved, _)) = open.get(at) {
                place[*moved] = at;
            }
            place[variable] = usize::MAX;
            members(self.row(variable), &mut neighbours);
            let summed = neighbours.iter().filter(|&&n| !clamped[n]).count();
            if WIDTH_LIMIT <= summed {
                return Err(BeliefError::TooTangled { width: summed + 1, ties: Vec::new() });
            }
            order.cells += 2_usize << summed;
            order.variables.push(variable);
            let added = self.eliminate(variable, &neighbours);
            self.touched(&neighbours, added, &mut touched);
            members(&touched, &mut neighbours);
            for &v in neighbours.iter().filter(|&&v| !clamped[v]) {
                open[place[v]].1 = rank(&self, v);
            }
        }
        Ok(order)
    }

    /// The neighbours, and if edges were added also what has two of them for neighbours: those whose rank may have
    /// changed.
    fn touched(&self, neighbours: &[usize], edges_added: bool, touched: &mut [u64]) {
        touched.fill(0);
        if edges_added {
            let mut once = vec![0; self.words];
            for &n in neighbours {
                for ((twice, once), row) in touched.iter_mut().zip(&mut once).zip(self.row(n)) {
                    *twice |= *once & row;
                    *once |= row;
                }
            }
        }
        for &n in neighbours {
            touched[n / 64] |= 1 << (n % 64);
        }
    }

    /// Joins the neighbours with each other; true if an edge was added.
    fn eliminate(&mut self, variable: usize, neighbours: &[usize]) -> bool {
        let clique = self.row(variable).to_vec();
        let mut added = false;
        for &n in neighbours {
            let row = &mut self.bits[n * self.words..(n + 1) * self.words];
            let own = row[n / 64] | 1 << (n % 64);
            row[n / 64] = own;
            for (a, c) in row.iter_mut().zip(&clique) {
                added |= *c & !*a != 0;
                *a |= c;
            }
            row[n / 64] &= !(1 << (n % 64));
            row[variable / 64] &= !(1 << (variable % 64));
        }
        added
    }

    /// Edges that summing out `variable` would add, and the number of its neighbours.
    fn fill(&self, variable: usize) -> (usize, usize) {
        let clique = self.row(variable);
        let count = |word: u64| word.count_ones() as usize;
        let neighbours: usize = clique.iter().map(|&word| count(word)).sum();
        if neighbours < 2 {
            return (0, neighbours);
        }
        let mut known = 0;
        for (word, &value) in clique.iter().enumerate() {
            let mut rest = value;
            while rest != 0 {
                let n = word * 64 + rest.trailing_zeros() as usize;
                known += clique.iter().zip(self.row(n)).map(|(c, a)| count(c & a)).sum::<usize>();
                rest &= rest - 1;
            }
        }
        ((neighbours * (neighbours - 1) - known) / 2, neighbours)
    }
}

/// Positions of the bits that are set.
fn members(bits: &[u64], found: &mut Vec<usize>) {
    found.clear();
    for (word, &value) in bits.iter().enumerate() {
        let mut rest = value;
        while rest != 0 {
            found.push(word * 64 + rest.trailing_zeros() as usize);
            rest &= rest - 1;
        }
    }
}
