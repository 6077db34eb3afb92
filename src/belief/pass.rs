//! Turns a bucket tree, the cases of its clamped variables and a weight per variable into joint marginals summed over the
//! cases, for several hypotheses (lanes) at once.
//!
//! Messages go up, then down; the messages of a bucket's other children are multiplied by prefix and suffix products,
//! never divided out, so that zeros and the negative entries of the auxiliary variables do no harm.

use super::cases::{Cases, Keys};
use super::tree::{Bucket, Part, Tree};

/// What is supposed: a weight of each variable being absent and present, per lane.
pub(super) type Weights<const L: usize> = Vec<[[f64; L]; 2]>;

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

/// Weights of one everywhere.
pub(super) fn even<const L: usize>(tree: &Tree) -> Weights<L> {
    vec![[[1.0; L]; 2]; tree.variables]
}

/// Probability of the evidence in each lane: the way up alone.
pub(super) fn totals<const L: usize>(tree: &Tree, cases: &Cases, weights: &Weights<L>) -> Entry<L> {
    let up = upward(tree, cases, weights);
    Top::new(tree, cases, &up).over_cases(weights, |_, _| {})
}

/// Probability of the evidence in each case.
pub(super) fn case_totals(tree: &Tree, cases: &Cases, weights: &Weights<1>) -> Vec<f64> {
    let up = upward(tree, cases, weights);
    let top = Top::new(tree, cases, &up);
    let mut found = Vec::with_capacity(cases.weighed.len());
    top.over_cases(weights, |case, others| found.push(top.whole(case, others)[0]));
    found
}

/// What a belief needs, in one way up: lane 0 as it is, lane 1 with no cause.
#[derive(Debug)]
pub(super) struct Belief {
    /// Lane 0, up and down.
    pub joint: Joint<1>,
    /// Probability of the evidence with no cause.
    pub no_cause: f64,
    /// Probability of the evidence in each case.
    pub by_case: Vec<f64>,
}

/// Runs the tree up in both lanes and down in the first.
pub(super) fn belief(tree: &Tree, cases: &Cases, weights: &Weights<2>) -> Belief {
    let up = upward(tree, cases, weights);
    let mut by_case = Vec::with_capacity(cases.weighed.len());
    let top = Top::new(tree, cases, &up);
    let total = top.over_cases(weights, |case, others| by_case.push(top.whole(case, others)[0]));
    let first_up: Vec<Entry<1>> = up.iter().map(|entry| [entry[0]]).collect();
    let first: Weights<1> = weights.iter().map(|[absent, present]| [[absent[0]], [present[0]]]).collect();
    Belief { joint: downward(tree, cases, &first, &first_up), no_cause: total[1], by_case }
}

/// Runs the tree up and down.
pub(super) fn run<const L: usize>(tree: &Tree, cases: &Cases, weights: &Weights<L>) -> Joint<L> {
    downward(tree, cases, weights, &upward(tree, cases, weights))
}

/// The way down.
fn downward<const L: usize>(tree: &Tree, cases: &Cases, weights: &Weights<L>, up: &[Entry<L>]) -> Joint<L> {
    let mut down = vec![[0.0; L]; cases.messages];
    let mut present = vec![[0.0; L]; tree.variables];
    let top = Top::new(tree, cases, up);
    let total = top.over_cases(weights, |case, others| {
        for (&root, without) in top.telling.iter().zip(others) {
            let at = cases.keys[root].first + cases.keys[root].of_case[case] as usize;
            down[at] = plus(down[at], *without);
        }
        let whole = top.whole(case, others);
        for (place, &variable) in tree.clamped.iter().enumerate() {
            if cases.weighed[case].0 >> place & 1 == 1 {
                present[variable] = plus(present[variable], whole);
            }
        }
    });
    top.down_the_plain_roots(weights, &mut down);
    let mut spread = Spread { tree, cases, weights, up, down, table: Vec::new(), suffixes: Vec::new() };
    let mut difference = [0.0; L];
    for place in (0..tree.buckets.len()).rev() {
        let [without, with] = spread.bucket(place);
        let sum = plus(without, with);
        for lane in 0..L {
            difference[lane] = f64::max(difference[lane], (sum[lane] - total[lane]).abs());
        }
        present[tree.buckets[place].variable] = with;
    }
    Joint { total, present, difference }
}

/// The roots of the tree: plain ones, that know no clamped variable, and telling ones, that differ from case to case.
struct Top<'a, const L: usize> {
    tree: &'a Tree,
    cases: &'a Cases,
    up: &'a [Entry<L>],
    plain: Vec<usize>,
    telling: Vec<usize>,
    /// Product of the plain roots.
    common: Entry<L>,
}

impl<'a, const L: usize> Top<'a, L> {
    fn new(tree: &'a Tree, cases: &'a Cases, up: &'a [Entry<L>]) -> Self {
        let roots = (0..tree.buckets.len()).filter(|&b| tree.buckets[b].is_root);
        let (plain, telling): (Vec<usize>, Vec<usize>) = roots.partition(|&root| cases.keys[root].states.len() == 1);
        let common = plain.iter().fold([tree.constant; L], |product, &root| times(product, up[cases.keys[root].first]));
        Self { tree, cases, up, plain, telling, common }
    }

    /// The total over all cases. `each` gets, per case, the product of everything but each telling root in turn; with no
    /// telling root, the whole once.
    fn over_cases(&self, weights: &Weights<L>, each: impl FnMut(usize, &[Entry<L>])) -> Entry<L> {
        self.sum(self.common, weights, each)
    }

    fn sum(&self, common: Entry<L>, weights: &Weights<L>, mut each: impl FnMut(usize, &[Entry<L>])) -> Entry<L> {
        let mut total = [0.0; L];
        let mut others = vec![[0.0; L]; self.telling.len().max(1)];
        for (case, &(states, weight)) in self.cases.weighed.iter().enumerate() {
            let mut product = times(times(common, [weight; L]), self.clamped(states, weights));
            others[0] = product;
            for (other, &root) in others.iter_mut().zip(&self.telling) {
                *other = product;
                product = times(product, self.message(root, case));
            }
            total = plus(total, product);
            let mut rest = [1.0; L];
            for (other, &root) in others.iter_mut().zip(&self.telling).rev() {
                *other = times(*other, rest);
                rest = times(rest, self.message(root, case));
            }
            each(case, &others);
        }
        total
    }

    /// All of a case, from what `over_cases` hands out.
    fn whole(&self, case: usize, others: &[Entry<L>]) -> Entry<L> {
        self.telling.first().map_or(others[0], |&root| times(others[0], self.message(root, case)))
    }

    fn message(&self, root: usize, case: usize) -> Entry<L> {
        let keys = &self.cases.keys[root];
        self.up[keys.first + keys.of_case[case] as usize]
    }

    /// What the clamped variables weigh by themselves.
    fn clamped(&self, states: u64, weights: &Weights<L>) -> Entry<L> {
        let alone: f64 = self.tree.loose.iter().map(|part| part.values[offset(part, states)]).product();
        let mut product = [alone; L];
        for (place, &variable) in self.tree.clamped.iter().enumerate() {
            product = times(product, weights[variable][usize::from(states >> place & 1 == 1)]);
        }
        product
    }

    /// Hands each plain root the product of everything else.
    fn down_the_plain_roots(&self, weights: &Weights<L>, down: &mut [Entry<L>]) {
        let mut product = self.sum([self.tree.constant; L], weights, |_, _| {});
        for &root in &self.plain {
            let at = self.cases.keys[root].first;
            down[at] = product;
            product = times(product, self.up[at]);
        }
        let mut rest = [1.0; L];
        for &root in self.plain.iter().rev() {
            let at = self.cases.keys[root].first;
            down[at] = times(down[at], rest);
            rest = times(rest, self.up[at]);
        }
    }
}

/// What the states of the clamped variables add to the index of a factor.
fn offset(part: &Part, states: u64) -> usize {
    let present = part.clamped.iter().filter(|(place, _)| states >> place & 1 == 1);
    present.map(|(_, adds)| *adds as usize).sum()
}

/// All messages up, each where the keys of its bucket say.
fn upward<const L: usize>(tree: &Tree, cases: &Cases, weights: &Weights<L>) -> Vec<Entry<L>> {
    let mut up: Vec<Entry<L>> = Vec::with_capacity(cases.messages);
    let mut table = Vec::new();
    for (bucket, keys) in tree.buckets.iter().zip(&cases.keys) {
        for (key, &states) in keys.states.iter().enumerate() {
            own(bucket, states, weights, &mut table);
            for (number, (child, index)) in bucket.children.iter().enumerate() {
                multiply(&mut table, &up[start(&cases.keys[*child], keys, number, key)..], index);
            }
            up.extend(table.chunks_exact(2).map(|pair| plus(pair[0], pair[1])));
        }
    }
    up
}

/// Where the message of a child stands for a key of its bucket.
fn start(child: &Keys, keys: &Keys, number: usize, key: usize) -> usize {
    child.first + keys.of_child[number][key] as usize * child.entries
}

/// The bucket's own factors with the weights of its variable.
fn own<const L: usize>(bucket: &Bucket, states: u64, weights: &Weights<L>, table: &mut Vec<Entry<L>>) {
    let [absent, present] = weights[bucket.variable];
    table.clear();
    for pair in bucket.table.chunks_exact(2) {
        table.push(times(absent, [pair[0]; L]));
        table.push(times(present, [pair[1]; L]));
    }
    for part in &bucket.parts {
        let offset = offset(part, states);
        for (value, &at) in table.iter_mut().zip(&part.index) {
            *value = times(*value, [part.values[at as usize | offset]; L]);
        }
    }
}

/// The way down.
struct Spread<'a, const L: usize> {
    tree: &'a Tree,
    cases: &'a Cases,
    weights: &'a Weights<L>,
    up: &'a [Entry<L>],
    down: Vec<Entry<L>>,
    table: Vec<Entry<L>>,
    suffixes: Vec<Entry<L>>,
}

impl<const L: usize> Spread<'_, L> {
    /// Hands messages down to the children of a bucket and returns the joint of its variable: absent, present.
    fn bucket(&mut self, place: usize) -> [Entry<L>; 2] {
        let mut joint = [[0.0; L]; 2];
        for key in 0..self.cases.keys[place].states.len() {
            self.key(place, key);
            for pair in self.table.chunks_exact(2) {
                joint[0] = plus(joint[0], pair[0]);
                joint[1] = plus(joint[1], pair[1]);
            }
        }
        joint
    }

    /// The same for one key; the joint stands in `table`.
    fn key(&mut self, place: usize, key: usize) {
        let (bucket, keys) = (&self.tree.buckets[place], &self.cases.keys[place]);
        own(bucket, keys.states[key], self.weights, &mut self.table);
        let above = &self.down[keys.first + key * keys.entries..];
        for (pair, above) in self.table.chunks_exact_mut(2).zip(above) {
            pair[0] = times(pair[0], *above);
            pair[1] = times(pair[1], *above);
        }
        self.products_after(bucket, keys, key);
        let cells = bucket.table.len();
        for (number, (child, index)) in bucket.children.iter().enumerate() {
            let message = start(&self.cases.keys[*child], keys, number, key);
            if number + 1 < bucket.children.len() {
                let after = &self.suffixes[number * cells..(number + 1) * cells];
                for ((value, after), &to) in self.table.iter().zip(after).zip(index) {
                    let to = &mut self.down[message + to as usize];
                    *to = plus(*to, times(*value, *after));
                }
            } else {
                for (value, &to) in self.table.iter().zip(index) {
                    let to = &mut self.down[message + to as usize];
                    *to = plus(*to, *value);
                }
            }
            multiply(&mut self.table, &self.up[message..], index);
        }
    }

    /// For each child but the last, the product of the messages of the children after it.
    fn products_after(&mut self, bucket: &Bucket, keys: &Keys, key: usize) {
        let cells = bucket.table.len();
        let children = bucket.children.len();
        self.suffixes.clear();
        if children < 2 {
            return;
        }
        self.suffixes.resize((children - 1) * cells, [1.0; L]);
        for number in (0..children - 1).rev() {
            let (child, index) = &bucket.children[number + 1];
            let message = &self.up[start(&self.cases.keys[*child], keys, number + 1, key)..];
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
