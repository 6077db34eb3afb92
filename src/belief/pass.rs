//! Turns a bucket tree and a weight per variable into joint marginals, for several hypotheses (lanes) at once.
//!
//! Messages go up, then down; the messages of a bucket's other children are multiplied by prefix and suffix products,
//! never divided out, so that zeros and the negative entries of the auxiliary variables do no harm.

use super::tree::{Bucket, Tree};

/// Extra weight of each variable being present, per lane (absent = weight 1 unless given).
pub(super) type Weights<const L: usize> = Vec<[[f64; L]; 2]>;

/// What comes out of a pass: joint probabilities with the evidence, not normalised.
#[derive(Debug)]
pub(super) struct Joint<const L: usize> {
    /// Probability of the evidence, per lane.
    pub total: [f64; L],
    /// Probability of the evidence with each variable absent and present, per lane.
    pub of: Vec<[[f64; L]; 2]>,
    /// Largest relative difference between the two ways of computing the total.
    pub error: f64,
}

impl<const L: usize> Joint<L> {
    /// Probability of the evidence before conditioning on at least one cause: a cause that is not live is independent
    /// of the evidence, and once it is present the condition holds.
    pub fn unconditioned(&self, tree: &Tree, lane: usize) -> f64 {
        tree.any_cause.map_or(self.total[lane], |any| self.of[any][0][lane])
    }
}

type Table<const L: usize> = Vec<[f64; L]>;

/// Weights of one for every variable and lane.
pub(super) fn even_weights<const L: usize>(tree: &Tree) -> Weights<L> {
    vec![[[1.0; L]; 2]; tree.variables]
}

/// Runs the tree up and down.
pub(super) fn run<const L: usize>(tree: &Tree, weights: &Weights<L>) -> Joint<L> {
    let up = upward(tree, weights);
    let roots: Vec<usize> = (0..tree.buckets.len()).filter(|&b| tree.buckets[b].is_root).collect();
    let total = roots.iter().fold([1.0; L], |total, &root| times(total, up[root][0]));
    let mut down: Vec<Table<L>> = vec![Vec::new(); tree.buckets.len()];
    for (&root, rest) in roots.iter().zip(products_of_others(&roots.iter().map(|&r| up[r][0]).collect::<Vec<_>>())) {
        down[root] = vec![rest];
    }
    let mut of = vec![[[0.0; L]; 2]; tree.variables];
    for (place, bucket) in tree.buckets.iter().enumerate().rev() {
        let from_above = std::mem::take(&mut down[place]);
        of[bucket.variable] = spread(bucket, &up, &from_above, weights, &mut down);
    }
    let error = disagreement(&total, &of);
    Joint { total, of, error }
}

fn upward<const L: usize>(tree: &Tree, weights: &Weights<L>) -> Vec<Table<L>> {
    let mut up: Vec<Table<L>> = Vec::with_capacity(tree.buckets.len());
    for bucket in &tree.buckets {
        let mut table = own(bucket, weights);
        for (child, index) in &bucket.children {
            multiply(&mut table, &up[*child], index);
        }
        up.push(table.chunks_exact(2).map(|pair| plus(pair[0], pair[1])).collect());
    }
    up
}

/// The bucket's own factors with the weights of its variable.
fn own<const L: usize>(bucket: &Bucket, weights: &Weights<L>) -> Table<L> {
    let [absent, present] = weights[bucket.variable];
    bucket
        .table
        .iter()
        .enumerate()
        .map(|(index, &value)| {
            let weight = if index & 1 == 0 { absent } else { present };
            weight.map(|w| w * value)
        })
        .collect()
}

/// Hands messages down to the children and returns the joint of the bucket's own variable.
fn spread<const L: usize>(
    bucket: &Bucket,
    up: &[Table<L>],
    from_above: &Table<L>,
    weights: &Weights<L>,
    down: &mut [Table<L>],
) -> [[f64; L]; 2] {
    let mut prefix = own(bucket, weights);
    for (index, value) in prefix.iter_mut().enumerate() {
        *value = times(*value, from_above[index >> 1]);
    }
    let suffixes = suffix_products(bucket, up);
    for (number, (child, index)) in bucket.children.iter().enumerate() {
        let mut message = vec![[0.0; L]; up[*child].len()];
        for (at, &to) in index.iter().enumerate() {
            let value = suffixes.get(number).map_or(prefix[at], |suffix| times(prefix[at], suffix[at]));
            message[to as usize] = plus(message[to as usize], value);
        }
        down[*child] = message;
        multiply(&mut prefix, &up[*child], index);
    }
    let mut joint = [[0.0; L]; 2];
    for (index, value) in prefix.iter().enumerate() {
        joint[index & 1] = plus(joint[index & 1], *value);
    }
    joint
}

/// For each child but the last, the product of the messages of the children after it.
fn suffix_products<const L: usize>(bucket: &Bucket, up: &[Table<L>]) -> Vec<Table<L>> {
    let mut suffixes = Vec::new();
    let mut running = vec![[1.0; L]; bucket.table.len()];
    for (child, index) in bucket.children.iter().skip(1).rev() {
        multiply(&mut running, &up[*child], index);
        suffixes.push(running.clone());
    }
    suffixes.reverse();
    suffixes
}

fn multiply<const L: usize>(table: &mut Table<L>, message: &Table<L>, index: &[u32]) {
    for (value, &at) in table.iter_mut().zip(index) {
        *value = times(*value, message[at as usize]);
    }
}

fn products_of_others<const L: usize>(values: &[[f64; L]]) -> Vec<[f64; L]> {
    let mut result = vec![[1.0; L]; values.len()];
    let mut running = [1.0; L];
    for (at, value) in values.iter().enumerate() {
        result[at] = running;
        running = times(running, *value);
    }
    running = [1.0; L];
    for (at, value) in values.iter().enumerate().rev() {
        result[at] = times(result[at], running);
        running = times(running, *value);
    }
    result
}

fn disagreement<const L: usize>(total: &[f64; L], of: &[[[f64; L]; 2]]) -> f64 {
    let mut worst = 0.0_f64;
    for [absent, present] in of {
        for lane in 0..L {
            if total[lane] != 0.0 {
                worst = worst.max(((absent[lane] + present[lane] - total[lane]) / total[lane]).abs());
            }
        }
    }
    worst
}

fn times<const L: usize>(a: [f64; L], b: [f64; L]) -> [f64; L] {
    std::array::from_fn(|lane| a[lane] * b[lane])
}

fn plus<const L: usize>(a: [f64; L], b: [f64; L]) -> [f64; L] {
    std::array::from_fn(|lane| a[lane] + b[lane])
}
