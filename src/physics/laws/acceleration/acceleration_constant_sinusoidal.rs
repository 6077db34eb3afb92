//! Turns a pump driven by a wobble plate, swash plate or cam into its acceleration-head constant.

use crate::physics::kinematics::{Drive, extremes};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{CRANKS, SIDES};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "acceleration_constant_sinusoidal",
    formula: "C = (2π/60)·max|d(q/mean q)/dθ|, q = Σ max(sin θ, 0); three chambers: π²/180 = 0.0548",
    inputs: [CRANKS, SIDES],
    outputs: [Output::new("constant", Dimension::Number, "")],
    range: "pistons that move as a sine, without connecting rods",
    source: "derived from the kinematics",
    compute: |[cranks, sides]| {
        let drive = Drive { cranks, sides, rod_ratio: None };
        Ok([std::f64::consts::TAU / 60.0 * extremes(drive, 0).steepest])
    },
};

/// (min/rev)/s from whole numbers.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceleration_constant_sinusoidal(cranks: f64, sides: f64) -> Result<f64, OutOfRange> {
    LAW.one([cranks, sides])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceleration_constant_sinusoidal;
    use crate::physics::laws::near;

    /// Numerical kinematics; three chambers exactly π²/180.
    #[test]
    fn worked_example() {
        near(acceleration_constant_sinusoidal(3.0, 1.0).unwrap(), std::f64::consts::PI.powi(2) / 180.0, 1e-6);
        let of_cranks =
            [(1.0, 0.329), (2.0, 0.164), (4.0, 0.0822), (5.0, 0.0329), (6.0, 0.0548), (7.0, 0.0235), (9.0, 0.0183)];
        for (cranks, constant) in of_cranks {
            near(acceleration_constant_sinusoidal(cranks, 1.0).unwrap(), constant, 0.000_51);
        }
        near(acceleration_constant_sinusoidal(2.0, 2.0).unwrap(), 0.082, 0.000_51);
    }
}
