//! Turns the graph and the simulation's table of what people notice into the links on which the two part: neither has seen
//! the other, so where they part widely one of them is likely to be mistaken.

use crate::knowledge::schema::{Id, Strength};
use crate::knowledge::{Graph, Knowledge, NodeKind};
use crate::simulation::faults::{self, Fault};
use crate::simulation::person;
use serde::Serialize;

/// Words of the scale of strengths, weakest first.
const SCALE: [&str; 7] = ["almost never", "rarely", "sometimes", "half the time", "often", "usually", "nearly always"];
/// Steps of the scale that count as the same.
const ALIKE: usize = 2;
/// Severity at which the simulation is asked.
const MIDDLING: f64 = 0.5;

/// A finding and a fault about which graph and simulation part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Disagreement {
    /// Finding.
    pub finding: Id,
    /// Fault.
    pub fault: Id,
    /// How often the graph says that the fault shows it, alone and on whatever way; ways count as independent.
    pub graph: f64,
    /// How often the simulation says so, at middling severity.
    pub simulation: f64,
    /// Steps of the scale between the two words.
    pub steps: usize,
}

/// Every finding and fault about which the two part by more than two steps of the seven; widest first, then in the order of
/// the faults. What follows from the pump's numbers is left out: it hangs on the pump.
pub fn disagreements(knowledge: &Knowledge, graph: &Graph) -> Vec<Disagreement> {
    let from_numbers: Vec<&str> = person::from_numbers().collect();
    let known = faults::all().filter_map(|fault| Some((fault, graph.node(fault.id)?)));
    let mut found: Vec<Disagreement> = known
        .flat_map(|(fault, node)| {
            let alone = alone(graph, node);
            let findings = graph.findings.iter().filter(|(id, _)| !from_numbers.contains(&id.as_str()));
            findings
                .filter(|(id, _)| !is_verdict_on_a_condition(knowledge, id))
                .filter_map(|(id, leaf)| parting(fault, id, shown(&alone, leaf.leak, &leaf.parents)))
                .collect::<Vec<_>>()
        })
        .collect();
    found.sort_by_key(|one| std::cmp::Reverse(one.steps));
    found
}

fn parting(fault: &Fault, finding: &Id, graph: f64) -> Option<Disagreement> {
    let anyway = person::kind(finding).anyway;
    let simulation = 1.0 - (1.0 - anyway) * (1.0 - person::noticed(fault, finding, MIDDLING));
    let steps = step(graph).abs_diff(step(simulation));
    (ALIKE < steps).then(|| Disagreement {
        finding: finding.clone(),
        fault: fault.id.to_owned(),
        graph,
        simulation,
        steps,
    })
}

fn step(share: f64) -> usize {
    let word = Strength::Share(share).word();
    SCALE.iter().position(|known| *known == word).unwrap_or_default()
}

/// Chance of every node with this cause and no other; nothing by itself.
fn alone(graph: &Graph, cause: usize) -> Vec<f64> {
    let mut chance: Vec<f64> = Vec::with_capacity(graph.nodes.len());
    for (at, node) in graph.nodes.iter().enumerate() {
        chance.push(match node.kind {
            NodeKind::Cause => f64::from(u8::from(at == cause)),
            _ => shown(&chance, 0.0, &node.parents),
        });
    }
    chance
}

fn shown(chance: &[f64], leak: f64, parents: &[(usize, f64)]) -> f64 {
    1.0 - parents.iter().map(|(parent, strength)| 1.0 - strength * chance[*parent]).product::<f64>() * (1.0 - leak)
}

/// Nobody is asked for one.
fn is_verdict_on_a_condition(knowledge: &Knowledge, finding: &str) -> bool {
    let verdict = knowledge.all.findings.get(finding).and_then(|finding| finding.verdict_on.as_ref());
    verdict.is_some_and(|node| knowledge.all.conditions.contains_key(node))
}
