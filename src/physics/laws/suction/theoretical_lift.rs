//! Turns the local air pressure into the lift at which a liquid boils at the pump.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{BAROMETER, DENSITY, VAPOUR};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "theoretical_lift",
    formula: "z = (p_atm - p_v)/(ρ·g)",
    inputs: [BAROMETER, VAPOUR, DENSITY],
    outputs: [Output::new("lift", Dimension::Length, "m")],
    range: "no pump lifts higher; in practice plunger pumps prime themselves to 3 m (UFC 3-240-02N 10.4.3)",
    source: "hydrostatics; UFC 3-240-02N 10.4.3 for the practice",
    compute: |[barometer, vapour, density]| Ok([(barometer - vapour) / (density * GRAVITY)]),
};

/// Metres from Pa (absolute) and kg/m³.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn theoretical_lift(barometer: f64, vapour_pressure: f64, density: f64) -> Result<f64, OutOfRange> {
    LAW.one([barometer, vapour_pressure, density])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::theoretical_lift;
    use crate::physics::laws::near;

    /// Standard atmosphere and IF97: 60 °C, 8.44 m at sea level and 6.70 m at 1500 m; 20 °C, 9.51 m at 500 m.
    #[test]
    fn worked_example() {
        near(theoretical_lift(101_325.0, 19_945.8, 983.211).unwrap(), 8.44, 0.01);
        near(theoretical_lift(84_559.68, 19_945.8, 983.211).unwrap(), 6.70, 0.01);
        near(theoretical_lift(95_461.29, 2339.21, 998.206).unwrap(), 9.51, 0.01);
    }
}
