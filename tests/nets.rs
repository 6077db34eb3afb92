//! Compares posteriors with those of a general-purpose library (pyagrum 3.3.1) on stored networks, to 1e-9.

#![allow(clippy::unwrap_used, clippy::cast_possible_truncation)]

use serde_json::Value;
use weephole::belief::{Leaf, Likelihood, Network, Node, posterior};

fn read(name: &str) -> Value {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/nets").join(name);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn parents(node: &Value) -> Vec<(usize, f64)> {
    let indices = node["parents"].as_array().unwrap().iter().map(|index| index.as_u64().unwrap() as usize);
    indices.zip(node["w"].as_array().unwrap().iter().map(|w| w.as_f64().unwrap())).collect()
}

fn is(node: &Value, kinds: &str) -> bool {
    kinds.contains(node["kind"].as_str().unwrap())
}

/// Causes, conditions and damage are the hidden nodes; findings are leaves; readings are not observed here.
fn agrees(net: &str, reference: &str) {
    let (file, expected) = (read(net), read(reference));
    let nodes = file["nodes"].as_array().unwrap();
    let hidden: Vec<&Value> = nodes.iter().filter(|node| is(node, "CMD")).collect();
    assert!(nodes[..hidden.len()].iter().all(|node| is(node, "CMD")), "hidden nodes come first");
    let network = hidden.iter().map(|node| Node { leak: node["leak"].as_f64().unwrap(), parents: parents(node) });
    let network = Network::new(network.collect(), Vec::new(), false).unwrap();
    let causes: Vec<usize> = (0..hidden.len()).filter(|&at| is(hidden[at], "C")).collect();
    let given = file["cases"].as_array().unwrap();
    assert_eq!(given.len(), 20);
    for (number, case) in given.iter().enumerate() {
        let seen: Vec<Likelihood> =
            case["ev"].as_object().unwrap().iter().map(|(id, state)| seen(nodes, id, state)).collect();
        let belief = posterior(&network, &seen).unwrap();
        for (at, &cause) in causes.iter().enumerate() {
            let (ours, theirs) = (belief.present[cause], expected[number][at].as_f64().unwrap());
            assert!((ours - theirs).abs() <= 1e-9, "{net} case {number} cause {at}: {ours} instead of {theirs}");
        }
    }
}

fn seen(nodes: &[Value], id: &str, state: &Value) -> Likelihood {
    let node = &nodes[id.parse::<usize>().unwrap()];
    assert!(is(node, "F"), "only findings are observed");
    let leaf = Leaf { leak: node["leak"].as_f64().unwrap(), parents: parents(node) };
    let yes = state.as_u64().unwrap() == 1;
    Likelihood::Leaf { leaf, if_true: f64::from(u8::from(yes)), if_false: f64::from(u8::from(!yes)) }
}

#[test]
fn twenty_causes() {
    agrees("n20.json", "n20_posteriors.json");
}

#[test]
fn sixty_causes() {
    agrees("n60.json", "n60_posteriors.json");
}

#[test]
fn two_hundred_causes() {
    agrees("n200.json", "n200_posteriors.json");
}
