//! Turns a pump with connecting rods into its acceleration-head constant.

use crate::physics::kinematics::{Drive, extremes};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{CRANKS, ROD_RATIO, SIDES};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "acceleration_constant_rods",
    formula: "C = (2π/60)·max|d(q/mean q)/dθ|, q = Σ max(v, 0), v = sinθ·(1 + cosθ/sqrt(λ² - sin²θ))",
    inputs: [CRANKS, SIDES, ROD_RATIO],
    outputs: [Output::new("constant", Dimension::Number, "")],
    range: "ideal crank pumps; λ = 5 gives every tabled constant within 2 %",
    source: "derived from the kinematics; agrees with HI 6.1-6.5 and GPSA section 12 (from memory)",
    compute: |[cranks, sides, ratio]| {
        let drive = Drive { cranks, sides, rod_ratio: Some(ratio) };
        Ok([std::f64::consts::TAU / 60.0 * extremes(drive, 0).steepest])
    },
};

/// (min/rev)/s from whole numbers and rod length over crank radius.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceleration_constant_rods(cranks: f64, sides: f64, rod_ratio: f64) -> Result<f64, OutOfRange> {
    LAW.one([cranks, sides, rod_ratio])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceleration_constant_rods;
    use crate::physics::laws::near;

    /// Numerical kinematics with 90 720 points a turn, rods of 4, 5 and 6 crank radii.
    #[test]
    fn worked_example() {
        for (cranks, sides, constants) in [
            (1.0, 1.0, [0.411, 0.395, 0.384]),
            (1.0, 2.0, [0.206, 0.197, 0.192]),
            (2.0, 1.0, [0.206, 0.197, 0.192]),
            (2.0, 2.0, [0.124, 0.1155, 0.110]),
            (3.0, 1.0, [0.0685, 0.0658, 0.0640]),
            (4.0, 1.0, [0.0829, 0.0826, 0.0824]),
            (5.0, 1.0, [0.0411, 0.0395, 0.0384]),
            (6.0, 1.0, [0.0548, 0.0548, 0.0548]),
            (7.0, 1.0, [0.0294, 0.0282, 0.0274]),
            (9.0, 1.0, [0.0228, 0.0219, 0.0213]),
        ] {
            for (ratio, constant) in [4.0, 5.0, 6.0].into_iter().zip(constants) {
                near(acceleration_constant_rods(cranks, sides, ratio).unwrap(), constant, 0.000_51);
            }
        }
    }
}
