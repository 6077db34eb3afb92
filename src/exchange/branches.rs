//! Turns variables and their parents into a tree along which a chain over many of them can run.
//!
//! The tree is that of variable elimination by least fill: a chain that runs along it adds about one variable to each
//! clique of that elimination, where a chain in any other order ties far variables together.

use std::collections::BTreeSet;

/// Variables in order of elimination, each with the neighbour that is eliminated next; none at the end of a branch.
/// `families` holds for each variable its parents.
pub fn branches(families: &[&[usize]]) -> Vec<(usize, Option<usize>)> {
    let mut neighbours = moral(families);
    let mut fill: Vec<usize> = (0..families.len()).map(|variable| missing(&neighbours, variable)).collect();
    let mut left: BTreeSet<usize> = (0..families.len()).collect();
    let mut eliminated: Vec<(usize, BTreeSet<usize>)> = Vec::with_capacity(families.len());
    let mut place = vec![0; families.len()];
    while let Some(next) = left.iter().copied().min_by_key(|&v| (fill[v], neighbours[v].len())) {
        left.remove(&next);
        place[next] = eliminated.len();
        let around = std::mem::take(&mut neighbours[next]);
        for &one in &around {
            neighbours[one].remove(&next);
            neighbours[one].extend(around.iter().filter(|other| **other != one));
        }
        let touched: BTreeSet<usize> =
            around.iter().flat_map(|&one| neighbours[one].iter().copied()).chain(around.iter().copied()).collect();
        for variable in touched {
            fill[variable] = missing(&neighbours, variable);
        }
        eliminated.push((next, around));
    }
    let heir = |around: BTreeSet<usize>| around.into_iter().min_by_key(|&other| place[other]);
    eliminated.into_iter().map(|(variable, around)| (variable, heir(around))).collect()
}

/// Who stands together in a table.
fn moral(families: &[&[usize]]) -> Vec<BTreeSet<usize>> {
    let mut neighbours = vec![BTreeSet::new(); families.len()];
    for (child, parents) in families.iter().enumerate() {
        let family: Vec<usize> = parents.iter().copied().chain([child]).collect();
        for &one in &family {
            neighbours[one].extend(family.iter().filter(|other| **other != one));
        }
    }
    neighbours
}

/// Pairs of neighbours that are not neighbours of each other.
fn missing(neighbours: &[BTreeSet<usize>], variable: usize) -> usize {
    let around: Vec<usize> = neighbours[variable].iter().copied().collect();
    let apart = |(place, one): (usize, &usize)| {
        around[place + 1..].iter().filter(|other| !neighbours[*one].contains(other)).count()
    };
    around.iter().enumerate().map(apart).sum()
}
