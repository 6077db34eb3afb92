//! Turns knowledge into the cause graph of one pump family: nodes in order, links as numbers, observables on top.

use super::entries::Knowledge;
use super::schema::{Condition, Finding, Id, Link, Reading, Way};
use indexmap::IndexMap;
use petgraph::algo::{astar, tarjan_scc, toposort};
use petgraph::stable_graph::{NodeIndex, StableDiGraph};
use petgraph::visit::{EdgeRef, IntoEdgeReferences};

/// What a hidden node is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NodeKind {
    /// Someone can remove it.
    Cause,
    /// What the machine is then doing.
    Condition,
    /// A part harmed.
    Damage,
}

impl NodeKind {
    /// As shown.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cause => "cause",
            Self::Condition => "condition",
            Self::Damage => "damage",
        }
    }
}

/// A hidden node of the graph.
#[derive(Debug, Clone, PartialEq)]
pub struct GraphNode {
    /// Id.
    pub id: Id,
    /// Name as shown.
    pub name: String,
    /// What it is.
    pub kind: NodeKind,
    /// Cause: prior probability. Otherwise: probability without any parent.
    pub leak: f64,
    /// Parents by index, with the strength of the link.
    pub parents: Vec<(usize, f64)>,
}

/// A noisy-OR leaf by node index.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Leaf {
    /// True without any parent.
    pub leak: f64,
    /// Parents by index, with the strength of the link.
    pub parents: Vec<(usize, f64)>,
}

/// A reading by node index.
#[derive(Debug, Clone, PartialEq)]
pub struct PulledReading {
    /// Pulled below its band.
    pub down: Leaf,
    /// Pulled above its band.
    pub up: Leaf,
}

/// The graph of one family.
#[derive(Debug, Clone)]
pub struct Graph {
    /// Family id.
    pub family: Id,
    /// Hidden nodes, parents before children.
    pub nodes: Vec<GraphNode>,
    /// Findings that something in this family shows.
    pub findings: IndexMap<Id, Leaf>,
    /// Readings that something in this family moves.
    pub readings: IndexMap<Id, PulledReading>,
    /// Groups of which at most one can hold.
    pub excludes: Vec<Vec<usize>>,
    index: IndexMap<Id, usize>,
    links: StableDiGraph<usize, f64>,
}

impl Graph {
    /// The graph of `family`. With `fitted`, causes whose equipment is not fitted are left out and the shares of the
    /// others keep their sum. Links in a circle are cut at the link that closes it (a rule reports them).
    pub fn new(knowledge: &Knowledge, family: &str, fitted: Option<&[String]>) -> Self {
        let mut links: StableDiGraph<Id, f64> = StableDiGraph::new();
        let causes = causes_of(knowledge, family, fitted);
        place_nodes(knowledge, family, &causes, &mut links);
        cut_circles(&mut links);
        let order: Vec<NodeIndex> = toposort(&links, None).unwrap_or_default();
        let index: IndexMap<Id, usize> =
            order.iter().enumerate().map(|(at, node)| (links[*node].clone(), at)).collect();
        let priors = priors(&causes);
        let nodes = order.iter().map(|&node| graph_node(knowledge, &links, node, &index, &priors)).collect();
        let findings = findings(knowledge, family, &index);
        let readings = readings(knowledge, family, &index);
        let excludes = excludes(knowledge, &index);
        let links = links.map(|_, id| index.get(id).copied().unwrap_or_default(), |_, strength| *strength);
        Self { family: family.to_owned(), nodes, findings, readings, excludes, index, links }
    }

    /// Index of a node by id.
    pub fn node(&self, id: &str) -> Option<usize> {
        self.index.get(id).copied()
    }

    /// Indices of all nodes of a kind, in order.
    pub fn of_kind(&self, kind: NodeKind) -> Vec<usize> {
        (0..self.nodes.len()).filter(|&node| self.nodes[node].kind == kind).collect()
    }

    /// The strongest path from one node to another, both included: what leads from a cause to a damage or condition.
    pub fn chain(&self, from: usize, to: usize) -> Option<Vec<usize>> {
        let start = self.links.node_indices().find(|&node| self.links[node] == from)?;
        let (_, path) = astar(
            &self.links,
            start,
            |node| self.links[node] == to,
            |link| -libm::log(link.weight().clamp(1e-6, 1.0)) + 1e-6,
            |_| 0.0,
        )?;
        Some(path.into_iter().map(|node| self.links[node]).collect())
    }

    /// The strongest path from a node to a finding, without the finding.
    pub fn chain_to_finding(&self, from: usize, finding: &str) -> Option<Vec<usize>> {
        let leaf = self.findings.get(finding)?;
        leaf.parents
            .iter()
            .filter_map(|&(parent, strength)| {
                let chain = self.chain(from, parent)?;
                let weight: f64 = chain.windows(2).map(|pair| self.strength(pair[0], pair[1])).product();
                Some((weight * strength, chain))
            })
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, chain)| chain)
    }

    /// Strength of the link between two nodes, 0 if there is none.
    pub fn strength(&self, parent: usize, child: usize) -> f64 {
        self.nodes[child].parents.iter().find(|(p, _)| *p == parent).map_or(0.0, |(_, strength)| *strength)
    }
}

/// Causes of the family with their share of jobs (0 to 1), rescaled to the full sum where some are left out.
fn causes_of(knowledge: &Knowledge, family: &str, fitted: Option<&[String]>) -> Vec<(Id, f64)> {
    let all: Vec<(&Id, f64, bool)> = knowledge
        .all
        .causes
        .iter()
        .filter_map(|(id, cause)| {
            let share = cause.shares.get(family)? / 1000.0;
            let possible = match (&cause.fitted, fitted) {
                (Some(needed), Some(there)) => there.contains(needed),
                _ => true,
            };
            Some((id, share, possible))
        })
        .collect();
    let sum = |only: bool| -> f64 { all.iter().filter(|(_, _, p)| *p || !only).map(|(_, share, _)| share).sum() };
    let scale = if 0.0 < sum(true) { sum(false) / sum(true) } else { 1.0 };
    all.into_iter().filter(|(_, _, possible)| *possible).map(|(id, share, _)| (id.clone(), share * scale)).collect()
}

/// Independent priors p = s·Z with Z = 1 − Π(1 − s·Z), so that conditioning on at least one cause gives the shares
/// back. Has a solution only if the shares sum to more than one; else the shares themselves are the priors.
fn priors(shares: &[(Id, f64)]) -> IndexMap<Id, f64> {
    let excess = |z: f64| 1.0 - shares.iter().map(|(_, share)| 1.0 - share * z).product::<f64>() - z;
    let (mut low, mut high) = (1e-9, 1.0);
    let solvable = 1.0 < shares.iter().map(|(_, share)| share).sum::<f64>();
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if 0.0 < excess(middle) { low = middle } else { high = middle }
    }
    let z = if solvable { low } else { 1.0 };
    shares.iter().map(|(id, share)| (id.clone(), (share * z).clamp(0.0, 1.0))).collect()
}

/// Adds the causes, conditions and damage of the family, and the links between them.
fn place_nodes(knowledge: &Knowledge, family: &str, causes: &[(Id, f64)], links: &mut StableDiGraph<Id, f64>) {
    let mut place = IndexMap::new();
    let all = knowledge.all.conditions.iter().chain(&knowledge.all.damage);
    let inner: Vec<(&Id, &Condition)> = all.filter(|(_, condition)| applies(&condition.families, family)).collect();
    for id in causes.iter().map(|(id, _)| id).chain(inner.iter().map(|(id, _)| *id)) {
        place.insert(id.clone(), links.add_node(id.clone()));
    }
    let from_causes = causes.iter().filter_map(|(id, _)| Some((id, &knowledge.all.causes.get(id)?.leads_to)));
    for (id, leads_to) in from_causes.chain(inner.iter().map(|(id, condition)| (*id, &condition.leads_to))) {
        for (to, link) in leads_to {
            if let (Some(&a), Some(&b)) = (place.get(id), place.get(to)) {
                links.update_edge(a, b, number(link));
            }
        }
    }
}

fn number(link: &Link) -> f64 {
    let number = link.strength.number();
    if number.is_finite() { number.clamp(0.0, 1.0) } else { 0.0 }
}

/// Removes links until no circle is left: the last link written of each circle.
fn cut_circles(links: &mut StableDiGraph<Id, f64>) {
    while let Some(circle) = tarjan_scc(&*links).into_iter().find(|members| 1 < members.len()) {
        let inside = |edge: &petgraph::stable_graph::EdgeReference<f64>| {
            circle.contains(&edge.source()) && circle.contains(&edge.target())
        };
        let Some(last) = (&*links).edge_references().filter(inside).map(|edge| edge.id()).max() else { break };
        links.remove_edge(last);
    }
}

fn graph_node(
    knowledge: &Knowledge,
    links: &StableDiGraph<Id, f64>,
    node: NodeIndex,
    index: &IndexMap<Id, usize>,
    priors: &IndexMap<Id, f64>,
) -> GraphNode {
    let id = links[node].clone();
    let mut parents: Vec<(usize, f64)> = links
        .edges_directed(node, petgraph::Direction::Incoming)
        .filter_map(|edge| Some((*index.get(&links[edge.source()])?, *edge.weight())))
        .collect();
    parents.sort_by_key(|(parent, _)| *parent);
    let all = &knowledge.all;
    let of = |condition: &Condition, kind| (condition.name.clone(), kind, condition.leak.clamp(0.0, 1.0));
    let (name, kind, leak) = if let Some(cause) = all.causes.get(&id) {
        (cause.name.clone(), NodeKind::Cause, priors.get(&id).copied().unwrap_or_default())
    } else if let Some(condition) = all.conditions.get(&id) {
        of(condition, NodeKind::Condition)
    } else {
        all.damage.get(&id).map_or((id.clone(), NodeKind::Damage, 0.0), |damage| of(damage, NodeKind::Damage))
    };
    GraphNode { id, name, kind, leak, parents }
}

/// True if an entry for these families (none named = all) applies to this one.
pub fn applies(families: &[Id], family: &str) -> bool {
    families.is_empty() || families.iter().any(|f| f == family)
}

fn findings(knowledge: &Knowledge, family: &str, index: &IndexMap<Id, usize>) -> IndexMap<Id, Leaf> {
    let all = knowledge.all.findings.iter().filter(|(_, finding)| applies(&finding.families, family));
    all.map(|(id, finding)| (id.clone(), finding_leaf(finding, index)))
        .filter(|(_, leaf)| !leaf.parents.is_empty())
        .collect()
}

fn finding_leaf(finding: &Finding, index: &IndexMap<Id, usize>) -> Leaf {
    match &finding.verdict_on {
        Some(node) => Leaf { leak: 0.0, parents: index.get(node).map(|&at| (at, 1.0)).into_iter().collect() },
        None => Leaf {
            leak: finding.leak.clamp(0.0, 1.0),
            parents: finding.shown_by.iter().filter_map(|(id, link)| Some((*index.get(id)?, number(link)))).collect(),
        },
    }
}

fn readings(knowledge: &Knowledge, family: &str, index: &IndexMap<Id, usize>) -> IndexMap<Id, PulledReading> {
    let all = knowledge.all.readings.iter().filter(|(_, reading)| applies(&reading.families, family));
    all.map(|(id, reading)| (id.clone(), pulled(reading, index)))
        .filter(|(_, pulled)| !(pulled.down.parents.is_empty() && pulled.up.parents.is_empty()))
        .collect()
}

fn pulled(reading: &Reading, index: &IndexMap<Id, usize>) -> PulledReading {
    let mut down = Leaf { leak: reading.leak.down.clamp(0.0, 1.0), parents: Vec::new() };
    let mut up = Leaf { leak: reading.leak.up.clamp(0.0, 1.0), parents: Vec::new() };
    for (id, pull) in &reading.moved_by {
        let Some(&node) = index.get(id) else { continue };
        let strength = pull.strength.number();
        match pull.way {
            Way::Down => down.parents.push((node, strength)),
            Way::Up => up.parents.push((node, strength)),
            Way::Either => {
                down.parents.push((node, strength / 2.0));
                up.parents.push((node, strength / 2.0));
            }
        }
    }
    PulledReading { down, up }
}

fn excludes(knowledge: &Knowledge, index: &IndexMap<Id, usize>) -> Vec<Vec<usize>> {
    let groups = knowledge.all.excludes.values();
    groups
        .map(|group| group.iter().filter_map(|id| index.get(id).copied()).collect::<Vec<_>>())
        .filter(|group| 1 < group.len())
        .collect()
}
