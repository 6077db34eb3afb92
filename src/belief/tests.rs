//! Turns random small networks into a comparison with enumeration; tests only.

#![allow(clippy::unwrap_used)]

use super::enumeration::enumerate;
use super::{Leaf, Likelihood, Network, Node, Question, Sets, causes_posterior, explain, outcomes, posterior};
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

pub(super) fn leaf(nodes: usize) -> impl Strategy<Value = Leaf> {
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
        1 => (prop::sample::subsequence((0..nodes).collect::<Vec<_>>(), 1..4), prop::array::uniform8(0.01_f64..1.0))
            .prop_map(|(parents, values)| Likelihood::Table { values: values[..1 << parents.len()].to_vec(), parents }),
    ]
}

/// A joint factor over a few nodes that lists some sets or all.
fn sets(nodes: usize) -> impl Strategy<Value = Likelihood> {
    let chosen = prop::sample::subsequence((0..nodes).collect::<Vec<_>>(), 1..5);
    (chosen, prop::collection::vec((any::<bool>(), 0.01_f64..5.0), 16)).prop_map(|(nodes, listed)| {
        let all = listed.into_iter().enumerate().take(1 << nodes.len());
        let sets = all.filter(|(at, (is_listed, _))| *at == 1 || *is_listed).map(|(at, (_, value))| (at as u64, value));
        Likelihood::Sets(Sets { sets: sets.collect(), nodes })
    })
}

/// Evidence of every kind, a joint factor now and then among it.
fn small_with_sets() -> impl Strategy<Value = (Network, Vec<Likelihood>)> {
    (small(), prop::option::of(sets(11))).prop_map(|((network, mut evidence), sets)| {
        evidence.extend(sets);
        (network, evidence)
    })
}

pub(super) fn small() -> impl Strategy<Value = (Network, Vec<Likelihood>)> {
    (network(5, 6), prop::collection::vec(likelihood(11), 0..7))
}

pub(super) fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    /// Belief equals brute-force enumeration to 1e-9 (enumeration is the definition of the posterior).
    #[test]
    fn posterior_equals_enumeration((net, evidence) in small_with_sets()) {
        let (present, total) = enumerate(&net, &evidence);
        prop_assume!(1e-12 < total);
        let belief = posterior(&net, &evidence).unwrap();
        for (node, (a, b)) in belief.present.iter().zip(&present).enumerate() {
            prop_assert!(close(*a, *b), "node {node}: {a} instead of {b}");
        }
        let causes = causes_posterior(&net, &evidence).unwrap();
        for cause in (0..11).filter(|&node| net.is_cause(node)) {
            prop_assert!(close(causes.present[cause], present[cause]), "cause {cause}: {}", causes.present[cause]);
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
    fn outcomes_equal_the_posterior_after_the_answer((net, evidence) in small_with_sets(), leaf in leaf(11), down in leaf(11)) {
        let causes: Vec<usize> = (0..5).collect();
        let questions = vec![
            Question::Leaf { leaf: leaf.clone(), answers: vec![(0.95, 0.04), (0.05, 0.96)] },
            Question::Pulls {
                down: down.clone(),
                up: leaf.clone(),
                answers: vec![[0.1, 0.8, 0.1, 0.4], [0.8, 0.1, 0.1, 0.2], [0.1, 0.1, 0.8, 0.4]],
            },
            Question::Table {
                parents: vec![2, 7, 9],
                answers: vec![vec![0.7, 0.1, 0.3, 0.2, 0.9, 0.4, 0.0, 0.6], vec![0.3, 0.9, 0.7, 0.8, 0.1, 0.6, 1.0, 0.4]],
            },
        ];
        let found = outcomes(&net, &evidence, &questions, &causes).unwrap();
        let base = enumerate(&net, &evidence).1;
        prop_assume!(1e-12 < base);
        for (question, outcomes) in questions.iter().zip(&found) {
            let after = question.likelihoods();
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

/// Two layers: P(e) by the sum over subsets of the findings seen (Heckerman 1989), and P(c, e) likewise with c present.
fn quickscore(priors: &[f64], evidence: &[(Leaf, bool)], present: Option<usize>) -> f64 {
    let seen: Vec<usize> = (0..evidence.len()).filter(|&at| evidence[at].1).collect();
    let mut sum = 0.0;
    for subset in 0..1_usize << seen.len() {
        let off =
            |at: usize| !evidence[at].1 || seen.iter().position(|s| *s == at).is_some_and(|b| subset >> b & 1 == 1);
        let off: Vec<&Leaf> = (0..evidence.len()).filter(|&at| off(at)).map(|at| &evidence[at].0).collect();
        let mut product: f64 = off.iter().map(|leaf| 1.0 - leaf.leak).product();
        for (cause, prior) in priors.iter().enumerate() {
            let links = off.iter().flat_map(|leaf| &leaf.parents).filter(|link| link.0 == cause);
            let with = prior * links.map(|link| 1.0 - link.1).product::<f64>();
            product *= if present == Some(cause) { with } else { 1.0 - prior + with };
        }
        sum += if subset.count_ones() % 2 == 0 { product } else { -product };
    }
    sum
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// On two layers the belief agrees with another algorithm altogether, at a size that cannot be enumerated.
    #[test]
    fn two_layers_agree_with_the_subset_sum(
        priors in prop::collection::vec(0.001_f64..0.2, 30),
        evidence in prop::collection::vec((leaf(30), any::<bool>()), 1..10),
    ) {
        let nodes = priors.iter().map(|&leak| Node { leak, parents: Vec::new() }).collect();
        let net = Network::new(nodes, Vec::new(), false).unwrap();
        let sure = |(leaf, yes): &(Leaf, bool)| {
            let yes = f64::from(u8::from(*yes));
            Likelihood::Leaf { leaf: leaf.clone(), if_true: yes, if_false: 1.0 - yes }
        };
        let likelihoods: Vec<Likelihood> = evidence.iter().map(sure).collect();
        let total = quickscore(&priors, &evidence, None);
        prop_assume!(1e-6 < total);
        let belief = posterior(&net, &likelihoods).unwrap();
        for cause in 0..priors.len() {
            let expected = quickscore(&priors, &evidence, Some(cause)) / total;
            prop_assert!(close(belief.present[cause], expected), "{} instead of {expected}", belief.present[cause]);
        }
    }
}

/// Roots of which every pair shares a sign that was seen: one clique of all of them.
fn clique(roots: usize) -> (Network, Vec<Likelihood>) {
    let share = |at: usize| 0.02 + 0.01 * at as f64;
    let nodes = (0..roots).map(|at| Node { leak: share(at), parents: vec![] }).collect();
    let pairs = (0..roots).flat_map(|a| (0..a).map(move |b| (a, b)));
    let sign = |(a, b)| Likelihood::Leaf {
        leaf: Leaf { leak: 0.3, parents: vec![(a, 0.2), (b, 0.1)] },
        if_true: 0.9,
        if_false: 0.2,
    };
    (Network::new(nodes, vec![], true).unwrap(), pairs.map(sign).collect())
}

/// Beyond the width limit the belief is still exact, and says which nodes it went through case by case.
#[test]
fn a_wide_belief_goes_by_cases() {
    let (net, evidence) = clique(19);
    let belief = posterior(&net, &evidence).unwrap();
    assert_eq!(belief.by_cases.len(), 2);
    let (present, _) = enumerate(&net, &evidence);
    for (ours, theirs) in belief.present.iter().zip(&present) {
        assert!(close(*ours, *theirs), "{ours} instead of {theirs}");
    }
}

/// Far beyond it, the nodes to settle first are named.
#[test]
fn too_wide_names_what_to_settle_first() {
    let (net, evidence) = clique(24);
    let Err(super::BeliefError::TooTangled { width, ties }) = posterior(&net, &evidence) else { unreachable!() };
    assert_eq!((width, ties.len()), (21, 5));
}

/// Two readings that share a hidden severity: severe (both read 2) or mild (both read 1), half and half. Read as 2 and 2,
/// the condition weighs ½·1·1 against the healthy ¼·¼; a product of single effects would say ½·½ and is wrong. Worked by
/// hand: prior 0.1, P = 0.1·0.5 / (0.1·0.5 + 0.9·0.0625) = 0.470588; the naive product gives 0.307692.
#[test]
fn readings_that_share_a_severity() {
    let net = Network::new(vec![Node { leak: 0.1, parents: vec![] }], vec![], false).unwrap();
    let joint = |with: f64| Likelihood::Sets(Sets { nodes: vec![0], sets: vec![(0, 0.0625), (1, with)] });
    let belief = posterior(&net, &[joint(0.5)]).unwrap();
    assert!((belief.present[0] - 0.05 / (0.05 + 0.9 * 0.0625)).abs() < 1e-12);
    assert!(belief.left_out == 0.0);
    let naive = posterior(&net, &[joint(0.5 * 0.5)]).unwrap();
    assert!(0.1 < belief.present[0] - naive.present[0]);
}

/// What a joint factor does not list is bounded: of three coins, all three at once (0.001) is not listed. Its likelihood
/// can be at most the highest listed, 2, so at most 0.002 of 0.999 + 0.002.
#[test]
fn unlisted_sets_are_bounded() {
    let nodes = (0..3).map(|_| Node { leak: 0.1, parents: vec![] }).collect();
    let net = Network::new(nodes, vec![], false).unwrap();
    let sets = (0..7).map(|set| (set, if set == 0 { 1.0 } else { 2.0 })).collect();
    let belief = posterior(&net, &[Likelihood::Sets(Sets { nodes: vec![0, 1, 2], sets })]).unwrap();
    let listed = 0.729 + 2.0 * (1.0 - 0.729 - 0.001);
    assert!((belief.left_out - 0.002 / (listed + 0.002)).abs() < 1e-12, "{}", belief.left_out);
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
    assert_eq!(posterior(&net, &[yes.clone(), no.clone()]), Err(super::BeliefError::Impossible));
    assert_eq!(super::contradicting(&net, &[yes.clone(), no.clone()]).len(), 1);
    // Two against two: no single answer mends it; the first two stay.
    assert_eq!(super::contradicting(&net, &[yes.clone(), yes, no.clone(), no]), [2, 3]);
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
