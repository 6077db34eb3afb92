//! Turns a gauge's span and class into its error.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::SPAN;
use crate::quantity::Dimension;

const CLASS: Input = Input::new("class", "allowed error as a share of the span", Dimension::Ratio, "%", (0.0, 0.2))
    .advice("most gauges at a pump are 1.6 to 3 %");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "gauge_error",
    formula: "error = class·span",
    inputs: [SPAN, CLASS],
    outputs: [Output::new("error", Dimension::PressureDifference, "bar")],
    range: "sound gauge; EN 837-1 class 1.6 is ±1.6 % of span",
    source: "ASME B40.100 and EN 837-1 (from memory)",
    compute: |[span, class]| Ok([span * class]),
};

/// Pa either way from Pa and a share.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn gauge_error(span: f64, class: f64) -> Result<f64, OutOfRange> {
    LAW.one([span, class])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::gauge_error;
    use crate::physics::laws::{near, si};

    /// ASME B40.100: 0 to 1500 psi, grade B at mid-scale 2 %: 30 psi. Compound gauge of 30 inHg at 3 %: 0.9 inHg.
    #[test]
    fn worked_example() {
        near(gauge_error(si(1500.0, "psi"), 0.02).unwrap(), si(30.0, "psi"), 1e-6);
        near(gauge_error(si(30.0, "inHg"), 0.03).unwrap(), si(0.9, "inHg"), 1e-6);
    }
}
