//! Turns a bucket tree and a weight per variable into joint marginals, for several hypotheses (lanes) at once.
//!
//! Messages go up, then down; the messages of a bucket's other children are multiplied by prefix and suffix products,
//! never divided out, so that zeros and the negative entries of the auxiliary variables do no harm.

use super::tree::{Bucket, Part, Tree};

/// What one lane supposes: states of the clamped variables and weights of the others.
#[derive(Debug, Clone)]
pub(super) struct Lanes<const L: usize> {
    /// Extra weight of each variable being absent and present.
    weights: Vec<[[f64; L]; 2]>,
    /// States of the clamped variables, one bit each.
    states: [u64; L],
}

impl<const L: usize> Lanes<L> {
    /// Weights of one everywhere.
    pub fn even(tree: &Tree) -> Self {
        Self { weights: vec![[[1.0; L]; 2]; tree.variables], states: [0; L] }
    }

    /// Multiplies the weights of a variable in one lane.
    pub fn weigh(&mut self, lane: usize, variable: usize, absent: f64, present: f64) {
        self.weights[variable][0][lane] *= absent;
        self.weights[variable][1][lane] *= present;
    }

    /// Sets the states of the clamped variables in one lane.
    pub fn clamp(&mut self, lane: usize, states: u64) {
        self.states[lane] = states;
    }
}

/// What comes out of a pass: joint probabilities with the evidence, not normalised.
#[derive(Debug)]
pub(super) struct Joint<const L: usize> {
    /// Probability of the evidence, per lane.
    pub total: [f64; L],
    /// Probability of the evidence with each variable present, per lane.
    pub present: Vec<[f64; L]>,
    /// Largest difference between the ways of computing the total, per lane.
    pub difference: [f64; L],
}

type Entry<const L: usize> = [f64; L];

/// Probability of the evidence in each lane: the way up alone.
pub(super) fn totals<const L: usize>(tree: &Tree, lanes: &Lanes<L>) -> Entry<L> {
    let up = upward(tree, lanes);
    roots(tree).fold(loose(tree, lanes), |total, root| times(total, up[tree.buckets[root].message]))
}

/// Runs the tree up and down.
pub(super) fn run<const L: usize>(tree: &Tree, lanes: &Lanes<L>) -> Joint<L> {
    let up = upward(tree, lanes);
    let loose = loose(tree, lanes);
    let at_roots: Vec<usize> = roots(tree).map(|root| tree.buckets[root].message).collect();
    let mut down = vec![[0.0; L]; tree.messages];
    let mut total = loose;
    for &at in &at_roots {
        down[at] = total;
        total = times(total, up[at]);
    }
    let mut rest = [1.0; L];
    for &at in at_roots.iter().rev() {
        down[at] = times(down[at], rest);
        rest = times(rest, up[at]);
    }
    let mut spread = Spread { tree, lanes, up: &up, down, table: Vec::new(), suffixes: Vec::new() };
    let mut present = vec![[0.0; L]; tree.variables];
    let mut difference = [0.0; L];
    for place in (0..tree.buckets.len()).rev() {
        let [without, with] = spread.bucket(place);
        let sum = plus(without, with);
        for lane in 0..L {
            difference[lane] = f64::max(difference[lane], (sum[lane] - total[lane]).abs());
        }
        present[tree.buckets[place].variable] = with;
    }
    for (place, &variable) in tree.clamped.iter().enumerate() {
        present[variable] = std::array::from_fn(|lane| if on(lanes.states[lane], place) { total[lane] } else { 0.0 });
    }
    Joint { total, present, difference }
}

fn roots(tree: &Tree) -> impl Iterator<Item = usize> {
    (0..tree.buckets.len()).filter(|&b| tree.buckets[b].is_root)
}

fn on(states: u64, place: usize) -> bool {
    states >> place & 1 == 1
}

/// What the clamped variables weigh by themselves.
fn loose<const L: usize>(tree: &Tree, lanes: &Lanes<L>) -> Entry<L> {
    let mut product = [tree.constant; L];
    for part in &tree.loose {
        let offset = offsets(part, &lanes.states);
        product = std::array::from_fn(|lane| product[lane] * part.values[offset[lane]]);
    }
    for (place, &variable) in tree.clamped.iter().enumerate() {
        let [absent, present] = lanes.weights[variable];
        product = std::array::from_fn(|lane| {
            product[lane] * if on(lanes.states[lane], place) { present[lane] } else { absent[lane] }
        });
    }
    product
}

/// What the states of the clamped variables add to the index of a factor, per lane.
fn offsets<const L: usize>(part: &Part, states: &[u64; L]) -> [usize; L] {
    std::array::from_fn(|lane| {
        let present = part.clamped.iter().filter(|(place, _)| on(states[lane], *place as usize));
        present.map(|(_, adds)| *adds as usize).sum()
    })
}

/// All messages up, each where its bucket says.
fn upward<const L: usize>(tree: &Tree, lanes: &Lanes<L>) -> Vec<Entry<L>> {
    let mut up: Vec<Entry<L>> = Vec::with_capacity(tree.messages);
    let mut table = Vec::new();
    for bucket in &tree.buckets {
        own(bucket, lanes, &mut table);
        for (child, index) in &bucket.children {
            multiply(&mut table, &up[tree.buckets[*child].message..], index);
        }
        up.extend(table.chunks_exact(2).map(|pair| plus(pair[0], pair[1])));
    }
    up
}

/// The bucket's own factors with the weights of its variable.
fn own<const L: usize>(bucket: &Bucket, lanes: &Lanes<L>, table: &mut Vec<Entry<L>>) {
    let [absent, present] = lanes.weights[bucket.variable];
    table.clear();
    for pair in bucket.table.chunks_exact(2) {
        table.push(times(absent, [pair[0]; L]));
        table.push(times(present, [pair[1]; L]));
    }
    for part in &bucket.parts {
        let offset = offsets(part, &lanes.states);
        for (value, &at) in table.iter_mut().zip(&part.index) {
            for lane in 0..L {
                value[lane] *= part.values[at as usize | offset[lane]];
            }
        }
    }
}

/// The way down.
struct Spread<'a, const L: usize> {
    tree: &'a Tree,
    lanes: &'a Lanes<L>,
    up: &'a [Entry<L>],
    down: Vec<Entry<L>>,
    table: Vec<Entry<L>>,
    suffixes: Vec<Entry<L>>,
}

impl<const L: usize> Spread<'_, L> {
    /// Hands messages down to the children of a bucket and returns the joint of its variable: absent, present.
    fn bucket(&mut self, place: usize) -> [Entry<L>; 2] {
        let bucket = &self.tree.buckets[place];
        own(bucket, self.lanes, &mut self.table);
        for (pair, above) in self.table.chunks_exact_mut(2).zip(&self.down[bucket.message..]) {
            pair[0] = times(pair[0], *above);
            pair[1] = times(pair[1], *above);
        }
        self.products_after(bucket);
        let cells = bucket.table.len();
        for (number, (child, index)) in bucket.children.iter().enumerate() {
            let message = self.tree.buckets[*child].message;
            let after =
                self.suffixes.get(number * cells..(number + 1) * cells).filter(|_| number + 1 < bucket.children.len());
            match after {
                Some(after) => {
                    for ((value, after), &to) in self.table.iter().zip(after).zip(index) {
                        let to = &mut self.down[message + to as usize];
                        *to = plus(*to, times(*value, *after));
                    }
                }
                None => {
                    for (value, &to) in self.table.iter().zip(index) {
                        let to = &mut self.down[message + to as usize];
                        *to = plus(*to, *value);
                    }
                }
            }
            multiply(&mut self.table, &self.up[message..], index);
        }
        let mut joint = [[0.0; L]; 2];
        for pair in self.table.chunks_exact(2) {
            joint[0] = plus(joint[0], pair[0]);
            joint[1] = plus(joint[1], pair[1]);
        }
        joint
    }

    /// For each child but the last, the product of the messages of the children after it.
    fn products_after(&mut self, bucket: &Bucket) {
        let cells = bucket.table.len();
        let children = bucket.children.len();
        self.suffixes.clear();
        if children < 2 {
            return;
        }
        self.suffixes.resize((children - 1) * cells, [1.0; L]);
        for number in (0..children - 1).rev() {
            let (child, index) = &bucket.children[number + 1];
            let message = &self.up[self.tree.buckets[*child].message..];
            let (here, after) = self.suffixes[number * cells..].split_at_mut(cells);
            for (at, value) in here.iter_mut().enumerate() {
                let last = if number + 2 < children { after[at] } else { [1.0; L] };
                *value = times(last, message[index[at] as usize]);
            }
        }
    }
}

fn multiply<const L: usize>(table: &mut [Entry<L>], message: &[Entry<L>], index: &[u32]) {
    for (value, &at) in table.iter_mut().zip(index) {
        *value = times(*value, message[at as usize]);
    }
}

fn times<const L: usize>(mut a: Entry<L>, b: Entry<L>) -> Entry<L> {
    for lane in 0..L {
        a[lane] *= b[lane];
    }
    a
}

fn plus<const L: usize>(mut a: Entry<L>, b: Entry<L>) -> Entry<L> {
    for lane in 0..L {
        a[lane] += b[lane];
    }
    a
}
