//! Turns a rise of pressure and the stiffness of a liquid into its change of volume.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::RISE;
use crate::quantity::Dimension;

const VOLUME: Input = Input::new("volume", "volume before", Dimension::Volume, "L", (0.0, 100.0));
const MODULUS: Input =
    Input::new("modulus", "bulk modulus of the liquid", Dimension::PressureDifference, "GPa", (1e8, 1e11))
        .advice("water has 2.2 GPa, mineral oil 1.7 to 2.4 GPa");

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "compression",
    formula: "ΔV = -V·Δp/K",
    inputs: [VOLUME, RISE, MODULUS],
    outputs: [Output::new("change", Dimension::Volume, "mL")],
    range: "small changes; oils have K 1.7 to 2.4 GPa (250 000 to 350 000 psi), water 2.2 GPa",
    source: "Esposito, example 2.11; Sullivan for the range (textbook companion)",
    compute: |[volume, rise, modulus]| Ok([-volume * rise / modulus]),
};

/// m³ (negative) from m³ and Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn compression(volume: f64, rise: f64, modulus: f64) -> Result<f64, OutOfRange> {
    LAW.one([volume, rise, modulus])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::compression;
    use crate::physics::laws::{near, si};

    /// Esposito, example 2.11, p. 57 (textbook companion): 10 in³, 100 to 2000 psi, 250 000 psi: -0.076 in³.
    #[test]
    fn worked_example() {
        let change = compression(si(10.0, "in3"), si(1900.0, "psi"), si(250_000.0, "psi")).unwrap();
        near(change, -si(0.076, "in3"), 1e-12);
    }
}
