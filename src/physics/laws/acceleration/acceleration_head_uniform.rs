//! Turns a change of velocity in a given time into the head it takes.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{PIPE_LENGTH, VELOCITY};
use crate::quantity::Dimension;

const TIME: Input = Input::new("time", "time of the change", Dimension::Time, "s", (1e-3, 3600.0));

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "acceleration_head_uniform",
    formula: "h_a = L·(V2 - V1)/(g·t)",
    inputs: [
        PIPE_LENGTH,
        VELOCITY.named("velocity_1", "velocity before"),
        VELOCITY.named("velocity_2", "velocity after"),
        TIME,
    ],
    outputs: [Output::new("acceleration_head", Dimension::Length, "m")],
    range: "even acceleration of a rigid column",
    source: "Henshaw, Acceleration Head (trade journal)",
    compute: |[length, first, second, time]| Ok([length * (second - first) / (GRAVITY * time)]),
};

/// Metres from metres, m/s and seconds; negative when the column is slowed.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceleration_head_uniform(length: f64, velocity_1: f64, velocity_2: f64, time: f64) -> Result<f64, OutOfRange> {
    LAW.one([length, velocity_1, velocity_2, time])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceleration_head_uniform;
    use crate::physics::laws::near;

    /// Arithmetic: 10 m brought to 1 m/s in 1 s needs 10/9.80665 m.
    #[test]
    fn worked_example() {
        near(acceleration_head_uniform(10.0, 0.0, 1.0, 1.0).unwrap(), 1.019_72, 1e-5);
    }
}
