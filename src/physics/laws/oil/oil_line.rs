//! Turns two points of an oil into its straight line of viscosity against temperature.

use super::d341::{self, TEMPERATURE_1, TEMPERATURE_2, VISCOSITY_1, VISCOSITY_2};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<4, 2> = Law {
    name: "oil_line",
    formula: "W = A - B·log10 T, W = log10 log10(ν + 0.7), ν in mm2/s; B = [W(ν1) - W(ν2)]/[log10 T2 - log10 T1], A = W(ν1) + B·log10 T1",
    inputs: [VISCOSITY_1, TEMPERATURE_1, VISCOSITY_2, TEMPERATURE_2],
    outputs: [Output::new("a", Dimension::Number, ""), Output::new("b", Dimension::Number, "")],
    range: "oils above 2 mm2/s",
    source: "ASTM D341 (Walther)",
    compute: |[viscosity_1, kelvin_1, viscosity_2, kelvin_2]| {
        let (a, b) = d341::line((viscosity_1, kelvin_1), (viscosity_2, kelvin_2))?;
        Ok([a, b])
    },
};

/// A and B from m²/s and kelvin.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn oil_line(
    viscosity_1: f64,
    temperature_1: f64,
    viscosity_2: f64,
    temperature_2: f64,
) -> Result<[f64; 2], OutOfRange> {
    LAW.at([viscosity_1, temperature_1, viscosity_2, temperature_2])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::oil_line;
    use crate::physics::laws::near;

    /// ISO VG 32, index 95, 5.29 mm²/s at 100 °C: A 9.6755, B 3.8046 (derived from ASTM D341).
    #[test]
    fn worked_example() {
        let [a, b] = oil_line(32e-6, 313.15, 5.29e-6, 373.15).unwrap();
        near(a, 9.6755, 0.01);
        near(b, 3.8046, 0.005);
    }
}
