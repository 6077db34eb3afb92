//! Turns journals, one after the other, into what each teaches; the graph of a family is made once.

use super::hidden::{Witness, witnesses};
use super::told::Told;
use crate::job::{Entry, Event};
use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Knowledge};
use indexmap::IndexMap;

/// What one job told, and what its asked answers say about the links.
#[derive(Debug, Clone, PartialEq)]
pub struct Taught {
    /// What it told.
    pub told: Told,
    /// What each asked answer says; empty where the job teaches nothing.
    pub witnesses: Vec<Witness>,
}

/// Reads journals against one knowledge.
pub struct Reader<'k> {
    knowledge: &'k Knowledge,
    graphs: IndexMap<(Id, Option<Vec<String>>), Graph>,
}

impl<'k> Reader<'k> {
    /// A reader for this knowledge.
    pub fn new(knowledge: &'k Knowledge) -> Self {
        Self { knowledge, graphs: IndexMap::new() }
    }

    /// What a journal teaches: its first line and all its entries. None unless it begins with an opening.
    pub fn read(&mut self, first_line: &str, entries: &[Entry]) -> Option<Taught> {
        let Event::Opened { family, pump, .. } = &entries.first()?.event else { return None };
        let fitted = pump.as_ref().and_then(|pump| pump.fitted.clone());
        let key = (family.clone(), fitted);
        if !self.graphs.contains_key(&key) {
            let graph = Graph::new(self.knowledge, &key.0, key.1.as_deref());
            self.graphs.insert(key.clone(), graph);
        }
        let graph = self.graphs.get(&key)?;
        let told = Told::of(self.knowledge, graph, first_line, entries)?;
        let witnesses = witnesses(self.knowledge, graph, &told);
        Some(Taught { told, witnesses })
    }
}
