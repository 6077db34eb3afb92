//! Turns an opening and the pressure before it into its flow and the speed of the jet.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{COEFFICIENT, DENSITY, DROP};
use crate::quantity::Dimension;

const DIAMETER: Input = Input::new("diameter", "diameter of the opening", Dimension::Length, "mm", (1e-4, 0.5))
    .advice("nozzles of these pumps have 0.1 mm and more");

/// The law as data.
pub static LAW: Law<4, 2> = Law {
    name: "orifice_flow",
    formula: "Q = C_d·A·sqrt(2Δp/ρ), v = sqrt(2Δp/ρ); Q[gpm] = 29.84·c·d_in²·sqrt(P[psi]) for water",
    inputs: [DIAMETER, DROP, DENSITY, COEFFICIENT],
    outputs: [Output::new("flow", Dimension::Flow, "L/min"), Output::new("jet", Dimension::Velocity, "m/s")],
    range: "liquid, opening small against the pipe",
    source: "Torricelli; Esposito, example 8.4 (textbook companion)",
    compute: |[diameter, drop, density, coefficient]| {
        let jet = (2.0 * drop / density).sqrt();
        Ok([coefficient * std::f64::consts::FRAC_PI_4 * diameter * diameter * jet, jet])
    },
};

/// m³/s and m/s from metres, Pa, kg/m³ and a number.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn orifice_flow(diameter: f64, drop: f64, density: f64, coefficient: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([diameter, drop, density, coefficient])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::orifice_flow;
    use crate::physics::laws::{near, si};

    /// Ideal, 998.2 kg/m³ (arithmetic): 2 mm at 150 bar 32.68 L/min and 173.4 m/s; 1 mm at 70 bar 5.58 L/min.
    #[test]
    fn worked_example() {
        let [flow, jet] = orifice_flow(0.002, 150e5, 998.2, 1.0).unwrap();
        near(flow, si(32.68, "L/min"), si(0.05, "L/min"));
        near(jet, 173.4, 0.1);
        near(orifice_flow(0.001, 70e5, 998.2, 1.0).unwrap()[0], si(5.58, "L/min"), si(0.01, "L/min"));
    }
}
