//! Turns the part one chamber loses into its signature.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{CHAMBERS, SHARE};
use crate::quantity::Dimension;

const LOSS: Input = SHARE.named("loss", "share of its flow that one chamber loses");

/// The law as data.
pub static LAW: Law<2, 2> = Law {
    name: "partial_chamber",
    formula: "mean = 1 - ε/N, once a turn = ε·π/(2N), over the healthy mean",
    inputs: [CHAMBERS, LOSS],
    outputs: [Output::new("flow", Dimension::Ratio, "%"), Output::new("once_a_turn", Dimension::Ratio, "%")],
    range: "any share of one chamber; the needle sees one bad valve before the flow meter does",
    source: "derived: a share of the half sine of one chamber is missing",
    compute: |[chambers, loss]| Ok([1.0 - loss / chambers, loss * std::f64::consts::PI / (2.0 * chambers)]),
};

/// Mean flow and amplitude once a turn over the healthy mean flow.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn partial_chamber(chambers: f64, loss: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([chambers, loss])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::partial_chamber;
    use crate::physics::laws::near;

    /// Derived: a quarter of one of three chambers costs 8.3 % of the flow and makes a line of 13 %.
    #[test]
    fn worked_example() {
        let [flow, once] = partial_chamber(3.0, 0.25).unwrap();
        near(1.0 - flow, 0.083, 0.0005);
        near(once, 0.131, 0.0005);
    }
}
