//! Turns synchronous and measured speed into the slip of a motor.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{MOTOR_SPEED, SYNCHRONOUS};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "motor_slip",
    formula: "s = (n_sync - n)/n_sync",
    inputs: [SYNCHRONOUS, MOTOR_SPEED],
    outputs: [Output::new("slip", Dimension::Ratio, "%")],
    range: "1 to 5 % at full load; below nothing, the poles or the frequency are wrong",
    source: "Theraja, example 34.1 (textbook companion)",
    compute: |[synchronous, motor]| Ok([1.0 - motor / synchronous]),
};

/// A share from rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn motor_slip(synchronous: f64, motor_speed: f64) -> Result<f64, OutOfRange> {
    LAW.one([synchronous, motor_speed])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::motor_slip;
    use crate::physics::laws::near;

    /// Theraja, example 34.1 (textbook companion): 290 of 300 rpm: 3.33 %.
    #[test]
    fn worked_example() {
        near(motor_slip(300.0 / 60.0, 290.0 / 60.0).unwrap(), 0.0333, 0.0001);
    }
}
