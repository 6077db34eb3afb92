//! Turns the graph of a family into discrete variables with plain tables, none over more than five parents.

use super::branches::branches;
use super::writer::{BANDS, Variable, Writer, identifier, link};
use crate::belief::Leaf;
use crate::evidence::{answered, bands, leaf};
use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Knowledge, NodeKind, PulledReading, Scale};
use indexmap::IndexMap;
use std::collections::BTreeSet;

const AT_LEAST_ONE: &str = "at_least_one";

/// All variables of a family, parents before children.
#[derive(Debug, Clone, PartialEq)]
pub struct Tables {
    /// Family id.
    pub family: Id,
    /// Release of the knowledge.
    pub release: String,
    /// Hash of the knowledge.
    pub hash: String,
    /// Causes, conditions and damage in the order of the graph, the `given_*` nodes, then findings and readings.
    pub variables: Vec<Variable>,
    /// Names of findings and readings that observe the same thing: only one of each group counts in a job.
    pub same_observation: Vec<Vec<String>>,
}

impl Tables {
    /// The tables of a graph. Readings whose scale cannot be read are left out (a rule reports them).
    pub fn of(knowledge: &Knowledge, graph: &Graph) -> Self {
        let mut pen = Pen::default();
        pen.nodes(graph);
        pen.given(knowledge, graph);
        for (id, found) in &graph.findings {
            if let Some(finding) = knowledge.all.findings.get(id) {
                pen.finding(id, &finding.name, &answered(&leaf(found), finding.error));
            }
        }
        for (id, pulled) in &graph.readings {
            let Some(reading) = knowledge.all.readings.get(id) else { continue };
            if let Some(bands) = Scale::of(reading).ok().and_then(|scale| bands(&scale)) {
                pen.reading((id, &reading.name), pulled, &bands);
            }
        }
        Self {
            family: graph.family.clone(),
            release: knowledge.release.clone(),
            hash: knowledge.hash.clone(),
            same_observation: pen.same_observation(knowledge),
            variables: pen.writer.variables,
        }
    }
}

/// Writes the parts of a graph one after the other.
#[derive(Default)]
struct Pen {
    writer: Writer,
    /// Variable of each node of the graph.
    node_at: Vec<usize>,
    /// Variable of each finding and reading.
    observed: IndexMap<Id, usize>,
    /// Links of the chain of "at least one cause" so far.
    links: usize,
}

impl Pen {
    fn nodes(&mut self, graph: &Graph) {
        for node in &graph.nodes {
            let name = identifier(&node.id);
            let parents = self.parents(&node.parents);
            let at = self.writer.noisy_or((&name, &node.name), node.leak, &parents);
            self.node_at.push(at);
        }
    }

    fn finding(&mut self, id: &Id, words: &str, leaf: &Leaf) {
        let name = identifier(id);
        let parents = self.parents(&leaf.parents);
        let at = self.writer.noisy_or((&name, words), leaf.leak, &parents);
        self.observed.insert(id.clone(), at);
    }

    /// `bands` holds per band its probability in the band, pulled down, pulled up, pulled both ways.
    fn reading(&mut self, (id, words): (&Id, &str), pulled: &PulledReading, bands: &[[f64; 4]]) {
        let name = identifier(id);
        let pulls = [(&pulled.down, "down"), (&pulled.up, "up")].map(|(pull, way)| {
            let parents = self.parents(&pull.parents);
            self.writer.noisy_or((&format!("{name}_pulled_{way}"), ""), pull.leak, &parents)
        });
        let [in_band, down, up, both] = [0, 1, 2, 3].map(|state| bands.iter().map(|band| band[state]).collect());
        let at = self.writer.push(Variable {
            name,
            words: words.to_owned(),
            states: BANDS,
            parents: pulls.to_vec(),
            rows: vec![in_band, up, down, both],
        });
        self.observed.insert(id.clone(), at);
    }

    /// What every belief is conditioned on: at most one member of each excluding group, and at
    /// least one cause.
    fn given(&mut self, knowledge: &Knowledge, graph: &Graph) {
        for (id, group) in &knowledge.all.excludes {
            let members: Vec<usize> = group.iter().filter_map(|id| Some(self.node_at[graph.node(id)?])).collect();
            if 1 < members.len() {
                self.writer.at_most_one(id, &members);
            }
        }
        self.at_least_one(graph);
    }

    /// The chain branches as the graph does. A plain row of all causes would tie far nodes together and make tables of
    /// millions of entries in any program that reads the file.
    fn at_least_one(&mut self, graph: &Graph) {
        let causes: BTreeSet<usize> = graph.of_kind(NodeKind::Cause).iter().map(|&node| self.node_at[node]).collect();
        let families: Vec<&[usize]> = self.writer.variables.iter().map(|v| v.parents.as_slice()).collect();
        let mut so_far: Vec<Option<usize>> = vec![None; families.len()];
        let mut in_all = None;
        for (variable, heir) in branches(&families) {
            let any = self.either(so_far[variable], causes.contains(&variable).then_some(variable));
            let next = heir.map_or(&mut in_all, |heir| &mut so_far[heir]);
            *next = self.either(*next, any);
        }
        if let Some(any) = in_all {
            self.writer.given(AT_LEAST_ONE, "at least one cause is present; set to yes", any);
        }
    }

    fn either(&mut self, one: Option<usize>, other: Option<usize>) -> Option<usize> {
        match (one, other) {
            (Some(one), Some(other)) => {
                self.links += 1;
                Some(self.writer.either(&link(AT_LEAST_ONE, self.links - 1), one, other))
            }
            _ => one.or(other),
        }
    }

    fn parents(&self, parents: &[(usize, f64)]) -> Vec<(usize, f64)> {
        parents.iter().map(|&(node, strength)| (self.node_at[node], strength)).collect()
    }

    fn same_observation(&self, knowledge: &Knowledge) -> Vec<Vec<String>> {
        let name = |id| self.observed.get(id).map(|&at| self.writer.variables[at].name.clone());
        let groups = knowledge.all.same_observation.values();
        groups.map(|group| group.iter().filter_map(name).collect::<Vec<_>>()).filter(|group| 1 < group.len()).collect()
    }
}
