//! Turns factors into the order in which variables are summed out: the cheapest of a few greedy orders, the same on every
//! machine.

use super::tree::{BeliefError, Factor, WIDTH_LIMIT};

/// Sets of variables as bits.
type Bits = Vec<u64>;

/// A way to rank the next variable to sum out, from its missing edges and its neighbours; lowest first.
type Greed = fn(usize, usize) -> (usize, usize);

/// The ways tried.
const GREEDS: [Greed; 3] = [
    |missing, neighbours| (missing, neighbours),
    |missing, neighbours| (missing * 2 + neighbours, neighbours),
    |missing, neighbours| (missing * 64 / (neighbours + 1), neighbours),
];

/// The cheapest of a few greedy orders of elimination, with the table entries it costs; the same on every machine.
pub(super) fn cheapest_order(
    variables: usize,
    factors: &[Factor],
    last: Option<usize>,
) -> Result<(usize, Vec<usize>), BeliefError> {
    let adjacent = adjacency(variables, factors, last);
    let tried: Vec<Result<(usize, Vec<usize>), BeliefError>> =
        GREEDS.iter().map(|greed| greedy_order(adjacent.clone(), last, *greed)).collect();
    match tried.iter().flatten().min_by_key(|(cells, _)| *cells) {
        Some(best) => Ok(best.clone()),
        None => tried.into_iter().next().unwrap_or(Ok((0, Vec::new()))),
    }
}

/// Order of elimination by a greedy rule, ties by index, with the table entries it costs. `last` touches nearly
/// everything; it is left out of the counting and summed out at the end.
fn greedy_order(
    mut adjacent: Vec<Bits>,
    last: Option<usize>,
    greed: Greed,
) -> Result<(usize, Vec<usize>), BeliefError> {
    let rank = |adjacent: &[Bits], v: usize| {
        let (missing, neighbours) = fill(adjacent, v);
        greed(missing, neighbours)
    };
    let mut score: Vec<Option<(usize, usize)>> =
        (0..adjacent.len()).map(|v| (Some(v) != last).then(|| rank(&adjacent, v))).collect();
    let limit = WIDTH_LIMIT - usize::from(last.is_some());
    let mut order = Vec::with_capacity(adjacent.len());
    let mut cells = 0;
    while let Some((_, variable)) = score.iter().enumerate().filter_map(|(v, s)| s.map(|s| (s, v))).min() {
        let neighbours = members(&adjacent[variable]);
        if limit <= neighbours.len() {
            return Err(BeliefError::TooTangled { width: neighbours.len() + 1 + WIDTH_LIMIT - limit });
        }
        cells += 2_usize << neighbours.len();
        eliminate(&mut adjacent, variable, &neighbours);
        score[variable] = None;
        order.push(variable);
        for v in touched(&adjacent, &neighbours) {
            score[v] = Some(rank(&adjacent, v));
        }
    }
    order.extend(last);
    Ok((cells, order))
}

fn adjacency(variables: usize, factors: &[Factor], last: Option<usize>) -> Vec<Bits> {
    let mut adjacent: Vec<Bits> = vec![vec![0; variables.div_ceil(64)]; variables];
    for factor in factors {
        let scope: Vec<usize> = factor.scope.iter().copied().filter(|&v| Some(v) != last).collect();
        for &a in &scope {
            for &b in scope.iter().filter(|&&b| b != a) {
                adjacent[a][b / 64] |= 1 << (b % 64);
            }
        }
    }
    adjacent
}

/// The neighbours and their neighbours: those whose fill may have changed.
fn touched(adjacent: &[Bits], neighbours: &[usize]) -> Vec<usize> {
    let mut touched: Bits = vec![0; adjacent.len().div_ceil(64)];
    for &n in neighbours {
        touched[n / 64] |= 1 << (n % 64);
        for (t, a) in touched.iter_mut().zip(&adjacent[n]) {
            *t |= a;
        }
    }
    members(&touched)
}

fn eliminate(adjacent: &mut [Bits], variable: usize, neighbours: &[usize]) {
    let clique = adjacent[variable].clone();
    for &n in neighbours {
        for (a, c) in adjacent[n].iter_mut().zip(&clique) {
            *a |= c;
        }
        adjacent[n][n / 64] &= !(1 << (n % 64));
        adjacent[n][variable / 64] &= !(1 << (variable % 64));
    }
}

/// Edges that summing out `variable` would add, and the number of its neighbours.
fn fill(adjacent: &[Bits], variable: usize) -> (usize, usize) {
    let clique = &adjacent[variable];
    let neighbours = members(clique);
    let missing: usize = neighbours
        .iter()
        .map(|&n| {
            let known: u32 = clique.iter().zip(&adjacent[n]).map(|(c, a)| (c & a).count_ones()).sum();
            neighbours.len() - 1 - known as usize
        })
        .sum();
    (missing / 2, neighbours.len())
}

fn members(bits: &Bits) -> Vec<usize> {
    let mut found = Vec::new();
    for (word, &value) in bits.iter().enumerate() {
        let mut rest = value;
        while rest != 0 {
            found.push(word * 64 + rest.trailing_zeros() as usize);
            rest &= rest - 1;
        }
    }
    found
}
