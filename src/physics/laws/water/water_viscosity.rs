//! Turns the temperature and density of water into its viscosity.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{DENSITY, WATER_TEMPERATURE};
use crate::quantity::Dimension;

/// `H_i`, IAPWS R12-08 table 1.
const DILUTE: [f64; 4] = [1.677_52, 2.204_62, 0.636_656_4, -0.241_605];

/// `H_ij`, IAPWS R12-08 table 2; i down, j across.
const FINITE: [[f64; 7]; 6] = [
    [5.200_94e-1, 2.225_31e-1, -2.813_78e-1, 1.619_13e-1, -3.253_72e-2, 0.0, 0.0],
    [8.508_95e-2, 9.991_15e-1, -9.068_51e-1, 2.573_99e-1, 0.0, 0.0, 0.0],
    [-1.083_74, 1.887_97, -7.724_79e-1, 0.0, 0.0, 0.0, 0.0],
    [-2.895_55e-1, 1.266_13, -4.898_37e-1, 0.0, 6.984_52e-2, 0.0, -4.356_73e-3],
    [0.0, 0.0, -2.570_40e-1, 0.0, 0.0, 8.721_02e-3, 0.0],
    [0.0, 1.205_73e-1, 0.0, 0.0, 0.0, 0.0, -5.932_64e-4],
];

/// The law as data.
pub static LAW: Law<2, 2> = Law {
    name: "water_viscosity",
    formula: "µ = µ0(T)·µ1(T, ρ); µ0 = 100·sqrt(T*)/Σ H_i/T*^i, µ1 = exp[ρ*·Σ (1/T* - 1)^i·Σ H_ij·(ρ* - 1)^j] µPa s, T* = T/647.096 K, ρ* = ρ/322 kg/m3",
    inputs: [
        WATER_TEMPERATURE.within(273.15, 623.15).strict(),
        DENSITY.within(500.0, 1200.0).strict().advice("liquid water has 570 to 1060 kg/m3"),
    ],
    outputs: [
        Output::new("viscosity", Dimension::ViscosityDynamic, "mPa s"),
        Output::new("kinematic_viscosity", Dimension::ViscosityKinematic, "mm2/s"),
    ],
    range: "liquid water, 0 to 350 °C; without the critical enhancement",
    source: "IAPWS R12-08 (2008), equations 10 to 12",
    compute: |[kelvin, density]| {
        let warmth = kelvin / 647.096;
        let thickness = density / 322.0;
        let thin = DILUTE.iter().rev().fold(0.0, |sum, h| sum / warmth + h);
        let cold = 1.0 / warmth - 1.0;
        let dense = thickness - 1.0;
        let row = |row: &[f64; 7]| row.iter().rev().fold(0.0, |sum, h| sum * dense + h);
        let exponent = thickness * FINITE.iter().rev().fold(0.0, |sum, h| sum * cold + row(h));
        let viscosity = 1e-6 * 100.0 * warmth.sqrt() / thin * libm::exp(exponent);
        Ok([viscosity, viscosity / density])
    },
};

/// Pa s and m²/s from kelvin and kg/m³.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn water_viscosity(temperature: f64, density: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([temperature, density])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::water_viscosity;
    use crate::physics::laws::near;

    /// IAPWS R12-08, table 4: 889.735 100 µPa s at 298.15 K and 998 kg/m³, 1437.649 467 at 1200 kg/m³.
    #[test]
    fn worked_example() {
        near(water_viscosity(298.15, 998.0).unwrap()[0], 889.735_100e-6, 1e-12);
        near(water_viscosity(298.15, 1200.0).unwrap()[0], 1_437.649_467e-6, 1e-12);
    }
}
