//! Turns random small networks into fault sets, moved numbers and reasons, compared with enumeration; tests only.

#![allow(clippy::unwrap_used)]

use super::enumeration::enumerate;
use super::explain::{explain, in_order, under_set};
use super::lighten::without;
use super::tests::{close, leaf, small};
use super::{
    Change, Leaf, Likelihood, Network, Node, Question, STEP, Trial, fault_sets, half_and_double, heard, moved,
    outcomes, posterior, turns,
};
use proptest::prelude::*;

/// Causes of the small networks.
const CAUSES: usize = 5;

/// What is true of exactly these causes, as if someone had looked at each.
fn looked_at(set: &[usize]) -> Vec<Likelihood> {
    let look = |cause: usize| {
        let there = set.contains(&cause);
        let (if_true, if_false) = if there { (1.0, 0.0) } else { (0.0, 1.0) };
        Likelihood::Leaf { leaf: Leaf::of(cause), if_true, if_false }
    };
    (0..CAUSES).map(look).collect()
}

/// Probability that exactly these causes are present, by brute force.
fn exactly(net: &Network, evidence: &[Likelihood], set: &[usize]) -> f64 {
    let with: Vec<Likelihood> = evidence.iter().cloned().chain(looked_at(set)).collect();
    enumerate(net, &with).1 / enumerate(net, evidence).1
}

fn all_sets() -> Vec<Vec<usize>> {
    (0..1_usize << CAUSES).map(|bits| (0..CAUSES).filter(|cause| bits >> cause & 1 == 1).collect()).collect()
}

fn log_odds(p: f64) -> f64 {
    (p / (1.0 - p)).ln()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    /// Each listed set has its exact probability, the rest is the rest, and no set of at most three is more probable
    /// than a listed one (enumeration).
    #[test]
    fn fault_sets_equal_enumeration((net, evidence) in small(), most in 1_usize..8) {
        let present = posterior(&net, &evidence).unwrap().present;
        let found = fault_sets(&net, &evidence, &present, most).unwrap();
        for (set, p) in &found.sets {
            prop_assert!(close(*p, exactly(&net, &evidence, set)), "{set:?}: {p}");
        }
        let sum: f64 = found.sets.iter().map(|(_, p)| p).sum();
        prop_assert!(close(sum + found.others, 1.0));
        let least = if found.sets.len() < most { 0.0 } else { found.sets.last().unwrap().1 };
        for set in all_sets().into_iter().filter(|set| set.len() <= 3) {
            let listed = found.sets.iter().any(|(known, _)| *known == set);
            prop_assert!(listed || exactly(&net, &evidence, &set) <= least + 1e-9, "{set:?} is missing");
        }
    }

    /// A number with its odds halved and doubled has the effect that enumeration of the changed network gives.
    #[test]
    fn changes_equal_enumeration((net, evidence) in small(), node in 0_usize..11, target in 0_usize..CAUSES) {
        let leak_at = |step: f64| {
            let mut to = net.nodes()[node].clone();
            to.leak = moved(to.leak, step);
            to
        };
        let change = |step: f64| Change::Node { node, to: leak_at(step) };
        let then = |step: f64| {
            let mut nodes = net.nodes().to_vec();
            nodes[node] = leak_at(step);
            enumerate(&net.with_nodes(nodes).unwrap(), &evidence).0[target]
        };
        let linear = Trial::Linear { now: net.nodes()[node].leak, double: change(STEP) };
        let both = Trial::Both { half: change(-STEP), double: change(STEP) };
        let found = half_and_double(&net, &evidence, target, &[linear, both]).unwrap();
        for [half, double] in found.into_iter().flatten() {
            prop_assert!(close(half, then(-STEP)) && close(double, then(STEP)));
        }
        if let Some(Likelihood::Leaf { leaf, if_true, if_false }) = evidence.first() {
            let seen = |step: f64| {
                let mut leaf = leaf.clone();
                leaf.parents[0].1 = moved(leaf.parents[0].1, step);
                Likelihood::Leaf { leaf, if_true: *if_true, if_false: *if_false }
            };
            let then = |step: f64| {
                let mut changed = evidence.clone();
                changed[0] = seen(step);
                enumerate(&net, &changed).0[target]
            };
            let trial = Trial::Linear { now: leaf.parents[0].1, double: Change::Seen { at: 0, to: seen(STEP) } };
            let [half, double] = half_and_double(&net, &evidence, target, &[trial]).unwrap()[0].unwrap();
            prop_assert!(close(half, then(-STEP)) && close(double, then(STEP)));
        }
    }

    /// What is not heard changes nothing: a number of a node without a say moves no posterior of a cause.
    #[test]
    fn what_is_not_heard_changes_nothing((net, mut evidence) in small(), node in CAUSES..11) {
        let causes: Vec<usize> = (0..CAUSES).collect();
        let net = Network::new(net.nodes().to_vec(), Vec::new(), net.at_least_one()).unwrap().with_causes(&causes);
        evidence.truncate(1);
        prop_assume!(!heard(&net, &evidence)[node]);
        let own = &net.nodes()[node];
        let to = Node { leak: moved(own.leak, STEP), ..own.clone() };
        let before = posterior(&net, &evidence).unwrap().present[0];
        let trial = Trial::Both { half: Change::Node { node, to: own.clone() }, double: Change::Node { node, to } };
        let after = half_and_double(&net, &evidence, 0, &[trial]).unwrap()[0].unwrap();
        prop_assert!(close(after[0], before) && close(after[1], before));
    }

    /// Weights in order add up to the whole way from the prior; leave-one-out weights, conflict and suspicion are what
    /// their definitions say, by enumeration.
    #[test]
    fn reasons_equal_their_definitions((net, evidence) in small()) {
        let (prior, none) = enumerate(&net, &[]);
        let (after, all) = enumerate(&net, &evidence);
        prop_assume!(1e-6 < after[0] && after[0] < 1.0 - 1e-6);
        let why = explain(&net, &evidence, &[0]).unwrap();
        let added = in_order(&net, &evidence, 0).unwrap();
        let whole = 10.0 / std::f64::consts::LN_10 * (log_odds(after[0]) - log_odds(prior[0]));
        prop_assert!((added.iter().sum::<f64>() - whole).abs() < 1e-6);
        let mut apart = 0.0;
        for (at, said) in evidence.iter().enumerate() {
            let (spared, rest) = enumerate(&net, &without(&evidence, &[at]));
            let weight = 10.0 / std::f64::consts::LN_10 * (log_odds(after[0]) - log_odds(spared[0]));
            prop_assert!((why.decibans[at][0] - weight).abs() < 1e-6);
            let alone = enumerate(&net, std::slice::from_ref(said)).1 / none;
            apart += alone.log2();
            let other = match said {
                Likelihood::Leaf { leaf, if_true, if_false } => {
                    let mut turned = evidence.clone();
                    turned[at] = Likelihood::Leaf { leaf: leaf.clone(), if_true: *if_false, if_false: *if_true };
                    enumerate(&net, &turned).1 / rest
                }
                Likelihood::Pulls { .. } | Likelihood::Table { .. } | Likelihood::Sets(_) => alone,
            };
            let wrong = 0.05 * other / (0.05 * other + 0.95 * all / rest);
            prop_assert!(close(why.suspicion[at], wrong), "{} instead of {wrong}", why.suspicion[at]);
        }
        prop_assert!((why.conflict - (apart - (all / none).log2())).abs() < 1e-6);
    }

    /// Probability of each answer under a set of causes, by enumeration with every cause looked at.
    #[test]
    fn answers_under_a_set_equal_enumeration((net, evidence) in small(), bits in 1_usize..1 << CAUSES) {
        let set = all_sets().swap_remove(bits);
        prop_assume!(1e-12 < exactly(&net, &evidence, &set));
        let fits = under_set(&net, &evidence, &set).unwrap();
        let given = |evidence: &[Likelihood]| {
            let with: Vec<Likelihood> = evidence.iter().cloned().chain(looked_at(&set)).collect();
            enumerate(&net, &with).1
        };
        for (at, fit) in fits.iter().enumerate() {
            let expected = given(&evidence) / given(&without(&evidence, &[at]));
            prop_assert!(close(*fit, expected.min(1.0)), "answer {at}: {fit} instead of {expected}");
        }
    }

    /// After the named answer the named cause leads, and only then (belief after the answer, computed anew).
    #[test]
    fn turns_turn((net, evidence) in small(), asked in leaf(11)) {
        let causes: Vec<usize> = (0..CAUSES).collect();
        let present = posterior(&net, &evidence).unwrap().present;
        let leader = (0..CAUSES).max_by(|a, b| present[*a].total_cmp(&present[*b])).unwrap();
        let answers = vec![(1.0, 0.0), (0.0, 1.0)];
        let question = Question::Leaf { leaf: asked.clone(), answers: answers.clone() };
        let open = outcomes(&net, &evidence, &[question], &causes).unwrap();
        let found = turns(leader, &open);
        for (answer, (if_true, if_false)) in answers.into_iter().enumerate() {
            let mut with = evidence.clone();
            with.push(Likelihood::Leaf { leaf: asked.clone(), if_true, if_false });
            let (then, _) = enumerate(&net, &with);
            let most = then[..CAUSES].iter().copied().fold(0.0, f64::max);
            let turned = found.iter().find(|turn| turn.answer == answer);
            if let Some(turn) = turned {
                prop_assert!(close(turn.leader.1, most) && turn.leader.0 != leader);
            } else if found.is_empty() {
                prop_assert!(most <= then[leader] + 1.1e-3);
            }
        }
    }
}

/// Odds 1:9 doubled are 2:9, by hand; 0 and 1 stay where they are.
#[test]
fn a_number_moves_in_its_odds() {
    assert!((moved(0.1, std::f64::consts::LN_2) - 2.0 / 11.0).abs() < 1e-12);
    assert!((moved(moved(0.3, 0.7), -0.7) - 0.3).abs() < 1e-12);
    assert!(moved(0.0, 1.0).abs() < 1e-12 && (moved(1.0, -1.0) - 1.0).abs() < 1e-12);
}

/// One sure sign each: with both seen, the pair is the only set left. By hand.
#[test]
fn two_sure_signs_are_two_faults() {
    let nodes = (0..3).map(|_| Node { leak: 0.1, parents: Vec::new() }).collect();
    let net = Network::new(nodes, Vec::new(), true).unwrap();
    let sign = |cause| Likelihood::Leaf { leaf: Leaf::of(cause), if_true: 1.0, if_false: 0.0 };
    let evidence = [sign(0), sign(2)];
    let present = posterior(&net, &evidence).unwrap().present;
    let found = fault_sets(&net, &evidence, &present, 2).unwrap();
    assert_eq!(found.sets[0].0, [0, 2]);
    assert!((found.sets[0].1 - 0.9).abs() < 1e-12 && (found.sets[1].1 - 0.1).abs() < 1e-12);
}
