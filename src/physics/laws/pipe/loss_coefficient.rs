//! Turns the pressure drop measured across a part into its loss coefficient, as a baseline.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{DENSITY, DROP, VELOCITY};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "loss_coefficient",
    formula: "K = Δp/(½·ρ·v²)",
    inputs: [DROP, DENSITY, VELOCITY.within(1e-3, 20.0)],
    outputs: [Output::new("losses", Dimension::Number, "")],
    range: "a basket strainer has no universal K: take the clean one at commissioning and watch it grow",
    source: "definition",
    compute: |[drop, density, velocity]| Ok([drop / (0.5 * density * velocity * velocity)]),
};

/// A number from Pa, kg/m³ and m/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn loss_coefficient(drop: f64, density: f64, velocity: f64) -> Result<f64, OutOfRange> {
    LAW.one([drop, density, velocity])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::loss_coefficient;
    use crate::physics::laws::near;

    /// Arithmetic: 2.5 kPa at 1 m/s of water of 1000 kg/m³ is K 5.
    #[test]
    fn worked_example() {
        near(loss_coefficient(2500.0, 1000.0, 1.0).unwrap(), 5.0, 1e-12);
    }
}
