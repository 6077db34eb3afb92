//! Turns the invented pump sheets of the tests into models on the shipped knowledge.

#![allow(dead_code, clippy::unwrap_used)]

use super::common::root;
use weephole::evidence::{PumpData, PumpModel};
use weephole::knowledge::sheet::{SheetRead, read_sheet};
use weephole::knowledge::{Graph, Knowledge, SourceText};

/// A sheet of `tests/fixtures/physics/`.
pub fn sheet(knowledge: &Knowledge, name: &str) -> SheetRead {
    let text = std::fs::read_to_string(root().join("tests/fixtures/physics").join(name)).unwrap();
    let read = read_sheet(&SourceText { name: name.to_owned(), text }, knowledge);
    assert!(read.problems.is_empty(), "{:?}", read.problems);
    read
}

/// The graph and the model of a pump.
pub fn model(knowledge: &Knowledge, data: &PumpData) -> (Graph, PumpModel) {
    let graph = Graph::new(knowledge, "oil_backed", data.fitted.as_deref());
    let model = PumpModel::of(knowledge, &graph, data, &indexmap::IndexMap::new()).unwrap().unwrap();
    (graph, model)
}
