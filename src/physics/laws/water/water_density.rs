//! Turns the temperature and pressure of water into its density.

use super::if97::{self, PRESSURE};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::WATER_TEMPERATURE;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "water_density",
    formula: "1/ρ = (R·T/p)·π·γ_π, γ_π = -Σ n·I·(7.1 - π)^(I-1)·(τ - 1.222)^J, π = p/16.53 MPa, τ = 1386 K/T, R 461.526 J/(kg K)",
    inputs: [
        WATER_TEMPERATURE.within(273.15, 623.15).strict().advice("this holds for liquid water, 0 to 350 °C"),
        PRESSURE,
    ],
    outputs: [Output::new("density", Dimension::Density, "kg/m3")],
    range: "0 to 350 °C, from the vapour pressure to 100 MPa: liquid water",
    source: "IAPWS R7-97(2012), region 1, equation 7",
    compute: |[kelvin, pressure]| {
        if let Some(refusal) = if97::vapour(PRESSURE, kelvin, pressure) {
            return Err(refusal);
        }
        Ok([if97::density(kelvin, pressure)])
    },
};

/// kg/m³ from kelvin and Pa (absolute).
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn water_density(temperature: f64, pressure: f64) -> Result<f64, OutOfRange> {
    LAW.one([temperature, pressure])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::water_density;
    use crate::physics::laws::near;

    /// IAPWS R7-97(2012), table 5: specific volumes 0.100 215 168e-2 and 0.971 180 894e-3 m³/kg at 300 K, 3 and 80 `MPa`.
    #[test]
    fn worked_example() {
        near(1.0 / water_density(300.0, 3e6).unwrap(), 0.100_215_168e-2, 1e-11);
        near(1.0 / water_density(300.0, 80e6).unwrap(), 0.971_180_894e-3, 1e-12);
        near(1.0 / water_density(500.0, 3e6).unwrap(), 0.120_241_800e-2, 1e-11);
    }

    /// Rise from 1 atm at 20 °C: 70 bar 0.314 %, 350 bar 1.545 % (`CoolProp` 8.0.0, IAPWS-95).
    #[test]
    fn pressure_makes_it_denser() {
        let rise =
            |bar: f64| water_density(293.15, bar * 1e5).unwrap() / water_density(293.15, 101_325.0).unwrap() - 1.0;
        near(rise(70.0), 0.003_14, 0.000_01);
        near(rise(350.0), 0.015_45, 0.000_02);
    }

    #[test]
    fn steam_is_refused() {
        let error = water_density(383.15, 101_325.0).unwrap_err();
        assert!(error.to_string().contains("it boils"), "{error}");
    }
}
