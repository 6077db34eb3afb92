//! Turns a stored network with evidence cases (schema in `tests/nets/README.md`) into belief's own types.

#![allow(clippy::unwrap_used, clippy::cast_possible_truncation, dead_code)]

use serde_json::Value;
use weephole::belief::{Leaf, Likelihood, Network, Node, Question};

/// A network file: hidden nodes first, then findings and readings.
pub struct NetFile {
    pub network: Network,
    /// Nodes of kind C, in file order.
    pub causes: Vec<usize>,
    pub cases: Vec<Vec<Likelihood>>,
    /// Nodes observed in each case, by their place in the file.
    observed: Vec<Vec<usize>>,
    names: Vec<String>,
    /// The question of every finding and reading that has parents, by place in the file.
    questions: Vec<(usize, Question)>,
}

impl NetFile {
    /// Reads a file; the message says what is wrong with it.
    pub fn read(path: &std::path::Path) -> Result<Self, String> {
        let text = std::fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))?;
        let file: Value = serde_json::from_str(&text).map_err(|error| format!("{}: {error}", path.display()))?;
        Self::from_json(&file)
            .ok_or_else(|| format!("{}: not a network as tests/nets/README.md describes it", path.display()))
    }

    fn from_json(file: &Value) -> Option<Self> {
        let nodes = file["nodes"].as_array()?;
        let bins: Vec<f64> = file["bins"].as_array()?.iter().filter_map(Value::as_f64).collect();
        let hidden = nodes.iter().take_while(|node| is(node, "CMD")).count();
        let own: Vec<Node> = nodes[..hidden].iter().map(|node| leaf(node).map(as_node)).collect::<Option<_>>()?;
        let network = Network::new(own, Vec::new(), false).ok()?;
        let questions: Vec<(usize, Question)> = (hidden..nodes.len())
            .filter(|&at| nodes[at]["parents"].as_array().is_some_and(|parents| !parents.is_empty()))
            .map(|at| question(&nodes[at], &bins).map(|question| (at, question)))
            .collect::<Option<_>>()?;
        let (mut evidence, mut observed) = (Vec::new(), Vec::new());
        for given in file["cases"].as_array()? {
            let given = given["ev"].as_object()?.iter();
            let given: Vec<(usize, u64)> =
                given.map(|(id, state)| Some((id.parse().ok()?, state.as_u64()?))).collect::<Option<_>>()?;
            evidence
                .push(given.iter().map(|&(at, state)| seen(nodes.get(at)?, at, &bins, state)).collect::<Option<_>>()?);
            observed.push(given.into_iter().map(|(at, _)| at).collect());
        }
        let names = nodes.iter().map(|node| node["name"].as_str().map(ToOwned::to_owned)).collect::<Option<_>>()?;
        let causes = (0..hidden).filter(|&at| is(&nodes[at], "C")).collect();
        Some(Self { network, causes, cases: evidence, observed, names, questions })
    }

    /// The questions still open in a case, with their names.
    pub fn open(&self, case: usize) -> (Vec<&str>, Vec<Question>) {
        let open = self.questions.iter().filter(|(at, _)| !self.observed[case].contains(at));
        open.map(|(at, question)| (self.names[*at].as_str(), question.clone())).unzip()
    }
}

fn is(node: &Value, kinds: &str) -> bool {
    node["kind"].as_str().is_some_and(|kind| kinds.contains(kind))
}

fn parents(node: &Value) -> Option<Vec<usize>> {
    node["parents"].as_array()?.iter().map(|index| Some(index.as_u64()? as usize)).collect()
}

fn numbers(value: &Value) -> Option<Vec<f64>> {
    value.as_array()?.iter().map(Value::as_f64).collect()
}

fn leaf(node: &Value) -> Option<Leaf> {
    let parents = parents(node)?.into_iter().zip(numbers(&node["w"])?).collect();
    Some(Leaf { leak: node["leak"].as_f64()?, parents })
}

fn as_node(leaf: Leaf) -> Node {
    Node { leak: leaf.leak, parents: leaf.parents }
}

fn question(node: &Value, bins: &[f64]) -> Option<Question> {
    if is(node, "F") {
        return Some(Question::Leaf { leaf: leaf(node)?, answers: vec![(1.0, 0.0), (0.0, 1.0)] });
    }
    let (parents, shift) = (parents(node)?, numbers(&node["shift"])?);
    let sigma = node["sigma"].as_f64()?;
    let below = |edge: f64, states: usize| {
        let mean: f64 = shift.iter().enumerate().filter(|(bit, _)| states >> bit & 1 == 1).map(|(_, by)| by).sum();
        0.5 * (1.0 + libm::erf((edge - mean) / sigma / std::f64::consts::SQRT_2))
    };
    let edges: Vec<f64> = std::iter::once(-1e9).chain(bins.iter().copied()).chain([1e9]).collect();
    let states = 1_usize << parents.len();
    let answers = edges
        .windows(2)
        .map(|edge| (0..states).map(|state| below(edge[1], state) - below(edge[0], state)).collect())
        .collect();
    Some(Question::Table { parents, answers })
}

/// A finding seen or not, a reading in one of its bins, or a hidden node known by a direct look.
fn seen(node: &Value, at: usize, bins: &[f64], state: u64) -> Option<Likelihood> {
    let yes = f64::from(u8::from(state == 1));
    match node["kind"].as_str()? {
        "R" => question(node, bins)?.likelihoods().into_iter().nth(state as usize),
        "F" => Some(Likelihood::Leaf { leaf: leaf(node)?, if_true: yes, if_false: 1.0 - yes }),
        _ => Some(Likelihood::Leaf { leaf: Leaf::of(at), if_true: yes, if_false: 1.0 - yes }),
    }
}
