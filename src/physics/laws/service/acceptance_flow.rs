//! Turns ideal flow and usual efficiency into the least flow to accept after a repair.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::DISPLACEMENT;
use crate::quantity::Dimension;

const EFFICIENCY: Input = Input::new("efficiency", "usual volumetric efficiency", Dimension::Ratio, "%", (0.0, 1.0));
const UNCERTAINTY: Input =
    Input::new("uncertainty", "uncertainty of the measured flow", Dimension::Ratio, "%", (0.0, 0.2))
        .meaningful(0.0, 1.0);

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "acceptance_flow",
    formula: "Q ≥ 0.97·Q_th·η_v, less the uncertainty of the measurement",
    inputs: [DISPLACEMENT, EFFICIENCY, UNCERTAINTY],
    outputs: [Output::new("least", Dimension::Flow, "L/min")],
    range: "default acceptance, to be set by the supervisor; speed within 1 % of the expected",
    source: "derived from API 674 and NPSHR practice (from memory)",
    compute: |[displacement, efficiency, uncertainty]| Ok([0.97 * displacement * efficiency * (1.0 - uncertainty)]),
};

/// m³/s from m³/s and shares.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceptance_flow(displacement: f64, efficiency: f64, uncertainty: f64) -> Result<f64, OutOfRange> {
    LAW.one([displacement, efficiency, uncertainty])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceptance_flow;
    use crate::physics::laws::{near, si};

    /// Arithmetic: 100 L/min ideal, 95 %, measured within 1.3 %: 90.95 L/min.
    #[test]
    fn worked_example() {
        near(acceptance_flow(si(100.0, "L/min"), 0.95, 0.013).unwrap(), si(90.95, "L/min"), si(0.01, "L/min"));
    }
}
