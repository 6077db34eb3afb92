//! Turns the expected inlet reading and the gauge's error into the readings to accept after a repair.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::GAUGE;
use crate::quantity::Dimension;

const EXPECTED: Input = GAUGE.named("expected", "expected reading, a vacuum negative");
const ERROR: Input = Input::new("error", "error of the gauge", Dimension::PressureDifference, "kPa", (0.0, 1e5));

/// The law as data.
pub static LAW: Law<2, 2> = Law {
    name: "acceptance_inlet",
    formula: "p = p_expected ± (gauge error + 10 % of the expected)",
    inputs: [EXPECTED, ERROR],
    outputs: [
        Output::new("lowest", Dimension::GaugePressure, "kPa"),
        Output::new("highest", Dimension::GaugePressure, "kPa"),
    ],
    range: "default acceptance, to be set by the supervisor",
    source: "derived from the inlet law and the gauge classes",
    compute: |[expected, error]| {
        let band = error + 0.1 * expected.abs();
        Ok([expected - band, expected + band])
    },
};

/// Pa above the atmosphere from Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceptance_inlet(expected: f64, error: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([expected, error])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceptance_inlet;
    use crate::physics::laws::near;

    /// Arithmetic: -20 kPa expected with a gauge of 3 kPa: -25 to -15 kPa.
    #[test]
    fn worked_example() {
        let [lowest, highest] = acceptance_inlet(-20e3, 3e3).unwrap();
        near(lowest, -25e3, 1e-6);
        near(highest, -15e3, 1e-6);
    }
}
