//! Turns ideal and delivered flow into the slip.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{DISPLACEMENT, FLOW};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "slip",
    formula: "S = 1 - Q/Q_th",
    inputs: [DISPLACEMENT.within(1e-9, 0.2), FLOW.named("flow", "flow delivered")],
    outputs: [Output::new("slip", Dimension::Ratio, "%")],
    range: "a properly packed pump slips 3 to 5 %; more as it wears; below nothing the flow or the stroke is wrong",
    source: "definition; Pump Handbook, direct-acting section, for the range",
    compute: |[displacement, flow]| Ok([1.0 - flow / displacement]),
};

/// A share from m³/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn slip(displacement: f64, flow: f64) -> Result<f64, OutOfRange> {
    LAW.one([displacement, flow])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::slip;
    use crate::physics::laws::near;

    /// Sarkar, example 9.4, p. 193 (textbook companion): 4.4179 L/s ideal, 4.2 L/s delivered: 4.93 %.
    #[test]
    fn worked_example() {
        near(slip(4.4179e-3, 4.2e-3).unwrap(), 0.0493, 0.0001);
    }
}
