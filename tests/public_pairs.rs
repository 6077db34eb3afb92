//! Turns the symptom and cause statements of public texts into a test of the graph: each pair is there.
//!
//! The statements, in our own words with their sources, lie in `tests/public/pairs.ron`.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use serde::Deserialize;
use weephole::knowledge::{Graph, ron_options};

/// Weaker than this a path from cause to symptom does not count.
const LEAST: f64 = 0.02;

/// A statement as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Statement {
    says: String,
    source: String,
    /// Families it speaks about.
    families: Vec<String>,
    /// Cause (or what the text calls one) and finding.
    pairs: Vec<(String, String)>,
    /// Where the old machine differs from ours.
    #[serde(default)]
    note: String,
}

/// Strength of the strongest directed path from a node to a finding.
fn strength(graph: &Graph, from: &str, finding: &str) -> Option<f64> {
    let leaf = graph.findings.get(finding)?;
    let start = graph.node(from)?;
    let mut reach = vec![0.0_f64; graph.nodes.len()];
    reach[start] = 1.0;
    for (index, node) in graph.nodes.iter().enumerate().skip(start + 1) {
        reach[index] = node.parents.iter().map(|&(parent, strength)| reach[parent] * strength).fold(0.0, f64::max);
    }
    Some(leaf.parents.iter().map(|&(parent, strength)| reach[parent] * strength).fold(0.0, f64::max))
}

#[test]
fn every_pair_of_the_public_texts_is_in_the_graph() {
    let text = std::fs::read_to_string(common::root().join("tests/public/pairs.ron")).unwrap();
    let statements: Vec<Statement> = ron_options().from_str(&text).unwrap_or_else(|error| panic!("pairs.ron: {error}"));
    assert!(25 <= statements.len(), "{} statements", statements.len());
    let knowledge = common::shipped().knowledge;
    let mut missing = Vec::new();
    for family in knowledge.all.families.keys() {
        let graph = Graph::new(&knowledge, family, None);
        for statement in statements.iter().filter(|statement| statement.families.contains(family)) {
            for (cause, finding) in &statement.pairs {
                let found = strength(&graph, cause, finding);
                if found.is_none_or(|strength| strength < LEAST) {
                    let Statement { says, source, note, .. } = statement;
                    missing.push(format!("{family}: {cause} → {finding} {found:?}: {says} ({source}) {note}"));
                }
            }
        }
    }
    assert!(missing.is_empty(), "{}", missing.join("\n"));
    assert!(statements.iter().all(|statement| !statement.source.trim().is_empty() && !statement.pairs.is_empty()));
}

/// The check itself can fail: nothing leads from the tank to a worn belt, and a made-up id is missing.
#[test]
fn what_is_not_in_the_graph_is_missed() {
    let knowledge = common::shipped().knowledge;
    let graph = Graph::new(&knowledge, "oil_backed", None);
    assert!(strength(&graph, "tank_low", "belt_slack").unwrap() < LEAST);
    assert_eq!(strength(&graph, "no_such_cause", "low_flow"), None);
    assert_eq!(strength(&graph, "tank_low", "no_such_finding"), None);
}
