//! Turns a seed into a pump with hidden faults: what the graph itself would draw, with all noise drawn once per job.

#![allow(dead_code)]

use super::dice::Dice;
use weephole::belief::{Leaf, Likelihood, Network, Node, Question};
use weephole::evidence::network;
use weephole::knowledge::schema::Id;
use weephole::knowledge::{Graph, Knowledge};

/// A pump as the graph has it, with faults. Every leak and every link is drawn once, so that a sign asked twice answers
/// the same, and removing a fault never creates a sign.
pub struct World<'a> {
    graph: &'a Graph,
    nodes: Vec<Node>,
    /// Draws of each node's leak and links.
    hidden: Vec<(f64, Vec<f64>)>,
    seed: u64,
    /// State of each node.
    pub present: Vec<bool>,
    pub is_cause: Vec<bool>,
}

impl<'a> World<'a> {
    /// Faults from the graph's own shares, at least one.
    pub fn new(graph: &'a Graph, seed: u64) -> Self {
        let net: Network = network(graph).unwrap();
        let nodes = net.nodes().to_vec();
        let is_cause: Vec<bool> = (0..nodes.len()).map(|node| net.is_cause(node)).collect();
        let mut dice = Dice::new(seed);
        loop {
            let hidden: Vec<(f64, Vec<f64>)> =
                nodes.iter().map(|node| (dice.draw(), node.parents.iter().map(|_| dice.draw()).collect())).collect();
            let mut world =
                Self { graph, nodes: nodes.clone(), hidden, seed, present: Vec::new(), is_cause: is_cause.clone() };
            world.settle(&[]);
            let allowed =
                net.excludes().iter().all(|group| group.iter().filter(|&&node| world.present[node]).count() < 2);
            if allowed && world.faults() != 0 {
                return world;
            }
        }
    }

    /// One fault and no other; the hidden noise by the seed.
    pub fn with_fault(graph: &'a Graph, cause: usize, seed: u64) -> Self {
        let net: Network = network(graph).unwrap();
        let is_cause: Vec<bool> = (0..net.nodes().len()).map(|node| net.is_cause(node)).collect();
        let mut nodes = net.nodes().to_vec();
        for node in (0..nodes.len()).filter(|&node| is_cause[node]) {
            nodes[node].leak = if node == cause { 1.0 } else { 0.0 };
        }
        let mut dice = Dice::new(seed);
        let hidden: Vec<(f64, Vec<f64>)> =
            nodes.iter().map(|node| (dice.draw(), node.parents.iter().map(|_| dice.draw()).collect())).collect();
        let mut world = Self { graph, nodes, hidden, seed, present: Vec::new(), is_cause };
        world.settle(&[]);
        world
    }

    /// Number of faults present.
    pub fn faults(&self) -> usize {
        (0..self.nodes.len()).filter(|&node| self.is_cause[node] && self.present[node]).count()
    }

    /// States of all nodes with these causes put right.
    pub fn settle(&mut self, repaired: &[usize]) {
        let mut present: Vec<bool> = Vec::with_capacity(self.nodes.len());
        for (index, node) in self.nodes.iter().enumerate() {
            let (leak, links) = &self.hidden[index];
            let acts = |(at, (parent, strength)): (usize, &(usize, f64))| present[*parent] && links[at] < *strength;
            let shows = *leak < node.leak || node.parents.iter().enumerate().any(acts);
            present.push(shows && !repaired.contains(&index));
        }
        self.present = present;
    }

    /// Whether a leaf is true, the same whenever it is asked; `name` seeds its own noise.
    pub fn shows(&self, name: &str, leaf: &Leaf) -> bool {
        let mut dice = Dice::named(self.seed, name);
        let by_itself = dice.draw() < leaf.leak;
        let links: Vec<bool> =
            leaf.parents.iter().map(|&(parent, strength)| dice.draw() < strength && self.present[parent]).collect();
        by_itself || links.contains(&true)
    }

    /// A draw that belongs to a name.
    pub fn luck(&self, name: &str) -> f64 {
        Dice::named(self.seed ^ 0x5eed, name).draw()
    }

    /// Which answer this pump gives to a question, with its likelihood; nothing to a table.
    pub fn answer(&self, id: &str, question: &Question) -> Option<(usize, Likelihood)> {
        let at = match question {
            Question::Leaf { leaf, .. } => usize::from(!self.shows(id, leaf)),
            Question::Pulls { down, up, answers } => {
                let (down, up) = (self.shows(&format!("{id} down"), down), self.shows(&format!("{id} up"), up));
                let state = usize::from(down) + 2 * usize::from(up);
                let mut luck = self.luck(id);
                let drawn = answers.iter().position(|answer| {
                    luck -= answer[state];
                    luck < 0.0
                });
                drawn.unwrap_or(answers.len() - 1)
            }
            Question::Table { .. } => return None,
        };
        question.likelihoods().into_iter().nth(at).map(|likelihood| (at, likelihood))
    }

    pub fn graph(&self) -> &'a Graph {
        self.graph
    }
}

/// Findings and readings that need no asking after an answer: implied by it, or another word for the same thing.
pub fn settled_by(knowledge: &Knowledge, id: &Id, yes: bool) -> Vec<Id> {
    let Some(finding) = knowledge.all.findings.get(id) else { return Vec::new() };
    let mut settled = if yes { finding.if_yes_skip.clone() } else { finding.if_no_skip.clone() };
    for group in knowledge.all.same_observation.values().filter(|group| group.contains(id)) {
        settled.extend(group.iter().cloned());
    }
    settled
}
