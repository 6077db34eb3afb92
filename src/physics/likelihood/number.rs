//! Turns a reading's place on the pump into what the model says it shows, with the pump's own healthy value first.

use super::expected::Row;
use crate::physics::steady::{Output, Readings, State};

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

/// What the model says about one number in one set: one value per draw, one slope per part of the sheet.
#[derive(Debug, Clone)]
pub struct Predicted {
    /// One per draw of the severities.
    pub draws: Vec<f64>,
    /// Change by one standard deviation of each part.
    pub slopes: Vec<f64>,
    /// Variance of gauge and baseline.
    pub variance: f64,
}

impl Number {
    /// What the model says in a set of suspects (`row`), where the healthy pump shows `healthy`.
    pub(super) fn predicted(&self, row: &Row, healthy: &Row) -> Predicted {
        let at = |readings: &Readings| readings[self.output as usize];
        let sound = at(&healthy.middle);
        let by_factor = self.output.card().by_factor || self.of_healthy;
        // What is shown is (reading · factor + shift); healthy it is the baseline.
        let usual = if self.of_healthy { Some(self.baseline.unwrap_or(1.0)) } else { self.baseline };
        let (factor, shift) = match usual {
            Some(baseline) if by_factor && sound.abs() > 0.0 => (baseline / sound, 0.0),
            Some(baseline) => (1.0, baseline - sound),
            None => (1.0, 0.0),
        };
        let middle = at(&row.middle);
        let slope = |(own, of_healthy): (&Readings, &Readings)| match usual {
            // An error of the sheet moves the healthy value along, which the baseline holds in place.
            Some(_) if by_factor && sound.abs() > 0.0 => factor * (at(own) - middle / sound * at(of_healthy)),
            Some(_) => at(own) - at(of_healthy),
            None => at(own),
        };
        let known = if self.baseline.is_some() { BASELINE_ERROR * factor.max(1.0) } else { 0.0 };
        Predicted {
            draws: row.draws.iter().map(|readings| at(readings) * factor + shift).collect(),
            slopes: row.slopes.iter().zip(&healthy.slopes).map(slope).collect(),
            variance: self.error * self.error * (1.0 + if self.of_healthy { 0.0 } else { known }),
        }
    }

    /// Highest less lowest value the gauge could show.
    pub(super) fn range(&self) -> f64 {
        (self.scale.1 - self.scale.0).max(self.error)
    }
}
