//! Turns the level, the line and the flow into the reading to expect of the inlet gauge.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{BORE, DENSITY, FRICTION, LEVEL, LOSSES, PIPE_LENGTH, VELOCITY};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<7, 1> = Law {
    name: "inlet_gauge",
    formula: "p_g = ρ·g·(z_level - z_pump) - ½·ρ·v²·(1 + f·L/D + ΣK)",
    inputs: [DENSITY, LEVEL, VELOCITY, FRICTION, PIPE_LENGTH, BORE, LOSSES],
    outputs: [Output::new("gauge", Dimension::GaugePressure, "kPa")],
    range: "open supply, gauge at the pump, mean over the stroke; below the vacuum ceiling vapour forms before it is reached",
    source: "Bernoulli's equation with Darcy-Weisbach losses (textbook)",
    compute: |[density, level, velocity, friction, length, bore, losses]| {
        let dynamic = 0.5 * density * velocity * velocity;
        Ok([density * GRAVITY * level - dynamic * (1.0 + friction * length / bore + losses)])
    },
};

/// Pa above the atmosphere (a vacuum negative) from kg/m³, metres and m/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn inlet_gauge(
    density: f64,
    level: f64,
    velocity: f64,
    friction: f64,
    length: f64,
    bore: f64,
    losses: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([density, level, velocity, friction, length, bore, losses])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::inlet_gauge;
    use crate::physics::laws::{near, si};

    /// Water 20 °C, 6 m³/h in 40.89 mm, 2 m, f 0.02419, K 6.25, flooded 0.5 m: -1.885 kPa = -0.557 inHg (`fluids` 1.3.1).
    #[test]
    fn worked_example() {
        let velocity = si(6.0, "m3/h") / (std::f64::consts::FRAC_PI_4 * 0.040_89 * 0.040_89);
        let gauge = inlet_gauge(998.206, 0.5, velocity, 0.024_19, 2.0, 0.040_89, 6.25).unwrap();
        near(gauge, -1885.0, 2.0);
        near(gauge, -si(0.557, "inHg"), si(0.001, "inHg"));
    }
}
