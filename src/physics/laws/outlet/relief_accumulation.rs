//! Turns the set pressure of a relief valve into its pressure at full flow.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const SET: Input =
    Input::new("set", "pressure at which it begins to open", Dimension::GaugePressure, "bar", (1e4, 1.5e8));
const ACCUMULATION: Input =
    Input::new("accumulation", "rise from opening to full flow", Dimension::Ratio, "%", (0.0, 0.5))
        .advice("10 % one valve, 16 % several, 21 % fire; simple springs reach 50 %");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "relief_accumulation",
    formula: "p_full = p_set·(1 + accumulation); 10 % one valve, 16 % several, 21 % fire",
    inputs: [SET, ACCUMULATION],
    outputs: [Output::new("full", Dimension::GaugePressure, "bar")],
    range: "set at or below the highest allowed pressure; inlet loss up to 3 % of the set pressure",
    source: "API 520/521 and ASME VIII UG-125 (secondary summary; from memory)",
    compute: |[set, accumulation]| Ok([set * (1.0 + accumulation)]),
};

/// Pa from Pa and a share.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn relief_accumulation(set: f64, accumulation: f64) -> Result<f64, OutOfRange> {
    LAW.one([set, accumulation])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::relief_accumulation;
    use crate::physics::laws::near;

    /// API 520 (from memory): one valve, 10 %.
    #[test]
    fn worked_example() {
        near(relief_accumulation(100e5, 0.10).unwrap(), 110e5, 1e-6);
    }
}
