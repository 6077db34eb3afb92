//! Turns a reading's place on the pump into what the model says it shows, with the pump's own healthy value first.

use super::expected::Row;
use crate::physics::steady::{Output, State};

/// A number read at the pump, or one that may be read, in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// Running state in which it is taken.
    pub state: State,
    /// What it shows.
    pub output: Output,
    /// It is told as a share of the healthy pump's.
    pub of_healthy: bool,
    /// What was read.
    pub value: f64,
    /// What the gauge may be off by: one standard deviation.
    pub error: f64,
    /// Lowest and highest value the gauge could show.
    pub scale: (f64, f64),
    /// What this pump shows there when healthy, if that was ever read.
    pub baseline: Option<f64>,
}

/// A gauge that shows a wrong value.
#[derive(Debug, Clone, PartialEq)]
pub struct Misread {
    /// What it shows.
    pub outputs: Vec<Output>,
    /// How far off: one standard deviation, in the unit of the outputs.
    pub by: f64,
    /// `by` is a share of the value instead.
    pub share: bool,
}

/// Share of a baseline's own error that counts: it is a mean of several readings by the same gauge.
const BASELINE_ERROR: f64 = 0.5;

/// How a number follows from what the model says, with the pump's own healthy value first: reading · factor + shift.
#[derive(Debug, Clone)]
pub struct View {
    output: Output,
    factor: f64,
    shift: f64,
    /// By how much the healthy value, which a baseline holds in place, moves with each part of the sheet: over the healthy
    /// value where the number goes by a factor.
    held: Vec<f64>,
    by_factor: bool,
    /// Variance of gauge and baseline.
    pub variance: f64,
}

impl View {
    /// What the gauge shows where the model says `reading`.
    pub fn value(&self, reading: f64) -> f64 {
        reading * self.factor + self.shift
    }

    /// Writes by how much the number moves with each part of the sheet, one standard deviation each.
    pub fn slopes(&self, row: &Row, into: &mut [f64]) {
        let held_by = if self.by_factor { row.middle[self.output as usize] } else { 1.0 };
        for ((slope, own), held) in into.iter_mut().zip(row.slopes_of(self.output)).zip(&self.held) {
            *slope = self.factor * (own - held_by * held);
        }
    }
}

impl Number {
    /// How it follows from the model, where the healthy pump shows `healthy`.
    pub(super) fn view(&self, healthy: &Row) -> View {
        let slopes: Vec<f64> = healthy.slopes_of(self.output).collect();
        let sound = healthy.middle[self.output as usize];
        let by_factor = (self.output.card().by_factor || self.of_healthy) && 0.0 < sound.abs();
        // What is shown is (reading · factor + shift); healthy it is the baseline.
        let usual = if self.of_healthy { Some(self.baseline.unwrap_or(1.0)) } else { self.baseline };
        let (factor, shift) = match usual {
            Some(baseline) if by_factor => (baseline / sound, 0.0),
            Some(baseline) => (1.0, baseline - sound),
            None => (1.0, 0.0),
        };
        let held = match usual {
            Some(_) if by_factor => slopes.iter().map(|slope| slope / sound).collect(),
            Some(_) => slopes,
            None => vec![0.0; slopes.len()],
        };
        let baseline_error = if self.baseline.is_some() && !self.of_healthy { BASELINE_ERROR } else { 0.0 };
        let variance = self.error * self.error * (1.0 + baseline_error);
        View { output: self.output, factor, shift, held, by_factor, variance }
    }

    /// Highest less lowest value the gauge could show.
    pub(super) fn range(&self) -> f64 {
        (self.scale.1 - self.scale.0).max(self.error)
    }
}
