//! Turns two causes into the checks that tell them apart: how often each answer comes with only the one or the other.

use weephole::knowledge::schema::Id;
use weephole::knowledge::{Graph, Knowledge, Leaf};

/// A check that tells two causes apart.
pub struct Apart {
    pub check: Id,
    /// The finding or reading that does.
    pub by: Id,
    pub minutes: f64,
    pub opening: Option<Id>,
    /// Chance of yes, or of the pull, with the one and with the other.
    pub chances: (f64, f64),
}

/// Checks of the family by how far their most telling answer differs between the two, widest first.
pub fn apart(knowledge: &Knowledge, graph: &Graph, one: usize, other: usize) -> Vec<Apart> {
    let (one, other) = (present(knowledge, graph, one), present(knowledge, graph, other));
    let leaves = |id: &Id| -> Vec<&Leaf> {
        let reading = graph.readings.get(id).map(|pulled| [&pulled.down, &pulled.up]);
        graph.findings.get(id).into_iter().chain(reading.into_iter().flatten()).collect()
    };
    let chance = |leaf: &Leaf, present: &[f64]| any(leaf.leak, &leaf.parents, present);
    let mut found: Vec<Apart> = Vec::new();
    for (id, check) in &knowledge.all.checks {
        if !check.families.is_empty() && !check.families.contains(&graph.family) {
            continue;
        }
        let yields = check.yields.iter().flat_map(|by| leaves(by).into_iter().map(move |leaf| (by, leaf)));
        let chances = yields.map(|(by, leaf)| (by, (chance(leaf, &one), chance(leaf, &other))));
        let Some((by, chances)) = chances.max_by(|a, b| width(a.1).total_cmp(&width(b.1))) else { continue };
        let (check, opening, by) = (id.clone(), check.opening.clone(), by.clone());
        found.push(Apart { minutes: knowledge.all.checks[&check].minutes, check, by, opening, chances });
    }
    found.sort_by(|a, b| width(b.chances).total_cmp(&width(a.chances)));
    found
}

fn width((a, b): (f64, f64)) -> f64 {
    (a - b).abs()
}

/// Chance of every node with only this cause present, parents taken as independent.
fn present(knowledge: &Knowledge, graph: &Graph, cause: usize) -> Vec<f64> {
    let mut present: Vec<f64> = Vec::with_capacity(graph.nodes.len());
    for (index, node) in graph.nodes.iter().enumerate() {
        let alone = if knowledge.all.causes.contains_key(&node.id) { 0.0 } else { node.leak };
        present.push(if index == cause { 1.0 } else { any(alone, &node.parents, &present) });
    }
    present
}

fn any(leak: f64, parents: &[(usize, f64)], present: &[f64]) -> f64 {
    1.0 - (1.0 - leak) * parents.iter().map(|(parent, strength)| 1.0 - strength * present[*parent]).product::<f64>()
}
