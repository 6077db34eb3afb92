//! Turns the needles of a practice pump into what its two dials show from moment to moment, as shares of their faces.
//!
//! Nothing moves here: whoever draws it chooses the moment.

use super::exercise::Exercise;
use crate::knowledge::Scale;
use crate::knowledge::schema::Id;
use crate::quantity::{find_unit, in_unit};

/// The readings behind the two dials of a pump: inlet, outlet.
const DIALS: [&str; 2] = ["inlet_pressure_full", "outlet_pressure"];
/// Seconds between two points: a fifth of the lag of a usual needle, and some ten points to a stroke of a chamber.
const STEP: f64 = 0.005;
/// A trace is stretched to its own height, but no less than this share of the face fills it: a needle that stands is flat.
const LEAST_HEIGHT: f64 = 0.04;

/// A dial and its needle over some seconds, which then begin again.
#[derive(Debug, Clone, PartialEq)]
pub struct Dial {
    /// Reading.
    pub reading: Id,
    /// What it is called.
    pub name: &'static str,
    /// Ends of its face, in words.
    pub ends: (String, String),
    /// Lowest and highest of its needle, in words.
    pub between: (String, String),
    /// Lowest and highest of its needle, as shares of the face, 0 to 1.
    pub swing: (f64, f64),
    /// Healthy band as shares of the face, 0 to 1, where one is known.
    pub healthy: Option<(f64, f64)>,
    /// Seconds from one point to the next.
    pub step: f64,
    /// Points of the needle, at least one.
    pub course: Vec<DialPoint>,
}

/// Where a needle stands at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct DialPoint {
    /// Share of the face, 0 to 1.
    pub at: f64,
    /// Share of the height of the trace above the lowest point, 0 to 1.
    pub height: f64,
    /// The value with its unit.
    pub words: String,
}

impl Dial {
    /// The point at so many seconds; the course begins again at its end.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of steps, not negative")]
    pub fn point(&self, seconds: f64) -> usize {
        (seconds.max(0.0) / self.step) as usize % self.course.len().max(1)
    }
}

impl Exercise {
    /// True while the pump stands: stopped by a stop rule, or isolated.
    pub fn stands(&self) -> bool {
        self.sitting.is_isolated() || !self.sitting.allowed().running
    }

    /// The pump's dials as they are while it runs: inlet, then outlet; without those that have no needle.
    pub fn dials(&mut self) -> Vec<Dial> {
        let named = DIALS.into_iter().zip(["inlet gauge", "outlet gauge"]);
        named.filter_map(|(reading, name)| self.dial(reading, name)).collect()
    }

    fn dial(&mut self, reading: &str, name: &'static str) -> Option<Dial> {
        let course = every(STEP, &self.needle(reading));
        let low = course.iter().copied().reduce(f64::min)?;
        let high = course.iter().copied().reduce(f64::max)?;
        let (from, to) = self.face(reading).unwrap_or((low.min(0.0), high * 1.5)); // a pump without a gauge of known face
        let span = to - from;
        if !(0.0 < span && span.is_finite()) {
            return None;
        }
        let share = |si: f64| ((si - from) / span).clamp(0.0, 1.0);
        let words = |si: f64| self.in_words(reading, si);
        let height = (high - low).max(LEAST_HEIGHT * span);
        let point =
            |si: f64| DialPoint { at: share(si), height: ((si - low) / height).clamp(0.0, 1.0), words: words(si) };
        Some(Dial {
            reading: reading.to_owned(),
            name,
            ends: (words(from), words(to)),
            between: (words(low), words(high)),
            swing: (share(low), share(high)),
            healthy: self.healthy(reading).map(|(from, to)| (share(from), share(to))),
            step: STEP,
            course: course.into_iter().map(point).collect(),
        })
    }

    /// The healthy band of a reading in SI, unless it is a share of what is usual on a pump.
    fn healthy(&self, reading: &str) -> Option<(f64, f64)> {
        let scale = Scale::of(self.sitting.reading_of(reading)?).ok()?;
        scale.healthy.ends(None)
    }

    fn in_words(&self, reading: &str, si: f64) -> String {
        let quantity = self.sitting.quantity_of(reading, si);
        let unit = self.sitting.reading_of(reading).map(|reading| reading.unit.as_str());
        let both = quantity.and_then(|quantity| Some((quantity, find_unit(quantity.dimension(), unit?)?)));
        both.map_or_else(String::new, |(quantity, unit)| in_unit(quantity, unit))
    }
}

/// The values at even steps of so many seconds: at each the last point that was reached.
fn every(step: f64, course: &[(f64, f64)]) -> Vec<f64> {
    let mut values = Vec::new();
    let mut next = course.first().map_or(0.0, |(seconds, _)| *seconds);
    for (seconds, si) in course {
        if next <= *seconds {
            values.push(*si);
            next += step;
        }
    }
    values
}
