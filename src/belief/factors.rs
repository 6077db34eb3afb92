//! Turns a network and likelihoods into factors over binary variables: what is not an ancestor of anything observed or
//! asked is left out, and every noisy-OR with many parents is split by an auxiliary variable.

use super::network::{Leaf, Likelihood, Network, Node};

/// A noisy-OR with at most this many parents is written as a plain table.
const PLAIN_PARENTS: usize = 2;

/// A table over a few variables; bit `k` of the index is the state of `scope[k]`.
#[derive(Debug, Clone)]
pub(super) struct Factor {
    pub scope: Vec<usize>,
    pub values: Vec<f64>,
}

/// All factors of the live part of a network.
#[derive(Debug)]
pub(super) struct Factors {
    /// Factors over two variables and more.
    pub tables: Vec<Factor>,
    /// Product of the factors over each single variable: absent, present.
    pub single: Vec<[f64; 2]>,
    /// Product of the factors over none.
    pub constant: f64,
    /// Variable of each network node, if it is live.
    pub variable_of: Vec<Option<usize>>,
    /// Variables of the live causes.
    pub causes: Vec<usize>,
    /// Probability that no cause outside the live part is present.
    pub others_absent: f64,
}

impl Factors {
    /// All factors of the ancestors of the likelihoods and of `asked`; everything else is barren.
    pub fn new(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Self {
        let mut factors = Self::empty(network, &live_nodes(network, likelihoods, asked));
        for (index, node) in network.nodes().iter().enumerate() {
            if let Some(variable) = factors.variable_of[index] {
                factors.node(variable, node);
            }
        }
        for likelihood in likelihoods {
            factors.likelihood(likelihood);
        }
        for group in network.excludes() {
            factors.exclude(group);
        }
        factors
    }

    fn empty(network: &Network, live: &[bool]) -> Self {
        let mut variables = 0;
        let (mut causes, mut others_absent) = (Vec::new(), 1.0);
        let mut variable_of = Vec::with_capacity(live.len());
        for (index, &is_live) in live.iter().enumerate() {
            variable_of.push(is_live.then_some(variables));
            match (network.is_cause(index), is_live) {
                (true, true) => causes.push(variables),
                (true, false) => others_absent *= 1.0 - network.nodes()[index].leak,
                (false, _) => {}
            }
            variables += usize::from(is_live);
        }
        let single = vec![[1.0; 2]; variables];
        Self { tables: Vec::new(), single, constant: 1.0, variable_of, causes, others_absent }
    }

    /// Number of variables, auxiliary ones included.
    pub fn variables(&self) -> usize {
        self.single.len()
    }

    fn auxiliary(&mut self, absent: f64, present: f64) -> usize {
        self.single.push([absent, present]);
        self.single.len() - 1
    }

    fn push(&mut self, scope: Vec<usize>, values: Vec<f64>) {
        match *scope {
            [] => self.constant *= values[0],
            [variable] => self.weigh(variable, values[0], values[1]),
            _ => self.tables.push(Factor { scope, values }),
        }
    }

    fn weigh(&mut self, variable: usize, absent: f64, present: f64) {
        self.single[variable][0] *= absent;
        self.single[variable][1] *= present;
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
            let auxiliary = self.auxiliary(1.0, 1.0);
            self.push(vec![variable, auxiliary], vec![0.0, 1.0, keep, -keep]);
            self.inhibitors(auxiliary, &parents);
        }
    }

    fn likelihood(&mut self, likelihood: &Likelihood) {
        match likelihood {
            Likelihood::Leaf { leaf, if_true, if_false } => self.leaf(leaf, *if_true, *if_false),
            Likelihood::Pulls { down, up, density } => self.pulls(down, up, *density),
            Likelihood::Table { parents, values } => {
                let scope = parents.iter().filter_map(|&parent| self.variable_of[parent]).collect();
                self.push(scope, values.clone());
            }
            // The sets are summed over outside of the tree.
            Likelihood::Sets(_) => {}
        }
    }

    /// The density is linear in P(not down), P(not up) and their product; each is a product over parents, switched on
    /// by an auxiliary variable.
    fn pulls(&mut self, down: &Leaf, up: &Leaf, [in_band, is_down, is_up, both]: [f64; 4]) {
        let (no_down, no_up) = (self.auxiliary(1.0, 1.0), self.auxiliary(1.0, 1.0));
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
            self.constant *= if_false * keep;
            for (parent, strength) in parents {
                self.weigh(parent, 1.0, 1.0 - strength);
            }
        } else if parents.len() <= PLAIN_PARENTS + 1 {
            let values = (0..1_usize << parents.len())
                .map(|index| if_true + (if_false - if_true) * keep * missed(&parents, index))
                .collect();
            self.push(parents.iter().map(|p| p.0).collect(), values);
        } else {
            let auxiliary = self.auxiliary(if_true, (if_false - if_true) * keep);
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

    fn parents(&self, parents: &[(usize, f64)]) -> Vec<(usize, f64)> {
        parents.iter().filter_map(|&(node, strength)| self.variable_of[node].map(|v| (v, strength))).collect()
    }
}

/// True for the likelihoods' and the asked nodes with all their ancestors; exclusion groups are always among them.
pub(super) fn live_nodes(network: &Network, likelihoods: &[Likelihood], asked: &[usize]) -> Vec<bool> {
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

/// Probability that none of the parents present in `states` acts.
fn missed(parents: &[(usize, f64)], states: usize) -> f64 {
    parents
        .iter()
        .enumerate()
        .filter(|(bit, _)| states >> bit & 1 == 1)
        .map(|(_, (_, strength))| 1.0 - strength)
        .product()
}
