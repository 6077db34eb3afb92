//! Turns two points of a liquid's vapour pressure into the vapour pressure at its temperature.

use super::two_points::{between, check};
use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{LIQUID_TEMPERATURE, TEMPERATURE_1, TEMPERATURE_2, VAPOUR};
use crate::quantity::Dimension;

const PRESSURE_1: Input = VAPOUR.named("pressure_1", "vapour pressure at the first point").within(0.01, 2e6);
const PRESSURE_2: Input = VAPOUR.named("pressure_2", "vapour pressure at the second point").within(0.01, 2e6);

/// The law as data.
pub static LAW: Law<5, 1> = Law {
    name: "liquid_vapour_pressure",
    formula: "ln p = ln p1 + (ln p2 - ln p1)·(1/T1 - 1/T)/(1/T1 - 1/T2)",
    inputs: [LIQUID_TEMPERATURE, TEMPERATURE_1, PRESSURE_1, TEMPERATURE_2, PRESSURE_2],
    outputs: [Output::new("vapour_pressure", Dimension::AbsolutePressure, "kPa")],
    range: "between the two points, or beyond them by 20 K and no more than they are apart; water from 10 and 40 °C comes within 0.6 % at 20 °C",
    source: "Clausius-Clapeyron with a constant heat of vaporisation (textbook form, from memory)",
    compute: |[kelvin, kelvin_1, pressure_1, kelvin_2, pressure_2]| {
        check(LIQUID_TEMPERATURE, TEMPERATURE_2, kelvin, kelvin_1, kelvin_2)?;
        let share = (1.0 / kelvin_1 - 1.0 / kelvin) / (1.0 / kelvin_1 - 1.0 / kelvin_2);
        Ok([libm::exp(between(libm::log(pressure_1), libm::log(pressure_2), share))])
    },
};

/// Pa from kelvin, and two points in kelvin and Pa (all absolute).
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn liquid_vapour_pressure(
    temperature: f64,
    temperature_1: f64,
    pressure_1: f64,
    temperature_2: f64,
    pressure_2: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([temperature, temperature_1, pressure_1, temperature_2, pressure_2])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::liquid_vapour_pressure;
    use crate::physics::laws::near;

    /// Water (IAPWS-IF97, `iapws` 1.5.5): 1228.18 Pa at 10 °C and 7384.43 Pa at 40 °C give 2339.21 Pa at 20 °C.
    #[test]
    fn worked_example() {
        near(liquid_vapour_pressure(293.15, 283.15, 1228.18, 313.15, 7384.43).unwrap(), 2339.21, 0.006 * 2339.21);
    }

    #[test]
    fn a_temperature_far_from_both_points_is_refused() {
        let error = liquid_vapour_pressure(393.15, 283.15, 1228.18, 313.15, 7384.43).unwrap_err();
        assert!(error.to_string().contains("too far from the two points"), "{error}");
    }

    #[test]
    fn two_points_at_one_temperature_are_refused() {
        let error = liquid_vapour_pressure(293.15, 283.15, 1228.18, 283.15, 7384.43).unwrap_err();
        assert_eq!(error.input, "temperature_2");
    }
}
