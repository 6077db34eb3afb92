//! Turns the numbers of the graph that have a say in the answers into those on which the first cause's place rests.

use crate::belief::{Change, Likelihood, Node, STEP, Trial, decibans_between, half_and_double, heard, moved};
use crate::evidence::{answered, leaf};
use crate::job::sitting::Sitting;
use crate::knowledge::schema::{AnswerError, Basis, Id, Link, Way};
use crate::knowledge::{Leaf, NodeKind, PulledReading};

/// Parents less probable than this are passed over: a number of theirs can move a posterior by about that much at most.
const LEAST_PARENT: f64 = 0.05;
/// Numbers that move the posterior by less than this are passed over.
const LEAST_MOVE: f64 = 0.01;
/// Numbers shown.
const SHOWN: usize = 5;

/// A number of the graph, and what the first cause would be with its odds halved and doubled.
#[derive(Debug, Clone, PartialEq)]
pub struct Sway {
    /// What it says.
    pub what: String,
    /// The number now, a probability.
    pub now: f64,
    /// What it rests on: the basis, and the source.
    pub source: String,
    /// Posterior of the first cause with the number's odds halved, and doubled.
    pub then: [f64; 2],
    /// The same way in decibans, from half to double.
    pub decibans: f64,
}

/// A number that can be tried.
struct Number {
    what: String,
    now: f64,
    source: String,
    tried: Trial,
}

impl Sitting {
    /// The numbers of the graph on which the place of the list's first cause rests most; its name before them. Nothing
    /// without a belief.
    pub fn numbers_that_matter(&self) -> Option<(String, Vec<Sway>)> {
        let target = self.first_cause().filter(|_| self.belief.is_ok())?;
        Some((self.graph.nodes[target].name.clone(), self.sways(target)))
    }

    fn sways(&self, target: usize) -> Vec<Sway> {
        let likelihoods = self.evidence.likelihoods();
        let numbers: Vec<Number> = self.numbers_of_nodes(target).into_iter().chain(self.numbers_of_answers()).collect();
        let trials: Vec<Trial> = numbers.iter().map(|number| number.tried.clone()).collect();
        let found = half_and_double(&self.network, &likelihoods, target, &trials).unwrap_or_default();
        let mut sways: Vec<Sway> = numbers
            .into_iter()
            .zip(found)
            .filter_map(|(number, then)| {
                let then = then?;
                let decibans = decibans_between(then[0], then[1]);
                Some(Sway { what: number.what, now: number.now, source: number.source, then, decibans })
            })
            .filter(|sway| LEAST_MOVE <= (sway.then[1] - sway.then[0]).abs())
            .collect();
        sways.sort_by(|a, b| (b.then[1] - b.then[0]).abs().total_cmp(&(a.then[1] - a.then[0]).abs()));
        sways.truncate(SHOWN);
        sways
    }

    /// Shares, leaks and links between nodes.
    fn numbers_of_nodes(&self, target: usize) -> Vec<Number> {
        let heard = heard(&self.network, &self.evidence.likelihoods());
        let counts = |node: usize| node == target || LEAST_PARENT <= self.present(node);
        let mut numbers = Vec::new();
        for (at, node) in self.graph.nodes.iter().enumerate().filter(|(at, _)| heard[*at] || *at == target) {
            let (what, source) = match node.kind {
                NodeKind::Cause => (format!("how often it is the cause: {}", node.name), self.share_source(&node.id)),
                _ => (format!("how often it comes without a cause listed here: {}", node.name), String::new()),
            };
            let own = Node { leak: node.leak, parents: node.parents.clone() };
            if 0.0 < node.leak && counts(at) {
                let tried = linear(node.leak, |leak| Change::Node { node: at, to: Node { leak, ..own.clone() } });
                numbers.push(Number { what, now: node.leak, source, tried });
            }
            for (place, &(parent, strength)) in node.parents.iter().enumerate().filter(|(_, (p, _))| counts(*p)) {
                let tried = linear(strength, |strength| {
                    let mut to = own.clone();
                    to.parents[place].1 = strength;
                    Change::Node { node: at, to }
                });
                let from = &self.graph.nodes[parent];
                let what = format!("how often {} leads to {}", from.name, node.name);
                numbers.push(Number { what, now: strength, source: self.link_source(&from.id, &node.id), tried });
            }
        }
        numbers
    }

    /// Links, leaks and errors of what was answered and measured.
    fn numbers_of_answers(&self) -> Vec<Number> {
        let used = self.evidence.used.iter().enumerate();
        used.flat_map(|(at, (id, said))| match said {
            Likelihood::Leaf { if_true, if_false, .. } => self.numbers_of_finding(at, id, (*if_true, *if_false)),
            Likelihood::Pulls { density, .. } => self.numbers_of_reading(at, id, *density),
            // Computed from the pump sheet, not from numbers of the graph.
            Likelihood::Table { .. } | Likelihood::Sets(_) => Vec::new(),
        })
        .collect()
    }

    fn numbers_of_finding(&self, at: usize, id: &Id, (if_true, if_false): (f64, f64)) -> Vec<Number> {
        let (Some(shown), Some(entry)) = (self.graph.findings.get(id), self.knowledge.all.findings.get(id)) else {
            return Vec::new();
        };
        let seen = |shown: &Leaf, error: AnswerError| {
            let to = Likelihood::Leaf { leaf: answered(&leaf(shown), error), if_true, if_false };
            Change::Seen { at, to }
        };
        let (error, name) = (entry.error, &entry.name);
        let own = "error of the answer".to_owned();
        let mut numbers = vec![
            Number {
                what: format!("how often it is said although it is not so: {name}"),
                now: error.false_yes,
                source: own.clone(),
                tried: linear(error.false_yes, |false_yes| seen(shown, AnswerError { false_yes, ..error })),
            },
            Number {
                what: format!("how often it is missed: {name}"),
                now: error.missed,
                source: own,
                tried: both(error.missed, |missed| seen(shown, AnswerError { missed, ..error })),
            },
        ];
        if 0.0 < shown.leak {
            let tried = linear(shown.leak, |leak| seen(&Leaf { leak, ..shown.clone() }, error));
            let what = format!("how often it shows without a cause listed here: {name}");
            numbers.push(Number { what, now: shown.leak, source: String::new(), tried });
        }
        for (place, &(parent, strength)) in shown.parents.iter().enumerate() {
            if entry.verdict_on.is_some() || self.present(parent) < LEAST_PARENT {
                continue;
            }
            let tried = linear(strength, |strength| {
                let mut to = shown.clone();
                to.parents[place].1 = strength;
                seen(&to, error)
            });
            let from = &self.graph.nodes[parent];
            let source = entry.shown_by.get(&from.id).map(|link| self.source_of(link)).unwrap_or_default();
            numbers.push(Number {
                what: format!("how often {} shows as: {name}", from.name),
                now: strength,
                source,
                tried,
            });
        }
        numbers
    }

    fn numbers_of_reading(&self, at: usize, id: &Id, density: [f64; 4]) -> Vec<Number> {
        let (Some(pulled), Some(entry)) = (self.graph.readings.get(id), self.knowledge.all.readings.get(id)) else {
            return Vec::new();
        };
        let mut numbers = Vec::new();
        for (node, pull) in &entry.moved_by {
            let Some(parent) = self.graph.node(node).filter(|&parent| LEAST_PARENT <= self.present(parent)) else {
                continue;
            };
            let now = pull.strength.number();
            let anew = |strength| {
                let PulledReading { down, up } = pull_anew(pulled, parent, pull.way, strength);
                Change::Seen { at, to: Likelihood::Pulls { down: leaf(&down), up: leaf(&up), density } }
            };
            let tried = if pull.way == Way::Either { both(now, anew) } else { linear(now, anew) };
            let what = format!("how often {} moves: {}", self.graph.nodes[parent].name, entry.name);
            let source = self.basis_and_source(pull.basis, pull.source.as_deref().or(entry.source.as_deref()));
            numbers.push(Number { what, now, source, tried });
        }
        numbers
    }

    fn share_source(&self, cause: &str) -> String {
        let entry = self.knowledge.all.causes.get(cause);
        entry.map(|entry| self.basis_and_source(entry.basis, entry.source.as_deref())).unwrap_or_default()
    }

    fn link_source(&self, from: &str, to: &str) -> String {
        let all = &self.knowledge.all;
        let links = all.causes.get(from).map(|entry| &entry.leads_to);
        let links = links.or_else(|| all.conditions.get(from).map(|entry| &entry.leads_to));
        let links = links.or_else(|| all.damage.get(from).map(|entry| &entry.leads_to));
        links.and_then(|links| links.get(to)).map(|link| self.source_of(link)).unwrap_or_default()
    }

    fn source_of(&self, link: &Link) -> String {
        self.basis_and_source(link.basis, link.source.as_deref())
    }

    fn basis_and_source(&self, basis: Basis, source: Option<&str>) -> String {
        let basis = match basis {
            Basis::Measured => "measured",
            Basis::Published => "published",
            Basis::Expert => "expert judgement",
            Basis::Guess => "guess",
        };
        format!("{basis}; {}", self.source_title(source))
    }
}

/// A number that stands once; `change` takes its new value.
fn linear(now: f64, change: impl Fn(f64) -> Change) -> Trial {
    Trial::Linear { now, double: change(moved(now, STEP)) }
}

/// A number that stands more than once.
fn both(now: f64, change: impl Fn(f64) -> Change) -> Trial {
    Trial::Both { half: change(moved(now, -STEP)), double: change(moved(now, STEP)) }
}

/// The reading with another strength of one pull.
fn pull_anew(pulled: &PulledReading, parent: usize, way: Way, strength: f64) -> PulledReading {
    let mut anew = pulled.clone();
    let set = |leaf: &mut Leaf, to: f64| {
        for link in leaf.parents.iter_mut().filter(|link| link.0 == parent) {
            link.1 = to;
        }
    };
    match way {
        Way::Down => set(&mut anew.down, strength),
        Way::Up => set(&mut anew.up, strength),
        Way::Either => {
            set(&mut anew.down, strength / 2.0);
            set(&mut anew.up, strength / 2.0);
        }
    }
    anew
}
