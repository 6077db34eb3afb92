//! Turns the temperature of water and the air above it into the air dissolved in it.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::WATER_TEMPERATURE;
use crate::physics::laws::water::{if97, vapour_pressure};
use crate::quantity::Dimension;

const AIR: Input = Input::new(
    "pressure",
    "pressure of the moist air above the water",
    Dimension::AbsolutePressure,
    "kPa",
    (30e3, 1e6),
)
.advice("give the absolute pressure");

/// Share in dry air, and A, B, C of IAPWS G7-04 table 2: nitrogen and oxygen.
const GASES: [(f64, [f64; 3]); 2] =
    [(0.7808, [-9.675_78, 4.721_62, 11.705_85]), (0.2095, [-9.448_33, 4.438_22, 11.420_05])];
/// m³ of a mole of gas at 0 °C and 1 atm.
const GAS_VOLUME: f64 = 0.022_414;
/// kg of a mole of water.
const WATER_MASS: f64 = 0.018_015_268;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "dissolved_air",
    formula: "x_i = y_i·(p - p_s)/k_H,i for N2 78.08 % and O2 20.95 %; ln(k_H/p_s) = A/T* + B·τ^0.355/T* + C·T*^-0.41·exp τ, τ = 1 - T*, T* = T/647.096 K",
    inputs: [WATER_TEMPERATURE.within(278.15, 353.15).meaningful(273.15, 373.15), AIR],
    outputs: [Output::new("air", Dimension::Ratio, "%")],
    range: "5 to 80 °C, moist air; volume of gas at 0 °C and 1 atm over volume of water; mineral oil holds 8 to 10 % (from memory)",
    source: "IAPWS G7-04; vapour pressure by IF97",
    compute: |[kelvin, pressure]| {
        let vapour = vapour_pressure::vapour_pressure(kelvin)?;
        if pressure < vapour {
            return Err(AIR.refused(pressure, (vapour, AIR.published().1), "the water boils at this pressure"));
        }
        let dissolved: f64 = GASES.iter().map(|gas| gas.0 * (pressure - vapour) / henry(kelvin, vapour, *gas)).sum();
        let density = if97::density(kelvin, pressure);
        Ok([dissolved * GAS_VOLUME * density / WATER_MASS])
    },
};

/// A share by volume from kelvin and absolute Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn dissolved_air(temperature: f64, pressure: f64) -> Result<f64, OutOfRange> {
    LAW.one([temperature, pressure])
}

/// Henry's constant in Pa. The guideline's own vapour pressure differs from IF97's by less than 0.1 %.
fn henry(kelvin: f64, vapour: f64, (_, [a, b, c]): (f64, [f64; 3])) -> f64 {
    let warmth = kelvin / 647.096;
    let tau = 1.0 - warmth;
    vapour * libm::exp(a / warmth + b * libm::pow(tau, 0.355) / warmth + c * libm::pow(warmth, -0.41) * libm::exp(tau))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::dissolved_air;
    use crate::physics::laws::near;

    /// `iapws` 1.5.5, `_Henry`: 5 °C 2.50, 10 °C 2.24, 20 °C 1.85, 30 °C 1.57, 40 °C 1.35, 60 °C 1.00 %.
    #[test]
    fn worked_example() {
        for (celsius, percent) in [(5.0, 2.50), (10.0, 2.24), (20.0, 1.85), (30.0, 1.57), (40.0, 1.35), (60.0, 1.00)] {
            near(dissolved_air(celsius + 273.15, 101_325.0).unwrap(), percent / 100.0, 0.03 * percent / 100.0);
        }
    }
}
