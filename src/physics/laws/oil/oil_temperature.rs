//! Turns two points of an oil into the temperature at which it has a given viscosity.

use super::d341::{self, TEMPERATURE_1, TEMPERATURE_2, VISCOSITY_1, VISCOSITY_2};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::OIL_VISCOSITY;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<5, 1> = Law {
    name: "oil_temperature",
    formula: "log10 T = (A - log10 log10(ν + 0.7))/B through the two points, ν in mm2/s",
    inputs: [VISCOSITY_1, TEMPERATURE_1, VISCOSITY_2, TEMPERATURE_2, OIL_VISCOSITY],
    outputs: [Output::new("temperature", Dimension::Temperature, "°C")],
    range: "about 1000 mm2/s is the most at start, 16 to 36 the best for pistons, 10 the least (trade, from memory)",
    source: "ASTM D341 (Walther), turned round",
    compute: |[viscosity_1, kelvin_1, viscosity_2, kelvin_2, viscosity]| {
        let (a, b) = d341::line((viscosity_1, kelvin_1), (viscosity_2, kelvin_2))?;
        Ok([libm::pow(10.0, (a - d341::doubled_log(viscosity)) / b)])
    },
};

/// Kelvin from m²/s and kelvin.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn oil_temperature(
    viscosity_1: f64,
    temperature_1: f64,
    viscosity_2: f64,
    temperature_2: f64,
    viscosity: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([viscosity_1, temperature_1, viscosity_2, temperature_2, viscosity])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::oil_temperature;
    use crate::physics::laws::near;

    /// ISO VG 46, index 95: 1000 mm²/s at -5.4 °C, 20 at 60.5 °C, 10 at 83.2 °C (derived from ASTM D341).
    #[test]
    fn worked_example() {
        for (viscosity, celsius) in [(1000.0, -5.4), (20.0, 60.5), (10.0, 83.2)] {
            let found = oil_temperature(46e-6, 313.15, 6.65e-6, 373.15, viscosity * 1e-6).unwrap();
            near(found, celsius + 273.15, 0.5);
        }
    }
}
