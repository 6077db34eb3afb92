//! Turns two openings and two pressures into the ratio of their flows.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::DROP;
use crate::quantity::Dimension;

const DIAMETER_1: Input = Input::new("diameter_1", "first diameter", Dimension::Length, "mm", (1e-4, 0.5));
const DIAMETER_2: Input = Input::new("diameter_2", "second diameter", Dimension::Length, "mm", (1e-4, 0.5));
const DROP_1: Input = DROP.named("drop_1", "first pressure drop").within(1.0, 1e8);
const DROP_2: Input = DROP.named("drop_2", "second pressure drop");

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "orifice_ratio",
    formula: "Q2/Q1 = (d2/d1)²·sqrt(P2/P1)",
    inputs: [DIAMETER_1, DIAMETER_2, DROP_1, DROP_2],
    outputs: [Output::new("flow_ratio", Dimension::Ratio, "times")],
    range: "same liquid and shape",
    source: "Torricelli",
    compute: |[d1, d2, p1, p2]| Ok([d2 * d2 / (d1 * d1) * (p2 / p1).sqrt()]),
};

/// A share from metres and Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn orifice_ratio(diameter_1: f64, diameter_2: f64, drop_1: f64, drop_2: f64) -> Result<f64, OutOfRange> {
    LAW.one([diameter_1, diameter_2, drop_1, drop_2])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::orifice_ratio;
    use crate::physics::laws::near;

    /// Arithmetic: 10 % more diameter at the same pressure, 21 % more flow; four times the pressure, twice the flow.
    #[test]
    fn worked_example() {
        near(orifice_ratio(0.002, 0.0022, 50e5, 50e5).unwrap(), 1.21, 1e-9);
        near(orifice_ratio(0.002, 0.002, 10e5, 40e5).unwrap(), 2.0, 1e-12);
    }
}
