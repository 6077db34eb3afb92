//! Turns motor speed and sheaves into the speed of the pump.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{MOTOR_SHEAVE, MOTOR_SPEED, PUMP_SHEAVE};
use crate::quantity::Dimension;

const BELT_SLIP: Input = Input::new("belt_slip", "slip and creep of the belt", Dimension::Ratio, "%", (0.0, 0.2))
    .meaningful(0.0, 1.0)
    .advice("a sound V-belt slips 0.5 to 2 %");

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "sheave_speed",
    formula: "n_pump = n_motor·(d/D)·(1 - s_belt)",
    inputs: [MOTOR_SPEED, MOTOR_SHEAVE, PUMP_SHEAVE, BELT_SLIP],
    outputs: [Output::new("pump_speed", Dimension::Speed, "rpm")],
    range: "V-belts slip and creep 0.5 to 2 %, look into it above 3 to 4 % (from memory)",
    source: "Khurmi and Gupta, example 11.1 (textbook companion)",
    compute: |[motor, small, large, slip]| Ok([motor * small / large * (1.0 - slip)]),
};

/// rev/s from rev/s, metres and a share.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn sheave_speed(motor_speed: f64, motor_sheave: f64, pump_sheave: f64, belt_slip: f64) -> Result<f64, OutOfRange> {
    LAW.one([motor_speed, motor_sheave, pump_sheave, belt_slip])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::sheave_speed;
    use crate::physics::laws::{near, si};

    /// Derived: 1750 rpm, 5 in on 18 in, 1.5 %: 478.8 rpm.
    #[test]
    fn worked_example() {
        let speed = sheave_speed(1750.0 / 60.0, si(5.0, "in"), si(18.0, "in"), 0.015).unwrap();
        near(speed, 478.8 / 60.0, 0.1 / 60.0);
    }
}
