//! Turns a cause graph into a belief network, node for node.

use crate::belief::{Network, NetworkError, Node};
use crate::knowledge::{Graph, NodeKind};

/// The network of a graph, conditioned on at least one cause: a job exists because something is wrong.
pub fn network(graph: &Graph) -> Result<Network, NetworkError> {
    let nodes = graph.nodes.iter().map(|node| Node { leak: node.leak, parents: node.parents.clone() }).collect();
    let network = Network::new(nodes, graph.excludes.clone(), true)?;
    Ok(network.with_causes(&graph.of_kind(NodeKind::Cause)))
}
