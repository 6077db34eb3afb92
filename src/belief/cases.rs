//! Turns the states that clamped variables may take together into what each bucket of a tree must tell apart.
//!
//! A bucket's message depends only on the clamped variables below it. So it is worked out once for each of *their* states
//! that occurs, not once for each case: with a thousand sets of conditions most buckets know no more than a few.

use super::tree::Tree;
use std::collections::BTreeSet;

/// What one bucket must tell apart.
#[derive(Debug)]
pub(super) struct Keys {
    /// The states of the clamped variables at and below the bucket, each once.
    pub states: Vec<u64>,
    /// Where the first key's message begins among all messages.
    pub first: usize,
    /// Entries of one message.
    pub entries: usize,
    /// Per child of the bucket, its key for each key here.
    pub of_child: Vec<Vec<u32>>,
    /// For each case the key here; for roots alone.
    pub of_case: Vec<u32>,
}

/// All cases, laid out over the buckets.
#[derive(Debug)]
pub(super) struct Cases {
    /// States of the clamped variables, one bit each, with their weight.
    pub weighed: Vec<(u64, f64)>,
    /// Per bucket.
    pub keys: Vec<Keys>,
    /// Entries of all messages together.
    pub messages: usize,
}

impl Cases {
    /// Lays out the cases of a tree. A tree without clamped variables has one, with no state.
    pub fn new(tree: &Tree, cases: Vec<(u64, f64)>) -> Self {
        let below = clamped_below(tree);
        let mut keys: Vec<Keys> = Vec::with_capacity(tree.buckets.len());
        let mut messages = 0;
        for (bucket, &mask) in tree.buckets.iter().zip(&below) {
            let states = distinct(cases.iter().map(|case| case.0 & mask));
            let place = |states: &[u64], state: u64| u32::try_from(states.partition_point(|&s| s < state)).unwrap_or(0);
            let of_child = bucket
                .children
                .iter()
                .map(|(child, _)| {
                    states.iter().map(|&state| place(&keys[*child].states, state & below[*child])).collect()
                })
                .collect();
            let of_case = if bucket.is_root {
                cases.iter().map(|case| place(&states, case.0 & mask)).collect()
            } else {
                Vec::new()
            };
            let entries = bucket.table.len() / 2;
            let count = states.len();
            keys.push(Keys { states, first: messages, entries, of_child, of_case });
            messages += entries * count;
        }
        Self { weighed: cases, keys, messages }
    }
}

/// Per bucket, the clamped variables in its factors and in those of all buckets below it.
fn clamped_below(tree: &Tree) -> Vec<u64> {
    let mut below: Vec<u64> = Vec::with_capacity(tree.buckets.len());
    for bucket in &tree.buckets {
        let own = bucket.parts.iter().flat_map(|part| &part.clamped).map(|(place, _)| 1_u64 << place);
        let children = bucket.children.iter().map(|(child, _)| below[*child]);
        below.push(own.chain(children).fold(0, |all, some| all | some));
    }
    below
}

fn distinct(states: impl Iterator<Item = u64>) -> Vec<u64> {
    let seen: BTreeSet<u64> = states.collect();
    seen.into_iter().collect()
}
