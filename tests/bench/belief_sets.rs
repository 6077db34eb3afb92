//! Turns sets of answers (JSON on standard input) into the posterior of every cause, readings given by their band.
//!
//! `belief_sets FAMILY` reads `[{"findings": {id: "yes"}, "readings": {id: "below"}}, …]` and prints one JSON array:
//! per set `used` (what counts of it), `posteriors` (cause to probability) and `error_bound`, or `error`. The shipped
//! knowledge; run by `tests/scripts/library_check.sh`.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "../common/mod.rs"]
mod common;

use indexmap::IndexMap;
use serde::Deserialize;
use serde_json::{Value, json};
use weephole::belief::{Likelihood, Network, posterior};
use weephole::evidence::{Answer, Bin, Facts, bands, leaf, network, weigh};
use weephole::knowledge::{Graph, Knowledge, NodeKind, Scale};

/// What is known of one pump.
#[derive(Deserialize)]
struct Set {
    findings: IndexMap<String, Answer>,
    readings: IndexMap<String, String>,
}

fn main() {
    let family = std::env::args().nth(1).unwrap();
    let knowledge = common::shipped().knowledge;
    let graph = Graph::new(&knowledge, &family, None);
    let network = network(&graph).unwrap();
    let sets: Vec<Set> = serde_json::from_reader(std::io::stdin().lock()).unwrap();
    let answers: Vec<Value> = sets.into_iter().map(|set| answer(&knowledge, &graph, &network, set)).collect();
    println!("{}", Value::Array(answers));
}

fn answer(knowledge: &Knowledge, graph: &Graph, network: &Network, set: Set) -> Value {
    let facts = Facts { answers: set.findings, ..Facts::default() };
    let mut seen = weigh(knowledge, graph, &facts, None).used;
    seen.extend(set.readings.into_iter().map(|(id, band)| {
        let likelihood = in_band(knowledge, graph, &id, &band);
        (id, likelihood)
    }));
    let (used, likelihoods): (Vec<String>, Vec<Likelihood>) = seen.into_iter().unzip();
    match posterior(network, &likelihoods) {
        Ok(belief) => {
            let causes = graph.of_kind(NodeKind::Cause).into_iter();
            let posteriors: IndexMap<&str, f64> =
                causes.map(|cause| (graph.nodes[cause].id.as_str(), belief.present[cause])).collect();
            json!({ "used": used, "posteriors": posteriors, "error_bound": belief.error_bound })
        }
        Err(error) => json!({ "used": used, "error": error.to_string() }),
    }
}

fn in_band(knowledge: &Knowledge, graph: &Graph, id: &str, band: &str) -> Likelihood {
    let pulled = &graph.readings[id];
    let scale = Scale::of(&knowledge.all.readings[id]).unwrap();
    let bin = match band {
        "below" => Bin::Below,
        "in" => Bin::Inside,
        _ => Bin::Above,
    };
    let density = bands(&scale).unwrap()[bin as usize];
    Likelihood::Pulls { down: leaf(&pulled.down), up: leaf(&pulled.up), density }
}
