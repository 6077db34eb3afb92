//! Turns the expected speed into the speeds to accept after a repair.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::SPEED;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<1, 2> = Law {
    name: "acceptance_speed",
    formula: "n = n_expected ± 1 %",
    inputs: [SPEED],
    outputs: [Output::new("least", Dimension::Speed, "rpm"), Output::new("most", Dimension::Speed, "rpm")],
    range: "default acceptance, to be set by the supervisor; expected from tachometer and sheaves",
    source: "derived from the drive laws",
    compute: |[speed]| Ok([0.99 * speed, 1.01 * speed]),
};

/// rev/s from rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceptance_speed(speed: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([speed])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceptance_speed;
    use crate::physics::laws::near;

    /// Arithmetic: 500 rpm, 495 to 505.
    #[test]
    fn worked_example() {
        let [least, most] = acceptance_speed(500.0 / 60.0).unwrap();
        near(least, 495.0 / 60.0, 1e-12);
        near(most, 505.0 / 60.0, 1e-12);
    }
}
