//! Turns the number of chambers into the swing of the flow when one no longer pumps.

use crate::physics::kinematics::{Drive, extremes};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::TWO_CHAMBERS;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<1, 2> = Law {
    name: "dead_chamber_swing",
    formula: "swing = (max - min)/new mean of Σ max(sin, 0) without one chamber; no flow for max(0, 2/N - 1/2) of a turn",
    inputs: [TWO_CHAMBERS],
    outputs: [Output::new("swing", Dimension::Ratio, "%"), Output::new("no_flow", Dimension::Ratio, "%")],
    range: "without connecting rods and without a damper",
    source: "derived from the kinematics",
    compute: |[chambers]| {
        let found = extremes(Drive { cranks: chambers, sides: 1.0, rod_ratio: None }, 1);
        let swing = (found.most - found.least) * chambers / (chambers - 1.0);
        Ok([swing, (2.0 / chambers - 0.5).max(0.0)])
    },
};

/// Peak to peak over the new mean flow, and the share of a turn without flow.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn dead_chamber_swing(chambers: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([chambers])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::dead_chamber_swing;
    use crate::physics::laws::near;

    /// Numerical kinematics: N 3 157 % and 1/6 of a turn, 4 148 %, 5 80.9 %, 6 71.2 %, 7 54.0 %, 9 40.4 %.
    #[test]
    fn worked_example() {
        for (chambers, swing) in [(3.0, 1.571), (4.0, 1.48), (5.0, 0.809), (6.0, 0.712), (7.0, 0.540), (9.0, 0.404)] {
            near(dead_chamber_swing(chambers).unwrap()[0], swing, 0.001);
        }
        near(dead_chamber_swing(3.0).unwrap()[1], 1.0 / 6.0, 1e-12);
        near(dead_chamber_swing(4.0).unwrap()[1], 0.0, 1e-12);
    }
}
