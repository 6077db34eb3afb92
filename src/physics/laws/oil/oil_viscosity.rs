//! Turns two points of an oil into its viscosity at another temperature.

use super::d341::{self, TEMPERATURE_1, TEMPERATURE_2, VISCOSITY_1, VISCOSITY_2};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::OIL_TEMPERATURE;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<5, 1> = Law {
    name: "oil_viscosity",
    formula: "log10 log10(ν + 0.7) = A - B·log10 T through the two points, ν in mm2/s",
    inputs: [VISCOSITY_1, TEMPERATURE_1, VISCOSITY_2, TEMPERATURE_2, OIL_TEMPERATURE],
    outputs: [Output::new("viscosity", Dimension::ViscosityKinematic, "mm2/s")],
    range: "oils above 2 mm2/s; below -10 °C real oils are stiffer than the line",
    source: "ASTM D341 (Walther)",
    compute: |[viscosity_1, kelvin_1, viscosity_2, kelvin_2, kelvin]| {
        let line = d341::line((viscosity_1, kelvin_1), (viscosity_2, kelvin_2))?;
        d341::viscosity(line, kelvin).map(|viscosity| [viscosity])
    },
};

/// m²/s from m²/s and kelvin.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn oil_viscosity(
    viscosity_1: f64,
    temperature_1: f64,
    viscosity_2: f64,
    temperature_2: f64,
    temperature: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([viscosity_1, temperature_1, viscosity_2, temperature_2, temperature])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::oil_viscosity;
    use crate::physics::laws::near;

    /// ISO VG 46, index 95 (derived from ASTM D341): 608 mm²/s at 0 °C, 20.4 at 60 °C; index 150 (9.0 at 100 °C): 400 at 0 °C within 10 %.
    #[test]
    fn worked_example() {
        for (celsius, viscosity) in
            [(-10.0, 1591.0), (0.0, 608.0), (10.0, 271.0), (30.0, 76.0), (60.0, 20.4), (80.0, 10.9)]
        {
            let found = oil_viscosity(46e-6, 313.15, 6.65e-6, 373.15, celsius + 273.15).unwrap();
            near(found, viscosity * 1e-6, 0.01 * viscosity * 1e-6);
        }
    }

    #[test]
    fn one_point_twice_is_refused() {
        assert_eq!(oil_viscosity(46e-6, 313.15, 46e-6, 313.15, 300.0).unwrap_err().input, "temperature_2");
    }
}
