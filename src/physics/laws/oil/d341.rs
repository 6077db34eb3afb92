//! Turns two points of an oil into the straight line of ASTM D341 and reads it.

use crate::physics::law::{Input, OutOfRange};
use crate::physics::laws::inputs::{OIL_TEMPERATURE, OIL_VISCOSITY};

pub const VISCOSITY_1: Input = OIL_VISCOSITY.named("viscosity_1", "viscosity at the first temperature");
pub const VISCOSITY_2: Input = OIL_VISCOSITY.named("viscosity_2", "viscosity at the second temperature");
pub const TEMPERATURE_1: Input = OIL_TEMPERATURE.named("temperature_1", "first temperature");
pub const TEMPERATURE_2: Input = OIL_TEMPERATURE.named("temperature_2", "second temperature");

/// Oils have slopes of 3 to 4.
const LEAST_SLOPE: f64 = 0.1;

/// A and B through two points of m²/s and kelvin.
///
/// # Errors
/// [`OutOfRange`] for a second point too near to the first, or not thinner when warmer.
pub fn line(
    (viscosity_1, kelvin_1): (f64, f64),
    (viscosity_2, kelvin_2): (f64, f64),
) -> Result<(f64, f64), OutOfRange> {
    if (kelvin_2 - kelvin_1).abs() < 1.0 {
        let advice = "give two points at least 1 K apart";
        return Err(TEMPERATURE_2.refused(kelvin_2, TEMPERATURE_2.published(), advice));
    }
    let first = doubled_log(viscosity_1);
    let b = (first - doubled_log(viscosity_2)) / (libm::log10(kelvin_2) - libm::log10(kelvin_1));
    if b < LEAST_SLOPE {
        let advice = "an oil gets thinner when it gets warmer; check both points";
        return Err(VISCOSITY_2.refused(viscosity_2, VISCOSITY_2.published(), advice));
    }
    Ok((first + b * libm::log10(kelvin_1), b))
}

/// m²/s at a temperature in kelvin.
///
/// # Errors
/// [`OutOfRange`] where the line leads beyond any number.
pub fn viscosity((a, b): (f64, f64), kelvin: f64) -> Result<f64, OutOfRange> {
    let viscosity = 1e-6 * (libm::pow(10.0, libm::pow(10.0, a - b * libm::log10(kelvin))) - 0.7);
    if viscosity.is_finite() {
        return Ok(viscosity);
    }
    let advice = "too far from the two points; check them";
    Err(OIL_TEMPERATURE.refused(kelvin, OIL_TEMPERATURE.published(), advice))
}

/// log10 log10(ν + 0.7) of m²/s, ν in mm²/s.
pub fn doubled_log(viscosity: f64) -> f64 {
    libm::log10(libm::log10(viscosity * 1e6 + 0.7))
}
