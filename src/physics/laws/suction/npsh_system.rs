//! Turns the state of the supply and its line into the NPSH available at the pump.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{ACCELERATION_HEAD, DENSITY, FRICTION_HEAD, LEVEL, SURFACE_PRESSURE, VAPOUR};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<6, 1> = Law {
    name: "npsh_system",
    formula: "NPSHA = (p_surface - p_v)/(ρ·g) + z_s - h_f - h_a",
    inputs: [SURFACE_PRESSURE, VAPOUR, DENSITY, LEVEL, FRICTION_HEAD, ACCELERATION_HEAD],
    outputs: [Output::new("npsh_available", Dimension::Length, "m")],
    range: "any liquid, steady supply; the acceleration head counts for reciprocating pumps",
    source: "HI 9.6.1 and ISO 17769 (definition, from memory)",
    compute: |[surface, vapour, density, level, friction, acceleration]| {
        Ok([(surface - vapour) / (density * GRAVITY) + level - friction - acceleration])
    },
};

/// Metres of liquid from Pa (absolute), kg/m³ and metres.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn npsh_system(
    surface_pressure: f64,
    vapour_pressure: f64,
    density: f64,
    level: f64,
    friction_head: f64,
    acceleration_head: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([surface_pressure, vapour_pressure, density, level, friction_head, acceleration_head])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::npsh_system;
    use crate::physics::laws::near;

    /// Water at 20 °C, sea level, flooded 0.5 m, 0.610 m lost: 10.00 m (formula, with `fluids` 1.3.1 for the friction).
    #[test]
    fn worked_example() {
        near(npsh_system(101_325.0, 2339.21, 998.206, 0.5, 0.610, 0.0).unwrap(), 10.00, 0.01);
    }
}
