//! Turns power and speed into the torque at the shaft.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::SPEED;
use crate::quantity::Dimension;

const POWER: Input = Input::new("power", "power at the shaft", Dimension::Power, "kW", (0.0, 2e6));

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "shaft_torque",
    formula: "T = P/(2π·n)",
    inputs: [POWER, SPEED.within(0.1, 100.0)],
    outputs: [Output::new("torque", Dimension::Torque, "N m")],
    range: "mean over a turn",
    source: "definition",
    compute: |[power, speed]| Ok([power / (std::f64::consts::TAU * speed)]),
};

/// N m from W and rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn shaft_torque(power: f64, speed: f64) -> Result<f64, OutOfRange> {
    LAW.one([power, speed])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::shaft_torque;
    use crate::physics::laws::{near, si};

    /// Sullivan, example 7.1, p. 135 (textbook companion): 5 hp at 1725 rpm: 15.22 lbf ft.
    #[test]
    fn worked_example() {
        near(shaft_torque(si(5.0, "hp"), 1725.0 / 60.0).unwrap(), si(15.22, "lbf ft"), si(0.02, "lbf ft"));
    }
}
