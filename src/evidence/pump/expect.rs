//! Turns a pump's model into everything it should read: bands healthy and with each condition, figures, warnings, and
//! which number of its sheet would be worth measuring.

use super::model::PumpModel;
use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Knowledge, applies, dimension_named};
use crate::physics::OutOfRange;
use crate::physics::likelihood::{Band, Number};
use crate::physics::sheet::{Figures, Known, Remark, figures, warnings};
use crate::physics::steady::State;
use crate::quantity::Dimension;

/// What one pump should read.
#[derive(Debug, Clone, PartialEq)]
pub struct Expectation {
    /// Healthy.
    pub healthy: Vec<Expected>,
    /// With each condition that the physics knows alone, by id.
    pub conditions: Vec<(Id, String, Vec<Expected>)>,
    /// Figures of the design.
    pub figures: Figures,
    /// What is unwise about it.
    pub warnings: Vec<Remark>,
    /// Numbers of the sheet that blur these readings most: the field, and the share of a reading's spread that would go.
    pub measure: Vec<(&'static str, f64)>,
}

/// One reading as expected.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// Reading.
    pub reading: Id,
    /// What it measures.
    pub dimension: Dimension,
    /// Running state it is taken in.
    pub state: State,
    /// Nine of ten such pumps read inside.
    pub band: Band,
}

/// Fields named as worth measuring.
const MEASURE: usize = 3;
/// A field that takes less than this of any reading's spread is not worth naming.
const WORTH: f64 = 0.1;

impl PumpModel {
    /// Everything the pump should read: each reading in its own running state, or all that physics knows in one state.
    ///
    /// # Errors
    /// [`OutOfRange`] where a severity leads to no possible pump.
    pub fn expectation(
        &self,
        knowledge: &Knowledge,
        graph: &Graph,
        state: Option<State>,
    ) -> Result<Expectation, OutOfRange> {
        let numbers = self.numbers_in(knowledge, &graph.family, state);
        let bands = |present: &[usize]| -> Result<Vec<Expected>, OutOfRange> {
            let mut found = Vec::new();
            for (id, dimension, number) in &numbers {
                if let Some(band) = self.band(number, present)? {
                    let (reading, dimension) = (id.clone(), *dimension);
                    found.push(Expected { reading, dimension, state: number.state, band });
                }
            }
            Ok(found)
        };
        let mut conditions = Vec::new();
        for &node in self.nodes() {
            let entry = &graph.nodes[node];
            conditions.push((entry.id.clone(), entry.name.clone(), bands(&[node])?));
        }
        let built = self.built();
        let figures = figures(&built)?;
        let warnings = warnings(&self.sheet, &built, &figures);
        let asked: Vec<Number> = numbers.iter().map(|(.., number)| *number).collect();
        let measure = self.worth_measuring(&asked)?;
        Ok(Expectation { healthy: bands(&[])?, conditions, figures, warnings, measure })
    }

    /// The fields nobody measured that blur the healthy readings most, the worst first, and the share of a reading's
    /// spread that would go.
    ///
    /// # Errors
    /// [`OutOfRange`] where the sheet is no possible pump.
    pub fn helps_most(&self, knowledge: &Knowledge, family: &str) -> Result<Vec<(&'static str, f64)>, OutOfRange> {
        let asked: Vec<Number> = self.numbers_in(knowledge, family, None).into_iter().map(|found| found.2).collect();
        self.worth_measuring(&asked)
    }

    /// Readings that physics knows, in their own running state, or each once in the state given.
    fn numbers_in(&self, knowledge: &Knowledge, family: &str, state: Option<State>) -> Vec<(Id, Dimension, Number)> {
        let mut found: Vec<(Id, Dimension, Number)> = Vec::new();
        // Of readings that show the same in the state asked for, the one that is taken at work speaks.
        let own = |id: &Id| self.number(knowledge, id, 0.0, None).map(|number| number.state != State::default());
        let mut readings: Vec<_> = knowledge.all.readings.iter().collect();
        readings.sort_by_key(|(id, _)| state.is_some().then(|| own(id)));
        for (id, reading) in readings {
            let dimension = dimension_named(&reading.quantity);
            let number = match state {
                Some(state) => self.number_in(knowledge, id, state),
                None => self.number(knowledge, id, 0.0, None),
            };
            let (true, Some(dimension), Some(number)) = (applies(&reading.families, family), dimension, number) else {
                continue;
            };
            let twice = |(_, _, other): &(Id, Dimension, Number)| {
                (other.output, other.of_healthy, other.state) == (number.output, number.of_healthy, number.state)
            };
            if !found.iter().any(twice) {
                found.push((id.clone(), dimension, number));
            }
        }
        found
    }

    /// The fields nobody measured that blur any of the healthy readings most, the worst first.
    fn worth_measuring(&self, numbers: &[Number]) -> Result<Vec<(&'static str, f64)>, OutOfRange> {
        let shares = self.blurred_by(numbers)?;
        let mut fields: Vec<(&'static str, f64)> = Vec::new();
        for &(field, name, part) in crate::physics::sheet::Field::ALL {
            let share = shares.iter().find(|share| Some(share.0) == part).map_or(0.0, |share| share.1);
            let taken = fields.iter().any(|(_, other)| (other - share).abs() < f64::EPSILON);
            if WORTH < share && !taken && self.sheet.known(field) != Known::Measured {
                fields.push((name, share));
            }
        }
        fields.sort_by(|a, b| b.1.total_cmp(&a.1));
        fields.truncate(MEASURE);
        Ok(fields)
    }
}
