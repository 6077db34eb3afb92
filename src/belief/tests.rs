//! Turns random small networks into a comparison with enumeration; tests only.

#![allow(clippy::unwrap_used)]

use super::enumeration::enumerate;
use super::{Leaf, Likelihood, Network, Node, Question, explain, outcomes, posterior};
use proptest::prelude::*;

/// Nodes: `causes` roots, then children with random parents among earlier nodes.
fn network(causes: usize, children: usize) -> impl Strategy<Value = Network> {
    let roots = prop::collection::vec(0.01_f64..0.4, causes);
    let rest = prop::collection::vec((0.0_f64..0.2, links(causes)), children);
    (roots, rest, prop::collection::vec(0..causes, 2), any::<bool>()).prop_map(
        move |(roots, rest, pair, at_least_one)| {
            let mut nodes: Vec<Node> = roots.into_iter().map(|leak| Node { leak, parents: Vec::new() }).collect();
            for (leak, parents) in rest {
                let n = nodes.len();
                nodes.push(Node { leak, parents: distinct(parents, n) });
            }
            let excludes = if pair[0] == pair[1] { Vec::new() } else { vec![pair] };
            Network::new(nodes, excludes, at_least_one).unwrap().with_causes(&(0..causes).collect::<Vec<_>>())
        },
    )
}

fn links(causes: usize) -> impl Strategy<Value = Vec<(usize, f64)>> {
    prop::collection::vec((0..causes + 6, 0.02_f64..1.0), 1..6)
}

fn distinct(parents: Vec<(usize, f64)>, below: usize) -> Vec<(usize, f64)> {
    let mut seen: Vec<(usize, f64)> = Vec::new();
    for (parent, strength) in parents {
        if parent < below && seen.iter().all(|(p, _)| *p != parent) {
            seen.push((parent, strength));
        }
    }
    seen
}

fn leaf(nodes: usize) -> impl Strategy<Value = Leaf> {
    (0.0_f64..0.1, prop::collection::vec((0..nodes, 0.02_f64..1.0), 1..7))
        .prop_map(move |(leak, parents)| Leaf { leak, parents: distinct(parents, nodes) })
}

fn likelihood(nodes: usize) -> impl Strategy<Value = Likelihood> {
    prop_oneof![
        3 => (leaf(nodes), 0.01_f64..1.0, 0.01_f64..1.0)
            .prop_map(|(leaf, if_true, if_false)| Likelihood::Leaf { leaf, if_true, if_false }),
        1 => leaf(nodes).prop_map(|leaf| Likelihood::Leaf { leaf, if_true: 0.0, if_false: 1.0 }),
        1 => (leaf(nodes), leaf(nodes), prop::array::uniform4(0.01_f64..1.0))
            .prop_map(|(down, up, density)| Likelihood::Pulls { down, up, density }),
    ]
}

fn small() -> impl Strategy<Value = (Network, Vec<Likelihood>)> {
    (network(5, 6), prop::collection::vec(likelihood(11), 0..7))
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Belief equals brute-force enumeration to 1e-9 (enumeration is the definition of the posterior).
    #[test]
    fn posterior_equals_enumeration((net, evidence) in small()) {
        let (present, total) = enumerate(&net, &evidence);
        let belief = posterior(&net, &evidence).unwrap();
        for (node, (a, b)) in belief.present.iter().zip(&present).enumerate() {
            prop_assert!(close(*a, *b), "node {node}: {a} instead of {b}");
        }
        prop_assert!((belief.log_evidence - total.ln()).abs() <= 1e-9);
        prop_assert!(belief.error_bound <= 1e-9);
    }

    /// The order of the answers does not matter; withdrawing one equals never having given it.
    #[test]
    fn order_does_not_matter((net, evidence) in small(), turn in 0_usize..7) {
        let mut turned = evidence.clone();
        if !turned.is_empty() {
            let by = turn % turned.len();
            turned.rotate_left(by);
        }
        let (a, b) = (posterior(&net, &evidence).unwrap(), posterior(&net, &turned).unwrap());
        for (x, y) in a.present.iter().zip(&b.present) {
            prop_assert!((x - y).abs() <= 1e-12);
        }
    }

    /// Each outcome equals the posterior after that answer, and the outcomes' probabilities follow the evidence.
    #[test]
    fn outcomes_equal_the_posterior_after_the_answer((net, evidence) in small(), leaf in leaf(11), down in leaf(11)) {
        let causes: Vec<usize> = (0..5).collect();
        let questions = vec![
            Question::Leaf { leaf: leaf.clone(), answers: vec![(0.95, 0.04), (0.05, 0.96)] },
            Question::Pulls {
                down: down.clone(),
                up: leaf.clone(),
                answers: vec![[0.1, 0.8, 0.1, 0.4], [0.8, 0.1, 0.1, 0.2], [0.1, 0.1, 0.8, 0.4]],
            },
        ];
        let found = outcomes(&net, &evidence, &questions, &causes).unwrap();
        let base = enumerate(&net, &evidence).1;
        for (question, outcomes) in questions.iter().zip(&found) {
            let after: Vec<Likelihood> = match question {
                Question::Leaf { leaf, answers } => answers
                    .iter()
                    .map(|&(if_true, if_false)| Likelihood::Leaf { leaf: leaf.clone(), if_true, if_false })
                    .collect(),
                Question::Pulls { down, up, answers } => answers
                    .iter()
                    .map(|&density| Likelihood::Pulls { down: down.clone(), up: up.clone(), density })
                    .collect(),
            };
            for (outcome, extra) in outcomes.as_ref().unwrap().outcomes.iter().zip(after) {
                let mut with = evidence.clone();
                with.push(extra);
                let (present, total) = enumerate(&net, &with);
                prop_assert!(close(outcome.probability, total / base));
                for (cause, value) in outcome.present.iter().enumerate() {
                    prop_assert!(close(*value, present[cause]), "cause {cause}: {value} instead of {}", present[cause]);
                }
            }
        }
    }
}

/// Three coins, one bell: P(cause | bell) by hand. Two causes of prior 0.1 each ring with 1; given the bell and at
/// least one cause, P(a) = 0.1 / (1 − 0.81) = 0.526316 (textbook explaining away, worked by hand).
#[test]
fn explaining_away_by_hand() {
    let nodes = vec![Node { leak: 0.1, parents: vec![] }, Node { leak: 0.1, parents: vec![] }];
    let bell = Leaf { leak: 0.0, parents: vec![(0, 1.0), (1, 1.0)] };
    let net = Network::new(nodes, vec![], false).unwrap();
    let rings = Likelihood::Leaf { leaf: bell, if_true: 1.0, if_false: 0.0 };
    let both = posterior(&net, std::slice::from_ref(&rings)).unwrap();
    assert!((both.present[0] - 0.1 / 0.19).abs() < 1e-12);
    let seen = Likelihood::Leaf { leaf: Leaf::of(1), if_true: 1.0, if_false: 0.0 };
    let away = posterior(&net, &[rings, seen]).unwrap();
    assert!((away.present[0] - 0.1).abs() < 1e-12);
}

/// Two answers that cannot both be true are refused by name, not by NaN.
#[test]
fn contradiction_is_named() {
    let net = Network::new(vec![Node { leak: 0.5, parents: vec![] }], vec![], false).unwrap();
    let yes = Likelihood::Leaf { leaf: Leaf::of(0), if_true: 1.0, if_false: 0.0 };
    let no = Likelihood::Leaf { leaf: Leaf::of(0), if_true: 0.0, if_false: 1.0 };
    assert_eq!(posterior(&net, &[yes, no]), Err(super::BeliefError::Impossible));
}

/// An answer that speaks against what the others say is the one to recheck.
#[test]
fn the_odd_answer_is_named() {
    let node = |leak| Node { leak, parents: vec![] };
    let net = Network::new(vec![node(0.05), node(0.05)], vec![], true).unwrap();
    let sign = |strength, yes: bool| Likelihood::Leaf {
        leaf: Leaf { leak: 0.01, parents: vec![(0, strength)] },
        if_true: if yes { 0.97 } else { 0.03 },
        if_false: if yes { 0.03 } else { 0.97 },
    };
    let answers = [sign(0.9, true), sign(0.95, true), sign(0.98, false), sign(0.9, true)];
    let why = explain(&net, &answers, &[0]).unwrap();
    let worst = (0..4).max_by(|a, b| why.relief[*a].total_cmp(&why.relief[*b])).unwrap();
    assert_eq!(worst, 2);
    assert!(0.0 < why.decibans[0][0] && why.decibans[2][0] < 0.0);
}

/// NaN and numbers outside 0..1 do not make a network.
#[test]
fn bad_numbers_are_refused() {
    for bad in [f64::NAN, -0.1, 1.1, f64::INFINITY] {
        assert!(Network::new(vec![Node { leak: bad, parents: vec![] }], vec![], false).is_err());
    }
}
