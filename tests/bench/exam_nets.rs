//! Turns the shipped knowledge and a stored network into networks with questions, and a seed into jobs drawn from them.
#![allow(clippy::unwrap_used, clippy::cast_possible_truncation, clippy::cast_precision_loss, dead_code)]

use super::common;
use std::cell::RefCell;
use std::collections::HashMap;
use weephole::belief::{Leaf, Likelihood, Network, Node, Outcomes, Question, outcomes};
use weephole::evidence::{answered, leaf, network};
use weephole::knowledge::schema::AnswerError;
use weephole::knowledge::{Graph, Knowledge, NodeKind};

/// So many times the number of answers are looked at to draw from.
const SPARE: usize = 3;

/// A thing that can be asked.
pub struct Asked {
    /// As it truly shows itself.
    pub truly: Leaf,
    /// As it is answered, with the declared error.
    pub said: Leaf,
    /// Observes the same thing as others with this number.
    pub group: Option<usize>,
    /// Someone could complain of it.
    pub is_complaint: bool,
}

/// A network with questions.
pub struct Net {
    /// Name.
    pub name: String,
    /// Hidden nodes.
    pub network: Network,
    /// Causes.
    pub causes: Vec<usize>,
    asked: Vec<Asked>,
    telling: RefCell<HashMap<usize, Vec<usize>>>,
}

/// What is so, and what was said.
pub struct Job {
    /// State of each node.
    pub truth: Vec<bool>,
    /// The complaint, then the answers.
    pub said: Vec<Likelihood>,
}

/// Every family of the shipped knowledge, and the stored network of sixty causes.
pub fn all() -> Vec<Net> {
    let knowledge = common::shipped().knowledge;
    let families: Vec<String> = knowledge.all.families.keys().cloned().collect();
    families.iter().map(|family| Net::of_family(&knowledge, family)).chain([stored("n60")]).collect()
}

impl Net {
    /// A family of the knowledge; direct looks at a node are left out.
    pub fn of_family(knowledge: &Knowledge, family: &str) -> Self {
        let graph = Graph::new(knowledge, family, None);
        let group = |id: &String| knowledge.all.same_observation.values().position(|group| group.contains(id));
        let findings = graph.findings.iter().filter(|(id, _)| knowledge.all.findings[*id].verdict_on.is_none());
        let asked = findings.map(|(id, found)| {
            let finding = &knowledge.all.findings[id];
            let truly = leaf(found);
            let said = answered(&truly, finding.error);
            Asked { truly, said, group: group(id), is_complaint: !finding.aliases.is_empty() }
        });
        Self::new(family, network(&graph).unwrap(), graph.of_kind(NodeKind::Cause), asked.collect())
    }

    fn new(name: &str, network: Network, causes: Vec<usize>, asked: Vec<Asked>) -> Self {
        Self { name: name.to_owned(), network, causes, asked, telling: RefCell::default() }
    }

    /// Draws a job. `with_error`: answers are wrong as often as declared, else never.
    pub fn job(&self, answers: usize, with_error: bool, dice: &mut Dice) -> Job {
        let shows = |asked: &Asked, truth: &[bool], dice: &mut Dice| {
            let leaf = if with_error { &asked.said } else { &asked.truly };
            dice.chance(chance(leaf.leak, &leaf.parents, truth))
        };
        let complaints: Vec<usize> = (0..self.asked.len()).filter(|&at| self.asked[at].is_complaint).collect();
        let (truth, complaint) = loop {
            let Some(truth) = self.truth(dice) else { continue };
            let complaint = complaints[dice.below(complaints.len())];
            if shows(&self.asked[complaint], &truth, dice) {
                break (truth, complaint);
            }
        };
        let mut telling = self.telling(complaint);
        telling.truncate(SPARE * answers);
        let mut said = vec![say(&self.asked[complaint], true)];
        for _ in 0..answers.min(telling.len()) {
            let asked = &self.asked[telling.swap_remove(dice.below(telling.len()))];
            said.push(say(asked, shows(asked, &truth, dice)));
        }
        Job { truth, said }
    }

    /// States of all nodes with at least one cause; none if what was drawn cannot be.
    fn truth(&self, dice: &mut Dice) -> Option<Vec<bool>> {
        let mut truth: Vec<bool> = Vec::new();
        for node in self.network.nodes() {
            let present = dice.chance(chance(node.leak, &node.parents, &truth));
            truth.push(present);
        }
        let excluded = |group: &Vec<usize>| 1 < group.iter().filter(|&&node| truth[node]).count();
        let possible = self.causes.iter().any(|&cause| truth[cause]) && !self.network.excludes().iter().any(excluded);
        possible.then_some(truth)
    }

    /// Questions by what they tell of the causes given the complaint, the most telling first; one of each group.
    fn telling(&self, complaint: usize) -> Vec<usize> {
        if let Some(known) = self.telling.borrow().get(&complaint) {
            return known.clone();
        }
        let open: Vec<usize> = (0..self.asked.len()).filter(|&at| at != complaint).collect();
        let question =
            |&at: &usize| Question::Leaf { leaf: self.asked[at].said.clone(), answers: vec![(1.0, 0.0), (0.0, 1.0)] };
        let questions: Vec<Question> = open.iter().map(question).collect();
        let said = [say(&self.asked[complaint], true)];
        let found = outcomes(&self.network, &said, &questions, &self.causes).unwrap();
        let mut ranked: Vec<(f64, usize)> =
            found.iter().zip(open).map(|(outcomes, at)| (outcomes.as_ref().map_or(f64::INFINITY, left), at)).collect();
        ranked.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut groups: Vec<usize> = self.asked[complaint].group.into_iter().collect();
        let mut telling = Vec::new();
        for (_, at) in ranked {
            match self.asked[at].group {
                Some(group) if groups.contains(&group) => continue,
                Some(group) => groups.push(group),
                None => {}
            }
            telling.push(at);
        }
        self.telling.borrow_mut().insert(complaint, telling.clone());
        telling
    }
}

/// Bits left open about the causes, one by one, after the answer.
fn left(outcomes: &Outcomes) -> f64 {
    let bits = |p: f64| if p <= 0.0 || 1.0 <= p { 0.0 } else { -p * p.log2() - (1.0 - p) * (1.0 - p).log2() };
    outcomes.outcomes.iter().map(|o| o.probability * o.present.iter().map(|&p| bits(p)).sum::<f64>()).sum()
}

fn say(asked: &Asked, yes: bool) -> Likelihood {
    let (if_true, if_false) = if yes { (1.0, 0.0) } else { (0.0, 1.0) };
    Likelihood::Leaf { leaf: asked.said.clone(), if_true, if_false }
}

fn chance(leak: f64, parents: &[(usize, f64)], truth: &[bool]) -> f64 {
    1.0 - (1.0 - leak) * parents.iter().filter(|(p, _)| truth[*p]).map(|(_, strength)| 1.0 - strength).product::<f64>()
}

/// A stored network; its findings get the usual error of an answer.
pub fn stored(name: &str) -> Net {
    let path = common::root().join(format!("tests/nets/{name}.json"));
    let file: serde_json::Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let nodes = file["nodes"].as_array().unwrap();
    let kind = |node: &serde_json::Value| node["kind"].as_str().unwrap().to_owned();
    let links = |node: &serde_json::Value| -> Vec<(usize, f64)> {
        let parents = node["parents"].as_array().unwrap().iter().map(|at| at.as_u64().unwrap() as usize);
        parents.zip(node["w"].as_array().unwrap().iter().map(|w| w.as_f64().unwrap())).collect()
    };
    let hidden: Vec<Node> = nodes
        .iter()
        .filter(|node| "CMD".contains(&kind(node)))
        .map(|node| Node { leak: node["leak"].as_f64().unwrap(), parents: links(node) })
        .collect();
    let causes: Vec<usize> = (0..hidden.len()).filter(|&at| kind(&nodes[at]) == "C").collect();
    let asked = nodes.iter().filter(|node| kind(node) == "F" && !links(node).is_empty()).map(|node| {
        let truly = Leaf { leak: node["leak"].as_f64().unwrap(), parents: links(node) };
        Asked { said: answered(&truly, AnswerError::default()), truly, group: None, is_complaint: true }
    });
    let asked = asked.collect();
    Net::new(name, Network::new(hidden, Vec::new(), true).unwrap().with_causes(&causes), causes, asked)
}

/// Seeded dice: `SplitMix64` (Steele, Lea and Flood 2014, constants from memory).
pub struct Dice(u64);

impl Dice {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x2545_F491_4F6C_DD1D))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// True with this probability.
    pub fn chance(&mut self, probability: f64) -> bool {
        ((self.next() >> 11) as f64) < probability * 9_007_199_254_740_992.0
    }

    /// Evenly from 0 to 1.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / 9_007_199_254_740_992.0
    }

    /// Evenly from 0 to `many` − 1.
    pub fn below(&mut self, many: usize) -> usize {
        (self.next() % many as u64) as usize
    }
}
