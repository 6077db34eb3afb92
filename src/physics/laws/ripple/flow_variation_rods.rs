//! Turns a pump with connecting rods into how far its flow swings over a turn.

use crate::physics::kinematics::{Drive, extremes};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{CRANKS, ROD_RATIO, SIDES};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<3, 3> = Law {
    name: "flow_variation_rods",
    formula: "above = max(q)/mean - 1, below = min(q)/mean - 1, total = above - below; q = Σ max(v, 0), v = sinθ·(1 + cosθ/sqrt(λ² - sin²θ))",
    inputs: [CRANKS, SIDES, ROD_RATIO],
    outputs: [
        Output::new("above", Dimension::Ratio, "%"),
        Output::new("below", Dimension::Ratio, "%"),
        Output::new("total", Dimension::Ratio, "%"),
    ],
    range: "ideal kinematics: real valves, compressibility and dampers change it; the handbook table is λ = 6",
    source: "derived from the kinematics",
    compute: |[cranks, sides, ratio]| {
        let found = extremes(Drive { cranks, sides, rod_ratio: Some(ratio) }, 0);
        Ok([found.most - 1.0, found.least - 1.0, found.most - found.least])
    },
};

/// Shares of the mean flow: above, below (negative), total.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn flow_variation_rods(cranks: f64, sides: f64, rod_ratio: f64) -> Result<[f64; 3], OutOfRange> {
    LAW.at([cranks, sides, rod_ratio])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::flow_variation_rods;
    use crate::physics::laws::near;

    /// Numerical kinematics, rods of 6 crank radii (rounds to the Pump Handbook table, from memory).
    #[test]
    fn worked_example() {
        for (cranks, sides, above, below) in [
            (1.0, 1.0, 2.185, -1.0),
            (2.0, 1.0, 0.592, -1.0),
            (2.0, 2.0, 0.2425, -0.2146),
            (3.0, 1.0, 0.0617, -0.1695),
            (4.0, 1.0, 0.1107, -0.2146),
            (5.0, 1.0, 0.0186, -0.0520),
            (6.0, 1.0, 0.0472, -0.0931),
            (7.0, 1.0, 0.0093, -0.0258),
            (9.0, 1.0, 0.0056, -0.0155),
        ] {
            let [up, down, total] = flow_variation_rods(cranks, sides, 6.0).unwrap();
            near(up, above, 0.000_51);
            near(down, below, 0.000_51);
            near(total, above - below, 0.001);
        }
    }
}
