//! Turns one plunger's motion into the head that accelerates a rigid column.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{BORE, PIPE_LENGTH, PLUNGER, SPEED, STROKE};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<5, 1> = Law {
    name: "acceleration_head_column",
    formula: "h_a = (L/g)·(A_p/A_s)·ω²·r",
    inputs: [PIPE_LENGTH, PLUNGER, BORE, STROKE, SPEED],
    outputs: [Output::new("acceleration_head", Dimension::Length, "m")],
    range: "one cylinder without a rod, rigid column; the general form with K = 1 and C = π²/30",
    source: "Sarkar, example 9.4 (textbook companion)",
    compute: |[length, plunger, bore, stroke, speed]| {
        let omega = std::f64::consts::TAU * speed;
        let areas = plunger * plunger / (bore * bore);
        Ok([length / GRAVITY * areas * omega * omega * stroke / 2.0])
    },
};

/// Metres from metres and rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceleration_head_column(
    length: f64,
    plunger: f64,
    bore: f64,
    stroke: f64,
    speed: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([length, plunger, bore, stroke, speed])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceleration_head_column;
    use crate::physics::laws::near;

    /// Sarkar, example 9.4, p. 193 (textbook companion): 20.75 m.
    #[test]
    fn worked_example() {
        near(acceleration_head_column(22.0, 0.15, 0.1, 0.3, 50.0 / 60.0).unwrap(), 20.75, 0.02);
    }

    /// The general form with C = π²/30 and K = 1.
    #[test]
    fn it_is_the_general_form() {
        let mean = 0.15 * 0.15 / (0.1 * 0.1) * 0.3 * 50.0 / 60.0;
        let constant = std::f64::consts::PI * std::f64::consts::PI / 30.0;
        let general =
            crate::physics::laws::acceleration::acceleration_head(10.0, mean, 50.0 / 60.0, constant, 1.0).unwrap();
        near(acceleration_head_column(10.0, 0.15, 0.1, 0.3, 50.0 / 60.0).unwrap(), general, 1e-9);
    }
}
