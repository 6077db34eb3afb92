//! Turns both shafts by tachometer and the sheaves into the slip of the belt.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{MOTOR_SHEAVE, MOTOR_SPEED, PUMP_SHEAVE, SPEED};
use crate::quantity::Dimension;

const PUMP_SPEED: Input = SPEED.named("pump_speed", "speed of the pump's shaft");

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "belt_slip",
    formula: "s = 1 - n_pump·D/(n_motor·d)",
    inputs: [MOTOR_SPEED, PUMP_SPEED, MOTOR_SHEAVE, PUMP_SHEAVE],
    outputs: [Output::new("belt_slip", Dimension::Ratio, "%")],
    range: "0.5 to 2 % is sound, above 3 to 4 % look into it (from memory); below nothing a diameter is wrong or the sheaves are swapped",
    source: "derived from the ratio of the sheaves",
    compute: |[motor, pump, small, large]| Ok([1.0 - pump * large / (motor * small)]),
};

/// A share from rev/s and metres.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn belt_slip(motor_speed: f64, pump_speed: f64, motor_sheave: f64, pump_sheave: f64) -> Result<f64, OutOfRange> {
    LAW.one([motor_speed, pump_speed, motor_sheave, pump_sheave])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::belt_slip;
    use crate::physics::laws::{near, si};

    /// Derived: 1750 rpm, 5 in on 18 in, 478.8 rpm at the pump: 1.5 %.
    #[test]
    fn worked_example() {
        let slip = belt_slip(1750.0 / 60.0, 478.8 / 60.0, si(5.0, "in"), si(18.0, "in")).unwrap();
        near(slip, 0.015, 0.0002);
    }
}
