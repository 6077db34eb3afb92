//! Turns two points of a liquid's density into the density at its temperature.

use super::two_points::{between, check};
use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{DENSITY, LIQUID_TEMPERATURE, TEMPERATURE_1, TEMPERATURE_2};
use crate::quantity::Dimension;

const DENSITY_1: Input = DENSITY.named("density_1", "density at the first point");
const DENSITY_2: Input = DENSITY.named("density_2", "density at the second point");

/// The law as data.
pub static LAW: Law<5, 1> = Law {
    name: "liquid_density",
    formula: "ρ = ρ1 + (ρ2 - ρ1)·(T - T1)/(T2 - T1)",
    inputs: [LIQUID_TEMPERATURE, TEMPERATURE_1, DENSITY_1, TEMPERATURE_2, DENSITY_2],
    outputs: [Output::new("density", Dimension::Density, "kg/m3")],
    range: "between the two points, or beyond them by 20 K and no more than they are apart",
    source: "straight line between two given points",
    compute: |[kelvin, kelvin_1, density_1, kelvin_2, density_2]| {
        check(LIQUID_TEMPERATURE, TEMPERATURE_2, kelvin, kelvin_1, kelvin_2)?;
        let density = between(density_1, density_2, (kelvin - kelvin_1) / (kelvin_2 - kelvin_1));
        if density <= 0.0 {
            return Err(DENSITY_2.refused(
                density_2,
                DENSITY_2.published(),
                "no liquid changes so fast; check both points",
            ));
        }
        Ok([density])
    },
};

/// kg/m³ from kelvin, and two points in kelvin and kg/m³.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn liquid_density(
    temperature: f64,
    temperature_1: f64,
    density_1: f64,
    temperature_2: f64,
    density_2: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([temperature, temperature_1, density_1, temperature_2, density_2])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::liquid_density;
    use crate::physics::laws::near;

    /// Water (IAPWS-IF97, `iapws` 1.5.5): 992.224 at 40 °C and 983.211 at 60 °C give 988.047 at 50 °C within 0.04 %.
    #[test]
    fn worked_example() {
        near(liquid_density(323.15, 313.15, 992.224, 333.15, 983.211).unwrap(), 988.047, 0.4);
    }
}
