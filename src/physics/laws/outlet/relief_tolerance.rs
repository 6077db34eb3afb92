//! Turns the set pressure of a relief valve into how far it may open off its label.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const SET: Input = Input::new("set", "pressure on the label", Dimension::GaugePressure, "bar", (1e4, 1.5e8));
/// Pa, exact (NIST SP 811).
const PSI: f64 = 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254);

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "relief_tolerance",
    formula: "2 psi up to 70 psi, 3 % above",
    inputs: [SET],
    outputs: [Output::new("tolerance", Dimension::PressureDifference, "bar")],
    range: "new or repaired code valves",
    source: "ASME VIII (from memory)",
    compute: |[set]| Ok([if set <= 70.0 * PSI { 2.0 * PSI } else { 0.03 * set }]),
};

/// Pa from Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn relief_tolerance(set: f64) -> Result<f64, OutOfRange> {
    LAW.one([set])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::relief_tolerance;
    use crate::physics::laws::{near, si};

    /// ASME VIII (from memory).
    #[test]
    fn worked_example() {
        near(relief_tolerance(si(60.0, "psi")).unwrap(), si(2.0, "psi"), 1e-6);
        near(relief_tolerance(100e5).unwrap(), 3e5, 1e-6);
    }
}
