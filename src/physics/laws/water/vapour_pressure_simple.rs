//! Turns the temperature of water into its vapour pressure by the short field form.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::WATER_TEMPERATURE;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "vapour_pressure_simple",
    formula: "p_s = 610.94·exp[17.625·t/(t + 243.04)] Pa, t in °C",
    inputs: [WATER_TEMPERATURE.meaningful(233.15, 473.15)],
    outputs: [Output::new("vapour_pressure", Dimension::AbsolutePressure, "kPa")],
    range: "0 to 100 °C: within 0.25 % of IF97 to 50 °C, 0.39 % at 60, 1.3 % at 80, 2.6 % at 100",
    source: "Magnus form (from memory), compared with IAPWS-IF97",
    compute: |[kelvin]| {
        let celsius = kelvin - 273.15;
        Ok([610.94 * libm::exp(17.625 * celsius / (celsius + 243.04))])
    },
};

/// Pa (absolute) from kelvin.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn vapour_pressure_simple(temperature: f64) -> Result<f64, OutOfRange> {
    LAW.one([temperature])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::vapour_pressure_simple;
    use crate::physics::laws::near;

    /// IAPWS-IF97 by `iapws` 1.5.5: 1228.18 Pa at 10 °C, 47 414.72 Pa at 80 °C.
    #[test]
    fn worked_example() {
        near(vapour_pressure_simple(283.15).unwrap(), 1228.18, 0.0025 * 1228.18);
        near(vapour_pressure_simple(353.15).unwrap(), 47_414.72, 0.0135 * 47_414.72);
    }
}
