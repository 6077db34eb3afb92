//! Turns a shown and a true pressure into the error of a gauge.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::SPAN;
use crate::quantity::Dimension;

const SHOWN: Input = Input::new("shown", "what the gauge shows", Dimension::GaugePressure, "bar", (-110e3, 2e8));
const TRUE: Input = Input::new("actual", "what a good gauge shows", Dimension::GaugePressure, "bar", (-110e3, 2e8));

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "gauge_offset",
    formula: "error = (shown - true)/span",
    inputs: [SHOWN, TRUE, SPAN],
    outputs: [Output::new("error", Dimension::Ratio, "%")],
    range: "take the true pressure from a second gauge that is known to be good",
    source: "US Army subcourse MM0486, pp. 53-54",
    compute: |[shown, actual, span]| Ok([(shown - actual) / span]),
};

/// A share of the span from Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn gauge_offset(shown: f64, actual: f64, span: f64) -> Result<f64, OutOfRange> {
    LAW.one([shown, actual, span])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::gauge_offset;
    use crate::physics::laws::{near, si};

    /// US Army subcourse MM0486: 0 to 500 psi shows 260 at true 250: 2 % of range.
    #[test]
    fn worked_example() {
        near(gauge_offset(si(260.0, "psi"), si(250.0, "psi"), si(500.0, "psi")).unwrap(), 0.02, 1e-12);
    }
}
