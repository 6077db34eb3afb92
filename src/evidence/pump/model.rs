//! Turns a pump and its suspects in the graph into likelihoods of numbers and bands for dials.

use super::bind::{Shown, shown, suspect};
use super::data::PumpData;
use crate::belief::{Likelihood, Sets};
use crate::evidence::facts::{Facts, of_key};
use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Knowledge, Scale};
use crate::physics::OutOfRange;
use crate::physics::likelihood::{Band, Expected, Number, Suspect, Weighed, sets_of};
use crate::physics::sheet::{Built, Field, PumpSheet, Remark, build, impossible};
use crate::physics::steady::{Output, Part, State};
use crate::quantity::Quantity;
use indexmap::IndexMap;
use std::cell::RefCell;
use thiserror::Error;

/// Suspects present together at most.
pub const MOST_TOGETHER: usize = 3;
/// Suspects of one pump, at most: a set of them is one word of bits, and all sets of three stay countable.
pub const MOST_SUSPECTS: usize = 60;

/// Why a sheet makes no pump.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ModelError {
    /// Numbers that cannot stand together.
    #[error("{}: {}; {}", .0.field.name(), .0.message, .0.hint)]
    Impossible(Remark),
    /// A number that no pump has.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// What one pump should read, healthy and with each condition of the graph that the physics knows.
#[derive(Debug)]
pub struct PumpModel {
    /// The sheet.
    pub sheet: PumpSheet,
    /// Rows are made when first needed.
    expected: RefCell<Expected>,
    /// Graph node of each suspect.
    nodes: Vec<usize>,
    baselines: Vec<(String, Id, f64)>,
}

impl PumpModel {
    /// The model of a pump; `None` while too little is known of it, or where the graph has no condition that physics
    /// knows.
    ///
    /// # Errors
    /// [`ModelError`] for a sheet that is no pump.
    pub fn of(
        knowledge: &Knowledge,
        graph: &Graph,
        data: &PumpData,
        usual: &IndexMap<Id, Quantity>,
    ) -> Result<Option<Self>, ModelError> {
        let sheet = data.sheet(usual);
        if let Some(remark) = impossible(&sheet).into_iter().next() {
            return Err(ModelError::Impossible(remark));
        }
        let Some(built) = build(&sheet)? else { return Ok(None) };
        let of_node = |(at, node): (usize, &crate::knowledge::GraphNode)| {
            let found = suspect(knowledge.all.conditions.get(&node.id)?)?.ok()?;
            Some((at, found))
        };
        let (nodes, suspects): (Vec<usize>, Vec<_>) =
            graph.nodes.iter().enumerate().filter_map(of_node).take(MOST_SUSPECTS).unzip();
        if nodes.is_empty() {
            return Ok(None);
        }
        let expected = RefCell::new(Expected::new(built, suspects)?);
        Ok(Some(Self { sheet, expected, nodes, baselines: data.baselines.clone() }))
    }

    /// The pump as its sheet says, and how far off each part may be.
    pub fn built(&self) -> Built {
        self.expected.borrow().built.clone()
    }

    /// What each suspect does.
    pub fn suspects(&self) -> Vec<Suspect> {
        self.expected.borrow().suspects().to_vec()
    }

    /// Graph node of each suspect.
    pub fn nodes(&self) -> &[usize] {
        &self.nodes
    }

    /// The number of a reading or key, if physics knows it: `value` in SI, `usual` this pump's healthy value.
    pub fn number(&self, knowledge: &Knowledge, key: &str, value: f64, usual: Option<f64>) -> Option<Number> {
        let (id, words) = of_key(key);
        let reading = knowledge.all.readings.get(id)?;
        let Shown { output, state: own, of_healthy } = shown(reading)?.ok()?;
        let state = if words.is_empty() { own } else { State::parse(words).ok()? };
        let scale = Scale::of(reading).ok()?;
        let baseline = usual.or_else(|| self.baseline(id, own, state));
        let error = scale.error.max(self.gauge_error(output));
        Some(Number { state, output, of_healthy, value, error, scale: (scale.low, scale.high), baseline })
    }

    /// The same reading taken in another running state.
    pub fn number_in(&self, knowledge: &Knowledge, id: &str, state: State) -> Option<Number> {
        let own = self.number(knowledge, id, 0.0, None)?;
        Some(Number { state, baseline: self.baseline(id, own.state, state), ..own })
    }

    /// What this pump read when healthy, in a running state.
    fn baseline(&self, id: &str, own: State, wanted: State) -> Option<f64> {
        let taken_in = |words: &str| if words.trim().is_empty() { Ok(own) } else { State::parse(words) };
        let fits = |(words, reading, _): &&(String, Id, f64)| reading == id && taken_in(words) == Ok(wanted);
        self.baselines.iter().find(fits).map(|found| found.2)
    }

    /// Error of the gauge on the sheet: its class is taken as two standard deviations.
    fn gauge_error(&self, output: Output) -> f64 {
        let of = |span: Field, class: Field| Some(self.sheet.get(span)? * self.sheet.get(class)? / 2.0);
        let found = match output {
            Output::InletPressure => of(Field::InletGaugeSpan, Field::InletGaugeClass),
            Output::OutletPressure => of(Field::OutletGaugeSpan, Field::OutletGaugeClass),
            _ => None,
        };
        found.unwrap_or(0.0)
    }

    /// The numbers among the facts that physics knows, in the order of their ids.
    pub fn numbers(&self, knowledge: &Knowledge, facts: &Facts) -> Vec<(Id, Number)> {
        let mut found: Vec<(Id, Number)> = facts
            .numbers
            .iter()
            .filter_map(|(id, measured)| {
                let usual = facts.usual.get(id).map(|quantity| quantity.si());
                Some((id.clone(), self.number(knowledge, id, measured.quantity.si(), usual)?))
            })
            .collect();
        found.sort_by(|a, b| a.0.cmp(&b.0));
        found
    }

    /// All numbers as one joint factor over the suspects that matter to them, and how badly the best set fits; `None` if
    /// none matters.
    ///
    /// # Errors
    /// [`OutOfRange`] where a severity leads to no possible pump.
    pub fn factor(&self, numbers: &[Number]) -> Result<Option<(Likelihood, f64)>, OutOfRange> {
        let live = self.live(numbers)?;
        let mut expected = self.expected.borrow_mut();
        if live.is_empty() {
            return Ok(None);
        }
        let sets = sets_of(&live, MOST_TOGETHER);
        let Weighed { likelihoods, distance } = expected.weigh(numbers, &sets)?;
        let renumbered =
            |set: u64| live.iter().enumerate().fold(0, |bits, (at, &suspect)| bits | (set >> suspect & 1) << at);
        let sets = sets.into_iter().map(renumbered).zip(likelihoods).collect();
        let nodes = live.iter().map(|&suspect| self.nodes[suspect]).collect();
        Ok(Some((Likelihood::Sets(Sets { nodes, sets }), distance)))
    }

    /// Makes `portion` more of what weighing these numbers together takes; true once all of it is made.
    ///
    /// # Errors
    /// [`OutOfRange`] where a severity leads to no possible pump.
    pub fn prepare_some(&self, numbers: &[Number], portion: usize) -> Result<bool, OutOfRange> {
        let sets = sets_of(&self.live(numbers)?, MOST_TOGETHER);
        let mut expected = self.expected.borrow_mut();
        for number in numbers {
            if !expected.prepare_some(number.state, &sets, portion)? {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// The suspects that matter to any of the numbers.
    ///
    /// # Errors
    /// [`OutOfRange`] where a severity leads to no possible pump.
    pub fn live(&self, numbers: &[Number]) -> Result<Vec<usize>, OutOfRange> {
        self.expected.borrow_mut().matter_to(numbers)
    }

    /// By how much each part of the sheet blurs the healthy reading that it blurs most, as a share of its variance.
    ///
    /// # Errors
    /// [`OutOfRange`] where the sheet is no possible pump.
    pub fn blurred_by(&self, numbers: &[Number]) -> Result<Vec<(Part, f64)>, OutOfRange> {
        self.expected.borrow_mut().blurred_by(numbers)
    }

    /// The band of a reading with these graph nodes present (none = healthy); `None` where a node is no suspect.
    ///
    /// # Errors
    /// [`OutOfRange`] where a severity leads to no possible pump.
    pub fn band(&self, number: &Number, present: &[usize]) -> Result<Option<Band>, OutOfRange> {
        let place = |node: &usize| self.nodes.iter().position(|known| known == node);
        let Some(places) = present.iter().map(place).collect::<Option<Vec<usize>>>() else { return Ok(None) };
        let set = places.into_iter().fold(0, |set, place| set | 1 << place);
        self.expected.borrow_mut().band(number, set).map(Some)
    }
}
