//! Turns the growth of an opening into the pressure left at the same flow and the flow at the same pressure.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const GROWTH: Input =
    Input::new("growth", "growth of the diameter, clogging negative", Dimension::Ratio, "%", (-0.5, 1.0))
        .meaningful(-0.99, 100.0)
        .advice("5 % more diameter is 5 %; -100 % is shut");

/// The law as data.
pub static LAW: Law<1, 2> = Law {
    name: "orifice_wear",
    formula: "P2/P1 = (d1/d2)^4 at the pump's flow, Q2/Q1 = (d2/d1)² at the same pressure",
    inputs: [GROWTH],
    outputs: [Output::new("pressure", Dimension::Ratio, "%"), Output::new("flow", Dimension::Ratio, "%")],
    range: "a spray nozzle counts as worn out at 10 % more flow, 4.9 % more diameter (ISO 5682 and 16122 practice, from memory)",
    source: "Torricelli",
    compute: |[growth]| {
        let area = (1.0 + growth) * (1.0 + growth);
        Ok([1.0 / (area * area), area])
    },
};

/// Shares of the former pressure and flow from the growth of the diameter as a share.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn orifice_wear(growth: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([growth])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::orifice_wear;
    use crate::physics::laws::near;

    /// Arithmetic: 5 % more diameter, pressure 82.3 % or flow 110.3 %; worn out at 110 % flow is 4.9 %.
    #[test]
    fn worked_example() {
        let [pressure, flow] = orifice_wear(0.05).unwrap();
        near(pressure, 0.823, 0.0005);
        near(flow, 1.1025, 1e-9);
        near(orifice_wear(0.0488).unwrap()[1], 1.10, 0.0005);
    }
}
