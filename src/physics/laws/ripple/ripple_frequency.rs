//! Turns speed and harmonic into the frequency of a ripple.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::SPEED;
use crate::quantity::Dimension;

const HARMONIC: Input =
    Input::new("harmonic", "beats a turn", Dimension::Count, "", (1.0, 100.0)).whole().advice("1 to 100 beats a turn");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "ripple_frequency",
    formula: "f_k = k·n/60, n in rpm",
    inputs: [HARMONIC, SPEED],
    outputs: [Output::new("frequency", Dimension::Frequency, "Hz")],
    range: "healthy: k = N with rods, 2N for odd N without; one bad chamber shows at k = 1",
    source: "definition",
    compute: |[harmonic, speed]| Ok([harmonic * speed]),
};

/// Hz from a whole number and rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn ripple_frequency(harmonic: f64, speed: f64) -> Result<f64, OutOfRange> {
    LAW.one([harmonic, speed])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::ripple_frequency;
    use crate::physics::laws::near;

    /// Arithmetic: three beats a turn at 500 rpm are 25 Hz.
    #[test]
    fn worked_example() {
        near(ripple_frequency(3.0, 500.0 / 60.0).unwrap(), 25.0, 1e-12);
    }
}
