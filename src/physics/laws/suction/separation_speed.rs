//! Turns the head at which the column parts into the highest speed of one plunger.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{BORE, DENSITY, LIFT, PIPE_LENGTH, PLUNGER, STROKE};
use crate::quantity::Dimension;

const SEPARATION: Input = Input::new(
    "separation",
    "how far below the atmosphere the column parts",
    Dimension::PressureDifference,
    "kPa",
    (0.0, 110e3),
)
.advice("barometer less vapour pressure at most");

/// The law as data.
pub static LAW: Law<7, 1> = Law {
    name: "separation_speed",
    formula: "n = sqrt[(h_sep - lift)·g·(d/D)²/(L·r)]/(2π), h_sep = p_sep/(ρ·g)",
    inputs: [PLUNGER, STROKE, PIPE_LENGTH.within(1e-3, 1000.0), BORE, DENSITY, SEPARATION, LIFT],
    outputs: [Output::new("speed", Dimension::Speed, "rpm")],
    range: "one single-acting cylinder without a rod or an air vessel, rigid column, at the beginning of the stroke",
    source: "Sarkar, example 9.6 (textbook companion)",
    compute: |[plunger, stroke, length, bore, density, separation, lift]| {
        let left = separation / (density * GRAVITY) - lift;
        if left < 0.0 {
            let highest = separation / (density * GRAVITY);
            return Err(LIFT.refused(
                lift,
                (LIFT.published().0, highest),
                "the column parts at rest: lower the pump or flood it",
            ));
        }
        let areas = bore * bore / (plunger * plunger);
        Ok([(left * GRAVITY * areas / (length * stroke / 2.0)).sqrt() / std::f64::consts::TAU])
    },
};

/// rev/s from metres, kg/m³ and Pa below the atmosphere.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn separation_speed(
    plunger: f64,
    stroke: f64,
    length: f64,
    bore: f64,
    density: f64,
    separation: f64,
    lift: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([plunger, stroke, length, bore, density, separation, lift])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::separation_speed;
    use crate::physics::laws::near;

    /// Sarkar, example 9.6, p. 196 (textbook companion): 43.34 rpm.
    #[test]
    fn worked_example() {
        let speed = separation_speed(0.08, 0.15, 4.5, 0.03, 1000.0, 78.86e3, 3.0).unwrap();
        near(speed, 43.3 / 60.0, 0.2 / 60.0);
    }

    #[test]
    fn a_lift_beyond_the_atmosphere_is_refused() {
        assert_eq!(separation_speed(0.08, 0.15, 4.5, 0.03, 1000.0, 78.86e3, 9.0).unwrap_err().input, "lift");
    }
}
