//! Turns changes into the cases that they can move.

use crate::editing::Change;
use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Kind, Knowledge};
use std::collections::BTreeSet;

/// Kinds that no case looks at: texts, and what comes after the cause is known.
const MOVE_NOTHING: [Kind; 6] =
    [Kind::Sources, Kind::Cautions, Kind::Lessons, Kind::Codes, Kind::Service, Kind::Retired];

/// Fields that say where a number comes from.
const SAY_WHERE_FROM: [&str; 3] = ["source", "reviewed", "disputed"];

/// The cases that these changes can move, in the order of the files: cases that changed themselves, and all cases of the
/// families in whose graph something changed. What stands in no graph (checks, remedies, rules) counts for every family.
pub fn cases_touched(old: &Knowledge, new: &Knowledge, changes: &[Change]) -> Vec<Id> {
    let mut families: BTreeSet<&str> = BTreeSet::new();
    let mut cases: BTreeSet<&str> = BTreeSet::new();
    let all: BTreeSet<&str> = [old, new].into_iter().flat_map(|k| k.all.families.keys()).map(String::as_str).collect();
    let graphs: Vec<Graph> = [old, new]
        .into_iter()
        .flat_map(|knowledge| knowledge.all.families.keys().map(|family| Graph::new(knowledge, family, None)))
        .collect();
    for change in changes {
        match Kind::named(&change.kind) {
            Some(Kind::Cases) => drop(cases.insert(&change.id)),
            Some(kind) if MOVE_NOTHING.contains(&kind) || says_where_from(change) => {}
            Some(Kind::Causes | Kind::Conditions | Kind::Damage | Kind::Findings | Kind::Readings) => {
                let holding = graphs.iter().filter(|graph| stands_in(graph, &change.id));
                families.extend(holding.map(|graph| graph.family.as_str()));
            }
            Some(_) => families.extend(&all),
            // The glossary and the name of the release.
            None => {}
        }
    }
    let of = |knowledge: &Knowledge, id: &Id| {
        knowledge.all.cases.get(id).is_some_and(|case| families.contains(case.family.as_str()))
    };
    let fresh = new.all.cases.keys().filter(|id| !old.all.cases.contains_key(*id));
    let ids = old.all.cases.keys().chain(fresh);
    ids.filter(|id| cases.contains(id.as_str()) || of(old, id) || of(new, id)).cloned().collect()
}

fn says_where_from(change: &Change) -> bool {
    let last = change.field.as_deref().and_then(|field| field.rsplit('.').next());
    last.is_some_and(|field| SAY_WHERE_FROM.contains(&field))
}

fn stands_in(graph: &Graph, id: &str) -> bool {
    graph.node(id).is_some() || graph.findings.contains_key(id) || graph.readings.contains_key(id)
}
