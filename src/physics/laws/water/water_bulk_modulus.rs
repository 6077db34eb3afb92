//! Turns the temperature and pressure of water into its stiffness against compression.

use super::if97::{self, PRESSURE};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::WATER_TEMPERATURE;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 2> = Law {
    name: "water_bulk_modulus",
    formula: "K = 1/κ_T, κ_T = -π·γ_ππ/(p·γ_π)",
    inputs: [WATER_TEMPERATURE.meaningful(273.15, 623.15), PRESSURE],
    outputs: [
        Output::new("bulk_modulus", Dimension::PressureDifference, "GPa"),
        Output::new("compressibility", Dimension::Compressibility, "1/GPa"),
    ],
    range: "0 to 100 °C, from the vapour pressure to 100 MPa, isothermal",
    source: "IAPWS R7-97(2012), region 1, table 3",
    compute: |[kelvin, pressure]| {
        if let Some(refusal) = if97::vapour(PRESSURE, kelvin, pressure) {
            return Err(refusal);
        }
        let compressibility = if97::compressibility(kelvin, pressure);
        Ok([1.0 / compressibility, compressibility])
    },
};

/// Bulk modulus in Pa and compressibility in 1/Pa from kelvin and Pa (absolute).
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn water_bulk_modulus(temperature: f64, pressure: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([temperature, pressure])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::water_bulk_modulus;
    use crate::physics::laws::near;

    /// `CoolProp` 8.0.0 (IAPWS-95), 1 atm: 2.034 `GPa` at 5 °C, 2.179 at 20 °C, 2.264 at 50 °C.
    #[test]
    fn worked_example() {
        for (celsius, modulus) in [(5.0, 2.034e9), (20.0, 2.179e9), (50.0, 2.264e9)] {
            near(water_bulk_modulus(celsius + 273.15, 101_325.0).unwrap()[0], modulus, 0.01e9);
        }
    }

    /// `iapws` 1.5.5, `_Region1(300, 3)["kt"]`, per `MPa`.
    #[test]
    fn compressibility() {
        near(water_bulk_modulus(300.0, 3e6).unwrap()[1], 0.000_446_382_122_8e-6, 1e-19);
    }
}
