//! Turns the working pressure into the span of a fitting gauge.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const WORKING: Input = Input::new("working", "working pressure", Dimension::GaugePressure, "bar", (0.0, 1e8));

/// The law as data.
pub static LAW: Law<1, 2> = Law {
    name: "gauge_span",
    formula: "least span = p_work/(2/3) for pulsating service, usual span = 2·p_work",
    inputs: [WORKING],
    outputs: [
        Output::new("least", Dimension::PressureDifference, "bar"),
        Output::new("usual", Dimension::PressureDifference, "bar"),
    ],
    range: "the working pressure belongs in the middle third to half of the dial",
    source: "EN 837-2 (from memory)",
    compute: |[working]| Ok([1.5 * working, 2.0 * working]),
};

/// Pa from Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn gauge_span(working: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([working])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::gauge_span;
    use crate::physics::laws::near;

    /// EN 837-2 (from memory): 100 bar pulsating needs at least 150 bar of span.
    #[test]
    fn worked_example() {
        near(gauge_span(100e5).unwrap()[0], 150e5, 1e-6);
    }
}
