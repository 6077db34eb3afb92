//! Turns the answers of a confirmed job into how likely each condition was there, and that into what every asked answer says
//! about the links it can hang on.
//!
//! The confirmed cause is taken as there. After a proved repair every other cause is taken as absent, since the pump was
//! well with only this one put right; after a look alone the others keep their frequency as a background. What is left,
//! the conditions and damage above the answers, is worked out exactly from all of them, volunteered ones too: those are
//! true of the pump, only their links are not counted. What an answer itself says is then divided out of that belief,
//! so that it cannot bear witness to itself: exact where one parent is in doubt, and else as if the parents
//! were independent without it.

use super::told::{Confirmed, Told};
use crate::belief::{self, FOR_PLANNING, Likelihood, Network, Node, lighten, posterior, without};
use crate::evidence::{answered, leaf, weigh};
use crate::job::ConfirmedBy;
use crate::knowledge::schema::{AnswerError, Id};
use crate::knowledge::{Graph, Knowledge, NodeKind};

/// A parent less likely than this is not told: the answer says next to nothing about its link.
const LEAST: f64 = 0.02;
/// Chances are kept this far off 0 and 1 while odds are formed of them.
const OFF_EDGE: f64 = 1e-12;
/// Rounds of dividing an answer out of several parents at once.
const ROUNDS: usize = 200;

/// What one asked answer says about one link: parent → finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Witness {
    /// Finding asked.
    pub finding: Id,
    /// Cause, condition or damage that can show this way.
    pub parent: Id,
    /// The plain answer.
    pub yes: bool,
    /// Chance that the parent was there, from everything but this answer.
    pub present: f64,
    /// Chance of the likeliest other parent.
    pub rival: f64,
    /// Chance of a "yes" without this parent: by other parents, by itself, or by a slip.
    pub others: f64,
    /// Share of people who notice what is there.
    pub noticed: f64,
    /// The number of the link as it stands.
    pub strength: f64,
}

/// What a node is in this job.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Place {
    Present,
    Absent,
    /// A cause nobody looked for, with its frequency.
    Background(f64),
    /// To be worked out; its index there once it is needed.
    Hidden(Option<usize>),
}

/// Every asked answer of a confirmed job with every parent it may hang on. Empty where the answers cannot be true together
/// with the confirmed cause, or were not all given on the same pump.
pub fn witnesses(knowledge: &Knowledge, graph: &Graph, told: &Told) -> Vec<Witness> {
    let (Ok(confirmed), true) = (&told.confirmed, told.one_pump) else { return Vec::new() };
    let used = weigh(knowledge, graph, &told.facts, None).used;
    let verdict_on = |id: &Id| knowledge.all.findings.get(id).and_then(|finding| finding.verdict_on.as_ref());
    let looked_at: Vec<usize> = used.iter().filter_map(|(id, _)| graph.node(verdict_on(id)?)).collect();
    let job = Pump::of(graph, confirmed, &used, &looked_at);
    let Ok(network) = job.network() else { return Vec::new() };
    let folded: Vec<(&Id, Likelihood)> =
        used.iter().filter_map(|(id, likelihood)| Some((id, job.folded(likelihood)?))).collect();
    let all: Vec<Likelihood> = folded.iter().map(|(_, likelihood)| likelihood.clone()).collect();
    let left_out = lighten(&network, &all, FOR_PLANNING).left_out;
    let Ok(belief) = posterior(&network, &without(&all, &left_out)) else { return Vec::new() };
    let is_in = |id: &Id| folded.iter().enumerate().any(|(at, (used, _))| *used == id && !left_out.contains(&at));
    let counted = told.observations.iter().filter_map(|seen| Some((&seen.id, seen.counted()?)));
    counted.flat_map(|(id, yes)| job.witnesses(knowledge, (id, yes, is_in(id)), &belief.present)).collect()
}

/// The pump of one job: what is known of each node of the graph.
struct Pump<'a> {
    graph: &'a Graph,
    places: Vec<Place>,
    nodes: Vec<Node>,
}

impl<'a> Pump<'a> {
    /// Only what stands above the evidence is kept.
    fn of(graph: &'a Graph, confirmed: &Confirmed, used: &[(Id, Likelihood)], looked_at: &[usize]) -> Self {
        let place = |node: &crate::knowledge::GraphNode| match node.kind {
            NodeKind::Cause if node.id == confirmed.cause => Place::Present,
            NodeKind::Cause if confirmed.by == ConfirmedBy::Repair => Place::Absent,
            NodeKind::Cause => Place::Background(node.leak),
            NodeKind::Condition | NodeKind::Damage => Place::Hidden(None),
        };
        let mut job = Self { graph, places: graph.nodes.iter().map(place).collect(), nodes: Vec::new() };
        job.bring_in(looked_at);
        job.exclude();
        let mut needed = vec![false; graph.nodes.len()];
        for parent in used.iter().flat_map(|(_, likelihood)| likelihood.parents()) {
            needed[parent] = true;
        }
        for node in (0..graph.nodes.len()).rev().filter(|node| needed[*node]).collect::<Vec<_>>() {
            mark(graph, node, &mut needed);
        }
        for node in (0..graph.nodes.len()).filter(|node| needed[*node]) {
            if job.places[node] == Place::Hidden(None) {
                let (leak, parents) = job.fold(graph.nodes[node].leak, &graph.nodes[node].parents);
                let is_cause = graph.nodes[node].kind == NodeKind::Cause;
                job.places[node] = Place::Hidden(Some(job.nodes.len()));
                job.nodes.push(Node { leak: if is_cause { graph.nodes[node].leak } else { leak }, parents });
            }
        }
        job
    }

    /// A cause that somebody looked at is worked out like a condition.
    fn bring_in(&mut self, looked_at: &[usize]) {
        for &node in looked_at {
            if let Place::Background(_) = self.places[node] {
                self.places[node] = Place::Hidden(None);
            }
        }
    }

    /// What cannot hold together with the confirmed cause is absent.
    fn exclude(&mut self) {
        for group in &self.graph.excludes {
            if group.iter().any(|&node| self.places[node] == Place::Present) {
                for &node in group.iter().filter(|&&node| self.places[node] != Place::Present).collect::<Vec<_>>() {
                    self.places[node] = Place::Absent;
                }
            }
        }
    }

    /// The chance without any parent in doubt, and the parents in doubt.
    fn fold(&self, leak: f64, parents: &[(usize, f64)]) -> (f64, Vec<(usize, f64)>) {
        let (mut quiet, mut open) = (1.0 - leak, Vec::new());
        for &(parent, strength) in parents {
            match self.places[parent] {
                Place::Present => quiet *= 1.0 - strength,
                Place::Background(chance) => quiet *= 1.0 - chance * strength,
                Place::Hidden(Some(at)) => open.push((at, strength)),
                Place::Absent | Place::Hidden(None) => {}
            }
        }
        (1.0 - quiet, open)
    }

    fn network(&self) -> Result<Network, belief::NetworkError> {
        let index = |node: &usize| match self.places[*node] {
            Place::Hidden(at) => at,
            _ => None,
        };
        let groups = self.graph.excludes.iter().map(|group| group.iter().filter_map(index).collect::<Vec<_>>());
        let groups = groups.filter(|group| 1 < group.len()).collect();
        Ok(Network::new(self.nodes.clone(), groups, false)?.with_causes(&[]))
    }

    fn folded_leaf(&self, leaf: &belief::Leaf) -> belief::Leaf {
        let (alone, parents) = self.fold(leaf.leak, &leaf.parents);
        belief::Leaf { leak: alone, parents }
    }

    /// The same likelihood for what is in doubt; none where nothing is.
    fn folded(&self, likelihood: &Likelihood) -> Option<Likelihood> {
        let folded = match likelihood {
            Likelihood::Leaf { leaf, if_true, if_false } => {
                Likelihood::Leaf { leaf: self.folded_leaf(leaf), if_true: *if_true, if_false: *if_false }
            }
            Likelihood::Pulls { down, up, density } => {
                Likelihood::Pulls { down: self.folded_leaf(down), up: self.folded_leaf(up), density: *density }
            }
            Likelihood::Table { .. } | Likelihood::Sets(_) => return None,
        };
        (!folded.parents().is_empty()).then_some(folded)
    }

    /// What the answer to a finding says about each of its links; `counts` = it is in the belief.
    fn witnesses(&self, knowledge: &Knowledge, (id, yes, counts): (&Id, bool, bool), belief: &[f64]) -> Vec<Witness> {
        let (Some(found), Some(finding)) = (self.graph.findings.get(id), knowledge.all.findings.get(id)) else {
            return Vec::new();
        };
        if finding.verdict_on.is_some() {
            return Vec::new();
        }
        let (background, ways) = self.ways(&leaf(found), finding.error, belief);
        let present = if counts { divided_out(background, &ways, yes) } else { ways.iter().map(|way| way.1).collect() };
        let told = (0..ways.len()).filter(|&at| LEAST <= present[at]);
        told.map(|at| {
            let rivals = (0..ways.len()).filter(|&other| other != at).map(|other| present[other]);
            Witness {
                finding: id.clone(),
                parent: self.graph.nodes[ways[at].0].id.clone(),
                yes,
                present: present[at],
                rival: rivals.fold(0.0, f64::max),
                others: yes_without(at, background, &ways, &present),
                noticed: 1.0 - finding.error.missed,
                strength: ways[at].2 / (1.0 - finding.error.missed),
            }
        })
        .collect()
    }

    /// The chance of a "yes" by itself or by background causes, and every other parent: its node, its chance by the belief,
    /// and the strength of its link as answered.
    fn ways(&self, found: &belief::Leaf, error: AnswerError, belief: &[f64]) -> (f64, Vec<(usize, f64, f64)>) {
        let said = answered(found, error);
        let (mut quiet, mut ways) = (1.0 - said.leak, Vec::new());
        for &(parent, strength) in &said.parents {
            match self.places[parent] {
                Place::Present => ways.push((parent, 1.0, strength)),
                Place::Background(chance) => quiet *= 1.0 - chance * strength,
                Place::Hidden(Some(at)) => ways.push((parent, belief[at], strength)),
                Place::Absent | Place::Hidden(None) => {}
            }
        }
        (1.0 - quiet, ways)
    }
}

/// Marks the parents of a node, and theirs.
fn mark(graph: &Graph, node: usize, needed: &mut [bool]) {
    for &(parent, _) in &graph.nodes[node].parents {
        if !needed[parent] {
            needed[parent] = true;
            mark(graph, parent, needed);
        }
    }
}

/// Chance of a "yes" without the parent at this place.
fn yes_without(at: usize, background: f64, ways: &[(usize, f64, f64)], present: &[f64]) -> f64 {
    let others = (0..ways.len()).filter(|&other| other != at);
    1.0 - (1.0 - background) * others.map(|other| 1.0 - present[other] * ways[other].2).product::<f64>()
}

/// Chance of each parent without this answer: the belief's odds divided by how much likelier the answer is with the parent,
/// each in the light of the others, until nothing moves.
fn divided_out(background: f64, ways: &[(usize, f64, f64)], yes: bool) -> Vec<f64> {
    let mut present: Vec<f64> = ways.iter().map(|way| way.1).collect();
    for _ in 0..ROUNDS {
        let mut moved: f64 = 0.0;
        for at in 0..ways.len() {
            let (_, believed, strength) = ways[at];
            if believed <= OFF_EDGE || 1.0 - OFF_EDGE <= believed {
                continue;
            }
            let others = yes_without(at, background, ways, &present);
            let likelier = if yes { (1.0 - (1.0 - others) * (1.0 - strength)) / others } else { 1.0 - strength };
            let odds = believed / (1.0 - believed) / likelier.max(OFF_EDGE);
            // Half way only: two parents that explain the same "yes" would swing.
            let next = f64::midpoint(present[at], odds / (1.0 + odds));
            moved = moved.max((next - present[at]).abs());
            present[at] = next;
        }
        if moved < 1e-13 {
            break;
        }
    }
    present
}
