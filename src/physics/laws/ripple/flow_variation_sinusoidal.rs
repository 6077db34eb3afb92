//! Turns a pump driven by a wobble plate, swash plate or cam into how far its flow swings over a turn.

use crate::physics::kinematics::{Drive, extremes};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{CRANKS, SIDES};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 3> = Law {
    name: "flow_variation_sinusoidal",
    formula: "above = max(q)/mean - 1, below = min(q)/mean - 1, total = above - below; q = Σ max(v, 0), v = sin θ",
    inputs: [CRANKS, SIDES],
    outputs: [
        Output::new("above", Dimension::Ratio, "%"),
        Output::new("below", Dimension::Ratio, "%"),
        Output::new("total", Dimension::Ratio, "%"),
    ],
    range: "ideal kinematics without connecting rods; real valves, compressibility and dampers change it",
    source: "derived from the kinematics",
    compute: |[cranks, sides]| {
        let found = extremes(Drive { cranks, sides, rod_ratio: None }, 0);
        Ok([found.most - 1.0, found.least - 1.0, found.most - found.least])
    },
};

/// Shares of the mean flow: above, below (negative), total.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn flow_variation_sinusoidal(cranks: f64, sides: f64) -> Result<[f64; 3], OutOfRange> {
    LAW.at([cranks, sides])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::flow_variation_sinusoidal;
    use crate::physics::laws::near;

    /// Numerical kinematics; three chambers π/3 - 1 and π√3/6 - 1.
    #[test]
    fn worked_example() {
        for (cranks, above, below) in [
            (1.0, 2.142, -1.0),
            (2.0, 0.571, -1.0),
            (3.0, 0.0472, -0.0931),
            (4.0, 0.1107, -0.2146),
            (5.0, 0.0166, -0.0331),
            (7.0, 0.0084, -0.0168),
            (9.0, 0.0051, -0.0102),
        ] {
            let [up, down, _] = flow_variation_sinusoidal(cranks, 1.0).unwrap();
            near(up, above, 0.000_51);
            near(down, below, 0.000_51);
        }
        let [up, down, _] = flow_variation_sinusoidal(2.0, 2.0).unwrap();
        near(up, 0.1107, 0.000_51);
        near(down, -0.2146, 0.000_51);
        let [up, down, total] = flow_variation_sinusoidal(3.0, 1.0).unwrap();
        near(up, std::f64::consts::FRAC_PI_3 - 1.0, 1e-6);
        near(down, std::f64::consts::PI * 3f64.sqrt() / 6.0 - 1.0, 1e-6);
        near(total, up - down, 1e-12);
    }
}
