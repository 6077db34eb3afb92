//! Checks the file against one written by hand, and a reader of its own against the engine; tests only.

#![allow(clippy::unwrap_used, clippy::panic)]

use super::{Tables, bif};
use crate::belief::{Likelihood, posterior};
use crate::evidence::{Answer, Bin, Facts, bands, leaf, network, weigh};
use crate::knowledge::{Graph, Knowledge, NodeKind, Scale, SourceText, load};
use std::collections::{BTreeMap, BTreeSet};

fn knowledge(text: &str) -> Knowledge {
    let loaded = load(vec![SourceText { name: "a.ron".to_owned(), text: text.to_owned() }]);
    loaded.knowledge
}

fn export(text: &str) -> String {
    let knowledge = knowledge(text);
    bif(&Tables::of(&knowledge, &Graph::new(&knowledge, "oil_backed", None)))
}

const SMALL: &str = r#"(
    version: 1,
    release: "test",
    families: {"oil_backed": (name: "oil-backed pump", recognise: "oil behind the diaphragm")},
    causes: {
        "strainer": (name: "strainer clogged", place: "inlet", shares: {"oil_backed": 500}, basis: guess,
            leads_to: {"table": (strength: share(0.5), basis: guess)}),
        "given_relief": (name: "relief", place: "outlet", shares: {"oil_backed": 250}, basis: guess),
    },
    conditions: {"table": (name: "starved", leak: 0.25)},
    findings: {
        "2_weak": (name: "weak", question: "Weak?", error: (false_yes: 0.5, missed: 0.25),
            leak: 0.0, shown_by: {"table": (strength: share(0.5), basis: guess)}),
    },
    excludes: {"one_of_two": ["strainer", "given_relief"]},
)"#;

/// Worked by hand: shares that sum to less than one are the priors; starved is 1 − 0.75·0.5 with the strainer; weak has
/// the leak 0.5 and the strength 0.5·0.75 as it is answered. Names that the format keeps for itself are changed.
const SMALL_TABLES: &str = "\
network oil_backed {
}

// relief
variable n_given_relief {
  type discrete [ 2 ] { no, yes };
}

// strainer clogged
variable strainer {
  type discrete [ 2 ] { no, yes };
}

// starved
variable n_table {
  type discrete [ 2 ] { no, yes };
}

// at most one of these; set to yes
variable given_one_of_two {
  type discrete [ 2 ] { no, yes };
}

variable at_least_one_o0 {
  type discrete [ 2 ] { no, yes };
}

// at least one cause is present; set to yes
variable given_at_least_one {
  type discrete [ 2 ] { no, yes };
}

// weak
variable n_2_weak {
  type discrete [ 2 ] { no, yes };
}

probability ( n_given_relief ) {
  table 0.75, 0.25;
}

probability ( strainer ) {
  table 0.5, 0.5;
}

probability ( n_table | strainer ) {
  (no) 0.75, 0.25;
  (yes) 0.375, 0.625;
}

probability ( given_one_of_two | strainer, n_given_relief ) {
  (no, no) 0, 1;
  (no, yes) 0, 1;
  (yes, no) 0, 1;
  (yes, yes) 1, 0;
}

probability ( at_least_one_o0 | n_given_relief, strainer ) {
  (no, no) 1, 0;
  (no, yes) 0, 1;
  (yes, no) 0, 1;
  (yes, yes) 0, 1;
}

probability ( given_at_least_one | at_least_one_o0 ) {
  (no) 1, 0;
  (yes) 0, 1;
}

probability ( n_2_weak | n_table ) {
  (no) 0.5, 0.5;
  (yes) 0.3125, 0.6875;
}
";

#[test]
fn a_small_graph_is_written_as_by_hand() {
    let text = export(SMALL);
    let (head, tables) = text.split_at(text.find("network").unwrap());
    assert_eq!(tables, SMALL_TABLES);
    assert!(head.lines().all(|line| line.is_empty() || line.starts_with("//")), "{head}");
    for words in ["given_one_of_two, given_at_least_one.", "as their bands", "joint factor", "is not exported"] {
        assert!(head.contains(words), "{words}: {head}");
    }
    assert_eq!(text, export(SMALL), "the same graph gives the same file");
}

/// Chains at a condition, at a finding and at a group, a pair that excludes, two readings, same observations.
const FULL: &str = r#"(
    version: 1,
    families: {"oil_backed": (name: "oil-backed pump", recognise: "oil behind the diaphragm")},
    causes: {
        "a": (name: "a", place: "inlet", shares: {"oil_backed": 300}, basis: guess,
            leads_to: {"starved": (strength: usually, basis: guess), "worn": (strength: rarely, basis: guess)}),
        "b": (name: "b", place: "inlet", shares: {"oil_backed": 100}, basis: guess,
            leads_to: {"starved": (strength: often, basis: guess)}),
        "c": (name: "c", place: "inlet", shares: {"oil_backed": 200}, basis: guess,
            leads_to: {"starved": (strength: half, basis: guess)}),
        "d": (name: "d", place: "inlet", shares: {"oil_backed": 150}, basis: guess,
            leads_to: {"starved": (strength: sometimes, basis: guess)}),
        "e": (name: "e", place: "inlet", shares: {"oil_backed": 250}, basis: guess,
            leads_to: {"starved": (strength: rarely, basis: guess)}),
        "f": (name: "f", place: "inlet", shares: {"oil_backed": 120}, basis: guess,
            leads_to: {"starved": (strength: often, basis: guess), "thick": (strength: usually, basis: guess)}),
        "g": (name: "g", place: "oil", shares: {"oil_backed": 80}, basis: guess,
            leads_to: {"thick": (strength: half, basis: guess)}),
    },
    conditions: {
        "starved": (name: "starved", leak: 0.01, leads_to: {"worn": (strength: often, basis: guess)}),
        "thick": (name: "thick", leak: 0.02),
    },
    damage: {"worn": (name: "worn", leak: 0.03)},
    findings: {
        "noise": (name: "noise", question: "Noise?", leak: 0.04, error: (false_yes: 0.02, missed: 0.1), shown_by: {
            "a": (strength: rarely, basis: guess), "b": (strength: half, basis: guess),
            "c": (strength: often, basis: guess), "starved": (strength: usually, basis: guess),
            "thick": (strength: sometimes, basis: guess), "worn": (strength: half, basis: guess)}),
        "found_f": (name: "found f", question: "f?", verdict_on: "f", error: (false_yes: 0.02, missed: 0.05)),
        "weak": (name: "weak", question: "Weak?", leak: 0.05, shown_by: {"worn": (strength: usually, basis: guess)}),
    },
    readings: {
        "flow": (name: "flow", question: "Flow?", instrument: "bucket", running_state: "full", quantity: "flow",
            unit: "L/min", healthy: of_usual(0.93, 1.07), scale: ("0 L/min", "100 L/min"), gauge_error: "0.5 L/min",
            leak: (down: 0.03, up: 0.01),
            moved_by: {"starved": (way: down, strength: usually, basis: guess),
                "worn": (way: either, strength: half, basis: guess)}),
        "vacuum": (name: "vacuum", question: "Vacuum?", instrument: "gauge", running_state: "full",
            quantity: "gauge_pressure", unit: "inHg", healthy: between("-5 inHg", "1 inHg"),
            scale: ("-30 inHg", "30 inHg"), gauge_error: "0.5 inHg",
            moved_by: {"thick": (way: down, strength: usually, basis: guess)}),
    },
    same_observation: {"pair": ["flow", "weak"]},
    excludes: {"one_pair": ["a", "b"], "one_group": ["b", "c", "d", "e", "f", "g"]},
)"#;

/// A net as read back: per variable its states, parents, and rows by the parents' states.
struct Read {
    order: Vec<String>,
    states: BTreeMap<String, Vec<String>>,
    parents: BTreeMap<String, Vec<String>>,
    rows: BTreeMap<String, BTreeMap<Vec<String>, Vec<f64>>>,
}

fn words(text: &str) -> Vec<String> {
    text.split(',').map(|word| word.trim().to_owned()).filter(|word| !word.is_empty()).collect()
}

/// Reads the form this program writes, line by line.
fn read(text: &str) -> Read {
    let mut net = Read { order: Vec::new(), states: BTreeMap::new(), parents: BTreeMap::new(), rows: BTreeMap::new() };
    let mut name = String::new();
    for line in text.lines().map(str::trim).filter(|line| !line.starts_with("//")) {
        if let Some(rest) = line.strip_prefix("variable ") {
            name = rest.trim_end_matches(" {").to_owned();
            assert!(!net.states.contains_key(&name), "{name} stands twice");
            net.order.push(name.clone());
        } else if line.starts_with("type discrete") {
            let states = words(line.split(['{', '}']).nth(1).unwrap());
            assert!(line.contains(&format!("[ {} ]", states.len())), "{line}");
            net.states.insert(name.clone(), states);
        } else if let Some(rest) = line.strip_prefix("probability ( ") {
            let (child, parents) = rest.trim_end_matches(" ) {").split_once(" | ").unwrap_or((rest, ""));
            name = child.trim_end_matches(" ) {").to_owned();
            net.parents.insert(name.clone(), words(parents));
            net.rows.insert(name.clone(), BTreeMap::new());
        } else if let Some(numbers) = line.strip_suffix(';') {
            let (key, numbers) = match numbers.strip_prefix('(') {
                Some(rest) => rest.split_once(')').unwrap(),
                None => ("", numbers.strip_prefix("table ").unwrap()),
            };
            let numbers: Vec<f64> = words(numbers).iter().map(|number| number.parse().unwrap()).collect();
            assert!(net.rows.get_mut(&name).unwrap().insert(words(key), numbers).is_none(), "{name}: {key} twice");
        }
    }
    net
}

impl Read {
    fn with_forebears<'a>(&'a self, of: impl Iterator<Item = &'a String>) -> BTreeSet<&'a String> {
        let mut open: Vec<&String> = of.collect();
        let mut found = BTreeSet::new();
        while let Some(name) = open.pop() {
            if found.insert(name) {
                open.extend(&self.parents[name]);
            }
        }
        found
    }

    /// Posterior of *yes* of each target by enumeration.
    fn posteriors(&self, evidence: &BTreeMap<String, String>, targets: &[String]) -> Vec<f64> {
        let live = self.with_forebears(evidence.keys().chain(targets));
        let order: Vec<&String> = self.order.iter().filter(|name| live.contains(name)).collect();
        let mut sums = vec![0.0; targets.len() + 1];
        self.enumerate(&order, evidence, targets, &mut BTreeMap::new(), 1.0, &mut sums);
        sums[..targets.len()].iter().map(|sum| sum / sums[targets.len()]).collect()
    }

    fn enumerate<'a>(
        &'a self,
        order: &[&'a String],
        evidence: &BTreeMap<String, String>,
        targets: &[String],
        states: &mut BTreeMap<&'a str, &'a str>,
        weight: f64,
        sums: &mut [f64],
    ) {
        let Some((name, rest)) = order.split_first() else {
            for (target, sum) in targets.iter().zip(sums.iter_mut()) {
                *sum += if states[target.as_str()] == "yes" { weight } else { 0.0 };
            }
            sums[targets.len()] += weight;
            return;
        };
        let key: Vec<String> = self.parents[*name].iter().map(|parent| states[parent.as_str()].to_owned()).collect();
        for (state, chance) in self.states[*name].iter().zip(&self.rows[*name][&key]) {
            let seen = evidence.get(*name).is_none_or(|seen| seen == state);
            if seen && *chance != 0.0 {
                states.insert(name, state);
                self.enumerate(rest, evidence, targets, states, weight * chance, sums);
            }
        }
    }
}

#[test]
fn every_table_is_small_and_complete_and_sums_to_one() {
    let net = read(&export(FULL));
    for name in &net.order {
        let (parents, rows) = (&net.parents[name], &net.rows[name]);
        assert!(parents.len() <= 5 && parents.iter().all(|parent| net.states.contains_key(parent)), "{name}");
        let full: usize = parents.iter().map(|parent| net.states[parent].len()).product();
        assert_eq!(rows.len(), full, "{name}");
        for (key, row) in rows {
            assert!(row.iter().all(|p| (0.0..=1.0).contains(p)) && row.len() == net.states[name].len(), "{name}");
            assert!((row.iter().sum::<f64>() - 1.0).abs() <= 1e-12, "{name} {key:?}");
        }
    }
    for chained in ["starved_o4", "noise_o4", "one_group_o4", "flow_pulled_down", "vacuum_pulled_up"] {
        assert!(net.states.contains_key(chained), "{chained}");
    }
    assert_eq!(net.states["flow"], ["below", "in", "above"]);
}

/// Answers and bands.
type Seen = (&'static [(&'static str, Answer)], &'static [(&'static str, Bin)]);

/// What the file says, enumerated, is what the engine says: chains, excluding groups, at least one cause, answers with
/// errors, readings in a band.
#[test]
fn the_file_says_what_the_engine_says() {
    let knowledge = knowledge(FULL);
    let graph = Graph::new(&knowledge, "oil_backed", None);
    let net = read(&export(FULL));
    let network = network(&graph).unwrap();
    let nodes = graph.of_kind(NodeKind::Cause);
    let causes: Vec<String> = nodes.iter().map(|&node| graph.nodes[node].id.clone()).collect();
    let given = net.order.iter().filter(|name| name.starts_with("given_")).map(|name| (name.clone(), "yes".to_owned()));
    let given: BTreeMap<String, String> = given.collect();
    assert_eq!(given.len(), 3);
    let sets: [Seen; 6] = [
        (&[], &[]),
        (&[("noise", Answer::Yes)], &[]),
        (&[("noise", Answer::No), ("weak", Answer::Yes)], &[]),
        (&[("noise", Answer::Yes), ("found_f", Answer::No)], &[("flow", Bin::Below)]),
        (&[("noise", Answer::Yes), ("found_f", Answer::Yes)], &[("vacuum", Bin::Inside), ("flow", Bin::Above)]),
        (&[("weak", Answer::No)], &[("vacuum", Bin::Below)]),
    ];
    for (answers, numbers) in sets {
        let facts = answers.iter().map(|(id, answer)| ((*id).to_owned(), *answer)).collect();
        let facts = Facts { answers: facts, ..Facts::default() };
        let mut seen = weigh(&knowledge, &graph, &facts, None).likelihoods();
        let mut evidence = given.clone();
        evidence.extend(answers.iter().map(|(id, answer)| ((*id).to_owned(), answer.words().to_owned())));
        for &(id, bin) in numbers {
            let pulled = &graph.readings[id];
            let density = bands(&Scale::of(&knowledge.all.readings[id]).unwrap()).unwrap()[bin as usize];
            seen.push(Likelihood::Pulls { down: leaf(&pulled.down), up: leaf(&pulled.up), density });
            let state = ["below", "in", "above"][bin as usize];
            evidence.insert(id.to_owned(), state.to_owned());
        }
        let ours = posterior(&network, &seen).unwrap();
        let theirs = net.posteriors(&evidence, &causes);
        for (place, &node) in nodes.iter().enumerate() {
            let (ours, theirs) = (ours.present[node], theirs[place]);
            assert!((ours - theirs).abs() <= 1e-9, "{evidence:?} {}: {ours} and {theirs}", causes[place]);
        }
    }
}

#[test]
fn what_observes_the_same_thing_is_named_at_the_top() {
    assert!(export(FULL).contains("//   flow, weak\n"));
}
