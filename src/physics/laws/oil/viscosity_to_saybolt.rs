//! Turns kinematic viscosity into Saybolt universal seconds.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{OIL_TEMPERATURE, OIL_VISCOSITY};
use crate::quantity::Dimension;

const VISCOSITY_SHOWN: Input = OIL_VISCOSITY.within(1.8e-6, 0.02);

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "viscosity_to_saybolt",
    formula: "t = [1 + 0.000061·(°F - 100)]·{4.6324·ν + (1 + 0.03264·ν)/[(3930.2 + 262.7·ν + 23.97·ν² + 1.646·ν³)·1e-5]}, ν in mm2/s",
    inputs: [VISCOSITY_SHOWN, OIL_TEMPERATURE],
    outputs: [Output::new("seconds", Dimension::Time, "s")],
    range: "2 to 75 mm2/s and above, where it becomes 4.6324·ν",
    source: "ASTM D2161 (as in `chemicals` 1.5.2)",
    compute: |[viscosity, kelvin]| {
        let v = viscosity * 1e6;
        let low = (1.0 + 0.032_64 * v) / ((3930.2 + v * (262.7 + v * (23.97 + v * 1.646))) * 1e-5);
        let fahrenheit = kelvin * 1.8 - 459.67;
        Ok([(1.0 + 0.000_061 * (fahrenheit - 100.0)) * (4.6324 * v + low)])
    },
};

/// Seconds from m²/s and kelvin.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn viscosity_to_saybolt(viscosity: f64, temperature: f64) -> Result<f64, OutOfRange> {
    LAW.one([viscosity, temperature])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::viscosity_to_saybolt;
    use crate::physics::laws::{near, si};

    /// ASTM D2161 by `chemicals` 1.5.2: 46 mm²/s at 100 °F are 214.2 s.
    #[test]
    fn worked_example() {
        near(viscosity_to_saybolt(46e-6, si(100.0, "°F")).unwrap(), 214.2, 0.1);
    }
}
