//! Turns a leak at one pressure into the leak at another.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{FLOW, RISE};
use crate::quantity::Dimension;

const LEAK: Input = FLOW.named("leak", "flow lost at the first pressure");

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "leak_at_pressure",
    formula: "q2 = q1·sqrt(Δp2/Δp1)",
    inputs: [
        LEAK,
        RISE.named("rise_1", "pressure rise at which it leaks so much").within(1e3, 1e8),
        RISE.named("rise_2", "pressure rise asked about"),
    ],
    outputs: [Output::new("leak", Dimension::Flow, "L/min")],
    range: "a leaking valve or seat acts as an orifice, nearly independent of speed: it hurts most at low speed and high pressure",
    source: "derived from the orifice",
    compute: |[leak, first, second]| Ok([leak * (second / first).sqrt()]),
};

/// m³/s from m³/s and Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn leak_at_pressure(leak: f64, rise_1: f64, rise_2: f64) -> Result<f64, OutOfRange> {
    LAW.one([leak, rise_1, rise_2])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::leak_at_pressure;
    use crate::physics::laws::near;

    /// Derived: four times the pressure, twice the leak.
    #[test]
    fn worked_example() {
        near(leak_at_pressure(1e-5, 10e5, 40e5).unwrap(), 2e-5, 1e-18);
    }
}
