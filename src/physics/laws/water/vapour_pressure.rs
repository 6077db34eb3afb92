//! Turns the temperature of water into its vapour pressure.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::WATER_TEMPERATURE;
use crate::quantity::Dimension;

const TEMPERATURE: Input = WATER_TEMPERATURE
    .within(273.15, 647.096)
    .strict()
    .advice("liquid water exists from 0 to 374 °C; for another liquid give two points of its vapour pressure");

/// n1 to n10, IAPWS R7-97 table 34.
const COEFFICIENTS: [f64; 10] = [
    0.116_705_214_527_67e4,
    -0.724_213_167_032_06e6,
    -0.170_738_469_400_92e2,
    0.120_208_247_024_70e5,
    -0.323_255_503_223_33e7,
    0.149_151_086_135_30e2,
    -0.482_326_573_615_91e4,
    0.405_113_405_420_57e6,
    -0.238_555_575_678_49,
    0.650_175_348_447_98e3,
];

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "vapour_pressure",
    formula: "p_s = [2C/(-B + sqrt(B² - 4AC))]^4 MPa, A = θ² + n1θ + n2, B = n3θ² + n4θ + n5, C = n6θ² + n7θ + n8, θ = T + n9/(T - n10)",
    inputs: [TEMPERATURE],
    outputs: [Output::new("vapour_pressure", Dimension::AbsolutePressure, "kPa")],
    range: "273.15 to 647.096 K, clean water",
    source: "IAPWS R7-97(2012), region 4, equation 30",
    compute: |[kelvin]| {
        let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = COEFFICIENTS;
        let theta = kelvin + n9 / (kelvin - n10);
        let a = theta * theta + n1 * theta + n2;
        let b = n3 * theta * theta + n4 * theta + n5;
        let c = n6 * theta * theta + n7 * theta + n8;
        let root = 2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt());
        Ok([1e6 * root * root * root * root])
    },
};

/// Pa (absolute) from kelvin.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn vapour_pressure(temperature: f64) -> Result<f64, OutOfRange> {
    LAW.one([temperature])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::vapour_pressure;
    use crate::physics::laws::near;

    /// IAPWS R7-97(2012), table 35.
    #[test]
    fn worked_example() {
        near(vapour_pressure(300.0).unwrap(), 3_536.589_41, 1e-8 * 3_536.6);
        near(vapour_pressure(500.0).unwrap(), 2_638_897.76, 1e-8 * 2_638_898.0);
        near(vapour_pressure(600.0).unwrap(), 12_344_314.6, 1e-8 * 12_344_315.0);
    }
}
