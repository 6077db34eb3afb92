//! Turns what a condition does to a pump, at a severity, into a changed pump.

use super::part::Part;
use super::pump::Pump;

/// How a severity from 0 (slight) to 1 (grave) becomes a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Spread {
    /// Evenly between the ends.
    #[default]
    Even,
    /// Evenly between the logarithms of the ends.
    Log,
}

/// How a part is moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Change {
    /// Multiplied.
    Times(f64, f64),
    /// Added, in the part's unit.
    Add(f64, f64),
    /// Set, in the part's unit.
    To(f64, f64),
}

/// One part moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// Which.
    pub part: Part,
    /// From slight to grave.
    pub change: Change,
    /// In between.
    pub spread: Spread,
}

/// Everything that one condition does; one severity moves all of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Effect {
    /// The parts moved.
    pub moves: Vec<Move>,
}

impl Spread {
    /// The number at a severity from 0 (`from`) to 1 (`to`).
    pub fn between(self, from: f64, to: f64, severity: f64) -> f64 {
        match self {
            Self::Even => from + (to - from) * severity,
            Self::Log => from * libm::pow(to / from, severity),
        }
    }
}

impl Effect {
    /// Does it to a pump, at a severity from 0 to 1.
    pub fn put(&self, pump: &mut Pump, severity: f64) {
        for one in &self.moves {
            let at = |from, to| one.spread.between(from, to, severity);
            let value = &mut pump[one.part];
            match one.change {
                Change::Times(from, to) => *value *= at(from, to),
                Change::Add(from, to) => *value += at(from, to),
                Change::To(from, to) => *value = at(from, to),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Spread;

    #[test]
    fn the_middle_of_a_log_spread_is_the_geometric_mean() {
        assert!((Spread::Log.between(3.0, 12.0, 0.5) - 6.0).abs() < 1e-12);
        assert!((Spread::Even.between(3.0, 12.0, 0.5) - 7.5).abs() < 1e-12);
    }
}
