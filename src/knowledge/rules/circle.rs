//! Turns links that run in a circle into problems that name the circle.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::Id;
use petgraph::algo::tarjan_scc;
use petgraph::graphmap::DiGraphMap;

/// The graph must have no circle.
pub const RULE: Rule = Rule {
    name: "circle",
    finds: "conditions and damage that lead to each other in a circle",
    matters: "belief needs a direction; a vicious circle is cut where the evidence flows, and the cut is written down",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let mut links: DiGraphMap<&str, ()> = DiGraphMap::new();
    let mut selves: Vec<&Id> = Vec::new();
    for (id, condition) in knowledge.all.conditions.iter().chain(&knowledge.all.damage) {
        for to in condition.leads_to.keys() {
            links.add_edge(id.as_str(), to.as_str(), ());
            if id == to {
                selves.push(id);
            }
        }
    }
    let mut circles: Vec<Vec<&str>> = tarjan_scc(&links).into_iter().filter(|members| 1 < members.len()).collect();
    circles.extend(selves.into_iter().map(|id| vec![id.as_str()]));
    for mut circle in circles {
        circle.sort_unstable();
        let message = format!("these lead to each other in a circle: {}", circle.join(" → "));
        let hint = "remove the link along which the evidence flows least, and say so in a comment".to_owned();
        problems.push(knowledge.problem(Severity::Error, RULE.name, circle[0], &["leads_to"], (message, hint)));
    }
}
