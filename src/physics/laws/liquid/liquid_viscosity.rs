//! Turns two points of a liquid's viscosity into the viscosity at its temperature.

use super::two_points::{between, check};
use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{LIQUID_TEMPERATURE, TEMPERATURE_1, TEMPERATURE_2, VISCOSITY};
use crate::quantity::Dimension;

const VISCOSITY_1: Input = VISCOSITY.named("viscosity_1", "viscosity at the first point");
const VISCOSITY_2: Input = VISCOSITY.named("viscosity_2", "viscosity at the second point");

/// The law as data.
pub static LAW: Law<5, 1> = Law {
    name: "liquid_viscosity",
    formula: "ln µ = ln µ1 + (ln µ2 - ln µ1)·(1/T1 - 1/T)/(1/T1 - 1/T2)",
    inputs: [LIQUID_TEMPERATURE, TEMPERATURE_1, VISCOSITY_1, TEMPERATURE_2, VISCOSITY_2],
    outputs: [Output::new("viscosity", Dimension::ViscosityDynamic, "mPa s")],
    range: "between the two points, or beyond them by 20 K and no more than they are apart; for oils take the law for oils",
    source: "Andrade form (textbook, from memory)",
    compute: |[kelvin, kelvin_1, viscosity_1, kelvin_2, viscosity_2]| {
        check(LIQUID_TEMPERATURE, TEMPERATURE_2, kelvin, kelvin_1, kelvin_2)?;
        let share = (1.0 / kelvin_1 - 1.0 / kelvin) / (1.0 / kelvin_1 - 1.0 / kelvin_2);
        Ok([libm::exp(between(libm::log(viscosity_1), libm::log(viscosity_2), share))])
    },
};

/// Pa s from kelvin, and two points in kelvin and Pa s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn liquid_viscosity(
    temperature: f64,
    temperature_1: f64,
    viscosity_1: f64,
    temperature_2: f64,
    viscosity_2: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([temperature, temperature_1, viscosity_1, temperature_2, viscosity_2])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::liquid_viscosity;
    use crate::physics::laws::near;

    /// Water (IAPWS R12-08, `iapws` 1.5.5): 652.73 µPa s at 40 °C and 466.04 at 60 °C give 546.52 at 50 °C within 1 %.
    #[test]
    fn worked_example() {
        near(liquid_viscosity(323.15, 313.15, 652.73e-6, 333.15, 466.04e-6).unwrap(), 546.52e-6, 0.01 * 546.52e-6);
    }
}
