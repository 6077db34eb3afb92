//! Turns what was changed, and what came of it, into evidence: "changed X, no effect" and "worked after Y".
//!
//! While it is untried, and after it worked, diagnosis stands on what was known before the change. After "no effect" it
//! stands on the pump as it is now: what was renewed is not broken and no longer fed by its causes, every "no" stays,
//! and a "yes" that hangs on it is set aside and may be asked again.

use crate::belief::{Leaf, Likelihood, Network, NetworkError};
use crate::evidence::{Evidence, network, of_key};
use crate::job::event::{Event, Outcome};
use crate::job::fold::{Given, Job};
use crate::job::sitting::Sitting;
use crate::job::work::Repair;
use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Hit, Knowledge, NodeKind, search};
use indexmap::IndexSet;
use jiff::Timestamp;

/// A repair leaves the fault in place so often: wrong part, or not done well. Common practice, no source.
const LEFT_IN_PLACE: f64 = 0.02;
/// The pump works after its fault was put right so often: else there is one more. Common practice, no source.
const WORKS_AFTER: f64 = 0.9;
/// It works although something else was wrong: a fault that comes and goes, or was moved by the work. Common practice.
const BY_CHANCE: f64 = 0.1;
/// The same, with the readings back at their bands.
const BY_CHANCE_PROVED: f64 = 0.02;

/// What is asked after something was changed.
#[derive(Debug, Clone, PartialEq)]
pub struct TryView {
    /// What was changed, by name.
    pub changed: Vec<String>,
    /// The complaint, by name.
    pub complaint: Vec<String>,
}

/// The nodes that what was changed puts right, with what came of it and when: everything with the same remedy.
pub(in crate::job) fn put_right(
    knowledge: &Knowledge,
    graph: &Graph,
    job: &Job,
) -> Vec<(Vec<usize>, Outcome, Timestamp)> {
    let tried = job.work.repairs.iter().filter_map(|repair| Some((repair, repair.outcome?)));
    tried.map(|(repair, outcome)| (nodes_of(knowledge, graph, repair), outcome, repair.at)).collect()
}

fn nodes_of(knowledge: &Knowledge, graph: &Graph, repair: &Repair) -> Vec<usize> {
    let remedy = repair.remedy.as_ref().filter(|remedy| remedy_of(knowledge, &repair.node) == Some(*remedy));
    let same = |id: &str| id == repair.node || (remedy.is_some() && remedy_of(knowledge, id) == remedy);
    (0..graph.nodes.len()).filter(|&node| same(&graph.nodes[node].id)).collect()
}

/// The remedy of a cause, condition or damage.
pub(in crate::job) fn remedy_of<'k>(knowledge: &'k Knowledge, node: &str) -> Option<&'k Id> {
    let all = &knowledge.all;
    let inner = || all.conditions.get(node).or_else(|| all.damage.get(node)).and_then(|entry| entry.remedy.as_ref());
    all.causes.get(node).and_then(|cause| cause.remedy.as_ref()).or_else(inner)
}

/// The network of the pump as it is now: renewed parts are whole, and their causes no longer reach them.
pub(in crate::job) fn network_now(knowledge: &Knowledge, graph: &Graph, job: &Job) -> Result<Network, NetworkError> {
    if job.work.before.is_some() {
        return network(graph);
    }
    let mut now = graph.clone();
    for (nodes, ..) in put_right(knowledge, graph, job) {
        for node in nodes {
            let node = &mut now.nodes[node];
            if node.kind != NodeKind::Cause {
                (node.leak, node.parents) = (0.0, Vec::new());
            }
        }
    }
    network(&now)
}

/// Answers and numbers from before a repair that hang on what was put right and speak for it.
pub(in crate::job) fn stale(knowledge: &Knowledge, graph: &Graph, job: &Job, evidence: &Evidence) -> IndexSet<Id> {
    let mut stale = IndexSet::new();
    if job.work.before.is_some() {
        return stale;
    }
    for (nodes, _, at) in put_right(knowledge, graph, job) {
        let below = below(graph, &nodes);
        let old = job.given.iter().filter(|(_, (_, given, _))| *given < at);
        for (id, (given, ..)) in old {
            let likelihood = evidence.used.iter().find(|(used, _)| used == id).map(|(_, likelihood)| likelihood);
            if speaks_for(given, likelihood) && parents(graph, id).into_iter().any(|parent| below[parent]) {
                stale.insert(id.clone());
            }
        }
    }
    stale
}

/// What a finding or reading hangs on straight.
fn parents(graph: &Graph, key: &str) -> Vec<usize> {
    let id = of_key(key).0;
    let finding = graph.findings.get(id).into_iter();
    let reading = graph.readings.get(id).into_iter().flat_map(|pulled| [&pulled.down, &pulled.up]);
    finding.chain(reading).flat_map(|leaf| leaf.parents.iter().map(|(parent, _)| *parent)).collect()
}

/// True for a yes, for a number outside its healthy band, and for one that is weighed together with others: it is read again.
fn speaks_for(given: &Given, likelihood: Option<&Likelihood>) -> bool {
    match (given, likelihood) {
        (Given::Answer(answer), _) => answer.leans_yes(),
        (Given::Number(..), Some(Likelihood::Pulls { density, .. })) => {
            density[1..].iter().any(|pulled| density[0] < *pulled)
        }
        (Given::Number(..), _) => true,
    }
}

/// Per node: true if it is one of these or follows from one.
fn below(graph: &Graph, nodes: &[usize]) -> Vec<bool> {
    let mut below = vec![false; graph.nodes.len()];
    for node in 0..graph.nodes.len() {
        below[node] = nodes.contains(&node) || graph.nodes[node].parents.iter().any(|(parent, _)| below[*parent]);
    }
    below
}

/// Adds what the repairs say to the evidence.
pub(in crate::job) fn weigh_repairs(knowledge: &Knowledge, graph: &Graph, job: &Job, evidence: &mut Evidence) {
    let mut seen: IndexSet<usize> = IndexSet::new();
    for ((nodes, outcome, _), repair) in put_right(knowledge, graph, job).into_iter().zip(tried(job)) {
        let likelihoods: Vec<Likelihood> = match outcome {
            Outcome::Well => {
                let parents = nodes.iter().map(|&node| (node, 1.0)).collect();
                let by_chance = if job.work.is_verified() { BY_CHANCE_PROVED } else { BY_CHANCE };
                let leaf = Leaf { leak: 0.0, parents };
                vec![Likelihood::Leaf { leaf, if_true: WORKS_AFTER, if_false: by_chance }]
            }
            Outcome::Same | Outcome::Better => nodes
                .iter()
                .filter(|&&node| graph.nodes[node].kind == NodeKind::Cause && seen.insert(node))
                .map(|&node| Likelihood::Leaf { leaf: Leaf::of(node), if_true: LEFT_IN_PLACE, if_false: 1.0 })
                .collect(),
        };
        evidence.used.extend(likelihoods.into_iter().map(|likelihood| (repair.node.clone(), likelihood)));
    }
}

fn tried(job: &Job) -> impl Iterator<Item = &Repair> {
    job.work.repairs.iter().filter(|repair| repair.outcome.is_some())
}

/// True if a repair of this cause worked, and the readings are back.
pub(in crate::job) fn is_repair_verified(knowledge: &Knowledge, graph: &Graph, job: &Job, cause: usize) -> bool {
    let right =
        |(nodes, outcome, _): &(Vec<usize>, Outcome, Timestamp)| *outcome == Outcome::Well && nodes.contains(&cause);
    job.work.is_verified() && put_right(knowledge, graph, job).iter().any(right)
}

impl Sitting {
    /// What is asked after something was changed; nothing while nothing is untried.
    pub fn to_try(&self) -> Option<TryView> {
        let untried = self.job.work.repairs.iter().filter(|repair| repair.outcome.is_none());
        let changed: Vec<String> = untried.map(|repair| self.repair_words(repair)).collect();
        let complaint = self.facts().complaint.iter().map(|id| self.name_of(id)).collect();
        (!changed.is_empty()).then_some(TryView { changed, complaint })
    }

    /// A repair in words: what, how, and what came of it.
    pub fn repair_words(&self, repair: &Repair) -> String {
        let name = self.name_of(&repair.node);
        let how = if repair.words.is_empty() { String::new() } else { format!(" ({})", repair.words) };
        let outcome = repair.outcome.map_or(String::new(), |outcome| format!(": {}", outcome.words()));
        format!("put right: {name}{how}{outcome}")
    }

    /// What a person says was changed, as an event.
    pub fn changed(&self, node: &str, words: &str) -> Event {
        let remedy = remedy_of(&self.knowledge, node).cloned();
        Event::Changed { node: node.to_owned(), remedy, words: crate::job::enter::limited(words) }
    }

    /// Causes, conditions and damage by name, everyday words and the name of their remedy, best first.
    pub fn changeable(&self, words: &str, most: usize) -> Vec<Hit> {
        let all = &self.knowledge.all;
        let texts = |id: &Id| -> Vec<&str> {
            let cause = all.causes.get(id);
            let aliases = cause.iter().flat_map(|cause| cause.aliases.iter().map(String::as_str));
            let remedy = remedy_of(&self.knowledge, id).and_then(|remedy| all.remedies.get(remedy));
            let name = self.graph.node(id).map(|node| self.graph.nodes[node].name.as_str());
            name.into_iter().chain(aliases).chain(remedy.map(|remedy| remedy.name.as_str())).collect()
        };
        let candidates: Vec<(&str, Vec<&str>)> =
            self.graph.nodes.iter().map(|node| (node.id.as_str(), texts(&node.id))).collect();
        let mut hits = search(words, &candidates);
        hits.truncate(most);
        hits
    }

    /// What is likely to be put right next: parts found harmed, then the leading causes; those with a remedy.
    pub fn to_put_right(&self, most: usize) -> Vec<Id> {
        let found = self.found_damage().into_iter().map(|node| self.graph.nodes[node].id.clone());
        let causes = self.likely(most).into_iter().filter(|row| 0 < row.of_20).map(|row| row.id);
        let all: IndexSet<Id> = found.chain(causes).filter(|id| remedy_of(&self.knowledge, id).is_some()).collect();
        all.into_iter().take(most).collect()
    }
}
