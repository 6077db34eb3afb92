//! Turns an opening and the flow through it into the pressure before it.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{COEFFICIENT, DENSITY, FLOW};
use crate::quantity::Dimension;

const DIAMETER: Input = Input::new("diameter", "diameter of the opening", Dimension::Length, "mm", (1e-4, 0.5))
    .advice("nozzles of these pumps have 0.1 mm and more");

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "orifice_pressure",
    formula: "Δp = ½·ρ·[Q/(C_d·A)]²",
    inputs: [DIAMETER, FLOW, DENSITY, COEFFICIENT],
    outputs: [Output::new("drop", Dimension::PressureDifference, "bar")],
    range: "liquid, opening small against the pipe",
    source: "Torricelli, turned round",
    compute: |[diameter, flow, density, coefficient]| {
        let jet = flow / (coefficient * std::f64::consts::FRAC_PI_4 * diameter * diameter);
        Ok([0.5 * density * jet * jet])
    },
};

/// Pa from metres, m³/s, kg/m³ and a number.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn orifice_pressure(diameter: f64, flow: f64, density: f64, coefficient: f64) -> Result<f64, OutOfRange> {
    LAW.one([diameter, flow, density, coefficient])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::orifice_pressure;
    use crate::physics::laws::{near, si};

    /// Ideal 2 mm with 32.68 L/min of 998.2 kg/m³: 150 bar (arithmetic).
    #[test]
    fn worked_example() {
        near(orifice_pressure(0.002, si(32.68, "L/min"), 998.2, 1.0).unwrap(), 150e5, 0.05e5);
    }

    #[test]
    fn flow_and_pressure_are_inverse() {
        let [flow, _] = crate::physics::laws::outlet::orifice_flow(0.0031, 42e5, 870.0, 0.8).unwrap();
        near(orifice_pressure(0.0031, flow, 870.0, 0.8).unwrap(), 42e5, 1e-3);
    }
}
