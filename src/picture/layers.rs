//! Turns a sketch into columns: causes left, what follows from them to the right, few crossings.
//!
//! A node stands one column right of the last of its causes (longest path); within a column nodes are sorted by the
//! mean place of their neighbours, up and down in turn (Sugiyama and others 1981, from memory).

use super::sketch::Sketch;
use petgraph::algo::toposort;
use petgraph::graph::DiGraph;

/// Rounds of sorting; more change little.
const ROUNDS: usize = 12;

/// Node indices by column, from left to right, each from top to bottom. In a circle, links that go back are passed over.
pub(super) fn columns(sketch: &Sketch) -> Vec<Vec<usize>> {
    let column = places(sketch);
    let count = column.iter().max().map_or(0, |last| last + 1);
    let mut columns = vec![Vec::new(); count];
    for (node, &at) in column.iter().enumerate() {
        if let Some(nodes) = columns.get_mut(at) {
            nodes.push(node);
        }
    }
    for round in 0..ROUNDS {
        let rows = rows(&columns, sketch.spots.len());
        let down = round % 2 == 0;
        for nodes in &mut columns {
            let mut keyed: Vec<(f64, usize)> =
                nodes.iter().map(|&node| (middle(sketch, node, down, &rows), node)).collect();
            keyed.sort_by(|a, b| a.0.total_cmp(&b.0));
            *nodes = keyed.into_iter().map(|(_, node)| node).collect();
        }
    }
    columns
}

/// Column of every node.
fn places(sketch: &Sketch) -> Vec<usize> {
    let links = sketch.arrows.iter().map(|arrow| (u32_of(arrow.from), u32_of(arrow.to)));
    let mut graph: DiGraph<(), ()> = DiGraph::new();
    for _ in &sketch.spots {
        graph.add_node(());
    }
    for (from, to) in links {
        graph.update_edge(from.into(), to.into(), ());
    }
    let order: Vec<usize> = match toposort(&graph, None) {
        Ok(order) => order.into_iter().map(petgraph::graph::NodeIndex::index).collect(),
        Err(_) => (0..sketch.spots.len()).collect(),
    };
    let mut rank = vec![0; sketch.spots.len()];
    order.iter().enumerate().for_each(|(at, &node)| rank[node] = at);
    let mut column = vec![0; sketch.spots.len()];
    for &node in &order {
        let before = sketch.arrows.iter().filter(|arrow| arrow.to == node && rank[arrow.from] < rank[node]);
        column[node] = before.map(|arrow| column[arrow.from] + 1).max().unwrap_or(0);
    }
    column
}

fn u32_of(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// Place of every node in its column, 0 to 1.
fn rows(columns: &[Vec<usize>], count: usize) -> Vec<f64> {
    let mut rows = vec![0.0; count];
    for nodes in columns {
        for (at, &node) in nodes.iter().enumerate() {
            rows[node] = (at as f64 + 0.5) / nodes.len() as f64;
        }
    }
    rows
}

/// Mean place of the causes of a node, or of what follows from it; its own where there are none.
fn middle(sketch: &Sketch, node: usize, down: bool, rows: &[f64]) -> f64 {
    let neighbours = sketch.arrows.iter().filter_map(|arrow| match (down, arrow.from == node, arrow.to == node) {
        (true, _, true) => Some(arrow.from),
        (false, true, _) => Some(arrow.to),
        _ => None,
    });
    let places: Vec<f64> = neighbours.map(|other| rows[other]).collect();
    if places.is_empty() { rows[node] } else { places.iter().sum::<f64>() / places.len() as f64 }
}
