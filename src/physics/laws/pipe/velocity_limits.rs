//! Turns the speed of a pump into the usual highest velocities in its lines.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::SPEED;
use crate::quantity::Dimension;

const FOOT: f64 = 0.3048;

/// The law as data.
pub static LAW: Law<1, 2> = Law {
    name: "velocity_limits",
    formula: "below 250 rpm 2 and 6 ft/s, 250 to 330 rpm 1.5 and 4.5 ft/s, above 1 and 3 ft/s",
    inputs: [SPEED],
    outputs: [Output::new("suction", Dimension::Velocity, "m/s"), Output::new("discharge", Dimension::Velocity, "m/s")],
    range: "trade practice; many keep 0.3 m/s in the suction at any speed",
    source: "Arnold and Stewart, Surface Production Operations, table 12-1 (numbers from memory)",
    compute: |[speed]| {
        let (suction, discharge) = match 60.0 * speed {
            rpm if rpm < 250.0 => (2.0, 6.0),
            rpm if rpm <= 330.0 => (1.5, 4.5),
            _ => (1.0, 3.0),
        };
        Ok([suction * FOOT, discharge * FOOT])
    },
};

/// m/s in suction and discharge from rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn velocity_limits(speed: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([speed])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::velocity_limits;
    use crate::physics::laws::{near, si};

    /// Arnold and Stewart, table 12-1 (from memory).
    #[test]
    fn worked_example() {
        let [suction, discharge] = velocity_limits(300.0 / 60.0).unwrap();
        near(suction, si(1.5, "ft/s"), 1e-12);
        near(discharge, si(4.5, "ft/s"), 1e-12);
        near(velocity_limits(1450.0 / 60.0).unwrap()[0], si(1.0, "ft/s"), 1e-12);
    }
}
