//! Turns synchronous, nameplate and measured speed into a rough load of a motor.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{MOTOR_SPEED, SPEED, SYNCHRONOUS};
use crate::quantity::Dimension;

const NAMEPLATE: Input =
    SPEED.named("nameplate", "speed on the nameplate").within(0.5, 200.0).advice("read it from the nameplate");

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "motor_load",
    formula: "load = (n_sync - n)/(n_sync - n_nameplate)",
    inputs: [SYNCHRONOUS, NAMEPLATE, MOTOR_SPEED],
    outputs: [Output::new("load", Dimension::Ratio, "%")],
    range: "a rough check only: the slip of the nameplate may be off by a fifth",
    source: "DOE/GO-10097-517, slip method (from memory)",
    compute: |[synchronous, nameplate, motor]| {
        if synchronous <= nameplate {
            return Err(NAMEPLATE.refused(
                nameplate,
                (0.8 * synchronous, 0.999 * synchronous),
                "an induction motor's nameplate speed is below the synchronous one",
            ));
        }
        Ok([(synchronous - motor) / (synchronous - nameplate)])
    },
};

/// A share from rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn motor_load(synchronous: f64, nameplate: f64, motor_speed: f64) -> Result<f64, OutOfRange> {
    LAW.one([synchronous, nameplate, motor_speed])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::motor_load;
    use crate::physics::laws::near;

    /// DOE/GO-10097-517 (from memory): (1800 - 1770)/(1800 - 1750) = 60 %.
    #[test]
    fn worked_example() {
        near(motor_load(30.0, 1750.0 / 60.0, 1770.0 / 60.0).unwrap(), 0.6, 1e-9);
    }

    #[test]
    fn a_nameplate_at_synchronous_speed_is_refused() {
        assert_eq!(motor_load(30.0, 30.0, 29.0).unwrap_err().input, "nameplate");
    }
}
