//! Turns the reading of a gauge at the inlet into the NPSH available at the pump.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{ACCELERATION_HEAD, BAROMETER, DENSITY, GAUGE, VAPOUR, VELOCITY};
use crate::quantity::Dimension;

const GAUGE_HEIGHT: Input =
    Input::new("gauge_height", "height of the gauge above the pump", Dimension::Length, "m", (-20.0, 20.0))
        .advice("height of the centre of the gauge above the centre of the pump, below it negative");

/// The law as data.
pub static LAW: Law<7, 1> = Law {
    name: "npsh_gauge",
    formula: "NPSHA = (p_atm + p_gauge - p_v)/(ρ·g) + z_g + v²/(2g) - h_a; in feet and psi: 2.3107·(P_atm + P_gauge - P_v)·(998.2/ρ) + z_g + v²/64.35 - h_a",
    inputs: [BAROMETER, GAUGE, VAPOUR, DENSITY, GAUGE_HEIGHT, VELOCITY, ACCELERATION_HEAD],
    outputs: [Output::new("npsh_available", Dimension::Length, "m")],
    range: "any liquid; take the acceleration head off when the gauge is damped and shows the mean, not when it shows the lowest value",
    source: "HI 9.6.1 and ISO 17769 (definition, from memory)",
    compute: |[barometer, gauge, vapour, density, height, velocity, acceleration]| {
        let ceiling = vapour - barometer;
        if gauge < ceiling {
            return Err(GAUGE.refused(gauge, (ceiling, GAUGE.published().1), GAUGE.advice));
        }
        let pressure_head = (barometer + gauge - vapour) / (density * GRAVITY);
        Ok([pressure_head + height + velocity * velocity / (2.0 * GRAVITY) - acceleration])
    },
};

/// Metres of liquid from Pa, kg/m³, metres and m/s; the gauge counts above the atmosphere, a vacuum negative.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn npsh_gauge(
    barometer: f64,
    gauge: f64,
    vapour_pressure: f64,
    density: f64,
    gauge_height: f64,
    velocity: f64,
    acceleration_head: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([barometer, gauge, vapour_pressure, density, gauge_height, velocity, acceleration_head])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::npsh_gauge;
    use crate::physics::laws::{near, si};

    /// `CoolProp` 8.0.0 for density and vapour pressure: -20 kPa, 8 m³/h in 52.48 mm (1.0273 m/s), sea level; 8.12 m at
    /// 20 °C, 6.42 m at 60 °C.
    #[test]
    fn worked_example() {
        near(npsh_gauge(101_325.0, -20e3, 2339.2, 998.2, 0.0, 1.0273, 0.0).unwrap(), 8.12, 0.01);
        near(npsh_gauge(101_325.0, -20e3, 19_945.8, 983.2, 0.0, 1.0273, 0.0).unwrap(), 6.42, 0.01);
    }

    /// The same in feet and psi, with the constants of the trade (2.3107 ft/psi at 998.2 kg/m³; 64.35 ft/s²).
    #[test]
    fn the_inch_pound_form_is_the_same() {
        let (psi, feet) = (14.696 - 2.9 - 0.34, 0.5);
        let in_feet = 2.3107 * psi + feet + 3.0 * 3.0 / 64.35;
        let ours = npsh_gauge(
            si(14.696, "psi"),
            -si(2.9, "psi"),
            si(0.34, "psi"),
            998.2,
            si(feet, "ft"),
            si(3.0, "ft/s"),
            0.0,
        );
        near(ours.unwrap(), si(in_feet, "ft"), si(0.005, "ft"));
    }

    #[test]
    fn a_vacuum_above_the_ceiling_is_refused() {
        let error = npsh_gauge(84_560.0, -si(25.0, "inHg"), 2339.2, 998.2, 0.0, 1.0, 0.0).unwrap_err();
        assert!(error.to_string().contains("no gauge can show more vacuum"), "{error}");
    }
}
