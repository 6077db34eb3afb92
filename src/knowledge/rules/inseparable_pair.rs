//! Turns pairs of causes that no check tells apart into problems.

use super::Rule;
use crate::knowledge::apart::{APART, chances, signs};
use crate::knowledge::entries::Knowledge;
use crate::knowledge::graph::Graph;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::Id;
use std::collections::BTreeSet;

/// Most pairs told about one family: of a thousand causes that nobody looks at, half a million are alike.
const MOST_TOLD: usize = 1000;

/// Some check answers differently under any two causes that are put right differently, unless declared.
pub const RULE: Rule = Rule {
    name: "inseparable_pair",
    finds: "two causes of different remedies that no answer tells apart, and no `inseparable` entry that says why",
    matters: "the list can then never decide between two repairs, and nobody has said so",
    needs_all_files: true,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let mut told: BTreeSet<(Id, Id)> = BTreeSet::new();
    for family in knowledge.all.families.keys() {
        for (first, second) in pairs(knowledge, &Graph::new(knowledge, family, None)) {
            if is_declared(knowledge, &first, &second) || !told.insert((first.clone(), second.clone())) {
                continue;
            }
            let message = format!("no answer tells `{first}` from `{second}` on a pump of the family `{family}`");
            let hint = "add a look or test that does, or an `inseparable` entry with the reason".to_owned();
            problems.push(knowledge.problem(Severity::Warning, RULE.name, &first, &[], (message, hint)));
        }
    }
}

fn is_declared(knowledge: &Knowledge, a: &Id, b: &Id) -> bool {
    knowledge.all.inseparable.values().any(|entry| entry.causes.contains(a) && entry.causes.contains(b))
}

/// Pairs of causes with different remedies under which every answer is about as frequent.
fn pairs(knowledge: &Knowledge, graph: &Graph) -> Vec<(Id, Id)> {
    let mut asked = signs(knowledge, graph);
    asked.retain(|sign| sign.asked);
    let causes = knowledge.all.causes.iter().filter(|(_, cause)| !cause.stands_for_unknown);
    let shown: Vec<(&Id, Option<&Id>, Vec<f64>)> = causes
        .filter_map(|(id, cause)| Some((id, cause.remedy.as_ref(), chances(knowledge, graph, &asked, graph.node(id)?))))
        .collect();
    let mut pairs = Vec::new();
    for (at, (first, remedy, chances)) in shown.iter().enumerate() {
        for (second, other_remedy, other) in &shown[at + 1..] {
            let alike = chances.iter().zip(other).all(|(a, b)| (a - b).abs() < APART);
            if alike && (remedy != other_remedy || remedy.is_none()) {
                pairs.push(((*first).clone(), (*second).clone()));
                if MOST_TOLD <= pairs.len() {
                    return pairs;
                }
            }
        }
    }
    pairs
}
