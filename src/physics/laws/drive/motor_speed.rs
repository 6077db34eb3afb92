//! Turns synchronous speed and slip into the speed of a motor.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::SYNCHRONOUS;
use crate::quantity::Dimension;

const SLIP: Input = Input::new("slip", "slip of the motor", Dimension::Ratio, "%", (0.0, 0.2))
    .meaningful(0.0, 1.0)
    .advice("motors slip 1 to 5 % at full load");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "motor_speed",
    formula: "n = n_sync·(1 - s)",
    inputs: [SYNCHRONOUS, SLIP],
    outputs: [Output::new("speed", Dimension::Speed, "rpm")],
    range: "slip at full load 1 to 5 % (from memory; a trade page says 2 to 5 %)",
    source: "Theraja, examples 34.4 and 34.5 (textbook companion)",
    compute: |[synchronous, slip]| Ok([synchronous * (1.0 - slip)]),
};

/// rev/s from rev/s and a share.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn motor_speed(synchronous: f64, slip: f64) -> Result<f64, OutOfRange> {
    LAW.one([synchronous, slip])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::motor_speed;
    use crate::physics::laws::near;

    /// Theraja, example 34.5, p. 1256 (textbook companion): 8 poles at 50 Hz, 3 %: 727.5 rpm.
    #[test]
    fn worked_example() {
        near(motor_speed(750.0 / 60.0, 0.03).unwrap(), 727.5 / 60.0, 0.1 / 60.0);
    }
}
