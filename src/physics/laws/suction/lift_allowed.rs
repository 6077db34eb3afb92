//! Turns the NPSH required into the lowest level of the supply that still feeds the pump.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{ACCELERATION_HEAD, DENSITY, FRICTION_HEAD, REQUIRED, SURFACE_PRESSURE, VAPOUR};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<6, 1> = Law {
    name: "lift_allowed",
    formula: "z_s,lowest = NPSHR - (p_surface - p_v)/(ρ·g) + h_f + h_a; highest lift = -z_s",
    inputs: [SURFACE_PRESSURE, VAPOUR, DENSITY, REQUIRED, FRICTION_HEAD, ACCELERATION_HEAD],
    outputs: [Output::new("highest_lift", Dimension::Length, "m")],
    range: "any liquid; negative: the supply must stand above the pump",
    source: "HI 9.6.1 (from memory), turned round; Munson, Young, Okiishi, example 12.3",
    compute: |[surface, vapour, density, required, friction, acceleration]| {
        Ok([(surface - vapour) / (density * GRAVITY) - required - friction - acceleration])
    },
};

/// Highest lift in metres from Pa (absolute), kg/m³ and metres.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn lift_allowed(
    surface_pressure: f64,
    vapour_pressure: f64,
    density: f64,
    required: f64,
    friction_head: f64,
    acceleration_head: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([surface_pressure, vapour_pressure, density, required, friction_head, acceleration_head])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::lift_allowed;
    use crate::physics::laws::{near, si};

    /// Munson, Young, Okiishi, example 12.3, p. 702 (textbook companion): 7.65 ft with K 20 in a 4 in pipe at 0.5 ft³/s.
    #[test]
    fn worked_example() {
        let area = std::f64::consts::FRAC_PI_4 * (4.0f64 / 12.0) * (4.0 / 12.0);
        let velocity = 0.5 / area;
        let lost = 20.0 * velocity * velocity / (2.0 * 32.174);
        let lift =
            lift_allowed(si(14.7, "psi"), si(0.5069, "psi"), si(62.22, "lb/ft3"), si(15.0, "ft"), si(lost, "ft"), 0.0);
        near(lift.unwrap(), si(7.65, "ft"), si(0.05, "ft"));
    }
}
